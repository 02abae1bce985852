package trail

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/outward"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/stop"
	"lastpump/route/input"
)

// Shown is how many letters of a waypoint's name small displays have room for (common
// practice, no source): within so many no two names of a plan are alike.
const Shown = 15

// A WaypointName is what a waypoint is called, in parts: what there is to do, at which
// place, and on which pass of it, from 1; 0 where it is passed once.
type WaypointName struct {
	What, Place string
	Pass        int
}

// Named puts names together. Where the first letters of one are those of one before it,
// the number of the pass comes before the place; where that does not help, any number does, and
// where even that would not be shown, the name begins with one.
func Named(all []WaypointName) []string {
	taken := map[string]bool{}
	out := make([]string, len(all))
	for i, n := range all {
		out[i] = n.joined(0)
		for try := 1; taken[shownOf(out[i])]; try++ {
			out[i] = n.joined(try)
		}
		taken[shownOf(out[i])] = true
	}
	return out
}

func (n WaypointName) joined(try int) string {
	pass := ""
	if n.Pass > 0 {
		pass = strconv.Itoa(n.Pass)
	}
	parts := []string{n.What, n.Place, pass}
	switch {
	case try == 1 && pass != "":
		parts = []string{n.What, "#" + pass, n.Place}
	case try > 0 && len([]rune(n.What)) <= Shown-4:
		parts = []string{n.What, strconv.Itoa(try+1) + "~" + n.Place, pass}
	case try > 0:
		parts = append([]string{strconv.Itoa(try+1) + "~"}, parts...)
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}

// shownOf gives what a small display shows of a name: some have capitals alone.
func shownOf(name string) string {
	letters := []rune(strings.ToUpper(name))
	return strings.TrimSpace(string(letters[:min(len(letters), Shown)]))
}

// FillWhat says in a few letters what to take: "8.0L 95", with the can "8.0L+4L 95", LAST
// before it where it is the last sure fuel.
func (v Voice) FillWhat(k int) string {
	at := v.Plan.Visits[k]
	unit := strings.TrimPrefix(v.Units.VolumeUnit(), "US ")
	take := "FULL"
	if at.Fill.High > 0 {
		take = v.Units.VolumeUp(at.Fill.Litres) + unit
	}
	if at.Fill.Can > 0 {
		can := v.Units.VolumeUp(at.Fill.Can)
		if strings.Contains(can, ".") {
			can = strings.TrimRight(strings.TrimRight(can, "0"), ".")
		}
		take += "+" + can + unit
	}
	if at.LastFuel != nil {
		take = "LAST " + take
	}
	return take + " " + v.posted(at.Fill)
}

// posted gives the number of a grade as it stands on the pump; with its scale where not
// all pumps of the list have that. Where the grade is not known it is to be asked for.
func (v Voice) posted(f *leg.Fill) string {
	grade := v.fillGrade(f)
	number, scale, _ := strings.Cut(grade, " ")
	switch {
	case grade == "":
		return "ask"
	case scale != "" && slices.ContainsFunc(v.Plan.Stops, func(s stop.Stop) bool {
		for _, g := range s.Grades {
			if _, other, _ := strings.Cut(g.String(), " "); other != scale {
				return true
			}
		}
		return false
	}):
		return number + scale
	}
	return number
}

// PlaceOf names a stop on a display: by its alias where its name is not of Latin letters,
// which not all displays have.
func PlaceOf(s stop.Stop) string {
	if s.Alias != "" && strings.ContainsFunc(s.Name, func(r rune) bool {
		return unicode.IsLetter(r) && !unicode.Is(unicode.Latin, r)
	}) {
		return input.OneLine(s.Alias)
	}
	return input.OneLine(s.Name)
}

// PassOf gives which pass of its stop a visit is, from 1; 0 for one that is passed once.
func (v Voice) PassOf(stop, visit int) int {
	all := v.VisitsOf(stop)
	if len(all) < 2 {
		return 0
	}
	return slices.Index(all, visit) + 1
}

// TurnBackName says in a few letters on which leg to turn back by which figure.
func (v Voice) TurnBackName(c cue.Cue) WaypointName {
	return WaypointName{What: fmt.Sprintf("TB%d %s%s", c.Leg+1, v.Units.Whole(c.Trip), v.Units.DistanceUnit())}
}

// WayOutName says in a few letters on which leg and at which figure a road leads out.
func (v Voice) WayOutName(c cue.Cue) WaypointName {
	return WaypointName{What: fmt.Sprintf("OUT%d %s%s", c.Leg+1, v.Units.Nearest(c.Trip), v.Units.DistanceUnit())}
}

// WayOutTold says what to know of the last place to leave the line by road.
func (v Voice) WayOutTold(c cue.Cue) []string {
	from, to := v.Ends(c.Leg)
	out := v.Plan.Legs[c.Leg].WayOut
	return []string{
		fmt.Sprintf("Leg %d, %s to %s: the last way out by road, trip %s %s: %s.", c.Leg+1, from, to, v.Units.Nearest(c.Trip),
			v.Units.DistanceUnit(), outward.Of(v.Voice).Told(out)),
		fmt.Sprintf("With %s left there even if the bike drinks the high figure. By the map; nobody has ridden it for this plan.",
			v.Units.Held(out.Spare)),
	}
}

// PourName says in a few letters on which leg and at which figure the can is poured.
func (v Voice) PourName(c cue.Cue) WaypointName {
	return WaypointName{What: fmt.Sprintf("POUR%d %.0f%s", c.Leg+1, v.PourTrip(c), v.Units.DistanceUnit())}
}

// TurnBackAndPourName says in a few letters that the can is poured where to turn back.
func (v Voice) TurnBackAndPourName(c cue.Cue) WaypointName {
	return WaypointName{What: fmt.Sprintf("TB%d+POUR %s%s", c.Leg+1, v.Units.Whole(c.Trip), v.Units.DistanceUnit())}
}

// PumpTold says where the pump is for which a mark stands on the line.
func (v Voice) PumpTold(c cue.Cue, waypoint string) string {
	name := v.Plan.Visits[c.Visit].Stop.Name
	if way := v.OffTheLine(c); way != "" {
		return fmt.Sprintf("%s once more: %s. Its own waypoint is %q.", name, way, waypoint)
	}
	return fmt.Sprintf("%s once more. Its own waypoint is %q.", name, waypoint)
}

// OffTheLine says how far off the line a pump lies, and which way; "" for one that lies on
// it, and where no pump is.
func (v Voice) OffTheLine(c cue.Cue) string {
	if c.Visit < 0 || v.Plan.Visits[c.Visit].Off <= stop.OnLine {
		return ""
	}
	if way := v.Plan.Visits[c.Visit].Way; way > 0 {
		return fmt.Sprintf("%s, %s", outward.Of(v.Voice).Turn(way-1), v.RoadFar(way-1))
	}
	far := v.Units.Distance(v.Plan.Visits[c.Visit].Off)
	if c.Side == "" {
		return fmt.Sprintf("%s off the line, to the %s", far, words.Compass(c.Toward))
	}
	return fmt.Sprintf("%s off the line, %s, to the %s", far, c.Side, words.Compass(c.Toward))
}
