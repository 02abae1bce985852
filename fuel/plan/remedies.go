package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// cureReach is how far off a stop may lie to be tried as a cure.
const cureReach route.Metres = 30000

// fullStart tries setting out with a full tank.
func (h *healer) fullStart() {
	full := h.in.Bike.Usable()
	more := full - h.sick.plan.Start.Fuel
	if h.leg != 0 || more <= 0 || h.sick.nodes[0].visit >= 0 {
		return
	}
	h.try(change{fullStart: true}, Cure{
		Text: fmt.Sprintf("set out full: %s more in the tank", h.u.Needed(more)),
		Cost: CostNothing, Litres: more, HasLitres: true,
	})
}

// slower tries the thirst that would do, as long as the leg takes no less than its
// low figure: under that no bike of this kind is known to come.
func (h *healer) slower() {
	if h.kind == KindBelowGrade {
		return
	}
	l := h.sick.plan.Legs[h.leg]
	times := h.slowerBy()
	if l.Drink.Fuel.Likely <= 0 || !(times < 1) || times < float64(l.Drink.Fuel.Low/l.Drink.Fuel.Likely) {
		return
	}
	also := ""
	if h.kind == KindStranded {
		also = ", and as much less on the way on or back if it is dry"
	}
	shown := rate(l.Drink) / fuel.Consumption(h.in.Bike.Odometer)
	h.try(change{thirst: times}, Cure{
		Text: fmt.Sprintf("ride slower, %s on this leg as the bike shows it (%s planned)%s: thirst %.2f",
			h.u.AtMost(shown*fuel.Consumption(times)), h.u.Rate(shown), also, math.Floor(h.in.Options.Thirst*times*100)/100),
		Cost: CostNothing, Rate: shown * fuel.Consumption(times), Planned: shown, HasRate: true,
	})
}

// slowerBy gives by how much the thirst has to come down: for a leg until it is OK. To
// arrive with the last drop is no cure that a wrist can hold. All that a leg takes grows
// with it, and so does a reserve that is a distance.
func (h *healer) slowerBy() float64 {
	const under = 1 - 1e-12 // a border is on its good side
	l := h.sick.plan.Legs[h.leg]
	with, need := l.Start+l.Can, l.Drink.Fuel
	if h.kind == KindStranded {
		_, on := h.sick.onward(h.leg + 1)
		_, back := h.sick.backward(h.leg + 1)
		return float64(with/(need.Likely+min(on.Likely, back.Likely))) * under
	}
	reserve := h.in.Options.Reserve
	fixed := fuel.Litres(reserve.Share) * h.in.Bike.Usable()
	moving := need.Likely * fuel.Litres(1+float64(reserve.Distance/l.Drink.Ridden))
	ok := min((with-fixed)/need.Likely, with/moving, with/need.High)
	return float64(ok) * under
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
		if p := h.sick.placeAt(k); !h.sick.hasMeeting(h.sick.plan.Visits[p.visit]) {
			all = append(all, p.stops...)
			if h.tryPassing(p.stops) || len(all) > len(p.stops) && h.tryPassing(all) {
				return
			}
		}
		if k > 0 && !h.sick.below(k-1) {
			return
		}
	}
}

// placeAt gives the place at a node.
func (d *draft) placeAt(k int) place {
	i := slices.IndexFunc(d.places, func(p place) bool { return p.visit == d.nodes[k].visit })
	return d.places[i]
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
		Text: "do not fill at " + strings.Join(names, ", ") + ": the petrol in the tank lasts", Cost: CostNothing,
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
	for _, g := range on {
		if *h.left <= 0 {
			return
		}
		st := h.in.Stops[g.stop]
		h.try(change{believe: g.stop + 1, extra: []sighting{g}}, Cure{
			Text: fmt.Sprintf("fill at %s, %s %.0f, if it is confirmed to sell petrol (%s now)",
				st.Name, h.u.DistanceUnit(), h.u.DistanceIn(g.At), st.Standing),
			Cost: CostCall, Detour: detour(g.Off), HasDetour: detour(g.Off) > 0,
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
		Text: fmt.Sprintf("%s, filled at %s; %s", canWith(h.u, size.Litres, lack, " in it"), from, use.Pouring(h.u)),
		Cost: CostCan, Litres: lack, HasLitres: true,
	})
}

// canWith names a can and what has to be in it at the least: full, where that rounds to
// more than its mark.
func canWith(u fuel.Units, size, least fuel.Litres, of string) string {
	if u.VolumeIn(size) < u.VolumeIn(least)+0.01 && u.Needed(least) != u.Held(size) {
		return fmt.Sprintf("a full %s can%s", u.Can(size), strings.TrimSuffix(of, " in it"))
	}
	return fmt.Sprintf("a %s can with at least %s%s", u.Can(size), u.Needed(least), of)
}

// offLine tries the stops outside the corridor that lie within 30 km of the
// stretch.
func (h *healer) offLine() {
	for _, g := range h.near() {
		if *h.left <= 0 {
			return
		}
		if !h.splits(g) {
			continue
		}
		st := h.in.Stops[g.stop]
		c := change{extra: []sighting{g}}
		text := fmt.Sprintf("fill at %s, %s off the line at %s %.0f", st.Name, h.u.Distance(g.Off),
			h.u.DistanceUnit(), h.u.DistanceIn(g.At))
		if h.doubted(g.stop) {
			c.believe = g.stop + 1
			text += fmt.Sprintf(", if it is confirmed to sell petrol (%s now)", st.Standing)
		}
		h.try(c, Cure{Text: text, Cost: CostDetour, Detour: detour(g.Off), HasDetour: true})
	}
}

// splits tells whether a leg that is SHORT could be ridden in two over a stop off
// the line: what cannot is not planned again.
func (h *healer) splits(g sighting) bool {
	if h.kind != KindShort {
		return true
	}
	l := h.sick.plan.Legs[h.leg]
	a, b := h.sick.nodes[h.leg], h.sick.nodes[h.leg+1]
	half := detour(g.Off) / 2
	there := h.course.Between(a.at, g.At).Fuel.Likely + h.course.Detour(a.at, a.half).Likely + h.course.Detour(g.At, half).Likely
	on := h.course.Between(g.At, b.at).Fuel.Likely + h.course.Detour(g.At, half).Likely + h.course.Detour(b.at, b.half).Likely
	return there <= l.Start+h.in.Bike.Can+hair && on <= h.in.Bike.Usable()+h.in.Bike.Can+hair
}

// near lists the stops that are not on the line but within reach of the
// stretch, nearest first.
func (h *healer) near() []sighting {
	passed := map[int]bool{}
	for _, g := range h.sightings {
		passed[g.stop] = true
	}
	for _, g := range h.sick.change.chosen {
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
