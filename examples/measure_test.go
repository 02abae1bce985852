package examples_test

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	_ "github.com/muktihari/xmltokenizer" // keeps the recorded rides in go.mod
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
	"github.com/tkrajina/gpxgo/gpx"

	"lastpump/route"
)

// A statistic is one figure of a stretch of track.
type statistic struct {
	name string
	of   func([]route.Point) float64
}

// steps are what the recorder leaves: how far from fix to fix. Metres.
var steps = []statistic{
	{"median step", func(p []route.Point) float64 { return quantile(lengths(p), 0.5) }},
	{"90th percentile step", func(p []route.Point) float64 { return quantile(lengths(p), 0.9) }},
	{"variation of the step", func(p []route.Point) float64 { return variation(lengths(p)) }},
}

// shape is what the road leaves, measured at 50 m so that the step does not
// come into it, and over chords of 1 km.
var shape = []statistic{
	{"turn, degrees per 100 m", func(p []route.Point) float64 { return 2 * meanTurn(resample(p, 50)) }},
	{"sinuosity over 1 km", sinuosity},
}

// climb is the ascent in metres per km, between turning points 10 m apart.
var climb = statistic{"ascent per km", func(p []route.Point) float64 {
	up, low, high := 0.0, p[0].Ele, p[0].Ele
	rising := false
	for _, q := range p {
		if rising {
			if high = max(high, q.Ele); high-q.Ele >= 10 {
				up, low, rising = up+high-low, q.Ele, false
			}
			continue
		}
		if low = min(low, q.Ele); q.Ele-low >= 10 {
			high, rising = q.Ele, true
		}
	}
	if rising {
		up += high - low
	}
	return up / (sum(lengths(p)) / 1000)
}}

// sinuosity is the length of the way over that of its chords of 1 km of way.
func sinuosity(p []route.Point) float64 {
	const every, perChord = 50.0, 20
	p = resample(p, every)
	chords, n := 0.0, 0
	for i := perChord; i < len(p); i += perChord {
		chords += distance(p[i-perChord], p[i])
		n++
	}
	return every * perChord * float64(n) / chords
}

// meanTurn is the mean change of direction at a point, in degrees.
func meanTurn(p []route.Point) float64 {
	total := 0.0
	for i := 2; i < len(p); i++ {
		total += math.Abs(math.Remainder(bearing(p[i-1], p[i])-bearing(p[i-2], p[i-1]), 2*math.Pi))
	}
	return total / float64(len(p)-2) * 180 / math.Pi
}

func distance(a, b route.Point) float64 { return float64(route.Distance(a.Point, b.Point)) }

func bearing(a, b route.Point) float64 {
	return math.Atan2((b.Lon()-a.Lon())*math.Cos(a.Lat()*math.Pi/180), b.Lat()-a.Lat())
}

func lengths(p []route.Point) []float64 {
	var d []float64
	for i := 1; i < len(p); i++ {
		d = append(d, distance(p[i-1], p[i]))
	}
	return d
}

func sum(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}

func variation(v []float64) float64 {
	mean, squares := sum(v)/float64(len(v)), 0.0
	for _, x := range v {
		squares += (x - mean) * (x - mean)
	}
	return math.Sqrt(squares/float64(len(v))) / mean
}

func quantile(v []float64, q float64) float64 {
	v = slices.Sorted(slices.Values(v))
	i := q * float64(len(v)-1)
	k := min(int(i), len(v)-2)
	return v[k] + (i-float64(k))*(v[k+1]-v[k])
}

// resample puts a point at every so many metres of way.
func resample(p []route.Point, every float64) []route.Point {
	var out []route.Point
	along, next := 0.0, 0.0
	for i := 1; i < len(p); i++ {
		d := distance(p[i-1], p[i])
		for ; d > 0 && next <= along+d; next += every {
			t := (next - along) / d
			out = append(out, route.Point{Point: orb.Point{
				p[i-1].Lon() + t*(p[i].Lon()-p[i-1].Lon()),
				p[i-1].Lat() + t*(p[i].Lat()-p[i-1].Lat()),
			}})
		}
		along += d
	}
	return out
}

// thin keeps the first of every n points: the same recorder, set to keep fewer.
func thin(p []route.Point, n int) []route.Point {
	var out []route.Point
	for i := 0; i < len(p); i += n {
		out = append(out, p[i])
	}
	return out
}

// drawn keeps the points that the shape needs, to within metres.
func drawn(p []route.Point, within float64) []route.Point {
	const degree = 111195.08 // metres; facts of the sphere that distance uses
	squeeze := math.Cos(p[0].Lat() * math.Pi / 180)
	var flat orb.LineString
	for _, q := range p {
		flat = append(flat, orb.Point{q.Lon() * squeeze * degree, q.Lat() * degree})
	}
	var out []route.Point
	for _, q := range simplify.DouglasPeucker(within).LineString(flat) {
		out = append(out, route.Point{Point: orb.Point{q[0] / squeeze / degree, q[1] / degree}})
	}
	return out
}

// windows cuts a track into pieces of 10 km; what is left over is dropped.
func windows(p []route.Point) [][]route.Point {
	const size = 10e3
	var out [][]route.Point
	from, length := 0, 0.0
	for i := 1; i < len(p); i++ {
		if length += distance(p[i-1], p[i]); length >= size {
			out = append(out, p[from:i+1])
			from, length = i, 0
		}
	}
	return out
}

// recordedRides are two days in the saddle on mountain roads, some 260 km, that
// a module of the same trade carries as test data. Its walks are left out: a
// walker's steps and climbs are no measure of a ride.
func recordedRides(t *testing.T) [][]route.Point {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/muktihari/xmltokenizer").Output()
	if err != nil || strings.TrimSpace(string(dir)) == "" {
		t.Skipf("no module cache with recorded rides in it: %v", err)
	}
	var rides [][]route.Point
	for _, name := range []string{"ride_sembalun.gpx", "ride_dps_bedugul.gpx"} {
		for _, track := range readTracks(t, filepath.Join(strings.TrimSpace(string(dir)), "testdata", name)) {
			rides = append(rides, track.Segments...)
		}
	}
	return rides
}

// readTracks reads a GPX file with a reader that is not the project's own.
// Points without a place, which gpxgo puts at 0,0, and points that repeat the
// one before are left out.
func readTracks(t *testing.T, name string) []route.Track {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	g, err := gpx.ParseBytes(data)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var tracks []route.Track
	for _, track := range g.Tracks {
		out := route.Track{Name: track.Name}
		for _, s := range track.Segments {
			out.Segments = append(out.Segments, points(s.Points))
		}
		tracks = append(tracks, out)
	}
	return tracks
}

func points(from []gpx.GPXPoint) []route.Point {
	var out []route.Point
	for _, p := range from {
		q := route.Point{
			Point: orb.Point{p.Longitude, p.Latitude},
			Ele:   p.Elevation.Value(), HasEle: p.Elevation.NotNull(),
		}
		nowhere := q.Point == orb.Point{}
		if !nowhere && (len(out) == 0 || out[len(out)-1].Point != q.Point) {
			out = append(out, q)
		}
	}
	return out
}
