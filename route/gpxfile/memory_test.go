package gpxfile_test

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"lastpump/route/gpxfile"
)

// longRide is a GPX file of n points, about 100 bytes each, that is made while
// it is read.
type longRide struct {
	n, made int
	buf     bytes.Buffer
	size    int
}

func (r *longRide) Read(p []byte) (int, error) {
	for r.buf.Len() < len(p) && r.made <= r.n+1 {
		switch r.made {
		case 0:
			r.buf.WriteString("<?xml version=\"1.0\"?>\n<gpx><trk><trkseg>\n")
		case r.n + 1:
			r.buf.WriteString("</trkseg></trk></gpx>\n")
		default:
			fmt.Fprintf(&r.buf, "<trkpt lat=\"%.7f\" lon=\"%.7f\">\n<ele>%.1f</ele><time>2024-05-19T03:45:03Z</time></trkpt>\n",
				45+float64(r.made)*1e-5, 7+float64(r.made)*1e-5, 1000+float64(r.made%500))
		}
		r.made++
	}
	n, err := r.buf.Read(p)
	r.size += n
	if r.made <= r.n+1 {
		err = nil
	} else if n == 0 {
		err = io.EOF
	}
	return n, err
}

// All that is ever allocated for a long file is less than the file. A point is
// 32 bytes, kept twice for a moment.
func TestMemory(t *testing.T) {
	const points = 200_000
	var before, after runtime.MemStats
	ride := &longRide{n: points}
	made := readAllocs(t, &longRide{n: points}) // what the maker itself takes
	runtime.ReadMemStats(&before)
	f, err := gpxfile.Read(ride, "ride.gpx")
	runtime.ReadMemStats(&after)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(f.Tracks[0].Segments[0]); n != points || cap(f.Tracks[0].Segments[0]) != points {
		t.Errorf("%d points in a slice of %d, want %d", n, cap(f.Tracks[0].Segments[0]), points)
	}
	total, count := after.TotalAlloc-before.TotalAlloc-made.bytes, after.Mallocs-before.Mallocs-made.count
	if total > uint64(ride.size) {
		t.Errorf("%d bytes allocated for a file of %d", total, ride.size)
	}
	if count > points/100 {
		t.Errorf("%d allocations for %d points", count, points)
	}
}

type allocs struct{ bytes, count uint64 }

func readAllocs(t *testing.T, r io.Reader) allocs {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := io.CopyBuffer(struct{ io.Writer }{io.Discard}, r, make([]byte, 64<<10)); err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&after)
	return allocs{after.TotalAlloc - before.TotalAlloc, after.Mallocs - before.Mallocs}
}

// Segments of all sizes come out whole, though they share the same blocks.
func TestManySegments(t *testing.T) {
	sizes := []int{0, 1, 63, 64, 65, 5000, 2, 0, 4160, 4161, 10000, 1}
	var b strings.Builder
	b.WriteString("<gpx><trk>")
	for i, n := range sizes {
		b.WriteString("<trkseg>")
		for j := range n {
			fmt.Fprintf(&b, `<trkpt lat="%d" lon="%d"/>`, i, j%180)
		}
		b.WriteString("</trkseg>")
	}
	b.WriteString("</trk></gpx>")
	f, err := read(b.String())
	if err != nil {
		t.Fatal(err)
	}
	for i, n := range sizes {
		seg := f.Tracks[0].Segments[i]
		if len(seg) != n {
			t.Errorf("segment %d has %d points, want %d", i, len(seg), n)
		}
		for j, p := range seg {
			if p != at(float64(i), float64(j%180)) {
				t.Fatalf("segment %d, point %d: %+v", i, j, p)
			}
		}
	}
}
