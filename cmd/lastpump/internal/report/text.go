package report

import (
	"fmt"
	"io"
	"strconv"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
)

// WriteText writes a plan for a terminal or a sheet of paper, at most 100
// columns wide: the answer first, in three lines.
func WriteText(w io.Writer, p *plan.Plan, style Style) error {
	t := &texter{sheet: newTextSheet(w), p: p, u: p.Options.Units, style: style}
	for _, section := range []func(){
		t.answer, t.thenAndNow, t.group, t.start, t.chosen, t.legs, t.trip, t.fills, t.lowGrade, t.stops, t.others, t.totals,
		t.warnings, t.whatIf, t.pencil, t.assumptions, t.cautions,
	} {
		section()
	}
	return t.flush()
}

// A texter puts a plan into words and tables.
type texter struct {
	sheet
	p     *plan.Plan
	u     fuel.Units
	style Style
}

// paint colours a verdict word on a terminal, or marks it for a page.
func (t *texter) paint(s string) string {
	if t.style.Marks {
		return markOpen + s + markClose
	}
	if !t.style.Colour {
		return s
	}
	colour := ""
	switch s {
	case string(plan.Short), string(plan.Stranded), string(octane.Below):
		colour = "1;31"
	case string(plan.Tight), string(plan.Back), string(octane.Doubtful), string(octane.NotKnown):
		colour = "33"
	default:
		return s
	}
	return "\x1b[" + colour + "m" + s + "\x1b[0m"
}

// lineAs says which line kilometres are along.
func (t *texter) lineAs() string {
	if t.p.Arranged != "" {
		return " as it is ridden"
	}
	return " in the file"
}

func (t *texter) answer() {
	for _, line := range t.p.Answer {
		t.line("", line)
	}
}

// Numbers of a column, without their unit, which stands in its head.
func (t *texter) held(l fuel.Litres) string   { return t.u.VolumeDown(l) }
func (t *texter) needed(l fuel.Litres) string { return t.u.VolumeUp(l) }
func (t *texter) far(m route.Metres) string   { return fuel.Near(t.u.DistanceIn(m)) }
func (t *texter) reach(m route.Metres) string { return strconv.Itoa(int(t.u.DistanceIn(m) + 1e-9)) }

// left gives what is in the tank at the end of a leg, or what is lacking.
func (t *texter) left(l fuel.Litres) string {
	if l < 0 {
		return "-" + t.needed(-l)
	}
	return t.held(l)
}

func (t *texter) start() {
	p, l := t.p, t.p.Line
	name := p.Name
	if name == "" {
		name = "The loop"
	}
	climb := "climb not known"
	if p.Loop.HasAscent {
		climb = t.height(p.Loop.Ascent) + " of climb"
	} else if p.Loop.Ascent > 0 {
		climb = t.height(p.Loop.Ascent) + " of climb known, the rest is not"
	}
	kind := "one way"
	if l.Closed {
		kind = "a closed loop"
	}
	t.gap()
	t.line("", fmt.Sprintf("%s: %s, %d points, %s%s, %s (stretch %.3f), %s. Bike: %s.",
		name, kind, l.Points(), t.u.Distance(l.Length()), t.lineAs(), t.toRide(), l.Stretch.Factor, climb, t.bike()))
	if p.Arranged != "" {
		t.line("", "Ridden otherwise than in the file: "+p.Arranged+".")
	}
	s := p.Start
	grade := s.Grade.String()
	switch {
	case s.Mixture != nil:
		grade = s.Mixture.String() + " (as the whole plan has it)"
	case s.Assumed:
		grade += " (assumed)"
	}
	text := fmt.Sprintf("%s: %s usable in the tank, of %s; zero the trip meter.", t.whereabouts(), t.u.Held(s.Fuel), grade)
	if s.Nearest != "" {
		text += fmt.Sprintf(" Nearest counted stop: %s, %s.", s.Nearest, t.u.Distance(s.Away))
	}
	t.line("", text)
}

// climb gives a climb as the number of a column, in metres or feet.
func (t *texter) climb(m route.Metres) string { return fmt.Sprintf("%.0f", t.u.HeightIn(m)) }

func (t *texter) height(m route.Metres) string { return t.u.Height(m) }

func (t *texter) bike() string {
	b := t.p.Bike
	name := b.Name
	if name == "" {
		name = "as given"
	}
	s := fmt.Sprintf("%s, %s usable of %s, %s on paved road, needs %s", name, t.u.Held(b.Usable()), t.u.Held(b.Tank), t.u.Rate(b.Consumption), b.Needs)
	if b.Can > 0 {
		s += ", carries a " + t.u.Can(b.Can) + " can"
	}
	return s
}

// nameWidth is the room for a stop's name; longer ones wrap.
const nameWidth = 22

func (t *texter) legs() {
	d, v := t.u.DistanceUnit(), t.u.VolumeUnit()
	t.head(fmt.Sprintf("LEGS (%[1]s ridden, with detours; %s, needs rounded up; climb in %s; at %[1]s: along the line%[4]s)",
		d, v, t.u.HeightUnit(), t.lineAs()))
	rows := [][]string{}
	for i, l := range t.p.Legs {
		climb := "?"
		if l.Drink.NoHeights <= 0 {
			climb = t.climb(l.Drink.Up)
		}
		tank := t.held(l.Start)
		if l.Can > 0 {
			tank += "+" + t.held(l.Can)
		}
		f := l.Drink.Fuel
		_, to := t.p.Ends(i)
		rows = append(rows, []string{strconv.Itoa(i + 1), to, t.reach(l.ToAt), t.far(l.Drink.Ridden), climb,
			t.needed(f.Likely), t.needed(f.Low) + "–" + t.needed(f.High), tank, t.left(l.Arrive), t.needed(l.Kept), t.paint(string(l.Verdict))})
	}
	from, _ := t.p.Ends(0)
	t.line("   ", "from "+from)
	t.table([]column{{"#", true, 0}, {"to", false, nameWidth}, {"at " + d, true, 0}, {"ridden", true, 0}, {"climb", true, 0},
		{"takes", true, 0}, {"low–high", true, 0}, {"in tank", true, 0}, {"arrives", true, 0}, {"reserve", true, 0}, {"verdict", false, 0}}, rows)
}

func (t *texter) trip() {
	d := t.u.DistanceUnit()
	t.head(fmt.Sprintf("ON THE TRIP METER (%s as the bike shows them; zero it at each fill; likely figures, where two stand the first is the high figure; turn back is the sooner of likely with the reserve whole and high with nothing left)", d))
	rows := [][]string{}
	for i, l := range t.p.Legs {
		_, to := t.p.Ends(i)
		rows = append(rows, []string{strconv.Itoa(i + 1), to, t.far(l.Trip(t.p.Bike)), t.reach(l.SafeTo),
			t.reach(l.TurnBackBy), t.reach(l.DryAtHigh) + "–" + t.reach(l.DryAt), l.Mixture.String(), t.paint(string(l.Mixture.Verdict))})
	}
	t.table([]column{{"#", true, 0}, {"to", false, nameWidth}, {"pump at", true, 0}, {"reserve whole to", true, 0}, {"turn back by", true, 0},
		{"dry at", true, 0}, {"in the tank", false, 0}, {"grade", false, 0}}, rows)
}
