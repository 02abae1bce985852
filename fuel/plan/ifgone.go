package plan

import (
	"cmp"
	"slices"

	"lastpump/fuel"
)

// A drier tries places dry. What most legs are is the same each time, and is looked up
// once: so a ride of very many stops is no wait.
type drier struct {
	*draft
	at      map[int][]int // the nodes of each place, by its number
	worst   []int         // legs, the worst first
	lacking []int         // legs, those that lack most first
	notOK   int
}

func (d *draft) drier() *drier {
	r := &drier{draft: d, at: map[int][]int{}}
	for k := 1; k < len(d.nodes)-1; k++ {
		r.at[d.nodes[k].number] = append(r.at[d.nodes[k].number], k)
	}
	for i, l := range d.plan.Legs {
		r.worst, r.lacking = append(r.worst, i), append(r.lacking, i)
		if l.Verdict != OK {
			r.notOK++
		}
	}
	slices.SortStableFunc(r.worst, func(a, b int) int {
		x, y := d.plan.Legs[a], d.plan.Legs[b]
		return cmp.Or(-cmp.Compare(x.Verdict.rank(), y.Verdict.rank()), cmp.Compare(x.Arrive-x.Kept, y.Arrive-y.Kept))
	})
	slices.SortStableFunc(r.lacking, func(a, b int) int { return -cmp.Compare(r.fillable(a), r.fillable(b)) })
	return r
}

// fillable gives the litres that a leg lacks and a can would bring; none where none is
// filled.
func (d *draft) fillable(leg int) fuel.Litres {
	if d.noFill(leg) {
		return 0
	}
	return d.lack(leg)
}

// ifGone tries each place dry, and each two that follow each other. The rider rides to
// the dry pump, and on.
func (d *draft) ifGone() []Case {
	r := d.drier()
	var out []Case
	seen := map[[2]int]bool{}
	try := func(kind CaseKind, a, b int) {
		at := [2]int{d.nodes[a].number, d.nodes[b].number}
		if key := [2]int{min(at[0], at[1]), max(at[0], at[1])}; !seen[key] {
			seen[key] = true
			c := r.gone(at)
			c.Kind, c.Stops = kind, []string{d.nodes[a].name}
			if kind == CaseTwoDry {
				c.Stops = append(c.Stops, d.nodes[b].name)
			}
			out = append(out, c)
		}
	}
	last := len(d.nodes) - 1
	for k := 1; k < last; k++ {
		try(CaseDry, k, k)
	}
	for k := 1; k+1 < last; k++ {
		if d.nodes[k].number != d.nodes[k+1].number {
			try(CaseTwoDry, k, k+1)
		}
	}
	markWorst(out, CaseDry)
	markWorst(out, CaseTwoDry)
	return out
}

// markWorst marks the worst case of a kind: what no can helps, then the largest can, then
// what arrives with least.
func markWorst(cases []Case, kind CaseKind) {
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
func (r *drier) gone(numbers [2]int) Case {
	joined, touched := r.joined(numbers)
	c := Case{NotOK: r.notOK}
	for i := range touched {
		if r.plan.Legs[i].Verdict != OK {
			c.NotOK--
		}
	}
	worst := joined[0]
	for _, l := range joined {
		if r.worseLeg(l, worst) {
			worst = l
		}
		c.count(l, l.lack(), r.noFill(0) && l.FromAt == r.nodes[0].at)
	}
	untouched := func(i int) bool { return !touched[i] }
	if i := slices.IndexFunc(r.worst, untouched); i >= 0 {
		if l := r.plan.Legs[r.worst[i]]; r.worseLeg(l, worst) {
			worst = l
		}
	}
	if i := slices.IndexFunc(r.lacking, untouched); i >= 0 {
		c.Can = max(c.Can, r.fillable(r.lacking[i]))
	}
	if r.noFill(0) && !touched[0] && r.plan.Legs[0].Verdict != OK {
		c.Size.TooBig = true
	}
	c.From, c.To, c.Verdict, c.Arrive = worst.From, worst.To, worst.Verdict, worst.Arrive
	if !c.Size.TooBig {
		c.Size = canSize(c.Can)
	}
	return c
}

// joined gives the legs over places of two numbers, and those they are made of. The way
// to a dry pump and back to the line is ridden.
func (r *drier) joined(numbers [2]int) (out []Leg, touched map[int]bool) {
	dry := slices.Concat(r.at[numbers[0]], r.at[numbers[1]])
	slices.Sort(dry)
	dry = slices.Compact(dry)
	touched = map[int]bool{}
	for i := 0; i < len(dry); i++ {
		leg := dry[i] - 1
		l, noCan := r.plan.Legs[leg], r.noFill(leg)
		touched[leg] = true
		for {
			next := r.plan.Legs[dry[i]]
			touched[dry[i]] = true
			l.To, l.ToVisit, l.ToAt = next.To, next.ToVisit, next.ToAt
			l.Drink.Ridden += next.Drink.Ridden
			l.Drink.Fuel = l.Drink.Fuel.Plus(next.Drink.Fuel)
			if i+1 == len(dry) || dry[i+1] != dry[i]+1 {
				break
			}
			i++
		}
		out = append(out, r.judged(l, noCan))
	}
	return out, touched
}

// judged judges a leg on its own: with the bike's can if it is not OK without, unless it
// cannot be filled.
func (d *draft) judged(l Leg, noCan bool) Leg {
	l.Kept, l.Can = d.kept(l.Drink), 0
	alone := &draft{survey: d.survey, bike: d.bike, plan: &Plan{Legs: []Leg{l}}}
	alone.judge(0)
	if alone.plan.Legs[0].Verdict != OK && !noCan {
		alone.plan.Legs[0].Can = d.bike.Can
		alone.judge(0)
	}
	return alone.plan.Legs[0]
}
