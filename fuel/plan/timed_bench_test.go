package plan_test

import (
	"fmt"
	"testing"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
)

// withHours gives the pumps of a ride hours: all the same for one value, else in turn.
func withHours(in plan.Inputs, values ...string) plan.Inputs {
	for i := range in.Stops {
		open(values[i%len(values)], i)(&in)
	}
	return leaving(in, 6)
}

// BenchmarkClock plans the long loop of 60 pumps with a clock and without, in one run: where all
// pumps are open no second round is needed, else what is shut is not counted and all is decided
// anew. ratio is the time with to that without.
func BenchmarkClock(b *testing.B) {
	for _, at := range []plan.FillAt{plan.FillEverywhere, plan.FillChosen} {
		for name, hours := range map[string][]string{
			"open": {"24/7"}, "mixed": {"24/7", "Mo-Fr 07:00-19:00; Sa 08:00-12:00", "07:00-12:00,13:00-20:00", ""},
		} {
			b.Run(fmt.Sprintf("fill=%s/%s", at, name), func(b *testing.B) {
				without := longLoop(b, 60)
				without.Options.FillAt = at
				with := withHours(without, hours...)
				var clocked, plain time.Duration
				for b.Loop() {
					start := time.Now()
					makeRide(b, without)
					mid := time.Now()
					makeRide(b, with)
					plain += mid.Sub(start)
					clocked += time.Since(mid)
				}
				b.ReportMetric(clocked.Seconds()/plain.Seconds(), "ratio")
			})
		}
	}
}

// BenchmarkShifts lays out what becomes of each day if it is begun at another hour, for a ride of
// nine days: each quarter of an hour from dawn to two.
func BenchmarkShifts(b *testing.B) {
	in := withHours(longLoop(b, 150), "Mo-Fr 07:00-19:00; Sa 08:00-12:00", "07:00-12:00,13:00-20:00")
	in.Options.Days.Every = clock.OClock{Hour: 7}
	p := makeRide(b, in)
	if len(p.Days) < 9 {
		b.Fatalf("%d days", len(p.Days))
	}
	r := p.Reckoned()
	for b.Loop() {
		for day := range 9 {
			for _, at := range r.Leaves(day) {
				r.LeavingAt(day, at, nil)
			}
		}
	}
}
