package plan_test

import (
	"testing"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// The rules of this file are the project's own, common practice without a
// source: 2 km of corridor, 300 m on the line, 2 × 1.3 × the straight beyond.
func TestDetours(t *testing.T) {
	p := make1(t, ride(straight(t, 100), pump("on", 20, 0.299), pump("off", 50, 0.301), pump("far", 80, 1.999), pump("not", 90, 2.001)))
	wantNear(t, "detour at 299 m", float64(visit(t, p, "on").Detour), 0)
	off := visit(t, p, "off")
	wantNear(t, "detour at 301 m", off.Detour.Kilometres(), 2*1.3*off.Off.Kilometres())
	if len(p.NotUsed) != 1 || p.NotUsed[0].Stop != "not" {
		t.Fatalf("not used: %v", p.NotUsed)
	}
	// Half of each detour lies on each of the legs beside it.
	far := visit(t, p, "far").Detour.Kilometres()
	apart := (visit(t, p, "far").At - off.At).Kilometres()
	wantNear(t, "leg from off to far", p.Legs[2].Drink.Ridden.Kilometres(), apart+off.Detour.Kilometres()/2+far/2)
	wantNear(t, "litres of its detour", float64(p.Legs[2].Detour), (off.Detour.Kilometres()/2+far/2)*0.05)
	wantNear(t, "last leg", p.Legs[3].Drink.Ridden.Kilometres(), 100-visit(t, p, "far").At.Kilometres()+far/2)
}

func TestNotCounted(t *testing.T) {
	hearsay, diesel, paper := pump("hearsay", 20, 0), pump("diesel", 30, 0), pump("paper", 40, 0)
	hearsay.Standing, paper.Standing = stop.Hearsay, stop.Map
	diesel.Grades, diesel.Other = nil, []string{"diesel"}
	in := ride(straight(t, 100), hearsay, diesel, paper, pump("left out", 50, 1), pump("good", 60, 0))
	in.Options.Skip = []string{"Left Out"}
	in.Options.Trust = stop.Phoned
	p := make1(t, in)
	for name, want := range map[string]string{"hearsay": "hearsay", "diesel": "no petrol", "paper": "only map", "left out": "skipped", "good": ""} {
		v := visit(t, p, name)
		if string(v.WhyNot) != want || v.Counted != (want == "") || !v.Counted && (v.Fill != nil || v.Detour != 0 || v.Mixture != nil) {
			t.Errorf("%s: %+v, want why not %q", name, v, want)
		}
	}
	if len(p.Legs) != 2 {
		t.Errorf("%d legs, want 2", len(p.Legs))
	}
}

// There and back on one road: the village is passed twice, and is dry twice.
func TestPassedTwice(t *testing.T) {
	p := make1(t, ride(lineOf(t, 0, 100, 0), pump("village", 60, 0), pump("turn", 100, 0)))
	if len(p.Visits) != 3 {
		t.Fatalf("%d visits, want village, turn, village", len(p.Visits))
	}
	wantNear(t, "first", p.Visits[0].At.Kilometres(), 60)
	wantNear(t, "again", p.Visits[2].At.Kilometres(), 140)
	// The second dry village is passed over to the end, 60 km on, with 40 km
	// used of 200: 160 km are left, 100 km to spare, 5 L.
	dry := p.Visits[2].IfDry
	if dry.Outcome != leg.On || key(p, dry.To) != "end" {
		t.Fatalf("village dry: %+v", dry)
	}
	wantNear(t, "spare", float64(dry.Spare), 5)
}

func TestPlaces(t *testing.T) {
	low, known := pump("low", 50, 0, octane.FromRON(80)), pump("meets", 52.9, 0)
	seen, phoned := pump("seen", 80, 1), pump("phoned", 81, 0)
	phoned.Standing = stop.Phoned
	near, off := pump("near", 110, 0.1), pump("off", 109, 0.5)
	p := make1(t, ride(straight(t, 150), low, known, pump("next", 53.1, 0), seen, phoned, near, off))
	var got []string
	for _, v := range p.Visits {
		got = append(got, v.Stop.Name)
	}
	// 3 km are counted from the first stop of a place: 53.1 opens another. A
	// grade that meets first, then standing, then the shorter detour.
	want := []string{"meets", "next", "seen", "near"}
	if len(got) != len(want) {
		t.Fatalf("visits %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("visits %v, want %v", got, want)
		}
	}
	if also := visit(t, p, "meets").Also; len(also) != 1 || also[0] != "low" {
		t.Errorf("also at the place: %v, want low", also)
	}
}

func TestPlaceAtTheEnds(t *testing.T) {
	for _, c := range []struct {
		km, off float64
		legs    int
	}{{0.499, 0, 1}, {0.501, 0, 2}, {0.1, 0.299, 1}, {0.1, 0.301, 2}, {99.501, 0, 1}, {99.499, 0, 2}} {
		p := make1(t, ride(straight(t, 100), pump("ford", c.km, c.off)))
		if len(p.Legs) != c.legs {
			t.Errorf("a pump at km %v, %v km off: %d legs, want %d", c.km, c.off, len(p.Legs), c.legs)
		}
		v := p.Visits[0]
		if isEnd := c.legs == 1; v.Fill == nil || (v.IfDry == nil) != isEnd {
			t.Errorf("a pump at km %v: %+v", c.km, v)
		}
		if c.legs == 1 && (key(p, p.Legs[0].From) != "start" || key(p, p.Legs[0].To) != "end" || p.Legs[0].Drink.Ridden.Kilometres() < 99.9) {
			t.Errorf("a pump at an end: leg %+v", p.Legs[0])
		}
	}
}

func TestSamePlaceDryTogether(t *testing.T) {
	// Out over A and B, which are one place, to C, back over B alone: B dry is A
	// dry, so what lies before the second passing is C.
	p := make1(t, ride(lineOf(t, 0, 100, 0), pump("A", 50, 0), pump("B", 52, 1.5), pump("C", 95, 0)))
	var last trip.Visit
	for _, v := range p.Visits {
		if v.Counted && v.Stop.Name != "C" {
			last = v
		}
	}
	if last.At.Kilometres() < 100 || last.IfDry == nil || key(p, last.IfDry.To) != "end" {
		t.Errorf("second passing: %+v", last)
	}
}
