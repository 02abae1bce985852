package survey

import (
	"math"
	"testing"

	"lastpump/route"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// destination is the direct problem on a sphere: a course and a distance from a place
// (any handbook of navigation).
func destination(p orb.Point, course, metres float64) orb.Point {
	lat, lon, c, d := p[1]*math.Pi/180, p[0]*math.Pi/180, course*math.Pi/180, metres/6371008.8
	lat2 := math.Asin(math.Sin(lat)*math.Cos(d) + math.Cos(lat)*math.Sin(d)*math.Cos(c))
	lon2 := lon + math.Atan2(math.Sin(c)*math.Sin(d)*math.Cos(lat), math.Cos(d)-math.Sin(lat)*math.Sin(lat2))
	return orb.Point{math.Remainder(lon2*180/math.Pi, 360), lat2 * 180 / math.Pi}
}

// Nothing within the corridor of a line lies outside its zone, and nothing three
// cells beyond lies inside: anywhere on earth up to 85°, over the antimeridian too.
func TestZoneHoldsTheCorridor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-85, 85).Draw(t, "lat")}
		points := []route.Point{{Point: at}}
		for range rapid.IntRange(1, 4).Draw(t, "steps") {
			at = destination(at, rapid.Float64Range(0, 360).Draw(t, "course"), rapid.Float64Range(1, 4900).Draw(t, "step"))
			points = append(points, route.Point{Point: at})
		}
		tracks := []route.Track{{Segments: [][]route.Point{points}}}
		line, err := route.NewLine(tracks, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
		if err != nil {
			t.Skip(err)
		}
		if len(line.Gaps) > 0 { // nothing is looked for in them
			t.Skip(line.Gaps)
		}
		corridor := rapid.Float64Range(100, 20000).Draw(t, "corridor")
		wide, narrow := zonesOf(line, route.Metres(corridor))
		on := line.At(route.Metres(rapid.Float64Range(0, 1).Draw(t, "share")) * line.Length())
		course := rapid.Float64Range(0, 360).Draw(t, "to")
		within := destination(on, course, corridor*rapid.Float64Range(0, 0.999).Draw(t, "off"))
		if !wide.Has(within[0], within[1]) {
			t.Fatalf("%v lies within the corridor and not in the zone", within)
		}
		beside := destination(on, course, rapid.Float64Range(0, 199).Draw(t, "beside"))
		if !narrow.Has(beside[0], beside[1]) {
			t.Fatalf("%v lies beside the line and not in the narrow zone", beside)
		}
		most := max(corridor, float64(leastWide)) * 1.05
		away := destination(on, course, most+rapid.Float64Range(4000, 50000).Draw(t, "away"))
		near, _ := line.Nearest(away, 0, line.Length())
		if float64(near.Off) > most+4000 && wide.Has(away[0], away[1]) {
			t.Fatalf("%v lies %v m off and in the zone of %v", away, near.Off, corridor)
		}
	})
}
