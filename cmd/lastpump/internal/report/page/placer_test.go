package page

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// No name lies on another, on a mark or over the edge, and none is farther from its
// place than the thin line to it says.
func TestNamesDoNotMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wide, high := rapid.Float64Range(200, 700).Draw(t, "wide"), rapid.Float64Range(150, 700).Draw(t, "high")
		p := newPlacer(wide, high)
		p.keepClear([]dot{{0, high / 2}, {wide, high / 3}})
		var taken []box
		for range rapid.IntRange(1, 60).Draw(t, "places") {
			at := dot{rapid.Float64Range(0, wide).Draw(t, "x"), rapid.Float64Range(0, high).Draw(t, "y")}
			long := rapid.Float64Range(5, 150).Draw(t, "long")
			s, ok := p.label(at, long, 13)
			if !ok {
				continue
			}
			b := s.box
			if math.Abs(b.x1-b.x0-long) > 1e-9 || b.y1-b.y0 < 13 {
				t.Fatalf("%v is not the room of a name %v long", b, long)
			}
			if b.x0 < 0 || b.y0 < 0 || b.x1 > wide || b.y1 > high {
				t.Fatalf("%v is over the edge", b)
			}
			if e := s.end; e.x < b.x0-1e-9 || e.x > b.x1+1e-9 || e.y < b.y0-1e-9 || e.y > b.y1+1e-9 {
				t.Fatalf("the line to it ends at %v, outside %v", e, b)
			}
			if far := at.far(s.end); math.Abs(far-s.away) > 1e-6 {
				t.Fatalf("%v away, not %v", far, s.away)
			}
			for _, o := range taken {
				if b.x0 < o.x1-1e-9 && o.x0 < b.x1-1e-9 && b.y0 < o.y1-1e-9 && o.y0 < b.y1-1e-9 {
					t.Fatalf("%v lies on %v", b, o)
				}
			}
			taken = append(taken, b)
		}
	})
}

// Where nothing else is, a name stands beside its place.
func TestAloneANameStandsNear(t *testing.T) {
	p := newPlacer(400, 300)
	if s, ok := p.label(dot{200, 150}, 60, 13); !ok || s.away > 10 || s.box.x0 < 200 {
		t.Errorf("%v %v", s, ok)
	}
}

// Names that are moved apart keep their order, stand within the bounds and at least so
// far apart; those that were far enough apart stay where they are.
func TestSpreadOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to, apart := 34.0, 328.0, 15.0
		var names []stopName
		x, loose := from, true
		for range rapid.IntRange(1, int((to-from)/apart)+1).Draw(t, "names") {
			names = append(names, stopName{x: x})
			step := rapid.Float64Range(0, 40).Draw(t, "step")
			loose = loose && step >= apart
			x = min(x+step, to)
		}
		loose = loose && x < to
		spreadOut(names, from, to, apart)
		for i, n := range names {
			if n.at < from-1e-9 || n.at > to+1e-9 {
				t.Fatalf("%v is out of bounds", n.at)
			}
			if i > 0 && n.at-names[i-1].at < apart-1e-9 {
				t.Fatalf("%v and %v are too near", names[i-1].at, n.at)
			}
			if loose && n.at != n.x {
				t.Fatalf("%v was moved to %v", n.x, n.at)
			}
		}
	})
}
