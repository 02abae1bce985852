package page

import "math"

// A box is a rectangle of a drawing.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

// A placer finds room for names on a map: no name lies on another or on a mark, and as
// few as may be on the line.
type placer struct {
	edge  box
	taken []box
	names []box           // those of what is taken that are names
	line  map[[2]int]bool // cells that the line goes through
}

// lineCell is the width of such a cell, in dots.
const lineCell = 4

func newPlacer(wide, high float64) *placer {
	return &placer{edge: box{1, 1, wide - 1, high - 1}, line: map[[2]int]bool{}}
}

func (p *placer) take(b box) { p.taken = append(p.taken, b) }

// keepClear marks where a line goes.
func (p *placer) keepClear(dots []dot) {
	for i := 1; i < len(dots); i++ {
		a, b := dots[i-1], dots[i]
		n := int(a.far(b)/lineCell*2) + 1
		for k := range n + 1 {
			share := float64(k) / float64(n)
			x, y := a.x+(b.x-a.x)*share, a.y+(b.y-a.y)*share
			p.line[[2]int{int(math.Floor(x / lineCell)), int(math.Floor(y / lineCell))}] = true
		}
	}
}

// free tells whether a box lies on the map and on nothing that is there already.
func (p *placer) free(b box) bool {
	if b.x0 < p.edge.x0 || b.y0 < p.edge.y0 || b.x1 > p.edge.x1 || b.y1 > p.edge.y1 {
		return false
	}
	for _, t := range p.taken {
		if t.meets(b) {
			return false
		}
	}
	return true
}

// onLine counts the cells of the line under a box.
func (p *placer) onLine(b box) (n int) {
	for x := int(math.Floor(b.x0 / lineCell)); x <= int(b.x1/lineCell); x++ {
		for y := int(math.Floor(b.y0 / lineCell)); y <= int(b.y1/lineCell); y++ {
			if p.line[[2]int{x, y}] {
				n++
			}
		}
	}
	return n
}

// crossed counts the names that the thin line from a place to its name would cross.
func (p *placer) crossed(at, end dot) (n int) {
	long := at.far(end)
	for _, t := range p.names {
		for r := 0.0; r < long; r += lineCell / 2 {
			if x, y := at.x+(end.x-at.x)*r/long, at.y+(end.y-at.y)*r/long; t.meets(box{x, y, x, y}) {
				n++
				break
			}
		}
	}
	return n
}

// A spot is where a name stands.
type spot struct {
	box  box
	end  dot     // of the thin line from the place to its name
	away float64 // from the place to its name
}

// label finds the best room for a name beside a place and takes it: near, and off the
// line.
func (p *placer) label(at dot, wide, size float64) (spot, bool) {
	best, found, least := spot{}, false, math.Inf(1)
	high := size * 1.15
	for _, away := range []float64{9, 14, 22, 34, 48, 64, 80} {
		for k := range 24 {
			angle := 2 * math.Pi * float64(k) / 24
			dx, dy := math.Cos(angle), math.Sin(angle)
			// The nearest edge of the name lies so far away in this direction.
			x, y := at.x+dx*away, at.y+dy*away
			b := box{x - wide*(1-dx)/2, y - high*(1-dy)/2, x + wide*(1+dx)/2, y + high*(1+dy)/2}
			cost := away + 40*float64(p.onLine(b)) + 25*float64(p.crossed(at, dot{x, y})) - 2*dx
			if cost < least && p.free(b) {
				best, found, least = spot{b, dot{x, y}, away}, true, cost
			}
		}
	}
	if found {
		p.take(best.box)
		p.names = append(p.names, best.box)
	}
	return best, found
}
