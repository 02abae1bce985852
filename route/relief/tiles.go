package relief

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"

	"lastpump/route/input"

	"github.com/paulmach/orb"
)

const (
	maxHeld  = 64 << 20 // bytes of samples: two tiles of 1″, or 23 of 3″
	maxDepth = 4        // of folders in folders
	maxFiles = 100_000  // in all of them, folders included; the earth has 64 800 tiles
)

// Tiles is a folder of elevation tiles. They are read when they are first
// needed, and those not used for longest are dropped so that at most 64 MiB of
// samples are held. It is not safe for concurrent use.
type Tiles struct {
	folder  fs.FS
	files   map[corner]file
	missing map[corner]bool
	held    []*tile // the last used is the last
}

// A file is one that by its name is a tile.
type file struct {
	name string
	says int // how the name says that it is packed
}

// Open lists the tiles in a folder and the folders in it, down to the fourth. It
// reads none of them. The error is a [*input.Error], whose file is the name
// within the folder, or "" for the folder itself: there is no tile at all, there
// are more than 100 000 files, or a folder cannot be read.
func Open(folder fs.FS) (*Tiles, error) {
	t := &Tiles{folder: folder, files: map[corner]file{}, missing: map[corner]bool{}}
	seen := 0
	err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if seen++; seen > maxFiles {
			return &input.Error{What: fmt.Sprintf("over %d files in the folder", maxFiles), Hint: hintFolder}
		}
		switch {
		case err != nil:
			return &input.Error{File: strings.TrimPrefix(name, "."), What: cause(err), Hint: hintFolder}
		case !d.IsDir():
			t.list(name)
		case strings.Count(name, "/") >= maxDepth:
			return fs.SkipDir
		}
		return nil
	})
	if err == nil && len(t.files) == 0 {
		err = &input.Error{What: "no elevation tile in the folder", Hint: hintFolder}
	}
	if err != nil {
		return nil, err
	}
	return t, nil
}

// list keeps a file if it is a tile, and a better choice than what is listed.
func (t *Tiles) list(name string) {
	c, says, ok := parseName(name)
	if !ok {
		return
	}
	had, ok := t.files[c]
	if !ok || cmp.Or(cmp.Compare(says, had.says), cmp.Compare(name, had.name)) < 0 {
		t.files[c] = file{name, says}
	}
}

// cause gives an error of the file system without the name of the file.
func cause(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return err.Error()
}

// Height gives the height of the ground at a place (WGS84 degrees) in metres
// above the geoid, from -500 to 9000, bilinear between the four samples around
// it; the arithmetic errs by less than 1e-5 m. It is not ok where there is no
// tile, or a void among the samples that count, or no such place on the earth.
//
// A place on a whole degree belongs to the tile that begins there; where that is
// missing, to the neighbours whose edge it is. The error is a
// [*input.Error] that names the file: it is damaged, of a wrong size or
// cannot be read.
func (t *Tiles) Height(p orb.Point) (metres float64, ok bool, err error) {
	h, kind, err := t.look(p)
	return h, kind == ground, err
}

// What there is at a place.
type kind int

const (
	nothing kind = iota // no tile
	void
	ground
)

func (t *Tiles) look(p orb.Point) (float64, kind, error) {
	if !onEarth(p) {
		return 0, nothing, nil
	}
	if n := len(t.held); n > 0 { // points of a line mostly lie in the tile of the last
		last := t.held[n-1]
		south, west := math.Floor(p.Lat()), math.Floor(p.Lon())
		if float64(last.corner.south) == south && float64(last.corner.west) == west {
			return known(last.height(p.Lon()-west, p.Lat()-south))
		}
	}
	var room [4]spot
	spots := appendSpots(room[:0], p)
	for _, s := range spots {
		tile, err := t.tile(s.corner)
		if err != nil {
			return 0, nothing, err
		}
		if tile != nil {
			return known(tile.height(s.east, s.north))
		}
	}
	t.missing[spots[0].corner] = true
	return 0, nothing, nil
}

func known(h float64, ok bool) (float64, kind, error) {
	if !ok {
		return 0, void, nil
	}
	return h, ground, nil
}

// Missing names the tiles that were asked for and are not there, sorted. Of a
// place on an edge it is the tile that begins there, and only if none of the
// others is there either.
func (t *Tiles) Missing() []string {
	names := make([]string, 0, len(t.missing))
	for c := range t.missing {
		names = append(names, c.String())
	}
	slices.Sort(names)
	return names
}

// tile gives a tile, which is then the last used, or nil if it is missing.
func (t *Tiles) tile(c corner) (*tile, error) {
	for i, held := range t.held {
		if held.corner == c {
			t.held = append(slices.Delete(t.held, i, i+1), held)
			return held, nil
		}
	}
	file, ok := t.files[c]
	if !ok {
		return nil, nil
	}
	data, err := t.read(c, file.name)
	if err != nil {
		return nil, err
	}
	tile := &tile{c, sideOf(len(data)), data}
	t.held = append(t.held, tile)
	return tile, nil
}

// room gives room for a tile of that size and drops those that it leaves no
// place for. It may be the room of one of them: a fresh one each time would have
// twice as much stand about until it is collected.
func (t *Tiles) room(size int) []byte {
	var room []byte
	for len(t.held) > 0 && t.size()+size > maxHeld {
		if data := t.held[0].data; len(data) == size {
			room = data
		}
		t.held = slices.Delete(t.held, 0, 1)
	}
	if room == nil {
		room = make([]byte, size)
	}
	return room
}

// size gives the bytes that are held.
func (t *Tiles) size() int {
	n := 0
	for _, tile := range t.held {
		n += len(tile.data)
	}
	return n
}
