package gpxfile

import (
	"slices"

	"lastpump/route"
)

const (
	firstBlock = 64   // points, 2 KiB: most segments of most files are short
	blockSize  = 4096 // points, 128 KiB
)

// A collector gathers the points of a segment in blocks of fixed size, used
// again for the next segment, and gives them as one slice of exactly the size
// needed. A slice that doubles as it grows would leave twice as much behind.
type collector struct {
	blocks [][]route.Point
	used   int // blocks that have points
}

// add puts a point at the end.
func (c *collector) add(p route.Point) {
	last := c.used - 1
	if last < 0 || len(c.blocks[last]) == cap(c.blocks[last]) {
		c.grow()
		last++
	}
	c.blocks[last] = append(c.blocks[last], p)
}

func (c *collector) grow() {
	switch c.used {
	case len(c.blocks):
		size := blockSize
		if c.used == 0 {
			size = firstBlock
		}
		c.blocks = append(c.blocks, slices.Grow([]route.Point(nil), size)) // unlike make, not zeroed first
	default:
		c.blocks[c.used] = c.blocks[c.used][:0]
	}
	c.used++
}

// take gives all points added since the last call; nil for none.
func (c *collector) take() []route.Point {
	n := 0
	for _, block := range c.blocks[:c.used] {
		n += len(block)
	}
	if n == 0 {
		return nil
	}
	points := make([]route.Point, 0, n)
	for _, block := range c.blocks[:c.used] {
		points = append(points, block...)
	}
	c.used = 0
	return points
}
