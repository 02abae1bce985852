package zones_test

import (
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/zones"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// What was looked up comes back from the table as it was told, and a place beside it has its zone. The zones
// are drawn; the meridians in whose strips they lie are those of this test.
func TestTableTellsWhatWasLookedUp(t *testing.T) {
	names := []string{"Asia/Bishkek", "Asia/Almaty", "Europe/Vienna", ""}
	told := func(p orb.Point) *time.Location {
		name := names[int(p.Lon()+180)%len(names)]
		if name == "" {
			return nil
		}
		z, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		return z
	}
	name := func(z *time.Location) string {
		if z == nil {
			return ""
		}
		return z.String()
	}
	rapid.Check(t, func(t *rapid.T) {
		var table zones.Table
		look := table.Through(told)
		places := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{rapid.Float64Range(-179, 179).Draw(t, "lon"), rapid.Float64Range(-80, 80).Draw(t, "lat")}
		}), 1, 30).Draw(t, "places")
		for _, p := range places {
			look(p)
		}
		again := zones.ReadTable(table.Text()).Nearest()
		for _, p := range places {
			if got, want := name(again(p)), name(told(p)); got != want {
				t.Fatalf("%v: %q, was told %q", p, got, want)
			}
		}
	})
}

// One zone is one row, and tells for everywhere; no table tells nothing.
func TestTableOfOneZone(t *testing.T) {
	var table zones.Table
	look := table.Through(func(orb.Point) *time.Location { return time.UTC })
	for lat := range 50 {
		look(orb.Point{10, float64(lat)})
	}
	if text := table.Text(); strings.Count(text, "\n") != 1 {
		t.Errorf("%d rows", strings.Count(text, "\n"))
	}
	if z := zones.ReadTable(table.Text()).Nearest()(orb.Point{-70, -30}); z == nil || z.String() != "UTC" {
		t.Errorf("%v", z)
	}
	for _, text := range []string{"", "1,2\n", "a,b,UTC\n", "\"", "1,2,Nowhere/At_All\n"} {
		if z := zones.ReadTable(text).Nearest()(orb.Point{0, 0}); z != nil {
			t.Errorf("%q tells %v", text, z)
		}
	}
}
