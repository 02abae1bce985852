// Package stop holds the fuel stops of a ride: where they are, what they sell and
// how sure that is. They come as CSV, see [ReadCSV], or as the waypoints of a GPX
// file, see [FromWaypoints].
//
// The idea that surprises: what a file does not say is not "no". A stop without
// grades sells petrol of a grade not known; one whose standing is not given is
// only from a map.
//
// # Sources
//
//	[1] The specification of OpenStreetMap's opening_hours: the syntax of Hours,
//	    which is kept as it is written.
//	[2] What a stop may fail at (dry, gone, shut, hearsay): common practice, no
//	    source.
package stop

import (
	"time"

	"lastpump/octane"

	"github.com/paulmach/orb"
)

// A Standing says how sure it is that a stop has fuel.
type Standing string

// The standings, surest first.
const (
	Seen    Standing = "seen"    // by the rider or a friend
	Phoned  Standing = "phoned"  // and they said so
	Map     Standing = "map"     // it is on a map, no more
	Hearsay Standing = "hearsay" // somebody said that somebody sells
)

// Standings lists them, surest first.
var Standings = []Standing{Seen, Phoned, Map, Hearsay}

// Rank orders standings, 0 for [Seen] up to 3 for [Hearsay].
func (s Standing) Rank() int {
	for i, o := range Standings {
		if o == s {
			return i
		}
	}
	return len(Standings)
}

// A Stop is a place that sells fuel, or is said to.
type Stop struct {
	Name         string
	At           orb.Point // longitude, latitude
	Grades       []octane.Grade
	Other        []string // what is sold that is no petrol for this engine: diesel, E85
	Hours        string   // OSM opening_hours syntax, as written; "" if not known
	Pay          string   // cash, cards; "" if not known
	Phone        string
	Note         string
	Standing     Standing
	Confirmed    time.Time // the day; meaningless unless HasConfirmed
	HasConfirmed bool
	Prices       []Price // one for all grades, or one for each grade in its order
}

// NoPetrol tells whether a stop is known to sell none for this engine.
func (s Stop) NoPetrol() bool { return len(s.Grades) == 0 && len(s.Other) > 0 }

// Price gives what a grade costs; ok is false where it is not known.
func (s Stop) Price(g octane.Grade) (p Price, ok bool) {
	switch {
	case len(s.Prices) == 1:
		return s.Prices[0], true
	case len(s.Prices) == len(s.Grades):
		for i, o := range s.Grades {
			if o == g {
				return s.Prices[i], true
			}
		}
	}
	return Price{}, false
}

// A Price is money for a volume.
type Price struct {
	Amount   float64
	Currency string // as written: EUR, USD
	Per      string // L, USgal or impgal
}
