package plan

import (
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
	Worst      bool // the worst of the dry ones of its kind
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
	tried := 0
	for _, g := range d.sightings {
		st := d.in.Stops[g.stop]
		if g.At < d.nodes[0].at || d.unfit(g.stop) == "" || st.NoPetrol() || d.in.skipped(st) || tried == mostHearsay {
			continue
		}
		r := caseOf(d.trial(change{believe: g.stop + 1, extra: []sighting{g}}.on(d.change)))
		tried++
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
