package zones_test

import (
	"errors"
	"runtime"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/zones"
	"lastpump/route/input"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Offsets as the IANA database has them, 2026: Kyrgyzstan +6 without summer time since 2005
// (file asia), Nepal +5:45, Newfoundland −3:30 and −2:30 in summer (northamerica).
func TestParse(t *testing.T) {
	january, july := time.Date(2026, 1, 15, 0, 0, 0, 0, time.UTC), time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		text           string
		winter, summer string
	}{
		{"Asia/Bishkek", "+06:00", "+06:00"}, {"Asia/Kathmandu", "+05:45", "+05:45"},
		{"America/St_Johns", "-03:30", "-02:30"}, {" Europe/Vienna ", "+01:00", "+02:00"}, {"UTC", "+00:00", "+00:00"},
		{"+7", "+07:00", "+07:00"}, {"-03:30", "-03:30", "-03:30"}, {"+0545", "+05:45", "+05:45"},
		{"−3", "-03:00", "-03:00"}, {"utc+6", "+06:00", "+06:00"}, {"+14", "+14:00", "+14:00"},
		{"-12:00", "-12:00", "-12:00"},
	} {
		z, err := zones.Parse(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if a, b := january.In(z).Format("-07:00"), july.In(z).Format("-07:00"); a != c.winter || b != c.summer {
			t.Errorf("%q: %s and %s", c.text, a, b)
		}
	}
	for _, bad := range []string{"", "local", "Local", "Moon", "+15", "+14:01", "-12:01", "+5:60", "7", "../etc",
		"+", "+1:2"} {
		var v *input.ValueError
		if z, err := zones.Parse(bad); !errors.As(err, &v) || v.Hint == "" {
			t.Errorf("%q: %v, %v", bad, z, err)
		}
	}
}

// Whatever is written is a zone or is refused, and the zone has an offset that there is.
func TestParseAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z, err := zones.Parse(rapid.OneOf(rapid.String(), rapid.StringMatching(`[+-]\d{1,2}:?\d{0,2}`)).Draw(t, "text"))
		if err != nil {
			return
		}
		if _, off := time.Unix(0, 0).In(z).Zone(); off < -12*3600 || off > 14*3600 {
			t.Fatalf("%v", z)
		}
	})
}

// Capitals and towns by the file zone1970.tab of the IANA database, which names a place in
// each zone with its coordinates; the sea has none, nor has Antarctica off the stations.
func TestLookup(t *testing.T) {
	of := zones.Lookup()
	for _, c := range []struct {
		lat, lon float64
		want     string
	}{
		{42.9, 74.6, "Asia/Bishkek"}, {-24.7833, -65.4167, "America/Argentina/Salta"},
		{-45.5667, -72.0667, "America/Coyhaique"},
		{64.9, -147.7, "America/Anchorage"}, {-36.8667, 174.7667, "Pacific/Auckland"}, {-16.5, -68.15, "America/La_Paz"},
		{47.9167, 106.8833, "Asia/Ulaanbaatar"}, {-22.5667, 17.1, "Africa/Windhoek"}, {33.4483, -112.0733, "America/Phoenix"},
		// File northamerica: the Navajo Nation keeps summer time, Arizona and the Hopi in its midst do not.
		{35.68, -109.05, "America/Denver"}, {35.875, -110.62, "America/Phoenix"},
		{-31.7167, 128.8667, "Australia/Eucla"}, {71.5833, 128.8667, "Asia/Yakutsk"}, {66.0, 179.9, "Asia/Anadyr"},
		{0, -30, ""}, {-50, 20, ""}, {40, 180, ""}, {40, -180, ""}, {90, 0, ""},
	} {
		got := ""
		if z := of(orb.Point{c.lon, c.lat}); z != nil {
			got = z.String()
		}
		if got != c.want {
			t.Errorf("%v, %v: %q, want %q", c.lat, c.lon, got, c.want)
		}
	}
}

// BenchmarkLoad says what the boundaries cost: once, and for each place.
func BenchmarkLoad(b *testing.B) {
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before, begin := heap(), time.Now()
	of := zones.Lookup()
	of(orb.Point{74.6, 42.9})
	load := time.Since(begin)
	kept := heap() - before
	i := 0.0
	for b.Loop() {
		of(orb.Point{70 + i/1000, 41})
		i = float64((int(i) + 1) % 9000)
	}
	b.ReportMetric(float64(kept)/1e6, "MB-kept")
	b.ReportMetric(load.Seconds(), "s-load")
}
