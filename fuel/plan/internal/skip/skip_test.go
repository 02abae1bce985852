package skip_test

import (
	"slices"
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// Riding past a stop that may be skipped, and past one that must be filled at, is planned
// again here.
func TestStopsThatMayBeSkipped(t *testing.T) {
	may, must := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		in := drawn.AnyRide(t)
		p := drawn.Cured(t, in)
		for i, v := range p.Visits {
			if v.Need == "" || passings(in, p, v) != 1 || len(v.Also) > 0 {
				continue
			}
			without := in
			without.Options.Skip = append(slices.Clone(in.Options.Skip), v.Stop.Name)
			kept := keeps(p, drawn.Cured(t, without), i)
			if kept != (v.Need == trip.MaySkip) {
				t.Errorf("%s at km %.1f: %s, but skipping it keeps every verdict: %v", v.Stop.Name, v.At.Kilometres(), v.Need, kept)
			}
			if kept {
				may++
			} else {
				must++
			}
		}
	})
	if may == 0 || must == 0 {
		t.Errorf("%d may be skipped, %d must be filled at: nothing is tested", may, must)
	}
}

// passings counts the visits of a stop; and one of a name that others have is none.
func passings(in plan.Inputs, p *plan.Plan, v trip.Visit) (n int) {
	for _, o := range p.Visits {
		if o.Stop.Name == v.Stop.Name {
			n++
		}
	}
	return n
}

// keeps tells whether nothing of a plan is worse without the visit of a number.
func keeps(p, q *plan.Plan, visit int) bool {
	if len(q.Legs) != len(p.Legs)-1 || q.Can.ForPlan > p.Can.ForPlan+1e-6 || q.Can.ForAnyDryPump > p.Can.ForAnyDryPump+1e-6 {
		return false
	}
	lack := func(l trip.Leg) float64 {
		return float64(max(0, max(l.Drink.Fuel.Likely+l.Kept, l.Drink.Fuel.High)-l.Start))
	}
	order := []leg.Verdict{leg.OK, leg.Tight, leg.Short}
	k := slices.IndexFunc(p.Legs, func(l trip.Leg) bool { return l.ToVisit == visit })
	for i, l := range q.Legs {
		verdict, short, mixture := 0, 0.0, 0
		for j, old := range p.Legs {
			if j == i && i <= k || j == i+1 && i >= k {
				verdict = max(verdict, slices.Index(order, old.Verdict))
				short, mixture = max(short, lack(old)), max(mixture, old.Mixture.Verdict.Rank())
			}
		}
		if slices.Index(order, l.Verdict) > verdict || lack(l) > short+1e-6 || l.Mixture.Verdict.Rank() > mixture {
			return false
		}
	}
	for _, v := range q.Visits {
		for _, old := range p.Visits {
			if old.Stop.Name == v.Stop.Name && old.At == v.At && v.IfDry != nil && old.IfDry != nil && worseDry(*v.IfDry, *old.IfDry) {
				return false
			}
		}
	}
	return true
}

func worseDry(now, was trip.IfDry) bool {
	order := []leg.Outcome{leg.On, leg.Back, leg.Stranded}
	a, b := slices.Index(order, now.Outcome), slices.Index(order, was.Outcome)
	return a > b || now.Bare && !was.Bare || now.Outcome == leg.Stranded && was.Outcome == leg.Stranded && now.Spare < was.Spare-1e-6
}
