// Package clean takes out of a recorded segment what was never ridden: leaps of a
// recorder that lost its satellites, and the cloud of points that it draws while the bike
// stands. Start with [Clean].
package clean

import (
	"time"

	"lastpump/route/internal/earth"
)

// A Segment is what is left of a segment of a file, and what was found in it.
type Segment struct {
	Points   []earth.Point
	Kept     []int // where each stands in the file's segment, in order; nil for all of them
	Leaps    []Leap
	Halts    []Halt
	Suspects []Halt // may be halts, but are not taken out
}

// A Halt is a cloud of points that was drawn while the bike stood.
type Halt struct {
	Point  int          // where it lies, among the points that are left
	Points int          // of the cloud; one of them is left
	Taken  earth.Metres // how much shorter the line is without it
	For    time.Duration
}

// Clean takes leaps and the jitter of halts out of a segment. steps are the distances to
// its points from the one before, median is that of the whole file.
func Clean(points []earth.Point, steps []earth.Metres, median earth.Metres, rule Rule) Segment {
	c := Segment{Points: points}
	leaps := c.dropLeaps(steps, median, rule)
	c.dropJitter()
	c.keepLeaps(leaps)
	return c
}

// drop leaves out runs of the points that are left so far.
func (c *Segment) drop(runs []group) {
	if len(runs) == 0 {
		return
	}
	points, kept := make([]earth.Point, 0, len(c.Points)), make([]int, 0, len(c.Points))
	next := 0
	for i, p := range c.Points {
		for next < len(runs) && runs[next].to <= i {
			next++
		}
		if next == len(runs) || i < runs[next].from {
			points, kept = append(points, p), append(kept, c.index(i))
		}
	}
	c.Points, c.Kept = points, kept
}

// index gives where a point that is left stands in the file's segment.
func (c *Segment) index(i int) int {
	if c.Kept == nil {
		return i
	}
	return c.Kept[i]
}

// A group is points that follow each other, [from, to).
type group struct{ from, to int }
