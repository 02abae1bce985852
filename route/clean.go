package route

// A cleaning takes out of a segment what was never ridden: leaps of a recorder
// that lost its satellites, and the cloud of points that it draws while the bike
// stands. It works on the points as the file has them and remembers which are
// left.
type cleaning struct {
	points   []Point
	kept     []int // indices into the file's segment, in order; nil for all of them
	strays   []Strays
	suspects []Halt // not taken out
	halts    []Halt // without At; their points are counted among those that are left
}

// clean takes strays and the jitter of halts out of a segment. steps are those to
// its points, median is that of the whole file.
func clean(points []Point, steps []Metres, median Metres) cleaning {
	c := cleaning{points: points}
	c.dropStrays(steps, median)
	c.dropJitter()
	return c
}

// drop leaves out runs of the points that are left so far.
func (c *cleaning) drop(runs []run) {
	if len(runs) == 0 {
		return
	}
	points, kept := make([]Point, 0, len(c.points)), make([]int, 0, len(c.points))
	next := 0
	for i, p := range c.points {
		for next < len(runs) && runs[next].to <= i {
			next++
		}
		if next == len(runs) || i < runs[next].from {
			points, kept = append(points, p), append(kept, c.index(i))
		}
	}
	c.points, c.kept = points, kept
}

// index gives where a point that is left stands in the file's segment.
func (c *cleaning) index(i int) int {
	if c.kept == nil {
		return i
	}
	return c.kept[i]
}

// A run is a range of points [from, to).
type run struct{ from, to int }
