package plan_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// paved is a level way of so many paved kilometres.
func paved(from string, at, km float64, to stop.Stop) wayout.Way {
	w := wayout.Way{From: from, At: route.Kilometres(at), TurnOff: drawnAt(at), To: to.Name, Pump: to.At, Climbed: true, Descended: true,
		Road: "A 1", Toward: "E"}
	w.Ground[0] = route.Kilometres(km)
	return w
}

func drawnAt(km float64) [2]float64 { return [2]float64(at(km, 0)) }

// out is a ride of 250 km with a pump in the middle that strands if it is dry: 6.25 L are used up
// to there and 3.75 left, of the 6.25 that it takes on or back; at the most (0.05 × 1.155^1.3 L/km)
// 2.46, which is 40.83 km of paved road. Far lies 20 km beside, 36 km by road.
func out(t *testing.T, change func(far *stop.Stop, w *wayout.Way)) plan.Inputs {
	far := pump("Far", 125, 20)
	w := paved("A", 125, 36, far)
	listed := far
	change(&listed, &w)
	in := ride(straight(t, 250), pump("A", 125, 0), listed)
	in.Roads = []wayout.Way{w}
	return in
}

// A way out counts for a dry pump only where all of the rule holds; else it is told as perhaps, and
// the plan is to the last figure that without it.
func TestWaysOutThatCount(t *testing.T) {
	ago := func(d int) func(far *stop.Stop, w *wayout.Way) {
		return func(far *stop.Stop, _ *wayout.Way) {
			far.Standing, far.Confirmed = stop.Phoned, time.Date(2026, 7, 1-d, 0, 0, 0, 0, time.UTC)
		}
	}
	marked := func(m wayout.Marks) func(far *stop.Stop, w *wayout.Way) {
		return func(_ *stop.Stop, w *wayout.Way) { w.Marks = m }
	}
	long := func(km float64) func(far *stop.Stop, w *wayout.Way) {
		return func(_ *stop.Stop, w *wayout.Way) { w.Ground[0] = route.Kilometres(km) }
	}
	for name, c := range map[string]struct {
		change func(far *stop.Stop, w *wayout.Way)
		why    trip.Perhaps
	}{
		"seen":                 {func(*stop.Stop, *wayout.Way) {}, ""},
		"phoned a year ago":    {ago(365), ""},
		"and a day":            {ago(366), trip.NotSure},
		"no day":               {func(far *stop.Stop, _ *wayout.Way) { far.HasConfirmed = false }, trip.NotSure},
		"of the map":           {func(far *stop.Stop, _ *wayout.Way) { far.Standing = stop.Map }, trip.NotSure},
		"hearsay":              {func(far *stop.Stop, _ *wayout.Way) { far.Standing = stop.Hearsay }, trip.NotCounted},
		"diesel":               {func(far *stop.Stop, _ *wayout.Way) { far.Grades, far.Other = nil, []string{"diesel"} }, trip.NotCounted},
		"another name, there":  {func(far *stop.Stop, _ *wayout.Way) { far.Name = "Far Pump" }, ""},
		"another name, aside":  {func(far *stop.Stop, _ *wayout.Way) { far.Name, far.At = "Far Pump", at(125.2, 20) }, trip.NotListed},
		"its name, aside":      {func(far *stop.Stop, _ *wayout.Way) { far.At = at(125.4, 20) }, ""},
		"its name, far aside":  {func(far *stop.Stop, _ *wayout.Way) { far.At = at(125.6, 20) }, trip.NotListed},
		"private":              {marked(wayout.Private), trip.MaybeClosed},
		"seasonal":             {marked(wayout.Seasonal), trip.MaybeClosed},
		"in winter":            {marked(wayout.WinterRoad), trip.MaybeClosed},
		"over ice":             {marked(wayout.IceRoad), trip.MaybeClosed},
		"conditional":          {marked(wayout.Conditional), trip.MaybeClosed},
		"a metre of not known": {func(_ *stop.Stop, w *wayout.Way) { w.Ground[wayout.Grounds-1] = 1 }, trip.MaybeClosed},
		"as far as the most":   {long(40.83), ""},
		"a hair farther":       {long(40.84), trip.OutOfReach},
		"climb not known":      {func(_ *stop.Stop, w *wayout.Way) { w.Climbed = false }, ""},
		"39 km, not known":     {func(_ *stop.Stop, w *wayout.Way) { w.Climbed, w.Ground[0] = false, 39e3 }, trip.OutOfReach},
		"39 km, known":         {long(39), ""},
		"39 km, up 2000 m":     {func(_ *stop.Stop, w *wayout.Way) { w.Climb, w.Ground[0] = 2000, 39e3 }, trip.OutOfReach},
		"39 km, down 2000 m":   {func(_ *stop.Stop, w *wayout.Way) { w.Descent, w.Ground[0] = 2000, 39e3 }, ""},
		"25 km of sand":        {func(_ *stop.Stop, w *wayout.Way) { w.Ground[0], w.Ground[7] = 0, 25e3 }, trip.OutOfReach},
	} {
		wantOut(t, name, out(t, c.change), c.why)
	}
}

// wantOut wants the way out of a ride to count, or not to for a reason.
func wantOut(t *testing.T, name string, in plan.Inputs, why trip.Perhaps) {
	t.Helper()
	p := makeRide(t, in)
	dry := visit(t, p, "A").IfDry
	if dry.Off == nil || dry.Off.Why != why {
		t.Errorf("%s: %+v, want %q", name, dry.Off, why)
		return
	}
	in.Roads = nil
	without := makeRide(t, in)
	switch why {
	case "":
		if dry.Outcome != leg.Off || dry.High != leg.Off || dry.Bare || !p.Holds() || without.Holds() || p.Worth.Stranded != 0 {
			t.Errorf("%s: %+v, %v", name, dry, p.Worth)
		}
	case trip.OutOfReach: // it is sure, and the nearest there is: what is lacking is counted to there
		if dry.Outcome != leg.Stranded || p.Holds() || key(p, dry.To) != "Far" || p.Can.ForAnyDryPump >= without.Can.ForAnyDryPump {
			t.Errorf("%s: %+v", name, dry)
		}
	default:
		if p.Holds() || !alike(p.Ride, without.Ride) || p.Worth.Compare(without.Worth) != 0 || !alike(p.Can, without.Can) {
			t.Errorf("%s: a way that does not count changes the plan: %s", name, cmp.Diff(without.Ride, p.Ride, same...))
		}
	}
}

// same leaves aside what tells of ways out, and nothing else.
var same = []cmp.Option{cmpopts.IgnoreFields(trip.IfDry{}, "Off"), cmpopts.IgnoreUnexported(fuel.Bike{}, fuel.Course{}, octane.Mixture{}, stop.Stop{}),
	cmpopts.EquateNaNs()}

func alike(a, b any) bool { return cmp.Equal(a, b, same...) }

// A can for a dry pump is as small as the way out allows: without one the nearest pump is 125 km
// off and 250 from the last, 15.0753 L at the most (0.05 × 1.155^1.3 L/km); 5.0753 are lacking, two
// cans of 5.5 L in all. By road it is 185 km, 11.1557 L: 1.1557 are lacking, a can of 1.5 L.
func TestCansCountOnWaysOut(t *testing.T) {
	in := out(t, func(_ *stop.Stop, w *wayout.Way) { w.Ground[0] = 60e3 })
	in.Options.Carry = plan.Carry{Most: 10}
	p := makeRide(t, in)
	if got := p.Bike.Can; got != 1.5 || visit(t, p, "A").IfDry.Outcome != leg.Off || p.Worth.Stranded+p.Worth.Bare != 0 {
		t.Errorf("%v L with a way out: %+v", got, visit(t, p, "A").IfDry)
	}
	wantNear(t, "lack", float64(p.Can.ForAnyDryPump), 185*mostKm-10)
	in.Roads = nil
	if p = makeRide(t, in); p.Bike.Can != 5.5 { // 4 and 1.5
		t.Errorf("%v L without", p.Bike.Can)
	}
}

// A detour goes by its road: from where that leaves the line, as long as it is, on its grounds, there
// and back; and without one by the guess, which is told. One that may be closed is taken only where
// it is longer than the guess.
func TestDetoursByRoad(t *testing.T) {
	b := pump("B", 100, 1.5)
	for _, c := range []struct {
		name       string
		at, km     float64
		marks      wayout.Marks
		turn, half float64
	}{
		{"a bridge 6 km on", 106, 9, 0, 106, 9},
		{"straight there", 100, 1.6, 0, 100, 1.6},
		{"private and short", 100, 1.6, wayout.Private, 100, 1.95},
		{"private and long", 104, 12, wayout.Private, 104, 12},
		{"too far along", 131, 40, 0, 100, 1.95},
	} {
		in := ride(straight(t, 200), b)
		w := paved("", c.at, c.km, b)
		w.Marks, w.Climb, w.Descent = c.marks, 100, 300
		in.Roads = []wayout.Way{w}
		p := makeRide(t, in)
		v := visit(t, p, "B")
		wantNear(t, c.name+": left at", v.At.Kilometres(), c.turn)
		if math.Abs(v.Detour.Kilometres()-2*c.half) > 0.001 {
			t.Errorf("%s: %v km there and back, want %v", c.name, v.Detour.Kilometres(), 2*c.half)
		}
		climb := [2]float64{100, 300}
		if c.half == 1.95 {
			climb = [2]float64{}
		}
		for i, km := range []float64{c.turn + c.half, 200 - c.turn + c.half} {
			if want := km*likelyKm + climb[i]*climbL; math.Abs(float64(p.Legs[i].Drink.Fuel.Likely)-want) > 2e-4 {
				t.Errorf("%s: leg %d takes %v, want %v", c.name, i+1, p.Legs[i].Drink.Fuel.Likely, want)
			}
		}
		told := slices.ContainsFunc(p.Warnings, func(w plan.Warning) bool {
			f, ok := w.Fact.(plan.NoWayOut)
			return ok && slices.Contains(f.Guessed, "B")
		})
		if told != (c.half == 1.95) {
			t.Errorf("%s: guessed is told: %v", c.name, told)
		}
	}
}

// The last way out of a leg is the farthest from which a pump is reached at the high figures that is
// neither the one behind nor the next.
func TestLastWayOut(t *testing.T) {
	far, next := pump("Far", 60, 20), pump("B", 150, 0)
	in := ride(straight(t, 200), pump("A", 0, 0), next, far)
	in.Roads = []wayout.Way{paved("", 60, 30, far), paved("", 120, 60, far), paved("", 100, 70, far), paved("", 130, 10, next)}
	p := makeRide(t, in)
	out := p.Legs[0].WayOut // 173.16 km at the high figures: 120 + 60 is too far, 100 + 70 is not
	if out == nil || math.Abs(out.At.Kilometres()-100) > 1e-6 {
		t.Fatalf("%+v", out)
	}
	wantNear(t, "left there", float64(out.Spare), 10-170*highKm)
	wantNear(t, "on the trip meter", out.Trip.Kilometres(), 100)
	if p.Legs[1].WayOut != nil {
		t.Errorf("leg 2: %+v", p.Legs[1].WayOut)
	}
}

// By the clock the pump has to be open when one is there by the way out, from early to late, or to
// open while one waits: 165 km of paved road from 08:00 are ridden by 10:41, 12:01 and 13:50.
func TestWaysOutByTheClock(t *testing.T) {
	for hours, c := range map[string]struct {
		wait   time.Duration
		counts bool
	}{
		"Mo-Su 10:30-15:30":    {time.Hour, true},
		"Mo-Su 11:00-15:30":    {time.Hour, false}, // the early one finds it shut
		"Mo-Su 10:30-14:00":    {time.Hour, false}, // who is a little later than late
		"Mo-Su 16:00-18:00":    {time.Hour, false},
		"Mo-Su 16:00-18:01":    {6 * time.Hour, true},
		"Mo-Su 16:00-18:02":    {5 * time.Hour, false}, // the early one would wait for 5 h 19 min
		"":                     {time.Hour, false},
		"when the lamp is lit": {time.Hour, false},
		"24/7":                 {0, true},
	} {
		in := out(t, func(far *stop.Stop, _ *wayout.Way) { far.Hours = hours })
		timed := makeRide(t, leaving(in, 1, func(o *days.Options) { o.Wait = c.wait }))
		dry := visit(t, timed, "A").IfDry
		if got := dry.Outcome == leg.Off; got != c.counts || !got && dry.Off.Why != trip.MaybeShut {
			t.Errorf("%q: %+v", hours, dry)
		}
		if dry := visit(t, makeRide(t, in), "A").IfDry; dry.Outcome != leg.Off {
			t.Errorf("%q without a clock: %+v", hours, dry)
		}
	}
}

// withWays adds pumps too far off to be visited, and ways to them and to the stops off the line.
func withWays(in plan.Inputs, rnd *rand.Rand) plan.Inputs {
	in.Stops = slices.Clone(in.Stops)
	for i, s := range slices.Clone(in.Stops) {
		near, _ := in.Line.Nearest(s.At, 0, in.Line.Length())
		if near.Off > stop.OnLine && rnd.IntN(3) > 0 {
			w := paved("", min(max(near.At.Kilometres()+6*rnd.Float64()-3, 0), in.Line.Length().Kilometres()),
				near.Off.Kilometres()*(1+rnd.Float64()), s)
			w.Climbed, w.Climb, w.Descent = rnd.IntN(2) == 0, route.Metres(rnd.IntN(500)), route.Metres(rnd.IntN(500))
			in.Roads = append(in.Roads, w)
		}
		if rnd.IntN(2) == 0 {
			far := pump(fmt.Sprint("Far ", i), 0, 0)
			far.At = at(-32-10*rnd.Float64(), near.At.Kilometres())
			in.Stops = append(in.Stops, far)
			in.Roads = append(in.Roads, paved(s.Name, near.At.Kilometres(), 5+70*rnd.Float64(), far))
		}
	}
	return in
}

// Two pumps side by side are one place and dry together, though their roads leave the line 6 km
// apart: on from the one is not to the other.
func TestNeighboursByRoadAreOnePlace(t *testing.T) {
	b1, b2 := pump("B1", 100, 1.5), pump("B2", 100.5, 1.5)
	in := ride(straight(t, 200), b1, b2)
	in.Roads = []wayout.Way{paved("", 98, 3, b1), paved("", 104, 5, b2)}
	p := makeRide(t, in)
	for _, name := range []string{"B1", "B2"} {
		if dry := visit(t, p, name).IfDry; dry.To.HasStop() || dry.Back.HasStop() {
			t.Errorf("%s: %+v", name, dry)
		}
	}
}
