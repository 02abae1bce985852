package plan

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// warnings lists what fails and what is doubtful, in rank order and then along
// the line.
func warnings(d *draft) {
	w := &warner{draft: d, u: d.in.Options.Units, told: map[spot]bool{}}
	for i := range d.plan.Legs {
		w.leg(i)
	}
	for i := range d.plan.Visits {
		w.visit(i)
	}
	w.line()
	w.unknowns()
	w.notes()
	slices.SortStableFunc(w.out, func(a, b Warning) int {
		return slices.Index(Kinds, a.Kind) - slices.Index(Kinds, b.Kind)
	})
	d.plan.Warnings = w.out
}

type warner struct {
	*draft
	u    fuel.Units
	told map[spot]bool // of which stops it has been said how sure they are
	out  []Warning
}

// A spot tells one stop from another of the same name.
type spot struct {
	name string
	at   orb.Point
}

func (w *warner) add(k Kind, leg, visit int, format string, args ...any) {
	w.out = append(w.out, Warning{Kind: k, Leg: leg, Visit: visit, Text: fmt.Sprintf(format, args...)})
}

// legName names a leg as the tables number it.
func legName(p *Plan, i int) string {
	from, to := p.Ends(i)
	return fmt.Sprintf("leg %d, %s to %s", i+1, from, to)
}

func (w *warner) leg(i int) {
	l := w.plan.Legs[i]
	with := l.Start + l.Can
	switch l.Verdict {
	case Short:
		w.add(KindShort, i, -1, "%s: takes %s, there are %s: %s short, the last %s of %s",
			legName(w.plan, i), w.u.Needed(l.Drink.Fuel.Likely), w.u.Held(with), w.u.Needed(l.Short),
			w.u.Distance(w.far(l.Short, l)), w.u.Distance(l.Drink.Ridden))
	case Tight:
		w.add(KindTight, i, -1, "%s: %s", legName(w.plan, i), w.tightness(l))
	}
	switch m := l.Mixture; m.Verdict {
	case octane.Below:
		w.add(KindBelowGrade, i, -1, "%s: ridden on %s, the engine needs %s%s",
			legName(w.plan, i), m, w.bike.Needs, w.climbing(l))
	case octane.Doubtful:
		w.add(KindGradeNotKnown, i, -1, "%s: ridden on %s, which may be under the %s needed",
			legName(w.plan, i), m, w.bike.Needs)
	case octane.NotKnown:
		w.add(KindGradeNotKnown, i, -1, "%s: ridden on %s, with petrol of no known grade in it; the engine needs %s",
			legName(w.plan, i), m, w.bike.Needs)
	}
}

// far gives how far litres take on a leg.
func (w *warner) far(l fuel.Litres, leg Leg) route.Metres { return rate(leg.Drink).Reach(l) }

func (w *warner) tightness(l Leg) string {
	if l.Arrive < l.Kept {
		s := fmt.Sprintf("arrives with %s, the reserve is %s", w.u.Held(l.Arrive), w.u.Needed(l.Kept))
		if l.Drink.Fuel.High > l.Start+l.Can {
			s += fmt.Sprintf("; at the high figure it is dry %s before", w.u.Distance(w.far(l.Drink.Fuel.High-l.Start-l.Can, l)))
		}
		return s
	}
	return fmt.Sprintf("keeps its reserve, but at the high figure it takes %s and there are %s",
		w.u.Needed(l.Drink.Fuel.High), w.u.Held(l.Start+l.Can))
}

func (w *warner) climbing(l Leg) string {
	if l.Drink.NoHeights > 0 || l.Drink.Up <= 0 {
		return ""
	}
	return fmt.Sprintf("; it climbs %s while under it", w.u.Height(l.Drink.Up))
}

// String gives a mixture as a rider reads it, rounded down: "91.5 RON" or "91.5
// to 92.0 RON".
func (m Mixture) String() string {
	low, high := octane.ShownDown(m.Low), octane.ShownDown(m.High)
	if low == high {
		return fmt.Sprintf("%.1f %s", low, m.Scale)
	}
	return fmt.Sprintf("%.1f to %.1f %s", low, high, m.Scale)
}

func (w *warner) visit(i int) {
	v := w.plan.Visits[i]
	if !v.Counted {
		return
	}
	if dry := v.IfDry; dry != nil && dry.Outcome == Stranded {
		w.add(KindStranded, -1, i, "if %s is dry you are stranded: %s short of %s, and more the other way",
			w.called(i), w.u.Needed(-dry.Spare), w.plan.NameOf(dry.To))
	}
	if dry := v.IfDry; dry != nil && dry.Outcome == Back && dry.To == "start" && w.plan.Legs[0].FromVisit < 0 {
		w.add(KindNote, -1, i, "if %s is dry you get back to %s, where no pump is counted", w.called(i), w.plan.NameOf(dry.To))
	}
	if dry := v.IfDry; dry != nil && dry.Bare {
		w.add(KindNote, -1, i, "if %s is dry, %s (%s) is within reach on the likely figures, not on the high ones",
			w.called(i), w.plan.NameOf(dry.To), dry.Outcome)
	}
	if v.LastFuel {
		w.add(KindLastFuel, -1, i, "%s is the last sure fuel: %s", w.called(i), w.doubt(i))
	}
	if v.Fill != nil && !v.Fill.HasGrade {
		w.add(KindGradeNotKnown, -1, i, "%s: the grade is not known; counted as 80 RON to %s", v.Stop.Name, w.bike.Needs)
	}
	w.stale(i)
}

// called names a visit, with its place along the line where the stop is passed
// more than once.
func (w *warner) called(visit int) string {
	name, passed := w.plan.Visits[visit].Stop.Name, 0
	for _, v := range w.plan.Visits {
		if v.Stop.Name == name {
			passed++
		}
	}
	if passed < 2 {
		return name
	}
	return fmt.Sprintf("%s (%s %.0f)", name, w.u.DistanceUnit(), w.u.DistanceIn(w.plan.Visits[visit].At))
}

// doubt says what makes a stop the last sure fuel.
func (w *warner) doubt(visit int) string {
	k := slices.IndexFunc(w.nodes, func(n node) bool { return n.visit == visit })
	leg := w.plan.Legs[k]
	var why []string
	if leg.Verdict != OK {
		_, to := w.plan.Ends(k)
		why = append(why, fmt.Sprintf("the leg to %s is %s", to, leg.Verdict))
	}
	if next := w.nodes[k+1].visit; k+1 < len(w.nodes)-1 {
		v := w.plan.Visits[next]
		if v.IfDry != nil && v.IfDry.Outcome == Back {
			why = append(why, fmt.Sprintf("if %s is dry you have to ride back to %s", w.called(next), w.plan.NameOf(v.IfDry.To)))
		}
		if v.IfDry != nil && v.IfDry.Outcome == Stranded {
			why = append(why, fmt.Sprintf("if %s is dry you are stranded", w.called(next)))
		}
		if !sure(v.Stop) {
			why = append(why, fmt.Sprintf("%s is only from a map", v.Stop.Name))
		}
	}
	return strings.Join(why, "; ")
}

// sure tells whether somebody has seen a stop or spoken to it.
func sure(s stop.Stop) bool { return s.Standing.Rank() <= stop.Phoned.Rank() }

// stale warns once of each stop that nobody has confirmed within a year.
func (w *warner) stale(i int) {
	s := w.plan.Visits[i].Stop
	once := spot{s.Name, s.At}
	if w.told[once] {
		return
	}
	w.told[once] = true
	if h := strings.ToLower(s.Hours); h == "off" || h == "closed" {
		w.add(KindStale, -1, i, "%s: its hours say that it is closed", s.Name)
	}
	if s.HasConfirmed && s.Confirmed.After(w.in.Options.Today) {
		w.add(KindStale, -1, i, "%s is said to be confirmed %s, after the day you leave: is the date right?",
			s.Name, s.Confirmed.Format(time.DateOnly))
	}
	year, month, day := w.in.Options.Today.Date()
	old := s.HasConfirmed && s.Confirmed.Before(time.Date(year-1, month, day, 0, 0, 0, 0, time.UTC))
	switch {
	case s.Standing == stop.Map && s.HasConfirmed:
		w.add(KindStale, -1, i, "%s is only from a map, last confirmed %s", s.Name, s.Confirmed.Format(time.DateOnly))
	case s.Standing == stop.Map:
		w.add(KindStale, -1, i, "%s is only from a map", s.Name)
	case old:
		w.add(KindStale, -1, i, "%s was last confirmed %s, over a year ago", s.Name, s.Confirmed.Format(time.DateOnly))
	}
}

// line warns of what is wrong with the line itself.
func (w *warner) line() {
	line := w.in.Line
	if line.Stretch.Coarse {
		w.add(KindCoarseLine, -1, -1, "the line is drawn too coarsely to trust: the ride is taken as %.2f times as long, at the most %.2f times",
			line.Stretch.Factor, line.Stretch.High)
	}
	w.parts()
	for _, g := range line.Gaps {
		if g.At+g.Straight <= w.plan.Options.From {
			continue // behind the rider
		}
		if g.Ridden {
			w.add(KindGap, -1, -1, "a gap of %s at %s %.1f: counted as ridden, 1.3 times as far as straight across",
				w.u.Distance(g.Straight), w.u.DistanceUnit(), w.u.DistanceIn(g.At))
		} else {
			w.add(KindGap, -1, -1, "a gap of %s at %s %.1f: not ridden and costs no fuel (a ferry: ask whether it takes a filled can)",
				w.u.Distance(g.Straight), w.u.DistanceUnit(), w.u.DistanceIn(g.At))
		}
	}
	if c := w.in.Cut; c.Where != "" {
		w.add(KindGap, -1, -1, "%s: only the %s of line before that are kept of the file", c.Where, w.u.Distance(c.Kept))
	}
	for _, s := range line.Strays {
		in := ""
		if s.Track != "" {
			in = fmt.Sprintf(" of %q", s.Track)
		}
		w.add(KindNote, -1, -1, "%s%s left out: stray, %s away from the rest", count(s.Points, "point"), in, w.u.Distance(s.Away))
	}
}

// parts warns of parts that seem to be in a wrong order, to double others, and of
// what the recorder drew while it stood.
func (w *warner) parts() {
	line := w.in.Line
	if r := line.Reorder; r != nil && !r.Taken && w.in.Cut.Where == "" { // a cut is a gap, too
		w.add(KindGap, -1, -1, "the parts may be out of order: as in the file they lie %s apart in all, in the order %s only %s; to ride them so: --order nearest",
			w.u.Distance(r.FileGaps), orderOf(line, r), w.u.Distance(r.Gaps))
	}
	for _, d := range line.Doubles {
		how := fmt.Sprintf("begins and ends beside %s", partName(line, d.Of))
		if 2*d.Shared >= d.Length {
			how = fmt.Sprintf("runs beside %s for %s of its %s", partName(line, d.Of), w.u.Distance(d.Shared), w.u.Distance(d.Length))
		}
		w.add(KindGap, -1, -1, "%s %s: if it is another way for the same stretch, leave it out with --skip-part %d", partName(line, d.Part), how, d.Part)
	}
	for _, h := range line.Suspects {
		w.add(KindNote, -1, -1, "%s of line at %s %.1f may be drawn by a recorder that stood: %d points within 40 m over %.0f minutes; they are planned as ridden",
			w.u.Distance(h.Taken), w.u.DistanceUnit(), w.u.DistanceIn(h.At), h.Points, h.For.Minutes())
	}
	if taken := haltsTaken(line.Halts); taken >= fewMetres {
		w.add(KindNote, -1, -1, "%s of line taken out, which the recorder drew at %s (points within 15 m for over 5 minutes)",
			w.u.Distance(taken), count(len(line.Halts), "halt"))
	}
}

// fewMetres are not worth a word.
const fewMetres route.Metres = 50

func haltsTaken(halts []route.Halt) (taken route.Metres) {
	for _, h := range halts {
		taken += h.Taken
	}
	return taken
}

// orderOf lists the parts of an order by number and name, the first of very many:
// 3 "Day 1", 1 "Day 2" backwards.
func orderOf(line *route.Line, r *route.Reorder) string {
	const most = 20
	var list []string
	for i, p := range r.Parts {
		if i == most {
			list = append(list, "…")
			break
		}
		s := strings.TrimPrefix(partName(line, p.Number), "part ")
		if p.Backwards {
			s += " backwards"
		}
		list = append(list, s)
	}
	return strings.Join(list, ", ")
}

// partName names a part by its number and, if it has one, its name.
func partName(line *route.Line, number int) string {
	for _, p := range slices.Concat(line.Parts, line.LeftOut) {
		if p.Number == number && p.Name != "" {
			return fmt.Sprintf("part %d %q", number, p.Name)
		}
	}
	return fmt.Sprintf("part %d", number)
}

// steepest is how many metres of climb a kilometre no ride has on the whole: our
// estimate. It would go up at 15 % all the way.
const steepest = 150

// farApart is by how much two lengths differ that are not measured on one line.
const farApart route.Metres = 5000

// noGround is how much unknown ground is too little to speak of: sections of
// ground end where another program measured the line to end.
const noGround route.Metres = 100

// unknowns warns of what is not known of ground and climb, and says what that
// does to the litres.
func (w *warner) unknowns() {
	l := w.plan.Loop
	if g, given := w.in.Grounds, w.in.Line.FileLength(route.AsGiven); len(g.Sections) > 0 && g.Measure == route.AsGiven &&
		given-w.in.Line.Length() > farApart && given-g.End > farApart {
		w.add(KindUnknownGround, -1, -1, "the list of ground ends at %[1]s %.1[2]f, the file as given at %[1]s %.1[3]f with the ways between its parts: the list is read by the file as given; is it of another order of the parts?",
			w.u.DistanceUnit(), w.u.DistanceIn(g.End), w.u.DistanceIn(given))
	}
	if w.in.Grounds.Measure == route.Ordered {
		w.add(KindNote, -1, -1, "the list of ground ends with the line without the parts left out, at %s %.1f: it is read by the kilometres of that line",
			w.u.DistanceUnit(), w.u.DistanceIn(w.in.Grounds.End))
	}
	if l.Guessed > noGround {
		w.add(KindUnknownGround, -1, -1, "the ground is not known over %s: planned as dirt", w.u.Distance(l.Guessed))
	}
	if known := w.in.Line.Length() - w.plan.Options.From - l.NoHeights; known > 0 && float64(l.Ascent)/known.Kilometres() > steepest {
		w.add(KindUnknownClimb, -1, -1, "the heights climb %.0f m a kilometre: they cannot be right; take them from elsewhere (--relief DIR --heights relief)",
			float64(l.Ascent)/known.Kilometres())
	}
	if l.NoHeights > 0 {
		var added fuel.Litres
		for _, leg := range w.plan.Legs {
			added += leg.Drink.UnknownHi
		}
		w.add(KindUnknownClimb, -1, -1, "the climb is not known over %s: it is not in the likely litres; the high ones have %s more for it",
			w.u.Distance(l.NoHeights), w.u.Needed(added))
	}
}

func (w *warner) notes() {
	if c := w.plan.Can; c.SizeForPlan.TooBig || c.SizeForDry.TooBig {
		need := c.ForAnyDryPump
		if c.SizeForPlan.TooBig {
			need = c.ForPlan
		}
		w.add(KindNote, -1, -1, "%s of spare fuel would be needed: no can sold is that big, plan another stop", w.u.Needed(need))
	}
	if len(w.in.Stops) == 0 {
		w.add(KindNote, -1, -1, "no fuel stops are given: the whole ride is one leg")
	}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
