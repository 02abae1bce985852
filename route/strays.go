package route

// A recorder that loses its satellites sometimes writes a few points far away
// before it finds itself again. Counted, one such leap makes a loop hundreds of
// kilometres longer than it is.
const (
	maxStrays          = 5
	strayLeap   Metres = 5000   // away and back, inside a segment, at the least
	strayAtEnd  Metres = 100000 // away, at either end, where there is no way back
	strayReturn Metres = 200    // how close to each other the points around them lie
)

// dropStrays leaves out runs of up to five points that leap over 5 km away and
// back to within max(200 m, 3 × median step) of where they left, and at either
// end of a segment those that lie over 100 km from their neighbour. A leap goes
// farther than that return, too, or every point of a line drawn in steps of over
// 5 km would be astray. steps are those to the points.
func (c *cleaning) dropStrays(steps []Metres, median Metres) {
	runs, left := straysInside(c.points, steps, max(strayReturn, 3*median))
	c.drop(runs)
	// At the ends last: beside one there may lie a leap that does come back.
	p := c.points
	var ends []run
	if n := straysAtStart(p); n > 0 {
		left = append(left, Strays{Points: n, Away: Distance(p[n-1].Point, p[n].Point)})
		ends = append(ends, run{0, n})
		p = p[n:]
	}
	if n := straysAtEnd(p); n > 0 {
		end := len(p) - n
		left = append(left, Strays{Points: n, Away: Distance(p[end-1].Point, p[end].Point)})
		ends = append(ends, run{len(c.points) - n, len(c.points)})
	}
	c.drop(ends)
	c.strays = left
}

func straysAtStart(p []Point) int {
	for n := min(maxStrays, (len(p)-1)/2); n > 0; n-- {
		if Distance(p[n-1].Point, p[n].Point) > strayAtEnd {
			return n
		}
	}
	return 0
}

func straysAtEnd(p []Point) int {
	for n := min(maxStrays, (len(p)-1)/2); n > 0; n-- {
		if Distance(p[len(p)-n-1].Point, p[len(p)-n].Point) > strayAtEnd {
			return n
		}
	}
	return 0
}

// straysInside gives the runs of points to leave out.
func straysInside(p []Point, steps []Metres, back Metres) (runs []run, left []Strays) {
	leap := max(strayLeap, back)
	for i := 1; i+1 < len(p); i++ {
		if steps[i] <= leap {
			continue
		}
		if n := strayRun(p, steps, i, back, leap); n > 0 {
			runs = append(runs, run{i, i + n})
			left = append(left, Strays{Points: n, Away: steps[i]})
			i += n // the point behind the run has been looked at
		}
	}
	return runs, left
}

// strayRun gives the length of the shortest run from i on that is left by a leap
// back to where it came from; 0 if there is none.
func strayRun(p []Point, steps []Metres, i int, back, leap Metres) int {
	for n := 1; n <= maxStrays && i+n < len(p); n++ {
		if steps[i+n] > leap && Distance(p[i-1].Point, p[i+n].Point) <= back {
			return n
		}
	}
	return 0
}
