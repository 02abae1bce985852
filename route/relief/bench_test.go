package relief_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// winding is a line of a million points over three tiles, 1.6 m apart.
func winding() []orb.Point {
	points := make([]orb.Point, 1_000_000)
	for i := range points {
		x := float64(i) / float64(len(points))
		points[i] = at(51.5+0.4*math.Sin(30*x), 10+2.99*x)
	}
	return points
}

// BenchmarkHeight is along a line through three tiles of 1″; one has to be
// dropped and is read again in each run.
func BenchmarkHeight(b *testing.B) {
	data := samples(fine, func(row, col int) int { return row + col })
	tiles := open(b, folder("N51E010.hgt", data, "N51E011.hgt", data, "N51E012.hgt", data))
	line := winding()
	b.ReportAllocs()
	for b.Loop() {
		for _, p := range line {
			if _, ok, err := tiles.Height(p); !ok || err != nil {
				b.Fatal(ok, err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(line)), "ns/point")
}

// BenchmarkMissing is along the same line where there are no tiles.
func BenchmarkMissing(b *testing.B) {
	tiles := open(b, folder("N00E010.hgt", ""))
	line := winding()
	b.ReportAllocs()
	for b.Loop() {
		for _, p := range line {
			if _, ok, err := tiles.Height(p); ok || err != nil {
				b.Fatal(ok, err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(line)), "ns/point")
}

// BenchmarkUnpack reads a tile of 1″ of hills from gzip.
func BenchmarkUnpack(b *testing.B) {
	data := gzipped(b, samples(fine, func(row, col int) int {
		return 1500 + int(700*math.Sin(float64(row)/97)*math.Cos(float64(col)/131))
	}))
	files := folder("N51E010.hgt.gz", data)
	b.SetBytes(2 * fine * fine)
	for b.Loop() {
		if _, ok, err := open(b, files).Height(at(51.5, 10.5)); !ok || err != nil {
			b.Fatal(ok, err)
		}
	}
}
