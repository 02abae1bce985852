package kit

import (
	"errors"
	"math"
	"testing"

	"lastpump/route/input"
)

// A T is a test, or one of rapid's.
type T interface {
	Helper()
	Fatalf(format string, args ...any)
}

// Border gives the last float64 from low on for which holds is true, given that it is true
// for low and no longer for high. The next one is beyond the border, so both sides are
// tested, one unit in the last place apart.
func Border(t T, low, high float64, holds func(float64) bool) float64 {
	t.Helper()
	if !holds(low) || holds(high) {
		t.Fatalf("no border between %v and %v", low, high)
	}
	for math.Nextafter(low, high) != high {
		if mid := low + (high-low)/2; holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// WantFault checks an error of input, its hint and the sentence it prints.
func WantFault(t testing.TB, err error, text, hint string) {
	t.Helper()
	var fault *input.Error
	if !errors.As(err, &fault) {
		t.Fatalf("error %v of type %T, want an *input.Error: %s", err, err, text)
	}
	if fault.Error() != text {
		t.Errorf("error\n%s\nwant\n%s", fault, text)
	}
	if fault.Hint != hint {
		t.Errorf("hint\n%s\nwant\n%s", fault.Hint, hint)
	}
}
