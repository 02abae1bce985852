// Package bail says where a rider in trouble gets help by road: the nearest village, road, pump,
// clinic, pharmacy, shelter and water from each mark of the line. Start with [Of].
package bail

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/bailout"
	"lastpump/fuel/trip"
	"lastpump/fuel/wayout"
	"lastpump/route"
)

// A Voice says what there is to say of help.
type Voice struct{ words.Voice }

// Of gives the voice for a plan.
func Of(v words.Voice) Voice { return Voice{v} }

// notKnown stands where nothing of a kind is within reach of a mark on the map: it may have none,
// or end before.
const notKnown = "?"

// tellApart is from where on two places of the line are told apart.
const tellApart route.Metres = 500

// besideLine is how far from the line by road a place lies that is as good as on it.
const besideLine route.Metres = 1000

// A Table is the kinds of help that are told of together.
type Table struct {
	Head  string
	Kinds []bailout.Kind
}

// Tables are where people are, and what is needed at once.
func (v Voice) Tables() []Table {
	return []Table{
		{fmt.Sprintf("WAY OUT IF IN TROUBLE (from each %s of the line, by road: %s in all, and the first road; on, back: "+
			"so far along the line first; pumps of your lists count, too; or: nearer, if that road is not shut; ?: not known: the map has none in reach, or ends before; what lies beyond it may be nearer)",
			v.Units.Distance(bailout.Apart), v.Units.DistanceUnit()), []bailout.Kind{bailout.Village, bailout.Road, bailout.Pump}},
		{"HELP IF HURT OR STUCK (told as the way out)", []bailout.Kind{bailout.Clinic, bailout.Pharmacy, bailout.Shelter, bailout.Water}},
	}
}

// Column names a kind.
func Column(k bailout.Kind) string { return string(k) }

// Row gives the ways from a mark to some kinds, with where it is before them.
func (v Voice) Row(m *bailout.Mark, kinds []bailout.Kind) []string {
	row := []string{v.Units.Place(m.At)}
	for _, k := range kinds {
		text := notKnown
		if w := m.Way(k); w != nil {
			text = v.named(w) + " " + v.told(w)
		}
		if w := m.Perhaps(k); w != nil {
			text += "; or " + v.named(w) + " " + v.told(w)
		}
		row = append(row, text)
	}
	return row
}

// named names what a way leads to, with what it is where its name does not say that.
func (v Voice) named(w *bailout.Way) string {
	name := v.Name(w.To)
	what := strings.ReplaceAll(w.What, "_", " ")
	if w.Kind == bailout.Road {
		if what != "motorway" {
			what += " road"
		}
		if w.To == w.What {
			return what
		}
	}
	if what == "fuel" || what == string(w.Kind) || strings.Contains(strings.ToLower(w.To), what) {
		return name
	}
	return name + " (" + what + ")"
}

// told says how far a way is, by which road, and what may be shut: "12 km: 8 km on, then A 12 E".
func (v Voice) told(w *bailout.Way) string {
	if w.Length < tellApart {
		return "here" + marked(w.Marks)
	}
	s := v.Units.Distance(w.Length)
	by := strings.TrimSpace(v.road(w.Road) + " " + w.Toward)
	along := max(w.Leave-w.At, w.At-w.Leave)
	whither := "on"
	if w.Leave < w.At {
		whither = "back"
	}
	switch {
	case w.Marks&wayout.AlongLine != 0 || along >= tellApart && (by == "" || w.Length-along < besideLine):
		s += " " + whither
	case along >= tellApart:
		s += fmt.Sprintf(": %s %s, then %s", v.Units.Distance(along), whither, by)
	case by != "":
		s += " by " + by
	}
	return s + marked(w.Marks)
}

// nameless are the classes of the map that a road without a name or number is called by: no
// sign says so, and no rider does.
var nameless = []string{"motorway", "trunk", "primary", "secondary", "tertiary", "unclassified", "residential", "service",
	"living_street", "road"}

// road names a road as a rider looks for it.
func (v Voice) road(name string) string {
	class, _ := strings.CutSuffix(name, "_link")
	switch {
	case slices.Contains(nameless, class):
		return "the road"
	case name == "track" || name == "path" || name == "bridleway":
		return "the track"
	}
	return v.Name(name)
}

// marked says what makes a way doubtful.
func marked(m wayout.Marks) string {
	s := ""
	for _, one := range (m & wayout.Doubtful).Each() {
		s += ", " + strings.ReplaceAll(one.String(), "-", " ")
	}
	return s
}

// At says in short where a mark is, by the trip meter, and the way to people and to a road from
// there, each with which way it is: "trip 23: Oskel 12 km by A 12 E; road 4 km back".
func (v Voice) at(m *bailout.Mark) string {
	where := "trip " + v.Units.Nearest(m.Trip)
	if m.Trip < 0 {
		where = v.Units.Distance(-m.Trip) + " behind you"
	}
	village, road := "village not known", "road not known"
	if w := m.Way(bailout.Village); w != nil {
		village = v.Name(w.To) + " " + v.told(w)
	}
	if w := m.Perhaps(bailout.Village); w != nil {
		village += "; or " + v.Name(w.To) + " " + v.told(w)
	}
	if w := m.Way(bailout.Road); w != nil {
		road = "road " + v.told(w)
	}
	return where + ": " + village + "; " + road
}

// OnLeg gives the marks of a leg in short, one by one; none where a plan has no bail-outs.
func (v Voice) OnLeg(leg int) (out []string) {
	for i := range v.Plan.Bail {
		if m := &v.Plan.Bail[i]; m.Leg == leg {
			out = append(out, v.at(m))
		}
	}
	return out
}

// Short is the name of what stands on the strip.
const Short = "WAY OUT in trouble"

// Label is that of the same on a card.
const Label = "in trouble"

// A Place is one to look at first, for those at home.
type Place struct{ Name, Where, Near string }

// PlacesHead is what stands over them.
const PlacesHead = "Where to look first"

// PlacesTold says how they are used.
func (v Voice) PlacesTold() string {
	return "A rider in trouble makes for the nearest people by road. These are, by a map, the villages, clinics and pumps nearest to " +
		"each " + v.Units.Distance(bailout.Apart) + " of the ride, those pumps apart that it passes, with the kilometres (" + v.Units.DistanceUnit() + " along the line) that each is the nearest to: ask " +
		"there whether the bike or the rider was seen or brought in, those first that are nearest to where word came last. What lies " +
		"beyond the map is not known."
}

// Columns head them.
var Columns = [3]string{"Place", "Where", "Nearest to"}

// Places are the villages, clinics and pumps; where says a place in degrees.
func (v Voice) Places(where func(bailout.Place) string) (out []Place) {
	for _, p := range bailout.Places(v.Plan.Bail, bailout.Village, bailout.Clinic, bailout.Pump) {
		name := v.Name(p.Name)
		switch what := strings.ReplaceAll(p.What, "_", " "); {
		case p.Kind == bailout.Pump && v.passed(p):
			continue
		case p.Kind == bailout.Pump:
			name += ", pump"
		case !strings.Contains(strings.ToLower(p.Name), what):
			name += ", " + what
		}
		if p.Doubtful {
			name += " (the road may be shut)"
		}
		out = append(out, Place{name, where(p), v.near(p.Near)})
	}
	return out
}

// passed tells whether a pump is one that the ride passes, which other tables have.
func (v Voice) passed(p bailout.Place) bool {
	return slices.ContainsFunc(v.Plan.Visits, func(at trip.Visit) bool { return route.Distance(at.Stop.At, p.At) < tellApart })
}

// near says to which marks a place is the nearest: those in a row together.
func (v Voice) near(at []route.Metres) string {
	var parts []string
	for i := 0; i < len(at); {
		k := i
		for k+1 < len(at) && at[k+1]-at[k] <= bailout.Apart+tellApart {
			k++
		}
		part := v.Units.Place(at[i])
		if k > i {
			part += "–" + v.Units.Place(at[k])
		}
		parts = append(parts, part)
		i = k + 1
	}
	return strings.Join(parts, ", ")
}

// Roads says on which roads somebody comes by, and to which marks each is the nearest.
func (v Voice) Roads() string {
	var names []string
	near := map[string][]route.Metres{}
	for i := range v.Plan.Bail {
		m := &v.Plan.Bail[i]
		if w := m.Way(bailout.Road); w != nil {
			name := v.Name(w.To)
			if w.To == w.What {
				name = w.What + " road"
			}
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
			near[name] = append(near[name], m.At)
		}
	}
	if len(names) == 0 {
		return ""
	}
	for i, n := range names {
		names[i] = n + " (" + v.near(near[n]) + ")"
	}
	return "The nearest roads on which others come by: " + strings.Join(names, "; ") + "."
}

// SilentFrom says that a list of help tells of nothing from a place on.
func SilentFrom(at route.Metres, u units.System) string {
	return fmt.Sprintf("it tells of no help at all from %s on: is it cut off, or does the map end there?", u.Km(at))
}
