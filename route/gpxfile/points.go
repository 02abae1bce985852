package gpxfile

import "lastpump/route"

// blockSize is how many points a block holds: 128 KiB.
const blockSize = 4096

// A collector gathers the points of a segment in blocks of fixed size, the first of them
// used again for the next segment, and gives them as one slice of exactly the size
// needed. A slice that doubles as it grows would leave twice as much behind.
type collector struct{ blocks [][]route.Point }

// add puts a point at the end.
func (c *collector) add(p route.Point) {
	last := len(c.blocks) - 1
	if last < 0 || len(c.blocks[last]) == blockSize {
		c.blocks = append(c.blocks, make([]route.Point, 0, blockSize))
		last++
	}
	c.blocks[last] = append(c.blocks[last], p)
}

// take gives all points added since the last call; nil for none.
func (c *collector) take() []route.Point {
	n := 0
	for _, block := range c.blocks {
		n += len(block)
	}
	if n == 0 {
		return nil
	}
	points := make([]route.Point, 0, n)
	for _, block := range c.blocks {
		points = append(points, block...)
	}
	c.blocks = append(c.blocks[:0], c.blocks[0][:0])
	return points
}
