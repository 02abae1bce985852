// Package wayout holds the ways from a loop to petrol that lies off it: what stands in
// roads.csv.
//
// Start with [Read] and [Write]. A [Way] begins at a stop, or at a place on the line
// where a road leaves it, and ends at a petrol pump. [Sum] names the line that the ways
// were looked for along: ways of another line are worth nothing, and [Read] tells them
// apart ([ErrOtherLine]).
//
// The idea that surprises: a way is kilometres by ground and no litres. What it drinks
// depends on the bike, and is worked out where the bike is known.
//
// # Limits
//
// Nothing that is here says whether a road can be ridden today, nor whether the pump at
// its end has petrol: it is what a map says.
//
// # Sources
//
//	[1] FIPS 180-4: SHA-256.
package wayout

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Way is one to petrol: of all that lead from its beginning to its pump the one of
// least kilometres × weight of their ground.
type Way struct {
	From    string       // name of the stop at which it begins; "" for a place on the line
	At      route.Metres // of the line in its file: where it begins, the stop's closest
	TurnOff orb.Point    // where the line is left
	To      string       // name of the pump
	Pump    orb.Point
	Ground  [Grounds]route.Metres // by [route.AllGrounds]; what a pump lies off its road is in it
	Climb   route.Metres          // meaningless unless Climbed
	Climbed bool                  // the climb is known
	Descent route.Metres          // which is the climb on the way home; meaningless unless Descended
	// Descended tells that the descent is known.
	Descended bool
	Road      string // name, number or class of the first road behind the turn-off
	Toward    string // which way that goes: N, NE …; "" where the way has no length
	Marks     Marks
	Row       int // in its file, for messages
}

// Grounds is how many grounds there are.
const Grounds = 11

// Length is how long the way is.
func (w Way) Length() (sum route.Metres) {
	for _, m := range w.Ground {
		sum += m
	}
	return sum
}

// Marks are what a rider has to know of a way before he leans on it.
type Marks uint8

// The marks.
const (
	Private     Marks = 1 << iota // the map says that it is not for everybody
	Seasonal                      // it is not there all year
	WinterRoad                    // it is there in winter alone
	IceRoad                       // it goes over ice
	Conditional                   // the map has hours, days or weights for it
	AlongLine                     // it is the line itself, all the way
)

// Doubtful are the marks of ways that may be shut.
const Doubtful = Private | Seasonal | WinterRoad | IceRoad | Conditional

// markNames are the marks as the file has them, in the order of their bits.
var markNames = []string{"private", "seasonal", "winter-road", "ice-road", "conditional", "along-the-line"}

// String gives the marks as the file has them, with semicolons between; "" for none.
func (m Marks) String() string {
	var out []string
	for i, name := range markNames {
		if m&(1<<i) != 0 {
			out = append(out, name)
		}
	}
	return strings.Join(out, "; ")
}

// Each gives the marks one by one.
func (m Marks) Each() (out []Marks) {
	for i := range markNames {
		if one := m & (1 << i); one != 0 {
			out = append(out, one)
		}
	}
	return out
}

// compass are the directions, from north by the clock.
var compass = []string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// Toward gives the direction from one place to another, of eight; "" where they are one.
func Toward(from, to orb.Point) string {
	east := math.Remainder(to[0]-from[0], 360) * math.Cos((from[1]+to[1])/2*math.Pi/180)
	north := to[1] - from[1]
	if east == 0 && north == 0 {
		return ""
	}
	eighth := math.Round(math.Atan2(east, north) / (math.Pi / 4))
	return compass[(int(eighth)+8)%8]
}

// Beside gives a place 100 m or so from another, in a direction as [Toward] gives it; not ok for any
// other text.
func Beside(from orb.Point, toward string) (p orb.Point, ok bool) {
	i := slices.Index(compass, toward)
	if i < 0 || math.Abs(from[1]) > 89 {
		return from, false
	}
	const about = 0.001 // degrees of latitude
	a := float64(i) * math.Pi / 4
	return orb.Point{from[0] + about*math.Sin(a)/math.Cos(from[1]*math.Pi/180), from[1] + about*math.Cos(a)}, true
}

// Sum names a line: the SHA-256 [1] of its points as they are after cleaning, in order,
// each as latitude and longitude in whole hundred-thousandths of a degree (about a
// metre), "4512345 -7012345\n", with an empty line before one behind a gap. It does not
// depend on the stretch, nor on what a gap costs; it does on how the line is arranged.
func Sum(line *route.Line) string {
	h := sha256.New()
	for v := range line.Vertices() {
		if v.AfterGap {
			fmt.Fprintln(h)
		}
		fmt.Fprintf(h, "%d %d\n", hundredThousandths(v.Point[1]), hundredThousandths(v.Point[0]))
	}
	return hex.EncodeToString(h.Sum(nil))
}

func hundredThousandths(degrees float64) int { return int(math.Round(degrees * 1e5)) }
