package hours_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/fuel/stop/hours"
)

// Whatever is written, it is read or there is a reason with its place, and what is read gives
// spans in order.
func FuzzRead(f *testing.F) {
	for _, r := range oracle(f) {
		f.Add(r.value)
	}
	for _, s := range []string{"Mo-8:00", "Mar Su[-1]-8:00 Oct", "Mo-Fr 08:00-12:00+, Sa 9.00",
		"Dec 24-26,31 off", "Su[1] 08:00-12:00", "24/7 \"ring\"", "08:00", "\xff"} {
		f.Add(s)
	}
	from := time.Date(2024, 2, 26, 12, 30, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, value string) {
		h, err := hours.Read(value)
		if err != nil {
			var not *hours.NotUnderstood
			if !errors.As(err, &not) || !slices.Contains(hours.AllWhys(), not.Why) ||
				!strings.HasSuffix(strings.TrimSpace(value), not.Text) {
				t.Fatalf("%q: %#v", value, err)
			}
			return
		}
		inOrder(t, h, from, from.AddDate(0, 0, 8))
	})
}
