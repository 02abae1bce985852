package outward

import (
	"cmp"

	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/roads/net"

	"github.com/paulmach/orb"
)

// compareOrigins puts what comes first on the line before, and a stop before a place.
func compareOrigins(a, b origin) int {
	return cmp.Or(cmp.Compare(a.along, b.along), cmp.Compare(b.stop, a.stop), cmp.Compare(a.node, b.node))
}

// compareFound puts open ways before others, and then the cheaper before.
func compareFound(a, b found) int {
	last := func(d bool) int {
		if d {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(last(a.doubtful), last(b.doubtful)), cmp.Compare(a.cost, b.cost),
		cmp.Compare(a.source, b.source))
}

// marks gives all that a way has.
func (f *finder) marks(w *net.Ways, way net.Way) (m wayout.Marks) {
	for arc := range w.Steps(way) {
		m |= wayout.Marks(f.net.Edge(arc.Edge).Marks)
	}
	return m
}

// isThere tells whether a way has no road: its pump is where it begins.
func (f *finder) isThere(w *net.Ways, way net.Way) bool {
	for range w.Steps(way) {
		return false
	}
	return true
}

// leaves tells whether a way leaves the line with its first road.
func (f *finder) leaves(w *net.Ways, way net.Way) bool {
	for arc := range w.Steps(way) {
		return !f.near.along(arc.Edge)
	}
	return false
}

// noteLeaving notes the place at which a way leaves the line.
func (f *finder) noteLeaving(w *net.Ways, node int32, way net.Way) {
	for arc := range w.Steps(way) {
		if !f.near.along(arc.Edge) {
			f.noteAt(node)
			return
		}
		node = arc.To
	}
}

// wayOf makes a way out of one on the net.
func (f *finder) wayOf(w *net.Ways, o origin, way net.Way) Way {
	pump := f.Roads.Pumps[way.Source]
	out := Way{Way: wayout.Way{At: f.Line.FileAt(o.along), To: pump.Name, Pump: pump.Stop.At}}
	if o.stop >= 0 {
		out.From = f.listed[o.stop].Name
	}
	turn := o.node
	first := int32(-1) // road behind the turn-off
	come, left := f.near.has(f.net, o.node), !f.comesBy(w, o.node, way)
	for arc := range w.Steps(way) {
		e := f.net.Edge(arc.Edge)
		out.Ground[e.Ground] += e.Length
		out.Marks |= wayout.Marks(e.Marks)
		out.Shape = f.extend(out.Shape, arc)
		left = left || come && !f.near.along(arc.Edge)
		come = come || f.near.has(f.net, arc.To)
		switch {
		case left && first < 0:
			first = arc.Edge
		case !left:
			turn = arc.To
		}
	}
	if !left { // all of it is the line
		turn, out.Marks = o.node, out.Marks|wayout.AlongLine
		for arc := range w.Steps(way) {
			first = arc.Edge
			break
		}
	}
	out.TurnOff = f.net.Where(turn)
	if first >= 0 {
		out.Road = f.Roads.Names[f.net.Edge(first).Name]
	}
	if len(out.Shape) == 0 {
		out.Shape = []orb.Point{out.TurnOff}
	}
	out.Toward = toward(out.Shape, out.TurnOff)
	f.addOffs(w, o, way, &out)
	return out
}

// comesBy tells whether a way from a node is on the line somewhere: a stop may lie beside
// it, and the way lead back to it first.
func (f *finder) comesBy(w *net.Ways, node int32, way net.Way) bool {
	if f.near.has(f.net, node) {
		return true
	}
	for arc := range w.Steps(way) {
		if f.near.has(f.net, arc.To) {
			return true
		}
	}
	return false
}

// addOffs adds what the pump and the beginning lie off the roads, each on the ground of
// the road there.
func (f *finder) addOffs(w *net.Ways, o origin, way net.Way, out *Way) {
	off, on := w.Off(way.Source)
	out.Ground[on] += off
	from := f.Line.At(o.along)
	if o.stop >= 0 {
		from = f.listed[o.stop].Stop.At
	}
	for arc := range w.Steps(way) {
		on = f.net.Edge(arc.Edge).Ground
		break
	}
	out.Ground[on] += route.Distance(from, f.net.Where(o.node))
}

// extend adds the shape of an arc.
func (f *finder) extend(shape []orb.Point, arc net.Arc) []orb.Point {
	var points []orb.Point
	for p := range f.net.Points(arc.Edge) {
		points = append(points, p)
	}
	for i := range points {
		p := points[i]
		if arc.Backwards {
			p = points[len(points)-1-i]
		}
		if n := len(shape); n == 0 || shape[n-1] != p {
			shape = append(shape, p)
		}
	}
	return shape
}

// toward tells which way a shape goes behind a place on it, over the first 300 m.
func toward(shape []orb.Point, from orb.Point) string {
	const far route.Metres = 300
	gone, on := route.Metres(0), false
	for i, p := range shape {
		if on {
			gone += route.Distance(shape[i-1], p)
		}
		on = on || p == from
		if gone >= far || on && i == len(shape)-1 {
			return wayout.Toward(from, p)
		}
	}
	return ""
}

// drawnKey is a place on the way to a pump.
type drawnKey struct {
	source int32
	at     orb.Point
}

// joins tells from which of its points on a shape is drawn already, and notes the rest.
func joins(drawn map[drawnKey]bool, source int32, shape []orb.Point) int {
	for i, p := range shape {
		k := drawnKey{source, p}
		if drawn[k] {
			return i + 1
		}
		drawn[k] = true
	}
	return len(shape)
}
