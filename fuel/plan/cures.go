package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

// cureReach is how far off a stop may lie to be tried as a cure.
const cureReach route.Metres = 30000

// How many stops are tried for one warning, the likeliest first, and how many off
// the line that cure are listed.
const (
	stopsTried  = 8
	stopsListed = 3
)

// work is how many legs may be planned again in all, so that a hopeless ride over
// a thousand stops is not looked at for minutes. A ride of a hundred legs may be
// planned again 4000 times.
const work = 400_000

// cures tries for each failing leg and each stop that would strand what might
// cure it: setting out fuller, passing by a pump of low grade, a hearsay stop, a
// can, a stop off the line. Each is put into the plan and all is planned again;
// only what then cures is listed, cheapest first.
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
		h.fullStart()
		h.passBy()
		h.believed()
		h.can()
		h.offLine()
		w.Cures = h.found
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

// try makes a change, plans again, and lists the cure if it is one.
func (h *healer) try(c change, cure Cure) bool {
	*h.left -= len(h.sick.plan.Legs)
	d := h.draft(c)
	before, after := h.sick.toll(), d.toll()
	if after.worse(before) || h.kind == KindBelowGrade && after.below > before.below ||
		len(c.passBy) > 0 && h.riskier(d) {
		return false
	}
	verdict, cured := h.verdict(d)
	if !cured {
		return false
	}
	if more := after.below - before.below; more > 0 {
		cure.Text += fmt.Sprintf(" (but %s more below grade)", count(more, "leg"))
	}
	cure.Verdict = verdict
	h.found = append(h.found, cure)
	return true
}

// riskier tells whether a plan asks for a larger can or leaves more bare if a pump
// is dry: better petrol is not worth that.
func (h *healer) riskier(d *draft) bool {
	if d.can().ForAnyDryPump > h.sick.can().ForAnyDryPump {
		return true
	}
	return d.bare() > h.sick.bare()
}

// bare counts the places at which a dry pump fails on the high figures.
func (d *draft) bare() int {
	n := 0
	for _, v := range d.plan.Visits {
		if v.IfDry != nil && (v.IfDry.Bare || v.IfDry.Outcome == Stranded) {
			n++
		}
	}
	return n
}

// A toll is all that is wrong with a plan, to tell whether a cure of one thing
// makes another worse.
type toll struct {
	short, tight, below, stranded int
	missing                       fuel.Litres // on SHORT legs together
}

func (d *draft) toll() toll {
	var t toll
	for _, l := range d.plan.Legs {
		switch l.Verdict {
		case Short:
			t.short++
			t.missing += l.Short
		case Tight:
			t.tight++
		}
		if l.Mixture.Verdict == octane.Below {
			t.below++
		}
	}
	for _, v := range d.plan.Visits {
		if v.IfDry != nil && v.IfDry.Outcome == Stranded {
			t.stranded++
		}
	}
	return t
}

// worse tells whether a plan with this toll is worse than one with the other, in
// anything but its grades, which the cure tells by itself. A stop that makes a
// SHORT leg into two good ones may be one that must not be dry: that is better
// than before, and the only trade that is.
func (t toll) worse(than toll) bool {
	if t.missing > than.missing+hair || t.short > than.short {
		return true
	}
	if t.short < than.short {
		return t.short+t.stranded > than.short+than.stranded
	}
	return t.stranded > than.stranded || t.short+t.tight > than.short+than.tight
}

// verdict gives the new verdict on the stretch of the complaint, and whether
// the complaint is gone.
func (h *healer) verdict(d *draft) (string, bool) {
	if h.kind == KindStranded {
		return h.outcome(d)
	}
	worst, mixture := OK, octane.Meets
	order := []Verdict{OK, Tight, Short}
	for _, l := range d.plan.Legs {
		if l.ToAt <= h.from || l.FromAt >= h.to {
			continue
		}
		if slices.Index(order, l.Verdict) > slices.Index(order, worst) {
			worst = l.Verdict
		}
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

// outcome gives what now happens if the place is dry; no place on the stretch
// may strand in its stead.
func (h *healer) outcome(d *draft) (string, bool) {
	now := Outcome("")
	for _, v := range d.plan.Visits {
		if v.IfDry == nil || v.At <= h.from || v.At >= h.to {
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

// fullStart tries setting out with a full tank.
func (h *healer) fullStart() {
	full := h.in.Bike.Usable()
	more := full - h.sick.plan.Start.Fuel
	if h.leg != 0 || more <= 0 || h.sick.nodes[0].visit >= 0 {
		return
	}
	h.try(change{fullStart: true}, Cure{
		Text:   fmt.Sprintf("set out full: %s more in the tank", h.u.Needed(more)),
		Litres: more, HasLitres: true,
	})
}

// passBy tries riding past the pumps of low grade between here and the last leg
// that was not below: the better petrol in the tank may last. One by one first,
// then more and more of them together.
func (h *healer) passBy() {
	if h.kind != KindBelowGrade {
		return
	}
	var all []int
	for k := h.leg; k >= 0 && h.sick.nodes[k].visit >= 0; k-- {
		if p := h.placeOf(k); !h.sick.hasMeeting(h.sick.plan.Visits[p.visit]) {
			all = append(all, p.stops...)
			if h.tryPassing(p.stops) || len(all) > len(p.stops) && h.tryPassing(all) {
				return
			}
		}
		if k > 0 && h.sick.plan.Legs[k-1].Mixture.Verdict != octane.Below {
			return
		}
	}
}

func (h *healer) placeOf(k int) place {
	i := slices.IndexFunc(h.sick.places, func(p place) bool { return p.visit == h.sick.nodes[k].visit })
	return h.sick.places[i]
}

func (h *healer) tryPassing(stops []int) bool {
	var names []string
	for _, i := range stops {
		if name := h.in.Stops[i].Name; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	slices.Reverse(names) // as they are passed
	return h.try(change{passBy: slices.Clone(stops)}, Cure{
		Text: "do not fill at " + strings.Join(names, ", ") + ": the petrol in the tank lasts",
	})
}

// believed tries counting, one by one, the stops on the stretch that are passed
// but not counted for want of a better standing: those in its middle first, which
// make it into two short ones.
func (h *healer) believed() {
	var on []sighting
	for _, g := range h.sightings {
		if g.At > h.from && g.At < h.to && h.doubted(g.stop) {
			on = append(on, g)
		}
	}
	middle := (h.from + h.to) / 2
	off := func(g sighting) route.Metres { return max(g.At-middle, middle-g.At) }
	slices.SortStableFunc(on, func(a, b sighting) int { return cmp.Compare(off(a), off(b)) })
	for _, g := range on[:min(len(on), stopsTried)] {
		st := h.in.Stops[g.stop]
		h.try(change{believe: g.stop + 1}, Cure{
			Text: fmt.Sprintf("fill at %s, %s %.0f, if it is confirmed to sell petrol (%s now)",
				st.Name, h.u.DistanceUnit(), h.u.DistanceIn(g.At), st.Standing),
			Detour: detour(g.Off), HasDetour: detour(g.Off) > 0,
		})
	}
}

// doubted tells whether a stop is left out only because of its standing.
func (h *healer) doubted(i int) bool {
	st := h.in.Stops[i]
	return !h.in.skipped(st) && !st.NoPetrol() &&
		(st.Standing == stop.Hearsay || st.Standing.Rank() > h.in.Options.Trust.Rank())
}

// can tries the smallest can sold that holds what is lacking.
func (h *healer) can() {
	lack := h.sick.lack(h.leg)
	switch h.kind {
	case KindBelowGrade:
		return
	case KindStranded:
		lack = h.sick.dryLack(h.leg)
	}
	size := canSize(lack)
	if size.TooBig || size.Litres <= h.in.Bike.Can {
		return
	}
	from, _ := h.sick.plan.Ends(h.leg)
	use := h.sick.use(h.leg, "", lack, 0)
	h.sick.fullCan(&use, size.Litres)
	h.try(change{can: size.Litres}, Cure{
		Text: fmt.Sprintf("a %s can with at least %s in it, filled at %s; %s",
			h.u.Can(size.Litres), h.u.Needed(lack), from, use.Pouring(h.u)),
		Litres: lack, HasLitres: true,
	})
}

// offLine tries the stops outside the corridor that lie within 30 km of the
// stretch.
func (h *healer) offLine() {
	listed := 0
	for n, g := range h.near() {
		if n == stopsTried || listed == stopsListed {
			return
		}
		st := h.in.Stops[g.stop]
		c := change{extra: []sighting{g}}
		text := fmt.Sprintf("fill at %s, %s off the line at %s %.0f", st.Name, h.u.Distance(g.Off),
			h.u.DistanceUnit(), h.u.DistanceIn(g.At))
		if h.doubted(g.stop) {
			c.believe = g.stop + 1
			text += fmt.Sprintf(", if it is confirmed to sell petrol (%s now)", st.Standing)
		}
		if h.try(c, Cure{Text: text, Detour: detour(g.Off), HasDetour: true}) {
			listed++
		}
	}
}

// near lists the stops that are not on the line but within reach of the
// stretch, nearest first.
func (h *healer) near() []sighting {
	passed := map[int]bool{}
	for _, g := range h.sightings {
		passed[g.stop] = true
	}
	var out []sighting
	for i, st := range h.in.Stops {
		if passed[i] || st.NoPetrol() || h.in.skipped(st) || h.off[i] > cureReach {
			continue
		}
		if p, ok := h.in.Line.Nearest(st.At, h.from, h.to); ok && p.Off <= cureReach {
			out = append(out, sighting{i, p})
		}
	}
	slices.SortStableFunc(out, func(a, b sighting) int { return cmp.Compare(a.Off, b.Off) })
	return out
}

// lacking says what is missing where nothing tried cures.
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
