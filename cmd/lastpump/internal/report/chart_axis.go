package report

import (
	"cmp"
	"fmt"
	"sort"
	"strconv"
	"strings"

	"lastpump/fuel/plan"
	"lastpump/route"
)

// axis draws the distance.
func (c *charter) axis() {
	total := c.u.DistanceIn(c.p.Trace.Ridden)
	few := 4.0
	if c.wide > 500 {
		few = 9
	}
	step := nice(total, few)
	unit := fmt.Sprintf("%s ridden", c.u.DistanceUnit())
	room := c.wide - c.Right - textWidth(unit, c.letter, false) - 6
	for v := 0.0; v <= total && total > 0; v += step {
		x := c.x(route.Metres(v / total * float64(c.p.Trace.Ridden)))
		c.path("tick", open(dot{x, c.at}, dot{x, c.at + 5}))
		if label := strconv.FormatFloat(v, 'f', -1, 64); x+textWidth(label, c.letter, false)/2 < room {
			c.text("figure", "middle", x, c.at+17, label)
		}
	}
	c.text("figure", "end", c.wide-c.Right, c.at+17, unit)
	c.at += 22
	c.High = c.at
}

// riddenTo gives what has been ridden by a place along the line.
func (c *charter) riddenTo(at route.Metres) route.Metres {
	s := c.p.Trace.Samples
	i := sort.Search(len(s), func(i int) bool { return s[i].At >= at })
	switch {
	case i == 0:
		return 0
	case i == len(s):
		return c.p.Trace.Ridden
	}
	a, b := s[i-1], s[i]
	if b.At <= a.At {
		return a.Ridden
	}
	return a.Ridden + (b.Ridden-a.Ridden)*(at-a.At)/(b.At-a.At)
}

// partsAcross draws where the parts of the file begin, often the days.
func (c *charter) partsAcross() {
	for _, q := range c.p.Roll {
		if q.Kind == plan.CuePart && q.At > c.p.Legs[0].FromAt {
			x := c.x(c.riddenTo(q.At))
			c.path("part", open(dot{x, c.top}, dot{x, c.base}))
		}
	}
}

// partNames names the parts under the picture: all with their names, or with what stands
// before a colon in them, or with their numbers, whichever finds room first.
func (c *charter) partNames() {
	parts := c.p.Line.Parts
	if len(parts) < 2 {
		return
	}
	names := c.fittingNames(parts)
	for i, q := range parts {
		x, to := c.x(c.riddenTo(q.From)), c.x(c.riddenTo(q.To))
		if to-x < narrowPart {
			continue
		}
		c.path("bracket", open(dot{x + 1, c.at + 7}, dot{x + 1, c.at + 3}, dot{to - 1, c.at + 3}, dot{to - 1, c.at + 7}))
		if textWidth(names[i], c.letter, false) <= to-x {
			c.text("figure", "middle", (x+to)/2, c.at+18, names[i])
		}
	}
	c.at += 22
	c.High = c.at
}

// narrowPart is the width in dots under which a part is not drawn.
const narrowPart = 2

// fittingNames gives the longest names of the parts that fit under all of them.
func (c *charter) fittingNames(parts []route.Part) []string {
	var whole, short, numbers []string
	for _, q := range parts {
		number := strconv.Itoa(q.Number)
		head, _, _ := strings.Cut(q.Name, ":")
		whole, short, numbers = append(whole, cmp.Or(q.Name, number)), append(short, cmp.Or(head, number)), append(numbers, number)
	}
	for _, names := range [][]string{whole, short} {
		if c.fit(parts, names) {
			return names
		}
	}
	return numbers
}

// fit tells whether names have room under the parts.
func (c *charter) fit(parts []route.Part, names []string) bool {
	for i, q := range parts {
		room := c.x(c.riddenTo(q.To)) - c.x(c.riddenTo(q.From))
		if room >= narrowPart && textWidth(names[i], c.letter, false) > room-4 {
			return false
		}
	}
	return true
}
