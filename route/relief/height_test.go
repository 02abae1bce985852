package relief_test

import (
	"fmt"
	"math"
	"math/big"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"lastpump/route/relief"
)

// A plane is rising by whole metres from sample to sample, so that its samples
// are exact and bilinear interpolation is too.
type plane struct{ base, north, east int }

// tile gives the tile of a plane through the origin of coordinates.
func (p plane) tile(side, south, west int) []byte {
	n := side - 1
	return samples(side, func(row, col int) int {
		return p.base + p.north*((south+1)*n-row) + p.east*(west*n+col)
	})
}

// height computes in fractions: the only rounding is at the end.
func (p plane) height(side int, lat, lon float64) float64 {
	y, x := new(big.Rat).SetFloat64(lat), new(big.Rat).SetFloat64(lon)
	y.Mul(y, big.NewRat(int64(p.north*(side-1)), 1))
	x.Mul(x, big.NewRat(int64(p.east*(side-1)), 1))
	y.Add(y, x).Add(y, big.NewRat(int64(p.base), 1))
	h, _ := y.Float64()
	return h
}

// share draws a place along the edge of a tile: anywhere, or at a sample.
func share(t *rapid.T, side int, name string) float64 {
	if rapid.Bool().Draw(t, name+" at a sample") {
		return float64(rapid.IntRange(0, side-1).Draw(t, name)) / float64(side-1)
	}
	return rapid.Float64Range(0, 1).Draw(t, name)
}

func TestPlaneIsExact(t *testing.T) {
	for _, tt := range []struct {
		name        string
		side        int
		south, west int
		p           plane // with base for the south-west corner
	}{
		{"N51E010", coarse, 51, 10, plane{3000, 3, -2}},
		{"N00W180", coarse, 0, -180, plane{5000, -4, 1}},
		{"S34W071", coarse, -34, -71, plane{0, 0, 7}},
		{"S90E179", coarse, -90, 179, plane{8000, -5, -2}},
		{"N43E077", fine, 43, 77, plane{1000, 1, 1}},
		{"N89W001", fine, 89, -1, plane{8000, -1, -1}},
		{"S01E000", fine, -1, 0, plane{4000, 1, -1}},
		{"S56W068", fine, -56, -68, plane{0, 2, 0}},
	} {
		t.Run(fmt.Sprint(tt.name, " ", tt.side), func(t *testing.T) {
			n := tt.side - 1
			tt.p.base -= n * (tt.p.north*tt.south + tt.p.east*tt.west)
			tiles := open(t, folder(tt.name+".hgt", tt.p.tile(tt.side, tt.south, tt.west)))
			rapid.Check(t, func(t *rapid.T) {
				lat := float64(tt.south) + share(t, tt.side, "north")
				lon := float64(tt.west) + share(t, tt.side, "east")
				h, ok, err := tiles.Height(at(lat, lon))
				want := tt.p.height(tt.side, lat, lon)
				if err != nil || !ok || math.Abs(h-want) > 1e-9 {
					t.Fatalf("%v, %v, %v, want %v", h, ok, err, want)
				}
			})
		})
	}
}

// Four tiles around 0, 0 of one plane: there are no steps at their edges, and
// each side of an edge is its own tile.
func TestEdgesAreContinuous(t *testing.T) {
	for _, tt := range []struct {
		side int
		p    plane
	}{
		{coarse, plane{4000, 2, -1}},
		{fine, plane{4100, 0, 1}}, // one slope only: two would leave the range of heights
	} {
		all := fstest.MapFS{}
		for _, c := range [][2]int{{0, 0}, {0, -1}, {-1, 0}, {-1, -1}} {
			name := map[[2]int]string{{0, 0}: "N00E000", {0, -1}: "N00W001", {-1, 0}: "S01E000", {-1, -1}: "S01W001"}[c]
			all[name+".hgt"] = &fstest.MapFile{Data: tt.p.tile(tt.side, c[0], c[1])}
		}
		for _, left := range []string{"", "N00E000", "N00W001", "S01E000", "S01W001"} {
			some := fstest.MapFS{}
			for name, file := range all {
				if name != left+".hgt" {
					some[name] = file
				}
			}
			checkCross(t, open(t, some), left, tt.side, tt.p)
		}
	}
}

// checkCross checks the plane at and beside the edges that meet at 0, 0, all but
// inside the tile that is left out, whose edges the others have.
func checkCross(t *testing.T, tiles *relief.Tiles, left string, side int, p plane) {
	t.Helper()
	inside := map[string][2]float64{"N00E000": {1, 1}, "N00W001": {1, -1}, "S01E000": {-1, 1}, "S01W001": {-1, -1}}
	out := inside[left]
	places := []float64{0, math.Copysign(0, -1), 5e-324, -5e-324, 1e-12, -1e-12, 1e-7, -1e-7, 0.25, -0.25, 0.4, -0.4}
	for _, lat := range places {
		for _, lon := range places {
			if left != "" && lat*out[0] > 0 && lon*out[1] > 0 {
				wantNone(t, tiles, at(lat, lon))
				continue
			}
			wantHeight(t, tiles, at(lat, lon), p.height(side, lat, lon))
		}
	}
	want := "[]"
	if left != "" {
		want = "[" + left + "]"
	}
	if got := fmt.Sprint(tiles.Missing()); got != want {
		t.Errorf("without %q: missing %s, want %s", left, got, want)
	}
}

// All four tiles give the corner where they meet.
func TestCornerAlone(t *testing.T) {
	for _, name := range []string{"N00E000", "N00W001", "S01E000", "S01W001"} {
		tiles := open(t, folder(name+".hgt", level(77)))
		wantHeight(t, tiles, at(0, 0), 77)
		if got := tiles.Missing(); len(got) != 0 {
			t.Errorf("%s: missing %v", name, got)
		}
	}
	tiles := open(t, folder("N10E010.hgt", level(77)))
	wantNone(t, tiles, at(0, 0))
	if got := fmt.Sprint(tiles.Missing()); got != "[N00E000]" {
		t.Errorf("missing %s, want the tile that begins there", got)
	}
}

// The bytes 01 66 are 358 m (0x0166 = 358), 80 00 is a void, and a file of 1201
// samples squared has 2 884 802 bytes.
func TestKnownBytes(t *testing.T) {
	data := make([]byte, 0, 2884802)
	for len(data) < 2884802 {
		data = append(data, 0x01, 0x66)
	}
	data[0], data[1] = 0x80, 0x00 // the north-west corner
	data[2], data[3] = 0xff, 0xff // east of it, -1
	tiles := open(t, folder("N51E010.hgt", data))
	wantHeight(t, tiles, at(51, 10), 358)
	wantHeight(t, tiles, at(51.123456, 10.654321), 358)
	wantNone(t, tiles, at(52, 10))
	wantHeight(t, tiles, at(52, 10+1.0/1200), -1)
	wantHeight(t, tiles, at(52-0.5/1200, 10+1.0/1200), 178.5) // between -1 and 358
}

func TestVoids(t *testing.T) {
	const step = 1.0 / 1200
	for _, void := range []int{-32768, -32767, -501, 9001, 32767} {
		data := level(100)
		put(data, 600, 600, void)
		tiles := open(t, folder("S34W071.hgt", data))
		lat, lon := -33-600*step, -71+600*step
		wantNone(t, tiles, at(lat, lon))
		for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}, {1, -0.5}, {-0.5, -1}} {
			wantHeight(t, tiles, at(lat+d[0]*step, lon+d[1]*step), 100)    // the void has no weight
			wantNone(t, tiles, at(lat+0.99*d[0]*step, lon+0.99*d[1]*step)) // it has some
		}
	}
	for _, height := range []int{-500, 9000} { // the last that are ground
		wantHeight(t, open(t, folder("S34W071.hgt", level(height))), at(-33.3, -70.7), float64(height))
	}
}

// At every sample beside a void the height is the sample's, however its place is
// rounded: here farthest from zero and with the finest steps.
func TestVoidBesideEverySample(t *testing.T) {
	data := samples(fine, func(row, col int) int {
		if (row+col)%2 == 1 {
			return -32768
		}
		return 42
	})
	tiles := open(t, folder("N60E179.hgt", data))
	for i := range fine {
		wantHeight(t, tiles, at(60+float64(3600-i)/3600, 179+float64(i)/3600), 42)
	}
}

func TestEndsOfTheEarth(t *testing.T) {
	both := folder("N51W180.hgt", level(1), "N51E179.hgt", level(2), "N89E010.hgt", level(3), "S90E010.hgt", level(4))
	tiles := open(t, both)
	wantHeight(t, tiles, at(51.5, 180), 1)
	wantHeight(t, tiles, at(51.5, -180), 1)
	wantHeight(t, tiles, at(51.5, math.Nextafter(180, 0)), 2)
	wantHeight(t, tiles, at(90, 10.5), 3)
	wantHeight(t, tiles, at(-90, 10.5), 4)
	delete(both, "N51W180.hgt")
	tiles = open(t, both)
	wantHeight(t, tiles, at(51.5, 180), 2)
	wantHeight(t, tiles, at(51.5, -180), 2)
	delete(both, "N51E179.hgt")
	tiles = open(t, both)
	for _, p := range [][2]float64{{51.5, 180}, {51.5, -180}, {90, 180}, {-90, -180}, {90, 0}} {
		wantNone(t, tiles, at(p[0], p[1]))
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 181, -1e300} { // nowhere
		wantNone(t, tiles, at(v, 10))
		wantNone(t, tiles, at(51, v))
	}
	if got, want := fmt.Sprint(tiles.Missing()), "[N51W180 N89E000 N89W180 S90W180]"; got != want {
		t.Errorf("missing %s, want %s", got, want)
	}
}
