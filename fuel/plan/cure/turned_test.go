package cure_test

import (
	"math"
	"slices"
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Riding a loop the other way round and beginning it elsewhere are tried without
// laying the line anew. What they say must come of the line laid anew, too: passages,
// places, climbs and verdicts, on random loops.
func TestTheOtherWayRound(t *testing.T) {
	turned, begun := 0, 0
	check := func(t *rapid.T) {
		l := drawn.AnyLoop(t)
		p := drawn.Cured(t, l.In)
		for _, w := range p.Warnings {
			for _, c := range w.Cures {
				if !c.Reverse && !c.HasBegin {
					continue
				}
				in := arranged(t, l, c)
				again := drawn.Cured(t, in)
				var where [][2]route.Metres
				for _, s := range complained(p, w, c) {
					where = append(where, mapped(p, s, c, in.Line.Length())...)
				}
				// A leg that ends just where a stretch does may lie on either side of it: to the metre.
				var got []string
				for _, off := range []route.Metres{999, 1001} {
					got = append(got, verdictWithin(again, w, p, where, off))
				}
				if !slices.Contains(got, c.Verdict) {
					t.Errorf("%+v\ncure: %+v\ngives %q, said %q", w.Fact, c, got, c.Verdict)
				}
				if c.Reverse {
					turned++
				} else {
					begun++
				}
			}
		}
	}
	for range 3 { // on many a loop no other way round cures anything
		rapid.Check(t, check)
	}
	if turned == 0 || begun == 0 {
		t.Errorf("%d cures by turning round and %d by beginning elsewhere: nothing is tested", turned, begun)
	}
}

// arranged lays the loop as a cure asks for.
func arranged(t rapid.TB, l drawn.Loop, c cure.Cure) plan.Inputs {
	t.Helper()
	a := route.Arrangement{Reverse: c.Reverse, BeginAt: c.BeginAt, HasBeginAt: c.HasBegin}
	line, err := route.NewLine(l.Tracks, route.LineOptions{Stretch: l.Stretch, Arrangement: a})
	if err != nil {
		t.Fatal(err)
	}
	in := l.In
	in.Line = line
	if in.Grounds.Sections, in.Grounds.Measure, err = line.Lay(l.In.Grounds.Sections); err != nil {
		t.Fatal(err)
	}
	if c.HasBegin {
		in.Options.HasStartFuel, in.Options.StartFuel, in.Options.SinceFill = false, 0, 0
	}
	return in
}

// mapped gives where a stretch of line lies on the line of a cure.
func mapped(p *plan.Plan, on [2]route.Metres, c cure.Cure, length route.Metres) [][2]route.Metres {
	from, to := on[0], on[1]
	old := p.Line.Length()
	switch {
	case c.Reverse:
		return [][2]route.Metres{{old - to, old - from}}
	case c.BeginAt == to:
		return [][2]route.Metres{{length - (to - from), length}}
	case c.BeginAt > from && c.BeginAt < to:
		return [][2]route.Metres{{0, to - c.BeginAt}, {length - (c.BeginAt - from), length}}
	}
	move := func(m route.Metres) route.Metres {
		if m >= c.BeginAt {
			return m - c.BeginAt
		}
		return m + length - c.BeginAt
	}
	return [][2]route.Metres{{move(from), move(to)}}
}

// complained gives the stretches of line that a cure is for: a leg, those below grade that it
// mends, or the legs on both sides of a place.
func complained(p *plan.Plan, w plan.Warning, c cure.Cure) (on [][2]route.Metres) {
	legs := w.Legs
	if w.Kind == plan.KindBelowGrade {
		legs = c.Mends
	}
	for _, i := range legs {
		on = append(on, [2]route.Metres{p.Legs[i].FromAt, p.Legs[i].ToAt})
	}
	for i, l := range p.Legs {
		if w.Kind == plan.KindStranded && l.ToVisit == w.Visit {
			on = append(on, [2]route.Metres{l.FromAt, p.Legs[i+1].ToAt})
		}
	}
	return on
}

// verdictWithin gives the worst verdict of the kind a warning is about on stretches
// of line, so much at their ends left out.
func verdictWithin(p *plan.Plan, w plan.Warning, before *plan.Plan, where [][2]route.Metres, most route.Metres) string {
	worst, mixture, dry := 0, octane.Meets, ""
	order := []leg.Verdict{leg.OK, leg.Tight, leg.Short}
	for _, s := range where {
		off := min(most, (s[1]-s[0])/3)
		s[0], s[1] = s[0]+off, s[1]-off
		for _, l := range p.Legs {
			if l.ToAt <= s[0] || l.FromAt >= s[1] {
				continue
			}
			for i, v := range order {
				if l.Verdict == v {
					worst = max(worst, i)
				}
			}
			if l.Mixture.Verdict.Rank() > mixture.Rank() {
				mixture = l.Mixture.Verdict
			}
		}
		for _, v := range p.Visits {
			if w.Kind == plan.KindStranded && v.IfDry != nil && v.Stop.Name == before.Visits[w.Visit].Stop.Name &&
				v.At > s[0] && v.At < s[1] {
				dry = string(v.IfDry.Outcome)
			}
		}
	}
	switch w.Kind {
	case plan.KindStranded:
		return dry
	case plan.KindBelowGrade:
		return string(mixture)
	}
	return string(order[worst])
}

// A closed ring of 240 km that begins at a place without a pump, with A at 110 and B at
// 190 km: begun at B, it has no leg but from B over the old start to A, 160 km, and from A
// to B, 80. In the middle of a leg, where there is no pump, no loop is begun.
func TestBeginningAtAStop(t *testing.T) {
	var points []route.Point
	place := func(km float64) orb.Point {
		a, r := 2*math.Pi*km/240, 240/(2*math.Pi)
		return drawn.At(r*math.Sin(a), r*(1-math.Cos(a)))
	}
	for i := range 241 {
		points = append(points, route.Point{Point: place(float64(i % 240)), HasEle: true})
	}
	a, b := drawn.Pump("A", 0, 0), drawn.Pump("B", 0, 0)
	a.At, b.At = place(110), place(190)
	in := drawn.Ride(drawn.LineThrough(t, points), a, b)
	in.Options.StartFuel, in.Options.HasStartFuel = 5, true // 5.5 L are asked for
	c := drawn.CureBy(t, drawn.WarningOf(t, drawn.Cured(t, in), plan.KindShort), cure.Begin, "A")
	if !c.BeginOnce || c.Cost != cure.Other || c.Verdict != "OK" || math.Abs(float64(c.BeginAt)-110000) > 100 {
		t.Errorf("%+v", c)
	}
	for _, w := range drawn.Cured(t, drawn.Ride(drawn.LineThrough(t, points))).Warnings {
		for _, c := range w.Cures {
			if c.HasBegin {
				t.Errorf("cure %+v", c)
			}
		}
	}
}
