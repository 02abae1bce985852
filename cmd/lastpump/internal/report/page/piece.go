package page

import (
	"iter"

	"lastpump/fuel/plan/picture"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A piece is the legs that one picture shows: all of them, or as many as have room for their
// names and numbers.
type piece struct {
	ride       *planned
	first, end int          // legs, from 0; the end is behind the last
	from, to   route.Metres // ridden
}

// mostLegs is how many legs are in one picture, however wide it is.
const mostLegs = 40

// pieces parts the ride for pictures of a form, into as few of about as many legs each as have
// room for all names.
func (t *planned) pieces(f form) []piece {
	all := len(t.p.Legs)
	for n := (all + mostLegs - 1) / mostLegs; ; n++ {
		var out []piece
		fits := true
		for k := range n {
			p := t.piece(k*all/n, (k+1)*all/n)
			fits = fits && (p.end-p.first == 1 || p.labels() <= f.roomForNames())
			out = append(out, p)
		}
		if fits || n == all {
			return out
		}
	}
}

func (t *planned) piece(first, end int) piece {
	last := end - 1
	return piece{t, first, end, t.trace.Begins[first], t.trace.Begins[last] + t.p.Legs[last].Drink.Ridden}
}

// labels counts the names that stand over a picture of the piece.
func (p piece) labels() int {
	n := p.end - p.first + 1
	for i := range p.ride.p.Visits {
		if p.passes(i) {
			n++
		}
	}
	return n
}

// passes tells whether a visit on the piece is shown though it is not counted.
func (p piece) passes(i int) bool {
	v := p.ride.p.Visits[i]
	at := p.ride.trace.RiddenTo(v.At)
	return !v.Counted && v.At >= p.ride.p.Legs[0].FromAt && at >= p.from && (at < p.to || p.end == len(p.ride.p.Legs))
}

// shows tells whether a visit lies on the piece, or at one of its ends.
func (p piece) shows(i int) bool {
	if p.whole() {
		return true
	}
	if p.passes(i) {
		return true
	}
	for _, l := range p.legs() {
		if l.FromVisit == i || l.ToVisit == i {
			return true
		}
	}
	return false
}

// whole tells whether the piece is all of the ride.
func (p piece) whole() bool { return p.first == 0 && p.end == len(p.ride.p.Legs) }

func (p piece) has(leg int) bool { return leg >= p.first && leg < p.end }

// legs gives the legs of the piece by their numbers from 0.
func (p piece) legs() iter.Seq2[int, trip.Leg] {
	return func(yield func(int, trip.Leg) bool) {
		for i := p.first; i < p.end; i++ {
			if !yield(i, p.ride.p.Legs[i]) {
				return
			}
		}
	}
}

// rises gives the profile over the piece.
func (p piece) rises() (out [][]picture.Rise) {
	for _, part := range p.ride.trace.Profile {
		var in []picture.Rise
		for i, r := range part {
			if i > 0 {
				in = append(in, p.border(part[i-1], r)...)
			}
			if r.Ridden >= p.from && r.Ridden <= p.to {
				in = append(in, r)
			}
		}
		if len(in) > 1 {
			out = append(out, in)
		}
	}
	return out
}

// border gives where the way between two places of the profile crosses the ends of the piece.
func (p piece) border(a, b picture.Rise) (out []picture.Rise) {
	for _, at := range []route.Metres{p.from, p.to} {
		if a.Ridden < at && at < b.Ridden {
			share := float64((at - a.Ridden) / (b.Ridden - a.Ridden))
			out = append(out, picture.Rise{Ridden: at, Ele: a.Ele + (b.Ele-a.Ele)*share})
		}
	}
	return out
}

// letterApart is how far apart names stand that read upwards.
func (f form) letterApart() float64 { return f.letter + 3 }

// roomForNames is how many names stand over a chart.
func (f form) roomForNames() int {
	return int((f.wide-chartLeft-chartRight)/f.letterApart()) + 1
}
