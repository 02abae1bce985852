package trail_test

import (
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words/trail"

	"pgregory.net/rapid"
)

// Whatever is to be named, no two names are one on a display of 15 letters that has capitals
// alone; and what there is to do and the place stand in each name.
func TestNamesAreToldApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drawn := rapid.Custom(func(t *rapid.T) trail.WaypointName {
			return trail.WaypointName{
				What:  rapid.SampledFrom([]string{"?", "8.0L 95", "LAST 12.34gal+2.12gal 91AKI", "TB5 98km"}).Draw(t, "what"),
				Place: rapid.SampledFrom([]string{"", "Kembil", "kembil", "A pump with a name of some letters", "東京", "Ж"}).Draw(t, "place"),
				Pass:  rapid.IntRange(0, 3).Draw(t, "pass"),
			}
		})
		all := rapid.SliceOfN(drawn, 0, 60).Draw(t, "all")
		seen := map[string]bool{}
		for i, name := range trail.Named(all) {
			letters := []rune(strings.ToUpper(name))
			shown := strings.TrimRight(string(letters[:min(15, len(letters))]), " ")
			if seen[shown] {
				t.Fatalf("%q twice: %q", shown, name)
			}
			seen[shown] = true
			if !strings.Contains(name, all[i].What) || !strings.Contains(name, all[i].Place) {
				t.Fatalf("%q does not say %+v", name, all[i])
			}
		}
	})
}

// Names as they are meant to be: the pass behind the place, before it where displays with
// little room would show two alike.
func TestNamed(t *testing.T) {
	got := trail.Named([]trail.WaypointName{{"10.6L 95", "Kembil", 1}, {"12.6L 95", "Kembil", 2}, {"12.6L 95", "Kembil", 3},
		{"TB5 98km", "", 0}, {"?", "Station of the North", 0}, {"?", "Station of the South", 0}})
	want := "10.6L 95 Kembil 1|12.6L 95 Kembil 2|12.6L 95 #3 Kembil|TB5 98km|? Station of the North|? 2~Station of the South"
	if s := strings.Join(got, "|"); s != want {
		t.Errorf("%s, want %s", s, want)
	}
}
