package route_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"lastpump/route"
)

// latLon makes a place from the order in which sources print it.
func latLon(lat, lon float64) orb.Point { return orb.Point{lon, lat} }

// Worked examples as printed for the haversine formula with a radius of
// 6 371 008.8 m; the tolerance is the last digit printed, or rounding.
func TestDistanceAsPublished(t *testing.T) {
	for _, c := range []struct {
		source    string
		from, to  orb.Point
		want, tol float64
	}{
		{"Lyon to Paris, Python package haversine 2.x, front page",
			latLon(45.7597, 4.8422), latLon(48.8567, 2.3508), 392217.2595594, 1e-4},
		{"New York to London, Rust crate geo, HaversineLength",
			latLon(40.7128, -74.006), latLon(51.5074, -0.1278), 5570230, 0.5},
		{"Sofia to Plovdiv, Rust crate geo, Haversine",
			latLon(42.698334, 23.319941), latLon(42.136097, 24.742168), 132433.0992946, 1e-4},
		{"Flinders Peak to Buninyong on the sphere (GDA technical manual's places)",
			latLon(-dms(37, 57, 3.72030), dms(144, 25, 29.52440)),
			latLon(-dms(37, 39, 10.15610), dms(143, 55, 35.38390)), 54925.508, 0.01},
		{"one degree of latitude is πR/180", latLon(0, 0), latLon(1, 0), math.Pi * earth / 180, 1e-6},
		{"the same at the far north", latLon(88, 20), latLon(89, 20), math.Pi * earth / 180, 1e-6},
		{"one degree of the equator", latLon(0, 10), latLon(0, 11), math.Pi * earth / 180, 1e-6},
		{"the same across the antimeridian", latLon(0, 179.5), latLon(0, -179.5), math.Pi * earth / 180, 1e-6},
		{"180 and -180 are one meridian", latLon(50, 180), latLon(50, -180), 0, 1e-6},
		{"antipodes are πR apart", latLon(0, 0), latLon(0, 180), math.Pi * earth, 0.1},
		{"pole to pole", latLon(90, 0), latLon(-90, 77), math.Pi * earth, 0.1},
		{"the pole has every longitude", latLon(90, 0), latLon(90, 120), 0, 1e-6},
	} {
		wantNear(t, c.source, route.Distance(c.from, c.to), c.want, c.tol)
		wantNear(t, c.source+", back", route.Distance(c.to, c.from), c.want, c.tol)
	}
}

func dms(deg, min, sec float64) float64 { return deg + min/60 + sec/3600 }

func TestDistanceToItselfIsNothing(t *testing.T) {
	for _, p := range []orb.Point{{0, 0}, {4.8422, 45.7597}, {-180, 12}, {0, 90}} {
		if d := route.Distance(p, p); d != 0 {
			t.Errorf("from %v to itself %v", p, d)
		}
	}
}

// Geodesics on the ellipsoid (WGS84, in the first row GRS80, which is the same to
// 0.1 mm). The last column is how far the sphere is off, in per cent, from an
// independent computation. 0.56 % is the bound that the doc comment promises.
func TestDistanceAgainstTheEllipsoid(t *testing.T) {
	const bound = 0.0056
	for _, c := range []struct {
		source   string
		from, to orb.Point
		geodesic float64
		percent  float64 // ± 0.001
	}{
		{"Flinders Peak to Buninyong, GDA technical manual",
			latLon(-dms(37, 57, 3.72030), dms(144, 25, 29.52440)),
			latLon(-dms(37, 39, 10.15610), dms(143, 55, 35.38390)), 54972.271, -0.085},
		{"GeographicLib geodtest.c", latLon(35.60777, -139.44815), latLon(-11.17491, -69.95921), 8935244.5604818305, 0.064},
		{"GeographicLib geodtest.c", latLon(55.52454, 106.05087), latLon(77.03196, 197.18234), 4105086.1713924406, -0.346},
		{"GeographicLib geodtest.c", latLon(-19.79938, -174.47484), latLon(-11.99349, -154.35109), 2319004.8601169389, -0.051},
		{"GeographicLib geodtest.c", latLon(-41.22777, 122.32875), latLon(-7.57291, 130.37946), 3812686.035106021, 0.347},
		{"GeographicLib geodtest.c", latLon(-68.82867, -74.28391), latLon(-50.63005, -8.36685), 3956936.926063544, -0.311},
	} {
		off := float64(route.Distance(c.from, c.to))/c.geodesic - 1
		if !near(off, 0, bound) {
			t.Errorf("%s: %.3f %% off, the bound is %.2f %%", c.source, off*100, bound*100)
		}
		wantNear(t, c.source+": per cent off", off*100, c.percent, 0.001)
	}
}

// The radii of curvature of the WGS84 ellipsoid (a and 1/f as in its
// definition) give the worst case of a short line: north to south on the equator,
// where the meridian curves most, and near the pole the other way.
func TestDistanceWorstCase(t *testing.T) {
	const a, f = 6378137.0, 1 / 298.257223563
	const e2 = f * (2 - f)
	meridian := func(lat float64) float64 { // radius of curvature, north to south
		s := math.Sin(lat * rad)
		return a * (1 - e2) / math.Pow(1-e2*s*s, 1.5)
	}
	for _, c := range []struct{ lat, percent float64 }{{0, 0.561}, {45, 0.057}, {65, -0.267}, {89.999, -0.447}} {
		sphere := float64(route.Distance(latLon(c.lat-0.0005, 0), latLon(c.lat+0.0005, 0)))
		ellipsoid := meridian(c.lat) * 0.001 * rad
		wantNear(t, "per cent off", (sphere/ellipsoid-1)*100, c.percent, 0.001)
	}
}

// An independent way to the same angle: between two vectors from the centre of
// the earth, sound from nothing to the antipodes.
func angle(a, b orb.Point) float64 {
	u, v := vector(a), vector(b)
	x := [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
	return math.Atan2(math.Sqrt(x[0]*x[0]+x[1]*x[1]+x[2]*x[2]), u[0]*v[0]+u[1]*v[1]+u[2]*v[2])
}

func vector(p orb.Point) [3]float64 {
	sinLat, cosLat := math.Sincos(p[1] * rad)
	sinLon, cosLon := math.Sincos(p[0] * rad)
	return [3]float64{cosLat * cosLon, cosLat * sinLon, sinLat}
}

func anyPlace(t *rapid.T, label string) orb.Point {
	return orb.Point{
		rapid.Float64Range(-180, 180).Draw(t, label+" lon"),
		rapid.Float64Range(-90, 90).Draw(t, label+" lat"),
	}
}

func TestDistanceLikeVectors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyPlace(t, "a"), anyPlace(t, "b")
		got, want := float64(route.Distance(a, b)), angle(a, b)*earth
		// Haversine loses half its digits at the antipodes: 1e-8 of a radius.
		tol := 1e-6 + 1e-9*want
		if want > 3*earth {
			tol = 0.2
		}
		if !near(got, want, tol) || got < 0 {
			t.Errorf("%v to %v: %v m, vectors say %v", a, b, got, want)
		}
	})
}

func TestBetween(t *testing.T) {
	for _, c := range []struct {
		a, b  orb.Point
		share float64
		want  orb.Point
	}{
		{orb.Point{10, 40}, orb.Point{20, 44}, 0.25, orb.Point{12.5, 41}},
		{orb.Point{10, 40}, orb.Point{20, 44}, 0, orb.Point{10, 40}},
		{orb.Point{10, 40}, orb.Point{20, 44}, 1, orb.Point{20, 44}},
		{orb.Point{179, 0}, orb.Point{-179, 0}, 0.25, orb.Point{179.5, 0}},
		{orb.Point{179, 0}, orb.Point{-179, 0}, 0.75, orb.Point{-179.5, 0}},
		{orb.Point{-179, 0}, orb.Point{179, 2}, 0.75, orb.Point{179.5, 1.5}},
	} {
		if got := route.Between(c.a, c.b, c.share); got != c.want {
			t.Errorf("Between(%v, %v, %v) = %v, want %v", c.a, c.b, c.share, got, c.want)
		}
	}
}

func TestKilometres(t *testing.T) {
	if m := route.Kilometres(12.5); m != 12500 {
		t.Errorf("12.5 km are %v m", m)
	}
	if km := route.Metres(250).Kilometres(); km != 0.25 {
		t.Errorf("250 m are %v km", km)
	}
}
