package page

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lastpump/fuel/plan/cue"
	"lastpump/route"
)

// axis draws the distance.
func (c *chartDraft) axis() {
	total := c.u.DistanceIn(c.to - c.from)
	few := 4.0
	if c.wide > 500 {
		few = 9
	}
	step := nice(total, few)
	unit := fmt.Sprintf("%s ridden", c.u.DistanceUnit())
	room := c.wide - c.Right - textWidth(unit, c.letter, false) - 6
	for v := math.Ceil(c.From/step-1e-9)*step + 0; v <= c.To && total > 0; v += step {
		x := c.x(c.from + route.Metres((v-c.From)/total)*(c.to-c.from))
		c.path("tick", open(dot{x, c.at}, dot{x, c.at + 5}))
		if label := strconv.FormatFloat(v, 'f', -1, 64); x+textWidth(label, c.letter, false)/2 < room {
			c.text("figure", "middle", x, c.at+17, label)
		}
	}
	c.text("figure", "end", c.wide-c.Right, c.at+17, unit)
	c.at += 22
	c.High = c.at
}

// partsAcross draws where the parts of the file begin, often the days.
func (c *chartDraft) partsAcross() {
	for _, q := range c.p.Cues {
		if q.Kind == cue.Part && c.has(q.Leg) && q.At > c.p.Legs[0].FromAt {
			x := c.x(c.trace.RiddenTo(q.At))
			c.path("part", open(dot{x, c.top}, dot{x, c.base}))
		}
	}
}

// partNames names the parts under the picture: all with their names, or with what stands
// before a colon in them, or with their numbers, whichever finds room first.
func (c *chartDraft) partNames() {
	parts := c.p.Line.Parts
	if len(parts) < 2 {
		return
	}
	names := c.fittingNames(parts)
	for i, q := range parts {
		x, to := c.x(c.trace.RiddenTo(q.From)), c.x(c.trace.RiddenTo(q.To))
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
func (c *chartDraft) fittingNames(parts []route.Part) []string {
	var whole, short, numbers []string
	for _, q := range parts {
		number := strconv.Itoa(q.Number)
		head, _, _ := strings.Cut(q.Name, ":")
		whole = append(whole, cmp.Or(q.Name, number))
		short = append(short, cmp.Or(head, number))
		numbers = append(numbers, number)
	}
	for _, names := range [][]string{whole, short} {
		if c.fit(parts, names) {
			return names
		}
	}
	return numbers
}

// fit tells whether names have room under the parts.
func (c *chartDraft) fit(parts []route.Part, names []string) bool {
	for i, q := range parts {
		room := c.x(c.trace.RiddenTo(q.To)) - c.x(c.trace.RiddenTo(q.From))
		if room >= narrowPart && textWidth(names[i], c.letter, false) > room-4 {
			return false
		}
	}
	return true
}
