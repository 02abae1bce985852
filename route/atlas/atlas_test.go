package atlas_test

import (
	"fmt"
	"math"
	"testing"

	"lastpump/route"
	"lastpump/route/atlas"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

var a4 = atlas.Paper{Wide: 190, High: 230, Edge: 8, Most: 16}

func lineOf(t interface{ Fatal(...any) }, points []route.Point) *route.Line {
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{points}}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// wander draws a ride that turns as it likes, anywhere but near the poles.
func wander(t *rapid.T) []route.Point {
	lon, lat := rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-60, 60).Draw(t, "lat")
	heading := rapid.Float64Range(0, 7).Draw(t, "heading")
	step := rapid.Float64Range(50, 3000).Draw(t, "step")
	var out []route.Point
	for range rapid.IntRange(2, 400).Draw(t, "points") {
		out = append(out, route.Point{Point: orb.Point{math.Remainder(lon, 360), lat}})
		heading += rapid.Float64Range(-0.6, 0.6).Draw(t, "turn")
		lat += step * math.Cos(heading) / 111195
		lon += step * math.Sin(heading) / 111195 / math.Cos(lat*math.Pi/180)
		if math.Abs(lat) > 70 {
			heading += math.Pi
		}
	}
	return out
}

// Every place of the line is inside the frame of a sheet, that of its own stretch; the stretches
// leave nothing out.
func TestSheetsCoverTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := lineOf(t, wander(t))
		from := line.Length() * route.Metres(rapid.Float64Range(0, 0.5).Draw(t, "from"))
		a := atlas.New(line, from, a4)
		if a.Sheets[0].From != from || a.Sheets[len(a.Sheets)-1].To != line.Length() {
			t.Fatalf("from %v to %v, want %v to %v", a.Sheets[0].From, a.Sheets[len(a.Sheets)-1].To, from, line.Length())
		}
		for i, s := range a.Sheets {
			if i > 0 && s.From > a.Sheets[i-1].To {
				t.Fatalf("nothing has %v to %v", a.Sheets[i-1].To, s.From)
			}
			for k := range 201 {
				at := s.From + (s.To-s.From)*route.Metres(k)/200
				if p := s.On(line.At(at)); p[0] < 0 || p[1] < 0 || p[0] > a4.Wide || p[1] > a4.High {
					t.Fatalf("sheet %d of 1:%v has %v at %v", i, a.Scale, at, p)
				}
			}
		}
	})
}

// On a sheet of 1:200 000 a kilometre is five millimetres, worked by hand; north is up. A degree of
// latitude is 111.195 km, and one of longitude at 60° half of that.
func TestScale(t *testing.T) {
	var points []route.Point
	for k := range 200 {
		points = append(points, route.Point{Point: orb.Point{179.5 + float64(k)*0.005 - 360*math.Floor((359.5+float64(k)*0.005)/360), 60}})
	}
	line := lineOf(t, points)
	a := atlas.New(line, 0, atlas.Paper{Wide: 300, High: 100, Edge: 5, Most: 1})
	if a.Scale != 200_000 || len(a.Sheets) != 1 {
		t.Fatalf("%+v", a) // 55.3 km are 276 mm at 1:200 000, and 553 at 1:100 000
	}
	s := a.Sheets[0]
	if mm := s.Millimetres(1000); mm != 5 {
		t.Errorf("a kilometre is %v mm", mm)
	}
	first, last, north := s.On(points[0].Point), s.On(points[199].Point), s.On(orb.Point{points[0].Lon(), 60.1})
	if wide := last[0] - first[0]; math.Abs(wide-0.995*111195*0.5/200) > 0.5 {
		t.Errorf("across 180°: %v mm", wide)
	}
	if up := first[1] - north[1]; math.Abs(up-11119.5/200) > 0.1 || math.Abs(north[0]-first[0]) > 1e-6 {
		t.Errorf("a tenth of a degree north is %v mm up", up)
	}
}

func ExampleNew() {
	var points []route.Point
	for k := range 1000 {
		points = append(points, route.Point{Point: orb.Point{10, 45 + float64(k)*0.005}})
	}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{points}}}, route.LineOptions{Stretch: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	a := atlas.New(line, 0, atlas.Paper{Wide: 190, High: 230, Edge: 8, Most: 6})
	fmt.Printf("%d sheets of 1:%.0f\n", len(a.Sheets), a.Scale) // 555 km north, 107 km less the overlap a sheet
	// Output: 6 sheets of 1:500000
}
