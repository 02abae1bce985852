package landscape

import (
	"slices"

	"lastpump/route"
	"lastpump/route/land"
	"lastpump/route/osmfile"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// leastLake is how large a lake is at the least, in square metres: 250 by 800 m, a millimetre
// or so on a sheet of 1:500 000. Our estimate.
const leastLake = 200_000

// outline gives a lake of closed rings, the greatest first; nothing of one that is small.
func outline(outer, inner []orb.Ring) (out []orb.Polygon) {
	for _, ring := range outer {
		if land.Area(ring) < leastLake {
			continue
		}
		lake := orb.Polygon{turned(ring, orb.CCW)}
		for _, island := range inner {
			if land.Area(island) >= leastLake && planar.RingContains(ring, island[0]) {
				lake = append(lake, turned(island, orb.CW))
			}
		}
		out = append(out, lake)
	}
	return out
}

// turned gives a ring that goes round one way, as RFC 7946, 3.1.6 wants it.
func turned(r orb.Ring, way orb.Orientation) orb.Ring {
	r = r.Clone()
	if r.Orientation() != way {
		r.Reverse()
	}
	return r
}

// lakes gives what there is of all lakes: those that are whole by their outlines, of the
// others the shores that are known. Ways are told that are part of a lake.
func (c *Collector) lakesAndShores() (out []land.Feature) {
	part := map[int64]bool{}
	shore := func(class, name string, w *way) {
		for _, b := range w.bits {
			out = append(out, land.Feature{Kind: land.Shore, Class: class, Name: name, Geometry: b})
		}
	}
	for _, id := range sorted(c.lakes) {
		l := c.lakes[id]
		for _, m := range l.members {
			part[m.ID] = true
		}
		outer, whole := c.rings(l, false)
		inner, _ := c.rings(l, true)
		if whole {
			for _, p := range outline(outer, inner) {
				out = append(out, land.Feature{Kind: land.Lake, Class: l.class, Name: l.name, Geometry: p})
			}
			continue
		}
		for _, m := range l.members {
			if w := c.ways[m.ID]; w != nil && m.Role != "inner" {
				shore(l.class, l.name, w)
			}
		}
	}
	for _, id := range sorted(c.ways) {
		w := c.ways[id]
		switch {
		case w.kind == land.Lake && w.closed() && !part[id]:
			for _, p := range outline([]orb.Ring{orb.Ring(w.bits[0])}, nil) {
				out = append(out, land.Feature{Kind: land.Lake, Class: w.class, Name: w.name, Geometry: p})
			}
		case (w.kind == land.Lake || w.kind == land.Shore) && !part[id]:
			shore(w.class, w.name, w)
		}
	}
	return out
}

// rings puts together the outlines of a lake, or of its islands, from the ways that they are
// made of; whole tells whether none is missing or open.
func (c *Collector) rings(l lake, islands bool) (out []orb.Ring, whole bool) {
	whole = true
	var open []*way
	for _, m := range l.members {
		switch w := c.ways[m.ID]; {
		case (m.Role == "inner") != islands:
		case w == nil:
			whole = false
		case w.closed():
			out = append(out, orb.Ring(w.bits[0]))
		case w.whole:
			open = append(open, w)
		default:
			whole = false
		}
	}
	for len(open) > 0 {
		ring, end, first := open[0].bits[0].Clone(), open[0].last, open[0].first
		open = open[1:]
		for end != first {
			k := slices.IndexFunc(open, func(w *way) bool { return w.first == end || w.last == end })
			if k < 0 {
				break
			}
			w, more := open[k], open[k].bits[0].Clone()
			open = slices.Delete(open, k, k+1)
			if end = w.last; ring[len(ring)-1] != more[0] {
				more.Reverse()
				end = w.first
			}
			ring = append(ring, more[1:]...)
		}
		if end != first || len(ring) < 4 {
			whole = false
			continue
		}
		out = append(out, orb.Ring(ring))
	}
	return out, whole
}

func sorted[V any](m map[int64]V) []int64 {
	keys := make([]int64, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// Budgets of a file, so that it stays under a megabyte. What is beyond is left out, the least
// classes first; then outlines are drawn more roughly.
const (
	mostBytes    = 800_000 // of lines and lakes
	mostTowns    = 1500    // of a hundred bytes each
	pointBytes   = 18
	featureBytes = 130
)

// tolerances are how far outlines may be off, the finest first. 50 m are a fifth of a
// millimetre on a sheet of 1:250 000.
var tolerances = []route.Metres{50, 75, 110, 165, 250, 375, 560}

// Land makes a land of what was taken in, so far off the line as that was looked for. Line and
// attribution are left to the caller.
func (c *Collector) Land(within route.Metres) *land.Land {
	waters := append(c.lakesAndShores(), c.along(land.River, "")...)
	var roads [][]land.Feature // by class, the greatest first
	for _, class := range land.RoadClasses {
		roads = append(roads, c.along(land.Road, class))
	}
	lesser := len(roads) - 1 // is taken where there is room for it
	for _, classes := range [][][]land.Feature{roads, roads[:lesser]} {
		for i, t := range tolerances {
			if i > 0 && len(classes) > lesser {
				break // better without the least roads than rough
			}
			l := &land.Land{Within: within, Tolerance: t, Features: thinned(slices.Concat(waters, slices.Concat(backward(classes)...)), t)}
			if bytes(l.Features) <= c.budget || i == len(tolerances)-1 {
				l.Features = append(l.Features, c.townsTaken()...)
				return l
			}
		}
	}
	return nil
}

func backward(classes [][]land.Feature) [][]land.Feature {
	out := slices.Clone(classes)
	slices.Reverse(out)
	return out
}

// along gives the lines of a kind and class, joined where they are of one name.
func (c *Collector) along(k land.Kind, class string) (out []land.Feature) {
	type of struct{ class, name string }
	by := map[of][]orb.LineString{}
	var order []of
	for _, id := range sorted(c.ways) {
		w := c.ways[id]
		if w.kind != k || class != "" && w.class != class {
			continue
		}
		key := of{w.class, w.name}
		if by[key] == nil {
			order = append(order, key)
		}
		by[key] = append(by[key], w.bits...)
	}
	for _, key := range order {
		for _, line := range land.Joined(by[key]) {
			for _, bit := range land.Cut(line) {
				out = append(out, land.Feature{Kind: k, Class: key.class, Name: key.name, Geometry: bit})
			}
		}
	}
	return out
}

// thinned gives features with no more points than a tolerance asks for, as they are written. A
// lake that is too small for it is left out, one across 180° is drawn by its shore.
func thinned(in []land.Feature, t route.Metres) (out []land.Feature) {
	for _, f := range in {
		switch g := f.Geometry.(type) {
		case orb.LineString:
			for _, bit := range land.Cut(g) {
				if line := asWritten(bit, t); len(line) > 1 {
					f.Geometry = line
					out = append(out, f)
				}
			}
		case orb.Polygon:
			if b := g.Bound(); b.Max[0]-b.Min[0] > 180 {
				shore := land.Feature{Kind: land.Shore, Class: f.Class, Name: f.Name, Geometry: orb.LineString(g[0])}
				out = append(out, thinned([]land.Feature{shore}, t)...)
			} else if rings := thinnedRings(g, t); len(rings) > 0 {
				f.Geometry = rings
				out = append(out, f)
			}
		}
	}
	return out
}

// asWritten thins a line to a tolerance, its places as they are written.
func asWritten(line orb.LineString, t route.Metres) (kept orb.LineString) {
	for _, p := range land.Thinned(line, t-early-roundBy) {
		if p = land.Rounded(p); len(kept) == 0 || kept[len(kept)-1] != p {
			kept = append(kept, p)
		}
	}
	return kept
}

// thinnedRings does the same with an outline and its islands; none of one that is too small.
func thinnedRings(g orb.Polygon, t route.Metres) (rings orb.Polygon) {
	way := orb.CCW
	for i, ring := range g {
		r := orb.Ring(asWritten(orb.LineString(ring), t))
		switch {
		case len(r) >= 4 && r.Orientation() != 0:
			rings = append(rings, turned(r, way))
		case i == 0:
			return nil
		}
		way = orb.CW
	}
	return rings
}

// bytes gives about how long features are in a file.
func bytes(all []land.Feature) (n int) {
	for _, f := range all {
		n += featureBytes + len(f.Name)
		switch g := f.Geometry.(type) {
		case orb.LineString:
			n += len(g) * pointBytes
		case orb.Polygon:
			for _, ring := range g {
				n += len(ring) * pointBytes
			}
		}
	}
	return n
}

// townsTaken gives towns from the greatest class down, as long as there is room for them.
func (c *Collector) townsTaken() (out []land.Feature) {
	refs := make([]osmfile.Ref, 0, len(c.towns))
	for ref := range c.towns {
		refs = append(refs, ref)
	}
	slices.SortFunc(refs, osmfile.Ref.Compare)
	for _, class := range land.TownClasses {
		var all []land.Feature
		for _, ref := range refs {
			if t := c.towns[ref]; t.class == class && c.inside(t.at) {
				all = append(all, land.Feature{Kind: land.Town, Class: class, Name: t.name, Geometry: land.Rounded(t.at)})
			}
		}
		if len(out) > 0 && len(out)+len(all) > mostTowns {
			break
		}
		out = append(out, all...)
	}
	return out
}
