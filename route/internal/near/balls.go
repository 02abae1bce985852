package near

import (
	"math"

	"github.com/paulmach/orb"

	"lastpump/route/internal/earth"
)

// A ball holds a part of the line, in the space in which the earth is a sphere of radius 1.
// What of the sphere lies in it is a cap, which the straights between its points do not
// leave. Unlike a box in degrees it tells quickly how near the part can be, all round the
// earth.
type ball struct {
	x, y, z, r float32 // there are many; where the middle is does not matter much
}

// around begins a ball with its middle near a place.
func around(x, y, z float64) ball { return ball{x: float32(x), y: float32(y), z: float32(z)} }

// hold makes the ball at least so large.
func (b *ball) hold(r float64) {
	if r > float64(b.r) {
		b.r = math.Nextafter32(float32(r), 8)
	}
}

// vector gives where a point lies in that space.
func vector(p orb.Point) (x, y, z float64) {
	sinLat, cosLat := math.Sincos(p[1] * earth.Degree)
	sinLon, cosLon := math.Sincos(p[0] * earth.Degree)
	return cosLat * cosLon, cosLat * sinLon, sinLat
}

// balls bound all of a line: a few steps each, a chunk each, a bunch of chunks each.
type balls struct{ few, chunks, bunches []ball }

// How many steps are few, and how many chunks a bunch.
const (
	fewSteps    = 4 // a part of chunkSteps
	bunchChunks = 32
)

func newBalls(pts []orb.Point) balls {
	b := balls{few: make([]ball, 0, len(pts)/fewSteps+1)}
	for i := 0; i < len(pts)-1; i += fewSteps {
		b.few = append(b.few, ballAround(pts[i:min(i+fewSteps+1, len(pts))]))
	}
	b.chunks = ballsOf(b.few, chunkSteps/fewSteps)
	b.bunches = ballsOf(b.chunks, bunchChunks)
	return b
}

// ballAround bounds points that follow each other.
func ballAround(pts []orb.Point) ball {
	b := around(vector(pts[len(pts)/2]))
	for _, p := range pts {
		b.hold(b.from(vector(p)))
	}
	return b
}

// ballsOf bounds so many balls at a time.
func ballsOf(inner []ball, n int) (out []ball) {
	for i := 0; i < len(inner); i += n {
		some := inner[i:min(i+n, len(inner))]
		b := some[len(some)/2]
		for _, s := range some {
			b.hold(b.from(float64(s.x), float64(s.y), float64(s.z)) + float64(s.r))
		}
		out = append(out, b)
	}
	return out
}

// from gives how far the middle of the ball is from a place.
func (b ball) from(x, y, z float64) float64 {
	x, y, z = x-float64(b.x), y-float64(b.y), z-float64(b.z)
	return math.Sqrt(x*x + y*y + z*z)
}

// least gives no more than the distance from a place to what is in the ball.
func (b ball) least(x, y, z float64) float64 { return b.from(x, y, z) - float64(b.r) }

// straight gives how far apart two places are in that space that are so far on the ground.
func straight(m earth.Metres) float64 {
	return 2 * math.Sin(min(float64(m/earth.Radius), math.Pi)/2)
}

// A search looks for the closest place on all of a line.
type search struct {
	nearest
	balls
	x, y, z float64 // the place, in the space of the balls
	reach   float64 // there: nothing farther is nearer than the best
}

// run looks in the bunch of chunks that may be nearest first, then in those that still may
// be nearer than what was found.
func (s *search) run() {
	s.x, s.y, s.z = vector(s.from)
	s.reach = math.Inf(1)
	s.inOrder(s.bunches, s.bunch)
}

func (s *search) bunch(i int) {
	from := i * bunchChunks
	s.inOrder(s.chunks[from:min(from+bunchChunks, len(s.chunks))], func(k int) { s.chunk(from + k) })
}

func (s *search) chunk(c int) {
	const parts = chunkSteps / fewSteps
	from := c * parts
	s.inOrder(s.few[from:min(from+parts, len(s.few))], func(k int) {
		first := (from + k) * fewSteps
		s.steps(first, min(first+fewSteps, len(s.index.pts)-1))
		s.reach = straight(s.best.Off+earth.Hair) + rounding
	})
}

// inOrder calls look with each ball that may hold something nearer than the best, the one
// that may be nearest first.
func (s *search) inOrder(balls []ball, look func(i int)) {
	first, least := 0, math.Inf(1)
	for i, b := range balls {
		if d := b.least(s.x, s.y, s.z); d < least {
			first, least = i, d
		}
	}
	if least > s.reach {
		return
	}
	look(first)
	for i, b := range balls {
		if i != first && b.least(s.x, s.y, s.z) <= s.reach {
			look(i)
		}
	}
}

// rounding is more than what distances between points on a sphere of radius 1 are off by.
const rounding = 1e-14
