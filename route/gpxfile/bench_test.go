package gpxfile_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"lastpump/route/internal/testfiles"

	"github.com/tkrajina/gpxgo/gpx"

	"lastpump/route/gpxfile"
)

// sembalun is a ride of 45 269 points with extensions, 14 MB.
func sembalun(tb testing.TB) []byte {
	tb.Helper()
	data, err := os.ReadFile(filepath.Join(
		testfiles.Dir(tb, testfiles.XMLTokenizer, "testdata"), "ride_sembalun.gpx"))
	if err != nil {
		tb.Fatal(err)
	}
	return withPosition(tb, data)
}

// BenchmarkRead compares this reader with gpxgo on one file in one run.
func BenchmarkRead(b *testing.B) {
	data := sembalun(b)
	ours := func() {
		if _, err := gpxfile.Read(bytes.NewReader(data), "f.gpx"); err != nil {
			b.Fatal(err)
		}
	}
	theirs := func() {
		if _, err := gpx.ParseBytes(data); err != nil {
			b.Fatal(err)
		}
	}
	b.Run("ours", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		b.ReportAllocs()
		for b.Loop() {
			ours()
		}
	})
	b.Run("gpxgo", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		b.ReportAllocs()
		for b.Loop() {
			theirs()
		}
	})
	b.Run("ratio", func(b *testing.B) { // one read each in turn, so that both meet the same weather
		var mine, other time.Duration
		for b.Loop() {
			start := time.Now()
			ours()
			mid := time.Now()
			theirs()
			mine += mid.Sub(start)
			other += time.Since(mid)
		}
		b.ReportMetric(other.Seconds()/mine.Seconds(), "x-gpxgo")
	})
}
