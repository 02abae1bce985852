package hours_test

import (
	"testing"
	"time"

	"lastpump/fuel/stop/hours"
)

// day is a midnight of UTC.
func day(t testing.TB, s string) time.Time {
	t.Helper()
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// must reads hours that have to be understood.
func must(t testing.TB, value string) hours.Hours {
	t.Helper()
	h, err := hours.Read(value)
	if err != nil {
		t.Fatalf("%q: %v", value, err)
	}
	return h
}

// An interval is open or unclear, in minutes from the first midnight that is asked about.
type interval struct {
	from, to int
	unclear  bool
}

// intervals gives what hours say of some days.
func intervals(h hours.Hours, from time.Time, days int) (out []interval) {
	for _, s := range h.Between(from, from.AddDate(0, 0, days)) {
		out = append(out, interval{int(s.From.Sub(from).Minutes()), int(s.To.Sub(from).Minutes()),
			s.State == hours.Unclear})
	}
	return out
}

// joined puts intervals of one state together that touch: the other program leaves some apart.
func joined(in []interval) (out []interval) {
	for _, i := range in {
		if last := len(out) - 1; last >= 0 && out[last].to == i.from && out[last].unclear == i.unclear {
			out[last].to = i.to
			continue
		}
		out = append(out, i)
	}
	return out
}

// states gives a state for each minute.
func states(in []interval) []hours.State {
	out := make([]hours.State, days*24*60)
	for _, i := range in {
		s := hours.Open
		if i.unclear {
			s = hours.Unclear
		}
		for m := i.from; m < i.to; m++ {
			out[m] = s
		}
	}
	return out
}
