package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/osmmap"
)

// A Survey is what a survey found, with what its summary has to name.
type Survey struct {
	*osmmap.Survey
	Line                   *route.Line
	Name                   string
	Options                osmmap.Options
	Units                  fuel.Units
	Notes                  []string // of the files of the loop
	Heights                string   // what came of the relief; "" where none was asked for
	Files                  []string // of the loop
	Extra                  []string // flags that a plan of the same loop needs, too
	Stops, Ground, Summary string   // that are written
}

// WriteSurvey writes the summary of a survey: the answer first, in three lines, then
// the kilometres by ground, the pumps, and what is missing.
func WriteSurvey(w io.Writer, s Survey) error {
	t := &surveyor{texter{sheet: newTextSheet(w), u: s.Units}, s}
	for _, section := range []func(){t.answer, t.matched, t.grounds, t.pumps, t.asks, t.missing, t.next} {
		section()
	}
	return t.flush()
}

type surveyor struct {
	texter
	s Survey
}

func (t *surveyor) km(m route.Metres) string {
	return fmt.Sprintf("%.1f %s", t.u.DistanceIn(m), t.u.DistanceUnit())
}

// at names a place along the line.
func (t *surveyor) at(m route.Metres) string {
	return fmt.Sprintf("%s %.1f", t.u.DistanceUnit(), t.u.DistanceIn(m))
}

func (t *surveyor) para(format string, args ...any) {
	t.line("", fmt.Sprintf(format, args...))
}

// answer says what matters most: how far it is from pump to pump, what is known of the
// ground, and what is not known at all.
func (t *surveyor) answer() {
	t.para("%s", t.pumpAnswer())
	t.para("%s", t.groundAnswer())
	var doubts []string
	if n := t.s.without(); n > 0 {
		doubts = append(doubts, fmt.Sprintf("the grade is not known at %d of %s", n, counted(len(t.s.Pumps), "pump")))
	}
	if len(t.s.Pumps) > 0 {
		doubts = append(doubts, "every pump is only from a map")
	}
	blank := route.Metres(0)
	for _, l := range t.s.Blank {
		blank += l.Length()
	}
	if blank > 0 {
		doubts = append(doubts, fmt.Sprintf("for %s the map has no road anywhere near, and pumps there are not known", t.km(blank)))
	}
	if n := len(t.s.Line.Gaps); n > 0 {
		doubts = append(doubts, "nothing was looked for along "+counted(n, "hole")+" in the line")
	}
	if len(doubts) > 0 {
		t.para("In doubt: %s.", strings.Join(doubts, "; "))
	}
	t.gap()
}

func (t *surveyor) pumpAnswer() string {
	n := 0
	for _, p := range t.s.Pumps {
		if !p.NoPetrol() && p.Off <= t.s.reach() {
			n++
		}
	}
	if n == 0 {
		return fmt.Sprintf("No pump with petrol is on the map within %s of the line, for all of its %s.", t.km(t.s.reach()), t.km(t.s.Line.Length()))
	}
	return fmt.Sprintf("%s within %s of the line; the longest stretch without one: %s, %s.", counted(n, "pump"), t.km(t.s.reach()), t.km(t.s.Longest.Length()), t.fromTo(t.s.Longest))
}

func (t *surveyor) groundAnswer() string {
	guessed := route.Metres(0)
	for _, s := range t.s.Sections {
		if s.Guessed {
			guessed += s.Line.Length()
		}
	}
	_, unknown := t.s.unknown()
	return fmt.Sprintf("Ground of %s: tagged on the map for %s, guessed for %s, not known for %s (planned as dirt).",
		t.km(t.s.Line.Length()), t.km(t.s.Line.Length()-guessed-unknown), t.km(guessed), t.km(unknown))
}

// fromTo names a stretch of the line by the kilometres of the file.
func (t *surveyor) fromTo(l osmmap.Stretch) string {
	return fmt.Sprintf("from %s to %s", t.at(t.s.Line.FileAt(l.From)), t.at(t.s.Line.FileAt(l.To)))
}

// without counts the pumps of which no grade is known.
func (s Survey) without() (n int) {
	for _, p := range s.Pumps {
		if len(p.Grades) == 0 && !p.NoPetrol() {
			n++
		}
	}
	return n
}

// matched says how much of the line lies on ways of the map.
func (t *surveyor) matched() {
	var on route.Metres
	for _, m := range t.s.Tracks {
		if m.Way != 0 {
			on += m.Length()
		}
	}
	all := t.s.Line.Length()
	t.para("%s: %s of line, of which %s (%s) lie on ways of the map.", t.s.Name, t.km(all), t.km(on), percent(on, all))
	if given := t.s.Line.FileLength(route.AsGiven); given-all > 100 {
		t.para("The file as given is %s long: there are points astray or the jitter of halts in it, which a plan leaves out. Kilometres at which something is are those of the file as given.", t.km(given))
	}
	t.para("M%s", osmmap.Attribution[1:])
}

// percent never says all of what is not all.
func percent(part, all route.Metres) string {
	p := 100 * float64(part/all)
	if part < all {
		p = min(p, 99.9)
	}
	return fmt.Sprintf("%.1f %%", p)
}

// grounds says what the wheels roll on.
func (t *surveyor) grounds() {
	all, guessed := map[route.Ground]route.Metres{}, map[route.Ground]route.Metres{}
	for _, s := range t.s.Sections {
		all[s.Ground] += s.Line.Length()
		if s.Guessed {
			guessed[s.Ground] += s.Line.Length()
		}
	}
	t.head(fmt.Sprintf("GROUND (%s of line; guessed: usual for the class of the road, whose ground is not tagged)", t.u.DistanceUnit()))
	var rows [][]string
	for _, g := range route.AllGrounds {
		if all[g] == 0 {
			continue
		}
		remark := ""
		if g == route.Unknown {
			remark = "planned as dirt"
		}
		rows = append(rows, []string{"", string(g), t.tenths(all[g]), t.tenths(guessed[g]), remark})
	}
	t.table([]column{{}, {head: "ground"}, {head: "all", right: true}, {head: "guessed", right: true}, {}}, rows)
}

func (t *surveyor) tenths(m route.Metres) string {
	if m == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f", t.u.DistanceIn(m))
}

// onLine is how near to the line a stop costs no detour in a plan.
const onLine route.Metres = 300

// pumps lists the pumps by where the line passes them.
func (t *surveyor) pumps() {
	s := t.s
	var on, near, far, none int
	for _, p := range s.Pumps {
		switch {
		case p.NoPetrol():
			none++
		case p.Off <= onLine:
			on++
		case p.Off <= s.Options.Counted:
			near++
		default:
			far++
		}
	}
	text := fmt.Sprintf("PUMPS within %s of the line: %d; %d on it (within %s)", t.km(s.Options.Corridor), len(s.Pumps), on, t.km(min(onLine, s.Options.Corridor)))
	if s.Options.Corridor > onLine {
		text += fmt.Sprintf(", %d more within %s", near, t.km(s.reach()))
	}
	if far > 0 {
		text += fmt.Sprintf(", %d farther off (for a plan with --corridor %gkm)", far, s.Options.Corridor.Kilometres())
	}
	if none > 0 {
		text += fmt.Sprintf("; %d without petrol, as far as the map knows", none)
	}
	t.head(text)
	t.stopTable(s.Pumps)
}

// reach is how far off the line a pump is one of those that a stretch is without.
func (s Survey) reach() route.Metres { return min(s.Options.Counted, s.Options.Corridor) }

// passes lists where the line passes a stop, rounded down as a plan does.
func (t *surveyor) passes(p osmmap.Pump) string {
	const shown = 3
	var out []string
	for _, at := range p.Passes {
		out = append(out, t.reach(at))
	}
	if len(out) == 0 {
		return t.reach(p.Km)
	}
	if n := len(out); n > shown {
		out = append(out[:shown], "…")
	}
	return strings.Join(out, ", ")
}

func (t *surveyor) stopTable(pumps []osmmap.Pump) {
	var rows [][]string
	for _, p := range pumps {
		confirmed := "-"
		if p.HasConfirmed {
			confirmed = p.Confirmed.Format("2006-01-02")
		}
		rows = append(rows, []string{t.passes(p), fmt.Sprintf("%.1f", t.u.DistanceIn(p.Off)), p.Name, gradesOf(p), orNot(spaced(p.Hours)), confirmed})
	}
	if len(rows) > 0 {
		unit := t.u.DistanceUnit()
		t.table([]column{{head: "at " + unit, right: true}, {head: unit + " off", right: true}, {head: "stop", max: 30}, {head: "grades", max: 22}, {head: "hours", max: 18}, {head: "confirmed"}}, rows)
	}
}

func gradesOf(p osmmap.Pump) string {
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

// asks lists places to ask at.
func (t *surveyor) asks() {
	if !t.s.Options.Towns {
		return
	}
	t.head(fmt.Sprintf("ASK HERE (hearsay: never counted by a plan) where it is over %s from pump to pump: %d", t.km(t.s.Options.Gap), len(t.s.Asks)))
	var rows [][]string
	for _, p := range t.s.Asks {
		what, _, _ := strings.Cut(strings.TrimPrefix(p.Note, "ask here: "), ";")
		rows = append(rows, []string{t.reach(p.Km), fmt.Sprintf("%.1f", t.u.DistanceIn(p.Off)), p.Name, what})
	}
	if len(rows) > 0 {
		unit := t.u.DistanceUnit()
		t.table([]column{{head: "at " + unit, right: true}, {head: unit + " off", right: true}, {head: "place", max: 40}, {head: "what"}}, rows)
	}
}

// missing says what the map does not know.
func (t *surveyor) missing() {
	t.head("WHAT IS MISSING, and what to do about it")
	for _, m := range t.gaps() {
		t.line("  - ", m)
	}
}

func (t *surveyor) gaps() (out []string) {
	s := t.s
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	out = t.holes()
	if unknown, length := s.unknown(); length > 0 {
		say("%s of the line lie on no way of the map and are planned as dirt, thirsty or not: %s. Write their ground into the list.%s", t.km(length), t.longest(unknown), t.coarse())
	}
	for _, l := range s.Long {
		ask := ""
		if !s.Options.Towns {
			ask = " --towns lists places to ask at."
		}
		say("no pump within %s of the line for %s, %s.%s", t.km(s.reach()), t.km(l.Length()), t.fromTo(l), ask)
	}
	if s.NoRoads {
		say("the map has not one road near the line: is it an extract of pumps alone, or cut off?")
	}
	if len(s.Pumps) == 0 {
		say("there is no pump on the map within %s. Ask, and write what you hear into the list.", t.km(s.Options.Corridor))
	} else {
		out = append(out, t.silence()...)
	}
	if doubt := s.scaleDoubt(); doubt != "" {
		out = append(out, doubt)
	}
	if len(s.Refused) > 0 {
		var each []string
		for _, r := range s.Refused {
			each = append(each, fmt.Sprintf("%s (%s)", r.Ref, r.Why))
		}
		say("left out: %s.", strings.Join(each, ", "))
	}
	if s.Heights != "" {
		say("heights %s. Give plan the same --relief.", s.Heights)
	}
	return append(out, s.Notes...)
}

// coarse says so where the points of the line lie too far apart for it to follow roads.
func (t *surveyor) coarse() string {
	const tell route.Metres = 300
	if step := t.s.Line.Length() / route.Metres(t.s.Line.Points()-1); step > tell {
		return fmt.Sprintf(" The points of the line lie %s apart on average: a finer track would be found on more roads.", t.km(step))
	}
	return ""
}

// holes says where nothing was looked for, or nothing could be found: there pumps are
// not known, which is not the same as none.
func (t *surveyor) holes() (out []string) {
	for _, l := range t.s.Blank {
		out = append(out, fmt.Sprintf("NO ROAD on the map anywhere near for %s, %s: nobody has drawn one, or the extract ends there. Pumps there are not known, which does not mean that there are none. Is there an extract of that region for another --map?",
			t.km(l.Length()), t.fromTo(l)))
	}
	for _, g := range t.s.Line.Gaps {
		out = append(out, fmt.Sprintf("a hole of %s in the line at %s: nobody knows which way you ride there, so no pumps were looked for along it.", t.km(g.Straight), t.at(t.s.Line.FileAt(g.At))))
	}
	for _, name := range t.s.Idle {
		out = append(out, name+" has nothing near the line: is it the extract of another region?")
	}
	return out
}

// scaleDoubt says so where the octane numbers look like those of the other scale. From
// memory: pumps in North America post 85 to 94, elsewhere hardly one posts 84 to 89 RON.
func (s Survey) scaleDoubt() string {
	for _, p := range s.Pumps {
		for _, g := range p.Grades {
			switch {
			case g.Scale == octane.ScaleAKI && g.Number > 94:
				return fmt.Sprintf("%s at %s: numbers over 94 are rare on that scale. Do the pumps there not post RON?", g, p.Name)
			case g.Scale == octane.ScaleRON && g.Number >= 84 && g.Number <= 89:
				return fmt.Sprintf("%s at %s: such numbers are rare on that scale. Do the pumps there not post AKI?", g, p.Name)
			}
		}
	}
	return ""
}

// unknown lists the sections of unknown ground.
func (s Survey) unknown() (sections []osmmap.Section, length route.Metres) {
	for _, r := range s.Sections {
		if r.Ground == route.Unknown {
			sections = append(sections, r)
			length += r.Line.Length()
		}
	}
	return sections, length
}

// silence says of how many pumps the map does not tell something.
func (t *surveyor) silence() []string {
	missing := map[string]int{"grades": t.s.without()}
	for _, p := range t.s.Pumps {
		for what, is := range map[string]bool{
			"hours": p.Hours == "", "payment": p.Pay == "", "phone": p.Phone == "",
		} {
			if is {
				missing[what]++
			}
		}
	}
	var parts []string
	for _, what := range []string{"grades", "hours", "payment", "phone"} {
		if n := missing[what]; n > 0 {
			parts = append(parts, fmt.Sprintf("%s at %d", what, n))
		}
	}
	text := "every pump has the standing map, no better: phone, ask, and write it into the list."
	if len(parts) > 0 {
		text = fmt.Sprintf("not on the map: %s of %s. ", strings.Join(parts, ", "), counted(len(t.s.Pumps), "pump")) + strings.ToUpper(text[:1]) + text[1:]
	}
	return []string{text}
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// longest names the longest of some sections, by the kilometres of the file.
func (t *surveyor) longest(sections []osmmap.Section) string {
	const shown = 8
	longest := slices.Clone(sections)
	slices.SortStableFunc(longest, func(a, b osmmap.Section) int { return cmp.Compare(b.To-b.From, a.To-a.From) })
	longest = longest[:min(len(longest), shown)]
	slices.SortFunc(longest, func(a, b osmmap.Section) int { return cmp.Compare(a.From, b.From) })
	var out []string
	for _, s := range longest {
		out = append(out, fmt.Sprintf("%s to %.1f", t.at(s.From), t.u.DistanceIn(s.To)))
	}
	text := strings.Join(out, ", ")
	if n := len(sections) - len(out); n > 0 {
		text += fmt.Sprintf(" and %d shorter", n)
	}
	return text
}

// quoted is a word as a shell reads it.
func quoted(word string) string {
	if strings.ContainsAny(word, " \t'\"$&;()<>|*?\\`!#") {
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	return word
}

// next says how the lists are used, with the cautions that they need.
func (t *surveyor) next() {
	s := t.s
	t.head("NEXT")
	t.line("  ", fmt.Sprintf("%s, %s and this summary, %s, are written. Go through the lists, then plan (lastpump bike > bike.toml makes a bike file to fill in):", s.Stops, s.Ground, s.Summary))
	words := slices.Concat([]string{"lastpump", "plan"}, s.Files, []string{"--stops", s.Stops, "--ground", s.Ground, "--bike", "bike.toml"}, s.Extra)
	for i, w := range words {
		words[i] = quoted(w)
	}
	t.gap()
	t.verbatim("  " + strings.Join(words, " "))
	t.gap()
	t.line("  ", "A pump on a map may be dry, shut or gone, and a road on a map may be worse, closed or forbidden: local law decides. Carry water, and tell someone where you ride.")
}
