package paper

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/simplify"
)

// A bit is a stretch of line that is being gathered.
type bit struct {
	into *[]orb.LineString
	now  orb.LineString
}

func (b *bit) add(from, to orb.Point) {
	if len(b.now) == 0 {
		b.now = append(b.now, from)
	}
	b.now = append(b.now, to)
}

// end puts what of the stretch is in a frame where it belongs, and begins anew.
func (b *bit) end(frame orb.Bound) {
	if len(b.now) > 1 && frame.Intersects(b.now.Bound()) {
		for _, part := range clip.LineString(frame, b.now) {
			if part = simplify.DouglasPeucker(mapFine).LineString(part); len(part) > 1 {
				*b.into = append(*b.into, part)
			}
		}
	}
	b.now = nil
}

// spaces knows where there is room for words on a sheet.
type spaces struct {
	frame orb.Bound
	taken []orb.Bound
	lines []orb.LineString // that no word should lie on
}

// free tells whether a box lies in the frame and on no other word or mark.
func (s *spaces) free(b orb.Bound) bool {
	return b.Min[0] >= s.frame.Min[0]+1 && b.Min[1] >= s.frame.Min[1]+1 && b.Max[0] <= s.frame.Max[0]-1 &&
		b.Max[1] <= s.frame.Max[1]-1 && !slices.ContainsFunc(s.taken, b.Intersects)
}

// clear tells whether no line goes through a box.
func (s *spaces) clear(b orb.Bound) bool {
	for _, l := range s.lines {
		if l.Bound().Intersects(b) && len(clip.LineString(b, l)) > 0 {
			return false
		}
	}
	return true
}

// beside finds a box of a size beside a place, so far from it at the least, the nearer the better: clear
// of lines, or else, where something must stand, on them.
func (s *spaces) beside(at orb.Point, wide, high, gap float64, must bool) (b orb.Bound, clear, ok bool) {
	aways := []float64{0, 5, 12, 22, 36}
	if must {
		aways = append(aways, 55, 80, 110)
	}
	for _, clear := range []bool{true, false} {
		if !clear && !must {
			break
		}
		for _, away := range aways {
			far := gap + away
			for k := range 16 {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / 16)
				x, y := at[0]+cos*far-wide*(1-cos)/2, at[1]+sin*far-high*(1-sin)/2
				b := orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + wide, y + high}}
				if s.free(b) && (!clear || s.clear(b)) {
					return b, clear, true
				}
			}
		}
	}
	return orb.Bound{}, false, false
}

// take keeps a box for what stands in it.
func (s *spaces) take(b orb.Bound) { s.taken = append(s.taken, b) }

// said are lines of words under each other.
type said struct {
	texts []string
	faces []face
}

// measure gives how wide and high words are.
func (w *pdf) measure(s said) (wide, high float64) {
	for i, t := range s.texts {
		wide = max(wide, w.width(t, s.faces[i]))
		high += s.faces[i].line()
	}
	return wide, high
}

// blank makes a box white, so that nothing of the land runs through words.
func (w *pdf) blank(b orb.Bound) {
	w.SetFillColor(255, 255, 255)
	w.Rect(b.Min[0], b.Min[1], b.Max[0]-b.Min[0], b.Max[1]-b.Min[1], "F")
	w.SetFillColor(0, 0, 0)
}

// set writes words into a box.
func (w *pdf) set(s said, in orb.Bound) {
	y := in.Min[1]
	for i, t := range s.texts {
		f := s.faces[i]
		w.SetFont("face", f.style(), f.size)
		w.Text(in.Min[0]+labelPad, y+f.size*ascent, t)
		y += f.line()
	}
}

// labelPad is the white beside words.
const labelPad = 1.2

// label sets words beside a place, with a thin line to it where they stand away; it tells whether
// there was room.
func (l *leaf) label(at orb.Point, s said, gap float64, must bool) bool {
	wide, high := l.measure(s)
	box, clear, ok := l.room.beside(at, wide+2*labelPad, high, gap, must)
	if !ok {
		return false
	}
	l.room.take(box)
	near := orb.Point{min(max(at[0], box.Min[0]), box.Max[0]), min(max(at[1], box.Min[1]), box.Max[1])}
	if far := math.Hypot(near[0]-at[0], near[1]-at[1]); far > gap+4 {
		l.stroke(line{points: []orb.Point{at, near}, width: 0.3})
	}
	if clear { // no word hides the ride
		l.blank(box)
	}
	l.set(s, box)
	return true
}

func around(p orb.Point, r float64) orb.Bound { return orb.Bound{Min: p, Max: p}.Pad(r) }
