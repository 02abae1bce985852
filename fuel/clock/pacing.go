package clock

import (
	"sort"
	"time"

	"lastpump/fuel/leg"
	"lastpump/route"
)

// hours are those of riding for each run, at a pace of 1.
type hours [3]float64

func (h hours) plus(o hours, times float64) hours {
	return hours{h[0] + o[0]*times, h[1] + o[1]*times, h[2] + o[2]*times}
}

// A Pacing is a line in hours, as somebody rides it. It is made once by [NewPacing] and never
// changes.
type Pacing struct {
	manner Manner
	runs   []route.Run
	riding []hours // riding[i] is up to the beginning of run i, one more at the end
}

// NewPacing lays the runs of a line out in hours; there is at least one. Ground that is not
// known has a speed of its own, not that of what it is planned as.
func NewPacing(runs []route.Run, m Manner) *Pacing {
	p := &Pacing{manner: m, runs: runs, riding: make([]hours, 1, len(runs)+1)}
	for i, r := range runs {
		p.riding = append(p.riding, p.riding[i].plus(p.over(r, r.Ridden), 1))
	}
	return p
}

// over gives the hours for a distance on the ground of a run.
func (p *Pacing) over(r route.Run, ridden route.Metres) (h hours) {
	g := r.Ground
	if r.Guessed {
		g = route.Unknown
	}
	s := p.manner.Speed(g)
	for f := range h {
		h[f] = ridden.Kilometres() / float64(s.of(Figure(f)))
	}
	return h
}

// runAt gives the number of the run that begins at or before a place and ends after it.
func (p *Pacing) runAt(at route.Metres) int {
	i := sort.Search(len(p.runs), func(i int) bool { return p.runs[i].To > at })
	return min(i, len(p.runs)-1)
}

// to gives the hours from the beginning of the line to a place along it.
func (p *Pacing) to(at route.Metres) hours {
	i := p.runAt(at)
	r := p.runs[i]
	if r.To <= r.From {
		return p.riding[i]
	}
	share := float64((min(max(at, r.From), r.To) - r.From) / (r.To - r.From))
	return p.riding[i].plus(p.riding[i+1].plus(p.riding[i], -1), share)
}

// between gives the hours from one end of a leg to the other: half a detour, the line, half
// a detour.
func (p *Pacing) between(from, to leg.End) hours {
	h := p.to(to.At).plus(p.to(from.At), -1)
	return h.plus(p.half(from), 1).plus(p.half(to), 1)
}

// half gives the hours for half the detour at an end: by road, or on the ground that the line has
// there.
func (p *Pacing) half(e leg.End) hours {
	if e.Half == 0 {
		return hours{}
	}
	if e.Off == nil {
		return p.over(p.runs[p.runAt(e.At)], e.Half)
	}
	var h hours
	for _, g := range e.Off.Ground {
		h = h.plus(p.over(route.Run{Ground: g.Ground}, g.Length), 1)
	}
	return h
}

// Riding gives the hours in the saddle from one end of a leg to the other.
func (p *Pacing) Riding(from, to leg.End) (d Durations) {
	h := p.between(from, to)
	for f := range d {
		d[f] = duration(p.manner.Pace * h[f])
	}
	return d
}

// moving gives the time from one end of a leg to the other, pauses included.
func (p *Pacing) moving(from, to leg.End) (d Durations) {
	h := p.between(from, to)
	for f := range d {
		d[f] = duration(p.manner.Pace * (h[f] + p.manner.Pauses[f].Hours()*h[Likely]))
	}
	return d
}

// Planned gives the time for a stretch of line by the likely figures at a pace of 1, pauses
// and so many fills included: what a rider's real hours are divided by to find the pace.
func (p *Pacing) Planned(from, to route.Metres, fills int) time.Duration {
	h := p.to(to).plus(p.to(from), -1)[Likely]
	return duration(h*(1+p.manner.Pauses[Likely].Hours())) + time.Duration(fills)*p.manner.Fill[Likely]
}

// reached gives where on the way from one end to another so much likely riding is done; the
// place along the line at which the detour begins that it ends in.
func (p *Pacing) reached(from, to leg.End, riding time.Duration) route.Metres {
	want := riding.Hours()/p.manner.Pace - p.half(from)[Likely] + p.to(from.At)[Likely]
	i := sort.Search(len(p.runs), func(i int) bool { return p.riding[i+1][Likely] >= want })
	if i == len(p.runs) {
		return to.At
	}
	r := p.runs[i]
	before, after := p.riding[i][Likely], p.riding[i+1][Likely]
	at := r.To
	if after > before {
		at = r.From + (r.To-r.From)*route.Metres((want-before)/(after-before))
	}
	return min(max(at, from.At), to.At)
}

func duration(hours float64) time.Duration { return time.Duration(hours * float64(time.Hour)) }
