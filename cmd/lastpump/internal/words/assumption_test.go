package words_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// An assumed is an assumption in words.
type assumed struct {
	Value string
	Mark  plan.Mark
}

// Every figure that the plan rests on is among the assumptions, with its mark.
func TestAssumptions(t *testing.T) {
	in := ride(straight(t, 190), changedStop(pump("A", 100, 0), func(s *stop.Stop) { s.Grades = nil }))
	in.Options.Reserve = plan.DefaultOptions().Reserve
	in.Bike.Own = map[route.Ground]fuel.Weight{route.Paved: {Low: 0.9, Likely: 1, High: 1.1}}
	got := map[string]assumed{}
	p := make1(t, in)
	for _, a := range p.Assumptions {
		name, value := say(p).Assumption(a)
		got[name] = assumed{value, a.Mark}
	}
	for name, want := range map[string]assumed{
		"Stretch":            {Value: "the ride is 1.000 times as long as the line", Mark: plan.Given},
		"Reserve":            {Value: "the larger of 15 % of the usable tank and 30 km", Mark: plan.Common},
		"Fuel at the start":  {Value: "10.0 L usable in the tank", Mark: plan.OurOwn},
		"Grade at the start": {Value: "what the engine needs, 95 RON", Mark: plan.OurOwn},
		"Usable fuel":        {Value: "10.0 L of 10.5 L; the rest does not reach the engine", Mark: plan.Common},
		"Consumption": {Value: "5.00 L/100 km on paved road, by the kilometres the bike shows; odometer 1; learnt from 40 tanks of your own: 1 times that",
			Mark: plan.Given},
		"Thirst": {Value: "1 times", Mark: plan.Given},
		"Ground": {Value: "times paved road: paved 1.00 (0.90–1.10) (yours)", Mark: plan.OurOwn},
		"Ethanol": {Value: "measured on E10, ridden on E10: 1.000 times (US Department of Energy, heating values)",
			Mark: plan.Published},
		"Grade not known": {Value: "somewhere from 80 RON to the need", Mark: plan.OurOwn},
	} {
		if a := got[name]; a.Value != want.Value || a.Mark != want.Mark {
			t.Errorf("%s: %q (%s), want %q (%s)", name, a.Value, a.Mark, want.Value, want.Mark)
		}
	}
	for name := range got {
		if name == "Gaps" || name == "Climb not known" {
			t.Errorf("%s is assumed, and there is none", name)
		}
	}
}

// Assumptions that only some rides rest on.
func TestAssumptionsOfTheLine(t *testing.T) {
	far := newPen()
	far.Here, far.Points = at(120, 0), nil
	far.Dot().North(50)
	points := newPen().North(100).Points
	for i := range points {
		points[i].HasEle = false
	}
	in := ride(lineWith(t, route.LineOptions{}, points, far.Points))
	in.Bike.TrueRate = true
	in.Options.StartGrade = ron(98)
	in.Options.SinceFill = 20000
	got := map[string]assumed{}
	p := make1(t, in)
	for _, a := range p.Assumptions {
		name, value := say(p).Assumption(a)
		got[name] = assumed{value, a.Mark}
	}
	for name, want := range map[string]assumed{
		"Gaps": {Value: "ridden at 1.3 times the straight, unless skipped", Mark: plan.OurOwn},
		"Climb not known": {Value: "8 m a kilometre of line; 2 m a kilometre in the low and 18 m a " +
			"kilometre in the high figures: the middle and the tenths at both ends of 172 recorded rides", Mark: plan.OurOwn},
		"Grade at the start": {Value: "98 RON", Mark: plan.Given},
		"Consumption":        {Value: "5.00 L/100 km on paved road, by true kilometres; learnt from 40 tanks of your own: 1 times that", Mark: plan.Given},
	} {
		if a := got[name]; a.Value != want.Value || a.Mark != want.Mark {
			t.Errorf("%s: %q (%s), want %q (%s)", name, a.Value, a.Mark, want.Value, want.Mark)
		}
	}
	if got["Fuel at the start"].Mark != plan.Given || got["Stretch"].Mark != plan.OurOwn ||
		!strings.Contains(got["Stretch"].Value, "1.0 km apart") {
		t.Errorf("%+v, %+v", got["Fuel at the start"], got["Stretch"])
	}
}

// What a part that is drawn coarsely hides is said, however fine the rest is: 100 km
// of points each 400 m, of which the stretch is known to within 8.4 %, after
// 100 km of points each 20 m.
func TestTheCoarsePartIsSaid(t *testing.T) {
	var fine, coarse []route.Point
	for i := range 5001 {
		fine = append(fine, route.Point{Point: at(float64(i)*0.02, 0), HasEle: true})
	}
	for i := range 250 {
		coarse = append(coarse, route.Point{Point: at(100+float64(i)*0.4, 0), HasEle: true})
	}
	p := make1(t, ride(lineWith(t, route.LineOptions{}, fine, coarse)))
	said := map[string]string{}
	for _, a := range p.Assumptions {
		name, value := say(p).Assumption(a)
		said[name] = value
	}
	if want := "20 m apart on average; nine times in ten within 0.8 %; on 100 km of it only within 8.4 " +
		"%)"; !strings.Contains(said["Stretch"], want) {
		t.Errorf("stretch %q, want %q", said["Stretch"], want)
	}
	if want := "likely up to 20 % more than counted, the points lie so far apart"; !strings.HasSuffix(said["Climb"],
		want) {
		t.Errorf("climb %q, want %q", said["Climb"], want)
	}
}

// What a plan says of its climb goes by how far apart the points lie, as measured on
// recorded rides (TestClimbOfRecordedRides in route).
func TestHowSureTheClimbIs(t *testing.T) {
	of := func(step float64) string {
		var points []route.Point
		for i := range 20 {
			points = append(points, route.Point{Point: at(float64(i)*step/1000, 0), HasEle: true})
		}
		p := make1(t, ride(lineThrough(t, points)))
		for _, a := range p.Assumptions {
			if a.Topic == plan.TopicClimb {
				_, value := say(p).Assumption(a)
				_, doubt, _ := strings.Cut(value, "turning points; ")
				return doubt
			}
		}
		return ""
	}
	const apart = ", the points lie so far apart"
	for _, c := range []struct {
		step float64
		want string
	}{
		{99, "likely within 10 %"}, {101, "likely up to 10 % more than counted" + apart}, {199,
			"likely up to 10 % more than counted" + apart},
		{201, "likely up to 20 % more than counted" + apart}, {499, "likely up to 20 % more than counted" + apart},
		{501, "likely 25 % and more above what is counted" + apart},
	} {
		if got := of(c.step); got != c.want {
			t.Errorf("%v m apart: %q, want %q", c.step, got, c.want)
		}
	}
}

func TestStretchMethod(t *testing.T) {
	for m, want := range map[route.Method]string{
		route.EvenlySpaced:    "evenly spaced points, every second one left out",
		route.FromTable:       "evenly spaced points, from the table of recorded rides",
		route.ShapeSimplified: "shape-simplified line, each chord taken as an arc",
	} {
		if got := words.StretchMethod(m); got != want {
			t.Errorf("%s: %q, want %q", m, got, want)
		}
	}
}
