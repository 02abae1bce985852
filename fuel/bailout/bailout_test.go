package bailout_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/bailout"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

var sum = strings.Repeat("0123456789abcdef", 4)

func drawn(t *rapid.T) bailout.Way {
	pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
	metres := func(name string) route.Metres { return route.Metres(rapid.IntRange(0, 2_000_000).Draw(t, name)) }
	degrees := func(name string, most int) float64 { return float64(rapid.IntRange(-most, most).Draw(t, name)) / 1e7 }
	w := bailout.Way{At: metres("at"), Mark: orb.Point{degrees("lon", 1_800_000_000), degrees("lat", 900_000_000)},
		Kind: rapid.SampledFrom(bailout.Kinds()).Draw(t, "kind"), What: pick("what", "", "village", "alpine_hut"),
		To:    pick("to", "Oskel", "Mine, \"the\" gate", "Ä 5", "#7"),
		Leave: metres("leave"), Road: pick("road", "", "A 4", "# 1"), Toward: pick("toward", "", "N", "SW"),
		Marks: wayout.Marks(rapid.IntRange(0, 63).Draw(t, "marks"))}
	w.Goal = orb.Point{degrees("to lon", 1_800_000_000), degrees("to lat", 900_000_000)}
	w.Length = route.Metres(math.Ceil(float64(route.Distance(w.Mark, w.Goal)))) + metres("more")
	w.Length = max(w.Length, w.Leave-w.At, w.At-w.Leave)
	return w
}

// What is written is read again.
func TestWaysComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ways := rapid.SliceOf(rapid.Custom(drawn)).Draw(t, "ways")
		var b bytes.Buffer
		if err := bailout.Write(&b, ways, sum, "map data © its makers"); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(b.String(), "# map data © its makers\n") {
			t.Fatalf("nobody is told whose map it is:\n%s", b.String())
		}
		got, notes, err := bailout.Read(bytes.NewReader(b.Bytes()), "bail_outs.csv", sum)
		if err != nil || len(notes) > 0 || len(got) != len(ways) {
			t.Fatalf("%v, %v\n%s", err, notes, b.String())
		}
		near := cmp.Comparer(func(a, b route.Metres) bool { return math.Abs(float64(a-b)) < 1e-6 })
		for i := range got {
			if got[i].Row == 0 {
				t.Fatal("nobody can tell in which row it stands")
			}
			got[i].Row = 0
			if diff := cmp.Diff(ways[i], got[i], near); diff != "" {
				t.Fatal(diff)
			}
		}
	})
}

const head = "at_km,lat,lon,kind,what,to,to_lat,to_lon,road_km,leave_km,road,direction,marks,line\n"

func good() string {
	return "25,47.1,8.1,clinic,doctors,Healer,47.2,8.2,33.5,27,Mine Road,NE,private; seasonal," + sum
}

// Each fault is told with its row and column; a list of another line is told apart.
func TestFaultsOfAList(t *testing.T) {
	ways, _, err := bailout.Read(strings.NewReader(head+good()), "bail_outs.csv", sum)
	if err != nil || len(ways) != 1 || ways[0].Length != 33_500 || ways[0].Leave != 27_000 || ways[0].Kind != bailout.Clinic ||
		ways[0].Marks != wayout.Private|wayout.Seasonal || ways[0].Mark != (orb.Point{8.1, 47.1}) || ways[0].Row != 2 {
		t.Fatalf("%+v, %v", ways, err)
	}
	for old, c := range map[string]struct{ new, want string }{
		"25,":       {"-1,", `bail_outs.csv:2:1: at_km is "-1"`},
		"47.1,":     {"97.1,", `bail_outs.csv:2:4: lat is "97.1"`},
		"8.2,":      {"NaN,", `to_lon is "NaN"`},
		"clinic":    {"bar", `bail_outs.csv:2:13: unknown kind of help "bar"`},
		"Healer":    {"", "a way to nowhere"},
		",33.5,":    {",13.2,", "road_km is 13.2, and it is 13.4"},
		",27,":      {",x,", `leave_km is "x"`},
		"NE":        {"up", `unknown direction "up"`},
		"private":   {"privat", `unknown mark "privat"`},
		sum:         {sum[1:], "not the checksum of a line"},
		"Mine Road": {"Mi\"ne", "bail_outs.csv:2:"},
		";":         {",", "more fields than the header"},
	} {
		_, _, err := bailout.Read(strings.NewReader(head+strings.Replace(good(), old, c.new, 1)), "bail_outs.csv", sum)
		var place *input.Error
		if err == nil || !strings.Contains(err.Error(), c.want) || !errors.As(err, &place) || errors.Is(err, wayout.ErrOtherLine) {
			t.Errorf("%s for %s: %v, want %s", c.new, old, err, c.want)
		}
	}
	other := strings.Repeat("0", 64)
	if _, _, err := bailout.Read(strings.NewReader(head+good()), "bail_outs.csv", other); !errors.Is(err, wayout.ErrOtherLine) {
		t.Errorf("another line: %v", err)
	}
	two := head + good() + "\n" + strings.Replace(good(), sum, other, 1)
	if _, _, err := bailout.Read(strings.NewReader(two), "bail_outs.csv", sum); err == nil || !strings.Contains(err.Error(), "bail_outs.csv:3:") {
		t.Errorf("two lines: %v", err)
	}
}

// Whatever stands in a file, it is read or refused with a place in it, and what is read can be
// written and read again.
func FuzzRead(f *testing.F) {
	f.Add(head + good())
	f.Add("# map data\n" + strings.ReplaceAll(head+good(), ",", ";"))
	f.Add(strings.Replace(head, "marks,", "", 1) + strings.Replace(good(), "private; seasonal,", "", 1))
	f.Fuzz(func(t *testing.T, text string) {
		ways, _, err := bailout.Read(strings.NewReader(text), "b.csv", sum)
		if err != nil {
			if ways != nil {
				t.Fatal("half a list")
			}
			return
		}
		var b bytes.Buffer
		if err := bailout.Write(&b, ways, sum, "x"); err != nil {
			t.Fatal(err)
		}
		again, _, err := bailout.Read(&b, "b.csv", sum)
		if err != nil || len(again) != len(ways) {
			t.Fatalf("%v: %d of %d come back", err, len(again), len(ways))
		}
	})
}

func lineOf(t *testing.T, points ...orb.Point) *route.Line {
	t.Helper()
	var all []route.Point
	for _, p := range points {
		all = append(all, route.Point{Point: p})
	}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{all}}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// A degree of the equator is 111.195 km: there are marks at 0, 25, 50, 75 and 100 km, and at the
// end, 11 km behind the last; over 52 km there is none at the end.
func TestMarks(t *testing.T) {
	for _, c := range []struct {
		lon  float64
		want string
	}{{1, "0 25 50 75 100 111"}, {0.468, "0 25 50"}, {0.05, "0 6"}, {0.02, "0"}} {
		var got []string
		for _, at := range bailout.Along(lineOf(t, orb.Point{0, 0}, orb.Point{c.lon / 2, 0}, orb.Point{c.lon, 0})) {
			got = append(got, fmt.Sprintf("%.0f", at.Kilometres()))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("over %v degrees the marks are %v, want %s", c.lon, got, c.want)
		}
	}
}

// Ways stand beside their marks in the order of kinds; marks without any are there, too; a
// place that several marks lead to is one place; and who is on the way keeps the mark behind him.
func TestGather(t *testing.T) {
	line := lineOf(t, orb.Point{0, 0}, orb.Point{0.35, 0}, orb.Point{0.7, 0}) // 77.8 km
	way := func(at route.Metres, k bailout.Kind, to string) bailout.Way {
		w := bailout.Way{At: at, Kind: k, To: to, Length: 9000, Mark: orb.Point{float64(at) / 111194.9, 0}}
		if to == "P?" {
			w.Length, w.Marks = 3000, wayout.Private
		}
		return w
	}
	marks := bailout.Gather(line, []bailout.Way{way(25_000.4, bailout.Pump, "P"), way(25_000, bailout.Village, "V"),
		way(75_000, bailout.Village, "V"), way(75_000, bailout.Village, "W"), way(75_000, bailout.Village, "P?"),
		way(60_000, bailout.Water, "X")})
	var got []string
	for _, m := range marks {
		s := fmt.Sprintf("%.0f", m.At.Kilometres())
		for _, w := range m.Ways {
			s += " " + w.To
		}
		got = append(got, s)
	}
	if want := []string{"0", "25 V P", "50", "60 X", "75 V P?"}; !slices.Equal(got, want) {
		t.Fatalf("%q, want %q", got, want)
	}
	places := bailout.Places(marks, bailout.Village)
	if m := &marks[4]; m.Way(bailout.Village).To != "V" || m.Perhaps(bailout.Village).To != "P?" || m.Perhaps(bailout.Water) != nil {
		t.Errorf("%+v", m)
	}
	if len(places) != 2 || places[0].Name != "V" || !slices.Equal(places[0].Near, []route.Metres{marks[1].At, marks[4].At}) {
		t.Errorf("%+v", places)
	}
	for at, want := range map[route.Metres]int{0: 5, 24_999: 5, 25_001: 4, 59_000: 3, 77_000: 1} {
		if got := len(bailout.From(marks, at)); got != want {
			t.Errorf("from %v on there are %d marks, want %d", at, got, want)
		}
	}
}

// A list that tells of nothing from some mark on may be cut off; at the last mark alone there may be nothing.
func TestListThatEndsEarly(t *testing.T) {
	some := []bailout.Way{{Kind: bailout.Village}}
	mark := func(km route.Metres, ways []bailout.Way) bailout.Mark { return bailout.Mark{At: 1000 * km, Ways: ways} }
	for _, c := range []struct {
		marks []bailout.Mark
		from  route.Metres
		ok    bool
	}{
		{nil, 0, false},
		{[]bailout.Mark{mark(0, some), mark(25, nil), mark(50, some)}, 0, false},
		{[]bailout.Mark{mark(0, some), mark(25, some), mark(50, nil)}, 0, false},
		{[]bailout.Mark{mark(0, some), mark(25, nil), mark(50, nil)}, 25_000, true},
		{[]bailout.Mark{mark(0, nil), mark(25, nil)}, 0, true},
	} {
		if from, ok := bailout.SilentFrom(c.marks); from != c.from || ok != c.ok {
			t.Errorf("%v: %v, %v", c.marks, from, ok)
		}
	}
}
