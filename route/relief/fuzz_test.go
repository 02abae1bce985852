package relief_test

import (
	"errors"
	"strings"
	"testing"

	"lastpump/route/input"
)

// FuzzTile asks of any file under any name, and any place: a height that is
// ground, none, or an error that names the file, in bounded memory. Unpacking
// takes long when it is fuzzed: with -fuzzminimizetime=10x the time goes to new
// inputs, and not to making each a little shorter.
func FuzzTile(f *testing.F) {
	tile := level(358)
	f.Add(gzipped(f, tile), 0.5, 0.5, uint8(0))
	f.Add(zipped(f, "N51E010.hgt", tile), 0.0, 1.0, uint8(1))
	f.Add([]byte("\x01\x66\x80\x00"), 1.0/1200, 0.0, uint8(2))
	f.Add([]byte("\x01\x66\xff\xff\x23\x28"), 169.0, 39.0, uint8(0))
	for i, x := range badFiles(f) {
		if len(x.data) < 1<<12 || strings.HasPrefix(x.name, "zip of a") {
			f.Add(x.data, 0.1, 0.9, uint8(i))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte, east, north float64, name uint8) {
		used := allocated(func() { checkTile(t, data, east, north, name) })
		if used > 48<<20 { // room for a small and a large tile as it is unpacked, a small one twice that is made here
			t.Fatalf("%d bytes allocated", used)
		}
	})
}

// checkTile reads the data as they are and, to have heights at all, as a tile of
// the right size that is full of them.
func checkTile(t *testing.T, data []byte, east, north float64, name uint8) {
	names := []string{"N51E010.hgt", "N51E010.hgt.gz", "N51E010.hgt.zip"}
	files := folder(names[int(name)%len(names)], data)
	if len(data) > 0 {
		tile := make([]byte, 2*coarse*coarse)
		for n := copy(tile, "\x01\x66"); n < len(tile); { // else it may begin as packed files do
			n += copy(tile[n:], data)
		}
		files["N52E010.hgt"] = folder("x", tile)["x"]
	}
	tiles := open(t, files)
	for south := 51.0; south < 53; south++ {
		for _, p := range [][2]float64{{north, east}, {0.5, 0.5}, {0.999, 0.001}, {0.25 / 1200, 1 - 0.25/1200}} {
			h, ok, err := tiles.Height(at(south+p[0], 10+p[1]))
			if ok && !(h >= -500-1e-9 && h <= 9000+1e-9) || !ok && h != 0 || ok && err != nil { // the weights round
				t.Fatalf("%v, %v, %v", h, ok, err)
			}
			if err == nil {
				continue
			}
			var fault *input.Error
			if !errors.As(err, &fault) || fault.What == "" || fault.Hint == "" || files[fault.File] == nil {
				t.Fatalf("error %#v", err)
			}
			break // it would be read again for each place
		}
	}
	if tiles.Held() > maxHeld {
		t.Fatalf("%d bytes held", tiles.Held())
	}
}
