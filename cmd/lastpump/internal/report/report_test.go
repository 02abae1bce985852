package report_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
	"github.com/mattn/go-runewidth"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// drawPlan draws a ride along a meridian with stops of odd names and grades.
func drawPlan(t *rapid.T) *plan.Plan {
	var points []route.Point
	heights := rapid.Bool().Draw(t, "heights")
	for k := range rapid.IntRange(50, 600).Draw(t, "km") {
		points = append(points, route.Point{Point: orb.Point{10, 40 + float64(k)/111.195}, HasEle: heights, Ele: float64(k % 37)})
	}
	line, err := route.NewLine([]route.Track{{Name: "way", Segments: [][]route.Point{points}}}, route.LineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	in := plan.Inputs{Name: rapid.String().Draw(t, "name"), Line: line, Bike: fuel.DefaultBike(), Options: plan.DefaultOptions()}
	in.Options.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	in.Options.Units = rapid.SampledFrom([]fuel.Units{fuel.Metric, fuel.US, fuel.UK}).Draw(t, "units")
	in.Bike.Can = fuel.Litres(rapid.SampledFrom([]int{0, 3, 10}).Draw(t, "can"))
	for i := range rapid.IntRange(1, 8).Draw(t, "stops") {
		s := stop.Stop{Name: fmt.Sprintf("%d%s", i, rapid.StringMatching(`[a-zé Жо"<&,-]{0,40}`).Draw(t, "stop")),
			At:       orb.Point{10 + rapid.Float64Range(0, 0.02).Draw(t, "off"), 40 + rapid.Float64Range(0, float64(len(points))/112).Draw(t, "at")},
			Standing: rapid.SampledFrom(stop.Standings).Draw(t, "standing"),
			Hours:    rapid.SampledFrom([]string{"", "24/7", "Mo-Fr 08:00-12:00,13:00-18:00; Sa 08:00-12:00; Su,PH off"}).Draw(t, "hours")}
		if n := rapid.IntRange(79, 98).Draw(t, "grade"); n > 79 {
			s.Grades = []octane.Grade{octane.FromRON(octane.RON(n))}
		}
		in.Stops = append(in.Stops, s)
	}
	p, err := plan.MakeGroup(in, drawBikes(t, in.Bike))
	if err != nil {
		t.Skip(err) // none of the stops is near
	}
	return p
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

// JSON read again is the plan.
func TestJSONReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		var b bytes.Buffer
		if err := report.WriteJSON(&b, p); err != nil {
			t.Fatal(err)
		}
		got, err := report.ReadJSON(&b)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(report.NewDocument(p), got); diff != "" {
			t.Fatal(diff)
		}
	})
}

// The text fits the page whatever the names are, and without a terminal has no
// colours in it; with one they add nothing but themselves.
func TestTextFitsThePage(t *testing.T) {
	escape := regexp.MustCompile("\x1b\\[[0-9;]*m")
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		var plain, coloured bytes.Buffer
		if err := report.WriteText(&plain, p, report.Style{}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(plain.String()) {
			if n := runewidth.StringWidth(strings.TrimSuffix(line, "\n")); n > 100 {
				t.Fatalf("%d columns: %s", n, line)
			}
		}
		if err := report.WriteText(&coloured, p, report.Style{Colour: true}); err != nil {
			t.Fatal(err)
		}
		if escape.MatchString(plain.String()) || escape.ReplaceAllString(coloured.String(), "") != plain.String() {
			t.Fatal("colour is more than colour")
		}
	})
}

// RFC 4180: every row has as many fields as the header, lines end in CR LF.
func TestCSVIsCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		var b bytes.Buffer
		if err := report.WriteCSV(&b, p); err != nil {
			t.Fatal(err)
		}
		if strings.Count(b.String(), "\n") != strings.Count(b.String(), "\r\n") {
			t.Fatal("a line does not end in CR LF")
		}
		rows, err := csv.NewReader(&b).ReadAll() // refuses rows of another length
		if err != nil || len(rows) != len(p.Legs)+1 {
			t.Fatalf("%d rows for %d legs: %v", len(rows), len(p.Legs), err)
		}
	})
}
