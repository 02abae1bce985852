package relief_test

import (
	"fmt"
	"io/fs"
	"testing"
	"testing/fstest"
)

// A counting folder knows how often each file was opened.
type counting struct {
	fstest.MapFS
	opened map[string]int
}

func (c counting) Open(name string) (fs.File, error) {
	c.opened[name]++
	return c.MapFS.Open(name)
}

// row makes a folder of n tiles N51E000, N51E001, … from few data.
func row(n int, data ...[]byte) counting {
	files := fstest.MapFS{}
	for i := range n {
		files[fmt.Sprintf("N51E%03d.hgt", i)] = &fstest.MapFile{Data: data[i%len(data)]}
	}
	return counting{files, map[string]int{}}
}

const maxHeld = 64 << 20

// Tiles of both sizes come and go; never are over 64 MiB held, and each height
// is that of its own tile though their room is used again.
func TestHeldIsBounded(t *testing.T) {
	const n = 18
	f := row(n, flat(fine, 1), level(2), level(3), gzipped(t, level(4)), gzipped(t, flat(fine, 5)),
		zipped(t, "x.hgt", flat(fine, 6)))
	tiles := open(t, f)
	most := 0
	for _, stride := range []int{1, 5} { // in another order each time
		for i := range n {
			lon := i * stride % n
			wantHeight(t, tiles, at(51.5, float64(lon)+0.5), float64(lon%6+1))
			most = max(most, tiles.Held())
		}
	}
	if most > maxHeld || most < maxHeld/2 {
		t.Errorf("up to %d bytes held, want half to all of %d", most, maxHeld)
	}
}

// Two tiles of 1″ stay, or 23 of 3″; the one not used for longest goes.
func TestLeastRecentlyUsedGoes(t *testing.T) {
	visit := func(f counting, order ...int) string {
		tiles := open(t, f)
		clear(f.opened)
		for _, lon := range order {
			if _, ok, err := tiles.Height(at(51.5, float64(lon)+0.5)); !ok || err != nil {
				t.Fatal(ok, err)
			}
		}
		loads := ""
		for i := range len(f.MapFS) {
			loads += fmt.Sprint(f.opened[fmt.Sprintf("N51E%03d.hgt", i)])
		}
		return loads
	}
	large := flat(fine, 0)
	for _, tt := range []struct {
		order []int
		want  string
	}{
		{[]int{0, 0, 1, 0, 1, 1, 0}, "110"},
		{[]int{0, 1, 2, 0}, "211"},
		{[]int{0, 1, 0, 2, 0}, "111"},
		{[]int{0, 1, 0, 2, 0, 1}, "121"},
	} {
		// fs.Stat of a MapFS opens nothing, so that what is counted are loads.
		if got := visit(row(3, large), tt.order...); got != tt.want {
			t.Errorf("%v: loaded %s times, want %s", tt.order, got, tt.want)
		}
	}
	var order []int
	for range 3 {
		for i := range 23 {
			order = append(order, i)
		}
	}
	if got, want := visit(row(23, level(0)), order...), "11111111111111111111111"; got != want {
		t.Errorf("23 tiles of 3″: loaded %s times", got)
	}
}

// The room of a tile that goes is used for the next of its size, and never for a
// smaller one.
func TestRoomIsUsedAgain(t *testing.T) {
	large := flat(fine, 1)
	tiles := open(t, row(6, large))
	visit := func(n int) {
		for i := range n {
			wantHeight(t, tiles, at(51.5, float64(i)+0.5), 1)
		}
	}
	visit(2)
	if got := allocated(func() { visit(6) }); got > 1<<20 {
		t.Errorf("%d bytes allocated for tiles that take the place of others", got)
	}
	small := level(1)
	tiles = open(t, row(8, large, large, small, small, small, small, small, small))
	visit(8) // the fifth small one takes the place of a large one
	if got, want := tiles.Held(), 2*fine*fine+6*2*coarse*coarse; got != want {
		t.Errorf("%d bytes held, want %d", got, want)
	}
}

// Along a line through a tile, and where there is none, nothing is allocated.
func TestNoGarbage(t *testing.T) {
	tiles := open(t, folder("N51E010.hgt", level(5)))
	lon := 10.0
	n := testing.AllocsPerRun(1000, func() {
		lon += 1e-5
		_, _, _ = tiles.Height(at(51.5, lon))
		_, _, _ = tiles.Height(at(51, 11))
		_, _, _ = tiles.Height(at(61, lon))
	})
	if n > 0 {
		t.Errorf("%v allocations", n)
	}
}
