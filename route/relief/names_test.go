package relief_test

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"lastpump/route/relief"
)

func TestNames(t *testing.T) {
	tile := gzipped(t, level(5))
	for _, name := range []string{
		"N51E010.hgt", "n51e010.HGT", "N51E010.hgt.gz", "N51E010.hgt.zip", "N51E010.zip", "n51E010.Zip",
		"N51E010.SRTMGL1.hgt.zip", "N51E010.SRTMGL3.v3.hgt", "a/b/c/d/N51E010.hgt",
	} {
		wantHeight(t, open(t, folder(name, tile)), at(51.5, 10.5), 5)
	}
	for _, name := range []string{
		"N51E010", "N51E010.tif", "N51E010hgt", "N51E010x.hgt", "N51E010_hgt.zip", "N51E010.gz", "N51E010.hgt.bz2",
		"N51E10.hgt", "N5xE010.hgt", "N+1E010.hgt", "N51E-10.hgt", "N90E010.hgt", "S91E010.hgt", "S00E010.hgt",
		"N51E180.hgt", "N51W181.hgt", "N51W000.hgt", "E010N51.hgt", "._N51E010.hgt", "a/b/c/d/e/N51E010.hgt",
	} {
		_, err := relief.Open(folder(name, tile))
		wantFault(t, err, "no elevation tile in the folder", noTiles)
	}
}

const noTiles = "name a folder with tiles such as N51E010.hgt, N51E010.hgt.gz or N51E010.hgt.zip in it"

func TestNamesOfTheHemispheres(t *testing.T) {
	tiles := open(t, folder("N00E000.hgt", level(1), "N00W001.hgt", level(2), "S01E000.hgt", level(3), "S01W001.hgt",
		level(4)))
	wantHeight(t, tiles, at(0.5, 0.5), 1)
	wantHeight(t, tiles, at(0.5, -0.5), 2)
	wantHeight(t, tiles, at(-0.5, 0.5), 3)
	wantHeight(t, tiles, at(-0.5, -0.5), 4)
}

// Of several files for a tile: plain, gz, zip, then the order of names.
func TestChoice(t *testing.T) {
	files := folder("b/N51E010.hgt", level(1), "c/n51e010.hgt", level(2),
		"a/N51E010.hgt.gz", level(3), "N51E010.SRTMGL1.hgt.zip", level(4), "N51E010.zip", level(5))
	for i, name := range []string{"b/N51E010.hgt", "c/n51e010.hgt", "a/N51E010.hgt.gz", "N51E010.SRTMGL1.hgt.zip",
		"N51E010.zip"} {
		wantHeight(t, open(t, files), at(51.5, 10.5), float64(i+1))
		delete(files, name)
	}
}

// How a file is packed is told by what it begins with.
func TestPackingByContent(t *testing.T) {
	plain := level(9)
	large := flat(fine, 9)
	for kind, data := range map[string][]byte{
		"plain": plain, "gzip": gzipped(t, plain), "zip": zipped(t, "N51E010.hgt", plain),
		"plain 1": large, "gzip 1": gzipped(t, large), "zip 1": zipped(t, "n51e010.HGT", large),
		"zip with more": zipped(t, "n51e010.hgt/", []byte{}, "readme.txt", []byte("x"), "__MACOSX/N51E010.hgt",
			[]byte("x"),
			"dem/._N51E010.hgt", []byte("x"), "dem/other.hgt", plain),
		"gzip of two members": append(gzipped(t, plain[:1000]), gzipped(t, plain[1000:])...),
	} {
		for _, name := range []string{"N51E010.hgt", "N51E010.hgt.gz", "N51E010.hgt.zip"} {
			t.Run(kind+" in "+name, func(t *testing.T) {
				wantHeight(t, open(t, folder(name, data)), at(51.5, 10.5), 9)
			})
		}
	}
}

// An endless folder has one file very often.
type endless struct{ fstest.MapFS }

func (e endless) ReadDir(string) ([]fs.DirEntry, error) {
	one, err := e.MapFS.ReadDir(".")
	all := make([]fs.DirEntry, 0, 100_001)
	for range 100_001 {
		all = append(all, one[0])
	}
	return all, err
}

func TestFolderBounds(t *testing.T) {
	_, err := relief.Open(endless{folder("N51E010.hgt", "")})
	wantFault(t, err, "over 100000 files in the folder", noTiles)
	_, err = relief.Open(fstest.MapFS{})
	wantFault(t, err, "no elevation tile in the folder", noTiles)
	_, err = relief.Open(closed{"."})
	wantFault(t, err, "permission denied", noTiles)
	_, err = relief.Open(closed{"deep/er"})
	wantFault(t, err, "deep/er: permission denied", noTiles)
}

// closed is a folder in which one is closed.
type closed struct{ name string }

func (c closed) Open(name string) (fs.File, error) {
	if name == c.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errDenied}
	}
	return folder("deep/er/N51E010.hgt", "").Open(name)
}

type denied struct{}

func (denied) Error() string { return "permission denied" }

var errDenied = denied{}
