package relief_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"testing/iotest"

	"lastpump/route/relief"
)

const (
	wantSizes  = "want 2884802 (1201×1201 samples) or 25934402 (3601×3601)"
	badSize    = "the file is cut off or no SRTM tile: download it again, or take it out of the folder"
	badCut     = "the file was cut off: download it again, or take it out of the folder"
	badDamaged = "download the file again, or take it out of the folder"
	badZip     = "a zip should hold one tile, named as the zip is: take it out of the folder, or unpack it there"
)

// promising makes a zip whose member says how large it will be.
func promising(tb testing.TB, packed []byte, method uint16, size uint64) []byte {
	tb.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	f, err := w.CreateRaw(&zip.FileHeader{Name: "N51E010.hgt", Method: method,
		CRC32: crc32.ChecksumIEEE(nil), CompressedSize64: uint64(len(packed)), UncompressedSize64: size})
	if err == nil {
		_, err = f.Write(packed)
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// deflated gives the bare deflate data of a gzip of Go's writer, which has a
// head of 10 bytes and 8 behind.
func deflated(tb testing.TB, data []byte) []byte {
	tb.Helper()
	g := gzipped(tb, data)
	return g[10 : len(g)-8]
}

func damaged(data []byte, at int) []byte {
	data = bytes.Clone(data)
	data[(at+len(data))%len(data)] ^= 0xff
	return data
}

type badRow struct {
	name       string
	data       []byte
	text, hint string
}

// badFiles are made once: packing them takes seconds with the race detector.
func badFiles(tb testing.TB) []badRow {
	if len(badRows) > 0 {
		return badRows
	}
	tile := level(300)
	for i := 0; i < len(tile); i += 7 { // not so even that a cut takes it all
		tile[i] ^= byte(i * i >> 8 & 1)
	}
	badRows = append(badPlain(tile), append(badGzips(tb, tile), badZips(tb, tile)...)...)
	return badRows
}

var badRows []badRow

func badPlain(tile []byte) []badRow {
	return []badRow{
		{"empty", nil, "0 bytes, " + wantSizes, badSize},
		{"text", []byte("<html>no such tile"), "18 bytes, " + wantSizes, badSize},
		{"a byte short", tile[1:], "2884801 bytes, " + wantSizes, badSize},
		{"a byte long", append(bytes.Clone(tile), 0), "2884803 bytes, " + wantSizes, badSize},
		{"huge", make([]byte, 64<<20+1), "67108865 bytes, more than any tile", badSize},
	}
}

func badGzips(tb testing.TB, tile []byte) []badRow {
	gz := gzipped(tb, tile)
	return []badRow{
		{"gzip of a byte short", gzipped(tb, tile[1:]), "2884801 bytes when unpacked, " + wantSizes, badSize},
		{"gzip of a byte long", gzipped(tb, append(bytes.Clone(tile), 0)),
			"2884803 bytes when unpacked, " + wantSizes, badSize},
		{"gzip of nothing", gzipped(tb, nil), "0 bytes when unpacked, " + wantSizes, badSize},
		{"gzip of much", gzipped(tb, make([]byte, 25934403)), "over 25934402 bytes when unpacked, " + wantSizes,
			badSize},
		{"gzip without its last byte", gz[:len(gz)-1], "the file is cut off", badCut},
		{"gzip cut in the middle", gz[:len(gz)/2], "the file is cut off", badCut},
		{"gzip cut in its head", gz[:5], "the file is cut off", badCut},
		{"gzip with another sum", damaged(gz, -5), "the compressed data is damaged", badDamaged},
		{"gzip with another size", damaged(gz, -1), "the compressed data is damaged", badDamaged},
		{"gzip with other data", damaged(gz, 10), "the compressed data is damaged", badDamaged},
		{"gzip and more", append(bytes.Clone(gz), "more than ten bytes"...), "the compressed data is damaged",
			badDamaged},
	}
}

func badZips(tb testing.TB, tile []byte) []badRow {
	zp := zipped(tb, "N51E010.hgt", tile)
	var crowd []any
	for i := range 1001 {
		crowd = append(crowd, fmt.Sprintf("%d.txt", i), []byte{})
	}
	return []badRow{
		{"zip that promises 10 GB", promising(tb, deflated(tb, make([]byte, 1<<20)), zip.Deflate, 10<<30),
			"10737418240 bytes in the zip, " + wantSizes, badSize},
		{"zip that promises nothing", promising(tb, nil, zip.Store, 0), "0 bytes in the zip, " + wantSizes, badSize},
		{"zip that promises too little", promising(tb, deflated(tb, append(bytes.Clone(tile), 0)), zip.Deflate,
			2884802),
			"the zip is cut off or damaged", badDamaged},
		{"zip that promises too much", promising(tb, deflated(tb, tile[1:]), zip.Deflate, 2884802),
			"the zip is cut off or damaged", badDamaged},
		{"zip of another method", promising(tb, tile, 99, 2884802),
			"the zip is packed in a way that is not known here", "unpack it in the folder"},
		{"zip cut off", zp[:len(zp)-30], "the zip is cut off or damaged", badDamaged},
		{"zip with other data", damaged(zp, len(zp)/2), "the zip is cut off or damaged", badDamaged},
		{"zip of nothing", zipped(tb), "0 .hgt files in the zip, want one", badZip},
		{"zip of two", zipped(tb, "N51E010.hgt", tile, "N51E011.hgt", tile), "2 .hgt files in the zip, want one",
			badZip},
		{"zip of another tile", zipped(tb, "S51E010.hgt", tile), "the tile in the zip is S51E010", badZip},
		{"zip of very many", zipped(tb, crowd...), "over 1000 files in the zip", badZip},
	}
}

func TestBadFiles(t *testing.T) {
	names := []string{"N51E010.hgt", "sub/N51E010.hgt.gz", "N51E010.zip"} // which is of no account
	for i, tt := range badFiles(t) {
		name := names[i%len(names)]
		t.Run(tt.name, func(t *testing.T) {
			tiles := open(t, folder(name, tt.data))
			h, ok, err := tiles.Height(at(51.5, 10.5))
			wantFault(t, err, name+": "+tt.text, tt.hint)
			if h != 0 || ok {
				t.Errorf("a height beside the error: %v, %v", h, ok)
			}
			if n := len(tiles.Missing()); n > 0 || tiles.Held() > 0 {
				t.Errorf("%d missing, %d bytes held after an error", n, tiles.Held())
			}
		})
	}
}

// What small files unpack to is refused before there is room for it.
func TestPromisesAreCheap(t *testing.T) {
	bound := map[string]uint64{
		"zip that promises 10 GB": 1 << 20,
		"zip of very many":        1 << 20,
		"huge":                    1 << 20,
		"gzip of a byte short":    4 << 20,  // room for a small tile
		"gzip of much":            30 << 20, // for a small and a large one
	}
	for _, tt := range badFiles(t) {
		tiles := open(t, folder("N51E010.zip", tt.data))
		got := allocated(func() { _, _, _ = tiles.Height(at(51.5, 10.5)) })
		if limit, ok := bound[tt.name]; ok && got > limit {
			t.Errorf("%s: %d bytes allocated, want up to %d", tt.name, got, limit)
		}
	}
}

// A disk is one whose files fail, or end otherwise than their size says.
type disk struct {
	fstest.MapFS
	open, read error
	data       io.Reader
}

func (d disk) Open(name string) (fs.File, error) {
	f, err := d.MapFS.Open(name)
	if name == "." || err != nil {
		return f, err
	}
	if d.open != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: d.open}
	}
	if d.data == nil {
		return other{f, iotest.ErrReader(d.read)}, nil
	}
	return other{f, d.data}, nil
}

// An other file reads otherwise than it is.
type other struct {
	fs.File
	data io.Reader
}

func (o other) Read(b []byte) (int, error) { return o.data.Read(b) }

func TestDiskFaults(t *testing.T) {
	const sound = "is the disk or the connection sound?"
	broken := errors.New("input/output error")
	files := folder("N51E010.hgt", level(0))
	begin := func(data string) io.Reader {
		return io.MultiReader(strings.NewReader(data), iotest.ErrReader(broken))
	}
	for _, tt := range []struct {
		disk       disk
		text, hint string
	}{
		{disk{open: broken}, "input/output error", sound},
		{disk{read: broken}, "cannot read on: input/output error", sound},
		{disk{data: begin("PK\x03\x04")}, "cannot read on: input/output error", sound},
		{disk{data: begin("\x1f\x8b\x08")}, "cannot read on: input/output error", sound},
		{disk{data: bytes.NewReader(level(0)[1:])}, "the file is cut off", badCut},
		{disk{data: bytes.NewReader(append(level(0), 0))}, "cannot read on: it goes on beyond its size", sound},
	} {
		tt.disk.MapFS = files
		_, _, err := open(t, tt.disk).Height(at(51.5, 10.5))
		wantFault(t, err, "N51E010.hgt: "+tt.text, tt.hint)
	}
	tiles := open(t, files)
	delete(files, "N51E010.hgt")
	_, _, err := tiles.Height(at(51.5, 10.5))
	wantFault(t, err, "N51E010.hgt: file does not exist", sound)
	files["N51E010.hgt"] = &fstest.MapFile{Mode: fs.ModeNamedPipe}
	_, _, err = tiles.Height(at(51.5, 10.5))
	wantFault(t, err, "N51E010.hgt: this is no regular file", badDamaged)
}

// After a damaged tile the others can be read.
func TestDamageIsLocal(t *testing.T) {
	tiles, err := relief.Open(folder("N51E010.hgt", "x", "N51E011.hgt", level(8)))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 { // it does not go away
		if _, _, err := tiles.Height(at(51.5, 10.5)); err == nil {
			t.Error("no error")
		}
	}
	wantHeight(t, tiles, at(51.5, 11.5), 8)
}
