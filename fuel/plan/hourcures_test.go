package plan_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/trip"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// hourCure gives the cure of a kind for a stop.
func hourCure(p *plan.Plan, k days.CureKind, stop string) (c days.Cure, ok bool) {
	for _, w := range p.Warnings {
		for _, c := range w.Hours {
			if c.Kind == k && p.Visits[c.Visit].Stop.Name == stop {
				return c, true
			}
		}
	}
	return c, false
}

// A pump at 300 km that is shut on Sunday, when it is reached, and nobody waits for over an hour: phone,
// start on Monday, which is as near as Saturday and later, or wait there until midnight.
func TestCuresOfAShutPump(t *testing.T) {
	in := ride(straight(t, 400), pump("A", 150, 0), pump("B", 300, 0))
	open("Mo-Sa 00:00-24:00", 1)(&in)
	in.Stops[1].Phone = "+1 555 0100"
	p := make1(t, leaving(in, 5, func(o *days.Options) { o.Wait = time.Hour }))
	if _, ok := hourCure(p, days.Phone, "B"); !ok {
		t.Error("nobody phones")
	}
	if c, ok := hourCure(p, days.StartOn, "B"); !ok || !c.Leave.Equal(july(6, "00:00")) || !c.Was.Equal(july(5, "00:00")) {
		t.Errorf("start on %+v", c)
	}
	c, ok := hourCure(p, days.WaitThere, "B")
	there := visit(t, p, "B").Hour.There[clock.Likely]
	if !ok || c.Wait != july(6, "00:00").Sub(there) {
		t.Errorf("wait %+v, there at %v", c, there)
	}
}

// 130 km are reached at 11:10 likely and at 12:36 late, whose fill is done at 13:06 and a tenth of
// whose 4.6 h is 27.6 min: open until 13:00 it is doubtful, and 33.6 min earlier it is not. The
// least shift of quarters is three: 07:15.
func TestLeavingEarlier(t *testing.T) {
	in := ride(straight(t, 200), pump("B", 130, 0))
	open("06:00-13:00", 0)(&in)
	p := make1(t, leaving(in, 6))
	if h := visit(t, p, "B").Hour; h.State != clock.Doubtful || !h.Turns.Equal(july(6, "13:00")) {
		t.Fatalf("%+v", h)
	}
	c, ok := hourCure(p, days.LeaveAt, "B")
	if !ok || !c.Leave.Equal(july(6, "07:15")) || !c.Was.Equal(july(6, "08:00")) || c.Standing != (days.Standing{}) {
		t.Errorf("%+v", c)
	}
	if w := p.Days[0].Fit; len(w) != 1 || !w[0].To.Equal(july(6, "07:15")) || !p.Days[0].Asked {
		t.Errorf("fits %v", w)
	}
}

// madeAgain plans anew what a cure says, from outside; not ok where that cannot be said so.
func madeAgain(t *rapid.T, in plan.Inputs, p *plan.Plan, c days.Cure) (*plan.Plan, bool) {
	o := *in.Options.Days
	o.On = map[int]clock.OClock{}
	hour := clock.OClock{Hour: c.Leave.Hour(), Minute: c.Leave.Minute()}
	switch c.Kind {
	case days.LeaveAt:
		if o.On[c.Day+1] = hour; c.Day == 0 {
			o.First, o.On = hour, nil
		}
	case days.WaitThere:
		o.Wait = c.Wait + time.Minute
	case days.StartOn:
		o.Date = c.Leave
	case days.SleepAt:
		for i, d := range p.Days[:len(p.Days)-1] {
			if i == c.Day {
				d.To = p.Visits[c.Visit].At
			}
			o.Nights = append(o.Nights, days.Where{At: d.To})
		}
	default:
		return nil, false
	}
	in.Options.Days = &o
	return drawn.Plan(t, in), true
}

// Each cure gives what it says: planned anew, the pump is reached then and open, or waited for, the
// ride stands as is said, and its fuel no worse.
func TestHourCuresKeepTheirWord(t *testing.T) {
	kinds := map[days.CureKind]int{}
	left := kit.Share(100, 12) // each cure of each is a plan of its own
	rapid.Check(t, func(t *rapid.T) {
		if left--; left < 0 {
			return
		}
		in := drawRide(t)
		in.Bike.Tank += 8
		anyHours(t, &in, "24/7", "", "Mo-Sa 06:00-22:00", "Mo-Fr 07:00-12:30,13:30-18:00; Sa 08:00-12:00", "10:00-16:00")
		in = anyDays(t, in)
		p := drawn.Cured(t, in)
		before := days.StandingOf(&p.Ride)
		for _, w := range p.Warnings {
			for _, c := range w.Hours {
				kinds[c.Kind]++
				q, ok := madeAgain(t, in, p, c)
				if !ok {
					continue
				}
				v := p.Visits[c.Visit]
				i := slices.IndexFunc(q.Visits, func(o trip.Visit) bool { return o.Number == v.Number && math.Abs(float64(o.At-v.At)) < 1 })
				if i < 0 || !q.Visits[i].Counted || q.Visits[i].Hour.There != c.There {
					t.Fatalf("%+v: %+v", c, q.Visits)
				}
				h := q.Visits[i].Hour
				if opened := h.State == clock.Open || c.Kind != days.LeaveAt && h.Fill != clock.NoFill && h.State == clock.Shut; !opened {
					t.Errorf("%+v: %+v", c, h)
				}
				if s := days.StandingOf(&q.Ride); s != c.Standing || s.Compare(before) >= 0 {
					t.Errorf("%+v stands %+v, before %+v", c, s, before)
				}
				now, was := q.Worth.BeforeCans(), p.Worth.BeforeCans()
				if slices.Compare(now[:], was[:]) > 0 {
					t.Errorf("%+v: %v, before %v", c, now, was)
				}
			}
		}
	})
	t.Log(kinds)
	if len(kinds) == 0 {
		t.Error("no cures")
	}
}
