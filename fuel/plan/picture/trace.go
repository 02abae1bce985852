// Package picture samples a planned ride for pictures: what is in the tank, the heights
// and the ground against the distance ridden ([TraceOf]), and the line as a small map
// ([SketchOf]). It knows nothing of how they are drawn but how fine they are.
package picture

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
)

// A Fineness is how fine a picture is, in dots: what is finer than half a dot is left
// out.
type Fineness struct {
	Wide int // the ride, from start to end
	High int // the profile, from its lowest to its highest point
}

// A Trace is the ride as pictures want it: what is in the tank, the heights and the
// ground against the distance ridden.
type Trace struct {
	Ridden  route.Metres   // all of it
	Samples []Sample       // leg by leg; two at one place where the tank is filled
	Begins  []route.Metres // of each leg, ridden by then
	Profile [][]Rise       // a break where the heights are not known
	Low     float64        // of the profile, in metres
	High    float64        // likewise
	Ribbon  []Band
	Tallest fuel.Litres // the most that is in the tank anywhere
	Lowest  fuel.Litres // the least at the end of a leg, less what is in the can; 0 where none lacks

	shown route.Metres // on the trip meter for each metre ridden
}

// RiddenTo gives what has been ridden by a place along the line.
func (t Trace) RiddenTo(at route.Metres) route.Metres {
	s := t.Samples
	i := sort.Search(len(s), func(i int) bool { return s[i].At >= at })
	switch {
	case i == 0:
		return 0
	case i == len(s):
		return t.Ridden
	}
	a, b := s[i-1], s[i]
	if b.At <= a.At {
		return a.Ridden
	}
	return a.Ridden + (b.Ridden-a.Ridden)*(at-a.At)/(b.At-a.At)
}

// RiddenAt gives what has been ridden by a figure of the trip meter on a leg.
func (t Trace) RiddenAt(leg int, trip route.Metres) route.Metres { return t.Begins[leg] + trip/t.shown }

// OfLeg gives the samples of a leg.
func (t Trace) OfLeg(leg int) []Sample {
	from := sort.Search(len(t.Samples), func(i int) bool { return t.Samples[i].Leg >= leg })
	to := sort.Search(len(t.Samples), func(i int) bool { return t.Samples[i].Leg > leg })
	return t.Samples[from:to]
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

// A Band is a part of the ride on one ground.
type Band struct {
	From, To route.Metres // ridden since the start
	Ground   route.Ground // what it is planned as
	Guessed  bool         // it is not known
	Skipped  bool         // a ferry: nothing is ridden, From and To are one
}

// A tracer samples one ride.
type tracer struct {
	*trip.Draft
	fine Fineness
}

// TraceOf samples a ride.
func TraceOf(d *trip.Draft, fine Fineness) Trace {
	r := tracer{d, fine}
	t := Trace{shown: d.Bike.Shown(1)}
	for _, l := range d.Legs {
		t.Ridden += l.Drink.Ridden
	}
	step := t.Ridden / route.Metres(fine.Wide)
	before := route.Metres(0)
	for i, l := range d.Legs {
		t.Begins = append(t.Begins, before)
		t.Lowest = min(t.Lowest, l.Arrive-(l.Can-l.Poured))
		t.Samples = append(t.Samples, r.samples(i, before, step)...)
		t.Ribbon = append(t.Ribbon, r.ribbon(i, before)...)
		before += l.Drink.Ridden
	}
	for _, s := range t.Samples {
		t.Tallest = max(t.Tallest, s.Tank)
	}
	t.Ribbon = merged(t.Ribbon)
	crests := r.crests()
	t.Profile = fine.profile(crests, t.Ridden)
	t.Low, t.High = math.Inf(1), math.Inf(-1)
	for _, part := range t.Profile {
		for _, r := range part {
			t.Low, t.High = min(t.Low, r.Ele), max(t.High, r.Ele)
		}
	}
	lift(t.Samples, crests)
	return t
}

// samples gives what a leg looks like every step, and where the can is poured.
func (r tracer) samples(i int, before, step route.Metres) []Sample {
	l := r.Legs[i]
	n := 1
	if step > 0 {
		n = max(1, int(l.Drink.Ridden/step))
	}
	var out []Sample
	for k := range n + 1 {
		out = append(out, r.sample(i, before, l.Drink.Ridden*route.Metres(k)/route.Metres(n), r.Pours[i]))
	}
	for k, p := range r.Pours[i] {
		out = append(out, r.sample(i, before, p.At, r.Pours[i][:k]), r.sample(i, before, p.At, r.Pours[i]))
	}
	slices.SortStableFunc(out, func(a, b Sample) int { return cmp.Compare(a.Ridden, b.Ridden) })
	return out
}

// sample gives the state on a leg after a distance ridden, with those of the pours that
// have been made by then.
func (r tracer) sample(i int, before, ridden route.Metres, pours []leg.Pour) Sample {
	l := r.Legs[i]
	in, can := l.Start, l.Can
	for _, p := range pours {
		if p.At <= ridden {
			in += p.Litres
			can -= p.Litres
		}
	}
	w, at := r.Ways[i], r.Ways[i].Along(ridden)
	return Sample{
		Leg: i, At: at, Ridden: before + ridden, Trip: r.Bike.Shown(ridden),
		Tank: in - w.UsedThere(ridden, fuel.Likely), Least: in - w.UsedThere(ridden, fuel.High),
		Most: min(in-w.UsedThere(ridden, fuel.Low), r.Bike.Usable()),
		Can:  max(0, can), Ground: r.Trip.RunAt(at).Ground,
	}
}

// ribbon gives the grounds of a leg, the half detours on that of the line where they leave it.
func (r tracer) ribbon(i int, before route.Metres) []Band {
	a, b := r.Nodes[i].On, r.Nodes[i+1].On
	at := before
	var out []Band
	lay := func(under route.Run, ridden route.Metres) {
		out = append(out, Band{From: at, To: at + ridden, Ground: under.Ground, Guessed: under.Guessed,
			Skipped: under.Skipped})
		at += ridden
	}
	r.off(a, lay)
	for _, run := range r.Trip.RunsBetween(a.At, b.At) {
		if share := (min(run.To, b.At) - max(run.From, a.At)) / (run.To - run.From); share > 0 {
			lay(run, share*run.Ridden)
		}
	}
	r.off(b, lay)
	return out
}

// off lays half the detour at an end: on the grounds of its road, or on that of the line there.
func (r tracer) off(e leg.End, lay func(under route.Run, ridden route.Metres)) {
	switch {
	case e.Off != nil:
		for _, g := range e.Off.Ground {
			lay(route.Run{Ground: g.Ground, Guessed: g.Ground == route.Unknown}, g.Length)
		}
	case e.Half > 0:
		lay(r.Trip.RunAt(e.At), e.Half)
	}
}

// merged joins bands that follow each other on one ground.
func merged(in []Band) []Band {
	var out []Band
	for _, s := range in {
		if n := len(out); n > 0 && out[n-1].Ground == s.Ground && out[n-1].Guessed == s.Guessed &&
			out[n-1].Skipped == s.Skipped {
			out[n-1].To = s.To
			continue
		}
		out = append(out, s)
	}
	return out
}

// A crest is a height where the ride has it, or still where the line has it; a first one
// begins anew after heights that are not known.
type crest struct {
	Rise
	first bool
}

// crests gives the heights along the legs, as few as pictures want.
func (r tracer) crests() []crest {
	legs := r.Legs
	before := make([]route.Metres, len(legs)) // ridden at the beginning of each leg
	for i := 1; i < len(legs); i++ {
		before[i] = before[i-1] + legs[i-1].Drink.Ridden
	}
	on, out := 0, r.heights()
	for i, h := range out {
		for on < len(legs)-1 && h.Ridden > legs[on].ToAt {
			on++
		}
		out[i].Ridden = before[on] + r.Ways[on].Ridden(h.Ridden)
	}
	return out
}

// heights gives of each bit of the line, from where the ride begins, the first height,
// the lowest, the highest and the last, so that no summit is lost however many points
// there are. They are given along the line.
func (r tracer) heights() []crest {
	from := r.Legs[0].FromAt
	bit := max(r.Trip.Length/route.Metres(4*r.fine.Wide), 1)
	var out, cell []crest
	var last route.Vertex // with a height, if there was one
	known, missing := false, false
	for v := range r.Trip.Line.Vertices() {
		if !v.HasEle {
			missing = true
			continue
		}
		first := !known || missing && v.At-last.At > route.HeightsBridged
		if last.At < from && v.At > from && !first {
			cell = append(cell, crest{Rise{from, between(last, v, from)}, true})
		}
		if v.At >= from {
			if len(cell) > 0 && (first || v.At-cell[0].Ridden > bit) {
				out = append(out, extremes(cell)...)
				cell = cell[:0]
			}
			cell = append(cell, crest{Rise{v.At, v.Ele}, first || len(out)+len(cell) == 0})
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
func extremes(c []crest) []crest {
	if len(c) < 4 {
		return c
	}
	lo, hi := 0, 0
	for i := range c {
		if c[i].Ele < c[lo].Ele {
			lo = i
		}
		if c[i].Ele > c[hi].Ele {
			hi = i
		}
	}
	keep := []int{0, lo, hi, len(c) - 1}
	slices.Sort(keep)
	var out []crest
	for _, i := range slices.Compact(keep) {
		out = append(out, c[i])
	}
	return out
}

// profile leaves out of the heights what a picture does not show.
func (f Fineness) profile(crests []crest, ridden route.Metres) [][]Rise {
	low, high := 0.0, 0.0
	for i, c := range crests {
		if i == 0 {
			low, high = c.Ele, c.Ele
		}
		low, high = min(low, c.Ele), max(high, c.Ele)
	}
	x := float64(f.Wide) / max(float64(ridden), 1)
	y := float64(f.High) / max(high-low, 1)
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
