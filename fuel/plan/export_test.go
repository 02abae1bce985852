package plan

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/plan/internal/choose"
	"lastpump/fuel/plan/pass"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// Candidates lists the stops that may be chosen, and those at the ends of the line.
func Candidates(in Inputs) (middle, ends []trip.Sighting) { return NewWeigher(in).t.Candidates() }

// A Weigher plans a ride over some of the stops and tells what it is worth.
type Weigher struct{ t *trip.Trip }

// NewWeigher makes one, from where the rider stands on. It panics where he cannot stand.
func NewWeigher(in Inputs) Weigher {
	in.Options.FillAt = FillChosen
	_, t, _, err := in.ride(context.Background(), in.trip())
	if err != nil {
		panic(err)
	}
	return Weigher{t}
}

// ride plans the ride over the stops given.
func (w Weigher) ride(taken []trip.Sighting) *trip.Draft {
	if taken == nil {
		taken = []trip.Sighting{}
	}
	return w.t.Trial(trip.Change{Chosen: taken})
}

// Worth plans the ride over the stops given, and gives what it is worth and how many guards it
// breaks. What a guard is stands here in words of its own.
func (w Weigher) Worth(taken []trip.Sighting) (trip.Worth, int) {
	d := w.ride(taken)
	return d.Worth(), w.passedGood(d) + w.leansInVain(d)
}

// Compare orders rides, by what guards they break first.
func Compare(a trip.Worth, aBreaks int, b trip.Worth, bBreaks int) int {
	return cmp.Or(cmp.Compare(aBreaks, bBreaks), a.Compare(b))
}

// passedGood counts the sure stops at most 300 m off that sell what meets and are ridden past,
// where the next fill is not sure or of a grade below the need.
func (w Weigher) passedGood(d *trip.Draft) (n int) {
	o, need := w.t.Options, w.t.Bike.Needs
	middle, _ := w.t.Candidates()
	for _, s := range middle {
		st := w.t.Stops[s.Stop]
		meets := slices.ContainsFunc(st.Grades, func(g octane.Grade) bool { return g.Against(need) == octane.Meets })
		year := o.Today.AddDate(-1, 0, 0)
		sure := (st.Standing == stop.Seen || st.Standing == stop.Phoned) && st.HasConfirmed && !st.Confirmed.Before(year)
		if s.Off > 300 || !sure || !meets {
			continue
		}
		for _, node := range d.Nodes[1:] {
			if !node.HasStop() || node.On.At < s.At {
				continue
			}
			next := d.Visits[node.Visit]
			if node.Stop != s.Stop && (!next.Stop.Sure(o.Today) || next.Fill.Verdict == octane.Below) {
				n++
			}
			break
		}
	}
	return n
}

// leansInVain counts the legs that lean on a can though there would be none without one that is
// not OK if each counted place on them were filled at.
func (w Weigher) leansInVain(d *trip.Draft) (n int) {
	all := w.t.Trial(trip.Change{})
	for i, l := range d.Legs {
		from, to := d.Nodes[i], d.Nodes[i+1]
		if d.Asked[i].Plan == 0 || l.Can == 0 {
			continue
		}
		ends := []trip.Node{from}
		for _, p := range all.Nodes[1 : len(all.Nodes)-1] {
			one := func(o trip.Node) bool { return o.HasStop() && math.Abs(float64(o.On.At-p.On.At)) <= 3000 }
			if p.On.At > from.On.At && p.On.At < to.On.At && !one(from) && !one(to) {
				ends = append(ends, p)
			}
		}
		ends = append(ends, to)
		ok := len(ends) > 2
		for k := 1; k < len(ends); k++ {
			drink := leg.NewWay(w.t.Course, ends[k-1].On, ends[k].On).Drink
			start := w.t.Bike.Usable()
			if k == 1 && i == 0 && !from.HasStop() {
				start = w.t.StartFuel(drink, trip.Change{})
			}
			kept := w.t.Options.Reserve.Kept(drink, w.t.Bike.Usable())
			ok = ok && start-drink.Fuel.Likely >= kept && start >= drink.Fuel.High
		}
		if ok {
			n++
		}
	}
	return n
}

// Choose gives what is chosen.
func (w Weigher) Choose() (choose.Choice, error) {
	return choose.Best(context.Background(), w.t, Tell(nil).at(ChoosingStops))
}

// ChooseWith gives what is chosen with so much work.
func (w Weigher) ChooseWith(work choose.Work) (choose.Choice, error) {
	return choose.BestWith(context.Background(), w.t, work, Tell(nil).at(ChoosingStops))
}

// A Work is how much is done to choose.
type Work = choose.Work

// Everywhere gives what the ride is worth that fills at every counted place, and how many
// guards it breaks.
func (w Weigher) Everywhere() (trip.Worth, int) {
	d := w.t.Trial(trip.Change{})
	return d.Worth(), w.passedGood(d) + w.leansInVain(d)
}

// Together tells whether two stops are one place.
func Together(a, b trip.Sighting) bool { return trip.Together(a.At, b.At) }

// A Pass is what is told of a pump that is passed.
type Pass = pass.Pass

// Passes gives what is told of the pumps that a ride over the stops given passes, by name.
func (w Weigher) Passes(taken []trip.Sighting) map[string]Pass {
	d := w.t.Draft(trip.Change{Chosen: taken})
	out := map[string]Pass{}
	for _, p := range pass.Of(d) {
		out[d.Visits[p.Visit].Stop.Name] = p
	}
	return out
}

// Reckoned gives the clock of a plan.
func (p *Plan) Reckoned() *days.Reckoning { return p.clocked }
