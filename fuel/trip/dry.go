package trip

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/route"
)

// dry says of each place what happens if it is dry, and marks the last sure fuel before
// each doubtful stretch.
func (d *Draft) dry() {
	last := len(d.Nodes) - 1
	for k := 1; k < last; k++ {
		d.Visits[d.Nodes[k].Visit].IfDry = d.IfDry(k)
	}
	for k, n := range d.Nodes[:last] {
		if n.HasStop() {
			v := &d.Visits[n.Visit]
			v.LastFuel, v.UnsureAhead = d.lastFuel(k)
		}
	}
}

// lastFuel says of a place that is sure what is doubtful of what follows it: the leg, the next
// fill if it is dry, or how sure that is; nil where nothing is. Of a place that is not sure it
// says whether the next is not so either.
func (d *Draft) lastFuel(k int) (last *LastFuel, unsureToo bool) {
	today := d.Trip.Options.Today
	l := LastFuel{Leg: k, Next: -1, NotOK: d.Legs[k].Verdict != leg.OK}
	if k+1 < len(d.Nodes)-1 { // the end is no place any more
		l.Next = d.Nodes[k+1].Visit
		next := d.Visits[l.Next]
		l.Back, l.Stranded = next.IfDry.Outcome == leg.Back, next.IfDry.Outcome == leg.Stranded
		l.Off = next.IfDry.Outcome == leg.Off
		l.Unsure = !next.Stop.Sure(today)
	}
	switch {
	case !d.Visits[d.Nodes[k].Visit].Stop.Sure(today) || d.dryIfLate(k):
		return nil, l.Unsure
	case l.NotOK || l.Back || l.Off || l.Stranded || l.Unsure:
		return &l, false
	}
	return nil, false
}

// dryIfLate tells whether who is late finds a node shut for too long.
func (d *Draft) dryIfLate(k int) bool {
	h := d.Visits[d.Nodes[k].Visit].Hour
	return h != nil && h.DryIfLate
}

// IfDry says what happens if the place at a node is dry: whether the next other place, or
// else the last one, is within reach of what is left in the tank, or else one by road. It is
// nil at the start and at the finish.
func (d *Draft) IfDry(k int) *IfDry {
	return d.ifDry(k, func(l leg.Leg, r leg.Rescues) leg.Dry { return l.IfDry(r) })
}

// IfDryWith is [Draft.IfDry] for a leg to the place that sets out with so many litres.
func (d *Draft) IfDryWith(k int, with fuel.Litres) *IfDry {
	return d.ifDry(k, func(l leg.Leg, r leg.Rescues) leg.Dry { return l.IfDryWith(with, r) })
}

func (d *Draft) ifDry(k int, judge func(leg.Leg, leg.Rescues) leg.Dry) *IfDry {
	if k <= 0 || k >= len(d.Nodes)-1 {
		return nil
	}
	r, to := d.rescues(k)
	dry := IfDry{Dry: judge(d.Legs[k-1].Leg, r), Back: to.back}
	switch {
	case dry.Aside:
		dry.To = End{AtStop, d.Trip.Ways.All[to.off.Way].ToStop}
	case dry.Ahead:
		dry.To = to.on
	default:
		dry.To = to.back
	}
	if d.Trip.Ways != nil {
		dry.Off = d.offOf(k, to)
	}
	return &dry
}

// rescuers are where one may ride to from a dry place.
type rescuers struct {
	on, back End
	off      Off // meaningless unless hasOff
	hasOff   bool
}

// Rescues gives what it takes from a node, if its place is dry, to the others.
func (d *Draft) Rescues(k int) leg.Rescues {
	r, _ := d.rescues(k)
	return r
}

func (d *Draft) rescues(k int) (r leg.Rescues, to rescuers) {
	to.on, r.On = d.Onward(k)
	to.back, r.Back = d.Backward(k)
	to.off, r.HasOff = d.Trip.WayOut(d.course, d.Nodes[k], d.numbers, d.leftOut)
	r.Off, to.hasOff = to.off.Fuel, r.HasOff
	return r, to
}

// Onward gives where to ride on to from a dry place, and the fuel to there: to the next fill
// at another place or the finish, or to another counted place that the ride passes before or
// behind that, whichever takes less.
func (d *Draft) Onward(k int) (End, fuel.Amount) {
	var f fuel.Amount
	j := k
	for ; ; j++ {
		f = f.Plus(d.Legs[j].Drink.Amount)
		if j+1 == len(d.Nodes)-1 || d.Nodes[j+1].Place != d.Nodes[k].Place {
			break
		}
	}
	if n, passed, ok := d.Trip.PassedAhead(d.course, d.Nodes[k].On, d.other(k)); ok && passed.Likely < f.Likely {
		return n.End, passed
	}
	return d.Nodes[j+1].End, f
}

// Backward gives where to ride back to from a dry place, and the fuel to there: to the last
// fill at another place or the start, or to another counted place that the ride has passed,
// whichever takes less.
func (d *Draft) Backward(k int) (End, fuel.Amount) {
	var f fuel.Amount
	j := k - 1
	for ; ; j-- {
		f = f.Plus(d.Legs[j].Drink.Back)
		if j == 0 || d.Nodes[j].Place != d.Nodes[k].Place {
			break
		}
	}
	if n, passed, ok := d.Trip.PassedBehind(d.course, d.Nodes[k].On, d.other(k)); ok && passed.Likely < f.Likely {
		return n.End, passed
	}
	return d.Nodes[j].End, f
}

// other gives which of the places that the ride passes are others than that of a node, and
// are not left out by a change: what is ridden past for good helps nobody.
func (d *Draft) other(k int) func(Node) bool {
	return func(n Node) bool {
		return d.numbers[n.Stop] != d.Nodes[k].Place && !slices.ContainsFunc(n.Stops, func(s int) bool {
			return slices.Contains(d.Change.PassBy, s) || slices.ContainsFunc(d.Change.Past, func(g Sighting) bool {
				return g.Stop == s && Together(g.At, n.On.At)
			})
		})
	}
}

// leftOut tells whether a change leaves a stop out somewhere.
func (d *Draft) leftOut(s int) bool {
	return slices.Contains(d.Change.PassBy, s) ||
		slices.ContainsFunc(d.Change.Past, func(g Sighting) bool { return g.Stop == s })
}

// NodeOf gives the node at which a visit is.
func (d *Draft) NodeOf(visit int) int {
	return slices.IndexFunc(d.Nodes, func(n Node) bool { return n.Visit == visit })
}

// IfAnyDry counts the places that strand if they are dry, on the likely figures, and those
// that do at the most, see [fuel.Most].
func (r *Ride) IfAnyDry() (stranded, bare int) {
	for _, v := range r.Visits {
		switch {
		case v.IfDry == nil:
		case v.IfDry.Outcome == leg.Stranded:
			stranded++
		case v.IfDry.Bare:
			bare++
		}
	}
	return stranded, bare
}

// DryLack gives the litres that a leg without a can lacks, by one of the figures, so that
// a dry pump at its end does not strand; 0 for the last leg.
func (d *Draft) DryLack(i int, by fuel.Figure) fuel.Litres {
	if i+1 >= len(d.Nodes)-1 {
		return 0
	}
	return d.Legs[i].DryLack(d.Rescues(i+1), by)
}

// PassedPlaces gives the counted places within the corridor that the ride passes between its
// start and its finish, filled at or not: each is where to go if another is dry.
func (t *Trip) PassedPlaces() []Node {
	if t.passed == nil {
		nodes := t.nodes(t.gather(t.passes(Change{}), false), t.PlaceNumbers())
		t.passed = append([]Node{}, nodes[1:len(nodes)-1]...)
	}
	return t.passed
}

// PassedAhead gives which of the places ahead that the ride passes takes the least fuel to
// reach from an end, of those that may be, and that fuel; not ok where there is none.
func (t *Trip) PassedAhead(c *fuel.Course, from leg.End, may func(Node) bool) (best Node, f fuel.Amount, ok bool) {
	all := t.PassedPlaces()
	first, _ := slices.BinarySearchFunc(all, from.At, func(n Node, at route.Metres) int { return cmp.Compare(n.On.At, at) })
	for _, n := range all[first:] {
		if line, _ := c.Amounts(from.At, n.On.At); ok && line.Likely >= f.Likely {
			break
		}
		if n.On.At <= from.At || !may(n) {
			continue
		}
		if to, _ := leg.Takes(c, from, n.On); !ok || to.Likely < f.Likely {
			best, f, ok = n, to, true
		}
	}
	return best, f, ok
}

// PassedBehind is [Trip.PassedAhead] for the places behind, ridden backwards.
func (t *Trip) PassedBehind(c *fuel.Course, from leg.End, may func(Node) bool) (best Node, f fuel.Amount, ok bool) {
	all := t.PassedPlaces()
	first, _ := slices.BinarySearchFunc(all, from.At, func(n Node, at route.Metres) int { return cmp.Compare(n.On.At, at) })
	for _, n := range slices.Backward(all[:first]) {
		if _, line := c.Amounts(n.On.At, from.At); ok && line.Likely >= f.Likely {
			break
		}
		if !may(n) {
			continue
		}
		if _, to := leg.Takes(c, n.On, from); !ok || to.Likely < f.Likely {
			best, f, ok = n, to, true
		}
	}
	return best, f, ok
}
