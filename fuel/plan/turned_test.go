package plan_test

import (
	"math"
	"testing"

	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Riding a loop the other way round and beginning it elsewhere are tried without
// laying the line anew. What they say must come of the line laid anew, too: passages,
// places, climbs and verdicts, on random loops.
func TestTheOtherWayRound(t *testing.T) {
	turned, begun := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t)
		p := make1(t, l.in)
		for _, w := range p.Warnings {
			for _, c := range w.Cures {
				if !c.Reverse && !c.HasBegin {
					continue
				}
				in := l.arranged(t, c)
				again := make1(t, in)
				where := mapped(p, w, c, in.Line.Length())
				if got := verdictWithin(again, w, p, where); got != c.Verdict {
					t.Errorf("%s\ncure: %s\ngives %q, said %q", w.Text, c.Text, got, c.Verdict)
				}
				if c.Reverse {
					turned++
				} else {
					begun++
				}
			}
		}
	})
	if turned == 0 || begun == 0 {
		t.Errorf("%d cures by turning round and %d by beginning elsewhere: nothing is tested", turned, begun)
	}
}

// arranged lays the loop as a cure asks for.
func (l loop) arranged(t rapid.TB, c plan.Cure) plan.Inputs {
	t.Helper()
	a := route.Arrangement{Reverse: c.Reverse, BeginAt: c.BeginAt, HasBeginAt: c.HasBegin}
	line, err := route.NewLine(l.tracks, route.LineOptions{Stretch: l.stretch, Arrangement: a})
	if err != nil {
		t.Fatal(err)
	}
	in := l.in
	in.Line = line
	if in.Grounds.Sections, in.Grounds.Measure, err = line.Lay(l.in.Grounds.Sections); err != nil {
		t.Fatal(err)
	}
	if c.HasBegin {
		in.Options.HasStartFuel, in.Options.StartFuel, in.Options.SinceFill = false, 0, 0
	}
	return in
}

// mapped gives where the stretch of a complaint lies on the line of a cure.
func mapped(p *plan.Plan, w plan.Warning, c plan.Cure, length route.Metres) [][2]route.Metres {
	from, to := complained(p, w)
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

// complained gives the stretch of line a warning is about: a leg, or the legs on
// both sides of a place.
func complained(p *plan.Plan, w plan.Warning) (from, to route.Metres) {
	if w.Kind != plan.KindStranded {
		return p.Legs[w.Leg].FromAt, p.Legs[w.Leg].ToAt
	}
	for i, l := range p.Legs {
		if l.ToVisit == w.Visit {
			return l.FromAt, p.Legs[i+1].ToAt
		}
	}
	return 0, 0
}

// verdictWithin gives the worst verdict of the kind a warning is about on stretches
// of line, their ends left out.
func verdictWithin(p *plan.Plan, w plan.Warning, before *plan.Plan, where [][2]route.Metres) string {
	worst, mixture, dry := 0, octane.Meets, ""
	order := []plan.Verdict{plan.OK, plan.Tight, plan.Short}
	for _, s := range where {
		off := min(1000, (s[1]-s[0])/3)
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
		return at(r*math.Sin(a), r*(1-math.Cos(a)))
	}
	for i := range 241 {
		points = append(points, route.Point{Point: place(float64(i % 240)), HasEle: true})
	}
	a, b := pump("A", 0, 0), pump("B", 0, 0)
	a.At, b.At = place(110), place(190)
	in := ride(lineThrough(t, points), a, b)
	in.Options.StartFuel, in.Options.HasStartFuel = 5, true // 5.5 L are asked for
	c := cureWith(t, warningOf(t, make1(t, in), plan.KindShort), `begin the loop at A, full (--begin-at "A")`)
	if c.Cost != plan.CostOther || c.Verdict != "OK" || math.Abs(float64(c.BeginAt)-110000) > 100 {
		t.Errorf("%+v", c)
	}
	for _, w := range make1(t, ride(lineThrough(t, points))).Warnings {
		for _, c := range w.Cures {
			if c.HasBegin {
				t.Errorf("cure %+v", c)
			}
		}
	}
}
