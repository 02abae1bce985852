package stop

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"lastpump/fuel/stop/hours"
)

// What people type for hours, with or without minutes, an am or pm, or a word for the hour behind.
var (
	typedSpan = regexp.MustCompile(`(?i)\b(\d{1,2})(?:[.:h](\d{2}))?\s*(am|pm|uhr|hrs|h)?\s*(?:[-–]|to|bis)\s*(\d{1,2})(?:[.:h](\d{2}))?\s*(am|pm|uhr|hrs|h)?(?:\b|$)`)
	hasDates  = regexp.MustCompile(`(?i)\b(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|week|easter|\d{4})`)
	allDay    = regexp.MustCompile(`(?i)^24\s*(h|hrs|hours|stunden)$`)
)

// typedHours writes hours as people type them the way a map does: "Mo-Sa 8-22" is Mo-Sa 08:00-22:00.
// Hours that are understood are left alone, and so are those that are not even then, or that name dates:
// "Jun 1-15" is days.
func typedHours(s string) (as string, guess string) {
	if _, err := hours.Read(s); s == "" || err == nil || hasDates.MatchString(s) {
		return s, ""
	}
	as = "24/7"
	if !allDay.MatchString(strings.TrimSpace(s)) {
		as = typedSpan.ReplaceAllStringFunc(s, mapSpan)
	}
	if _, err := hours.Read(as); err != nil || as == s {
		return s, ""
	}
	return as, fmt.Sprintf("%q is read as %s", s, as)
}

// mapSpan writes one span; one that is none is left as it is.
func mapSpan(s string) string {
	m := typedSpan.FindStringSubmatch(s)
	from, ok := clockTime(m[1], m[2], m[3])
	to, fits := clockTime(m[4], m[5], m[6])
	if !ok || !fits || from == to { // all day, or none of it: nobody knows
		return s
	}
	return from + "-" + to
}

// clockTime gives an hour and its minutes on a clock of 24 hours.
func clockTime(hour, minute, half string) (string, bool) {
	h, _ := strconv.Atoi(hour)
	m, _ := strconv.Atoi(minute) // none is 0
	switch half = strings.ToLower(half); {
	case (half == "am" || half == "pm") && (h < 1 || h > 12):
		return "", false
	case half == "am":
		h %= 12
	case half == "pm":
		h = h%12 + 12
	}
	return fmt.Sprintf("%02d:%02d", h, m), h*60+m <= 24*60 && m < 60
}
