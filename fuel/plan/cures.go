package plan

import (
	"cmp"
	"fmt"
	"slices"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
)

// A Cost says what a cure asks of the rider.
type Cost string

// The costs, cheapest first.
const (
	CostNothing Cost = "nothing"
	CostCall    Cost = "a phone call"
	CostCan     Cost = "a can"
	CostDetour  Cost = "a detour"
	CostOther   Cost = "other" // the other way round, begun elsewhere, with another's fuel
)

// Costs lists the costs in the order in which cures are given.
var Costs = []Cost{CostNothing, CostCall, CostCan, CostDetour, CostOther}

// A Cure is a change that was made and planned again, and what came of it.
type Cure struct {
	Text      string
	Cost      Cost
	Litres    fuel.Litres // to carry or to fill; meaningless unless HasLitres
	HasLitres bool
	Detour    route.Metres // meaningless unless HasDetour
	HasDetour bool
	Rate      fuel.Consumption // not to be exceeded on the leg, by the kilometres the bike shows; meaningless unless HasRate
	Planned   fuel.Consumption // the same as it is planned
	HasRate   bool
	Reverse   bool         // the other way round
	BeginAt   route.Metres // along the line; meaningless unless HasBegin
	HasBegin  bool
	Verdict   string // the new one
}

// work is how many legs may be planned again in all, so that a hopeless ride over
// a thousand stops is not looked at for minutes. A ride of a hundred legs may be
// planned again 4000 times.
const work = 400_000

// cures tries for each failing leg and each stop that would strand all that might
// cure it. Each is put into the plan and all is planned again; only what then
// cures is listed, cheapest first.
func cures(s *survey, d *draft) {
	left := work
	for i := range d.plan.Warnings {
		w := &d.plan.Warnings[i]
		c, ok := d.complaint(w)
		if !ok {
			continue
		}
		if left <= 0 {
			w.NoCure = "no cure was looked for: there are too many failures, see to those above first"
			continue
		}
		h := healer{survey: s, sick: d, complaint: c, u: s.in.Options.Units, left: &left}
		w.Cures = h.all()
		if len(w.Cures) == 0 {
			w.NoCure = h.lacking()
		}
	}
}

// A complaint is what a warning is about: a leg or a place, and the stretch of
// line on which a cure has to work.
type complaint struct {
	kind     Kind
	leg      int // the leg, or the one that leads to the place
	from, to route.Metres
	place    string
}

func (d *draft) complaint(w *Warning) (complaint, bool) {
	switch w.Kind {
	case KindShort, KindTight, KindBelowGrade:
		l := d.plan.Legs[w.Leg]
		return complaint{kind: w.Kind, leg: w.Leg, from: l.FromAt, to: l.ToAt}, true
	case KindStranded:
		k := slices.IndexFunc(d.nodes, func(n node) bool { return n.visit == w.Visit })
		return complaint{kind: w.Kind, leg: k - 1, from: d.nodes[k-1].at, to: d.nodes[k+1].at, place: d.nodes[k].name}, true
	}
	return complaint{}, false
}

// A healer tries cures for one complaint.
type healer struct {
	*survey
	sick *draft
	complaint
	u     fuel.Units
	left  *int // of the work
	found []Cure
}

// all tries everything, and gives what cures, cheapest first: what costs nothing, a
// phone call, a can by its litres, a detour by its length, and all else.
func (h *healer) all() []Cure {
	h.fullStart()
	h.slower()
	h.passBy()
	h.believed()
	h.can()
	h.lessOfIt()
	h.lifted()
	h.offLine()
	h.otherWay()
	h.elsewhere()
	slices.SortStableFunc(h.found, func(a, b Cure) int {
		return cmp.Or(cmp.Compare(a.Cost.rank(), b.Cost.rank()), cmp.Compare(a.Detour, b.Detour), cmp.Compare(a.canLitres(), b.canLitres()))
	})
	return h.found
}

// rank orders costs, cheapest first.
func (c Cost) rank() int { return slices.Index(Costs, c) }

// canLitres is what of a cure has to be carried.
func (c Cure) canLitres() fuel.Litres {
	if c.Cost != CostCan {
		return 0
	}
	return c.Litres
}

// try makes a change, plans again, and lists the cure if it is one.
func (h *healer) try(c change, cure Cure) bool {
	return h.tryOn(h.survey, []stretch{{h.from, h.to}}, c.on(h.sick.change), cure, false)
}

// A stretch is a part of the line.
type stretch struct{ from, to route.Metres }

// tryOn is try on a survey of its own, on which the complaint lies elsewhere. Where all
// of the ride changes, its like must not turn up in another place: fewer must be left.
func (h *healer) tryOn(s *survey, where []stretch, c change, cure Cure, fewer bool) bool {
	*h.left -= len(h.sick.plan.Legs)
	d := s.trial(c)
	before, after := h.sick.toll(), d.toll()
	if fewer && (after.of(h.kind) >= before.of(h.kind) || h.riskier(d)) {
		return false
	}
	if after.worse(before) || h.kind == KindBelowGrade && after.below > before.below ||
		len(c.passBy) > 0 && h.riskier(d) {
		return false
	}
	verdict, cured := h.verdict(d, where)
	if !cured {
		return false
	}
	if more := d.canLegs() - h.sick.canLegs(); more > 0 && c.can == 0 {
		cure.Text += fmt.Sprintf(" (with the can full on %s)", count(more, "more leg"))
	}
	if more := after.below - before.below; more > 0 {
		cure.Text += fmt.Sprintf(" (but %s more below grade)", count(more, "leg"))
	}
	cure.Verdict = verdict
	h.found = append(h.found, cure)
	return true
}

// verdict gives the new verdict on the stretch of the complaint, and whether
// the complaint is gone.
func (h *healer) verdict(d *draft, where []stretch) (string, bool) {
	if h.kind == KindStranded {
		return h.outcome(d, where)
	}
	worst, mixture := OK, octane.Meets
	for _, l := range d.plan.Legs {
		if !slices.ContainsFunc(where, func(s stretch) bool { return l.ToAt > s.from && l.FromAt < s.to }) {
			continue
		}
		worst = worseOf(worst, l.Verdict)
		if l.Mixture.Verdict.Rank() > mixture.Rank() {
			mixture = l.Mixture.Verdict
		}
	}
	switch h.kind {
	case KindShort:
		return string(worst), worst != Short
	case KindTight:
		return string(worst), worst == OK
	}
	return string(mixture), mixture != octane.Below
}

// worseOf gives the worse of two verdicts.
func worseOf(a, b Verdict) Verdict {
	if b.rank() > a.rank() {
		return b
	}
	return a
}

// outcome gives what now happens if the place is dry; no place on the stretch
// may strand in its stead.
func (h *healer) outcome(d *draft, where []stretch) (string, bool) {
	now := Outcome("")
	for _, v := range d.plan.Visits {
		if v.IfDry == nil || !slices.ContainsFunc(where, func(s stretch) bool { return v.At > s.from && v.At < s.to }) {
			continue
		}
		if v.IfDry.Outcome == Stranded {
			return "", false
		}
		if v.Stop.Name == h.place {
			now = v.IfDry.Outcome
		}
	}
	return string(now), now != ""
}

// lacking says what is missing where nothing tried cures, and to what rate the
// bike would have to come down.
func (h *healer) lacking() string {
	l := h.sick.plan.Legs[h.leg]
	missing, what := l.Short, "to arrive"
	switch h.kind {
	case KindBelowGrade:
		under := h.in.Bike.Needs.Number - octane.ShownDown(l.Mixture.Low)
		return fmt.Sprintf("no cure found: the tank is up to %.1f %s under the need", under, h.in.Bike.Needs.Scale)
	case KindStranded:
		missing, what = h.sick.dryLack(h.leg)-l.Can, "to reach the next or the last stop if it is dry"
	case KindTight:
		missing, what = h.sick.lack(h.leg)-l.Can, "to keep the reserve"
	}
	return fmt.Sprintf("no cure found: %s or %s are missing %s",
		h.u.Needed(missing), h.u.Distance(rate(l.Drink).Reach(missing)), what)
}
