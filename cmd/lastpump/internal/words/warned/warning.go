// Package warned says in English what a plan warns of, and what cures it. Start with [Of].
package warned

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// A Voice says what a plan warns of, and all that [words.Voice] says.
type Voice struct{ words.Voice }

// Of gives the voice that names and measures as another does.
func Of(v words.Voice) Voice { return Voice{v} }

// Warning says what a warning is about, what that may cost, and what to do where that is not
// left to a cure.
func (v Voice) Warning(w plan.Warning) string {
	for _, say := range []func(plan.Warning) string{v.ofLeg, v.ofGrade, v.ofVisit, v.ofHours, v.ofSureness, v.ofList, v.ofLine,
		v.ofParts, v.ofGround, v.ofPlan} {
		if s := say(w); s != "" {
			return s
		}
	}
	return ""
}

// ofLeg says what is wrong with a leg.
func (v Voice) ofLeg(w plan.Warning) string {
	switch f := w.Fact.(type) {
	case plan.LegShort:
		l, u := v.Plan.Legs[w.Leg], v.Units
		return fmt.Sprintf("%s: takes %s, there are %s: %s short, the last %s of %s", v.LegNamed(w.Leg),
			u.Needed(l.Drink.Fuel.Likely), u.Held(l.With()), u.Needed(l.Short), u.Distance(f.Last),
			u.Distance(l.Drink.Ridden))
	case plan.LegTight:
		return v.LegNamed(w.Leg) + ": " + v.tightness(w.Leg, f)
	}
	return ""
}

func (v Voice) tightness(i int, f plan.LegTight) string {
	l, u := v.Plan.Legs[i], v.Units
	if l.Arrive >= l.Kept {
		return fmt.Sprintf("keeps its reserve, but at the high figure it takes %s and there are %s",
			u.Needed(l.Drink.Fuel.High), u.Held(l.With()))
	}
	s := fmt.Sprintf("arrives with %s, the reserve is %s", u.Held(l.Arrive), u.Needed(l.Kept))
	if l.Drink.Fuel.High > l.With() {
		_, to := v.Ends(i)
		s += fmt.Sprintf("; at the high figure it is dry %s before %s", u.Distance(f.DryBefore), to)
	}
	return s
}

// ofGrade says on which legs the petrol is below the need, or may be.
func (v Voice) ofGrade(w plan.Warning) string {
	need := v.Plan.Bike.Needs
	switch f := w.Fact.(type) {
	case plan.MixtureBelow:
		return fmt.Sprintf("%s: ridden on %s, the engine needs %s%s: it may knock%s", v.inARow(w.Legs), v.lowest(w), need,
			v.filled(f.Fills), v.climbing(w.Legs))
	case plan.MixtureDoubtful:
		return fmt.Sprintf("%s: ridden on %s, which may be under the %s needed; listen for knocking on climbs",
			v.inARow(w.Legs), v.lowest(w), need)
	case plan.GradeNotKnown:
		return v.notKnown(w)
	}
	return ""
}

// inARow names legs: one by its ends, several in a row by theirs, others by their numbers.
func (v Voice) inARow(legs []int) string {
	first, last := legs[0], legs[len(legs)-1]
	switch {
	case len(legs) == 1:
		return v.LegNamed(first)
	case last-first+1 > len(legs):
		return Legs(legs)
	}
	from, _ := v.Ends(first)
	_, to := v.Ends(last)
	return fmt.Sprintf("%s, %s to %s", Legs(legs), from, to)
}

// lowest says what the petrol is worth, of several legs on the worst.
func (v Voice) lowest(w plan.Warning) string {
	s := words.Mixture(v.Plan.Legs[w.Leg].Mixture)
	if len(w.Legs) > 1 {
		s += fmt.Sprintf(" at worst (leg %d)", w.Leg+1)
	}
	return s
}

// filled says where the low petrol is from.
func (v Voice) filled(visits []int) string {
	if len(visits) == 0 {
		return ""
	}
	grade := "low grade"
	if slices.ContainsFunc(visits, func(k int) bool { return !v.Plan.Visits[k].Fill.HasGrade }) {
		grade = "low or unknown grade"
	}
	return fmt.Sprintf(" (%s: %s)", grade, v.stops(visits))
}

// climbing says how much climb there is on legs.
func (v Voice) climbing(legs []int) string {
	var up route.Metres
	for _, i := range legs {
		if v.Plan.Legs[i].Drink.NoHeights > 0 {
			return ", most on climbs"
		}
		up += v.Plan.Legs[i].Drink.Up
	}
	if up <= 0 {
		return ""
	}
	return fmt.Sprintf(", most on the %s of climb", v.Units.Height(up))
}

// notKnown says at which stops the grade is not known, and what that leaves open.
func (v Voice) notKnown(w plan.Warning) string {
	need := v.Plan.Bike.Needs
	if len(w.Visits) == 0 {
		return fmt.Sprintf("%s: ridden on %s, with petrol of no known grade in it; the engine needs %s", v.inARow(w.Legs),
			v.lowest(w), need)
	}
	s := fmt.Sprintf("%s: the grade is not known; counted as 80 RON to %s", v.stops(w.Visits), need)
	if len(w.Legs) > 0 {
		s += fmt.Sprintf("; so %s may be under it, ridden on %s", Legs(w.Legs), v.lowest(w))
	}
	return s + "; ask, and take the best"
}

// stops names the stops of visits, each once, the first of very many.
func (v Voice) stops(visits []int) string {
	var names []string
	for _, k := range visits {
		if name := v.Plan.Visits[k].Stop.Name; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return v.names(names)
}

// Legs names legs by their numbers: "leg 3", "legs 3 to 9", "legs 3, 5 and 7 to 9".
func Legs(legs []int) string {
	if len(legs) == 1 {
		return fmt.Sprintf("leg %d", legs[0]+1)
	}
	return "legs " + numbers(legs)
}

// DaysNamed names days by their numbers.
func DaysNamed(which []int) string {
	if len(which) == 1 {
		return fmt.Sprintf("day %d", which[0]+1)
	}
	return "days " + numbers(which)
}

// numbers lists legs by their numbers, runs of them from the first to the last.
func numbers(legs []int) string {
	var runs []string
	for i := 0; i < len(legs); {
		j := i
		for j+1 < len(legs) && legs[j+1] == legs[j]+1 {
			j++
		}
		switch {
		case j > i+1:
			runs = append(runs, fmt.Sprintf("%d to %d", legs[i]+1, legs[j]+1))
		default:
			j = i
			runs = append(runs, fmt.Sprint(legs[i]+1))
		}
		i = j + 1
	}
	return phrase.Listed(runs, "and")
}

// ofVisit says what is wrong with pumps.
func (v Voice) ofVisit(w plan.Warning) string {
	switch f := w.Fact.(type) {
	case plan.StrandedIfDry:
		dry := *v.Plan.Visits[w.Visit].IfDry
		return fmt.Sprintf("if %s is dry you are stranded: %s short of %s, and more the other way", v.Passed(w.Visit),
			v.Units.Needed(-dry.Spare), v.Goal(dry)) + v.butPerhaps(dry)
	case plan.BackToNoPump:
		return fmt.Sprintf("if %s is dry you get back to %s, where no pump is counted: be sure of petrol before you go",
			v.anyOf(w.Visits), v.RideStart())
	case plan.BareIfDry:
		return fmt.Sprintf("if %s is dry, another is within reach on the likely figures, not if the bike is thirsty: "+
			"up to %s short; be sure of petrol there, or carry as much more", v.anyOf(w.Visits), v.Units.Needed(f.Lack))
	case plan.LastSure:
		is := " is the last sure fuel"
		if len(w.Visits) > 1 {
			is = " are each the last sure fuel for a while"
		}
		return v.allOfThem(w.Visits) + is + ", fill up: " + v.doubt(w.Visits, f)
	case plan.UnsureToo:
		if len(w.Visits) == 1 {
			return v.Passed(w.Visit) + ": " + UnsureToo
		}
		return v.allOfThem(w.Visits) + ": fill up, nobody is sure of these pumps, nor of what follows each"
	}
	return ""
}

// butPerhaps says which way out there may be all the same; "" where none is known.
func (v Voice) butPerhaps(d trip.IfDry) string {
	if d.Off == nil || d.Off.Why == "" {
		return ""
	}
	return "; " + v.PerhapsOff(*d.Off)
}

// anyOf and allOfThem name visits, each with its place where its stop is passed more than
// once: "A or B (km 40)", "A and B (km 40)".
func (v Voice) anyOf(visits []int) string     { return phrase.Listed(v.eachPassed(visits), "or") }
func (v Voice) allOfThem(visits []int) string { return phrase.Listed(v.eachPassed(visits), "and") }

func (v Voice) eachPassed(visits []int) []string {
	names := make([]string, len(visits))
	for i, k := range visits {
		names[i] = v.Passed(k)
	}
	return names
}

// doubt says what makes stops the last sure fuel.
func (v Voice) doubt(visits []int, f plan.LastSure) string {
	var why, legs []string
	var next []int
	for _, k := range visits {
		l := v.Plan.Visits[k].LastFuel
		_, to := v.Ends(l.Leg)
		legs = append(legs, fmt.Sprintf("the leg to %s is %s", to, v.Plan.Legs[l.Leg].Verdict))
		if l.Next >= 0 {
			next = append(next, l.Next)
		}
	}
	if f.NotOK {
		why = append(why, strings.Join(legs, ", "))
	}
	if f.Back {
		back := " you have to ride back"
		if len(next) == 1 {
			back += " to " + v.Called(v.Plan.Visits[next[0]].IfDry.To)
		}
		why = append(why, fmt.Sprintf("if %s is dry%s", v.anyOf(next), back))
	}
	if f.Off {
		off := " you have to ride off by road"
		if len(next) == 1 {
			off += " to " + v.Called(v.Plan.Visits[next[0]].IfDry.To)
		}
		why = append(why, fmt.Sprintf("if %s is dry%s", v.anyOf(next), off))
	}
	if f.Stranded {
		why = append(why, fmt.Sprintf("if %s is dry you are stranded", v.anyOf(next)))
	}
	if f.Unsure {
		why = append(why, v.unsure(next))
	}
	return strings.Join(why, "; ")
}

// unsure says how little is known of stops, and of each what to do.
func (v Voice) unsure(visits []int) string {
	if len(visits) > 1 {
		return fmt.Sprintf("nobody has confirmed %s within a year; ring or ask ahead", v.allOfThem(visits))
	}
	s := v.Plan.Visits[visits[0]].Stop
	return v.Name(s.Name) + v.Unsure(s, " is "+words.OnMap, " is not confirmed within a year") + "; ring or ask ahead"
}

// ofSureness says how sure it is that there are pumps.
func (v Voice) ofSureness(w plan.Warning) string {
	switch w.Fact.(type) {
	case plan.HoursClosed:
		return v.stops(w.Visits) + ": closed, by the hours given: ring, or leave it out with --skip"
	case plan.ConfirmedLater:
		return fmt.Sprintf("confirmed after the day you leave, it says: %s: is the date right?",
			strings.Join(v.dated(w.Visits, func(stop.Stop) bool { return true }), ", "))
	case plan.NotConfirmed:
		onMap := func(s stop.Stop) bool { return s.Standing == stop.Map }
		var out []string
		if names := v.dated(w.Visits, onMap); len(names) > 0 {
			out = append(out, words.OnMap+": "+strings.Join(names, ", "))
		}
		if names := v.dated(w.Visits, func(s stop.Stop) bool { return !onMap(s) }); len(names) > 0 {
			out = append(out, "not confirmed for over a year: "+strings.Join(names, ", "))
		}
		return strings.Join(out, "; ") + "; any of them may be dry or gone: ring or ask before you need it"
	}
	return ""
}

// dated names the stops of visits of a sort, each once, with the day they were confirmed, the
// first of very many.
func (v Voice) dated(visits []int, sort func(stop.Stop) bool) []string {
	var names []string
	for _, k := range visits {
		s := v.Plan.Visits[k].Stop
		name := v.Name(s.Name)
		if s.HasConfirmed {
			name += fmt.Sprintf(" (confirmed %s)", s.Confirmed.Format(time.DateOnly))
		}
		if sort(s) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return phrase.FirstOf(names)
}

// UnsureToo is said of a place that nobody is sure of, before another such.
const UnsureToo = "fill up: nobody is sure of this pump, nor of what follows"
