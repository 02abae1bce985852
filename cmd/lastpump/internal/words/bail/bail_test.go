package bail

import (
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/bailout"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/fuel/wayout"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// marks are two of a ride, and one that is behind the rider.
var marks = []bailout.Mark{
	{At: 50_000, Leg: 0, Trip: -12_300},
	{At: 75_000, Leg: 0, Trip: 12_700, Ways: []bailout.Way{
		{Kind: bailout.Village, What: "village", To: "Oskel", At: 75_000, Leave: 83_000, Length: 20_000, Road: "A 12", Toward: "E"},
		{Kind: bailout.Road, What: "secondary", To: "secondary", At: 75_000, Leave: 71_000, Length: 4000, Road: "track", Toward: "N", Marks: wayout.AlongLine},
		{Kind: bailout.Pump, What: "fuel", To: "Passed", At: 75_000, Leave: 75_000, Length: 9000, Road: "residential", Toward: "SW", Goal: orb.Point{1, 1}},
		{Kind: bailout.Clinic, What: "hospital", To: "Saint Ann", At: 75_000, Leave: 75_000, Length: 9000, Road: "Mill Road", Toward: "N", Marks: wayout.Private | wayout.IceRoad},
		{Kind: bailout.Shelter, What: "alpine_hut", To: "High Hut", At: 75_000, Leave: 75_000, Length: 300},
	}},
	{At: 100_000, Leg: 1, Trip: 3000, Ways: []bailout.Way{
		{Kind: bailout.Village, What: "village", To: "Oskel", At: 100_000, Leave: 61_000, Length: 39_500, Road: "A 12", Toward: "E"},
		{Kind: bailout.Village, What: "hamlet", To: "Shut", At: 100_000, Leave: 100_000, Length: 5000, Road: "track", Toward: "W", Marks: wayout.Private},
		{Kind: bailout.Road, What: "primary", To: "A 4", At: 100_000, Leave: 100_000, Length: 100},
		{Kind: bailout.Pump, What: "fuel", To: "Off", At: 100_000, Leave: 100_000, Length: 9000, Road: "track", Toward: "SW", Goal: orb.Point{2, 2}},
	}},
}

func voice(u units.System) Voice {
	return Of(words.Of(&plan.Plan{Bail: marks, Ride: trip.Ride{Visits: []trip.Visit{{Stop: stop.Stop{At: orb.Point{1, 1}}}}}}, u))
}

// Each way is told with how far, along what first, by which road, and what may be shut; what is not
// known is no none.
func TestWaysAreTold(t *testing.T) {
	v := voice(units.Metric)
	var got []string
	for i := range marks {
		for _, table := range v.Tables() {
			got = append(got, strings.Join(v.Row(&marks[i], table.Kinds), " | "))
		}
	}
	want := []string{
		"50 | ? | ? | ?", "50 | ? | ? | ? | ?",
		"75 | Oskel 20 km: 8.0 km on, then A 12 E | secondary road 4.0 km back | Passed 9.0 km by the road SW",
		"75 | Saint Ann (hospital) 9.0 km by Mill Road N, private, ice road | ? | High Hut (alpine hut) here | ?",
		"100 | Oskel 40 km back; or Shut (hamlet) 5.0 km by the track W, private | A 4 (primary road) here | Off 9.0 km by the track SW", "100 | ? | ? | ? | ?",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// In short, by the trip meter, leg by leg, each way with where it goes; of what is behind the rider how far behind.
func TestLegsAreTold(t *testing.T) {
	for u, want := range map[units.System][]string{
		units.Metric: {"12 km behind you: village not known; road not known", "trip 13: Oskel 20 km: 8.0 km on, then A 12 E; road 4.0 km back",
			"trip 3.0: Oskel 40 km back; or Shut 5.0 km by the track W, private; road here"},
		units.US: {"7.6 mi behind you: village not known; road not known", "trip 7.9: Oskel 12 mi: 5.0 mi on, then A 12 E; road 2.5 mi back",
			"trip 1.9: Oskel 25 mi back; or Shut 3.1 mi by the track W, private; road here"},
	} {
		if got := slices.Concat(voice(u).OnLeg(0), voice(u).OnLeg(1), voice(u).OnLeg(2)); !slices.Equal(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Nobody rides the wrong way for a road: on, back and by which road stand beside its distance, and what
// may be shut.
func TestWayToTheRoadIsTold(t *testing.T) {
	way := func(leave, length route.Metres, road, toward string, m wayout.Marks) bailout.Way {
		return bailout.Way{Kind: bailout.Road, What: "secondary", To: "secondary", At: 50_000, Leave: leave, Length: length, Road: road, Toward: toward, Marks: m}
	}
	for want, w := range map[string]bailout.Way{
		"road 19 km back":                       way(31_000, 19_000, "track", "N", wayout.AlongLine),
		"road 19 km on":                         way(69_000, 19_000, "track", "N", wayout.AlongLine),
		"road 12 km by the track SW":            way(50_000, 12_000, "track", "SW", 0),
		"road 24 km: 11 km back, then B 7 N":    way(39_000, 24_000, "B 7", "N", 0),
		"road 12 km by the track SW, private":   way(50_000, 12_000, "track", "SW", wayout.Private),
		"road 24 km: 11 km on, then the road E": way(61_000, 24_000, "residential", "E", 0),
		"road here":                             way(50_000, 200, "track", "SW", 0),
	} {
		v := Of(words.Of(&plan.Plan{Bail: []bailout.Mark{{At: 50_000, Trip: 50_000, Ways: []bailout.Way{w}}}}, units.Metric))
		if got := v.OnLeg(0); len(got) != 1 || got[0] != "trip 50: village not known; "+want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Those at home get each place once, with the marks that it is near to; a pump that the ride passes
// stands in another table, and a road without a name is called by what it is.
func TestPlacesForHome(t *testing.T) {
	v := voice(units.Metric)
	var got []string
	for _, p := range v.Places(func(bailout.Place) string { return "there" }) {
		got = append(got, p.Name+" "+p.Where+" "+p.Near)
	}
	if want := []string{"Oskel, village there 75–100", "Saint Ann, hospital (the road may be shut) there 75", "Shut, hamlet (the road may be shut) there 100", "Off, pump there 100"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := v.Roads(), "The nearest roads on which others come by: secondary road (75); A 4 (100)."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
