package gpxfile

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// The seconds of a date are those of the standard library's calendar, and of a few
// published ones.
func TestParseTime(t *testing.T) {
	for text, want := range map[string]int64{
		"1970-01-01T00:00:00Z":         0,          // POSIX.1-2017, 4.16: the Epoch
		"2001-09-09T01:46:40Z":         1000000000, // ten digits, widely noted on the day (from memory)
		"2038-01-19T03:14:07Z":         1<<31 - 1,  // the last second of 32 bits with a sign
		"2106-02-07T06:28:15Z":         1<<32 - 1,  // and without
		"2024-02-29T12:00:00.123456Z":  1709208000,
		"2024-02-29T14:00:00+02:00":    1709208000,
		"2024-02-29T12:00:00":          1709208000, // GPX 1.1: UTC
		"2024-02-29T06:30:00-0530":     1709208000,
		"2016-12-31T23:59:60Z":         1483228800, // a leap second is the next one
		"2016-12-31T23:59:61Z":         -1,
		"2106-02-07T06:28:16Z":         -1,
		"1969-12-31T23:59:59Z":         -1,
		"1901-12-13T20:45:52.2073437Z": -1,
		"2024-13-01T00:00:00Z":         -1,
		"2024-01-01 00:00:00Z":         -1,
		"2024-01-01T00:00:0xZ":         -1,
		"2024-01-01T00:00:00.xZ":       -1,
		"yesterday":                    -1,
		"":                             -1,
	} {
		got, ok := parseTime([]byte(text))
		if ok != (want >= 0) || ok && int64(got) != want {
			t.Errorf("%q is %d, %v; want %d", text, got, ok, want)
		}
	}
}

func TestParsePlainTimeLikeTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seconds := rapid.Uint32().Draw(t, "seconds")
		text := time.Unix(int64(seconds), 0).UTC().Format(time.RFC3339)
		if got, ok := parsePlainTime([]byte(text)); !ok || got != seconds {
			t.Fatalf("%s is %d, %v; want %d", text, got, ok, seconds)
		}
	})
}
