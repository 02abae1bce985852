package refused

import (
	"errors"
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan/days"
	"lastpump/route"
	"lastpump/route/input"
)

// clockFault says why a ride cannot be put on the clock; "" for any other error.
func (u refuser) clockFault(err error) string {
	var f *days.Fault
	if !errors.As(err, &f) {
		return ""
	}
	switch f.Why {
	case days.NoZone:
		return fmt.Sprintf("nobody knows which time zone the ride is in at %s", u.Km(f.At))
	case days.BeyondEnd:
		return fmt.Sprintf("%s %.1f is beyond the end of the line, at %.1f", u.DistanceUnit(), u.DistanceIn(f.At),
			u.DistanceIn(f.Limit))
	case days.UnknownStop:
		return fmt.Sprintf("no stop is called %q", f.Stop)
	case days.NotPassed:
		return fmt.Sprintf("the loop does not pass %s within the corridor", f.Stop)
	case days.PassedTwice:
		return fmt.Sprintf("%s is passed more than once, at %s %s", f.Stop, u.DistanceUnit(), strings.Join(u.along(f.Passed), ", "))
	case days.TookNothing:
		return "--took: nothing is ridden over that distance, so nothing is measured"
	case days.TookOverMore:
		return fmt.Sprintf("--took: %s ridden are more than the %s that there are", u.Distance(f.At), u.Distance(f.Limit))
	case days.TookUnlikely:
		return fmt.Sprintf("--took: that is %.2g times as long as planned", f.Times)
	}
	return ""
}

// along lists places along the line.
func (u refuser) along(at []route.Metres) []string {
	out := make([]string, len(at))
	for i, m := range at {
		out[i] = u.Place(m)
	}
	return out
}

// clockHint says what to do about a ride that cannot be put on the clock.
func (u refuser) clockHint(err error) string {
	var f *days.Fault
	if !errors.As(err, &f) {
		return ""
	}
	switch f.Why {
	case days.UnknownStop:
		return input.Suggest(f.Stop, f.Names) + "--halt and --night take the name of a stop as the list has it, or a kilometre"
	case days.PassedTwice:
		return fmt.Sprintf("say which it is: %s%s in place of the name", units.Down(u.DistanceIn(f.Passed[0])), u.DistanceUnit())
	}
	return clockHints[f.Why]
}

// clockHints are those that no figure stands in.
var clockHints = map[days.Why]string{
	days.NoZone:      "say it: --timezone Asia/Bishkek, or hours from UTC, --timezone +6",
	days.BeyondEnd:   "--halt and --night take kilometres of the whole loop, as its plan has them",
	days.NotPassed:   `give the kilometre: --night 212, --halt "1h30 at km 212"`,
	days.TookNothing: "--took takes what was ridden up to --from, or else at the start of the ride",
	days.TookOverMore: "--took takes what was ridden up to --from, or else at the start of the ride, by the trip " +
		"meter",
	days.TookUnlikely: "is it from door to door, without nights, and the distance by the trip meter? From a third to " +
		"four times is taken (our estimate)",
}
