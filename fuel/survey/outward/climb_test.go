package outward

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// Up 120 m, down 60, up 30: 150 m of climb, by the arithmetic of whoever wrote it. Where
// heights are missing for over a kilometre it is not known.
func TestClimbOfAWay(t *testing.T) {
	const degree = 111194.9 // metres of latitude
	w := Way{Shape: []orb.Point{{10, 45}, {10, 45 + 4000/degree}, {10, 45 + 4010/degree}, {10, 45 + 9000/degree}}}
	height := func(at float64) float64 {
		switch {
		case at < 4000:
			return 500 + 120*at/4000
		case at < 7000:
			return 620 - 60*(at-4000)/3000
		}
		return 560 + 30*(at-7000)/2000
	}
	profile := w.Profile()
	if len(profile) < 180 {
		t.Fatalf("%d places on 9 km", len(profile))
	}
	for i := range profile {
		profile[i].Ele, profile[i].HasEle = height((profile[i].Point[1]-45)*degree), true
	}
	if w.ClimbBy(profile); !w.Climbed || math.Abs(float64(w.Climb)-150) > 2 {
		t.Errorf("%v m of climb, known: %v", w.Climb, w.Climbed)
	}
	hole := Way{Shape: w.Shape}
	for i := range profile {
		if at := (profile[i].Point[1] - 45) * degree; at > 2000 && at < 3500 {
			profile[i].HasEle = false
		}
	}
	if hole.ClimbBy(profile); hole.Climbed {
		t.Errorf("over a hole it climbs %v m", hole.Climb)
	}
	var none Way
	if none.ClimbBy(none.Profile()); none.Climbed {
		t.Error("a way without length has a climb")
	}
}
