package clock_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/route"

	"pgregory.net/rapid"
)

// A drawn ride comes with what its pacing is made of.
type drawn struct {
	clock.Ride
	runs   []route.Run
	manner clock.Manner
}

// drawRide gives any ride of up to some 2,000 km, with pumps, halts, and nights by any rule.
func drawRide(t *rapid.T) drawn {
	km := rapid.IntRange(1, 200)
	var runs []route.Run
	for range rapid.IntRange(1, 10).Draw(t, "runs") {
		g := rapid.SampledFrom(route.AllGrounds()).Draw(t, "ground")
		next := ground(km.Draw(t, "km"), g)[0]
		if n := len(runs); n > 0 {
			next.From, next.To = next.From+runs[n-1].To, next.To+runs[n-1].To
		}
		next.Ridden *= route.Metres(rapid.Float64Range(1, 1.3).Draw(t, "stretch"))
		if next.Skipped = rapid.IntRange(0, 9).Draw(t, "skipped") == 0; next.Skipped {
			next.Ridden = 0
		}
		runs = append(runs, next)
	}
	end := runs[len(runs)-1].To
	along1 := rapid.Float64Range(0, float64(end))
	m := clock.DefaultManner()
	m.Pace = rapid.Float64Range(0.5, 2).Draw(t, "pace")
	m.Hours = time.Duration(rapid.Float64Range(2, 10).Draw(t, "hours") * float64(time.Hour))
	r := along(runs, m)
	hours := []clock.Hours{nil, always, never, daily(6, 20), daily(7, 12), daily(21, 22), daily(0, 3)}
	for range rapid.IntRange(0, 12).Draw(t, "places") {
		p := pump(along1.Draw(t, "at")/1000, rapid.SampledFrom(hours).Draw(t, "open"))
		p.Use = rapid.SampledFrom([]clock.Use{clock.Passed, clock.Counted, clock.Filled}).Draw(t, "use")
		p.Half = route.Metres(rapid.SampledFrom([]float64{0, 0, 1500, 20000}).Draw(t, "half"))
		r.Places = append(r.Places, p)
	}
	slices.SortFunc(r.Places, func(a, b clock.Place) int { return int(math.Copysign(1, float64(a.At-b.At))) })
	for range rapid.IntRange(0, 3).Draw(t, "halts") {
		r.Halts = append(r.Halts, clock.Halt{At: route.Metres(along1.Draw(t, "halt")),
			For: time.Duration(rapid.IntRange(1, 600).Draw(t, "min")) * time.Minute})
	}
	slices.SortFunc(r.Halts, func(a, b clock.Halt) int { return int(math.Copysign(1, float64(a.At-b.At))) })
	hour := rapid.IntRange(0, 23)
	date := day(1, "00:00").AddDate(0, 0, rapid.IntRange(0, 364).Draw(t, "date"))
	r.Leaving.First = date.Add(time.Duration(hour.Draw(t, "first")) * time.Hour)
	r.Leaving.Every.Hour = hour.Draw(t, "every")
	switch rapid.IntRange(0, 3).Draw(t, "nights") {
	case 0:
		for range 3 {
			r.Nights = append(r.Nights, route.Metres(along1.Draw(t, "night")))
		}
		slices.Sort(r.Nights)
	case 1:
		for _, run := range runs {
			r.Parts = append(r.Parts, route.Part{From: run.From, To: run.To})
		}
	}
	return drawn{r, runs, m}
}

// byHand gives the hours of riding over a stretch of line by a run, from the table alone.
func byHand(runs []route.Run, pace float64, from, to route.Metres, f clock.Figure) (riding float64) {
	for _, r := range runs {
		if over := min(r.To, to) - max(r.From, from); over > 0 {
			s := clock.GeneralSpeed(r.Ground)
			v := []clock.KmPerHour{s.High, s.Likely, s.Low}[f]
			riding += pace * (over * r.Ridden / (r.To - r.From)).Kilometres() / float64(v)
		}
	}
	return riding
}

// Whatever the ride: early is not after likely, nor likely after late; days follow each other
// without holes, and nobody leaves within 8 hours.
func TestLawsOfAnyRide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRide(t)
		c := clock.Reckon(r.Ride)
		inOrder := func(ts clock.Times) {
			if ts[clock.Early].After(ts[clock.Likely]) || ts[clock.Likely].After(ts[clock.Late]) {
				t.Fatalf("%v", ts)
			}
		}
		from, left := r.From.At, r.Leaving.First
		for i, d := range c.Days {
			inOrder(d.There)
			if d.From != from || d.To < d.From || d.There[clock.Early].Before(d.Leave) || i == 0 && !d.Leave.Equal(left) {
				t.Fatalf("day %d: %+v", i, d)
			}
			if i > 0 && d.Leave.Sub(c.Days[i-1].There[clock.Likely]) < 8*time.Hour {
				t.Fatalf("leaves %v after %v", d.Leave, c.Days[i-1].There)
			}
			if (i == len(c.Days)-1) != (d.Night.By == clock.ByEnd) {
				t.Fatalf("%+v", c.Days)
			}
			from = d.To
		}
		if from != r.To.At {
			t.Fatalf("ends at %v of %v", from, r.To.At)
		}
		for i, v := range c.Passings {
			inOrder(v.There)
			p := r.Places[i]
			if d := c.Days[v.Day]; !v.Reached || p.At < d.From || p.At > d.To || v.There[clock.Early].Before(d.Leave) {
				t.Fatalf("place %d: %+v in %+v", i, v, d)
			}
			filled := v.Fill != clock.NoFill
			if filled && (p.Use == clock.Passed || v.LongShut) || p.Use == clock.Filled && !filled && !v.LongShut {
				t.Fatalf("place %d: %+v of %+v", i, v, p)
			}
			if open := p.Hours == nil || v.State != clock.Shut; !open {
				if is, _ := p.Hours(v.There[clock.Likely]); is == clock.IsOpen {
					t.Fatalf("shut when open: %+v", v)
				}
			}
		}
	})
}

// outOfReach tells whether who comes to a pump finds it shut for longer than anybody waits.
func outOfReach(h clock.Hours, there time.Time, wait time.Duration) bool {
	if h == nil {
		return false
	}
	is, opens := h(there)
	return is == clock.IsShut && (opens.IsZero() || opens.Sub(there) > wait)
}

// The hours of each day are those of its kilometres, its fills, waits and halts, reckoned here
// in another way; there is nothing on the line twice or not at all.
func TestDaysAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRide(t)
		for i := range r.Places {
			r.Places[i].Half = 0
		}
		m := r.manner
		c := clock.Reckon(r.Ride)
		for i, d := range c.Days {
			for _, f := range []clock.Figure{clock.Early, clock.Likely} {
				likely := byHand(r.runs, m.Pace, d.From, d.To, clock.Likely)
				want := byHand(r.runs, m.Pace, d.From, d.To, f) + likely*m.Pauses[f].Hours()
				for j, v := range c.Passings {
					if v.Day == i && f == clock.Early && v.DryIfLate || v.Day == i-1 && f == clock.Early && v.Fill == clock.InMorning {
						return // who passes by, or has filled in time, is earlier
					}
					switch p := r.Places[j]; {
					case v.Day == i && v.State == clock.Doubtful && outOfReach(p.Hours, v.There[f], r.Wait):
					case v.Day == i && v.Fill == clock.OnArrival && c.Days[i].Night.Place != j:
						want += (v.Wait[f] + m.Fill[f]).Hours()
					case v.Fill == clock.InMorning && v.Day == i-1 && p.At == d.From:
						want += m.Fill[f].Hours()
					}
				}
				got := d.There[f].Sub(d.Leave).Hours()
				for _, h := range r.Halts {
					if i > 0 && h.At <= d.From+2 && h.At >= d.From-2 || i < len(c.Days)-1 && h.At <= d.To+2 && h.At >= d.To-2 {
						return // one where a night is belongs to the evening or the morning
					}
					if h.At >= d.From && h.At <= d.To {
						want += h.For.Hours()
					}
				}
				if math.Abs(got-want) > 1e-5 {
					t.Fatalf("day %d, run %d: %v h, want %v", i, f, got, want)
				}
				if math.Abs(d.Riding.Hours()-likely) > 1e-5 {
					t.Fatalf("day %d: riding %v, want %v", i, d.Riding, likely)
				}
			}
		}
	})
}

// Days by hours keep the rider's hours and the light, but for what is ridden to finish and for
// a place nearby.
func TestNightsByHoursKeepTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRide(t)
		r.Nights, r.Parts, r.Halts = nil, nil, nil // a clock that leaps at a halt leaps over the light
		c := clock.Reckon(r.Ride)
		waited, detour := false, time.Duration(0)
		for _, p := range r.Places {
			detour = max(detour, r.Pacing.Riding(leg.End{At: p.At}, p.End)[clock.Likely])
		}
		for i, d := range c.Days {
			most := r.manner.Hours
			if d.Night.By == clock.ByEnd {
				most = most * 115 / 100
			} else if n := d.Night.Place; n >= 0 {
				most += r.Pacing.Riding(leg.End{At: max(0, d.To-3000)}, leg.End{At: d.To})[clock.Likely]
			}
			most += 2 * detour // there is no night between a pump and the line
			if d.Riding > most+time.Second {
				t.Fatalf("day %d rides %v of %v: %+v", i, d.Riding, r.manner.Hours, d)
			}
			for _, v := range c.Passings {
				waited = waited || v.Day == i && v.Fill != clock.NoFill
			}
			off := slices.ContainsFunc(c.Notes, func(n clock.Note) bool {
				return n.Day == i && (n.Kind == clock.HardlyRidden || n.Kind == clock.SunNeverUp)
			})
			late := !d.Sunset.IsZero() && d.There[clock.Likely].After(d.Sunset.Add(time.Minute-time.Hour))
			if d.Night.By == clock.ByHours && d.Night.Place < 0 && !off && !waited && late {
				t.Fatalf("day %d ends at %v, the sun sets at %v", i, d.There[clock.Likely], d.Sunset)
			}
			if n := d.Night; n.By == clock.ByHours && n.Place < 0 &&
				(n.Between[1] != d.To || n.Between[0] < d.From || n.Between[0] > n.Between[1]) {
				t.Fatalf("%+v", d)
			}
		}
	})
}

// What is decided at a place depends only on what lies before it: whatever the hours of a pump
// are, days that end over 3 km before it stay as they are.
func TestOnlyWhatLiesBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRide(t)
		r.Parts = nil // whose days are judged together
		if len(r.Places) == 0 {
			return
		}
		i := rapid.IntRange(0, len(r.Places)-1).Draw(t, "which")
		before := clock.Reckon(r.Ride)
		r.Places = slices.Clone(r.Places)
		r.Places[i].Hours = rapid.SampledFrom([]clock.Hours{nil, always, never, daily(9, 10)}).Draw(t, "then")
		after := clock.Reckon(r.Ride)
		for n, d := range before.Days {
			if d.To >= r.Places[i].At-3000 || r.To.At-d.To < 100000 && d.Night.By == clock.ByHours {
				return // it is near, or the end is, which a day may be stretched to
			}
			if after.Days[n] != d {
				t.Fatalf("day %d: %+v, then %+v", n, d, after.Days[n])
			}
		}
	})
}
