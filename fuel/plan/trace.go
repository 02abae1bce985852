package plan

import (
	"slices"

	"lastpump/fuel"
	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
)

// How fine the pictures are: a picture is at most about pictureWide dots wide and its
// profile pictureHigh dots high, and what is finer than half a dot is left out.
const (
	pictureWide = 1200
	pictureHigh = 120
)

// A Trace is the ride as pictures want it: what is in the tank, the heights and the
// ground against the distance ridden.
type Trace struct {
	Ridden  route.Metres // all of it
	Samples []Sample     // leg by leg; two at one place where the tank is filled
	Profile [][]Rise     // a break where the heights are not known
	Ribbon  []Stretch
	Tallest fuel.Litres // the most that is in the tank anywhere
}

// A Sample is the state of things at one place.
type Sample struct {
	Leg    int
	At     route.Metres // along the line
	Ridden route.Metres // since the start, detours counted
	Trip   route.Metres // on the trip meter, since the fill
	Tank   fuel.Litres  // usable, likely; negative where the leg is SHORT already
	Least  fuel.Litres  // by the high figures
	Most   fuel.Litres  // by the low figures, no more than the tank holds
	Can    fuel.Litres  // still in the bike's own can
	Ele    float64      // metres; meaningless unless HasEle
	HasEle bool
	Ground route.Ground
}

// A Rise is a point of the profile.
type Rise struct {
	Ridden route.Metres
	Ele    float64 // metres
}

// A Stretch is a part of the ride on one ground.
type Stretch struct {
	From, To route.Metres // ridden since the start
	Ground   route.Ground // what it is planned as
	Guessed  bool         // it is not known
	Skipped  bool         // a ferry: nothing is ridden, From and To are one
}

// trace samples the plan.
func (d *draft) trace() Trace {
	var t Trace
	step := d.plan.Loop.Ridden / pictureWide
	before := route.Metres(0)
	for i, l := range d.plan.Legs {
		t.Samples = append(t.Samples, d.samples(i, before, step)...)
		t.Ribbon = append(t.Ribbon, d.ribbon(i, before)...)
		before += l.Drink.Ridden
	}
	t.Ridden = before
	for _, s := range t.Samples {
		t.Tallest = max(t.Tallest, s.Tank)
	}
	t.Ribbon = joined(t.Ribbon)
	crests := d.crests()
	t.Profile = profile(crests, t.Ridden)
	lift(t.Samples, crests)
	return t
}

// samples gives what a leg looks like every step, and where the can is poured.
func (d *draft) samples(i int, before, step route.Metres) []Sample {
	l := d.plan.Legs[i]
	n := 1
	if step > 0 {
		n = max(1, int(l.Drink.Ridden/step))
	}
	var out []Sample
	for k := range n + 1 {
		out = append(out, d.sample(i, before, l.Drink.Ridden*route.Metres(k)/route.Metres(n), d.poursOf(i)))
	}
	for k, p := range d.poursOf(i) {
		out = append(out, d.sample(i, before, p.at, d.poursOf(i)[:k]), d.sample(i, before, p.at, d.poursOf(i)))
	}
	slices.SortStableFunc(out, func(a, b Sample) int {
		switch {
		case a.Ridden < b.Ridden:
			return -1
		case a.Ridden > b.Ridden:
			return 1
		}
		return 0
	})
	return out
}

// sample gives the state on a leg after a distance ridden, with those of the pours that
// have been made by then.
func (d *draft) sample(i int, before, ridden route.Metres, pours []pour) Sample {
	l := d.plan.Legs[i]
	in, can := l.Start, l.Can
	for _, p := range pours {
		if p.at <= ridden {
			in += p.litres
			can -= p.litres
		}
	}
	at := min(d.course.After(d.nodes[i].at, ridden-d.nodes[i].half), d.nodes[i+1].at)
	return Sample{
		Leg: i, At: at, Ridden: before + ridden, Trip: d.bike.Shown(ridden),
		Tank: in - d.used(i, ridden, likely), Least: in - d.used(i, ridden, high), Most: min(in-d.used(i, ridden, low), d.bike.Usable()),
		Can: max(0, can), Ground: d.runs[d.course.RunAt(at)].Ground,
	}
}

// ribbon gives the grounds of a leg, the half detours on that of the line where they leave it.
func (d *draft) ribbon(i int, before route.Metres) []Stretch {
	a, b := d.nodes[i], d.nodes[i+1]
	at := before
	var out []Stretch
	lay := func(r route.Run, ridden route.Metres) {
		out = append(out, Stretch{From: at, To: at + ridden, Ground: r.Ground, Guessed: r.Guessed, Skipped: r.Skipped})
		at += ridden
	}
	under := func(m route.Metres) route.Run { return d.runs[d.course.RunAt(m)] }
	if a.half > 0 {
		lay(under(a.at), a.half)
	}
	for k := d.course.RunAt(a.at); k < len(d.runs) && d.runs[k].From < b.at; k++ {
		r := d.runs[k]
		if share := (min(r.To, b.at) - max(r.From, a.at)) / (r.To - r.From); share > 0 {
			lay(r, share*r.Ridden)
		}
	}
	if b.half > 0 {
		lay(under(b.at), b.half)
	}
	return out
}

// joined joins stretches that follow each other on one ground.
func joined(in []Stretch) []Stretch {
	var out []Stretch
	for _, s := range in {
		if n := len(out); n > 0 && out[n-1].Ground == s.Ground && out[n-1].Guessed == s.Guessed && out[n-1].Skipped == s.Skipped {
			out[n-1].To = s.To
			continue
		}
		out = append(out, s)
	}
	return out
}

// A crest is a height where the ride has it; a first one begins anew after heights that
// are not known.
type crest struct {
	Rise
	first bool
}

// A height is one along the line; a first one as a crest is.
type height struct {
	at    route.Metres
	ele   float64
	first bool
}

// crests gives the heights along the legs, as few as pictures want.
func (d *draft) crests() []crest {
	legs := d.plan.Legs
	before := make([]route.Metres, len(legs)) // ridden at the beginning of each leg
	for i := 1; i < len(legs); i++ {
		before[i] = before[i-1] + legs[i-1].Drink.Ridden
	}
	var out []crest
	leg := 0
	for _, h := range d.heights() {
		for leg < len(legs)-1 && h.at > legs[leg].ToAt {
			leg++
		}
		from := d.nodes[leg]
		ridden := before[leg] + from.half + d.course.RiddenTo(h.at) - d.course.RiddenTo(from.at)
		out = append(out, crest{Rise{ridden, h.ele}, h.first})
	}
	return out
}

// heights gives of each bit of the line, from where the ride begins, the first height,
// the lowest, the highest and the last, so that no summit is lost however many points
// there are.
func (d *draft) heights() []height {
	from := d.plan.Legs[0].FromAt
	bit := max(d.length/(4*pictureWide), 1)
	var out, cell []height
	var last route.Vertex // with a height, if there was one
	known, missing := false, false
	for v := range d.in.Line.Vertices() {
		if !v.HasEle {
			missing = true
			continue
		}
		first := !known || missing && v.At-last.At > route.HeightsBridged
		if last.At < from && v.At > from && !first {
			cell = append(cell, height{from, between(last, v, from), true})
		}
		if v.At >= from {
			if len(cell) > 0 && (first || v.At-cell[0].at > bit) {
				out = append(out, extremes(cell)...)
				cell = cell[:0]
			}
			cell = append(cell, height{v.At, v.Ele, first || len(out)+len(cell) == 0})
		}
		last, known, missing = v, true, false
	}
	return append(out, extremes(cell)...)
}

// between gives the height at a place between two points that have one.
func between(a, b route.Vertex, at route.Metres) float64 {
	return a.Ele + (b.Ele-a.Ele)*float64((at-a.At)/(b.At-a.At))
}

// extremes gives the first, the lowest, the highest and the last of some heights, in order.
func extremes(c []height) []height {
	if len(c) < 4 {
		return c
	}
	lo, hi := 0, 0
	for i := range c {
		if c[i].ele < c[lo].ele {
			lo = i
		}
		if c[i].ele > c[hi].ele {
			hi = i
		}
	}
	keep := []int{0, lo, hi, len(c) - 1}
	slices.Sort(keep)
	var out []height
	for _, i := range slices.Compact(keep) {
		out = append(out, c[i])
	}
	return out
}

// profile leaves out of the heights what a picture does not show.
func profile(crests []crest, ridden route.Metres) [][]Rise {
	low, high := 0.0, 0.0
	for i, c := range crests {
		if i == 0 {
			low, high = c.Ele, c.Ele
		}
		low, high = min(low, c.Ele), max(high, c.Ele)
	}
	x := pictureWide / max(float64(ridden), 1)
	y := pictureHigh / max(high-low, 1)
	var out [][]Rise
	for len(crests) > 0 {
		n := 1
		for n < len(crests) && !crests[n].first {
			n++
		}
		var line orb.LineString
		for _, c := range crests[:n] {
			line = append(line, orb.Point{float64(c.Ridden) * x, c.Ele * y})
		}
		var rises []Rise
		for _, p := range simplify.DouglasPeucker(0.5).LineString(line) {
			rises = append(rises, Rise{route.Metres(p[0] / x), p[1] / y})
		}
		out = append(out, rises)
		crests = crests[n:]
	}
	return out
}

// lift gives the samples their heights, between those that are known.
func lift(samples []Sample, crests []crest) {
	k := 0
	for i := range samples {
		s := &samples[i]
		for k+1 < len(crests) && crests[k+1].Ridden <= s.Ridden {
			k++
		}
		if k+1 >= len(crests) || crests[k].Ridden > s.Ridden || crests[k+1].first {
			if k < len(crests) && crests[k].Ridden == s.Ridden {
				s.Ele, s.HasEle = crests[k].Ele, true
			}
			continue
		}
		a, b := crests[k], crests[k+1]
		s.HasEle, s.Ele = true, a.Ele
		if d := b.Ridden - a.Ridden; d > 0 {
			s.Ele += (b.Ele - a.Ele) * float64((s.Ridden-a.Ridden)/d)
		}
	}
}
