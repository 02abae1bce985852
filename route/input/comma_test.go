package input_test

import (
	"testing"

	"lastpump/route/input"
)

func TestDecimalPoint(t *testing.T) {
	for typed, want := range map[string]string{
		"14,5 L": "14.5 L", "3,5L": "3.5L", "0,25 L": "0.25 L", "102,5km": "102.5km", "4,5 L/100km": "4.5 L/100km",
		"8,4": "8.4", "+1,5 L": "+1.5 L", "1234,5 km": "1234.5 km",
		// Thousands, two numbers, or nobody knows what.
		"1,234 km": "1,234 km", "1,234,56 L": "1,234,56 L", "1.234,5 L": "1.234,5 L", "1,5,5 L": "1,5,5 L",
		"1,5.5 L": "1,5.5 L", "1,2345 L": "1,2345 L", "9, L": "9, L", ",5 L": ",5 L", "15%,30km": "15%,30km",
		"14.5 L": "14.5 L", "": "", "a,5": "a,5", "5,L": "5,L", "1, 5": "1, 5",
	} {
		if got := input.DecimalPoint(typed); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}
