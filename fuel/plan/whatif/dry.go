package whatif

import (
	"cmp"
	"context"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
)

// A dryTrial tries places dry. What most legs are is the same each time, and is looked up
// once: so a ride of very many stops is no wait.
type dryTrial struct {
	*trip.Draft
	at      map[int][]int // the nodes of each place, by its number
	worst   []int         // legs, the worst first
	lacking []int         // legs, those that lack most first
	notOK   int
}

func newDryTrial(d *trip.Draft) *dryTrial {
	r := &dryTrial{Draft: d, at: map[int][]int{}}
	for k := 1; k < len(d.Nodes)-1; k++ {
		r.at[d.Nodes[k].Place] = append(r.at[d.Nodes[k].Place], k)
	}
	for i, l := range d.Legs {
		r.worst, r.lacking = append(r.worst, i), append(r.lacking, i)
		if l.Verdict != leg.OK {
			r.notOK++
		}
	}
	slices.SortStableFunc(r.worst, func(a, b int) int {
		switch x, y := d.Legs[a].Leg, d.Legs[b].Leg; {
		case x.Leaner(y):
			return -1
		case y.Leaner(x):
			return 1
		}
		return 0
	})
	slices.SortStableFunc(r.lacking, func(a, b int) int { return -cmp.Compare(r.fillable(a), r.fillable(b)) })
	return r
}

// fillable gives the litres that a leg lacks and a can would bring; none where none is
// filled.
func (r *dryTrial) fillable(i int) fuel.Litres {
	if r.NoFill(i) {
		return 0
	}
	return r.Legs[i].Lack()
}

// ifGone tries each place dry, and each two that follow each other. The rider rides to
// the dry pump, and on.
func ifGone(ctx context.Context, d *trip.Draft) ([]Case, error) {
	r := newDryTrial(d)
	var out []Case
	seen := map[[2]int]bool{}
	try := func(kind Kind, a, b int) {
		at := [2]int{d.Nodes[a].Place, d.Nodes[b].Place}
		if key := [2]int{min(at[0], at[1]), max(at[0], at[1])}; !seen[key] {
			seen[key] = true
			c := r.gone(at)
			c.Kind, c.Stops = kind, []string{r.name(a)}
			if kind == TwoDry {
				c.Stops = append(c.Stops, r.name(b))
			}
			out = append(out, c)
		}
	}
	last := len(d.Nodes) - 1
	for k := 1; k < last; k++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		try(Dry, k, k)
	}
	for k := 1; k+1 < last; k++ {
		if d.Nodes[k].Place != d.Nodes[k+1].Place {
			try(TwoDry, k, k+1)
		}
	}
	markWorst(out, Dry)
	markWorst(out, TwoDry)
	return out, nil
}

// name gives the name of the stop at a node.
func (r *dryTrial) name(k int) string { return r.Trip.Stops[r.Nodes[k].Stop].Name }

// markWorst marks the worst case of a kind: what no can helps, then the largest can, then
// what arrives with least.
func markWorst(cases []Case, kind Kind) {
	worst := -1
	for i, c := range cases {
		if c.Kind == kind && (worst < 0 || c.worseThan(cases[worst])) {
			worst = i
		}
	}
	if worst >= 0 {
		cases[worst].Worst = true
	}
}

func (c Case) worseThan(o Case) bool {
	if c.Size.TooBig != o.Size.TooBig {
		return c.Size.TooBig
	}
	if c.Size.TooBig {
		return c.Arrive < o.Arrive
	}
	return c.Can > o.Can || c.Can == o.Can && c.Arrive < o.Arrive
}

// gone plans the legs anew on which places of two numbers are dry.
func (r *dryTrial) gone(numbers [2]int) Case {
	over, touched := r.legsOver(numbers)
	c := Case{NotOK: r.notOK}
	for i := range touched {
		if r.Legs[i].Verdict != leg.OK {
			c.NotOK--
		}
	}
	worst := over[0]
	for _, l := range over {
		if l.Leaner(worst.Leg) {
			worst = l
		}
		c.count(l, l.Lack(), r.NoFill(0) && l.FromAt == r.Nodes[0].On.At)
	}
	untouched := func(i int) bool { return !touched[i] }
	if i := slices.IndexFunc(r.worst, untouched); i >= 0 {
		if l := r.Legs[r.worst[i]]; l.Leaner(worst.Leg) {
			worst = l
		}
	}
	if i := slices.IndexFunc(r.lacking, untouched); i >= 0 {
		c.Can = max(c.Can, r.fillable(r.lacking[i]))
	}
	if r.NoFill(0) && !touched[0] && r.Legs[0].Verdict != leg.OK {
		c.Size.TooBig = true
	}
	c.From, c.To, c.Verdict, c.Arrive = worst.From, worst.To, worst.Verdict, worst.Arrive
	if !c.Size.TooBig {
		c.Size = r.Trip.Options.Cans.Smallest(c.Can)
	}
	return c
}

// legsOver gives the legs over places of two numbers, and those they are made of. The way
// to a dry pump and back to the line is ridden.
func (r *dryTrial) legsOver(numbers [2]int) (out []trip.Leg, touched map[int]bool) {
	dry := slices.Concat(r.at[numbers[0]], r.at[numbers[1]])
	slices.Sort(dry)
	dry = slices.Compact(dry)
	touched = map[int]bool{}
	for i := 0; i < len(dry); i++ {
		first := dry[i] - 1
		l, noCan := r.Legs[first], r.NoFill(first)
		touched[first] = true
		for {
			next := r.Legs[dry[i]]
			touched[dry[i]] = true
			l.To, l.ToVisit, l.ToAt = next.To, next.ToVisit, next.ToAt
			l.Drink.Ridden += next.Drink.Ridden
			l.Drink.Fuel = l.Drink.Fuel.Plus(next.Drink.Fuel)
			if i+1 == len(dry) || dry[i+1] != dry[i]+1 {
				break
			}
			i++
		}
		l.Leg = r.judged(l.Leg, noCan)
		out = append(out, l)
	}
	return out, touched
}

// judged judges a leg on its own: with the bike's can if it is not OK without, unless it
// cannot be filled.
func (r *dryTrial) judged(l leg.Leg, noCan bool) leg.Leg {
	l.Kept = r.Trip.Options.Reserve.Kept(l.Drink, r.Bike.Usable())
	l = l.WithCan(0)
	if l.Verdict != leg.OK && !noCan {
		l = l.WithCan(r.Bike.Can)
	}
	return l
}
