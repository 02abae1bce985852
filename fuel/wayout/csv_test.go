package wayout_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

var sum = strings.Repeat("0123456789abcdef", 4)

func drawn(r *rand.Rand) wayout.Way {
	texts := []string{"", "Red Well", "Mine, \"the\" gate", "Ä 5", "# one", " "}
	w := wayout.Way{From: strings.TrimSpace(texts[r.IntN(len(texts))]), To: "Pump " + texts[r.IntN(len(texts))], Road: strings.TrimSpace(texts[r.IntN(len(texts))]),
		At: route.Metres(r.IntN(2_000_000)), TurnOff: orb.Point{float64(r.IntN(3600)-1800) / 10, float64(r.IntN(1800)-900) / 10},
		Pump: orb.Point{-179.9999999, 0.0000001}, Climbed: r.IntN(2) == 0, Marks: wayout.Marks(r.IntN(64)),
		Toward: []string{"", "N", "SW"}[r.IntN(3)]}
	w.To = strings.TrimSpace(w.To)
	for i := range w.Ground {
		if r.IntN(3) == 0 {
			w.Ground[i] = route.Metres(r.IntN(30_000))
		}
	}
	if w.Climbed {
		w.Climb = route.Metres(r.IntN(3000))
	}
	if w.Descended = r.IntN(2) == 0; w.Descended {
		w.Descent = route.Metres(r.IntN(3000))
	}
	return w
}

// What is written is read again.
func TestWaysComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		var ways []wayout.Way
		for range r.IntN(8) {
			ways = append(ways, drawn(r))
		}
		var b bytes.Buffer
		if err := wayout.Write(&b, ways, sum, "map data © its makers"); err != nil {
			t.Fatal(err)
		}
		got, notes, err := wayout.Read(bytes.NewReader(b.Bytes()), "roads.csv", sum)
		if err != nil || len(notes) > 0 {
			t.Fatalf("%v, %v\n%s", err, notes, b.String())
		}
		for i := range got {
			got[i].Row = 0
			for k, m := range got[i].Ground {
				got[i].Ground[k] = route.Metres(math.Round(float64(m)*1000) / 1000)
			}
			got[i].At = route.Metres(math.Round(float64(got[i].At)*1000) / 1000)
		}
		if diff := cmp.Diff(ways, got); diff != "" {
			t.Fatal(diff)
		}
		if !strings.HasPrefix(b.String(), "# map data © its makers\n") {
			t.Errorf("nobody is told whose map it is:\n%s", b.String())
		}
	}
}

const head = "from,at_km,lat,lon,to,to_lat,to_lon,road_km,paved_km,packed_gravel_km,climb_m,road,direction,marks,line\n"

// Each fault is told with its row and column; a list of another line is told apart.
func TestFaultsOfAList(t *testing.T) {
	good := "Well,12.5,47.1,8.1,Far,47.2,8.2,3.5,1.5,2,40,Mine Road,NE,private; seasonal," + sum
	if ways, _, err := wayout.Read(strings.NewReader(head+good), "roads.csv", sum); err != nil || len(ways) != 1 ||
		ways[0].Length() != 3500 || ways[0].Marks != wayout.Private|wayout.Seasonal || ways[0].TurnOff != (orb.Point{8.1, 47.1}) {
		t.Fatalf("%+v, %v", ways, err)
	}
	for old, c := range map[string]struct{ new, want string }{
		"12.5":              {"-1", `roads.csv:2:6: at_km is "-1"`},
		"47.1,":             {"97.1,", `roads.csv:2:11: lat is "97.1"`},
		"8.2,":              {"NaN,", `roads.csv:2:29: to_lon is "NaN"`},
		"Far":               {"", "roads.csv:2:20: a way to no pump"},
		",3.5,":             {",3.6,", "roads.csv:2:33: road_km is 3.6, its grounds together are 3.500 km"},
		",1.5,":             {",2.5,", "its grounds together are 4.500 km"},
		",40,":              {",-40,", `climb_m is "-40"`},
		"1.5,2,40":          {"1.5,2,x", `climb_m is "x"`},
		"NE":                {"up", `unknown direction "up"`},
		"private":           {"privat", `unknown mark "privat"`},
		sum:                 {sum[1:], "not the checksum of a line"},
		"Well,12.5":         {"We\"ll,12.5", "roads.csv:2:"},
		"private; seasonal": {"private,seasonal", "more fields than the header"},
	} {
		_, _, err := wayout.Read(strings.NewReader(head+strings.Replace(good, old, c.new, 1)), "roads.csv", sum)
		var place *input.Error
		if err == nil || !strings.Contains(err.Error(), c.want) || !errors.As(err, &place) || errors.Is(err, wayout.ErrOtherLine) {
			t.Errorf("%s for %s: %v, want %s", c.new, old, err, c.want)
		}
	}
	other := strings.Repeat("0", 64)
	if _, _, err := wayout.Read(strings.NewReader(head+good), "roads.csv", other); !errors.Is(err, wayout.ErrOtherLine) {
		t.Errorf("another line: %v", err)
	}
	two := head + good + "\n" + strings.Replace(good, sum, other, 1)
	if _, _, err := wayout.Read(strings.NewReader(two), "roads.csv", sum); err == nil || !strings.Contains(err.Error(), "roads.csv:3:") {
		t.Errorf("two lines: %v", err)
	}
	if _, _, err := wayout.Read(strings.NewReader(strings.Replace(head, ",line", "", 1)), "roads.csv", sum); err == nil {
		t.Error("a list without a line is read")
	}
	if ways, _, err := wayout.Read(strings.NewReader(head), "roads.csv", sum); err != nil || len(ways) != 0 {
		t.Errorf("an empty list: %v, %v", ways, err)
	}
}

// A list as a spreadsheet saves it in a country with decimal commas.
func TestSemicolons(t *testing.T) {
	text := strings.ReplaceAll(head, ",", ";") + "Well;12,5;47,1;8,1;Far;47,2;8,2;3,5;1,5;2;;Mine Road;ne;;" + strings.ToUpper(sum)
	ways, _, err := wayout.Read(strings.NewReader(text), "roads.csv", sum)
	if err != nil || len(ways) != 1 || ways[0].At != 12500 || ways[0].Climbed || ways[0].Toward != "NE" {
		t.Errorf("%+v, %v", ways, err)
	}
}

func lineOf(t *testing.T, stretch float64, gaps route.Gaps, segments ...[]route.Point) *route.Line {
	t.Helper()
	line, err := route.NewLine([]route.Track{{Segments: segments}}, route.LineOptions{Stretch: stretch, Gaps: gaps})
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// The checksum is that of the text which the comment of Sum describes, made here anew;
// what a plan is asked for besides does not change it.
func TestSum(t *testing.T) {
	at := func(lon, lat float64) route.Point { return route.Point{Point: orb.Point{lon, lat}} }
	one, two := []route.Point{at(10, 45), at(10.0123456, 45)}, []route.Point{at(10.2, 45), at(10.2, -45.000011)}
	two[1] = at(10.2, 45.100011)
	want := fmt.Sprintf("%x", sha256.Sum256([]byte("4500000 1000000\n4500000 1001235\n\n4500000 1020000\n4510001 1020000\n")))
	for _, gaps := range []route.Gaps{route.GapsRide, route.GapsSkip} {
		for _, stretch := range []float64{1, 1.3} {
			if got := wayout.Sum(lineOf(t, stretch, gaps, one, two)); got != want {
				t.Errorf("%s, want %s", got, want)
			}
		}
	}
}

// The eight directions by the compass, and over 180°.
func TestToward(t *testing.T) {
	for i, want := range []string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"} {
		for _, lon := range []float64{10, 179.9999, -179.9999} {
			a := float64(i) * math.Pi / 4
			to := orb.Point{math.Remainder(lon+0.01*math.Sin(a)/math.Cos(45*math.Pi/180), 360), 45 + 0.01*math.Cos(a)}
			if got := wayout.Toward(orb.Point{lon, 45}, to); got != want {
				t.Errorf("%v: %s, want %s", to, got, want)
			}
		}
	}
	if wayout.Toward(orb.Point{1, 1}, orb.Point{1, 1}) != "" {
		t.Error("a direction to where one is")
	}
}

// Whatever is read, ways have finite lengths and lie on the earth, or there is an error
// with a place.
func FuzzRead(f *testing.F) {
	f.Add(head + "Well,12.5,47.1,8.1,Far,47.2,8.2,3.5,1.5,2,40,Mine Road,NE,private; seasonal," + sum)
	f.Add("# remark\nfrom;at_km\n")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		ways, _, err := wayout.Read(strings.NewReader(text), "f", sum)
		if err != nil {
			var place *input.Error
			if !errors.As(err, &place) || len(ways) > 0 {
				t.Fatalf("%v, %v", ways, err)
			}
			return
		}
		for _, w := range ways {
			l := float64(w.Length())
			if !(l >= 0 && l < 2e9) || w.To == "" || math.Abs(w.Pump[1]) > 90 || math.Abs(w.TurnOff[0]) > 180 {
				t.Fatalf("%+v", w)
			}
		}
	})
}
