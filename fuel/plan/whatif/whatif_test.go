package whatif_test

import (
	"slices"
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/whatif"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// worstOf gives the worst leg of a plan: by its verdict, then by what it arrives with
// above its reserve.
func worstOf(p *plan.Plan) trip.Leg {
	order := []leg.Verdict{leg.OK, leg.Tight, leg.Short}
	worst := p.Legs[0]
	for _, l := range p.Legs[1:] {
		a, b := slices.Index(order, l.Verdict), slices.Index(order, worst.Verdict)
		if a > b || a == b && l.Arrive-l.Kept < worst.Arrive-worst.Kept {
			worst = l
		}
	}
	return worst
}

// Each thirst and each stop that turns out to be there is planned again here, through the
// inputs: the worst leg and the cans are the same.
func TestCasesPlannedAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn.AnyRide(t)
		p := drawn.Cured(t, in)
		for _, c := range drawn.Cases(t, p) {
			again := in
			switch c.Kind {
			case whatif.Thirst:
				again.Options.Thirst = c.Thirst
			case whatif.Hearsay:
				again.Stops = slices.Clone(in.Stops)
				i := slices.IndexFunc(again.Stops, func(s stop.Stop) bool { return s.Name == c.Stops[0] })
				again.Stops[i].Standing = in.Options.Trust
			default:
				continue
			}
			q := drawn.Cured(t, again)
			if w := worstOf(q); w.Verdict != c.Verdict || !drawn.Near(float64(w.Arrive), float64(c.Arrive)) {
				t.Errorf("%+v\nplanned again the worst leg is %v to %v, %s, arrives with %v", c, w.From, w.To, w.Verdict, w.Arrive)
			}
			if q.Can.SizeForPlan != c.Size || q.Can.SizeForDry != c.SizeDry || !drawn.Near(float64(q.Can.ForPlan), float64(c.Can)) {
				t.Errorf("%+v\nplanned again %+v", c, q.Can)
			}
		}
	})
}

// By hand: pumps at 100, 150 and 180 km of 280; 10 L take 200 km. With B dry, A to C is
// 80 km; with A dry the start to B is 150: 7.5 L, and 2.5 are left. With A and B dry it is
// 180 km: 1 L is left, but the high figure takes 10.395; with B and C dry it is the same to
// the end.
func TestDryPumpsByHand(t *testing.T) {
	p := drawn.Cured(t, drawn.Ride(drawn.Straight(t, 280), drawn.Pump("A", 100, 0), drawn.Pump("B", 150, 0), drawn.Pump("C", 180, 0)))
	type row struct {
		from, to string
		verdict  leg.Verdict
		arrive   float64
		size     float64
	}
	want := map[string]row{
		"A": {"start", "B", leg.OK, 2.5, 0}, "B": {"start", "A", leg.OK, 5, 0}, "C": {"B", "end", leg.OK, 3.5, 0},
		"A and B": {"start", "C", leg.Tight, 1, 1}, "B and C": {"A", "end", leg.Tight, 1, 1},
	}
	seen := 0
	for _, c := range drawn.Cases(t, p) {
		if c.Kind != whatif.Dry && c.Kind != whatif.TwoDry {
			continue
		}
		name := c.Stops[0]
		if len(c.Stops) == 2 {
			name += " and " + c.Stops[1]
		}
		w, ok := want[name]
		if !ok || drawn.Key(p, c.From) != w.from || drawn.Key(p, c.To) != w.to || c.Verdict != w.verdict || !drawn.Near(float64(c.Arrive), w.arrive) || float64(c.Size.Litres) != w.size {
			t.Errorf("%s: %+v, want %+v", name, c, w)
		}
		seen++
	}
	if seen != len(want) {
		t.Errorf("%d cases, want %d", seen, len(want))
	}
}

// A place that is passed twice is dry both times: out and back over 60 km, and on to 150
// on the other side, with B dry both times there is nothing from A on.
func TestADryPlaceIsDryTwice(t *testing.T) {
	p := drawn.Cured(t, drawn.Ride(drawn.LineOf(t, 0, 60, 0, -100), drawn.Pump("B", 30, 0), drawn.Pump("A", 60, 0)))
	for _, c := range drawn.Cases(t, p) {
		if c.Kind == whatif.Dry && c.Stops[0] == "B" && (drawn.Key(p, c.From) != "A" || drawn.Key(p, c.To) != "end" || !drawn.Near(float64(c.Arrive), 10-160*0.05)) {
			t.Errorf("%+v", c)
		}
	}
}

// On the way, where no pump is, nobody has filled the can: past a dry A from km 80 on 3 L
// the bike runs dry 2 L before B, can or no can, and no can sold helps.
func TestADryPumpOnTheWay(t *testing.T) {
	in := drawn.Changed(drawn.Ride(drawn.Straight(t, 300), drawn.Pump("A", 100, 0), drawn.Pump("B", 180, 0)), drawn.OwnCan(5))
	in.Options.From, in.Options.HasFrom = 80000, true
	in.Options.StartFuel, in.Options.HasStartFuel = 3, true
	for _, c := range drawn.Cases(t, drawn.Cured(t, in)) {
		if c.Kind == whatif.Dry && c.Stops[0] == "A" && (c.Verdict != leg.Short || !drawn.Near(float64(c.Arrive), -2) || !c.Size.TooBig) {
			t.Errorf("%+v", c)
		}
	}
}

// The thirsts are those from a light hand to a head wind in sand, and the one that the ride
// is planned with.
func TestThirstsTried(t *testing.T) {
	of := func(thirst float64) (got []float64) {
		in := drawn.Ride(drawn.Straight(t, 100))
		in.Options.Thirst = thirst
		for _, c := range drawn.Cases(t, drawn.Cured(t, in)) {
			if c.Kind == whatif.Thirst {
				got = append(got, c.Thirst)
			}
		}
		return got
	}
	if got := of(1); !slices.Equal(got, []float64{0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5}) {
		t.Errorf("%v", got)
	}
	if got := of(1.43); !slices.Equal(got, []float64{0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.43, 1.5}) {
		t.Errorf("%v", got)
	}
}
