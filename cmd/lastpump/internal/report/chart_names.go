package report

import (
	"cmp"
	"slices"

	"lastpump/fuel/plan"
	"lastpump/route"
)

// A stopName is the name of a stop over the chart.
type stopName struct {
	name, note string
	class      string
	x, at      float64 // of the stop, and where the name stands
	rank       int     // the less the sooner it finds room
	leg        int     // that ends there, from 1; 0 for none
}

// gather chooses the stops that are named over the chart and makes as much room for
// them as the longest asks for.
func (c *charter) gather() {
	apart := c.letter + 3
	names := c.namesOf()
	if room := int((c.wide-c.Left-c.Right)/apart) + 1; len(names) > room {
		slices.SortStableFunc(names, func(a, b stopName) int { return cmp.Compare(a.rank, b.rank) })
		c.Unnamed = len(names) - room
		names = names[:room]
	}
	slices.SortStableFunc(names, func(a, b stopName) int { return cmp.Compare(a.x, b.x) })
	spreadOut(names, c.Left, c.wide-c.Right, apart)
	long := 0.0
	for _, n := range names {
		long = max(long, textWidth(n.name, c.letter, true)+textWidth("  "+n.note, c.letter, false))
	}
	c.names = min(c.names, long+12)
	c.stops = names
}

// stopNames writes the names of the stops over the chart, upwards, as far apart as they
// can be read.
func (c *charter) stopNames() {
	foot := c.names - 4
	for _, n := range c.stops {
		c.path("leader", open(dot{n.at, foot + 3}, dot{n.at, foot + 6}, dot{n.x, c.top - 4}, dot{n.x, c.top}))
		name := clipped(n.name, c.letter, foot-4-textWidth("  "+n.note, c.letter, false), true)
		c.add(shape{Kind: "text", Class: "stop " + n.class, Turned: true, Anchor: "start", Leg: n.leg,
			X: num(n.at + c.letter*0.33), Y: num(foot), Text: name, Note: n.note})
	}
}

// spreadOut moves names apart, each as little as may be, within bounds.
func spreadOut(names []stopName, from, to, apart float64) {
	at := from - apart
	for i := range names {
		at = max(names[i].x, at+apart)
		names[i].at = at
	}
	at = to + apart
	for i := len(names) - 1; i >= 0; i-- {
		at = min(names[i].at, at-apart)
		names[i].at = at
	}
}

// namesOf gives the stops of the ride with what is done there.
func (c *charter) namesOf() []stopName {
	var out []stopName
	first, last := c.p.Legs[0], len(c.p.Legs)-1
	start, _ := c.p.Ends(0)
	_, end := c.p.Ends(last)
	out = append(out, stopName{name: start, note: c.u.Held(first.Start), x: c.x(0)})
	for i, l := range c.p.Legs {
		n := stopName{name: end, note: "end", x: c.x(c.from[i] + l.Drink.Ridden), leg: i + 1}
		if l.ToVisit >= 0 {
			n = c.fillName(c.p.Visits[l.ToVisit], n)
		}
		switch {
		case i == last:
		case l.Verdict != plan.OK || n.class == "last":
			n.rank = 1
		default:
			n.rank = 2
		}
		out = append(out, n)
	}
	for _, v := range c.p.Visits {
		if !v.Counted && v.At >= first.FromAt {
			out = append(out, stopName{name: v.Stop.Name, note: v.WhyNot, x: c.x(c.riddenTo(v.At)), class: "uncounted", rank: 3})
		}
	}
	return out
}

// fillName gives a stop with what to take there.
func (c *charter) fillName(v plan.Visit, n stopName) stopName {
	n.name = v.Stop.Name
	grade := "grade not known"
	if v.Fill.HasGrade {
		grade = v.Fill.Grade.String()
	}
	n.note = c.u.Needed(v.Fill.Litres) + " " + grade
	if v.LastFuel {
		n.class = "last"
	}
	return n
}

// kilometre gives a place along the line.
func (t *texter) kilometre(at route.Metres) string {
	return t.u.DistanceUnit() + " " + t.reach(at)
}
