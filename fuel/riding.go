package fuel

import (
	"time"

	"lastpump/route"
)

// Riding is how a bike is ridden by the clock, where its owner says so. The zero value says
// nothing, and everything is as in general.
type Riding struct {
	Hours  time.Duration           // of riding a day; 0 for what is not said
	Pace   float64                 // times the hours of riding and pauses; 0 for what is not said
	Pauses [3]time.Duration        // for each hour of riding: early, likely, late; the last is 0 where nothing is said
	Fill   [3]time.Duration        // at a pump, the same
	Speeds map[route.Ground]Speeds // where they are not the general ones
}

// A Speeds is how fast one rides while moving, in km/h: low, likely and high. Low and high are 0
// where only the likely one is said; they then go with it.
type Speeds struct{ Low, Likely, High float64 }
