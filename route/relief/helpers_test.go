package relief_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"io/fs"
	"runtime"
	"testing"
	"testing/fstest"

	"lastpump/route/relief"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// Samples along an edge: 3″ and 1″ (SRTM_Topo.txt).
const coarse, fine = 1201, 3601

// samples makes a tile of which height gives each sample, rows from the north.
func samples(side int, height func(row, col int) int) []byte {
	data := make([]byte, 0, 2*side*side)
	for row := range side {
		for col := range side {
			data = binary.BigEndian.AppendUint16(data, uint16(int16(height(row, col))))
		}
	}
	return data
}

// flat makes a tile of one height, level one of 3″.
func flat(side, height int) []byte {
	return bytes.Repeat([]byte{byte(height >> 8), byte(height)}, side*side)
}

func level(height int) []byte { return flat(coarse, height) }

// put sets a sample of a 3″ tile.
func put(data []byte, row, col, height int) {
	binary.BigEndian.PutUint16(data[2*(row*coarse+col):], uint16(int16(height)))
}

// folder makes a folder of name, data, name, data.
func folder(files ...any) fstest.MapFS {
	m := fstest.MapFS{}
	for i := 0; i < len(files); i += 2 {
		switch data := files[i+1].(type) {
		case []byte:
			m[files[i].(string)] = &fstest.MapFile{Data: data}
		case string:
			m[files[i].(string)] = &fstest.MapFile{Data: []byte(data)}
		}
	}
	return m
}

func open(tb testing.TB, fsys fs.FS) *relief.Tiles {
	tb.Helper()
	tiles, err := relief.Open(fsys)
	if err != nil {
		tb.Fatal(err)
	}
	return tiles
}

// at is a place, latitude first as it is spoken.
func at(lat, lon float64) orb.Point { return orb.Point{lon, lat} }

// wantHeight checks a height to within 1e-9 m, where doubles of some thousand
// metres have 1e-12.
func wantHeight(tb testing.TB, tiles *relief.Tiles, p orb.Point, want float64) {
	tb.Helper()
	h, ok, err := tiles.Height(p)
	if err != nil || !ok || !(h-want < 1e-9 && want-h < 1e-9) {
		tb.Errorf("at %v, %v: %v, %v, %v, want %v", p.Lat(), p.Lon(), h, ok, err, want)
	}
}

func wantNone(tb testing.TB, tiles *relief.Tiles, p orb.Point) {
	tb.Helper()
	if h, ok, err := tiles.Height(p); h != 0 || ok || err != nil {
		tb.Errorf("at %v, %v: %v, %v, %v, want no height", p.Lat(), p.Lon(), h, ok, err)
	}
}

var wantFault = kit.WantFault

func gzipped(tb testing.TB, data []byte) []byte {
	tb.Helper()
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		tb.Fatal(err)
	}
	if _, err := w.Write(data); err != nil {
		tb.Fatal(err)
	}
	if err := w.Close(); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// zipped makes a zip of name, data, name, data; a name with / at its end is a
// folder.
func zipped(tb testing.TB, files ...any) []byte {
	tb.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		f, err := w.Create(files[i].(string))
		if err == nil {
			_, err = f.Write(files[i+1].([]byte))
		}
		if err != nil {
			tb.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// allocated gives the bytes that are allocated while f runs.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}
