package days

import (
	"fmt"

	"lastpump/route"
)

// A Fault says why a ride cannot be followed by the clock. Which of its figures are meaningful
// is said at each [Why].
type Fault struct {
	Why       Why
	Stop      string
	Names     []string // of the stops
	At, Limit route.Metres
	Passed    []route.Metres
	Times     float64
}

// A Why is the reason of a fault.
type Why string

// The reasons.
const (
	NoZone       Why = "no zone"        // At
	BeyondEnd    Why = "beyond end"     // At, Limit
	UnknownStop  Why = "unknown stop"   // Stop, Names
	NotPassed    Why = "not passed"     // Stop
	PassedTwice  Why = "passed twice"   // Stop, Passed
	TookNothing  Why = "took nothing"   // no figures
	TookOverMore Why = "took over more" // At ridden, more than Limit
	TookUnlikely Why = "took unlikely"  // Times as long as planned
)

// Whys lists them all.
func Whys() []Why {
	return []Why{NoZone, BeyondEnd, UnknownStop, NotPassed, PassedTwice, TookNothing, TookOverMore, TookUnlikely}
}

// Error says it shortly, for a programmer.
func (f *Fault) Error() string { return fmt.Sprintf("no clock: %s %s", f.Why, f.Stop) }
