package clean

import (
	"slices"

	"lastpump/route/internal/earth"

	"github.com/paulmach/orb"
)

// A recorder that loses its satellites sometimes writes a few points far away before it
// finds itself again; counted, one such leap makes a loop hundreds of kilometres longer
// than it is. But a spur to a pump and back looks just like it where the recorder slept on
// the way, and left out, the rider is short of the way and of the pump.
const (
	maxLeap                 = 5
	leapLeast  earth.Metres = 5000   // away and back, inside a segment, at the least
	leapAtEnd  earth.Metres = 100000 // away, at either end, where there is no way back
	leapReturn earth.Metres = 200    // how close to each other the points around them lie
	leapRidden earth.Metres = 50000  // farther away, and without times, it is taken for an error
	leapSpeed               = 250.0  // km/h: faster than that nobody rides
)

// Rule says what becomes of leaps that a rider may have ridden.
type Rule int

// The rules.
const (
	RideLikely Rule = iota // ridden, but for those of over 50 km without times
	RideAll                // ridden, all that their times allow
	DropAll                // left out
)

// A Leap is a run of points far away from what comes before and after it.
type Leap struct {
	Points int          // 1 to 5, repeated ones counted once
	Away   earth.Metres // how far the first of them leapt
	Ridden bool         // else it was left out
	Far    orb.Point    // of its points, the one farthest away
	Kept   []int        // of the points that are left: the one before, its own, the one behind; those there are
}

// A found is a leap by the places of its points in the file's segment: those in run, and
// the one before and the one behind; -1 where the segment ends.
type found struct {
	Leap
	run           group
	before, after int
}

// leaps finds runs of up to five points that leap over 5 km away and back to within max(200
// m, 3 × median step) of where they left, and at either end of a segment those that lie
// over 100 km from their neighbour; points that repeat the one before are not counted. A
// leap goes farther than that return, too, or every point of a line drawn in steps of over 5
// km would be one. Steps are those to the points.
func (c *Segment) leaps(steps []earth.Metres, median earth.Metres, rule Rule) (out []found) {
	back := max(leapReturn, 3*median)
	leap := max(leapLeast, back)
	if !slices.ContainsFunc(steps, func(s earth.Metres) bool { return s > leap }) {
		return nil
	}
	l := leaper{points: c.Points, rule: rule}
	for i, s := range steps {
		if i == 0 || s > 0 {
			l.moving = append(l.moving, i)
		}
	}
	var rest []int // the moving points that are in no leap
	for i := 0; i < len(l.moving); i++ {
		if i > 0 && steps[l.moving[i]] > leap {
			if n := l.runFrom(steps, i, back, leap); n > 0 {
				out = append(out, l.leap(l.moving[i-1], l.moving[i:i+n], l.moving[i+n]))
				i += n // the point behind the run has been looked at
			}
		}
		rest = append(rest, l.moving[i])
	}
	// At the ends last: beside one there may lie a leap that does come back.
	if n := l.runAtEnd(rest); n > 0 {
		out = append(out, l.leap(-1, rest[:n], rest[n]))
		rest = rest[n:]
	}
	slices.Reverse(rest)
	if n := l.runAtEnd(rest); n > 0 {
		run := slices.Clone(rest[:n])
		slices.Reverse(run)
		out = append(out, l.leap(rest[n], run, -1))
	}
	slices.SortFunc(out, func(a, b found) int { return a.run.from - b.run.from })
	return out
}

// A leaper looks for leaps in a segment.
type leaper struct {
	points []earth.Point
	moving []int // those that do not repeat the one before
	rule   Rule
}

// runFrom gives the length of the shortest run from a moving point on that is left by a
// leap back to where it came from; 0 if there is none.
func (l *leaper) runFrom(steps []earth.Metres, i int, back, leap earth.Metres) int {
	for n := 1; n <= maxLeap && i+n < len(l.moving); n++ {
		behind := l.moving[i+n]
		if steps[behind] > leap && l.apart(l.moving[i-1], behind) <= back {
			return n
		}
	}
	return 0
}

// runAtEnd gives the length of a run that lies far away at an end of a segment: of the
// points from that end on.
func (l *leaper) runAtEnd(rest []int) int {
	for n := min(maxLeap, (len(rest)-1)/2); n > 0; n-- {
		if l.apart(rest[n-1], rest[n]) > leapAtEnd {
			return n
		}
	}
	return 0
}

func (l *leaper) apart(a, b int) earth.Metres {
	return earth.Distance(l.points[a].Point, l.points[b].Point)
}

// leap judges a run of points between two others.
func (l *leaper) leap(before int, run []int, after int) found {
	first, last := run[0], run[len(run)-1]
	f := found{run: group{first, l.repeated(last) + 1}, before: before, after: after}
	f.Points = len(run)
	base, fast, timed := before, false, false
	if before >= 0 {
		f.Away = l.apart(before, first)
		fast, timed = l.speed(first-1, first)
	}
	if after >= 0 {
		tooFast, has := l.speed(f.run.to-1, after)
		fast, timed = fast || tooFast, timed || has
		if before < 0 {
			base, f.Away = after, l.apart(last, after)
		}
	}
	f.Far = l.points[first].Point
	for _, i := range run {
		if l.apart(base, i) > earth.Distance(l.points[base].Point, f.Far) {
			f.Far = l.points[i].Point
		}
	}
	switch {
	case fast || l.rule == DropAll:
	case !timed && f.Away > leapRidden:
		f.Ridden = l.rule == RideAll
	default:
		f.Ridden = true
	}
	return f
}

// repeated gives the last of the points that repeat one.
func (l *leaper) repeated(i int) int {
	for i+1 < len(l.points) && l.points[i+1].Point == l.points[i].Point {
		i++
	}
	return i
}

// speed tells whether the times of two points that follow each other ask for over 250
// km/h; timed is false where they do not tell. Times that stand still all along the segment
// are those of a file that was written, not of a ride.
func (l *leaper) speed(a, b int) (fast, timed bool) {
	p, q := l.points[a], l.points[b]
	if !p.HasTime || !q.HasTime || q.Time < p.Time {
		return false, false
	}
	another := func(o earth.Point) bool { return o.HasTime && o.Time != p.Time }
	if q.Time == p.Time && !slices.ContainsFunc(l.points, another) {
		return false, false
	}
	hours := float64(q.Time-p.Time) / 3600
	return l.apart(a, b).Kilometres() > leapSpeed*hours, true
}

// dropLeaps leaves out the leaps that nobody can have ridden. It gives those that are left
// by their places in the file's segment.
func (c *Segment) dropLeaps(steps []earth.Metres, median earth.Metres, rule Rule) []found {
	leaps := c.leaps(steps, median, rule)
	var runs []group
	for _, f := range leaps {
		if !f.Ridden {
			runs = append(runs, f.run)
		}
	}
	c.drop(runs)
	return leaps
}

// keepLeaps says of the leaps where their points are among those that are left.
func (c *Segment) keepLeaps(leaps []found) {
	for _, f := range leaps {
		places := []int{f.before}
		if f.Ridden {
			for i := f.run.from; i < f.run.to; i++ {
				places = append(places, i)
			}
		}
		for _, i := range append(places, f.after) {
			if i < 0 {
				continue
			}
			if c.Kept != nil { // of a halt one point is left
				k, _ := slices.BinarySearch(c.Kept, i)
				i = min(k, len(c.Kept)-1)
			}
			f.Kept = append(f.Kept, i)
		}
		f.Kept = slices.Compact(f.Kept)
		c.Leaps = append(c.Leaps, f.Leap)
	}
}
