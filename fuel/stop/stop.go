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
	"slices"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
)

// DetourOverStraight is how much longer the way to a stop off the line is than the straight: our
// estimate.
const DetourOverStraight = 1.3

// OnLine is how far off the line a stop lies that costs no detour: it is on the line.
const OnLine route.Metres = 300

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
func Standings() []Standing {
	return []Standing{Seen, Phoned, Map, Hearsay}
}

// Rank orders standings, 0 for [Seen] up to 3 for [Hearsay]; what is none comes last.
func (s Standing) Rank() int {
	all := [...]Standing{Seen, Phoned, Map, Hearsay}
	for i, o := range all {
		if o == s {
			return i
		}
	}
	return len(all)
}

// A Stop is a place that sells fuel, or is said to.
type Stop struct {
	Name         string
	At           orb.Point // longitude, latitude
	Grades       []octane.Grade
	Other        []string // what is sold that is no petrol for this engine: diesel, E85; "dry" for nothing at all
	Hours        string   // OSM opening_hours syntax, as written; "" if not known
	Pay          string   // cash, cards; "" if not known
	Phone        string
	Note         string
	Alias        string // the name spelt in letters that are printed and shown everywhere; "" for none
	Standing     Standing
	Confirmed    time.Time // the day; meaningless unless HasConfirmed
	HasConfirmed bool
	Swapped      *input.Error // why lat and lon cannot be as written: At is the other way round; nil where they can
	Prices       []Price      // one for all grades, or one for each grade in its order
}

// A Spot tells one stop from another of the same name.
type Spot struct {
	Name string
	At   orb.Point
}

// Spot gives by what a stop is told from others.
func (s Stop) Spot() Spot { return Spot{s.Name, s.At} }

// NoPetrol tells whether a stop is known to sell none for this engine, or to be dry.
func (s Stop) NoPetrol() bool {
	return len(s.Grades) == 0 && len(s.Other) > 0 || slices.Contains(s.Other, dryWord)
}

// Sure tells whether somebody has seen a stop or spoken to it, and that not over a year before
// a day. Without a date it is not sure: nobody knows how long ago that was.
func (s Stop) Sure(today time.Time) bool {
	return s.Standing.Rank() <= Phoned.Rank() && s.HasConfirmed && !s.Stale(today) &&
		(today.IsZero() || !s.Confirmed.After(today))
}

// Stale tells whether a stop was confirmed over a year before a day.
func (s Stop) Stale(today time.Time) bool {
	year, month, day := today.Date()
	return s.HasConfirmed && s.Confirmed.Before(time.Date(year-1, month, day, 0, 0, 0, 0, time.UTC))
}

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

// PerLitre gives the money for a litre.
func (p Price) PerLitre() float64 {
	of := map[string]fuel.Litres{"L": 1, "USgal": fuel.USGallon, "impgal": fuel.ImperialGallon}
	return p.Amount / float64(of[p.Per])
}

// TakesCash tells whether cash is known to be taken, and TakesCard whether a card is: where
// neither is known both are false.
func (s Stop) TakesCash() bool { return strings.Contains(strings.ToLower(s.Pay), "cash") }

// TakesCard tells whether cards are known to be taken.
func (s Stop) TakesCard() bool { return strings.Contains(strings.ToLower(s.Pay), "card") }
