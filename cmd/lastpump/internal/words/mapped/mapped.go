// Package mapped says in English what a survey of a map has found.
package mapped

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/stop"
	"lastpump/fuel/survey"
	"lastpump/octane"
	"lastpump/route"
)

// A Voice puts what a survey found into sentences.
type Voice struct {
	found *survey.Survey
	f     survey.Figures
	u     units.System
}

// Of speaks of a survey in units.
func Of(s *survey.Survey, u units.System) Voice { return Voice{s, s.Figures(), u} }

func (w Voice) km(m route.Metres) string {
	return fmt.Sprintf("%.1f %s", w.u.DistanceIn(m), w.u.DistanceUnit())
}

// at names a place along the line, by the kilometres of the file.
func (w Voice) at(m route.Metres) string {
	return fmt.Sprintf("%s %.1f", w.u.DistanceUnit(), w.u.DistanceIn(m))
}

func (w Voice) fromTo(l survey.Lack) string {
	return fmt.Sprintf("from %s to %s", w.at(l.FromKm), w.at(l.ToKm))
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Answer says what matters most: how far it is from pump to pump, what is known of the
// ground, and what is not known at all.
func (w Voice) Answer() []string {
	out := []string{w.pumps(), w.ground()}
	if doubts := w.doubts(); len(doubts) > 0 {
		out = append(out, "Doubtful: "+strings.Join(doubts, "; ")+".")
	}
	return out
}

func (w Voice) pumps() string {
	reach := w.km(w.f.Reach)
	if w.f.WithFuel == 0 {
		return fmt.Sprintf("No pump with petrol is on the map within %s of the line, for all of its %s.",
			reach, w.km(w.f.Length))
	}
	l := w.found.Longest
	return fmt.Sprintf("%s within %s of the line; the longest stretch without one: %s, %s.",
		counted(w.f.WithFuel, "pump"), reach, w.km(l.Length()), w.fromTo(l))
}

func (w Voice) ground() string {
	tagged := w.f.Length - w.f.Guessed - w.f.Unknown
	return fmt.Sprintf("Ground of %s: tagged on the map for %s, guessed for %s, not known for %s (planned as dirt).",
		w.km(w.f.Length), w.km(tagged), w.km(w.f.Guessed), w.km(w.f.Unknown))
}

func (w Voice) doubts() (out []string) {
	pumps := len(w.found.Pumps)
	if n := w.f.NoGrade; n > 0 {
		out = append(out, fmt.Sprintf("the grade is not known at %d of %s", n, counted(pumps, "pump")))
	}
	if pumps > 0 {
		out = append(out, "every pump is known only from a map")
	}
	if w.f.NoRoad > 0 {
		out = append(out, "for "+w.km(w.f.NoRoad)+" the map has no road anywhere near, and pumps there are not known")
	}
	if n := len(w.f.Holes); n > 0 {
		out = append(out, "nothing was looked for along "+counted(n, "hole")+" in the line")
	}
	return out
}

// Matched says how much of a line lies on ways of the map, and whose map that is.
func (w Voice) Matched(name string) []string {
	out := []string{fmt.Sprintf("%s: %s of line, of which %s (%s) lie on ways of the map.",
		name, w.km(w.f.Length), w.km(w.f.OnWays), percent(w.f.OnWays, w.f.Length))}
	if w.f.AsGiven > 0 {
		out = append(out, "The file as given is "+w.km(w.f.AsGiven)+" long: there are points astray or the jitter of halts "+
			"in it, which a plan leaves out. Kilometres at which something is are those of the file as given.")
	}
	return append(out, "M"+survey.Attribution[1:])
}

// percent never says all of what is not all.
func percent(part, all route.Metres) string {
	p := 100 * float64(part/all)
	if part < all {
		p = min(p, 99.9)
	}
	return fmt.Sprintf("%.1f %%", p)
}

// GroundHead is what stands over the table of ground.
func (w Voice) GroundHead() string {
	return "GROUND (" + w.u.DistanceUnit() + " of line; guessed: usual for the class of the road, " +
		"whose ground is not tagged)"
}

// Grounds is the table of ground: its name, all of it, what is guessed, a remark.
func (w Voice) Grounds() (rows [][]string) {
	tenths := func(m route.Metres) string {
		if m == 0 {
			return "-"
		}
		return fmt.Sprintf("%.1f", w.u.DistanceIn(m))
	}
	for _, g := range w.f.Grounds {
		remark := ""
		if g.Ground == route.Unknown {
			remark = "planned as dirt"
		}
		rows = append(rows, []string{string(g.Ground), tenths(g.All), tenths(g.Guessed), remark})
	}
	return rows
}

// PumpsHead is what stands over the table of pumps.
func (w Voice) PumpsHead() string {
	corridor := w.found.Options.Corridor
	text := fmt.Sprintf("PUMPS within %s of the line: %d; %d on it (within %s)",
		w.km(corridor), len(w.found.Pumps), w.f.OnLine, w.km(min(stop.OnLine, corridor)))
	if corridor > stop.OnLine {
		text += fmt.Sprintf(", %d more within %s", w.f.Near, w.km(w.f.Reach))
	}
	if w.f.Far > 0 {
		text += fmt.Sprintf(", %d farther off (for a plan with --corridor %gkm)", w.f.Far, corridor.Kilometres())
	}
	if w.f.NoPetrol > 0 {
		text += fmt.Sprintf("; %d without petrol, as far as the map knows", w.f.NoPetrol)
	}
	return text
}

// Off says how far off the line a pump is, without the unit.
func (w Voice) Off(p survey.Pump) string { return fmt.Sprintf("%.1f", w.u.DistanceIn(p.Off)) }

// Grades names the grades of a pump.
func (w Voice) Grades(p survey.Pump) string {
	var out []string
	for _, g := range p.Grades {
		out = append(out, g.String())
	}
	switch {
	case len(out) > 0:
		return strings.Join(out, ", ")
	case p.NoPetrol():
		return "none (" + strings.Join(p.Other, ", ") + ")"
	}
	return string(octane.NotKnown)
}

// AsksHead is what stands over the table of places to ask at.
func (w Voice) AsksHead() string {
	return fmt.Sprintf("ASK HERE (hearsay: never counted by a plan) where it is over %s from pump to pump: %d",
		w.km(w.found.Options.Gap), len(w.found.Asks))
}

// Missing says what the map does not know, and what to do about it.
func (w Voice) Missing() []string {
	out := slices.Concat(w.holes(), w.unknown(), w.long())
	if w.found.NoRoads {
		out = append(out, "the map has not one road near the line: is it an extract of pumps alone, or cut off?")
	}
	if len(w.found.Pumps) == 0 {
		out = append(out, fmt.Sprintf("there is no pump on the map within %s. Ask, and write what you hear into the list.",
			w.km(w.found.Options.Corridor)))
	} else {
		out = append(out, w.silence())
	}
	out = append(out, w.scaleDoubt()...)
	if len(w.found.Refused) > 0 {
		var each []string
		for _, r := range w.found.Refused {
			each = append(each, fmt.Sprintf("%s (%s)", r.Ref, refusal(r)))
		}
		out = append(out, "left out: "+strings.Join(each, ", ")+".")
	}
	return out
}

// holes says where nothing was looked for, or nothing could be found: there pumps are
// not known, which is not the same as none.
func (w Voice) holes() (out []string) {
	for _, l := range w.found.Blank {
		out = append(out, fmt.Sprintf("NO ROAD on the map anywhere near for %s, %s: nobody has drawn one, "+
			"or the extract ends there. Pumps there are not known, which does not mean that there are none. "+
			"Is there an extract of that region for another --map?", w.km(l.Length()), w.fromTo(l)))
	}
	for _, h := range w.f.Holes {
		out = append(out, fmt.Sprintf("a hole of %s in the line at %s: nobody knows which way you ride there, "+
			"so no pumps were looked for along it.", w.km(h.Straight), w.at(h.Km)))
	}
	for _, name := range w.found.Idle {
		out = append(out, name+" has nothing near the line: is it the extract of another region?")
	}
	return out
}

func (w Voice) unknown() []string {
	if w.f.Unknown == 0 {
		return nil
	}
	text := fmt.Sprintf("%s of the line lie on no way of the map and are planned as dirt, thirsty or not: %s. "+
		"Write their ground into the list.", w.km(w.f.Unknown), w.longest(w.f.UnknownIn))
	if w.f.Apart > 0 {
		text += fmt.Sprintf(" The points of the line lie %s apart on average: "+
			"a finer track would be found on more roads.", w.km(w.f.Apart))
	}
	return []string{text}
}

// longest names the longest of some sections.
func (w Voice) longest(sections []survey.Section) string {
	const shown = 8
	longest := slices.Clone(sections)
	slices.SortStableFunc(longest, func(a, b survey.Section) int { return cmp.Compare(b.To-b.From, a.To-a.From) })
	longest = longest[:min(len(longest), shown)]
	slices.SortFunc(longest, func(a, b survey.Section) int { return cmp.Compare(a.From, b.From) })
	var out []string
	for _, s := range longest {
		out = append(out, fmt.Sprintf("%s to %.1f", w.at(s.From), w.u.DistanceIn(s.To)))
	}
	text := strings.Join(out, ", ")
	if n := len(sections) - len(out); n > 0 {
		text += fmt.Sprintf(" and %d shorter", n)
	}
	return text
}

func (w Voice) long() (out []string) {
	ask := ""
	if !w.found.Options.Towns {
		ask = " --towns lists places to ask at."
	}
	for _, l := range w.found.Long {
		out = append(out, fmt.Sprintf("no pump within %s of the line for %s, %s.%s",
			w.km(w.f.Reach), w.km(l.Length()), w.fromTo(l), ask))
	}
	return out
}

// silence says of how many pumps the map does not tell something.
func (w Voice) silence() string {
	var parts []string
	for _, missing := range []struct {
		what string
		at   int
	}{{"grades", w.f.NoGrade}, {"hours", w.f.NoHours}, {"payment", w.f.NoPay}, {"phone", w.f.NoPhone}} {
		if missing.at > 0 {
			parts = append(parts, fmt.Sprintf("%s at %d", missing.what, missing.at))
		}
	}
	const doubt = "very pump has the standing map, no better: phone, ask, and write it into the list."
	if len(parts) == 0 {
		return "e" + doubt
	}
	pumps := counted(len(w.found.Pumps), "pump")
	return fmt.Sprintf("not on the map: %s of %s. E%s", strings.Join(parts, ", "), pumps, doubt)
}

func (w Voice) scaleDoubt() []string {
	d := w.f.Doubt
	what := "such numbers"
	switch d.Other {
	case "":
		return nil
	case octane.ScaleRON:
		what = "numbers over 94"
	}
	return []string{fmt.Sprintf("%s at %s: %s are rare on that scale. Do the pumps there not post %s?",
		d.Grade, d.Pump, what, d.Other)}
}

// refusal says why an object of the map is left out.
func refusal(r survey.Refused) string {
	switch r.Why {
	case survey.Past, survey.NoAccess:
		return r.Tag
	case survey.WithinRefused:
		return fmt.Sprintf("within %s, which is left out", r.Within)
	}
	return string(r.Why)
}

// Written says which files are written and what to do with them.
func (w Voice) Written(stops, ground, summary string) string {
	return fmt.Sprintf("%s, %s and this summary, %s, are written. Go through the lists, then plan "+
		"(lastpump bike > bike.toml makes a bike file to fill in):", stops, ground, summary)
}

// Caution is what everybody has to know who plans with a map.
func (w Voice) Caution() string {
	return "A pump on a map may be dry, shut or gone, and a road on a map may be worse, closed or forbidden: " +
		"local law decides. Carry water, and tell someone where you ride."
}

// RelievedBy says what came of looking for heights in a relief.
func RelievedBy(heights string) string {
	return "heights " + heights + ". Give plan the same --relief."
}
