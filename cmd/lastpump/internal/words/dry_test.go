package words_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/fuel/wayout"
	"lastpump/route"
)

// offRoad is a ride of 250 km with a pump in the middle, from which only a road of 40 km leads to
// another: of the 3.75 L that are left, 2.46 at the most, it takes 2.41.
func offRoad(t *testing.T, standing stop.Standing, km float64) *plan.Plan {
	far := pump("Far", 125, 20)
	far.Standing = standing
	in := ride(straight(t, 250), pump("A", 125, 0), far)
	w := wayout.Way{From: "A", At: 125e3, TurnOff: in.Stops[0].At, To: "Far", Pump: far.At, Climbed: true, Descended: true, Road: "A 1", Toward: "E"}
	w.Ground[0] = route.Kilometres(km)
	in.Roads = []wayout.Way{w}
	p, err := plan.Make(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What is said of a way out in a table: where to, how far, by which road and what is left.
func TestOffByRoadIsSaid(t *testing.T) {
	plain := func(s string) string { return s }
	p := offRoad(t, stop.Seen, 40)
	v := words.Of(p, units.Metric)
	if got, want := v.IfDryCell(p.Visits[0].IfDry, plain), "off to Far, 40 km by road (E on A 1), 0.0 spare"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := v.Answer()[1]; !strings.HasPrefix(got, "If any one pump is dry, the next, the last or one by road is within reach.") {
		t.Error(got)
	}
	p = offRoad(t, stop.Map, 40)
	v = words.Of(p, units.Metric)
	if got := warned.Of(v).Warning(p.Warnings[0]); p.Visits[0].IfDry.Outcome != leg.Stranded ||
		!strings.HasSuffix(got, "; perhaps off to Far, 40 km by road (E on A 1): nobody has confirmed it within a year: phone, and it counts") {
		t.Error(got)
	}
}

// Each reason not to lean on a way out has words.
func TestEachPerhapsIsSaid(t *testing.T) {
	v := words.Of(offRoad(t, stop.Map, 40), units.Metric)
	said := map[string]bool{}
	for _, why := range trip.AllPerhaps() {
		text := v.PerhapsOff(trip.Off{Why: why})
		if strings.HasSuffix(text, ": ") || said[text] {
			t.Errorf("%s: %q", why, text)
		}
		said[text] = true
	}
}
