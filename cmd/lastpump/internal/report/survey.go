// Package report writes what a survey found. The rooms below it lay plans out: text, page,
// paper, gpx and csv, with what they share in sheet.
package report

import (
	"cmp"
	"io"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/cmd/lastpump/internal/words/mapped"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/bailout"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/route"
)

// A Survey is what a survey found, with what its summary has to name.
type Survey struct {
	*survey.Survey
	Name                   string
	Units                  units.System
	Notes                  []string // of the files of the loop
	Heights                string   // what came of the relief; "" where none was asked for
	Files                  []string // of the loop
	Extra                  []string // flags that a plan of the same loop needs, too
	Stops, Ground, Summary string   // that are written
	Out                    *outward.Found
	Roads, Shapes          string // that are written where there is an Out
	Help                   []bailout.Way
	BailOuts               string // where these are written
	Far                    string // likewise; "" where all pumps are in another list
	Land                   string // that is written; "" where there is nothing to draw
}

// WriteSurvey writes the summary of a survey: the answer first, in three lines, then
// the kilometres by ground, the pumps, and what is missing.
func WriteSurvey(w io.Writer, s Survey) error {
	t := &surveyor{sheet.NewText(w), s.Units, s, mapped.Of(s.Survey, s.Units)}
	for _, section := range []func(){t.answer, t.matched, t.grounds, t.pumps, t.asks, t.waysOut, t.help, t.missing, t.next} {
		section()
	}
	return t.Flush()
}

type surveyor struct {
	*sheet.Text
	u   units.System
	s   Survey
	say mapped.Voice
}

func (t *surveyor) paras(lead string, texts []string) {
	for _, text := range texts {
		t.Line(lead, text)
	}
}

func (t *surveyor) answer() {
	t.paras("", t.say.Answer())
	t.Gap()
}

func (t *surveyor) matched() { t.paras("", t.say.Matched(t.s.Name)) }

func (t *surveyor) grounds() {
	t.Head(t.say.GroundHead())
	var rows [][]string
	for _, row := range t.say.Grounds() {
		rows = append(rows, append([]string{""}, row...))
	}
	t.Table([]sheet.Column{{}, {Head: "ground"}, {Head: "all", Right: true}, {Head: "guessed", Right: true}, {}}, rows)
}

// pumps lists the pumps by where the line passes them.
func (t *surveyor) pumps() {
	t.Head(t.say.PumpsHead())
	var rows [][]string
	for _, p := range inOrder(t.s.Pumps) {
		confirmed := "-"
		if p.HasConfirmed {
			confirmed = p.Confirmed.Format("2006-01-02")
		}
		rows = append(rows, []string{t.passes(p), t.say.Off(p), p.Name, t.say.Grades(p), sheet.Hours(p.Hours), confirmed})
	}
	columns := []sheet.Column{{Head: "stop", Max: 30}, {Head: "grades", Max: 22}, {Head: "hours", Max: 18},
		{Head: "confirmed"}}
	t.placesTable(columns, rows)
}

// inOrder gives pumps in the order of the ride: by where the line first passes them, which
// need not be where it comes closest.
func inOrder(pumps []survey.Pump) []survey.Pump {
	first := func(p survey.Pump) route.Metres {
		if len(p.Passes) == 0 {
			return p.Km
		}
		return p.Passes[0]
	}
	return slices.SortedStableFunc(slices.Values(pumps), func(a, b survey.Pump) int { return cmp.Compare(first(a), first(b)) })
}

// asks lists places to ask at.
func (t *surveyor) asks() {
	if !t.s.Options.Towns {
		return
	}
	t.Head(t.say.AsksHead())
	var rows [][]string
	for _, p := range t.s.Asks {
		rows = append(rows, []string{t.u.Place(p.Km), t.say.Off(p), p.Name, p.AskAt})
	}
	t.placesTable([]sheet.Column{{Head: "place", Max: 40}, {Head: "what"}}, rows)
}

// waysOut lists the best way by road from each stop.
func (t *surveyor) waysOut() {
	if t.s.Out == nil {
		return
	}
	t.Head(t.say.WaysOutHead(t.s.Out))
	unit := t.u.DistanceUnit()
	columns := []sheet.Column{{Head: "at " + unit, Right: true}, {Head: "if it is dry", Max: 26},
		{Head: "petrol by road at", Max: 26}, {Head: unit, Right: true}, {Head: "first road", Max: 28}, {Head: "more", Right: true}}
	if rows := t.say.WaysOut(t.s.Out); len(rows) > 0 {
		t.Table(columns, rows)
	}
	t.paras("  - ", t.say.RoadsMissing(t.s.Out))
	t.Line("  ", t.say.RoadsWritten(t.s.Roads, t.s.Shapes, t.s.Far))
}

// help tells where a rider in trouble gets help.
func (t *surveyor) help() {
	if t.s.Out == nil {
		return
	}
	t.Head(t.say.HelpHead())
	var columns []sheet.Column
	for i, head := range mapped.HelpColumns {
		columns = append(columns, sheet.Column{Head: head, Right: i == 1 || i == 2, Max: 40})
	}
	t.Table(columns, t.say.Help(t.s.Help))
	t.Line("  ", t.say.HelpWritten(t.s.BailOuts))
}

// placesTable lists places: where along the line, how far off, and more.
func (t *surveyor) placesTable(more []sheet.Column, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	unit := t.u.DistanceUnit()
	t.Table(append([]sheet.Column{{Head: "at " + unit, Right: true}, {Head: unit + " off", Right: true}}, more...), rows)
}

// passes lists where the line passes a stop, rounded down as a plan does.
func (t *surveyor) passes(p survey.Pump) string {
	const shown = 3
	at := p.Passes
	if len(at) == 0 {
		at = []route.Metres{p.Km}
	}
	var out []string
	for _, m := range at[:min(len(at), shown)] {
		out = append(out, t.u.Place(m))
	}
	if len(at) > shown {
		out = append(out, "…")
	}
	return strings.Join(out, ", ")
}

// missing says what the map does not know.
func (t *surveyor) missing() {
	t.Head("WHAT IS MISSING, and what to do about it")
	t.paras("  - ", t.say.Missing())
	if t.s.Heights != "" {
		t.Line("  - ", mapped.RelievedBy(t.s.Heights))
	}
	t.paras("  - ", t.s.Notes)
}

// next says how the lists are used, with the cautions that they need.
func (t *surveyor) next() {
	s := t.s
	t.Head("NEXT")
	if s.Land != "" {
		t.Line("  ", landed.Written(s.Land, s.Survey.Land, s.Units))
	}
	t.Line("  ", t.say.Written(s.Stops, s.Ground, s.Summary))
	lists := []string{"--stops", s.Stops, "--ground", s.Ground, "--bike", "bike.toml"}
	if s.Roads != "" {
		lists = append(lists, "--roads", s.Roads, "--bail-outs", s.BailOuts)
	}
	if s.Land != "" {
		lists = append(lists, "--land", s.Land)
	}
	if s.Far != "" {
		lists = append([]string{"--stops", s.Stops, "--stops", s.Far}, lists[2:]...)
	}
	command := slices.Concat([]string{"lastpump", "plan"}, s.Files, lists, s.Extra)
	for i, w := range command {
		command[i] = Quoted(w)
	}
	t.Gap()
	t.Verbatim("  " + strings.Join(command, " "))
	t.Gap()
	t.Line("  ", t.say.Caution())
}

// Quoted is a word as a shell reads it.
func Quoted(word string) string {
	if strings.ContainsAny(word, " \t'\"$&;()<>|*?\\`!#") {
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	return word
}
