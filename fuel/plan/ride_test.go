package plan_test

import (
	"math"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// perDegree is a degree of a meridian on the sphere of 6 371 008.8 m (Moritz,
// Geodetic Reference System 1980): the rides below lie along one, so that their
// kilometres can be counted.
const perDegree = 6371008.8 * math.Pi / 180 / 1000 // km

// at gives the place a number of kilometres north of 40° N on a meridian, and
// east of it by off kilometres: on the great circle that leaves the meridian there
// at a right angle, so that off is how far off the line it lies.
func at(km, off float64) orb.Point {
	lat, away := (40+km/perDegree)*math.Pi/180, off/perDegree*math.Pi/180
	return orb.Point{
		20 + math.Atan2(math.Sin(away), math.Cos(lat)*math.Cos(away))*180/math.Pi,
		math.Asin(math.Sin(lat)*math.Cos(away)) * 180 / math.Pi,
	}
}

// straight is a line of that many kilometres with a point each kilometre.
func straight(t rapid.TB, km int) *route.Line {
	t.Helper()
	return lineOf(t, 0, float64(km))
}

// lineOf goes from turn to turn along the meridian at sea level, with a point each
// kilometre.
func lineOf(t rapid.TB, turns ...float64) *route.Line {
	t.Helper()
	points := []route.Point{{Point: at(turns[0], 0), HasEle: true}}
	for i := 1; i < len(turns); i++ {
		step := math.Copysign(1, turns[i]-turns[i-1])
		for k := turns[i-1] + step; k*step <= turns[i]*step+1e-9; k += step {
			points = append(points, route.Point{Point: at(k, 0), HasEle: true})
		}
	}
	return lineThrough(t, points)
}

func lineThrough(t rapid.TB, segments ...[]route.Point) *route.Line {
	t.Helper()
	return lineWith(t, route.LineOptions{Stretch: 1}, segments...)
}

func lineWith(t rapid.TB, opt route.LineOptions, segments ...[]route.Point) *route.Line {
	t.Helper()
	l, err := route.NewLine([]route.Track{{Segments: segments}}, opt)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// pump is a stop seen by the rider with the grades given.
func pump(name string, km, off float64, grades ...octane.Grade) stop.Stop {
	if grades == nil {
		grades = []octane.Grade{octane.FromRON(95)}
	}
	return stop.Stop{Name: name, At: at(km, off), Grades: grades, Standing: stop.Seen}
}

// flat is a bike that needs no calculator: 10.5 L, of which 10 usable, 5 L/100 km,
// on paved ground: 200 km to the last drop.
func flat() fuel.Bike {
	b := fuel.DefaultBike()
	b.Tank, b.Consumption = 10.5, 5
	return b
}

// ride is a plan on paved ground with no reserve; change what a test is about.
func ride(line *route.Line, stops ...stop.Stop) plan.Inputs {
	o := plan.DefaultOptions()
	o.Reserve = plan.Reserve{}
	o.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	return plan.Inputs{Line: line, Stops: stops, Bike: flat(), Options: o, Grounds: route.Grounds{Default: route.Paved}}
}

func make1(t rapid.TB, in plan.Inputs) *plan.Plan {
	t.Helper()
	p, err := plan.Make(in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// near tells whether two figures agree to a millionth; the rides lie on the
// sphere to the last bit, the estimates of the test do not.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(1, math.Abs(b)) }

func wantNear[T ~float64](t rapid.TB, what string, got T, want float64) {
	t.Helper()
	if !near(float64(got), want) {
		t.Errorf("%s = %.9g, want %.9g", what, got, want)
	}
}

func visit(t rapid.TB, p *plan.Plan, name string) plan.Visit {
	t.Helper()
	for _, v := range p.Visits {
		if v.Stop.Name == name {
			return v
		}
	}
	t.Fatalf("no visit at %s", name)
	return plan.Visit{}
}
