// Package samples has plans to lay out, for the tests of the reports, and what those look
// at pages with.
package samples

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/testdata/kit/drawn"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// A T is a test, or one of rapid's.
type T interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// A Plan is one with the units in which it is told.
type Plan struct {
	*plan.Plan
	Units units.System
}

// Say gives its voice.
func (p Plan) Say() words.Voice { return words.Of(p.Plan, p.Units) }

// Answer gives its answer in three lines.
func (p Plan) Answer() []string {
	a := p.Say().Answer()
	return a[:]
}

// Draw draws a ride along a meridian with stops of odd names and grades.
func Draw(t *rapid.T) Plan {
	var points []route.Point
	heights := rapid.Bool().Draw(t, "heights")
	for k := range rapid.IntRange(50, 600).Draw(t, "km") {
		at := orb.Point{10, 40 + float64(k)/111.195}
		points = append(points, route.Point{Point: at, HasEle: heights, Ele: float64(k % 37)})
	}
	line, err := route.NewLine([]route.Track{{Name: "way", Segments: [][]route.Point{points}}}, route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	in := plan.Inputs{
		Name: rapid.String().Draw(t, "name"), Line: line, Bike: fuel.DefaultBike(), Options: plan.DefaultOptions(),
	}
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	told := rapid.SampledFrom([]units.System{units.Metric, units.US, units.UK}).Draw(t, "units")
	in.Bike.Can = fuel.Litres(rapid.SampledFrom([]int{0, 3, 10}).Draw(t, "can"))
	for i := range rapid.IntRange(1, 8).Draw(t, "stops") {
		s := stop.Stop{Name: fmt.Sprintf("%d%s", i, rapid.StringMatching(`[a-zé Жо"<&,-]{0,40}`).Draw(t, "stop")),
			At: orb.Point{10 + rapid.Float64Range(0, 0.02).Draw(t, "off"),
				40 + rapid.Float64Range(0, float64(len(points))/112).Draw(t, "at")},
			Standing: rapid.SampledFrom(stop.Standings()).Draw(t, "standing"),
			Hours: rapid.SampledFrom([]string{"", "24/7",
				"Mo-Fr 08:00-12:00,13:00-18:00; Sa 08:00-12:00; Su,PH off"}).Draw(t, "hours")}
		if n := rapid.IntRange(79, 98).Draw(t, "grade"); n > 79 {
			s.Grades = []octane.Grade{octane.FromRON(octane.RON(n))}
		}
		in.Stops = append(in.Stops, s)
	}
	if rapid.Bool().Draw(t, "timed") {
		Timed(&in)
	}
	p, err := plan.MakeGroup(context.Background(), in, drawBikes(t, in.Bike))
	if err != nil {
		t.Skip(err) // none of the stops is near
	}
	if err := ask(p); err != nil {
		t.Fatal(err)
	}
	return Plan{p, told}
}

// Timed has a ride set out at eight, on the day on which it is planned.
func Timed(in *plan.Inputs) {
	eight, zone := clock.OClock{Hour: 8}, time.FixedZone("UTC+06:00", 6*3600)
	in.Options.Days = &days.Options{Date: in.Options.Today, First: eight, Every: eight, Wait: clock.DefaultWait,
		Water: days.DefaultWater, Zone: func(orb.Point) *time.Location { return zone }}
}

// ByHand plans a ride of 100 km on paved road that sets out at eight on a Wednesday, with a pump at
// km 65 that opens at ten. By the general manner it is reached after 65/80 h and 15 min of pauses,
// after 60 and 35, or after 65/50 h and 60: at 09:03:45, 09:35 and 10:18. Filling takes 10, 15 and
// 30 min, and the end is reached at 10:44:20, 11:06:09 and 12:02:18.
func ByHand(t rapid.TB) Plan {
	t.Helper()
	ford, eight, zone := drawn.Pump("Ford", 65, 0), clock.OClock{Hour: 8}, time.FixedZone("UTC+02:00", 2*3600)
	ford.Hours = "Mo-Su 10:00-20:00"
	in := drawn.Ride(drawn.Straight(t, 100), ford)
	in.Options.Days = &days.Options{Date: in.Options.Today, First: eight, Every: eight, Wait: clock.DefaultWait,
		Water: days.DefaultWater, Zone: func(orb.Point) *time.Location { return zone }}
	return Plan{drawn.Asked(t, in), units.Metric}
}

// ask asks for all that can be asked of a plan.
func ask(p *plan.Plan) error {
	ctx := context.Background()
	return errors.Join(plan.Cures(ctx, p), plan.Calls(ctx, p), plan.WhatIf(ctx, p))
}

// drawBikes draws a bike and perhaps others that ride along.
func drawBikes(t *rapid.T, first fuel.Bike) []fuel.Bike {
	bikes := []fuel.Bike{first}
	for range rapid.IntRange(0, 5).Draw(t, "others") {
		b := fuel.DefaultBike()
		b.Name = rapid.StringMatching(`[a-zé Жо"<&,-]{0,40}`).Draw(t, "bike")
		b.Tank = fuel.Litres(rapid.Float64Range(4, 60).Draw(t, "tank"))
		b.Consumption = fuel.Consumption(rapid.Float64Range(3, 30).Draw(t, "consumption"))
		bikes = append(bikes, b)
	}
	return bikes
}

// examples are those that have been planned: it takes half a second with all that is asked.
var examples sync.Map

// Example gives the plan of one of the examples, which is planned once and not to be changed.
func Example(t *testing.T, name string) Plan {
	t.Helper()
	if p, ok := examples.Load(name); ok {
		return p.(Plan)
	}
	p := ExampleWith(t, name, nil)
	examples.Store(name, p)
	return p
}

// ExampleWith plans one of the examples with a change to what it is made from, for several
// bikes where there are any.
func ExampleWith(t *testing.T, name string, change func(*plan.Inputs), bikes ...fuel.Bike) Plan {
	t.Helper()
	told := units.Metric
	in := plan.Inputs{Options: plan.DefaultOptions()}
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	_, here, _, _ := runtime.Caller(0)
	dir := filepath.Join(filepath.Dir(here), "../../../../../examples", name) + "/"
	file := reading(t, dir+"loop.gpx", gpxfile.Read)
	var err error
	if in.Line, err = route.NewLine(file.Lines(), route.LineOptions{}); err != nil {
		t.Fatal(err)
	}
	in.Name = file.Name
	in.Bike = reading(t, dir+"bike.toml", func(r io.Reader, n string) (fuel.Bike, error) {
		return fuel.ReadBike(r, n, "")
	})
	sections := reading(t, dir+"ground.csv", func(r io.Reader, n string) ([]route.Section, error) {
		s, _, err := route.ReadGround(r, n)
		return s, err
	})
	if in.Grounds.Sections, in.Grounds.Measure, err = in.Line.Lay(sections); err != nil {
		t.Fatal(err)
	}
	if name == "steppe" {
		in.Stops = reading(t, dir+"stops.csv", func(r io.Reader, n string) ([]stop.Stop, error) {
			s, _, err := stop.ReadCSV(r, n, "")
			return s, err
		})
	} else {
		told = units.US
		in.Options.Cans = told.Cans()
		if in.Stops, _, err = stop.FromWaypoints(file.Waypoints, ""); err != nil {
			t.Fatal(err)
		}
	}
	if change != nil {
		change(&in)
	}
	return Plan{planned(t, in, bikes...), told}
}

// planned plans, with all that can be asked for.
func planned(t *testing.T, in plan.Inputs, bikes ...fuel.Bike) *plan.Plan {
	t.Helper()
	p, err := plan.MakeGroup(context.Background(), in, bikes)
	if err != nil {
		t.Fatal(err)
	}
	if err := ask(p); err != nil {
		t.Fatal(err)
	}
	return p
}

func reading[T any](t *testing.T, name string, read func(io.Reader, string) (T, error)) T {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	v, err := read(f, name)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Named plans a ride along a meridian with a stop of each name every 90 km, in two
// parts.
func Named(t *testing.T, names ...string) Plan { return NamedWith(t, nil, names...) }

// NamedWith is [Named] with a change to what it is made from.
func NamedWith(t *testing.T, change func(*plan.Inputs), names ...string) Plan {
	t.Helper()
	return along(t, []int{100}, change, names)
}

// NamedIn is [Named] in parts of so many kilometres; 0 for one part alone.
func NamedIn(t *testing.T, kilometres int, names ...string) Plan {
	t.Helper()
	var cuts []int
	for k := kilometres; k > 0 && k < 90*len(names)+60; k += kilometres {
		cuts = append(cuts, k)
	}
	return along(t, cuts, nil, names)
}

// along plans a ride along a meridian that is cut at some kilometres.
func along(t *testing.T, cuts []int, change func(*plan.Inputs), names []string) Plan {
	t.Helper()
	leg := func(from, to int) route.Track {
		var points []route.Point
		for k := from; k <= to; k++ {
			points = append(points, route.Point{Point: orb.Point{10, 40 + float64(k)/111.195}})
		}
		return route.Track{Name: fmt.Sprintf("part from %d", from), Segments: [][]route.Point{points}}
	}
	var tracks []route.Track
	from := 0
	for _, to := range append(cuts, 90*len(names)+60) {
		tracks, from = append(tracks, leg(from, to)), to
	}
	line, err := route.NewLine(tracks, route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	in := plan.Inputs{Name: "Ride", Line: line, Bike: fuel.DefaultBike(), Options: plan.DefaultOptions()}
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	for i, n := range names {
		in.Stops = append(in.Stops, stop.Stop{Name: n, At: orb.Point{10, 40 + float64(90*(i+1))/111.195}, Standing: stop.Seen,
			Grades: []octane.Grade{octane.FromRON(95)}, Phone: fmt.Sprintf("+999 555 01%02d", i)})
	}
	if change != nil {
		change(&in)
	}
	return Plan{planned(t, in), units.Metric}
}
