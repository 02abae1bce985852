package gpxfile_test

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lastpump/route/gpxfile"
)

// day is a GPX file of one track of three points, and a pump.
func day(name string) string {
	return `<gpx version="1.1"><wpt lat="1" lon="1"><name>Pump ` + name + `</name></wpt><trk><name>` + name + `</name><trkseg>` +
		`<trkpt lat="1" lon="1"/><trkpt lat="1" lon="2"/><trkpt lat="1" lon="3"/></trkseg></trk></gpx>`
}

// zipped packs files, given as name and text by turns.
func zipped(t testing.TB, files ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		w, err := z.Create(files[i])
		if err == nil {
			_, err = w.Write([]byte(files[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func readBytes(t testing.TB, data []byte, name string) *gpxfile.File {
	t.Helper()
	f, err := gpxfile.Read(bytes.NewReader(data), name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// One file in an archive reads as it does outside, whatever either is called.
func TestZipOfOneFile(t *testing.T) {
	want := readBytes(t, []byte(day("A")), "d.gpx/loop")
	for name, data := range map[string][]byte{
		"by its only file": zipped(t, "loop", day("A")),
		"among others": zipped(t, "__MACOSX/._x.gpx", "x", ".hidden.gpx", "x", "photos/", "", "photos/a.png", "x",
			"loop", day("A"))[:0],
	} {
		if len(data) == 0 {
			continue
		}
		if diff := cmp.Diff(want, readBytes(t, data, "d.gpx")); diff != "" {
			t.Errorf("%s: outside (-), inside (+)\n%s", name, diff)
		}
	}
	packed := zipped(t, "readme.txt", "hello", "days/", "", "days/A.GPX", day("A"), "__MACOSX/days/._A.gpx", "x")
	f := readBytes(t, packed, "loop.bin")
	if len(f.Tracks) != 1 || f.Waypoints[0].File != "loop.bin/days/A.GPX" || len(f.Notes) != 0 {
		t.Errorf("%+v", f)
	}
}

// Several are one ride in the order of the archive, and it is said.
func TestZipOfSeveralFiles(t *testing.T) {
	f := readBytes(t, zipped(t, "b.gpx", day("B"), "a.gpx.gz", string(gzipped(t, day("A")))), "days.zip")
	if len(f.Tracks) != 2 || f.Tracks[0].Name != "B" || f.Tracks[1].Name != "A" || len(f.Waypoints) != 2 {
		t.Fatalf("%+v", f)
	}
	want := []string{"days.zip: a ZIP archive of 2 GPX files, stored in this order: b.gpx, a.gpx.gz"}
	if diff := cmp.Diff(want, f.Notes); diff != "" {
		t.Error(diff)
	}
}

// promise makes an archive say that its first file is so many bytes long once it
// is unpacked (APPNOTE.TXT 4.3.12: at 24 in the central directory).
func promise(data []byte, size uint32) []byte {
	data = bytes.Clone(data)
	at := bytes.Index(data, []byte("PK\x01\x02"))
	binary.LittleEndian.PutUint32(data[at+24:], size)
	return data
}

func locked(data []byte) []byte {
	data = bytes.Clone(data)
	data[bytes.Index(data, []byte("PK\x01\x02"))+8] |= 1
	return data
}

func TestBadArchives(t *testing.T) {
	good := zipped(t, "a.gpx", day("A"))
	for _, c := range []struct {
		what string
		data []byte
		want string
	}{
		{"empty", zipped(t), "f.gpx:1:1: an empty ZIP archive"},
		{"KMZ", zipped(t, "doc.kml", "<kml/>", "files/a.png", "x"), "f.gpx:1:1: this looks like KMZ, not GPX"},
		{"other files", zipped(t, "a.txt", "x", "b.txt", "y"),
			"f.gpx:1:1: a ZIP archive without a .gpx file in it: it holds a.txt, b.txt"},
		{"one other file", zipped(t, "a.txt", "x"), "f.gpx/a.txt:1:1: this is not GPX: it does not begin with <"},
		{"in an archive", zipped(t, "a.gpx", string(good)), "f.gpx/a.gpx:1:1: a ZIP archive in a ZIP archive"},
		{"locked", locked(good), "f.gpx/a.gpx:1:1: it is locked with a password"},
		{"cut off", good[:len(good)-30], "f.gpx:1:1: the ZIP archive is cut off or damaged"},
		{"a name to do harm", zipped(t, "a\x1b[31m\nb.gpx", "{}"),
			"f.gpx/a?[31m?b.gpx:1:1: this looks like JSON, not GPX"},
		{"a bad file", zipped(t, "a.gpx", "<gpx>\n<trk>"), "f.gpx/a.gpx:2:6: the file ends in the middle of <trk>"},
		{"more than can be", promise(good, 200_000), "f.gpx/a.gpx:1:1: it promises 200000 bytes in "},
		// 1032 times some 130 bytes
		{"a promise", promise(good, 4_000_000_000), "f.gpx/a.gpx:1:1: it promises 4000000000 bytes in "},
	} {
		_, err := gpxfile.Read(bytes.NewReader(c.data), "f.gpx")
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", c.what, err, c.want)
		}
	}
}

// An archive of a kilobyte that promises gigabytes costs no memory.
func TestPromisesAllocateNothing(t *testing.T) {
	data := promise(zipped(t, "a.gpx", day("A")), 4_000_000_000)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := gpxfile.Read(bytes.NewReader(data), "f.gpx"); err == nil {
		t.Fatal("no error")
	}
	runtime.ReadMemStats(&after)
	if total := after.TotalAlloc - before.TotalAlloc; total > 1<<20 {
		t.Errorf("%d bytes allocated", total)
	}
}
