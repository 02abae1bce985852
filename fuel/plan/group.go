package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
)

// A Group is several bikes that ride a loop together. Everybody fills at every
// fill, so all have the same legs; on the way one may lend another fuel.
type Group struct {
	Bikes  []*Plan // each planned alone, in the order given; none has a Group of its own
	Legs   []GroupLeg
	Can    GroupCan
	Answer string // does it hold for all, who sets the worst leg, what lending does
}

// A GroupLeg is a leg as the group rides it.
type GroupLeg struct {
	From, To string // as in [Leg]
	ToAt     route.Metres
	SetBy    int     // the bike that sets the leg, into Group.Bikes: the worst verdict, then the least headroom
	Verdict  Verdict // of that bike, before anybody lends
	NotOK    int     // how many bikes are not OK on it
	Loans    []Loan
	Lent     Verdict       // the worst of all bikes, after the loans
	Lacking  []fuel.Litres // of each bike to be OK, after the loans
	Lack     fuel.Litres   // all of that together
}

// A GroupCan is how much spare fuel the group has to carry between all, as if
// nobody had a can.
type GroupCan struct {
	Litres         fuel.Litres // so that every leg is OK for everybody, if those who can spare some lend it
	WithoutLending fuel.Litres // the same if nobody lends
	ForAnyDryPump  fuel.Litres // so that no dry pump strands anybody; at least Litres
	Size           CanSize
	SizeWithout    CanSize
	SizeForDry     CanSize
}

// Holds tells whether nothing fails for any bike, as it is planned alone.
func (g *Group) Holds() bool {
	return !slices.ContainsFunc(g.Bikes, func(p *Plan) bool { return !p.Holds() })
}

// MakeGroup plans a ride for several bikes that fill at the same stops: it gives
// the plan of the first, and with it the [Group]. The fuel and the grade at the
// start are those of the first bike; the others set out full, of what they need.
// For one bike the plan is that of [Make] and has no group; for none it is that
// of the bike in the inputs. The error is a [*route.InputError] without a file.
func MakeGroup(in Inputs, bikes []fuel.Bike) (*Plan, error) {
	if len(bikes) > 0 {
		in.Bike = bikes[0]
	}
	if len(bikes) < 2 {
		return Make(in)
	}
	if err := in.Options.checkGroup(); err != nil {
		return nil, err
	}
	g := &Group{}
	bikes = toldApart(bikes)
	if err := in.chooseFor(bikes); err != nil {
		return nil, err
	}
	for i := range bikes {
		p, err := Make(in.forBike(i, bikes))
		if err != nil {
			return nil, ofBike(err, bikes[i].Name)
		}
		if p.Here.OnTheWay() && p.Legs[0].FromVisit < 0 {
			return nil, onlyAtAStop
		}
		g.Bikes = append(g.Bikes, p)
	}
	g.legs()
	g.can()
	g.Answer = g.answer()
	g.cures()
	for _, p := range g.Bikes {
		p.Assumptions = append(p.Assumptions, g.assumptions()...)
	}
	first := *g.Bikes[0]
	first.Group = g
	first.Warnings = slices.Clone(first.Warnings) // notes are added to them
	return &first, nil
}

// checkGroup refuses what is said of one bike where there are several.
func (o Options) checkGroup() error {
	switch {
	case o.Used != nil:
		return &route.InputError{What: "--used is of one bike, and there are several", Hint: "measure one bike at a time: give one --bike"}
	case o.fromHere() && o.FromStop == "" && o.From > 0:
		return onlyAtAStop
	}
	return nil
}

// onlyAtAStop refuses to plan the rest for several bikes from where nobody fills.
var onlyAtAStop = &route.InputError{What: "what is in the tank where no pump is counted is of one bike, and there are several",
	Hint: "give --from the name of a stop where everybody fills, or one --bike"}

// chooseFor has the stops chosen once for all bikes, for the one that comes the least
// far on paved road.
func (in *Inputs) chooseFor(bikes []fuel.Bike) error {
	if in.Options.Detours != DetoursAuto {
		return nil
	}
	reach := func(b fuel.Bike) route.Metres { return b.Rate().Reach(b.Usable()) / route.Metres(b.EthanolFactor()) }
	i := 0
	for k, b := range bikes {
		if reach(b) < reach(bikes[i]) {
			i = k
		}
	}
	of := in.forBike(i, bikes)
	if err := of.check(); err != nil {
		return ofBike(err, bikes[i].Name)
	}
	s := newSurvey(of)
	whole, err := s.fromHere()
	if err != nil {
		return ofBike(err, bikes[i].Name)
	}
	if whole != nil {
		in.chosenWhole = whole.change.chosen
	}
	taken, choice, err := s.choose()
	if err != nil {
		return err
	}
	in.chosen = taken
	choice.Bike = bikes[i].Name
	in.choice = choice
	return nil
}

// toldApart names the bikes that have no name by their number, and those that
// have the name of one before them by another number.
func toldApart(bikes []fuel.Bike) []fuel.Bike {
	out := slices.Clone(bikes)
	taken := map[string]bool{}
	for i := range out {
		own := strings.TrimSpace(out[i].Name)
		if own == "" {
			own = fmt.Sprintf("bike %d", i+1)
		}
		name := own
		for n := 2; taken[name]; n++ {
			name = fmt.Sprintf("%s (%d)", own, n)
		}
		taken[name] = true
		out[i].Name = name
	}
	return out
}

// forBike gives what the plan of one bike of a group is made from.
func (in Inputs) forBike(i int, bikes []fuel.Bike) Inputs {
	in.Bike, in.alongside = bikes[i], nil
	for k, b := range bikes {
		if k != i {
			in.alongside = append(in.alongside, b.Needs)
		}
	}
	if o := &in.Options; i > 0 {
		o.HasStartFuel, o.StartFuel, o.SinceFill, o.StartGrade = false, 0, 0, octane.Grade{}
	}
	return in
}

// ofBike says in an error which bike it is about.
func ofBike(err error, name string) error {
	var ie *route.InputError
	if !errors.As(err, &ie) {
		return err
	}
	named := *ie
	named.What = name + ": " + ie.What
	return &named
}

// legs says of each leg who sets it and who lends whom.
func (g *Group) legs() {
	for i, l := range g.Bikes[0].Legs {
		leg := GroupLeg{From: l.From, To: l.To, ToAt: l.ToAt, SetBy: g.setter(i)}
		leg.Verdict = g.Bikes[leg.SetBy].Legs[i].Verdict
		for _, p := range g.Bikes {
			if p.Legs[i].Verdict != OK {
				leg.NotOK++
			}
		}
		leg.Loans, leg.Lacking = g.lend(i, g.lacks(i))
		for _, l := range leg.Lacking {
			leg.Lack += l
		}
		leg.Lent = g.afterLoans(i, leg.Loans)
		g.Legs = append(g.Legs, leg)
	}
}

// setter gives the bike for which a leg is worst: by its verdict, then by its
// headroom, then the first.
func (g *Group) setter(i int) int {
	worst := 0
	for b := range g.Bikes {
		if g.Bikes[b].Legs[i].worse(g.Bikes[worst].Legs[i]) {
			worst = b
		}
	}
	return worst
}

// worse tells whether a leg is worse than another: by its verdict, then by its
// headroom.
func (l Leg) worse(than Leg) bool {
	if a, b := l.Verdict.rank(), than.Verdict.rank(); a != b {
		return a > b
	}
	return l.HasHeadroom && (!than.HasHeadroom || l.Headroom < than.Headroom)
}

// can says how much spare fuel the group has to carry. If a pump is dry, each
// bike is counted to the stop that it lacks less to.
func (g *Group) can() {
	c := &g.Can
	for i := range g.Legs {
		var lack, spare, dry fuel.Litres
		for _, p := range g.Bikes {
			over := p.Legs[i].over(p.Legs[i].Start)
			lack += max(0, -over)
			spare += max(0, over)
			dry += p.dryLack(i)
		}
		if left := lack - spare; left > hair {
			c.Litres = max(c.Litres, left)
		}
		c.WithoutLending = max(c.WithoutLending, lack)
		c.ForAnyDryPump = max(c.ForAnyDryPump, dry)
	}
	c.ForAnyDryPump = max(c.ForAnyDryPump, c.Litres)
	c.Size, c.SizeWithout, c.SizeForDry = canSize(c.Litres), canSize(c.WithoutLending), canSize(c.ForAnyDryPump)
}

// dryLack gives the litres that a leg without a can lacks so that a dry pump at
// its end does not strand.
func (p *Plan) dryLack(i int) fuel.Litres {
	for _, u := range p.Can.Uses {
		if u.Leg == i {
			return u.IfDry
		}
	}
	return 0
}

// assumptions are those that a group adds.
func (g *Group) assumptions() []Assumption {
	return []Assumption{
		{Name: "Group", Mark: Given, Value: fmt.Sprintf("%d bikes; everybody fills at every fill; what is in the tank at the start is said for %s, the others set out full of what they need",
			len(g.Bikes), g.name(0))},
		{Name: "Lending", Mark: OurOwn, Value: "only what leaves the lender its reserve, and fuel to arrive at its high figure"},
	}
}

func (g *Group) name(bike int) string { return g.Bikes[bike].Bike.Name }
