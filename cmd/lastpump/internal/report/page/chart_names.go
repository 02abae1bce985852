package page

import (
	"cmp"
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
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
func (c *chartDraft) gather() {
	apart := c.letterApart()
	names := c.namesOf()
	if room := c.roomForNames(); len(names) > room {
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
func (c *chartDraft) stopNames() {
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
func (c *chartDraft) namesOf() []stopName {
	var out []stopName
	first, last := c.p.Legs[c.first], len(c.p.Legs)-1
	start, _ := c.say.Ends(c.first)
	_, end := c.say.Ends(last)
	out = append(out, stopName{name: start, note: c.u.Held(first.Start), x: c.x(c.from)})
	for i, l := range c.legs() {
		n := stopName{name: end, note: "end", x: c.x(c.trace.Begins[i] + l.Drink.Ridden), leg: i + 1}
		if l.ToVisit >= 0 {
			n = c.fillName(c.p.Visits[l.ToVisit], n)
		}
		switch {
		case i == last:
		case l.Verdict != leg.OK || n.class == "last":
			n.rank = 1
		default:
			n.rank = 2
		}
		out = append(out, n)
	}
	for i, v := range c.p.Visits {
		if c.passes(i) {
			x := c.x(c.trace.RiddenTo(v.At))
			out = append(out, stopName{name: v.Stop.Name, note: string(v.WhyNot), x: x, class: "uncounted", rank: 3})
		}
	}
	return out
}

// fillName gives a stop with what to take there.
func (c *chartDraft) fillName(v trip.Visit, n stopName) stopName {
	n.name = v.Stop.Name
	grade := "grade unknown"
	if v.Fill.HasGrade {
		grade = v.Fill.Grade.String()
	}
	n.note = c.u.Needed(v.Fill.Litres) + " " + grade
	if v.LastFuel != nil {
		n.class = "last"
	}
	return n
}
