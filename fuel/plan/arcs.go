package plan

import (
	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
)

// A chooser searches for the best stops. Its nodes are the start, the stops that may
// be chosen in order along the line, and the end; its arcs are the legs between two
// of them that may be part of a best ride.
type chooser struct {
	*survey
	draft *draft // for its rules; it has no plan
	ends  []sighting
	nodes []choice
	arcs  [][]*arc // from each node
	steps int      // how many pairs of legs follow each other
	calm  []bool   // from each node on no stop sells only what is below, and the bike has no can
	grid  float64  // octane: how wide the cells are in which mixtures are joined at first
}

// firstGrid joins nearly all mixtures: that is quick, often enough, and bounds what
// follows.
const firstGrid = 16

// A choice is a node of a chooser.
type choice struct {
	node
	sighting
	isStop bool           // may be chosen; not the start or the end
	grades []octane.Grade // what is sold, the least worth first; nil for none known
	sells  bool           // there is a pump: always but at a start or an end without one
	gone   cumul          // from the start of the line
}

// A cumul is what the line has taken up to a place.
type cumul struct {
	ridden      route.Metres
	ahead, back fuel.Figures
}

// An arc is a leg.
type arc struct {
	from, to int
	leg      Leg         // as judged without the bike's can
	lack     int64       // rank of the can that it would take to be OK
	rides    [2]*draft   // the leg as a draft of its own, without and with the can
	worth    worth       // of the leg without the can, as far as it is known by itself
	back     fuel.Litres // likely, ridden backwards
	lacks    [2]int64    // missing, without and with the can
}

func newChooser(s *survey) *chooser {
	c := &chooser{survey: s, grid: firstGrid}
	c.draft = &draft{survey: s, course: s.course, bike: s.in.Bike, plan: &Plan{Bike: s.in.Bike, Options: s.in.Options}}
	middle, ends := s.candidates()
	c.ends = ends
	c.nodes = append(c.nodes, choice{node: c.draft.startNode()})
	for _, g := range middle {
		c.nodes = append(c.nodes, c.choice(g))
	}
	c.nodes = append(c.nodes, choice{node: node{name: "end", visit: -1, number: -1, at: s.length}})
	for _, g := range ends {
		i := len(c.nodes) - 1
		if g.At-c.nodes[0].at < s.length-g.At {
			i = 0
		}
		n := c.choice(g)
		end := c.nodes[i].node
		end.visit, end.number = n.visit, n.number
		n.node, n.isStop = end, false
		c.nodes[i] = n
	}
	for i := range c.nodes {
		d := s.course.Between(0, c.nodes[i].at)
		c.nodes[i].gone = cumul{d.Ridden, d.Fuel, d.Back}
	}
	if c.layArcs(); c.steps <= mostSteps {
		c.findCalm()
		c.findLow()
	}
	return c
}

// choice gives the node of a stop. Its visit is its stop, for want of a plan.
func (c *chooser) choice(g sighting) choice {
	st := c.in.Stops[g.stop]
	return choice{
		node:     node{name: st.Name, visit: g.stop, number: c.villages()[g.stop], at: g.At, half: detour(g.Off) / 2},
		sighting: g, isStop: true, sells: true, grades: c.draft.lowestFirst(st.Grades),
	}
}

// layArcs finds the legs that may be part of a ride that misses the fewest litres.
func (c *chooser) layArcs() {
	last := len(c.nodes) - 1
	const never = int64(1) << 60
	to, from := make([]int64, last+1), make([]int64, last+1) // least missing from the start, and to the end
	for j := 1; j <= last; j++ {
		to[j] = never
		for i := range j {
			if c.apart(i, j) && to[i] < never {
				to[j] = min(to[j], to[i]+c.missing(i, j))
			}
		}
	}
	pairs := make([][]int, last+1)
	for i := last - 1; i >= 0; i-- {
		from[i] = never
		for j := i + 1; j <= last; j++ {
			if !c.apart(i, j) || from[j] == never {
				continue
			}
			m := c.missing(i, j)
			from[i] = min(from[i], from[j]+m)
			if to[i] < never && to[i]+m+from[j] <= to[last] {
				pairs[i] = append(pairs[i], j)
			}
		}
	}
	c.judgeArcs(pairs)
}

// judgeArcs makes the legs between pairs of nodes, unless they are too many.
func (c *chooser) judgeArcs(pairs [][]int) {
	for _, to := range pairs {
		for _, j := range to {
			c.steps += len(pairs[j])
		}
	}
	if c.steps > mostSteps {
		return
	}
	c.arcs = make([][]*arc, len(pairs))
	for i, to := range pairs {
		for _, j := range to {
			c.arcs[i] = append(c.arcs[i], c.arc(i, j))
		}
	}
}

// apart tells whether two nodes may follow each other: not two stops of one place.
func (c *chooser) apart(i, j int) bool {
	a, b := c.nodes[i], c.nodes[j]
	return !a.isStop || !b.isStop || !near(a.at, b.at)
}

// missing gives what a leg lacks to be ridden, the bike's can being full.
func (c *chooser) missing(i, j int) int64 {
	d := c.drink(i, j)
	start, can := c.start(i, d), c.in.Bike.Can
	if c.noFill(i) {
		can = 0
	}
	if d.Fuel.Likely <= start+can+hair {
		return 0
	}
	return inCans(max(d.Fuel.Likely+c.draft.kept(d), d.Fuel.High) - start)
}

// noFill tells whether a leg begins on the way where no pump is: the bike's can counts
// as empty there, and none is filled.
func (c *chooser) noFill(from int) bool {
	return from == 0 && c.stands != nil && c.stands.At > 0 && !c.nodes[0].sells
}

// drink gives what a leg takes.
func (c *chooser) drink(i, j int) fuel.Drink {
	a, b := c.nodes[i], c.nodes[j]
	d := fuel.Drink{Ridden: b.gone.ridden - a.gone.ridden, Fuel: b.gone.ahead.Minus(a.gone.ahead), Back: b.gone.back.Minus(a.gone.back)}
	for _, n := range []choice{a, b} {
		if n.half > 0 {
			f := c.course.Detour(n.at, n.half)
			d.Ridden += n.half
			d.Fuel, d.Back = d.Fuel.Plus(f), d.Back.Plus(f)
		}
	}
	return d
}

// start gives what is in the tank at the beginning of a leg.
func (c *chooser) start(i int, d fuel.Drink) fuel.Litres {
	if i > 0 || c.nodes[0].sells {
		return c.in.Bike.Usable()
	}
	return c.draft.startWith(d)
}

// arc judges a leg.
func (c *chooser) arc(i, j int) *arc {
	a := &arc{from: i, to: j}
	for can := range a.rides {
		d := &draft{survey: c.survey, course: c.course, bike: c.in.Bike, nodes: []node{c.nodes[i].node, c.nodes[j].node},
			plan: &Plan{Legs: make([]Leg, 1), Options: c.in.Options}}
		at := &d.plan.Legs[0]
		at.Drink = c.drink(i, j)
		at.Kept = d.kept(at.Drink)
		at.Start = c.start(i, at.Drink)
		if can == 1 {
			at.Can = c.in.Bike.Can
		}
		d.judge(0)
		a.rides[can] = d
		if at.Verdict == Short {
			a.lacks[can] = inCans(d.lack(0))
		}
		if can == 0 && !c.noFill(i) {
			a.lack = canRank(d.lack(0))
		}
	}
	a.leg = a.rides[0].plan.Legs[0]
	a.back = a.leg.Drink.Back.Likely
	if n := c.nodes[j]; n.isStop {
		a.worth.detour, a.worth.stops = milli(2*n.half), 1
	}
	return a
}

// findCalm finds from which nodes on the petrol needs no watching. Where every stop
// ahead sells what is within half an octane of the need, at its high end or more, and
// the tank is so, too, no leg ahead is below grade: a fill meets, or it is of the
// highest grade sold, and a mixture of two such is such.
func (c *chooser) findCalm() {
	need := c.in.Bike.Needs
	c.calm = make([]bool, len(c.nodes))
	calm := c.in.Bike.Can <= 0
	for i := len(c.nodes) - 1; i >= 0; i-- {
		if n := c.nodes[i]; n.sells && len(n.grades) > 0 {
			best := n.grades[len(n.grades)-1]
			calm = calm && octane.Mixture{}.AddGrade(1, best, need).Against(need) != octane.Below
		}
		c.calm[i] = calm
	}
}

// findLow finds the legs that are ridden below grade whatever was filled before: even
// with the best mixture that can be in the tank on arriving, and the highest grade
// sold. Mixing is linear: no other way there and no lower grade comes out above that.
// Of a bike with a can it is not said, for what is in the can may be better.
func (c *chooser) findLow() {
	if c.in.Bike.Can > 0 {
		return
	}
	need := c.in.Bike.Needs
	best := make([]float64, len(c.nodes)) // the highest high end on leaving each node
	arriving := make([][]octane.Mixture, len(c.nodes))
	for i := range c.nodes {
		for _, m := range arriving[i] {
			best[i] = max(best[i], c.filledBest(i, m).High())
		}
		for k, a := range c.arcs[i] {
			left := float64(max(0, a.leg.Start-a.leg.Drink.Fuel.Likely) + c.in.Bike.Unusable)
			if i == 0 {
				start := c.startTank(max(drop, a.leg.Start+c.in.Bike.Unusable))
				if c.nodes[0].sells {
					start = c.filledBest(0, c.startTank(max(drop, c.draft.startWith(a.leg.Drink)+c.in.Bike.Unusable)))
				}
				best[0] = start.High()
			}
			m, _ := octane.Mixture{}.Add(1, octane.Interval{Scale: need.Scale, Low: best[i], High: best[i]}) // into an empty tank: no error
			if m.Against(need) == octane.Below {
				c.arcs[i][k].worth.below = micro(a.leg.Drink.Fuel.Likely)
			}
			m, _ = octane.Mixture{}.Add(left, octane.Interval{Scale: need.Scale, Low: best[i], High: best[i]})
			arriving[a.to] = append(arriving[a.to], m)
		}
	}
}

// filledBest fills at a node with the highest grade sold.
func (c *chooser) filledBest(i int, m octane.Mixture) octane.Mixture {
	n, litres := c.nodes[i], float64(c.in.Bike.Tank)-m.Volume()
	switch {
	case !n.sells || litres <= 0:
		return m
	case len(n.grades) == 0:
		return m.AddUnknown(litres, c.in.Bike.Needs)
	}
	best := m
	for _, g := range n.grades {
		if with := m.AddGrade(litres, g, c.in.Bike.Needs); with.High() > best.High() || best.Volume() == m.Volume() {
			best = with
		}
	}
	return best
}
