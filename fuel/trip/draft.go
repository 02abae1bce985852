package trip

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/octane"
	"lastpump/route"
)

// A Change is what is tried on a trip. The zero value changes nothing.
type Change struct {
	Extra     []Sighting  // stops off the corridor that are visited all the same
	Believe   int         // the hearsay stop that is counted, plus one; 0 for none
	Can       fuel.Litres // to carry; 0 for the bike's own
	FullStart bool        // set out full
	PassBy    []int       // stops that are not filled at
	Past      []Sighting  // passings at which a stop is not filled at
	Thirst    float64     // times as thirsty; 0 for as it is
	Chosen    []Sighting  // where to fill, off the line too, and nowhere else; nil for wherever the line passes
}

// On gives the change of a ride whose stops are chosen already.
func (c Change) On(base Change) Change {
	c.Chosen = base.Chosen
	return c
}

// Moved gives the change with its chosen stops elsewhere along the line.
func (c Change) Moved(to func(route.Metres) route.Metres) Change {
	c.Chosen = moved(c.Chosen, to)
	return c
}

// A Draft is a ride in the making: the ride itself, and what only deciding asks for.
type Draft struct {
	Ride
	Trip      *Trip
	Change    Change
	Nodes     []Node           // the ends of the legs: one more than legs
	Ways      []leg.Way        // the ground of each leg
	Arriving  []octane.Mixture // in the tank on arriving at each node
	Leaving   []octane.Mixture // and on leaving it
	Pours     [][]leg.Pour     // of the can of each leg
	Asked     []Asked          // of a can, by each leg
	FilledAt  []int            // by each leg that asks for a can, the node where it is filled
	CanFilled []fuel.Litres    // into the can, at the node where each leg begins

	course  *fuel.Course // as thirsty as the change has it
	numbers []int        // of each stop, the number of its place
}

// Trial makes as much of a ride as its verdicts ask for: of its visits those that are
// counted.
func (t *Trip) Trial(c Change) *Draft { return t.draft(c, false) }

// draft makes a ride, with the visits that are shown and not counted if they are wanted.
func (t *Trip) draft(c Change, shown bool) *Draft {
	d := &Draft{Trip: t, Change: c, Ride: Ride{Bike: t.Bike}}
	if c.Can > 0 {
		d.Bike.Can = c.Can
	}
	d.lay(shown)
	d.fuel()
	d.fills()
	d.dry()
	return d
}

// Draft makes a ride with all that a plan shows of it.
func (t *Trip) Draft(c Change) *Draft {
	d := t.draft(c, true)
	d.meter()
	d.nameAlso()
	d.Start.Nearest, d.Start.Away = t.nearest(c)
	return d
}

// lay finds the visits, and lays the legs from the start over each place to the finish.
func (d *Draft) lay(shown bool) {
	t, c := d.Trip, d.Change
	g := t.gather(t.passes(c), shown)
	if c.Chosen != nil { // stops that are passed by are dry with their neighbours all the same
		d.numbers = t.PlaceNumbers()
	} else {
		d.numbers = t.placeNumbers(g.groups)
	}
	d.Visits, d.Nodes = g.visits, t.nodes(g, d.numbers)
	d.course = t.Course
	if c.Thirst > 0 {
		d.course = d.course.Thirstier(c.Thirst)
	}
	d.Ways, d.Legs = slices.Grow(d.Ways, len(d.Nodes)-1), slices.Grow(d.Legs, len(d.Nodes)-1)
	for i := 1; i < len(d.Nodes); i++ {
		a, b := d.Nodes[i-1], d.Nodes[i]
		d.Ways = append(d.Ways, leg.NewWay(d.course, a.On, b.On))
		d.Legs = append(d.Legs, Leg{From: a.End, To: b.End, FromVisit: a.Visit, ToVisit: b.Visit, FromAt: a.On.At,
			ToAt: b.On.At})
	}
}

// fuel says of each leg what it takes, what is in tank and can and whether that holds.
func (d *Draft) fuel() {
	usable := d.Bike.Usable()
	d.Start.OnTheWay = d.Trip.onTheWay()
	d.Start.Grade, d.Start.Assumed = d.Trip.StartGrade(), d.Trip.Options.StartGrade.Scale == ""
	d.Start.Fuel = d.Trip.StartFuel(d.Ways[0].Drink, d.Change)
	for i, w := range d.Ways {
		l := leg.Leg{Drink: w.Drink, Detour: w.Detour, Start: usable, Kept: d.Trip.Options.Reserve.Kept(w.Drink, usable)}
		if i == 0 && !d.Nodes[0].HasStop() {
			l.Start = d.Start.Fuel
		}
		d.Legs[i].Leg = l.Judged()
	}
	d.carry()
}

// StartFuel gives the litres in the tank on arriving at the start, for what the first leg
// takes.
func (t *Trip) StartFuel(first fuel.Drink, c Change) fuel.Litres {
	full := t.Bike.Usable()
	switch o := t.Options; {
	case c.FullStart && !t.onTheWay():
	case o.HasStartFuel:
		return o.StartFuel
	case o.SinceFill > 0:
		return max(0, full-first.Rate().Over(o.SinceFill))
	}
	return full
}

// meter gives each leg its figures on the trip meter: up to where the reserve is whole,
// where the tank is dry, and by where to turn back.
func (d *Draft) meter() {
	shown := d.Bike.Shown
	for i := range d.Legs {
		l, w, ways := &d.Legs[i], d.Ways[i], d.metered(i)
		l.SafeTo = shown(w.Until(l.With()-l.Kept, fuel.Likely))
		l.DryAt = shown(w.Until(l.With(), fuel.Likely))
		l.DryAtHigh = shown(soonest(ways, func(w leg.Way) route.Metres { return w.Until(l.With(), fuel.High) }))
		if d.NoFill(i) { // there is no fuel to turn back to
			l.TurnBackAt, l.TurnBackByAt = d.Trip.Line.At(l.FromAt), l.FromAt
			l.TurnBackByPoint = l.TurnBackAt
			continue
		}
		likely, _ := w.TurnBack(l.Leg)
		high := d.turnHigh(i, ways)
		l.TurnBack, l.TurnBackAt = shown(likely.Ridden), d.Trip.Line.At(likely.At)
		l.TurnBackHigh = shown(high.Ridden)
		l.TurnBackBy, l.TurnBackByAt = l.TurnBack, likely.At
		if high.Ridden < likely.Ridden {
			l.TurnBackBy, l.TurnBackByAt = l.TurnBackHigh, min(likely.At, high.At)
		}
		l.TurnBackByPoint = d.Trip.Line.At(l.TurnBackByAt)
	}
	for i := range d.Legs {
		d.Legs[i].WayOut = d.lastWayOut(i)
	}
}

// nearest says which counted stop lies nearest to the start, straight.
func (t *Trip) nearest(c Change) (name string, away route.Metres) {
	start := t.startPoint()
	for i, st := range t.Stops {
		if t.Unfit(i, c) != "" {
			continue
		}
		if d := route.Distance(start, st.At); name == "" || d < away {
			name, away = st.Name, d
		}
	}
	return name, away
}
