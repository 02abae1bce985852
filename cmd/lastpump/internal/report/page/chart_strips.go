package page

import (
	"strconv"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/fuel/leg"
)

// strips draws a box for each leg with its verdict, and one with its grade.
func (c *chartDraft) strips() {
	const high, thin = 18, 8
	var under []stopName // numbers that are wider than their boxes
	for i, l := range c.legs() {
		x, to := c.leg(i)
		c.rect("leg "+sheet.Look(l.Verdict), x, c.at, to-x, high)
		number := strconv.Itoa(i + 1)
		word := number + " " + string(l.Verdict)
		switch {
		case l.Verdict != leg.OK && textWidth(word, c.letter, true) < to-x-4:
			c.text("number "+sheet.Look(l.Verdict), "middle", (x+to)/2, c.at+13, word)
		case textWidth(number, c.letter, true) < to-x-2:
			c.text("number "+sheet.Look(l.Verdict), "middle", (x+to)/2, c.at+13, number)
		default:
			under = append(under, stopName{name: number, x: (x + to) / 2})
		}
	}
	c.text("figure", "end", c.Left-5, c.at+13, "leg")
	c.at += high
	c.numbersUnder(under)
	c.at += 3
	for i, l := range c.legs() {
		x, to := c.leg(i)
		c.rect("grade "+sheet.Look(l.Mixture.Verdict), x, c.at, to-x, thin)
	}
	c.at += thin
	c.text("figure", "end", c.Left-5, c.at+1, string(c.p.Bike.Needs.Scale))
	c.at += 12
}

// numbersUnder writes the numbers of narrow legs under their boxes, as far apart as they can
// be read.
func (c *chartDraft) numbersUnder(numbers []stopName) {
	if len(numbers) == 0 {
		return
	}
	apart := 0.0
	for _, n := range numbers {
		apart = max(apart, textWidth(n.name, c.letter, true)+3)
	}
	spreadOut(numbers, c.Left, c.wide-apart/2, apart)
	for _, n := range numbers {
		c.path("leader", open(dot{n.x, c.at}, dot{n.at, c.at + 6}))
		c.text("under", "middle", n.at, c.at+17, n.name)
	}
	c.at += 20
}

// profile draws the heights.
func (c *chartDraft) profile() {
	low, high := c.trace.Low, c.trace.High
	foot := c.at + c.ground
	if len(c.trace.Profile) == 0 {
		c.text("figure", "start", c.Left, c.at+14, "the heights are not known")
		c.at += 20
		return
	}
	room := max(high-low, 50)
	y := func(ele float64) float64 { return foot - 3 - (ele-low)/room*(c.ground-6) }
	for _, part := range c.rises() {
		dots := []dot{{c.x(part[0].Ridden), foot}}
		for _, r := range part {
			dots = append(dots, dot{c.x(r.Ridden), y(r.Ele)})
		}
		c.path("hill", closed(append(dots, dot{c.x(part[len(part)-1].Ridden), foot})...))
		c.path("crest", open(dots[1:]...))
	}
	c.text("figure", "end", c.Left-5, y(high)+6, c.height(high))
	if y(low)-y(high) > 14 {
		c.text("figure", "end", c.Left-5, y(low)+3, c.height(low))
	}
	c.at = foot
}

// ribbon draws the ground.
func (c *chartDraft) ribbon() {
	const high = 12
	for _, s := range c.trace.Ribbon {
		class := "ground " + string(s.Ground)
		if s.Guessed {
			class += " guessed"
		}
		if s.To <= c.from || s.From >= c.to {
			continue
		}
		if x := c.x(s.From); !s.Skipped {
			c.rect(class, x, c.at, c.x(s.To)-x, high)
		}
	}
	right, foot := c.wide-c.Right, c.at+high
	c.path("frame", closed(dot{c.Left, c.at}, dot{right, c.at}, dot{right, foot}, dot{c.Left, foot}))
	c.at += high
	c.foot = c.at
}
