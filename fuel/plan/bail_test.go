package plan_test

import (
	"testing"

	"lastpump/fuel/bailout"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// A pump of the rider's own list stands in place of a farther one of the map, or of none; a stop that
// is not counted does not, and a nearer one of the map stays. A is on the line at km 60, B 1 km off it
// at km 120: half a detour of 1.3 km.
func TestBailOutsKnowTheRidersPumps(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 60, 0), pump("B", 120, 1), changedStop(pump("rumour", 200, 0), func(s *stop.Stop) { s.Standing = stop.Hearsay }))
	mark := func(km float64, ways ...bailout.Way) bailout.Mark {
		m := bailout.Mark{At: route.Metres(km * 1000), Ways: ways}
		for i := range m.Ways {
			m.Ways[i].At = m.At
		}
		return m
	}
	onMap := func(km float64) bailout.Way {
		return bailout.Way{Kind: bailout.Pump, To: "map", Length: route.Metres(km * 1000)}
	}
	village := bailout.Way{Kind: bailout.Village, To: "village", Length: 1000}
	in.Bail = []bailout.Mark{mark(50, village, onMap(40)), mark(125), mark(200, onMap(90)), mark(225, onMap(20))}
	p := make1(t, in)
	for i, want := range []struct {
		to string
		km float64
	}{{"A", 10}, {"B", 5 + 1.3}, {"B", 80 + 1.3}, {"map", 20}} {
		w := p.Bail[i].Way(bailout.Pump)
		if w == nil || w.To != want.to {
			t.Errorf("mark %d: %+v, want %s", i, w, want.to)
			continue
		}
		wantNear(t, w.To, w.Length.Kilometres(), want.km)
	}
	if w := p.Bail[0].Way(bailout.Village); w == nil || w.To != "village" || p.Bail[0].Ways[0].Kind != bailout.Village {
		t.Errorf("%+v", p.Bail[0])
	}
	if len(in.Bail[0].Ways) != 2 || in.Bail[0].Ways[1].To != "map" {
		t.Errorf("what was given is changed: %+v", in.Bail[0])
	}
}

// Beyond a gap of the line, here a ferry from km 50 to km 80, nobody is led: from km 45 the pump at the
// pier, free of fuel to come to, is not taken in place of the one 40 km away by the map.
func TestBailOutsNotOverAGap(t *testing.T) {
	var here, there []route.Point
	for k := range 51 {
		here = append(here, route.Point{Point: at(float64(k), 0), HasEle: true})
		there = append(there, route.Point{Point: at(float64(k)+80, 0), HasEle: true})
	}
	in := ride(lineWith(t, route.LineOptions{Stretch: 1, Gaps: route.GapsSkip}, here, there), pump("pier", 80, 0))
	onMap := bailout.Way{Kind: bailout.Pump, To: "map", Length: 40e3}
	in.Bail = []bailout.Mark{{At: 45e3, Ways: []bailout.Way{onMap}}, {At: 90e3, Ways: []bailout.Way{onMap}}}
	p := make1(t, in)
	for i, want := range []string{"map", "pier"} {
		if w := p.Bail[i].Way(bailout.Pump); w == nil || w.To != want {
			t.Errorf("mark %d: %+v, want %s", i, w, want)
		}
	}
}
