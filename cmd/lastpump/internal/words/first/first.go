// Package first has the words of the first screen: what to buy, what to do at each pump, and
// what is not sure, in as few lines as a rider reads the evening before. Start with [Of].
package first

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// A Voice says what stands on the first screen.
type Voice struct{ words.Voice }

// Of gives the voice for a plan.
func Of(v words.Voice) Voice { return Voice{v} }

// Ride names the ride in a line: how long it is, its legs and the bike.
func (v Voice) Ride() string {
	p := v.Plan
	name := p.Name
	if name == "" {
		name = "The ride"
	}
	bike := p.Bike.Name
	if p.Group != nil {
		bike = fmt.Sprintf("%d bikes", len(p.Group.Bikes))
	} else if bike == "" {
		bike = "a bike"
	}
	legs := fmt.Sprintf("%d legs", len(p.Legs))
	if len(p.Legs) == 1 {
		legs = "1 leg"
	}
	return fmt.Sprintf("%s: %s %s, %s, %s.", name, v.Units.Distance(p.Loop.Ridden), v.ToRide(), legs, bike)
}

// Verdict says whether the fuel is enough, what it is without cans, and what one size smaller
// would do.
func (v Voice) Verdict() []string {
	a := v.Answer()
	out := []string{a[0], a[1]}
	if s := v.smaller(); s != "" {
		out[1] += " " + s
	}
	if v.Plan.Here != nil {
		out = append(out, v.FromHere())
	}
	return out
}

// smaller says what the next smaller cans would not hold.
func (v Voice) smaller() string {
	rows := v.Plan.Cans.Rows
	for i, r := range rows {
		if !r.Planned || i < 2 || !v.Plan.Cans.Auto || v.Plan.Group != nil || r.NotOK+r.Stranded+r.Bare > 0 {
			continue
		}
		less := rows[i-1]
		var fails []string
		if less.NotOK > 0 {
			fails = append(fails, counted(less.NotOK, "leg that is not OK", "legs that are not OK"))
		}
		switch {
		case less.Stranded > 0:
			fails = append(fails, counted(less.Stranded, "pump that would strand you if dry", "pumps that would strand you if dry"))
		case less.Bare > 0:
			fails = append(fails, counted(less.Bare, "pump that would strand a thirsty bike if dry",
				"pumps that would strand a thirsty bike if dry"))
		}
		if len(fails) > 0 {
			return fmt.Sprintf("One size smaller, %s, leaves %s.", v.Cans(less.Cans), strings.Join(fails, " and "))
		}
	}
	return ""
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Buy lists what to buy and carry: cans, litres by grade, cash.
func (v Voice) Buy() []string {
	cans := "Cans: " + v.Cans(v.Plan.Cans.Carried)
	if v.Plan.Bike.Can > 0 {
		for _, r := range v.Plan.Cans.Rows {
			if r.Planned {
				cans += fmt.Sprintf(" (the petrol in them weighs %s)", v.Units.Weight(r.Weight, 1))
			}
		}
	}
	out := []string{cans + ".", "Petrol: " + strings.TrimPrefix(v.Totals(), "fills ")}
	var cash []string
	for _, c := range v.Plan.Totals.Cash {
		cash = append(cash, fmt.Sprintf("up to %.0f %s where only cash is taken, up to %.0f of it before a place that takes cards",
			math.Ceil(c.Amount), c.Currency, math.Ceil(c.InARow)))
	}
	if names := v.unpriced(); len(cash) > 0 && len(names) > 0 {
		cash = append(cash, "and what is filled at "+few(names)+", of which the price is not known")
	}
	if len(v.Plan.Totals.CardOnly) > 0 {
		var names []string
		for _, k := range v.Plan.Totals.CardOnly {
			if name := v.Name(v.Plan.Visits[k].Stop.Name); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		cash = append(cash, "card only at "+strings.Join(names, ", "))
	}
	if len(cash) == 0 && v.Timed() { // its column may have no room
		if names := v.cashOnly(); len(names) > 0 {
			cash = append(cash, "cash only at "+few(names))
		}
	}
	if len(cash) > 0 {
		out = append(out, "Pay: "+strings.Join(cash, "; ")+".")
	}
	return out
}

// cashOnly names the stops where only cash is taken, each once.
func (v Voice) cashOnly() (names []string) {
	for _, at := range v.Plan.Visits {
		name := v.Name(at.Stop.Name)
		if at.Fill != nil && at.Stop.TakesCash() && !at.Stop.TakesCard() && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// unpriced names the stops where only cash is taken of which the price is not known, each once.
func (v Voice) unpriced() (names []string) {
	for _, at := range v.Plan.Visits {
		name := v.Name(at.Stop.Name)
		if at.Fill == nil || !at.Stop.TakesCash() || at.Stop.TakesCard() || slices.Contains(names, name) {
			continue
		}
		if _, ok := at.Stop.Price(at.Fill.Grade); !ok {
			names = append(names, name)
		}
	}
	return names
}

// A Do is one line of what to do: a fill, or the end of the ride.
type Do struct {
	Trip string // on the trip meter, zeroed at the fill before
	When string // it is reached, likely; "" without a departure
	// Open is what is to be known of its hours then, from the longest way of writing it to the shortest.
	Open             [3]string
	Stop             string
	Sure             string // how sure the stop is
	Fill, Grade, Can string // Can is what is in it on leaving, with a + where it is filled here
	Tank             string // what it is then worth, where that is below the need or not sure
	Pay              string
	Pour, Turn       string // on the way to it: where to pour the can, by where to turn back
	IfDry            string
}

// Words of the list of what to do that stand for a figure.
const (
	full = "full" // of a fill: the tank is full
	none = "none" // of where to turn back: nowhere with the reserve untouched
)

// Do lists what to do, from the start to the end.
func (v Voice) Do() []Do {
	p := v.Plan
	start := Do{Trip: "0", Stop: v.RideStart(), Fill: full, Grade: p.Start.Grade.String()}
	if k := p.Legs[0].FromVisit; k >= 0 {
		start = v.at(k)
		start.Trip = "0"
		if p.Visits[k].Fill.High <= 0 {
			start.Fill = full
		}
	} else if !p.SetsOutFull(0) {
		start.Fill = v.Units.VolumeDown(p.Start.Fuel)
	}
	if len(p.Days) > 0 {
		if start.When = when.Hour(p.Days[0].Leave); !p.Start.OnTheWay && p.SetsOutFull(0) { // else it is filled at now
			start.Open = [3]string{}
		}
	}
	start.Can = v.canOn(0, p.Cues[0].Can)
	out := []Do{start}
	for i, l := range p.Legs {
		d := Do{Stop: v.Called(l.To)}
		if l.ToVisit >= 0 {
			d = v.at(l.ToVisit)
		}
		d.Trip = v.Units.Nearest(l.Trip(p.Bike))
		if n := len(p.Days); n > 0 && i == len(p.Legs)-1 {
			if d.Open = [3]string{}; l.ToVisit < 0 {
				d.When = when.Hour(p.Days[n-1].There[clock.Likely])
			}
		}
		d.Pour, d.Turn = v.way(i)
		if l.ToVisit >= 0 {
			d.Can = v.canOn(i+1, p.Visits[l.ToVisit].Fill.Can)
		}
		out = append(out, d)
	}
	return out
}

// at says what to do at a visit.
func (v Voice) at(k int) Do {
	at := v.Plan.Visits[k]
	f := at.Fill
	d := Do{Stop: v.Name(at.Stop.Name), Sure: v.sure(at.Stop), Pay: pay(at.Stop), Grade: "ask",
		Fill: fmt.Sprintf("%s ≤ %s", v.Units.VolumeUp(f.Litres), v.Units.VolumeUp(f.High))}
	if at.Hour != nil {
		d.When, d.Open = when.Hour(at.Hour.There[clock.Likely]), when.Cells(at.Hour)
	}
	if f.HasGrade {
		d.Grade = f.Grade.String()
	}
	if m := at.Mixture; m != nil && m.Verdict != octane.Meets {
		d.Tank = fmt.Sprintf("%.1f", octane.ShownDown(m.Low))
		if m.Verdict != octane.Below {
			d.Tank += "?"
		}
	}
	d.IfDry = v.ifDry(at.IfDry)
	return d
}

// canOn gives what is in the can on leaving for a leg, marked where it is filled before it.
func (v Voice) canOn(leg int, filled fuel.Litres) string {
	if leg == len(v.Plan.Legs) || v.Plan.Legs[leg].Can <= 0 {
		return ""
	}
	s := v.Units.VolumeUp(v.Plan.Legs[leg].Can) // rounded down he would leave with less than the plan counts on
	if filled > 0 {
		s = "+" + s
	}
	return s
}

// sure says in a word how sure a stop is.
func (v Voice) sure(s stop.Stop) string {
	switch {
	case s.Sure(v.Plan.Options.Today), s.Standing.Rank() > stop.Phoned.Rank():
		return string(s.Standing)
	}
	return "old"
}

// pay says in a word how a stop is paid.
func pay(s stop.Stop) string {
	switch cash, card := s.TakesCash(), s.TakesCard(); {
	case cash && card:
		return "any"
	case cash:
		return "cash"
	case card:
		return "card"
	}
	return "?"
}

// way says what to do on the way of a leg: where to pour the can, and by where to turn back at
// the latest, where that is not from any point.
func (v Voice) way(i int) (pour, turn string) {
	l := v.Plan.Legs[i]
	for _, c := range v.Plan.Cues {
		if c.Kind == cue.Pour && c.Leg == i {
			pour = fmt.Sprintf("%.0f", trail.Of(v.Voice).PourTrip(c))
		}
	}
	switch {
	case l.TurnBackBy <= 0:
		turn = none
	case l.TurnBackBy < l.Trip(v.Plan.Bike):
		turn = v.Units.Whole(l.TurnBackBy)
	}
	return pour, turn
}

// What is said of a pump that strands if it is dry, and of one that strands a thirsty bike: where
// there is no room, [ThirstyShort]. No other way to cut these is safe.
const (
	Strands      = "STRANDS"
	Thirsty      = "thirsty: STRANDS"
	ThirstyShort = "STRANDS?"
)

// Back is said of a pump from which one rides back if it is dry, before the name of the place.
const Back = "back"

// Off is said of a pump from which one rides off by road if it is dry, before the name of the place.
const Off = "off"

// ifDry says what to do if a pump is dry where that is not plainly to ride on.
func (v Voice) ifDry(d *trip.IfDry) string {
	switch {
	case d == nil:
		return ""
	case d.Outcome == leg.Stranded:
		return Strands
	case d.Bare:
		return Thirsty
	case d.Outcome == leg.Off, d.High == leg.Off:
		return Off + " " + v.Name(v.Plan.Stops[v.Plan.Ways.All[d.Off.Way].ToStop].Name)
	case d.Outcome == leg.Back, d.High == leg.Back: // on is out of reach for who is thirsty from here on, which no gauge tells
		return Back + " " + v.Name(words.NameOf(v.Plan, d.Back))
	}
	return ""
}

// Calls says whom to phone first, a line each, the first few, and how many more there are.
func (v Voice) Calls(most int) []string {
	all := v.Voice.Calls()
	if len(all) <= most {
		return all
	}
	return append(all[:most:most], fmt.Sprintf("and %d more, in --full", len(all)-most))
}

// Passes names in a line the pumps that are passed, with what is in the tank there and under how
// much to fill all the same; "" where none is.
func (v Voice) Passes() string {
	var names []string
	for _, s := range v.Plan.Passes {
		so := ""
		if s.Tank < s.FillUnder {
			so = ": so fill"
		}
		names = append(names, fmt.Sprintf("%s (%s left; fill under %s%s)", v.Name(v.Plan.Visits[s.Visit].Stop.Name),
			v.Units.VolumeDown(s.Tank), v.Units.VolumeUp(s.FillUnder), so))
	}
	if len(names) == 0 {
		return ""
	}
	return "Pass, unless you strayed or the last fill took over its most: " + few(names) + "."
}

// Grade says how the petrol fares: how many legs are under the need, on request the worst of them, and what
// would mend it.
func (v Voice) Grade(legs bool) []string {
	p := v.Plan
	out := []string{strings.TrimPrefix(v.Answer()[2], "Grade: ")}
	worst, climbs := -1, -1
	for i, l := range p.Legs {
		if !l.Below() {
			continue
		}
		if worst < 0 || l.Mixture.Low < p.Legs[worst].Mixture.Low {
			worst = i
		}
		if climbs < 0 || l.Drink.Up > p.Legs[climbs].Drink.Up {
			climbs = i
		}
	}
	if worst < 0 {
		return out
	}
	_, to := v.Ends(worst)
	s := fmt.Sprintf("Worst: leg %d to %s", worst+1, to)
	if climbs != worst && p.Legs[climbs].Drink.Up > 0 {
		_, to := v.Ends(climbs)
		s += fmt.Sprintf("; most climb: leg %d to %s, %s on %s", climbs+1, to, v.Units.Height(p.Legs[climbs].Drink.Up),
			words.Mixture(p.Legs[climbs].Mixture))
	}
	mend := "nothing tried mends it"
	for _, w := range p.Warnings {
		if w.Kind == plan.KindBelowGrade && len(w.Cures) > 0 {
			mend = warned.Of(v.Voice).Cure(w, w.Cures[0])
			break
		}
	}
	if legs {
		out = append(out, s+".")
	}
	return append(out, "To mend it: "+strings.TrimSuffix(mend, ".")+".")
}

// NotSure says what the plan does not know, with what that does to the litres, and where there is
// room what mends the hours of pumps.
func (v Voice) NotSure(room bool) []string {
	p := v.Plan
	var ground, stops []string
	if h := p.Loop.NoHeights; h > 0 {
		var unknown fuel.Figures
		for _, l := range p.Legs {
			unknown = unknown.Plus(l.Drink.Unknown)
		}
		ground = append(ground, fmt.Sprintf("heights are missing over %s: %s to %s of it all are for its climb",
			v.Units.Distance(h), v.Units.VolumeDown(unknown.Low), v.Units.Needed(unknown.High)))
	}
	if g := p.Loop.Guessed; g >= 500 { // less is 0 km in writing
		ground = append(ground, fmt.Sprintf("the ground is not known over %s: planned as dirt", v.Units.Distance(g)))
	}
	if s := p.Line.Stretch; s.Coarse {
		ground = append(ground, "the line is drawn too coarsely to trust")
	}
	if len(ground) == 0 {
		ground = []string{"heights and ground are known all the way"}
	}
	out := []string{fmt.Sprintf("The way: %s. In all %s, at most %s.", strings.Join(ground, "; "),
		v.Units.Needed(p.Band.Ride.Likely), v.Units.Needed(p.Band.Ride.High))}
	var onMap, old []string
	seen := map[string]bool{}
	for _, at := range p.Visits {
		s := at.Stop
		if at.Fill == nil || seen[s.Name] || s.Sure(p.Options.Today) {
			continue
		}
		seen[s.Name] = true
		if s.Standing.Rank() > stop.Phoned.Rank() {
			onMap = append(onMap, v.Name(s.Name))
		} else {
			old = append(old, v.Name(s.Name))
		}
	}
	if len(onMap) > 0 {
		stops = append(stops, words.OnMap+": "+few(onMap))
	}
	if len(old) > 0 {
		stops = append(stops, "not confirmed within a year: "+few(old))
	}
	if len(stops) > 0 {
		out = append(out, "Stops: "+strings.Join(stops, "; ")+".")
	}
	if s := v.astray(); s != "" {
		out = append(out, s)
	}
	return append(append(out, v.fills()...), v.Hours(room)...)
}

// astray asks after the stops that lie so far off that their coordinates may be mistyped, the first two
// by name; "" where there is none.
func (v Voice) astray() string {
	const most = 2
	var off []string
	n := 0
	for _, s := range v.Plan.NotUsed {
		if !s.Astray() {
			continue
		}
		if n++; n <= most {
			off = append(off, fmt.Sprintf("%s lies %s off the line", v.Name(s.Stop), v.Units.Distance(s.Off)))
		}
	}
	switch {
	case n == 0:
		return ""
	case n == 1:
		return off[0] + ": are its coordinates right?"
	case n == most:
		return strings.Join(off, ", ") + ": are their coordinates right?"
	}
	return fmt.Sprintf("%s, and %d more over %s: are their coordinates right?", strings.Join(off, ", "), n-most,
		v.Units.Distance(plan.AstrayFrom))
}

// fills says what is odd about the file of fills, the first two things.
func (v Voice) fills() (out []string) {
	if v.Plan.Here == nil {
		return nil
	}
	const most = 2
	n := 0
	for _, r := range v.Plan.Here.Remarks {
		switch r.Kind {
		case fills.OneRowOff, fills.NotZeroed, fills.TakenForMissed, fills.SpanOff, fills.GroundOff, fills.LearntBefore, fills.NotThere:
		default:
			continue
		}
		if n++; n <= most {
			out = append(out, "Fills: "+filled.LogRemark(r)+".")
		}
	}
	if n > most {
		out = append(out, fmt.Sprintf("Fills: %d more remarks, in --full.", n-most))
	}
	return out
}

// few lists names, the first of many.
func few(names []string) string {
	const most = 4
	if len(names) > most {
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
	}
	return strings.Join(names, ", ")
}

// Cautions are what no plan replaces, in two lines.
var Cautions = []string{
	"Estimates, not promises: a pump may be dry, shut or gone. Carry water; tell someone when to worry.",
	"Fill cans on the ground, engine off; carry them closed. Local law and the maker's manual decide.",
}

// Rest says where all else stands.
const Rest = "All of it: --full. A page: --html plan.html. For the tank bag: --strip strip.pdf."
