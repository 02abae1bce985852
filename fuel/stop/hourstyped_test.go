package stop

import "testing"

// Hours as riders and pumps write them, and how a map writes the same (the wiki of OpenStreetMap,
// Key:opening_hours). What may mean something else, or is understood as it stands, is left alone.
func TestHoursAsTheyAreTyped(t *testing.T) {
	for text, want := range map[string]string{
		"Mo-Sa 8-22":                "Mo-Sa 08:00-22:00",
		"8-20":                      "08:00-20:00",
		"8.00-17.30 Uhr":            "08:00-17:30",
		"Mo-Fr 9am-5pm":             "Mo-Fr 09:00-17:00",
		"Mo-Fr 9-12; Sa 9-12":       "Mo-Fr 09:00-12:00; Sa 09:00-12:00",
		"Mo-Sa 8-12,14-18":          "Mo-Sa 08:00-12:00,14:00-18:00",
		"24h":                       "24/7",
		"24 hours":                  "24/7",
		"7h30-19h":                  "07:30-19:00",
		"12am-12pm":                 "00:00-12:00",
		"Mo-Sa 07:00-19:00":         "Mo-Sa 07:00-19:00",
		"24/7":                      "24/7",
		"ring twice":                "ring twice",
		"Jun 1-15":                  "Jun 1-15",
		"week 1-10":                 "week 1-10",
		"2026 8-20":                 "2026 8-20",
		"8-8":                       "8-8",
		"8-25":                      "8-25",
		"13pm-15pm":                 "13pm-15pm",
		"8-20 if the owner is home": "8-20 if the owner is home",
		"":                          "",
	} {
		got, guess := typedHours(text)
		if got != want || (guess != "") != (got != text) {
			t.Errorf("%q: %q (%s), want %q", text, got, guess, want)
		}
	}
}
