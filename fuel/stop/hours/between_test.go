package hours_test

import (
	"math/rand"
	"testing"
	"time"

	"lastpump/fuel/stop/hours"
	"lastpump/testdata/kit"

	"pgregory.net/rapid"
)

func init() { kit.Draws(40) }

// A tester is any kind of test.
type tester interface {
	Helper()
	Fatalf(format string, args ...any)
}

// inOrder holds spans to what is promised of them, and gives them.
func inOrder(t tester, h hours.Hours, from, to time.Time) []hours.Span {
	t.Helper()
	spans := h.Between(from, to)
	for i, s := range spans {
		switch {
		case !s.From.Before(s.To) || s.From.Before(from) || s.To.After(to):
			t.Fatalf("%v is empty or not within %v and %v", s, from, to)
		case s.State != hours.Open && s.State != hours.Unclear:
			t.Fatalf("%v has no state", s)
		case i > 0 && s.From.Before(spans[i-1].To):
			t.Fatalf("%v begins before %v ends", s, spans[i-1])
		case i > 0 && s.From.Equal(spans[i-1].To) && s.State == spans[i-1].State:
			t.Fatalf("%v is not joined with %v", s, spans[i-1])
		}
	}
	return spans
}

// drawHours draws hours of all kinds, with holidays on some days of spring 2025.
func drawHours(t *rapid.T) (text string, h hours.Hours) {
	r := drawer{rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed")))}
	for {
		text = r.value().text
		if h, err := hours.Read(text); err == nil {
			if rapid.Bool().Draw(t, "holidays") {
				h = h.Observing(day2025(90), day2025(88), day2025(89), day2025(300))
			}
			return text, h
		}
	}
}

func day2025(n int) time.Time { return time.Date(2025, 1, n, 0, 0, 0, 0, time.UTC) }

// Around the changes of the clocks (Italy on 2025-03-30 at 02:00 and 2025-10-26 at 03:00; Newfoundland, half
// an hour off, on 2025-03-09 and 2025-11-02; source: the time zone database) each instant has the
// state that the clock on the wall asks for.
func TestSpansAreTheStatesOfAllMinutes(t *testing.T) {
	var zones []*time.Location
	for _, name := range []string{"UTC", "Europe/Rome", "America/St_Johns"} {
		z, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		zones = append(zones, z)
	}
	rapid.Check(t, func(t *rapid.T) {
		text, h := drawHours(t)
		zone := rapid.SampledFrom(zones).Draw(t, "zone")
		first := rapid.SampledFrom([]int{66, 87, 297, 304, 364}).Draw(t, "day")
		from := day2025(first).In(zone).Add(time.Duration(rapid.IntRange(0, 100000).Draw(t, "seconds")) * time.Second)
		to := from.Add(time.Duration(rapid.IntRange(1, 300000).Draw(t, "lasting")) * time.Second)
		spans := inOrder(t, h, from, to)
		next := 0
		for at := from; at.Before(to); at = at.Add(time.Minute) {
			for next < len(spans) && !spans[next].To.After(at) {
				next++
			}
			want := hours.Shut
			if next < len(spans) && !spans[next].From.After(at) {
				want = spans[next].State
			}
			if got := h.At(at); got != want {
				t.Fatalf("%q at %v: %d, in its spans %d", text, at, got, want)
			}
			// The same hour on the wall in another zone is in the same state.
			if wall := time.Date(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), 0, 0, time.UTC); h.At(wall) != want {
				t.Fatalf("%q at %v: another state than at %v", text, at, wall)
			}
		}
		firstOpen, ok := h.NextOpen(from, to)
		for _, s := range spans {
			if s.State == hours.Open {
				if !ok || !firstOpen.Equal(s.From) {
					t.Fatalf("%q from %v: opens %v, want %v", text, from, firstOpen, s.From)
				}
				return
			}
		}
		if ok {
			t.Fatalf("%q from %v: opens %v, want never", text, from, firstOpen)
		}
	})
}

// However a time is cut in two, the spans of the halves are those of the whole.
func TestSpansOfHalves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, h := drawHours(t)
		from := day2025(rapid.IntRange(1, 365).Draw(t, "day"))
		cut := from.Add(time.Duration(rapid.IntRange(0, 10*1440).Draw(t, "cut")) * time.Minute)
		to := cut.Add(time.Duration(rapid.IntRange(0, 10*1440).Draw(t, "rest")) * time.Minute)
		halves := inOrder(t, h, from, cut)
		for _, s := range inOrder(t, h, cut, to) {
			if last := len(halves) - 1; last >= 0 && halves[last].State == s.State && halves[last].To.Equal(s.From) {
				halves[last].To = s.To
			} else {
				halves = append(halves, s)
			}
		}
		whole := inOrder(t, h, from, to)
		if len(whole) != len(halves) {
			t.Fatalf("%q from %v: %v and %v", text, from, whole, halves)
		}
		for i, s := range whole {
			if !s.From.Equal(halves[i].From) || !s.To.Equal(halves[i].To) || s.State != halves[i].State {
				t.Fatalf("%q from %v: %v and %v", text, from, whole, halves)
			}
		}
	})
}

// 53 pumps, 9 runs and 100 hours to leave, each asked for the states of an hour and the next
// opening: as much as a plan asks.
func BenchmarkPlan(b *testing.B) {
	h := must(b, "Mo-Fr 06:30-22:00; Sa 07:00-22:00; Su,PH 08:00-12:00,15:00-20:00").Observing(day2025(90))
	for b.Loop() {
		for i := range 53 * 9 * 100 {
			at := day2025(60).Add(time.Duration(i) * time.Minute)
			h.Between(at, at.Add(2*time.Hour))
			h.NextOpen(at, at.AddDate(0, 0, 14))
		}
	}
}
