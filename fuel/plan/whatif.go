package plan

import (
	"cmp"
	"slices"

	"lastpump/fuel"
)

// A CaseKind sorts what may turn out otherwise than planned.
type CaseKind string

// The kinds of cases.
const (
	CaseThirst  CaseKind = "thirst"
	CaseDry     CaseKind = "dry"     // one place is dry
	CaseTwoDry  CaseKind = "two-dry" // two places are dry that follow each other
	CaseHearsay CaseKind = "hearsay" // a stop that is not counted is there after all
)

// A Case is one thing that turns out otherwise, and what becomes of the plan.
type Case struct {
	Kind       CaseKind
	Thirst     float64  // of the whole ride; meaningless but for CaseThirst
	Stops      []string // that are dry, or there after all
	From, To   string   // the ends of the worst leg, as in Leg
	Verdict    Verdict  // of it
	Arrive     fuel.Litres
	NotOK      int         // legs that are SHORT or TIGHT
	Can        fuel.Litres // so that every leg is OK
	Size       CanSize
	Stranding  int         // places that would strand if they were dry, too; not told of dry ones
	CanDry     fuel.Litres // for any one dry pump; not told of dry ones
	SizeDry    CanSize
	DryIsKnown bool // the three above are told
}

// thirsts are what is tried for the whole ride.
var thirsts = []float64{0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5}

// mostHearsay is how many stops that are not counted are tried one by one.
const mostHearsay = 100

// whatIf makes the plan again for each thirst, each dry place, each two dry places that
// follow each other, and each stop that is only said to be there.
func (d *draft) whatIf() []Case {
	var out []Case
	all := thirsts
	if own := d.in.Options.Thirst; !slices.ContainsFunc(all, func(t float64) bool { return compareNear(t, own) == 0 }) {
		all = append(slices.Clone(all), own)
		slices.Sort(all)
	}
	for _, t := range all {
		c := caseOf(d.trial(change{thirst: t / d.in.Options.Thirst}.on(d.change)))
		c.Kind, c.Thirst = CaseThirst, t
		out = append(out, c)
	}
	out = append(out, d.ifGone()...)
	for _, g := range d.sightings {
		st := d.in.Stops[g.stop]
		if g.At < d.nodes[0].at || d.unfit(g.stop) == "" || st.NoPetrol() || d.in.skipped(st) || len(out) > len(thirsts)+2*len(d.nodes)+mostHearsay {
			continue
		}
		c := change{believe: g.stop + 1}
		if d.change.chosen != nil {
			c.extra = []sighting{g}
		}
		r := caseOf(d.trial(c.on(d.change)))
		r.Kind, r.Stops = CaseHearsay, []string{st.Name}
		if !slices.ContainsFunc(out, func(o Case) bool { return o.Kind == CaseHearsay && o.Stops[0] == st.Name }) {
			out = append(out, r)
		}
	}
	return out
}

// caseOf sums up a draft.
func caseOf(d *draft) Case {
	worst := 0
	c := Case{DryIsKnown: true}
	for i, l := range d.plan.Legs {
		if d.worseLeg(l, d.plan.Legs[worst]) {
			worst = i
		}
		c.count(l, 0, d.noFill(i))
	}
	can := d.can()
	l := d.plan.Legs[worst]
	c.From, c.To, c.Verdict, c.Arrive = l.From, l.To, l.Verdict, l.Arrive
	c.Can, c.CanDry, c.SizeDry = can.ForPlan, can.ForAnyDryPump, can.SizeForDry
	if !c.Size.TooBig {
		c.Size = can.SizeForPlan
	}
	c.Stranding = d.toll().stranded
	return c
}

// worseLeg tells whether a leg is worse than another: by its verdict, then by what it
// arrives with above its reserve.
func (d *draft) worseLeg(a, b Leg) bool {
	if a.Verdict != b.Verdict {
		return worseOf(a.Verdict, b.Verdict) == a.Verdict
	}
	return a.Arrive-a.Kept < b.Arrive-b.Kept
}

// ifGone tries each place dry, and each two that follow each other. The rider rides to
// the dry pump, and on.
func (d *draft) ifGone() []Case {
	order := make([]int, len(d.plan.Legs)) // the worst first
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := d.plan.Legs[a], d.plan.Legs[b]
		return cmp.Or(-cmp.Compare(rank(x.Verdict), rank(y.Verdict)), cmp.Compare(x.Arrive-x.Kept, y.Arrive-y.Kept))
	})
	var out []Case
	seen := map[[2]int]bool{}
	try := func(kind CaseKind, a, b int) {
		at := [2]int{d.nodes[a].number, d.nodes[b].number}
		if key := [2]int{min(at[0], at[1]), max(at[0], at[1])}; !seen[key] {
			seen[key] = true
			c := d.gone(at, order)
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
	return out
}

func rank(v Verdict) int { return slices.Index([]Verdict{OK, Tight, Short}, v) }

// gone plans the legs anew on which places of two numbers are dry. Order gives the legs
// as they are, the worst first.
func (d *draft) gone(numbers [2]int, order []int) Case {
	var c Case
	var worst *Leg
	touched := map[int]bool{}
	for _, l := range d.joined(numbers, touched) {
		if worst == nil || d.worseLeg(l, *worst) {
			worst = &l
		}
		c.count(l, d.lackOf(l), d.noFill(0) && l.FromAt == d.nodes[0].at)
	}
	for i, l := range d.plan.Legs {
		if !touched[i] {
			c.count(l, d.lack(i), d.noFill(i))
		}
	}
	for _, i := range order {
		if !touched[i] {
			if l := d.plan.Legs[i]; worst == nil || d.worseLeg(l, *worst) {
				worst = &l
			}
			break
		}
	}
	c.From, c.To, c.Verdict, c.Arrive = worst.From, worst.To, worst.Verdict, worst.Arrive
	if !c.Size.TooBig {
		c.Size = canSize(c.Can)
	}
	return c
}

// count takes a leg into account. Where no can is filled before it, none is big enough.
func (c *Case) count(l Leg, lack fuel.Litres, noCan bool) {
	if l.Verdict != OK {
		c.NotOK++
		c.Size.TooBig = c.Size.TooBig || noCan
	}
	if !noCan {
		c.Can = max(c.Can, lack)
	}
}

// lackOf gives the litres that a leg without a can lacks to be OK.
func (d *draft) lackOf(l Leg) fuel.Litres {
	return max(0, max(l.Drink.Fuel.Likely+l.Kept, l.Drink.Fuel.High)-l.Start)
}

// joined gives the legs over places of two numbers, and marks those they are made of.
// The way to a dry pump and back to the line is ridden.
func (d *draft) joined(numbers [2]int, touched map[int]bool) []Leg {
	dry := func(k int) bool {
		n := d.nodes[k].number
		return k > 0 && k < len(d.nodes)-1 && (n == numbers[0] || n == numbers[1])
	}
	var out []Leg
	for i := 0; i < len(d.plan.Legs); i++ {
		if !dry(i + 1) {
			continue
		}
		l, noCan := d.plan.Legs[i], d.noFill(i)
		touched[i] = true
		for i++; ; i++ {
			next := d.plan.Legs[i]
			touched[i] = true
			l.To, l.ToVisit, l.ToAt = next.To, next.ToVisit, next.ToAt
			l.Drink.Ridden += next.Drink.Ridden
			l.Drink.Fuel = l.Drink.Fuel.Plus(next.Drink.Fuel)
			if !dry(i + 1) {
				break
			}
		}
		out = append(out, d.judged(l, noCan))
	}
	return out
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
