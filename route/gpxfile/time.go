package gpxfile

import (
	"math"
	"time"

	"lastpump/route"
)

// time reads <time>. A point whose time is no date has none; a time is only
// looked at to tell where the recorder stood still, so it is never a fault.
func (d *builder) time(p *route.Point) error {
	text, err := d.scan.Contents("time")
	if err != nil || len(text) == 0 {
		return err
	}
	if p.Time, p.HasTime = parseTime(text); !p.HasTime {
		p.Time = 0
		d.note("a time that is no date from 1970 to 2106, left out")
	}
	return nil
}

// parseTime reads an xsd:dateTime of the years 1970 to 2106 as seconds since
// 1970, fractions cut off. Without a zone it is UTC, as the schema [1] has it.
func parseTime(b []byte) (uint32, bool) {
	if seconds, ok := parsePlainTime(b); ok {
		return seconds, true
	}
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02T15:04:05Z0700", time.DateOnly} {
		if t, err := time.Parse(layout, string(b)); err == nil {
			return inRange(t.Unix())
		}
	}
	return 0, false
}

func inRange(seconds int64) (uint32, bool) {
	return uint32(seconds), 0 <= seconds && seconds <= math.MaxUint32
}

// parsePlainTime reads the form that nearly all files have,
// 2026-05-31T12:34:56Z with or without a fraction, without an allocation.
func parsePlainTime(b []byte) (uint32, bool) {
	const form = "dddd-dd-ddTdd:dd:dd"
	if len(b) <= len(form) || b[len(b)-1] != 'Z' {
		return 0, false
	}
	var field [6]int // year, month, day, hour, minute, second
	n := 0
	for i := range len(form) {
		switch digit := b[i] - '0'; {
		case form[i] != 'd':
			if b[i] != form[i] {
				return 0, false
			}
			n++
		case digit > 9:
			return 0, false
		default:
			field[n] = 10*field[n] + int(digit)
		}
	}
	for i, c := range b[len(form) : len(b)-1] { // a fraction
		if i == 0 && c != '.' || i > 0 && c-'0' > 9 {
			return 0, false
		}
	}
	return secondsOf(field)
}

// secondsOf counts the seconds since 1970 of a date and a time of day.
func secondsOf(f [6]int) (uint32, bool) {
	if f[1] < 1 || f[1] > 12 || f[2] < 1 || f[2] > 31 || f[3] > 23 || f[4] > 59 || f[5] > 60 {
		return 0, false
	}
	return inRange(time.Date(f[0], time.Month(f[1]), f[2], f[3], f[4], f[5], 0, time.UTC).Unix())
}
