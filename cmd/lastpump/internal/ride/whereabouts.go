package ride

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
)

// parseFrom reads where the rider is: a kilometre, or the name of a stop.
func parseFrom(s string) (plan.Whereabouts, error) {
	if at, ok := kilometre(s); ok {
		return plan.Whereabouts{From: at, HasFrom: true}, nil
	}
	return plan.Whereabouts{FromStop: strings.TrimSpace(s)}, nil
}

// stopAt is a stop and one of its passings: "Kembil, 948.2km", "Kembil 948 km", "Kembil at km 948".
var stopAt = regexp.MustCompile(`(?i)^(.*?[^\s,])(?:\s*,\s*|\s+)(?:(?:at|@)\s+)?` +
	`(?:(km|mi)\s*(\d+(?:[.,]\d{1,2})?)|(\d+(?:[.,]\d{1,2})?)\s*(km|mi))$`)

// passing turns the name of a stop with a kilometre behind it into both. A name that is in the list as
// it is written stays one.
func passing(w *plan.Whereabouts, stops []stop.Stop) {
	listed := func(s stop.Stop) bool { return strings.EqualFold(s.Name, w.FromStop) }
	m := stopAt.FindStringSubmatch(w.FromStop)
	if m == nil || slices.ContainsFunc(stops, listed) {
		return
	}
	at, err := fuel.ParseDistance(m[3] + m[4] + m[2] + m[5])
	if err == nil {
		w.FromStop, w.From, w.HasFrom = m[1], at, true
	}
}

// geographic is a place as devices give it: "46.5701, 98.7758".
var geographic = regexp.MustCompile(`^\s*([+-]?\d{1,2}(?:\.\d+)?)\s*,\s*([+-]?\d{1,3}(?:\.\d+)?)\s*$`)

// How near to a pump a rider stands at it, as near as a stop is on the line, and how far off the line
// he may be. The second is our estimate.
const (
	atThePump  route.Metres = 300
	offTheLine route.Metres = 5000
)

// standing turns a place that is given as latitude and longitude into a stop or a kilometre, and the name of a
// stop with a kilometre into both. Anything else is left as it is.
func (f *Flags) standing(in *plan.Inputs) error {
	m := geographic.FindStringSubmatch(f.from)
	if m == nil {
		passing(&in.Options.Whereabouts, in.Stops)
		return nil
	}
	lat, _ := strconv.ParseFloat(m[1], 64)
	lon, _ := strconv.ParseFloat(m[2], 64)
	here := orb.Point{lon, lat}
	for _, s := range in.Stops {
		// Of a pump that is passed twice the plan asks which passing it is.
		if route.Distance(here, s.At) <= atThePump && len(in.Line.Passages(s.At, in.Options.Corridor)) > 0 {
			in.Options.FromStop = s.Name
			return nil
		}
	}
	passed := in.Line.Passages(here, atThePump)
	switch len(passed) {
	case 0:
		return f.offLine(in.Line.Passages(here, offTheLine))
	case 1:
		in.Options.FromStop, in.Options.From, in.Options.HasFrom = "", passed[0].At, true
		return nil
	}
	return app.Misuse(fmt.Sprintf("--from: the ride passes %s more than once", strings.TrimSpace(f.from)),
		"say which it is: "+fromAny(passed))
}

// offLine tells that a place is not on the line, and where it is passed.
func (f *Flags) offLine(passed []route.Passage) error {
	hint := "say where you go on: a stop, or a kilometre of the whole line"
	if len(passed) > 0 {
		hint = "say where you come back to it, with what the tank will have there: " + fromAny(passed)
	}
	return app.Misuse(fmt.Sprintf("--from: %s is not on the line, nor at a stop of it", strings.TrimSpace(f.from)), hint)
}

// fromAny gives the flags for each passing.
func fromAny(passed []route.Passage) string {
	var at []string
	for _, p := range passed {
		at = append(at, "--from "+KilometresAlong(p.At))
	}
	return strings.Join(at, " or ")
}

// KilometresAlong writes a place along the line as --from takes it.
func KilometresAlong(m route.Metres) string { return units.Metric.Along(m) }

var usedOver = regexp.MustCompile(`^(.*\S)\s+over\s+(\S.*)$`)

// parseUsed reads "9.8 L over 212 km".
func parseUsed(s string) (*here.Used, error) {
	m := usedOver.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return nil, input.BadValue(s, "does not say over what distance",
			`write "9.8 L over 212 km", or "2.6 USgal over 130 mi"`)
	}
	l, err := fuel.ParseLitres(m[1])
	if err != nil {
		return nil, err
	}
	d, err := typed.Ride(m[2])
	return &here.Used{Litres: l, Trip: d}, err
}
