package zone_test

import (
	"math"
	"testing"
	"time"

	"lastpump/route"
	"lastpump/route/zone"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// km is a kilometre along the equator in degrees of longitude, on the mean sphere.
const km = 180 / math.Pi / 6371.0088

// east gives a straight line along the equator, so long, with a point each kilometre.
func east(t interface{ Fatal(...any) }, kilometres int) *route.Line {
	var points []route.Point
	for i := range kilometres + 1 {
		points = append(points, route.Point{Point: orb.Point{float64(i) * km, 0}})
	}
	l, err := route.NewLine([]route.Track{{Segments: [][]route.Point{points}}}, route.LineOptions{Stretch: 1})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// named gives a zone of so many hours.
func named(name string, hours int) *time.Location { return time.FixedZone(name, hours*3600) }

func TestAlong(t *testing.T) {
	a, b := named("A", 5), named("B", 6)
	l := east(t, 30)
	spans := zone.Along(l, func(p orb.Point) *time.Location {
		switch x := p.Lon() / km; {
		case x < 7.123:
			return a
		case x < 20:
			return b
		case x < 25.5:
			return nil
		}
		return b
	})
	want := []struct {
		to   float64
		zone *time.Location
	}{{7.123, a}, {20, b}, {25.5, nil}, {30, b}}
	if len(spans) != len(want) {
		t.Fatalf("%v", spans)
	}
	from := route.Metres(0)
	for i, s := range spans {
		if s.From != from || s.Zone != want[i].zone || math.Abs(float64(s.To)-1000*want[i].to) > 10.01 {
			t.Errorf("%v, want %v", s, want[i])
		}
		from = s.To
	}
	for at, want := range map[route.Metres]*time.Location{0: a, 7000: a, 7200: b, 22000: nil, 30000: b, 31000: b} {
		if got := spans.At(at); got != want {
			t.Errorf("at %v: %v", at, got)
		}
	}
	if got := (zone.Spans{}).At(5); got != nil {
		t.Errorf("of no spans: %v", got)
	}
}

// Whatever the zones, spans have no holes, differ from their neighbours, and are right for
// each place that is not at a border.
func TestSpansOfAnyLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.IntRange(1, 60).Draw(t, "km")
		ends := rapid.SliceOfN(rapid.IntRange(1, 60), 0, 5).Draw(t, "ends") // whole kilometres: no zone is under one
		zones := []*time.Location{named("A", 1), named("B", 2), nil}
		of := func(p orb.Point) *time.Location {
			n := 0
			for _, e := range ends {
				if p.Lon()/km > float64(e)+0.1 {
					n++
				}
			}
			return zones[n%3]
		}
		l := east(t, length)
		spans := zone.Along(l, of)
		at := route.Metres(0)
		for i, s := range spans {
			if s.From != at || s.To <= s.From || i > 0 && s.Zone == spans[i-1].Zone {
				t.Fatalf("%v", spans)
			}
			at = s.To
		}
		if at != l.Length() {
			t.Fatalf("%v ends at %v of %v", spans, at, l.Length())
		}
		for m := route.Metres(600); m < l.Length(); m += 1000 {
			if spans.At(m) != of(l.At(m)) {
				t.Fatalf("at %v: %v", m, spans.At(m))
			}
		}
	})
}

// A border that runs straight is seen from within 5 km and not from beyond: between two
// bearings of 24 the ring comes 1 % less far (the cosine of 7.5°).
func TestBeside(t *testing.T) {
	a, b := named("A", 5), named("B", 6)
	rapid.Check(t, func(t *rapid.T) {
		lat, lon := rapid.Float64Range(-80, 80).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")
		bearing := rapid.Float64Range(0, 2*math.Pi).Draw(t, "bearing")
		off := rapid.Float64Range(0.1, 10).Draw(t, "off")
		p := orb.Point{lon, lat}
		of := func(q orb.Point) *time.Location {
			x := math.Remainder(q.Lon()-lon, 360) * math.Cos(lat*math.Pi/180) / km
			if y := (q.Lat() - lat) / km; x*math.Sin(bearing)+y*math.Cos(bearing) > off {
				return b
			}
			return a
		}
		got := zone.Beside(p, of)
		if got[0] != a || len(got) > 2 || len(got) == 2 && off > 5.02 || len(got) == 1 && off < 4.9 {
			t.Fatalf("%.3f km off: %v", off, got)
		}
	})
	if got := zone.Beside(orb.Point{0, 0}, func(orb.Point) *time.Location { return nil }); len(got) != 0 {
		t.Errorf("of nothing known: %v", got)
	}
}
