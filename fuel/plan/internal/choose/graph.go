package choose

import (
	"math"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// A graph has the start, the stops that may be chosen in order along the line, and the
// end as its nodes; its arcs are the legs between two of them that may be part of a best
// ride.
type graph struct {
	*guards
	ends    []trip.Sighting
	nodes   []node
	arcs    [][]*arc     // from each node
	base    weight       // of the stops at the ends
	inTank  octane.Grade // at the start
	tell    func(done, of int)
	thinned bool // not all that may be chosen are nodes
	work    Work
}

// A node is the start, the end or a stop that may be chosen.
type node struct {
	trip.Node
	sighting trip.Sighting
	isStop   bool           // may be chosen; not the start or the end
	grades   []octane.Grade // what is sold, the least worth first; nil for none known
	meeting  int            // the first of them that meets the need by itself; all of them for none
	sells    bool           // there is a pump: always but at a start or an end without one
	good     bool           // a can is filled there for a leg farther on
	gone     gone           // from the start of the line
	out      fuel.Amount    // half the detour, ridden from the line
	home     fuel.Amount    // and ridden to it
	adds     weight         // a fill there

	ahead, behind fuel.Amount   // if it is dry, to the counted places that are passed; infinite where there is none
	on            []fuel.Amount // if it is dry, what it may take to ride on, by how the ride goes on
	off           fuel.Amount   // if it is dry, by road to one that may be leaned on; meaningless unless hasOff
	hasOff        bool
}

// A gone is what the line has taken up to a place.
type gone struct {
	ridden      fuel.Distances
	ahead, back fuel.Amount
}

// An arc is a leg between two nodes. What it sets out with in the can is known before it
// is known where that was filled: on a leg that asks for no more than the can holds it is
// enough, on one that asks for more the can is full.
type arc struct {
	from, to     int
	fuel         fuel.Figures
	amount, back fuel.Amount
	start, kept  fuel.Litres
	plan         fuel.Litres // what it asks of a can to be OK
	adds         weight      // by itself: all but what follows
	dry          weight      // the least that its end adds if it is dry
	stances      []stance    // how that may turn out, by how the ride goes on
	pouring      pouring     // the last that was asked for
	chained      bool        // between two stops of one place, so that the way back begins before it
}

// A stance is what comes of a leg by how the ride goes on behind it.
type stance struct {
	stranded, bare bool
	asks           fuel.Litres // of the can where it is filled for this leg alone; 0 where it asks for none
}

func (s stance) weight() (w weight) {
	switch {
	case s.stranded:
		w[stranded] = 1
	case s.bare:
		w[bare] = 1
	}
	return w
}

func newGraph(t *trip.Trip, middle, ends []trip.Sighting, work Work) *graph {
	g := &graph{guards: newGuards(t, middle), ends: ends, inTank: t.StartGrade(), work: work}
	g.nodes = append(g.nodes, node{Node: t.StartNode()})
	for _, s := range g.thin(middle) {
		g.nodes = append(g.nodes, g.stopNode(s))
	}
	g.nodes = append(g.nodes, node{Node: t.FinishNode()})
	g.putEnds()
	for i := range g.nodes {
		n := &g.nodes[i]
		n.gone.ridden = t.Course.RiddenTo(n.On.At)
		n.gone.ahead, n.gone.back = t.Course.Amounts(0, n.On.At)
		n.out, n.home = n.On.Out(t.Course), n.On.Home(t.Course)
		n.meeting = slices.IndexFunc(n.grades, func(s octane.Grade) bool { return s.Against(t.Bike.Needs) == octane.Meets })
		if n.meeting < 0 {
			n.meeting = len(n.grades)
		}
		n.good = n.meeting < len(n.grades)
	}
	if first := &g.nodes[0]; !first.sells && g.fillsCan(0) {
		first.good = leg.SellsMeeting([]octane.Grade{g.inTank}, t.Bike.Needs)
	}
	g.findPassed()
	return g
}

// putEnds puts the stops at the ends into the nodes there.
func (g *graph) putEnds() {
	for _, s := range g.ends {
		i := len(g.nodes) - 1
		if s.At-g.trip.StartAt() < g.trip.Length-s.At {
			i = 0
		}
		n := g.stopNode(s)
		end := g.nodes[i].Node
		end.Stop, end.Place = n.Stop, n.Place
		n.Node, n.isStop = end, false
		g.nodes[i] = n
		g.base = g.base.plus(n.adds)
	}
}

// findPassed finds what it takes from each stop, if it is dry, to the nearest of the counted
// places that any ride passes, ahead and behind: that does not depend on what is chosen.
func (g *graph) findPassed() {
	none := fuel.Litres(math.Inf(1))
	for i := range g.nodes {
		n := &g.nodes[i]
		n.ahead = fuel.Amount{Likely: none, Short: none, Long: none, Floor: none}
		n.behind = n.ahead
		if !n.isStop {
			continue
		}
		other := func(p trip.Node) bool { return g.trip.PlaceNumbers()[p.Stop] != n.Place }
		if _, f, ok := g.trip.PassedAhead(g.trip.Course, n.On, other); ok {
			n.ahead = f
		}
		if _, f, ok := g.trip.PassedBehind(g.trip.Course, n.On, other); ok {
			n.behind = f
		}
		var out trip.Off
		out, n.hasOff = g.trip.WayOut(g.trip.Course, n.Node, g.trip.PlaceNumbers(), func(int) bool { return false })
		n.off = out.Fuel
	}
}

// stopNode gives the node of a stop.
func (g *graph) stopNode(s trip.Sighting) node {
	st := g.trip.Stops[s.Stop]
	n := node{
		Node:     trip.Node{End: trip.End{Stop: s.Stop}, On: g.trip.EndAt(s), Place: g.trip.PlaceNumbers()[s.Stop]},
		sighting: s, isStop: true, sells: true, grades: leg.LowestFirst(st.Grades, g.trip.Bike.Needs),
	}
	n.adds[fills], n.adds[detour] = 1, trip.Milli(s.Detour())
	if !st.Sure(g.trip.Options.Today) {
		n.adds[unsure] = 1
	}
	if g.trip.Hour(s).MayBeShut() {
		n.adds[shut] = 1
	}
	return n
}

// layArcs lays the legs that may be part of a ride that breaks the fewest guards and, of
// those, is short of the fewest litres.
func (g *graph) layArcs() {
	last := len(g.nodes) - 1
	to, from := make([]weight, last+1), make([]weight, last+1) // the least from the start, and to the end
	first := func(w weight) weight { return weight{w[broken], w[short]} }
	weighs := make([][]weight, last+1) // of each leg, by its end and its beginning
	for j := 1; j <= last; j++ {
		to[j], weighs[j] = worst, make([]weight, j)
		for i := range j {
			weighs[j][i] = worst
			if to[i] != worst && !together(g.nodes[i].Node, g.nodes[j].Node) {
				weighs[j][i] = first(g.arc(i, j).adds)
				to[j] = lesser(to[j], to[i].plus(weighs[j][i]))
			}
		}
	}
	g.arcs = make([][]*arc, last+1)
	for i := last - 1; i >= 0; i-- {
		from[i] = worst
		for j := i + 1; j <= last; j++ {
			if from[j] == worst || weighs[j][i] == worst {
				continue
			}
			w := weighs[j][i].plus(from[j])
			from[i] = lesser(from[i], w)
			if to[i].plus(w).compare(to[last]) <= 0 {
				a := g.arc(i, j)
				g.arcs[i] = append(g.arcs[i], &a)
			}
		}
	}
}

func lesser(a, b weight) weight {
	if b.compare(a) < 0 {
		return b
	}
	return a
}

// arc judges a leg.
func (g *graph) arc(i, j int) arc {
	from, to := &g.nodes[i], &g.nodes[j]
	d := g.drink(from, to)
	a := arc{from: i, to: j, fuel: d.Fuel, amount: d.Amount, back: d.Back, start: g.trip.Bike.Usable(), adds: to.adds,
		kept: g.trip.Options.Reserve.Kept(d, g.trip.Bike.Usable())}
	if !to.isStop {
		a.adds = weight{}
	}
	if !from.sells {
		a.start = g.trip.StartFuel(d, trip.Change{})
	}
	a.chained = i > 0 && to.isStop && from.Place == to.Place
	l := a.leg().Judged()
	if l.Verdict != leg.OK {
		a.plan = l.Lack()
		l = l.WithCan(g.can(i))
	}
	a.adds[short] = trip.Micro(l.Short)
	if l.Verdict == leg.Tight {
		a.adds[tight] = 1
	}
	a.adds[broken] = g.broken(from.Node, to.Node, a.plan > 0 && l.Can > 0)
	return a
}

// leg gives the leg of an arc, without a can.
func (a *arc) leg() leg.Leg {
	return leg.Leg{Drink: fuel.Drink{Fuel: a.fuel, Amount: a.amount, Back: a.back}, Start: a.start, Kept: a.kept}
}

// can gives what is in the can at the most on a leg from a node.
func (g *graph) can(from int) fuel.Litres {
	if !g.fillsCan(from) {
		return min(g.trip.Bike.Can, g.trip.Options.CanNow)
	}
	return g.trip.Bike.Can
}

// noFill tells whether a leg begins on the way where no pump is: nothing is filled there.
func (g *graph) noFill(from int) bool {
	return from == 0 && g.trip.StartAt() > 0 && !g.nodes[0].sells
}

// fillsCan tells whether a can may be filled at a node: at a stop, or at a start without a pump,
// where nothing is said of what is in it.
func (g *graph) fillsCan(i int) bool {
	return i > 0 || g.nodes[0].sells || !g.noFill(0) && !g.trip.Options.SaysCan()
}

// drink gives what a leg takes.
func (g *graph) drink(a, b *node) fuel.Drink {
	d := fuel.Drink{RiddenAll: b.gone.ridden.Minus(a.gone.ridden), Amount: b.gone.ahead.Minus(a.gone.ahead),
		Back: b.gone.back.Minus(a.gone.back)}
	add := func(n *node, ahead, back *fuel.Amount) {
		if n.On.Half > 0 {
			d.RiddenAll = d.RiddenAll.Plus(n.On.Half)
			d.Amount, d.Back = d.Amount.Plus(*ahead), d.Back.Plus(*back)
		}
	}
	add(a, &a.home, &a.out)
	add(b, &b.out, &b.home)
	d.Fuel = d.Amount.Figures()
	d.Ridden = d.RiddenAll.Likely
	return d
}

// prune leaves out the legs of no ride as good as one that is known, mixtures left out.
func (g *graph) prune(known weight) {
	to, from := g.least()
	for i, all := range g.arcs {
		g.arcs[i] = slices.DeleteFunc(all, func(a *arc) bool {
			return to[i].plus(a.adds).plus(a.dry).plus(from[a.to].weight).compare(known) > 0
		})
	}
}

// A rest is the least from a node to the end, mixtures left out, and where it goes on.
type rest struct {
	weight
	next int
}

// least gives the least weight from the start to each node, and from each to the end,
// mixtures left out.
func (g *graph) least() (to []weight, from []rest) {
	last := len(g.nodes) - 1
	to, from = make([]weight, last+1), make([]rest, last+1)
	for i := range to {
		to[i], from[i].weight = worst, worst
	}
	to[0], from[last].weight = g.base, weight{}
	for i := range last {
		for _, a := range g.arcs[i] {
			to[a.to] = lesser(to[a.to], to[i].plus(a.adds).plus(a.dry))
		}
	}
	for i := last - 1; i >= 0; i-- {
		for _, a := range g.arcs[i] {
			if w := a.adds.plus(a.dry).plus(from[a.to].weight); w.compare(from[i].weight) < 0 {
				from[i] = rest{w, a.to}
			}
		}
	}
	return to, from
}

// taken gives the sightings of nodes, with those at the ends, in order.
func (g *graph) taken(path []int) []trip.Sighting {
	out := append([]trip.Sighting{}, g.ends...)
	for _, n := range path {
		out = append(out, g.nodes[n].sighting)
	}
	trip.InOrder(out)
	return out
}

// weigh plans a ride that fills at some sightings.
func (g *graph) weigh(taken []trip.Sighting) weight {
	d := g.trip.Trial(trip.Change{Chosen: taken})
	return weightOf(d.Worth(), g.of(d))
}
