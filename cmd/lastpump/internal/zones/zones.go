// Package zones finds time zones: by the name a rider gives ([Parse]), or by where the rider
// is ([Lookup]). The rules of the zones and their boundaries are in the program, so it needs
// neither a network nor the files of a system.
//
// # Sources
//
//	The IANA time zone database, as it comes with Go (time/tzdata), public domain.
package zones

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // for a system without zones of its own

	"lastpump/route/input"
)

// offset is hours from UTC, perhaps with minutes: "+7", "-03:30", "+0545".
var offset = regexp.MustCompile(`^(?:UTC|GMT)?([+-])(\d{1,2})(?::?(\d{2}))?$`)

const hintZone = `write its name, like "Asia/Bishkek", or hours from UTC, like "+6" or "-03:30"`

// Parse reads a zone: a name of the IANA database, or hours from UTC. The error is an
// [*input.ValueError].
func Parse(s string) (*time.Location, error) {
	name := strings.TrimSpace(strings.ReplaceAll(s, "−", "-"))
	if m := offset.FindStringSubmatch(strings.ToUpper(name)); m != nil {
		return fixed(s, m)
	}
	if name == "" || strings.EqualFold(name, "local") { // which would mean this machine's
		return nil, input.BadValue(s, "is no time zone", hintZone)
	}
	l, err := time.LoadLocation(name)
	if err != nil {
		return nil, input.BadValue(s, "is no time zone that is known", hintZone)
	}
	return l, nil
}

// fixed gives the zone of an offset. The widest there are: -12 to +14.
func fixed(s string, m []string) (*time.Location, error) {
	hours, _ := strconv.Atoi(m[2])
	minutes := 0
	if m[3] != "" {
		minutes, _ = strconv.Atoi(m[3])
	}
	seconds := hours*3600 + minutes*60
	if m[1] == "-" {
		seconds = -seconds
	}
	if minutes > 59 || seconds < -12*3600 || seconds > 14*3600 {
		return nil, input.BadValue(s, "is no time zone: they go from -12 to +14", hintZone)
	}
	return time.FixedZone(fmt.Sprintf("UTC%s%02d:%02d", m[1], hours, minutes), seconds), nil
}
