package landed_test

import (
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route/land"

	"github.com/paulmach/orb"
)

func TestScale(t *testing.T) {
	for scale, want := range map[float64]string{50_000: "1:50 000", 250_000: "1:250 000", 1_000_000: "1:1 000 000", 500: "1:500"} {
		if got := landed.Scale(scale); got != want {
			t.Errorf("%v is %s, want %s", scale, got, want)
		}
	}
}

// Whose map it is stands there as the file says it, on one line; a file that does not say is told of.
func TestWhose(t *testing.T) {
	some := []land.Feature{{Kind: land.Town, Geometry: orb.Point{}}}
	for _, c := range []struct {
		l    *land.Land
		want string
	}{
		{nil, ""}, {&land.Land{Attribution: "© all"}, ""},
		{&land.Land{Features: some, Attribution: "map data ©\nall"}, "Map data © all."},
		{&land.Land{Features: some, Attribution: "élan"}, "Élan."},
		{&land.Land{Features: some}, "Map data from a file that does not say whose they are."},
	} {
		if got := landed.Whose(c.l); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestWritten(t *testing.T) {
	l := &land.Land{Within: 60_000, Features: []land.Feature{{Kind: land.Town}, {Kind: land.Road}, {Kind: land.Lake}, {Kind: land.Road}}}
	for u, want := range map[units.System]string{units.Metric: "main roads, towns and lakes, as far as 60 km from the line", units.US: "as far as 37 mi from"} {
		if got := landed.Written("a/land.json", l, u); !strings.HasPrefix(got, "a/land.json has ") || !strings.Contains(got, want) {
			t.Errorf("%s", got)
		}
	}
}

func TestNotes(t *testing.T) {
	if got := landed.Notes("f", land.Notes{}); len(got) != 0 {
		t.Errorf("%v", got)
	}
	got := landed.Notes("f", land.Notes{OtherLine: true, Left: 3, Unknown: []string{"border", "wood"}})
	if len(got) != 2 || !strings.HasPrefix(got[0], "f: it was surveyed along another line") ||
		got[1] != "f: 3 features are not drawn, of a kind or a shape that is not known: border, wood" {
		t.Errorf("%v", got)
	}
}

func TestNeighbours(t *testing.T) {
	for _, c := range []struct {
		i, of int
		want  string
	}{{1, 1, "All of the ride is on this sheet."}, {1, 3, "The ride goes on on sheet 2."},
		{2, 3, "The ride comes from sheet 1 and goes on on sheet 3."}, {3, 3, "The ride comes from sheet 2."}} {
		if got := landed.Neighbours(c.i, c.of); got != c.want {
			t.Errorf("%d of %d: %s", c.i, c.of, got)
		}
	}
}

// A pump is told with each of its kilometres and what it sells, one that is passed as that; a way out with
// its pump, how far by road, and where the line is left.
func TestPumpsAndWays(t *testing.T) {
	p := samples.ExampleWith(t, "steppe", func(in *plan.Inputs) {
		far := stop.Stop{Name: "Hark Siding", At: orb.Point{99.28135, 47.56765}, Standing: stop.Phoned, Confirmed: in.Options.Today,
			HasConfirmed: true, Grades: []octane.Grade{octane.FromRON(92)}}
		in.Stops = append(in.Stops, far)
		w := wayout.Way{From: "", At: 619_600, TurnOff: in.Line.At(619_600), To: far.Name, Pump: far.At, Road: "Siding Road", Toward: "NE"}
		w.Ground[0] = 29_000
		in.Roads = []wayout.Way{w}
	})
	v := landed.Of(words.Of(p.Plan, p.Units))
	told := map[string][]string{}
	byStop := map[string][]int{}
	for i, at := range p.Visits {
		byStop[at.Stop.Name] = append(byStop[at.Stop.Name], i)
	}
	for name, visits := range byStop {
		told[name] = v.Pump(visits)
	}
	for name, want := range map[string][]string{"Kembil": {"km 948, 1174", "95 RON, 92 RON"}, "Khoruv": {"km 497, hearsay"}, "Sulmeg Tractor Yard": {"km 748, no petrol"}} {
		if !slices.Equal(told[name], want) {
			t.Errorf("%s: %q, want %q", name, told[name], want)
		}
	}
	if got, want := v.Way(0), []string{"Hark Siding", "29 km by road", "off at km 619, NE on Siding Road"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := v.Onto(0); got[0] != "to Hark Siding" {
		t.Errorf("%q", got)
	}
	if got, want := v.Stretch(500_000, 386_900, 503_000), "1:500 000, km 386 to 503"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
