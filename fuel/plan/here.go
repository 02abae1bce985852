package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// Whereabouts say from where the rest of a ride is planned. The zero value plans
// all of it.
//
// Kilometres stay those of the whole line, so that they agree with the paper in
// the rider's hand. At a counted stop he fills to the brim; Options.StartFuel and
// SinceFill are then what is in the tank on arriving there. Where no pump is
// counted one of them has to be given.
type Whereabouts struct {
	From     route.Metres // along the line; meaningless unless HasFrom
	HasFrom  bool
	FromStop string // the stop he stands at, as the list has it, instead of From; "" for none
	Used     *Used  // nil where it has not been measured
}

// Used is what has been used up to here, over the last kilometres.
type Used struct {
	Litres fuel.Litres
	Trip   route.Metres // as the trip meter shows them
}

func (w Whereabouts) fromHere() bool { return w.HasFrom || w.FromStop != "" }

// A Here is where the rider plans the rest of his ride, what was measured on the
// way there and what that changes.
type Here struct {
	At     route.Metres // along the line
	Stop   string       // at which he stands; "" for none
	Used   *Used        // nil where it has not been measured: all up to Factor is then 0
	Likely fuel.Litres  // what the plan expected for the same kilometres, at the thirst before
	Low    fuel.Litres  // the least it expected
	High   fuel.Litres  // and the most
	Factor float64      // how many times the likely was used; 1 where it has not been measured
	Before float64      // the thirst the whole was planned with
	Thirst float64      // and the rest is planned with: Before × Factor
	Legs   []HereLeg    // one for each leg of the rest
	Answer string       // what has changed, in a line
}

// A HereLeg is a leg of the rest as it was planned and as it is now. Allowed is
// the consumption that the leg may not exceed, by the kilometres that the bike
// shows, if it is to arrive with the reserve whole, and AllowedDry if it is to
// arrive at all; the reserve is a distance at the leg's own rate where that is
// the larger.
type HereLeg struct {
	To            string // as in Leg
	ToAt          route.Metres
	Then          HereFigures // the leg of the whole plan that ends there; meaningless unless HasThen
	HasThen       bool
	Now           HereFigures
	Allowed       fuel.Consumption // meaningless unless HasAllowed
	HasAllowed    bool             // false where even standing still the reserve is not whole
	AllowedDry    fuel.Consumption // meaningless unless HasAllowedDry
	HasAllowedDry bool             // false where there is no fuel, or nothing to ride
}

// HereFigures are what a leg comes to, likely.
type HereFigures struct {
	Need, Arrive fuel.Litres // Arrive may be negative
	Verdict      Verdict
}

// OnTheWay tells whether the rider is no longer at the start of the line; false
// where all of it is planned.
func (h *Here) OnTheWay() bool { return h != nil && h.At > 0 }

// endName names an end of the ride at which no stop is.
func (p *Plan) endName(to string) string {
	switch {
	case to != "start" || !p.Here.OnTheWay():
		return "the " + to
	}
	return "here"
}

// A standpoint is where the rider stands.
type standpoint struct {
	Here
	point  orb.Point
	atStop bool           // he has said at which, and stands there
	half   route.Metres   // his way back to the line
	tank   octane.Mixture // as the whole plan has it on arriving there; empty at the start
}

// here gives the beginning of what a plan says of it, nil for a whole line.
func (s *standpoint) here() *Here {
	if s == nil {
		return nil
	}
	h := s.Here
	return &h
}

// fromHere finds where the rider stands, measures how thirsty the bike has been
// and plans the rest from there. It gives the whole as it was planned, full at its
// start, or nil where all is planned.
func (s *survey) fromHere() (whole *draft, err error) {
	o := s.in.Options
	if !o.fromHere() {
		return nil, nil
	}
	from, err := s.stand()
	if err != nil {
		return nil, err
	}
	then := *s
	then.in.Options.Whereabouts = Whereabouts{}
	then.in.Options.StartFuel, then.in.Options.HasStartFuel, then.in.Options.SinceFill = 0, false, 0
	then.in.Options.StartGrade = octane.Grade{}
	c := change{chosen: s.in.chosenWhole}
	if s.in.choice == nil {
		if c, _, err = then.choice(); err != nil {
			return nil, err
		}
	}
	whole = then.draft(c)
	from.tank = whole.inTankAt(from.At)
	s.stands, s.in.Options.From, s.in.Options.HasFrom = from, from.At, true
	if err := s.tankKnown(); err != nil {
		return nil, err
	}
	return whole, s.measure(whole)
}

// inTankAt gives what is in the tank at a place on the way: on arriving at a pump there,
// else of the fill before, with nothing poured; nothing at the start.
func (d *draft) inTankAt(at route.Metres) octane.Mixture {
	if at <= d.nodes[0].at {
		return octane.Mixture{}
	}
	for k, n := range d.nodes[1:] {
		near := n.half == 0 && n.at-at <= atEnd && at-n.at <= atEnd
		if n.visit >= 0 && (near || n.at == at) {
			return d.arriving[k+1]
		}
		if n.at >= at {
			return d.leaving[k]
		}
	}
	return octane.Mixture{}
}

// stand finds where the rider stands.
func (s *survey) stand() (*standpoint, error) {
	o := s.in.Options
	from := &standpoint{Here: Here{At: o.From, Factor: 1, Before: o.Thirst, Thirst: o.Thirst}}
	if o.FromStop != "" {
		g, err := s.standsAt(o.FromStop)
		if err != nil {
			return nil, err
		}
		from.Stop, from.At, from.atStop = s.in.Stops[g.stop].Name, g.At, true
		from.half, from.point = detour(g.Off)/2, s.in.Stops[g.stop].At
	}
	u, length := o.Units, s.in.Line.Length()
	if !(from.At >= 0 && from.At < length) {
		return nil, &route.InputError{
			What: fmt.Sprintf("%s is not before the end of the line, at %.1f", kmOf(u, from.At), u.DistanceIn(length)),
			Hint: "kilometres are those of the whole loop, as its plan has them: --from 212, or --from 130mi",
		}
	}
	if !from.atStop {
		from.point = s.in.Line.At(from.At)
	}
	return from, nil
}

// kmOf names a place along the line.
func kmOf(u fuel.Units, at route.Metres) string {
	return fmt.Sprintf("%s %.1f", u.DistanceUnit(), u.DistanceIn(at))
}

// standsAt finds the one passing of the stop of a name.
func (s *survey) standsAt(name string) (sighting, error) {
	o := s.in.Options
	bad := func(hint, format string, args ...any) (sighting, error) {
		return sighting{}, &route.InputError{What: fmt.Sprintf(format, args...), Hint: hint}
	}
	if !s.in.hasStop(name) {
		names := make([]string, len(s.in.Stops))
		for i, st := range s.in.Stops {
			names[i] = st.Name
		}
		return bad(route.Nearest(name, names)+"--from takes the name of a stop as the list has it, or a kilometre",
			"no stop is called %q", name)
	}
	var on []sighting
	for _, g := range s.sightings {
		if strings.EqualFold(s.in.Stops[g.stop].Name, name) {
			on = append(on, g)
		}
	}
	if len(on) == 0 && o.Detours == DetoursAuto { // it may have been chosen
		on = s.besideOf(name)
	}
	switch len(on) {
	case 0:
		return bad("give the kilometre where you are: --from 212", "the loop does not pass %s within the corridor", name)
	case 1:
		return on[0], nil
	}
	u := s.in.Options.Units
	slices.SortStableFunc(on, func(a, b sighting) int { return cmp.Compare(a.At, b.At) })
	passed := make([]string, len(on))
	for i, g := range on {
		passed[i] = fuel.Down(u.DistanceIn(g.At)) // it is still ahead from there
	}
	return bad(fmt.Sprintf("say which it is: --from %s%s", passed[0], u.DistanceUnit()),
		"%s is passed more than once, at %s %s", s.in.Stops[on[0].stop].Name, u.DistanceUnit(), strings.Join(passed, ", "))
}

// besideOf gives the stop of a name that lies off the line, but not too far to be chosen.
func (s *survey) besideOf(name string) []sighting {
	for _, g := range s.beside {
		if g.Off <= cureReach && strings.EqualFold(s.in.Stops[g.stop].Name, name) {
			return []sighting{g}
		}
	}
	return nil
}

// tankKnown refuses to take the tank for full in the middle of a ride, where no
// pump has filled it.
func (s *survey) tankKnown() error {
	o := s.in.Options
	if o.HasStartFuel || o.SinceFill > 0 {
		return nil
	}
	c, _, err := s.choice()
	if err != nil || !s.trial(c).noFill(0) {
		return err
	}
	where := kmOf(o.Units, s.stands.At)
	if s.stands.Stop != "" {
		where = s.stands.Stop + ", " + where
	}
	return &route.InputError{
		What: fmt.Sprintf("no pump is counted at %s, and what is in the tank there is not said", where),
		Hint: "to plan with a full tank would flatter: give --start-fuel 6L, or --since-fill 80km",
	}
}

// noFill tells whether a leg begins on the way where no pump is counted.
func (d *draft) noFill(leg int) bool {
	return leg == 0 && d.plan.Here.OnTheWay() && d.nodes[0].visit < 0
}

// startNode gives where the first leg begins, before a place is found there.
func (d *draft) startNode() node {
	n := node{name: "start", visit: -1, number: -1}
	if d.stands != nil {
		n.at, n.half = d.stands.At, d.stands.half
	}
	return n
}

// startPoint gives where the first leg begins, on the ground.
func (d *draft) startPoint() orb.Point {
	if d.stands != nil {
		return d.stands.point
	}
	return d.in.Line.At(0)
}

// isStart tells whether a place is where the first leg begins: the stop the rider
// has named, or one by the line within 500 m.
func (d *draft) isStart(p place) bool {
	if d.stands != nil && d.stands.atStop {
		return d.isHere(d.plan.Visits[p.visit])
	}
	return d.isEnd(p, d.startNode().at)
}

// isHere tells whether a visit is that of the stop the rider has named.
func (d *draft) isHere(v Visit) bool {
	return d.stands != nil && d.stands.atStop && v.At == d.stands.At && v.Stop.Name == d.stands.Stop
}

// ahead gives those of the visits that the rider has not left behind. One just
// behind him by the line is where he stands, unless he has named another.
func (d *draft) ahead(all []Visit, which []int) []int {
	if d.stands == nil {
		return which
	}
	back := d.stands.At - atEnd
	return slices.DeleteFunc(slices.Clone(which), func(i int) bool {
		v := all[i]
		stands := v.Counted && !d.stands.atStop && v.Off <= onLine && v.At >= back
		return v.At < d.stands.At && !stands
	})
}
