package clock_test

import (
	"slices"
	"testing"
	"time"
	_ "time/tzdata"

	"lastpump/fuel/clock"
	"lastpump/route"
)

// Beyond 60 km clocks are an hour on: instants are the same, the morning comes by the clock of
// the place, and the change is noted where it is first met.
func TestZones(t *testing.T) {
	east := time.FixedZone("East", 3600)
	r := along(ground(1000, route.Paved), clock.DefaultManner(), pump(65, always))
	r.Zone = func(at route.Metres) *time.Location {
		if at > 60000 {
			return east
		}
		return utc
	}
	c := clock.Reckon(r)
	if got := c.Passings[0].There[clock.Likely].Format("15:04:05 -07"); got != "10:35:00 +01" {
		t.Errorf("at the pump at %s", got)
	}
	if got := c.Days[1].Leave; got.Format("15:04 -07") != "08:00 +01" || !got.Equal(day(2, "07:00")) {
		t.Errorf("leaves at %v", got)
	}
	if got := c.Days[0].Sunset.Format("-07"); got != "+01" {
		t.Errorf("sunset in %s", got)
	}
	n := c.Notes[0]
	if len(c.Notes) != 1 || n.Kind != clock.ZoneChanges || n.At != 65000 || turned(n) != "09:35 10:35" {
		t.Errorf("%+v", c.Notes)
	}
}

// Where the zone is not known the last that was is kept, no sunset is told, and it is noted
// once.
func TestZoneNotKnown(t *testing.T) {
	r := along(ground(1000, route.Paved), clock.DefaultManner(), pump(65, always), pump(130, always))
	r.Zone = func(route.Metres) *time.Location { return nil }
	c := clock.Reckon(r)
	if len(c.Notes) != 1 || c.Notes[0].Kind != clock.ZoneNotKnown || !c.Days[0].Sunset.IsZero() ||
		!c.Days[1].Leave.Equal(day(2, "08:00")) {
		t.Errorf("%+v, %+v", c.Notes, c.Days)
	}
}

// In New York clocks go back on the first Sunday of November, at 02:00 (15 U.S.C. § 260a): the
// night of 31 October 2026 is an hour longer.
func TestClocksChange(t *testing.T) {
	york, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	r := early()
	r.Zone = func(route.Metres) *time.Location { return york }
	r.Leaving.First = time.Date(2026, 10, 31, 6, 30, 0, 0, york)
	c := clock.Reckon(r)
	if got := c.Days[1].Leave.Sub(c.Days[0].Leave); got != 25*time.Hour {
		t.Errorf("%v later", got)
	}
	i := slices.IndexFunc(c.Notes, func(n clock.Note) bool { return n.Kind == clock.ClocksChange })
	if i < 0 || turned(c.Notes[i]) != "07:30 06:30" || c.Notes[i].Day != 1 {
		t.Errorf("%+v", c.Notes)
	}
}

// 200 km of deep sand are 13.3 h of riding, 21.1 h in all: there at 05:06, and the others leave
// 8 h later, when the late run (33.3 h) is still on its way.
func TestLateAtNight(t *testing.T) {
	r := along(ground(300, route.DeepSand), clock.DefaultManner())
	r.Nights = []route.Metres{200000}
	c := clock.Reckon(r)
	if got := c.Days[1].Leave; got.Sub(c.Days[0].There[clock.Likely]) != 8*time.Hour {
		t.Errorf("leaves at %v", got)
	}
	if !slices.Contains(noted(c), clock.LateAtNight) || !slices.Contains(noted(c), clock.ArrivesDark) {
		t.Errorf("%+v", c.Notes)
	}
}

// turned gives an instant by the clock before and after.
func turned(n clock.Note) string { return n.Before.Format("15:04") + " " + n.After.Format("15:04") }
