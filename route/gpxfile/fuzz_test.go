package gpxfile_test

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"lastpump/route/input"

	"lastpump/route"
	"lastpump/route/gpxfile"
)

// FuzzRead asks of any input: a file whose points are all sound, or an error
// with a place, and the same whatever the reader's pace.
func FuzzRead(f *testing.F) {
	f.Add([]byte(whole))
	f.Add(gzipped(f, whole))
	f.Add(zipped(f, "a.gpx", whole, "b/c.gpx", day("C")))
	f.Add([]byte(day("A")))
	f.Add([]byte("\xff\xfe<\x00g\x00p\x00x\x00/\x00>\x00"))
	f.Add([]byte("<?xml version='1.0' encoding='windows-1251'?><gpx><name>\xff</name></gpx>"))
	f.Add([]byte(`<gpx xmlns:lp="urn:lastpump:plan"><metadata><extensions><lp:line>1 a</lp:line><x/><lp:line>b</lp:line></extensions></metadata></gpx>`))
	for _, x := range badInput {
		f.Add([]byte(x.text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := gpxfile.Read(bytes.NewReader(data), "f.gpx")
		slow, slowErr := gpxfile.Read(iotest.OneByteReader(bytes.NewReader(data)), "f.gpx")
		if !reflect.DeepEqual(file, slow) || !reflect.DeepEqual(err, slowErr) {
			t.Fatalf("read at once:\n%+v %v\nbyte by byte:\n%+v %v", file, err, slow, slowErr)
		}
		checkSalvage(t, data, file)
		if err != nil {
			checkError(t, file, err)
			return
		}
		for _, lines := range [][]gpxfile.Track{file.Tracks, file.Routes} {
			for _, line := range lines {
				for _, seg := range line.Segments {
					for _, p := range seg {
						checkPoint(t, p)
					}
				}
			}
		}
		for _, rte := range file.Routes {
			if len(rte.Segments) != 1 {
				t.Fatalf("a route of %d segments", len(rte.Segments))
			}
		}
		for _, w := range file.Waypoints {
			checkPoint(t, w.Point)
			if w.Line < 1 || w.Col < 1 {
				t.Fatalf("waypoint at %d:%d", w.Line, w.Col)
			}
		}
	})
}

// checkSalvage asks that of a sound file salvaging makes no difference, and that
// from any other it keeps at least a point, and says that it is cut off.
func checkSalvage(t *testing.T, data []byte, file *gpxfile.File) {
	t.Helper()
	kept, err := gpxfile.Salvage(bytes.NewReader(data), "f.gpx")
	switch {
	case file != nil && (err != nil || !reflect.DeepEqual(kept, file)):
		t.Fatalf("read %+v, salvaged %+v, %v", file, kept, err)
	case file == nil && err == nil && (kept.Cut == "" || !gpxfile.HasPoints(kept.Lines())):
		t.Fatalf("salvaged %+v", kept)
	}
}

func checkError(t *testing.T, file *gpxfile.File, err error) {
	t.Helper()
	var fault *input.Error
	if !errors.As(err, &fault) {
		t.Fatalf("error of type %T", err)
	}
	if fault.Line < 1 || fault.Col < 1 || fault.What == "" || fault.Hint == "" ||
		!strings.HasPrefix(fault.File, "f.gpx") {
		t.Fatalf("error %#v", fault)
	}
	if file != nil {
		t.Fatal("a file beside the error")
	}
}

func checkPoint(t *testing.T, p route.Point) {
	t.Helper()
	if !(math.Abs(p.Lat()) <= 90 && math.Abs(p.Lon()) <= 180) { // false for NaN
		t.Fatalf("point at %v, %v", p.Lat(), p.Lon())
	}
	if !(math.Abs(p.Ele) <= 20000) || !p.HasEle && p.Ele != 0 {
		t.Fatalf("elevation %v, %v", p.Ele, p.HasEle)
	}
}
