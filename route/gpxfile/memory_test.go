package gpxfile_test

import (
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"lastpump/route/gpxfile"
)

// longRide is a GPX file of n points, about 100 bytes each, that is made while
// it is read and without allocating.
type longRide struct {
	n, made, size int
	rest          []byte // made and not read
	buf           [200]byte
}

func (r *longRide) Read(p []byte) (int, error) {
	done := 0
	for done < len(p) {
		if len(r.rest) == 0 && !r.next() {
			break
		}
		n := copy(p[done:], r.rest)
		done, r.rest = done+n, r.rest[n:]
	}
	r.size += done
	if done == 0 {
		return 0, io.EOF
	}
	return done, nil
}

// next makes the next line of the file.
func (r *longRide) next() bool {
	b := r.buf[:0]
	switch i := float64(r.made); {
	case r.made == 0:
		b = append(b, "<?xml version=\"1.0\"?>\n<gpx><trk><trkseg>\n"...)
	case r.made <= r.n:
		b = append(b, "<trkpt lat=\""...)
		b = strconv.AppendFloat(b, 45+i*1e-5, 'f', 7, 64)
		b = append(b, "\" lon=\""...)
		b = strconv.AppendFloat(b, 7+i*1e-5, 'f', 7, 64)
		b = append(b, "\">\n<ele>1234.5</ele><time>2024-05-19T03:45:03Z</time></trkpt>\n"...)
	case r.made == r.n+1:
		b = append(b, "</trkseg></trk></gpx>\n"...)
	default:
		return false
	}
	r.made++
	r.rest = b
	return true
}

// All that is ever allocated for a long file is less than the file. A point is
// 32 bytes, kept twice for a moment.
func TestMemory(t *testing.T) {
	const points = 200_000
	var before, after runtime.MemStats
	ride := &longRide{n: points}
	runtime.ReadMemStats(&before)
	f, err := gpxfile.Read(ride, "ride.gpx")
	runtime.ReadMemStats(&after)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(f.Tracks[0].Segments[0]); n != points || cap(f.Tracks[0].Segments[0]) != points {
		t.Errorf("%d points in a slice of %d, want %d", n, cap(f.Tracks[0].Segments[0]), points)
	}
	if total := after.TotalAlloc - before.TotalAlloc; total > uint64(ride.size) {
		t.Errorf("%d bytes allocated for a file of %d", total, ride.size)
	}
	if count := after.Mallocs - before.Mallocs; count > points/100 {
		t.Errorf("%d allocations for %d points", count, points)
	}
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
