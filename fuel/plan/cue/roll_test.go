package cue_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cue"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// written gives a roll as its kinds with the figures on the trip meter.
func written(p *plan.Plan) string {
	var out []string
	for _, c := range p.Cues {
		out = append(out, fmt.Sprintf("%s %.1f", c.Kind, c.Trip.Kilometres()))
	}
	return strings.Join(out, ", ")
}

// 10 L at 5 L/100 km are 200 km; A is passed after 60 km, the end lies 170 km behind it.
// Out and back 10 L are 100 km at the likely use; at the high one, 5.775 L/100 km, they
// are 86.6: the sooner is on paper, and only where it comes before the pump.
func TestRollByArithmetic(t *testing.T) {
	p := drawn.Cured(t, drawn.Ride(drawn.Straight(t, 230), drawn.Pump("start", 0, 0), drawn.Pump("A", 60, 0)))
	if got, want := written(p), "start 0.0, fill 60.0, turn-back 86.6, end 170.0"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	drawn.WantNear(t, "turn back at km", p.Cues[2].At.Kilometres(), 60+100/1.155)
	if c := p.Cues[1]; p.Visits[c.Visit].Stop.Name != "A" || c.Leg != 0 || c.Use != -1 {
		t.Errorf("at A: %+v", c)
	}
}

// A leg of 250 km asks for 2.5 L more than the tank has, and 4.4375 L at the high use
// (0.05775 L/km): a 5 L can, of which all fits when the low use (0.04329 L/km) has made
// room, after 115.5 km, before the high leaves 1 L, after 155.8 km. It is filled at A. Out and
// back 15 L take the bike from 129.9 km at the high use.
func TestRollPoursTheCan(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 250), drawn.Pump("A", 0, 0))
	in.Bike.Can = 5
	p := drawn.Cured(t, in)
	if got, want := written(p), "start 0.0, pour 115.5, turn-back 129.9, end 250.0"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	drawn.WantNear(t, "poured at", p.Cues[1].Trip.Kilometres(), 5/drawn.LowKm)
	drawn.WantNear(t, "on the line", p.Cues[1].At.Kilometres(), 5/drawn.LowKm)
	if p.Cues[0].Use != 0 || p.Cues[1].Use != 0 || p.Can.Uses[0].Full != 5 {
		t.Errorf("uses %d and %d of %+v", p.Cues[0].Use, p.Cues[1].Use, p.Can.Uses)
	}
}

// Three tracks are three parts: the first begins with the ride, the second 30 km behind
// the fill at A, the third just where B is, behind its fill.
func TestRollBreaksAtParts(t *testing.T) {
	var tracks []route.Track
	for i, ends := range [][2]int{{0, 90}, {90, 120}, {120, 200}} {
		var points []route.Point
		for k := ends[0]; k <= ends[1]; k++ {
			points = append(points, route.Point{Point: drawn.At(float64(k), 0), HasEle: true})
		}
		tracks = append(tracks, route.Track{Name: fmt.Sprint("day ", i+1), Segments: [][]route.Point{points}})
	}
	l, err := route.NewLine(tracks, route.LineOptions{Stretch: 1})
	if err != nil {
		t.Fatal(err)
	}
	in := drawn.Ride(l, drawn.Pump("A", 60, 0), drawn.Pump("B", 120, 0))
	in.Bike.Odometer, in.Bike.TrueRate = 1.1, true
	p := drawn.Cured(t, in)
	if got, want := written(p), "start 0.0, part 0.0, fill 66.0, part 33.0, fill 66.0, part 0.0, end 88.0"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// Whatever the ride: every leg ends with its fill or the end, cues follow each other on
// the trip meter, and each lies on the line where it says or at its pump.
func TestRollIsTheRide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn.AnyRide(t)
		p := drawn.Plan(t, in)
		if p.Cues[0].Kind != cue.Start {
			t.Fatalf("it begins with %s", p.Cues[0].Kind)
		}
		leg, trip := 0, route.Metres(0)
		for _, c := range p.Cues[1:] {
			l := p.Legs[leg]
			if c.Leg != leg || c.Trip < trip || c.Trip > l.Trip(p.Bike)+1e-6 || c.At < l.FromAt-1e-6 || c.At > l.ToAt+1e-6 {
				t.Fatalf("on leg %d after %v: %+v", leg, trip, c)
			}
			trip = c.Trip
			if c.Visit < 0 && route.Distance(c.Point, in.Line.At(c.At)) > 1e-3 {
				t.Fatalf("%+v is not on the line", c)
			}
			if c.Kind != cue.Fill && c.Kind != cue.End {
				continue
			}
			if c.Visit != l.ToVisit || c.Visit >= 0 && c.Point != p.Visits[c.Visit].Stop.At || (c.Visit < 0) != (c.Kind == cue.End) {
				t.Fatalf("leg %d ends with %+v", leg, c)
			}
			leg, trip = leg+1, 0
		}
		if leg != len(p.Legs) {
			t.Fatalf("%d of %d legs", leg, len(p.Legs))
		}
		for i, v := range p.Visits {
			told := slices.ContainsFunc(p.Cues, func(c cue.Cue) bool { return c.Visit == i && c.Can > 0 && c.Use >= 0 })
			if filled := v.Fill != nil && v.Fill.Can > 0; filled != told {
				t.Fatalf("the can is filled at %s: %v, told %v", v.Stop.Name, filled, told)
			}
		}
	})
}
