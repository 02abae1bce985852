package relief_test

import (
	"reflect"
	"testing"

	"lastpump/route"
	"lastpump/route/relief"
)

// northward makes a segment of points every 100 m from a latitude of 51° plus
// from hundreds of metres, along 10.5° E. A dot has no height, any other letter
// one of 7 m; a space is no point, but counts.
func northward(from int, pattern string) []route.Point {
	var out []route.Point
	for i, c := range pattern {
		if c == ' ' {
			continue
		}
		const degrees = 100 / 111195.0797 // EarthRadius × π/180
		p := route.Point{Point: at(51+float64(from+i)*degrees, 10.5)}
		if c != '.' {
			p.Ele, p.HasEle = 7, true
		}
		out = append(out, p)
	}
	return out
}

// shown writes points back: a dot has no height, o one of 7, r one of 358 m.
func shown(t *testing.T, tracks []route.Track) string {
	t.Helper()
	s := ""
	for i, track := range tracks {
		if i > 0 {
			s += "|"
		}
		for j, seg := range track.Segments {
			if j > 0 {
				s += "/"
			}
			for _, p := range seg {
				switch {
				case !p.HasEle && p.Ele == 0:
					s += "."
				case p.HasEle && p.Ele == 7:
					s += "o"
				case p.HasEle && p.Ele == 358:
					s += "r"
				default:
					t.Fatalf("point %+v", p)
				}
			}
		}
	}
	return s
}

func one(pattern string) []route.Track {
	return []route.Track{{Name: "day 1", Segments: [][]route.Point{northward(1, pattern)}}}
}

func segments(a, b string) []route.Track {
	return []route.Track{{Segments: [][]route.Point{northward(1, a), northward(1+len(a), b)}}}
}

func tracks(a, b string) []route.Track {
	return append(one(a), route.Track{Segments: [][]route.Point{nil, northward(1+len(a), b)}})
}

var holes = []struct {
	name   string
	tracks []route.Track
	want   string
	n      int // points that are filled
}{
	{"nothing", nil, "", 0},
	{"no holes", one("oooo"), "oooo", 0},
	{"900 m", one("o........o"), "o........o", 0},
	{"1100 m", one("o..........o"), "orrrrrrrrrro", 10},
	{"one point, 1100 m", one("o    .     o"), "oro", 1},
	{"one point, 900 m", one("o    .   o"), "o.o", 0},
	{"no point, 1100 m", one("o          o"), "oo", 0},
	{"two of 900 m", one("o........o........o"), "o........o........o", 0},
	{"900 and 1100 m", one("o........o..........oo"), "o........orrrrrrrrrroo", 10},
	{"1100 m at the start", one("...........o"), "rrrrrrrrrrro", 11},
	{"900 m at the start", one(".........o"), ".........o", 0},
	{"1100 m at the end", one("o..........."), "orrrrrrrrrrr", 11},
	{"900 m at the end", one("o........."), "o.........", 0},
	{"1100 m without any", one("............"), "rrrrrrrrrrrr", 12},
	{"900 m without any", one(".........."), "..........", 0},
	{"1100 m over segments", segments("oo.....", ".....o"), "oorrrrr/rrrrro", 10},
	{"1100 m between segments", segments("oo.          ", "o"), "oor/o", 1},
	{"900 m over segments", segments("oo....", "....o"), "oo..../....o", 0},
	{"1100 m over tracks", tracks("oo.....", ".....o"), "oorrrrr|/rrrrro", 10},
}

func TestFillHoles(t *testing.T) {
	for _, tt := range holes {
		t.Run(tt.name, func(t *testing.T) {
			got, err := open(t, folder("N51E010.hgt", level(358))).Fill(tt.tracks, false)
			if err != nil || got != (relief.Filled{Points: tt.n, From: tt.n}) {
				t.Errorf("%+v, %v, want %d points", got, err, tt.n)
			}
			if s := shown(t, tt.tracks); s != tt.want {
				t.Errorf("%s, want %s", s, tt.want)
			}
		})
	}
}

// The kilometre, from both sides: a metre less is left, a metre more is filled.
func TestFillBorder(t *testing.T) {
	for _, tt := range []struct {
		metres float64
		n      int
	}{{999, 0}, {1001, 1}} {
		pts := northward(1, "o.o")
		pts[2].Point = at(pts[0].Lat()+tt.metres/111195.0797, 10.5)
		got, err := open(t, folder("N51E010.hgt", level(358))).Fill([]route.Track{{Segments: [][]route.Point{pts}}},
			false)
		if err != nil || got.Points != tt.n {
			t.Errorf("%v m: %+v, %v", tt.metres, got, err)
		}
	}
}

// patchy is a tile of 358 m with a void row 900 to 1000 m north of 51°, which
// takes away the heights from the sample before to the one after, 927 m ± 93 m.
func patchy() []byte {
	data := level(358)
	for col := range coarse {
		put(data, 1200-10, col, -32768)
	}
	return data
}

func TestFillEverywhere(t *testing.T) {
	// South of 51° there is no tile; 834 to 1019 m north of it is a void, so
	// that the points at 900 and 1000 m have none.
	tracks := []route.Track{{Segments: [][]route.Point{northward(-2, "oo.oooo"), northward(5, "...oooooo")}}, {}}
	got, err := open(t, folder("N51E010.hgt", patchy())).Fill(tracks, true)
	if want := (relief.Filled{Points: 16, From: 12, Voids: 2, Missing: 2}); err != nil || got != want {
		t.Errorf("%+v, %v, want %+v", got, err, want)
	}
	if s, want := shown(t, tracks), "..rrrrr/rrrr..rrr|"; s != want {
		t.Errorf("%s, want %s", s, want)
	}
}

func TestFillHolesOverVoids(t *testing.T) {
	tracks := one("o.............o")
	got, err := open(t, folder("N51E010.hgt", patchy())).Fill(tracks, false)
	if want := (relief.Filled{Points: 13, From: 11, Voids: 2}); err != nil || got != want {
		t.Errorf("%+v, %v, want %+v", got, err, want)
	}
	if s, want := shown(t, tracks), "orrrrrrr..rrrro"; s != want {
		t.Errorf("%s, want %s", s, want)
	}
}

// Only heights change.
func TestFillKeepsTheRest(t *testing.T) {
	p := route.Point{Point: at(51.5, 10.5), Time: 5, HasTime: true}
	tracks := []route.Track{{Name: "a", Segments: [][]route.Point{{p}}}}
	if _, err := open(t, folder("N51E010.hgt", level(358))).Fill(tracks, true); err != nil {
		t.Fatal(err)
	}
	p.Ele, p.HasEle = 358, true
	if want := []route.Track{{Name: "a", Segments: [][]route.Point{{p}}}}; !reflect.DeepEqual(tracks, want) {
		t.Errorf("%+v, want %+v", tracks, want)
	}
}

func TestFillStopsAtDamage(t *testing.T) {
	for _, everywhere := range []bool{false, true} {
		for _, pattern := range []string{"............", "............o............o"} {
			_, err := open(t, folder("N51E010.hgt", "x")).Fill(one(pattern), everywhere)
			wantFault(t, err, "N51E010.hgt: 1 bytes, "+wantSizes, badSize)
		}
	}
}
