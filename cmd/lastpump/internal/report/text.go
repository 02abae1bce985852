package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
)

// WriteText writes a plan for a terminal or a sheet of paper, at most 100
// columns wide: the answer first, in three lines.
func WriteText(w io.Writer, p *plan.Plan, style Style) error {
	out := bufio.NewWriter(w)
	t := &texter{w: out, p: p, u: p.Options.Units, style: style}
	for _, section := range []func(){
		t.answer, t.start, t.legs, t.trip, t.fills, t.stops, t.others, t.totals, t.warnings, t.pencil, t.assumptions, t.cautions,
	} {
		section()
	}
	if t.err != nil {
		return t.err
	}
	return out.Flush()
}

type texter struct {
	w     *bufio.Writer
	p     *plan.Plan
	u     fuel.Units
	style Style
	err   error // of a table; the writer keeps its own
}

func (t *texter) printf(format string, args ...any) { fmt.Fprintf(t.w, format, args...) }

func (t *texter) head(s string) { t.w.WriteString("\n" + wrap("", s)) }

func (t *texter) table(columns []column, rows [][]string) {
	if err := table(t.w, columns, rows); err != nil && t.err == nil {
		t.err = err
	}
}

// paint colours a verdict word on a terminal.
func (t *texter) paint(s string) string {
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

func (t *texter) answer() {
	for _, line := range t.p.Answer {
		t.w.WriteString(wrap("", line))
	}
}

// Numbers of a column, without their unit, which stands in its head.
func (t *texter) held(l fuel.Litres) string   { return fuel.Down(t.u.VolumeIn(l)) }
func (t *texter) needed(l fuel.Litres) string { return fuel.Up(t.u.VolumeIn(l)) }
func (t *texter) far(m route.Metres) string   { return fuel.Near(t.u.DistanceIn(m)) }
func (t *texter) reach(m route.Metres) string { return strconv.Itoa(int(t.u.DistanceIn(m) + 1e-9)) }

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
	kind := "there and not back"
	if l.Closed {
		kind = "a closed loop"
	}
	t.w.WriteString("\n" + wrap("", fmt.Sprintf("%s: %s, %d points, %s in the file, %s to ride (stretch %.3f), %s. Bike: %s.",
		name, kind, l.Points(), t.u.Distance(l.Length()), t.u.Distance(p.Loop.Ridden), l.Stretch.Factor, climb, t.bike())))
	s := p.Start
	grade := s.Grade.String()
	if s.Assumed {
		grade += " (assumed)"
	}
	full := "Be full at the start"
	if s.Fuel < p.Bike.Usable() {
		full = "At the start"
	}
	text := fmt.Sprintf("%s: %s usable in the tank, of %s; zero the trip meter.", full, t.u.Held(s.Fuel), grade)
	if s.Nearest != "" {
		text += fmt.Sprintf(" Nearest counted stop: %s, %s.", s.Nearest, t.u.Distance(s.Away))
	}
	t.w.WriteString(wrap("", text))
}

// foot in metres, exactly (NIST SP 811, B.6).
const foot = 0.3048

// climb gives a climb as the number of a column, in metres or feet.
func (t *texter) climb(m route.Metres) string {
	if t.u == fuel.Metric {
		return fmt.Sprintf("%.0f", float64(m))
	}
	return fmt.Sprintf("%.0f", float64(m)/foot)
}

func (t *texter) climbUnit() string {
	if t.u == fuel.Metric {
		return "m"
	}
	return "ft"
}

func (t *texter) height(m route.Metres) string {
	if t.u == fuel.Metric {
		return fmt.Sprintf("%.0f m", float64(m))
	}
	return fmt.Sprintf("%.0f ft", float64(m)/foot)
}

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
	t.head(fmt.Sprintf("LEGS (%s ridden, with detours; %s; climb in %s; each from the stop above it)", d, v, t.climbUnit()))
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
		arrive := t.held(l.Arrive)
		if l.Arrive < 0 {
			arrive = "-" + t.needed(-l.Arrive)
		}
		f := l.Drink.Fuel
		_, to := t.p.Ends(i)
		rows = append(rows, []string{strconv.Itoa(i + 1), to, t.reach(l.ToAt), t.far(l.Drink.Ridden), climb,
			t.needed(f.Likely), t.needed(f.Low) + "–" + t.needed(f.High), tank, arrive, t.needed(l.Kept), t.paint(string(l.Verdict))})
	}
	from, _ := t.p.Ends(0)
	t.printf("   from %s\n", from)
	t.table([]column{{"#", true, 0}, {"to", false, nameWidth}, {"at " + d, true, 0}, {"ridden", true, 0}, {"climb", true, 0},
		{"takes", true, 0}, {"low–high", true, 0}, {"in tank", true, 0}, {"arrives", true, 0}, {"reserve", true, 0}, {"verdict", false, 0}}, rows)
}

func (t *texter) trip() {
	d := t.u.DistanceUnit()
	t.head(fmt.Sprintf("ON THE TRIP METER (%s as the bike shows them; zero it at each fill)", d))
	rows := [][]string{}
	for i, l := range t.p.Legs {
		_, to := t.p.Ends(i)
		rows = append(rows, []string{strconv.Itoa(i + 1), to, t.far(l.Trip(t.p.Bike)), t.reach(l.SafeTo), t.reach(l.TurnBack),
			t.reach(l.DryAt), l.Mixture.String(), t.paint(string(l.Mixture.Verdict))})
	}
	t.table([]column{{"#", true, 0}, {"to", false, nameWidth}, {"stop at", true, 0}, {"reserve whole to", true, 0}, {"turn back by", true, 0},
		{"dry at", true, 0}, {"in the tank", false, 0}, {"grade", false, 0}}, rows)
}

func (t *texter) fills() {
	d, v := t.u.DistanceUnit(), t.u.VolumeUnit()
	columns := []column{{"at " + d, true, 0}, {"stop", false, nameWidth}, {"take", true, 0}, {"low–high", true, 0},
		{"grade", false, 0}, {"into the can", true, 0}, {"mixture after", false, 16}, {"if it is dry", false, 40}}
	var rows [][]string
	cans := false
	for _, v := range t.p.Visits {
		if v.Fill != nil {
			rows = append(rows, t.fill(v))
			cans = cans || v.Fill.Can > 0
		}
	}
	if len(rows) == 0 {
		t.head("FILLS: none")
		return
	}
	if !cans {
		columns, rows = without(columns, rows, canColumn)
	}
	t.head(fmt.Sprintf("FILLS (%s, to the brim: %s usable; more in than the high figure: it drinks more than planned)",
		v, t.held(t.p.Bike.Usable())))
	t.table(columns, rows)
}

// canColumn is the number of the column that a plan without a can has no use
// for.
const canColumn = 5

func without(columns []column, rows [][]string, i int) ([]column, [][]string) {
	for k, r := range rows {
		rows[k] = slices.Delete(r, i, i+1)
	}
	return slices.Delete(columns, i, i+1), rows
}

func (t *texter) fill(v plan.Visit) []string {
	f := v.Fill
	name, grade, can := v.Stop.Name, "not known", ""
	if v.LastFuel {
		name += " (last sure fuel)"
	}
	if f.HasGrade {
		grade = f.Grade.String()
	}
	if f.Can > 0 {
		can = t.needed(f.Can)
	}
	take, spread := t.needed(f.Litres), t.needed(f.Low)+"–"+t.needed(f.High)
	if f.High <= 0 {
		take, spread = "full", ""
		if f.Can <= 0 {
			grade = ""
		}
	}
	return []string{t.reach(v.At), name, take, spread, grade, can, v.Mixture.String(), t.ifDry(v.IfDry)}
}

func (t *texter) ifDry(d *plan.IfDry) string {
	if d == nil {
		return "-"
	}
	if d.Outcome == plan.Stranded {
		return fmt.Sprintf("%s, %s short of %s", t.paint(string(d.Outcome)), t.needed(-d.Spare), t.p.NameOf(d.To))
	}
	s := fmt.Sprintf("%s to %s, %s spare", t.paint(string(d.Outcome)), t.p.NameOf(d.To), t.held(d.Spare))
	if d.Bare {
		s += ", not at the high figure"
	}
	return s
}

func (t *texter) stops() {
	rows := [][]string{}
	seen := map[string]bool{}
	for _, v := range t.p.Visits {
		if v.Fill == nil || seen[v.Stop.Name] {
			continue
		}
		seen[v.Stop.Name] = true
		s := v.Stop
		sure := string(s.Standing)
		if s.HasConfirmed {
			sure += ", " + age(s.Confirmed, t.p.Options.Today)
		}
		note := s.Note
		if len(v.Also) > 0 {
			note = strings.TrimPrefix(note+"; also here: "+strings.Join(v.Also, ", "), "; ")
		}
		rows = append(rows, []string{s.Name, sure, orNot(spaced(s.Hours)), orNot(s.Pay), orNot(s.Phone), note})
	}
	if len(rows) == 0 {
		return
	}
	t.head("THE STOPS (? is not known: ask, or phone ahead)")
	t.table([]column{{"stop", false, nameWidth}, {"how sure", false, 16}, {"hours", false, 24}, {"pay", false, 12}, {"phone", false, 20}, {"note", false, 40}}, rows)
}

// spaced gives opening hours room to wrap.
func spaced(hours string) string {
	return strings.ReplaceAll(strings.ReplaceAll(hours, ", ", ","), ",", ", ")
}

// age says how long ago a day was, as a rider would.
func age(day, today time.Time) string {
	months := int(today.Sub(day).Hours() / 24 / 30.44)
	switch {
	case months < 1:
		return "under a month ago"
	case months == 1:
		return "1 month ago"
	case months < 24:
		return fmt.Sprintf("%d months ago", months)
	}
	return fmt.Sprintf("%d years ago", months/12)
}

func orNot(s string) string {
	if s == "" {
		return "?"
	}
	return s
}

// others lists the stops that are not counted and those that are not passed.
func (t *texter) others() {
	var lines []string
	for _, v := range t.p.Visits {
		if v.Counted {
			continue
		}
		lines = append(lines, fmt.Sprintf("%s at %s %s: %s", v.Stop.Name, t.u.DistanceUnit(), t.reach(v.At), v.WhyNot))
	}
	for i, n := range t.p.NotUsed {
		if i == 10 {
			lines = append(lines, fmt.Sprintf("and %d more off the line", len(t.p.NotUsed)-i))
			break
		}
		lines = append(lines, fmt.Sprintf("%s: %s off the line", n.Stop, t.u.Distance(n.Off)))
	}
	if len(lines) > 0 {
		t.head("NOT COUNTED")
		for _, l := range lines {
			t.w.WriteString(wrap("  ", l))
		}
	}
}

func (t *texter) totals() {
	p := t.p
	var parts []string
	for _, g := range p.Totals.Grades {
		parts = append(parts, fmt.Sprintf("%s of %s", t.u.Needed(g.Litres), g.Grade))
	}
	if len(parts) == 0 {
		parts = []string{"nothing to buy on the way"}
	}
	text := "fills " + strings.Join(parts, ", ") + "."
	for _, m := range p.Totals.Money {
		text += fmt.Sprintf(" About %.0f %s", m.Amount, m.Currency)
		if p.Totals.Unpriced > 0 {
			text += fmt.Sprintf(", without %s of which the price is not known", t.u.Needed(p.Totals.Unpriced))
		}
		text += "."
	}
	t.head("TOTALS")
	t.w.WriteString(wrap("  ", text))
	for _, use := range p.Can.Uses {
		_, to := p.Ends(use.Leg)
		why := "for the margin"
		switch {
		case use.Why == "dry":
			why = fmt.Sprintf("in case %s is dry", to)
		case use.IfDry > use.Litres:
			why += fmt.Sprintf(", %s in case %s is dry", t.u.Needed(use.IfDry), to)
		}
		t.w.WriteString(wrap("  ", fmt.Sprintf("can: %s or more %s: fill it at %s, pour at trip %s %s (leg %d)",
			t.u.Needed(use.Litres), why, p.NameOf(use.FillAt), t.reach(use.PourAt), t.u.DistanceUnit(), use.Leg+1)))
	}
	if c := p.Can.SizeForPlan.Litres; c > 0 {
		t.w.WriteString(wrap("  ", fmt.Sprintf("a full %s can weighs %.1f kg more than an empty one", t.u.Can(c), float64(p.Totals.CanWeight))))
	}
	if c := p.Can.SizeForDry.Litres; c > p.Can.SizeForPlan.Litres {
		t.w.WriteString(wrap("  ", fmt.Sprintf("a full %s can, enough for any one dry pump, %.1f kg", t.u.Can(c), float64(p.Totals.DryWeight))))
	}
}

func (t *texter) warnings() {
	if len(t.p.Warnings) == 0 {
		return
	}
	t.head("WARNINGS, worst first (a cure was put into the plan and planned again: → the new verdict)")
	for i, w := range t.p.Warnings {
		lead := fmt.Sprintf("%3d ", i+1)
		t.w.WriteString(wrap(lead, string(w.Kind)+": "+w.Text))
		for _, c := range w.Cures {
			text := c.Text
			if c.HasDetour {
				text += fmt.Sprintf(" (%s there and back)", t.u.Distance(c.Detour))
			}
			t.w.WriteString(wrap("      cure: ", text+" → "+c.Verdict))
		}
		if w.NoCure != "" {
			t.w.WriteString(wrap("      ", w.NoCure))
		}
	}
}

// pencil shows the sums of each leg, so that a rider can do them again.
func (t *texter) pencil() {
	b, o := t.p.Bike, t.p.Options
	d, v := t.u.DistanceUnit(), t.u.VolumeUnit()
	hundred := route.Metres(100 / t.u.DistanceIn(1)) // km or miles
	rate := func(c fuel.Consumption) float64 { return t.u.VolumeIn(c.Over(hundred)) }
	t.head(fmt.Sprintf("THE SUMS (likely; by hand: %s ÷ 100 × rate × weight of the ground, and the climb on top)", d))
	t.w.WriteString(wrap("  ", fmt.Sprintf("rate %.3f %s/100 %s = %.3f × odometer %.4g × ethanol %.4f × thirst %.4g",
		rate(b.Rate())*b.EthanolFactor()*o.Thirst, v, d, rate(b.Consumption), float64(b.Rate()/b.Consumption), b.EthanolFactor(), o.Thirst)))
	for i, l := range t.p.Legs {
		var parts []string
		for _, g := range l.Drink.Grounds {
			parts = append(parts, fmt.Sprintf("%s %.1f %s × %.2f = %.2f", g.Ground, t.u.DistanceIn(g.Ridden), d,
				b.Weight(g.Ground).Likely, t.u.VolumeIn(g.Likely)))
		}
		parts = append(parts, t.climbSum(l), fmt.Sprintf("together %.2f %s", t.u.VolumeIn(l.Drink.Fuel.Likely), v))
		sum := strings.Join(parts, "; ")
		if l.Detour > 0 {
			sum += fmt.Sprintf(" (%.2f of it for the detour)", t.u.VolumeIn(l.Detour))
		}
		t.w.WriteString(wrap(fmt.Sprintf("%3d ", i+1), sum))
	}
}

func (t *texter) climbSum(l plan.Leg) string {
	d := l.Drink
	switch {
	case d.NoHeights > 0 && d.Up <= 0:
		return "climb not known"
	case d.NoHeights > 0:
		return fmt.Sprintf("climb, as far as known, %s = %.2f", t.height(d.Up), t.u.VolumeIn(d.Climb))
	}
	return fmt.Sprintf("climb %s = %.2f", t.height(d.Up), t.u.VolumeIn(d.Climb))
}

func (t *texter) assumptions() {
	t.head("ASSUMPTIONS")
	for _, a := range t.p.Assumptions {
		t.w.WriteString(wrap("  ", fmt.Sprintf("%s: %s [%s]", a.Name, a.Value, a.Mark)))
	}
}

// cautions are what no plan replaces.
var cautions = []string{
	"These are estimates, not promises: they hold within your margin on these figures. Ask on the way; a pump that was there may be dry, shut or gone.",
	"Carry water, and leave the plan with someone who knows when to worry.",
	"Fill a can on the ground, away from the bike, engine off, to its mark and no further; carry it upright and closed. The law on carrying fuel varies: local law and ferries decide.",
	"The maker's manual decides on the grade; altitude gives no credit. On low grade ride gently, without lugging: climbs are where it knocks.",
}

func (t *texter) cautions() {
	t.head("BEFORE YOU GO")
	for _, c := range cautions {
		t.w.WriteString(wrap("  - ", c))
	}
}
