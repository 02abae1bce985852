package plan_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
)

// By hand, on a bike of 10 L that takes 0.05 L/km 0.05775 at the high figure
// and 0.0603 at the most, with 1 L kept.
func TestPassesByHand(t *testing.T) {
	in := ride(straight(t, 260), pump("P", 60, 0), pump("F", 115, 0), pump("G", 200, 0), pump("Q", 230, 1),
		pump("far", 150, 20))
	in.Options.Reserve = leg.Reserve{Share: 0.1}
	passes := passesOf(t, in, "F", "G")
	if len(passes) != 2 {
		t.Fatalf("%+v", passes)
	}
	// At P 3 L are gone. It is 55 km on to F; if that is dry, 85 on to G or 55 back to P.
	p := passes["P"]
	wantNear(t, "in the tank at P", p.Tank, 7)
	wantNear(t, "fill under", p.FillUnder, 110*mostKm)
	wantNear(t, "strayed", p.Strayed.Kilometres(), (7-110*mostKm)/highKm)
	// At Q, 30 km behind G and 30 before the end, where nothing can be dry.
	q := passes["Q"]
	wantNear(t, "in the tank at Q", q.Tank, 8.5)
	wantNear(t, "fill under", q.FillUnder, 30*highKm+1)
	wantNear(t, "strayed", q.Strayed.Kilometres(), (8.5-30*highKm-1)/highKm)
}

// 190 km to F ask for the can of 3 L. It is poured where the low use has made room for it, at
// 70 km: at R it is still full, at P it is in the tank.
func TestPassesWithACan(t *testing.T) {
	in := ride(straight(t, 400), pump("R", 50, 0), pump("P", 100, 0), pump("F", 190, 0), pump("G", 250, 0))
	in.Bike.Can = 3
	passes := passesOf(t, in, "F", "G")
	r, p := passes["R"], passes["P"]
	wantNear(t, "in the tank at R", r.Tank, 7.5)
	wantNear(t, "fill under", r.FillUnder, (140+60)*mostKm-3) // if F is dry it is 60 km on to G
	wantNear(t, "in the tank at P", p.Tank, 10+3-5)
	wantNear(t, "fill under", p.FillUnder, (90+60)*mostKm)
	if r.Strayed != 0 || p.Strayed != 0 {
		t.Errorf("nothing is left to stray on: %+v, %+v", r, p)
	}
	// A can that holds all there is to do: 3 L less than nothing is nothing.
	in = ride(straight(t, 120), pump("R", 100, 0))
	in.Options.CanNow, in.Bike.Can = 3, 3
	r = passesOf(t, in)["R"]
	wantNear(t, "fill under", r.FillUnder, 0)
	wantNear(t, "strayed", r.Strayed.Kilometres(), (5-20*highKm+3)/highKm)
}

// A pump down a side road of 1.3 km may be dry, and 2.6 km there and back take 0.15 L. Where the
// high figures leave less than that to spare, whoever drank no more rides on.
func TestPassesDownASideRoad(t *testing.T) {
	const try = 2.6 * highKm
	under := func(km int, stops ...stop.Stop) fuel.Litres {
		in := ride(straight(t, km), stops...)
		in.Options.Reserve = leg.Reserve{Share: 0.1}
		return passesOf(t, in, "F", "G")["P"].FillUnder
	}
	f, g := pump("F", 120, 0), pump("G", 165, 0)
	// Of 10 L 172 km leave 0.067, 170 leave 0.1825.
	wantNear(t, "before the end", under(172, pump("P", 150, 1)), 10-150*highKm-try)
	wantNear(t, "with enough to try it", under(170, pump("P", 150, 1)), 20*highKm+1)
	wantNear(t, "by the line", under(172, pump("P", 150, 0.2)), 22*highKm+1)
	wantNear(t, "where the leg does not hold", under(174, pump("P", 150, 1)), 24*highKm+1)
	// P and F are one place: if P is dry it is 45 km from F to G, and 165 at the most leave 0.05 L. If not, F is 10 km on, and one place is dry.
	wantNear(t, "at the place ahead", under(260, pump("P", 118.5, 1), f, g), 1.5*highKm)
	wantNear(t, "at another place", under(260, pump("P", 110, 1), f, g), 10*highKm+1)
	// It is 1 km behind F and 169 before a G that is 170 behind F. A tank filled at P has less in it
	// back on the line than one filled at F.
	wantNear(t, "behind a fill", under(292, pump("P", 121, 1), f, pump("G", 290, 0)), 10-1.3*highKm)
}

// passesOf plans a ride over the named stops and gives what it passes, by name.
func passesOf(t *testing.T, in plan.Inputs, names ...string) map[string]plan.Pass {
	t.Helper()
	w := plan.NewWeigher(in)
	taken := []trip.Sighting{}
	middle, _ := plan.Candidates(in)
	for _, g := range middle {
		for _, name := range names {
			if in.Stops[g.Stop].Name == name {
				taken = append(taken, g)
			}
		}
	}
	return w.Passes(taken)
}
