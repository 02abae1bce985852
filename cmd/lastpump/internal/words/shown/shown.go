// Package shown has the words of the page that is looked at on a screen, beside those of the
// reports: what it is put together of, what its pictures show, and what is said of a place in
// them. Start with [Of].
package shown

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/leg"
)

// A Voice says what a page shows.
type Voice struct{ words.Voice }

// Of gives the voice for a plan.
func Of(v words.Voice) Voice { return Voice{v} }

// Heads and handles of the page.
const (
	Cards    = "Stop by stop"
	Ride     = "The ride"
	SetOut   = "Setting out" // over what has no head in the text: what is ridden, and the start
	Warnings = "Warnings"
	Sections = "Sections"
	Unfold   = "Unfold all"
	Legend   = "What the lines mean"
	Figures  = "Figures at"
	Rows     = "The legs in the table"
)

// ChartNote says what the picture of the tank shows.
func (v Voice) ChartNote() string {
	return fmt.Sprintf("%s of usable petrol in the tank over the %s ridden: the line is likely, the shade around it reaches from "+
		"the low to the high use.", v.Units.VolumeUnit(), v.Units.DistanceUnit())
}

// WarningsNote says how warnings and their cures are put.
func (v Voice) WarningsNote() string {
	kept := ""
	if v.Plan.Choice != nil {
		kept = ", with the stops as chosen"
	}
	return "Worst first. A cure was put into the plan and planned again" + kept + ": behind the arrow stands the new verdict; " +
		"cheapest first."
}

// Touch says what a finger on the picture does.
const Touch = "Slide a finger along it for the figures at each place."

// Patterns are what a page says of a place in the picture: what stands in braces is put in there.
type Patterns struct {
	Spoken   string `json:"spoken"` // by who reads the screen aloud
	Told     string `json:"told"`
	Can      string `json:"can"`
	None     string `json:"none"`
	High     string `json:"high"`
	NoHeight string `json:"noHeight"`
	Row      string `json:"row"` // of a link to a leg
}

// Places gives the patterns.
var Places = Patterns{
	Spoken: "leg {leg}, {ridden} {distance}, {tank} likely",
	Told: "Leg {leg}, {verdict}, trip {trip} {distance}: {tank} likely, {least} at the high use, {most} at the low{can}. " +
		"{ground}, {height}; {ridden} {distance} ridden, {line} along the line.",
	Can:      "; in the can {can}",
	None:     "none ({lack} lacking)",
	High:     "{height} {unit} high",
	NoHeight: "height not known",
	Row:      "Leg {leg} in the table",
}

// Chart names the picture of the tank over some legs.
func (v Voice) Chart(first, last int) string {
	return "Petrol in the tank, the heights and the ground over the ride" + v.piece(first, last)
}

// Sketch names the picture of the way over some legs.
func (v Voice) Sketch(first, last int) string { return "Sketch of the way" + v.piece(first, last) }

// piece says which legs a picture is of, where it is not of all.
func (v Voice) piece(first, last int) string {
	switch {
	case first == 0 && last == len(v.Plan.Legs)-1:
		return ""
	case first == last:
		return fmt.Sprintf(", leg %d", first+1)
	}
	return fmt.Sprintf(", legs %d to %d", first+1, last+1)
}

// ChartTold sums up in words what the picture of the tank shows of some legs.
func (v Voice) ChartTold(first, last int) string {
	u, least := v.Units, first
	var bad []string
	for i := first; i <= last; i++ {
		l := v.Plan.Legs[i]
		if l.Arrive < v.Plan.Legs[least].Arrive {
			least = i
		}
		if l.Verdict != leg.OK {
			bad = append(bad, fmt.Sprintf("leg %d %s", i+1, l.Verdict))
		}
	}
	from, _ := v.Ends(first)
	_, to := v.Ends(last)
	l := v.Plan.Legs[least]
	_, at := v.Ends(least)
	how := fmt.Sprintf("%s on arriving at %s, leg %d, where %s is the reserve", u.Held(l.Arrive), at, least+1, u.Needed(l.Kept))
	if l.Arrive < 0 {
		how = fmt.Sprintf("leg %d to %s lacks %s", least+1, at, u.Needed(-l.Arrive))
	}
	verdict := "all are OK"
	switch {
	case first == last && len(bad) == 0:
		verdict = "it is OK"
	case len(bad) > 0:
		verdict = "not OK: " + strings.Join(bad, ", ")
	}
	return fmt.Sprintf("%s, from %s to %s: %s. The least, with what is in the can: %s.", v.legs(first, last), from, to, verdict, how)
}

func (v Voice) legs(first, last int) string {
	if first == last {
		return fmt.Sprintf("Leg %d", first+1)
	}
	return fmt.Sprintf("Legs %d to %d", first+1, last+1)
}

// SketchTold sums up in words what the sketch shows of some legs.
func (v Voice) SketchTold(first, last int) string {
	from, _ := v.Ends(first)
	_, to := v.Ends(last)
	var by, strand []string
	for i := first; i <= last; i++ {
		k := v.Plan.Legs[i].ToVisit
		if k < 0 {
			continue
		}
		at := v.Plan.Visits[k]
		name := v.Name(at.Stop.Name)
		if i < last {
			by = append(by, name)
		}
		if at.IfDry != nil && at.IfDry.Outcome == leg.Stranded && !slices.Contains(strand, name) {
			strand = append(strand, name)
		}
	}
	s := "North is up. From " + from
	if len(by) > 0 {
		s += " by " + strings.Join(by, ", ")
	}
	s += " to " + to + "."
	if len(strand) > 0 {
		s += " If dry you are stranded: " + strings.Join(strand, ", ") + "."
	}
	return s
}

// Unnumbered says which legs have no number on a sketch, for want of room.
func Unnumbered(legs []int) string {
	numbers := make([]string, len(legs))
	for i, n := range legs {
		numbers[i] = fmt.Sprint(n)
	}
	if len(numbers) == 1 {
		return "No room on the sketch for the number of leg " + numbers[0] + "."
	}
	return "No room on the sketch for the numbers of legs " + strings.Join(numbers, ", ") + "."
}
