package main

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
)

// A fix is a point of a track, and how far along the ride it was, in metres.
type fix struct {
	orb.Point
	along float64
	ele   float64
}

// pace is how fast a loaded bike goes on each ground, in metres per second.
// Our estimate: the recorder's step follows from it, nothing else does.
var pace = map[string]float64{
	"paved": 20, "packed-gravel": 16.5, "loose-gravel": 13.5, "dirt": 13,
	"soft": 10, "sand": 8, "rocky": 7.5,
}

// A recorder keeps a fix every few seconds of a ride.
type recorder struct {
	*land
	*rand.Rand
	every       float64 // seconds
	speed, mood drift   // the rider's, within seconds and within minutes
	east, north drift   // the error of the fix
	up          drift   // and of its height
	pause       int     // fixes left of a pause
}

// record follows a part of a ride, from stride a to stride b.
func (c *recorder) record(line []spot, a, b int, ground func(along float64) string) []fix {
	var fixes []fix
	v := 3.0
	for s := float64(a); s < float64(b); s += v * c.every / stride {
		fixes = append(fixes, c.fix(line, s))
		v += 0.45 * (c.wish(line, int(s), ground(s*stride)) - v)
	}
	return append(fixes, c.fix(line, float64(b)))
}

// fix is the place s strides along, as a receiver sees it: about 2.5 m off, in a
// direction that changes within the minute, and 1 m in height.
func (c *recorder) fix(line []spot, s float64) fix {
	i := min(int(s), len(line)-2)
	p := spot{mix(line[i].x, line[i+1].x, s-float64(i)), mix(line[i].y, line[i+1].y, s-float64(i))}
	ele := c.height(p) + c.up.next(c.every/60, c.Rand)
	p.x += 1.8 * c.east.next(c.every/45, c.Rand)
	p.y += 1.8 * c.north.next(c.every/45, c.Rand)
	return fix{c.kept(p), s * stride, round(ele, 10)}
}

// wish is the speed that the rider would like at stride i: by the ground and
// the mood, less in bends and on slopes. Now and then there is something to look
// at: a pause, in which the bike all but stands.
func (c *recorder) wish(line []spot, i int, ground string) float64 {
	const look = 10 // strides
	v := pace[ground] * math.Exp(0.25*c.speed.next(c.every/15, c.Rand)+0.15*c.mood.next(c.every/600, c.Rand))
	if c.pause > 0 {
		c.pause--
		return 0.2
	}
	if c.IntN(300) == 0 {
		c.pause = 2 + c.IntN(9)
	}
	i = min(max(i, look), len(line)-1-look)
	in, d := line[i-look].to(line[i])
	out, _ := line[i].to(line[i+look])
	bend := math.Abs(math.Remainder(out-in, 2*math.Pi))
	grade := math.Abs(c.height(line[i+look])-c.height(line[i])) / d
	return v / (1 + 2*bend) / (1 + 4*grade)
}

// draw is a part of a ride as it would be drawn on a map, or kept by a planner
// that saves room: only the points that its shape needs, to within metres.
func draw(l *land, line []spot, a, b int, within float64) []fix {
	var dense orb.LineString
	for _, p := range line[a : b+1] {
		dense = append(dense, orb.Point{p.x, p.y})
	}
	kept := simplify.DouglasPeucker(within).LineString(dense.Clone())
	var fixes []fix
	i := 0
	for _, p := range kept {
		for dense[i] != p {
			i++
		}
		fixes = append(fixes, fix{Point: l.kept(spot{p[0], p[1]}), along: float64(a+i) * stride})
	}
	return fixes
}
