package osmmap

import (
	"bytes"
	"compress/bzip2"
	"context"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"
	"github.com/paulmach/osm/osmxml"
)

// BenchmarkSurvey surveys a ride of 60 km on each map and, in turn, lets the scanner of
// the library read the same file and do nothing with it. Read "ratio".
func BenchmarkSurvey(b *testing.B) {
	for _, name := range []string{delaware, andorra} {
		b.Run(name, func(b *testing.B) {
			points, _ := rideOf(b, name, 60_000).recorded(5, 20, newRand(1))
			line := lineOf(b, points)
			data, err := os.ReadFile(extractPath(b, name))
			if err != nil {
				b.Fatal(err)
			}
			opt := DefaultOptions()
			opt.Scale, opt.Cores = "RON", 2
			var survey, nothing time.Duration
			b.ReportAllocs()
			for b.Loop() {
				start := time.Now()
				if _, err := Read(context.Background(), line, []Extract{seekable(name, data)}, opt); err != nil {
					b.Fatal(err)
				}
				half := time.Now()
				doNothing(b, name, bytes.NewReader(data))
				survey, nothing = survey+half.Sub(start), nothing+time.Since(half)
			}
			b.ReportMetric(float64(survey)/float64(nothing), "ratio")
			b.ReportMetric(survey.Seconds()*1000/float64(b.N), "ms/survey")
		})
	}
}

func rideOf(t testing.TB, name string, length float64) *ride {
	w := worldOf(t, name)
	c := newChain(w, 5)
	for {
		for id := range c.links {
			if d := c.ride(id, length, func(osm.WayID) bool { return false }); d.length >= length {
				return d
			}
		}
	}
}

func doNothing(b *testing.B, name string, r io.Reader) {
	var s osm.Scanner = osmpbf.New(context.Background(), r, 2)
	if strings.HasSuffix(name, ".bz2") {
		s = osmxml.New(context.Background(), bzip2.NewReader(r))
	}
	defer s.Close()
	for s.Scan() {
	}
	if err := s.Err(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkMatch lays a ride of 60 km on the ways near it.
func BenchmarkMatch(b *testing.B) {
	points, _ := rideOf(b, delaware, 60_000).recorded(5, 20, newRand(1))
	line := lineOf(b, points)
	h := newHaul(line, DefaultOptions())
	if err := h.read(context.Background(), []Extract{extractOf(b, delaware)}); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		match(line, newRoads(h.ways), 2)
	}
}
