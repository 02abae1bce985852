package sun_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"lastpump/route/sun"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// The almanac gives minutes, so half a minute is its own rounding.
func TestNavalObservatory(t *testing.T) {
	f, err := os.Open("testdata/usno-sun.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, worst := 0, map[string]float64{}
	for s := bufio.NewScanner(f); s.Scan(); {
		r := strings.Split(s.Text(), "\t")
		if r[0] == "kind" {
			continue
		}
		rows++
		day, err := time.Parse(time.DateOnly, r[1])
		if err != nil {
			t.Fatal(err)
		}
		lat, _ := strconv.ParseFloat(r[2], 64)
		lon, _ := strconv.ParseFloat(r[3], 64)
		p := orb.Point{lon, lat}
		got := sun.On(p, day)
		rise, set, state := got.Rise, got.Set, got.State
		if r[0] == "civil" {
			rise, set = got.Dawn, got.Dusk
			if rise.IsZero() && set.IsZero() { // the almanac's state is of twilight here
				state = map[bool]sun.State{true: sun.AllDay, false: sun.AllNight}[sun.At(p, day) != sun.Dark]
			} else {
				state = sun.Normal
			}
		}
		want := map[string]sun.State{"NORMAL": sun.Normal, "ALL_DAY": sun.AllDay, "ALL_NIGHT": sun.AllNight}[r[4]]
		if state != want {
			t.Errorf("%s: %s", s.Text(), state)
		}
		kind := r[0]
		if math.Abs(lat) > 66 {
			kind = "polar"
		}
		for i, got := range []time.Time{rise, set} {
			off, ok := minutesOff(r[5+i], got)
			if worst[kind] = max(worst[kind], off); !ok || off > 1 {
				t.Errorf("%s: %v, off by %.2f min", s.Text(), got, off)
			}
		}
	}
	if rows != 240 {
		t.Errorf("%d rows, want 240", rows)
	}
	t.Logf("worst, in minutes: sun %.2f, civil %.2f, polar %.2f", worst["sun"], worst["civil"], worst["polar"])
}

// minutesOff compares an instant with a time of its day; none with none.
func minutesOff(clock string, got time.Time) (off float64, ok bool) {
	if clock == "" || got.IsZero() {
		return 0, clock == "" && got.IsZero()
	}
	c, err := time.Parse("15:04", clock)
	if err != nil {
		return 0, false
	}
	midnight := got.Truncate(24 * time.Hour)
	return math.Abs(got.Sub(midnight).Minutes() - float64(c.Hour()*60+c.Minute())), true
}

// NOAA's own algorithm in two other programs. pysunnoaa's README: at 40 N, 105 W,
// 2010-06-21 09:54 (UTC−6) the sun stands at 47.3618°, refraction of 0.0154° (58.1″ ÷ tan h
// and so on, NOAA) included. The README of the Ruby gem sun: 40.75 N, 73.99 W, 2015-01-01,
// sunrise 07:20:02 and sunset 16:38:16 (UTC−5), with the sun taken where it is at 0 h UT, 22
// hours before that sunset: sunsets of two days differ by some 50 s there in January.
func TestOtherPrograms(t *testing.T) {
	at := time.Date(2010, 6, 21, 15, 54, 0, 0, time.UTC)
	tan := math.Tan(47.3618 * math.Pi / 180)
	refraction := (58.1/tan - 0.07/math.Pow(tan, 3)) / 3600
	if got := sun.Altitude(orb.Point{-105, 40}, at); math.Abs(float64(got)+refraction-47.3618) > 0.002 {
		t.Errorf("altitude %.4f", got)
	}
	east := time.FixedZone("", -5*3600)
	got := sun.On(orb.Point{-73.99, 40.75}, time.Date(2015, 1, 1, 18, 0, 0, 0, east))
	for _, c := range []struct{ got, want time.Time }{
		{got.Rise, time.Date(2015, 1, 1, 7, 20, 2, 0, east)},
		{got.Set, time.Date(2015, 1, 1, 16, 38, 16, 0, east)},
	} {
		if d := c.got.Sub(c.want).Abs(); d > 50*time.Second {
			t.Errorf("%v, want %v", c.got, c.want)
		}
	}
}

// The beginnings of the seasons, from the Naval Observatory's "Earth's Seasons" for 2020:
// equinoxes 03-20 03:50 and 09-22 13:31, solstices 06-20 21:44 and 12-21 10:02. Seen from
// the pole the altitude is the declination: 0 at the equinoxes, 23.44 at the solstices
// (Astronomical Almanac: obliquity of 2020, 23.4367°).
func TestSeasonsFromThePole(t *testing.T) {
	for _, c := range []struct {
		at   time.Time
		want float64
	}{
		{time.Date(2020, 3, 20, 3, 50, 0, 0, time.UTC), 0}, {time.Date(2020, 6, 20, 21, 44, 0, 0, time.UTC), 23.4367},
		{time.Date(2020, 9, 22, 13, 31, 0, 0, time.UTC), 0}, {time.Date(2020, 12, 21, 10, 2, 0, 0, time.UTC), -23.4367},
	} {
		north, south := sun.Altitude(orb.Point{0, 90}, c.at), sun.Altitude(orb.Point{77, -90}, c.at)
		if math.Abs(float64(north)-c.want) > 0.004 || math.Abs(float64(north+south)) > 1e-9 {
			t.Errorf("%v: %.4f from the north, %.4f from the south, want %.4f", c.at, north, south, c.want)
		}
	}
	// The sun rises once a year at the pole, two days before the equinox: 0.833° at 0.395° a day.
	rises := 0
	for day := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == 2020; day = day.AddDate(0, 0, 1) {
		switch got := sun.On(orb.Point{0, 90}, day); {
		case got.State == sun.Normal && !got.Rise.IsZero() && got.Set.IsZero():
			rises++
			if d := day.Format("01-02"); d != "03-18" {
				t.Errorf("rises on %s", d)
			}
		case got.State == sun.AllNight && day.Month() > 3 && day.Month() < 9,
			got.State == sun.AllDay && (day.Month() < 3 || day.Month() > 9):
			t.Errorf("%s: %s", day.Format(time.DateOnly), got.State)
		}
	}
	if rises != 1 {
		t.Errorf("rises %d times", rises)
	}
}

func drawPlace(t *rapid.T) orb.Point {
	return orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat")}
}

func drawTime(t *rapid.T) time.Time {
	return time.Unix(rapid.Int64Range(-2208988800, 4102444800).Draw(t, "time"), 0).UTC() // 1900 to 2100
}

// Whatever the place: each time is in the day, there the sun stands at its altitude and
// moves the right way, and none comes before it. It is looked for in steps of a minute,
// which tells nothing only where the sun passes and comes back within one.
func TestTimesAreWhereTheSunPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, from := drawPlace(t), drawTime(t)
		to := from.Add(24 * time.Hour)
		got := sun.Between(p, from, to)
		for _, e := range []struct {
			at     time.Time
			h      sun.Degrees
			rising bool
		}{
			{got.Rise, sun.Horizon, true}, {got.Set, sun.Horizon, false},
			{got.Dawn, sun.Civil, true}, {got.Dusk, sun.Civil, false},
		} {
			end := e.at
			if e.at.IsZero() {
				end = to
			} else {
				before, after := sun.Altitude(p, e.at.Add(-time.Second)), sun.Altitude(p, e.at)
				if e.at.Before(from) || e.at.After(to) || max(after-e.h, e.h-after) > 1e-3 || (after > before) != e.rising {
					t.Fatalf("%v: %v to %v, want %v", e.at, before, after, e.h)
				}
			}
			for at := from; !at.Add(time.Minute).After(end); at = at.Add(time.Minute) {
				a, b := sun.Altitude(p, at), sun.Altitude(p, at.Add(time.Minute))
				if e.rising && a < e.h && b >= e.h || !e.rising && a >= e.h && b < e.h {
					if d := e.at.Sub(at); d < 0 || d > time.Minute+time.Second {
						t.Fatalf("passes %v at %v, first said at %v", e.h, at, e.at)
					}
				}
			}
		}
		noon := sun.At(p, from.Add(12*time.Hour))
		if got.State == sun.AllDay && noon != sun.Day || got.State == sun.AllNight && noon == sun.Day {
			t.Fatalf("%s, and %s in the middle of it", got.State, noon)
		}
	})
}

// The altitude has no seam: not at the antimeridian, not at a pole, not from one instant or
// place to the next. The sun moves a quarter of a degree a minute at most.
func TestContinuity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, at := drawPlace(t), drawTime(t)
		h := sun.Altitude(p, at)
		within := func(what string, got, by sun.Degrees) {
			if max(got-h, h-got) > by {
				t.Fatalf("%s: %v and %v", what, h, got)
			}
		}
		within("a minute on", sun.Altitude(p, at.Add(time.Minute)), 0.2507)
		within("0.01° north", sun.Altitude(orb.Point{p.Lon(), p.Lat() + 0.01}, at), 0.0101)
		within("0.01° east", sun.Altitude(orb.Point{p.Lon() + 0.01, p.Lat()}, at), 0.0101)
		within("once around", sun.Altitude(orb.Point{p.Lon() + 360, p.Lat()}, at), 1e-6)
		antipode := sun.Altitude(orb.Point{p.Lon() + 180, -p.Lat()}, at)
		within("underfoot", -antipode, 1e-6)
	})
}

// The day of either hemisphere: half a year apart they change places, to the minutes by
// which the orbit is not round. On the equator a day is 12 h and about 7 min, all year.
func TestHemispheres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lon, lat := rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(0, 50).Draw(t, "lat")
		day := drawTime(t)
		length := func(lat float64, day time.Time) time.Duration {
			rise, _ := sun.Next(orb.Point{lon, lat}, day)
			_, set := sun.Next(orb.Point{lon, lat}, rise)
			return set.Sub(rise)
		}
		north, south := length(lat, day), length(-lat, day.Add(182*24*time.Hour+15*time.Hour))
		if d := (north - south).Abs(); d > 20*time.Minute {
			t.Fatalf("at %.1f°: %v in the north, %v in the south half a year on", lat, north, south)
		}
		if d := (length(0, day) - 12*time.Hour - 7*time.Minute).Abs(); d > time.Minute {
			t.Fatalf("on the equator: off by %v", d)
		}
	})
}

// Rises and sets take turns, and none is passed over: of ten that follow each other, each
// is found by asking from the one before.
func TestTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, at := drawPlace(t), drawTime(t)
		up := sun.At(p, at) == sun.Day
		for range 10 {
			rise, set := sun.Next(p, at)
			next := rise
			if rise.IsZero() || !set.IsZero() && set.Before(rise) {
				next = set
			}
			if next.IsZero() {
				at = at.Add(24 * time.Hour)
			} else {
				if at, up = next, !up; !next.Equal(map[bool]time.Time{true: rise, false: set}[up]) {
					t.Fatalf("rises at %v, sets at %v; up before is %v", rise, set, !up)
				}
			}
			if now := sun.At(p, at) == sun.Day; now != up {
				t.Fatalf("up at %v is %v", at, now)
			}
		}
	})
}

func ExampleOn() {
	// US Naval Observatory for Anchorage, 2020-01-05: rises 19:11 UT.
	anchorage := orb.Point{-149.8667, 61.2167}
	t := sun.On(anchorage, time.Date(2020, 1, 5, 0, 0, 0, 0, time.UTC))
	fmt.Println(t.Rise.Round(time.Minute).Format("15:04"), t.State)
	// Output: 19:11 normal
}

func BenchmarkOn(b *testing.B) {
	day := time.Date(2020, 1, 5, 0, 0, 0, 0, time.UTC)
	for b.Loop() {
		sun.On(orb.Point{75.9, 41.4}, day)
	}
}
