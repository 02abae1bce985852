package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/plan/whatif"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// LineAs says which line kilometres are along.
func (v Voice) LineAs() string {
	if v.Arranged() != "" {
		return " as it is ridden"
	}
	return " in the file"
}

// Ride says in a paragraph what is ridden, and on which bike.
func (v Voice) Ride() string {
	p, l := v.Plan, v.Plan.Line
	name := p.Name
	if name == "" {
		name = "The loop"
	}
	climb := "climb not known"
	if p.Loop.HasAscent {
		climb = v.Units.Height(p.Loop.Ascent) + " of climb"
	} else if p.Loop.Ascent > 0 {
		climb = v.Units.Height(p.Loop.Ascent) + " of climb known, the rest is not"
	}
	return fmt.Sprintf("%s: %s, %d points, %s%s, %s %s (stretch %.3f), %s. Bike: %s.", name, Kind(l.Closed), l.Points(),
		v.Units.Distance(l.Length()), v.LineAs(), v.Units.Distance(p.Loop.Ridden), v.ToRide(), l.Stretch.Factor, climb,
		v.bike())
}

// Kind says whether a ride comes back to where it begins.
func Kind(closed bool) string {
	if closed {
		return "a closed loop"
	}
	return "one way"
}

// ToRide says of a distance that it is to be ridden.
func (v Voice) ToRide() string {
	if v.Plan.Here.OnTheWay() {
		return "still to ride"
	}
	return "to ride"
}

// RiddenOtherwise says how a line is ridden otherwise than in the file; "" if it is not.
func (v Voice) RiddenOtherwise() string {
	if how := v.Arranged(); how != "" {
		return "Ridden otherwise than in the file: " + how + "."
	}
	return ""
}

func (v Voice) bike() string {
	u, b := v.Units, v.Plan.Bike
	name := b.Name
	if name == "" {
		name = "as given"
	}
	s := name + ", " + Bike(b, u)
	if b.Can > 0 {
		s += ", carries " + v.Cans(v.Plan.Cans.Carried)
	}
	return s
}

// Bike says of a bike what a plan takes of it first.
func Bike(b fuel.Bike, u units.System) string {
	rate := u.Rate(b.Consumption)
	if b.Learnt != nil {
		rate = fmt.Sprintf("%s, as learnt (the file says %s)", u.Rate(b.Consumption*fuel.Consumption(fuel.Exp(b.Known().X[0]))), rate)
	}
	return fmt.Sprintf("%s usable of %s, %s on paved road, needs %s", u.Held(b.Usable()), u.Held(b.Tank), rate, b.Needs)
}

// Start says in a paragraph what is in the tank where the ride, or the rest of it, begins.
func (v Voice) Start() string {
	s := v.Plan.Start
	grade := s.Grade.String()
	switch {
	case s.Mixture != nil:
		grade = Mixture(*s.Mixture) + " (as the whole plan has it)"
	case s.Assumed:
		grade += " (assumed)"
	}
	text := fmt.Sprintf("%s: %s usable in the tank, of %s; zero the trip meter.", v.whereabouts(), v.Units.Held(s.Fuel),
		grade)
	if s.Nearest != "" {
		text += fmt.Sprintf(" Nearest counted stop: %s, %s.", s.Nearest, v.Units.Distance(s.Away))
	}
	return text
}

// whereabouts names where the ride, or the rest of it, begins.
func (v Voice) whereabouts() string {
	h := v.Plan.Here
	switch {
	case h == nil && v.Plan.Start.Fuel < v.Plan.Bike.Usable():
		return "At the start"
	case h == nil:
		return "Start with a full tank"
	case h.Stop < 0:
		return "Here, " + v.Km(h.At)
	}
	return "Here, " + v.Km(h.At) + ", on arriving at " + v.Plan.Stops[h.Stop].Name
}

// Chosen says what the stops were chosen for.
func (v Voice) Chosen() string {
	c := v.Plan.Choice
	who := ""
	if c.Bike != "" {
		who = ", for " + c.Bike + ", which comes the least far"
	}
	s := fmt.Sprintf("Stops chosen, %d of %d passes%s. What for: %s.", c.Taken, c.Candidates, who, Objective)
	if gap := c.Worth.Octane - c.Bound.Octane; c.Worth.Compare(c.Bound) > 0 {
		s += " That these are the best is not proven"
		if c.Worth.BeforeCans() == c.Bound.BeforeCans() && gap > 0 {
			s += fmt.Sprintf(": at most %.0f litres times octane might be saved", float64(gap)/1e6)
		}
		s += "."
	}
	return s
}

// NotCounted lists the stops that are not counted and those that are not passed, the
// first few of many.
func (v Voice) NotCounted() (lines []string) {
	const most = 10
	for i, at := range v.Plan.Visits {
		if !at.Counted {
			lines = append(lines, fmt.Sprintf("%s at %s: %s", at.Stop.Name, v.Km(at.At), v.whyNot(i)))
		}
	}
	for i, n := range v.Plan.NotUsed {
		if i == most {
			return append(lines, fmt.Sprintf("and %d more off the line", len(v.Plan.NotUsed)-i))
		}
		lines = append(lines, n.Stop+": "+v.OffLine(n))
	}
	return lines
}

// whyNot says why a visit is not filled at: of a pump that is passed when to fill there all the
// same.
func (v Voice) whyNot(visit int) string {
	for _, s := range v.Plan.Passes {
		if s.Visit == visit {
			return fmt.Sprintf("pass, about %s left; fill here if the last fill took over its most, you strayed over %s, or "+
				"under %s is left", v.Units.Held(s.Tank), v.Units.Distance(s.Strayed), v.Units.Needed(s.FillUnder))
		}
	}
	return WhyNot(v.Plan.Visits[visit])
}

// WhyNot says in a few words why a stop is not counted: "shut until Mon 07:00".
func WhyNot(at trip.Visit) string {
	if at.WhyNot == trip.LongShut {
		return when.Why(at.Hour)
	}
	return string(at.WhyNot)
}

// OffLine says where a stop lies that the line does not pass.
func (v Voice) OffLine(n plan.NotUsed) string {
	switch {
	case n.In == nil:
		return v.Units.Distance(n.Off) + " off the line"
	case n.In.Leap:
		return fmt.Sprintf("only a leap of the line reaches it, at %s: counted with --strays ride", v.Km(n.In.At))
	}
	s := "in a gap of the line, at " + v.Km(n.In.At)
	if n.In.Off > v.Plan.Options.Corridor {
		s += fmt.Sprintf(", %s off its straight", v.Units.Distance(n.In.Off))
	}
	return s
}

// Age says how long ago a day was, as a rider would.
func Age(day, today time.Time) string {
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

// Totals says what the ride takes at the pumps.
func (v Voice) Totals() string {
	t := v.Plan.Totals
	var parts []string
	for _, g := range t.Grades {
		parts = append(parts, fmt.Sprintf("%s of %s", v.Units.Needed(g.Litres), g.Grade))
	}
	if len(parts) == 0 {
		parts = []string{"nothing to buy on the way"}
	}
	text := "fills " + strings.Join(parts, ", ") + "."
	for _, m := range t.Money {
		text += fmt.Sprintf(" About %.0f %s", m.Amount, m.Currency)
		if t.Unpriced > 0 {
			text += fmt.Sprintf(", without %s of which the price is not known", v.Units.Needed(t.Unpriced))
		}
		text += "."
	}
	return text
}

// Cautions are what no plan replaces.
func (v Voice) Cautions() []string {
	out := []string{
		"These are estimates, not promises, within your margin on these figures. Ask on the way; a pump " +
			"that was there may be dry, shut or gone.",
		"Carry water, and leave the plan with someone who knows when to worry.",
		"Fill a can on the ground, away from the bike, engine off, to its mark and no further; carry it upright and " +
			"closed. The law on carrying fuel varies: local law and ferries decide.",
		"The maker's manual decides on the grade; altitude gives no credit. On low grade ride gently, without " +
			"lugging: climbs are where it knocks.",
	}
	if v.Plan.Group != nil {
		out = append(out, "Lending fuel on the way wants a hose or a can, and somebody who has tried it at home: "+
			"engines off, on the ground, away from the bikes and from fire.")
	}
	if v.Plan.Ways != nil {
		out = append(out, RoadsOf)
	}
	return out
}

// RangesCaution stands beside what a bike reaches on each ground.
const RangesCaution = "True distance on level ground, by our estimates of what each ground drinks: your own fill-ups " +
	"are better. Climbing takes more; nothing is given back for descents."

// LowCaution stands beside what is said of low grade.
const LowCaution = "The minimum in the maker's manual decides. On low grade ride gently and do not lug the engine; " +
	"climbs are where it knocks. " +
	"With little in the tank a dry pump is worse: ask before you pass a good one."

// Rate says from what the rate on paved road comes, for who does the sums again.
func (v Voice) Rate() string {
	b, o, u := v.Plan.Bike, v.Plan.Options, v.Units
	hundred := route.Metres(100 / u.DistanceIn(1)) // km or miles
	rate := func(c fuel.Consumption) float64 { return u.VolumeIn(c.Over(hundred)) }
	return fmt.Sprintf("rate %.3f %s/100 %s = %.3f × odometer %.4g × ethanol %.4f × thirst %.4g",
		rate(b.Rate())*b.EthanolFactor()*o.Thirst, u.VolumeUnit(), u.DistanceUnit(), rate(b.Consumption),
		float64(b.Rate()/b.Consumption), b.EthanolFactor(), o.Thirst)
}

// Sum gives the sum of a leg, so that a rider can do it again with a pencil.
func (v Voice) Sum(l trip.Leg) string {
	u := v.Units
	var parts []string
	for _, g := range l.Drink.Grounds {
		parts = append(parts, fmt.Sprintf("%s %.1f %s × %.2f = %.2f", g.Ground, u.DistanceIn(g.Ridden),
			u.DistanceUnit(),
			v.Plan.Bike.Weight(g.Ground).Likely, u.VolumeIn(g.Likely)))
	}
	parts = append(parts, v.climbSum(l), fmt.Sprintf("together %.2f %s", u.VolumeIn(l.Drink.Fuel.Likely),
		u.VolumeUnit()))
	sum := strings.Join(parts, "; ")
	if l.Detour > 0 {
		sum += fmt.Sprintf(" (%.2f of it for the detour)", u.VolumeIn(l.Detour))
	}
	return sum
}

func (v Voice) climbSum(l trip.Leg) string {
	d := l.Drink
	switch {
	case d.NoHeights > 0 && d.Up <= 0:
		return fmt.Sprintf("climb not known over %s, %s = %.2f", v.Units.Distance(d.NoHeights), v.Units.Slope(8),
			v.Units.VolumeIn(d.Climb))
	case d.NoHeights > 0:
		return fmt.Sprintf("climb %s, and %s over %s where it is not known = %.2f", v.Units.Height(d.Up),
			v.Units.Slope(8), v.Units.Distance(d.NoHeights), v.Units.VolumeIn(d.Climb))
	}
	return fmt.Sprintf("climb %s = %.2f", v.Units.Height(d.Up), v.Units.VolumeIn(d.Climb))
}

// Low says what else there is to a low stretch than the least and the full fills.
func (v Voice) Low(s lowgrade.Dearth) (out []string) {
	u, p := v.Units, v.Plan
	first, to := p.Visits[s.Visits[0]].Stop.Name, NameOf(p, s.To)
	if least, full := u.Needed(s.Least), u.Needed(s.Full); len(s.Visits) > 1 && least != full {
		out = append(out, fmt.Sprintf("%s to %s: least %s, full %s in all", first, to, least, full))
	}
	if l := s.Lift; l != nil {
		var pours []string
		for i, pour := range l.Pours {
			if pour > 0 {
				pours = append(pours, fmt.Sprintf("%s at %s", u.Needed(pour), p.Visits[s.Visits[i]].Stop.Name))
			}
		}
		out = append(out, fmt.Sprintf("%s to %s: %s from %s, used instead of the same amount of low grade (%s), "+
			"keeps the tank at grade",
			first, to, CanWith(u, l.Size.Litres, l.Litres, " of "+l.Grade.String()), v.Called(l.From), strings.Join(pours, ", ")))
	}
	if len(s.Risks) > 0 {
		out = append(out, fmt.Sprintf("with the least from %s on: if %s is dry you are stranded or close to it; not so "+
			"on a full tank", first, strings.Join(v.AllCalled(s.Risks), " or ")))
	}
	if len(s.Steeper) > 1 {
		out = append(out, "below grade it climbs most on "+v.LegNamed(s.Steeper[0]))
	}
	return out
}

// Case names what turns out otherwise, and of how many dry ones of its kind it is the worst.
func (v Voice) Case(c whatif.Case) string {
	switch c.Kind {
	case whatif.Thirst:
		what := fmt.Sprintf("thirst %.1f", c.Thirst)
		if math.Abs(math.Round(c.Thirst*10)-c.Thirst*10) > 1e-9 {
			what = fmt.Sprintf("thirst %.2f", c.Thirst)
		}
		if c.Thirst == v.Plan.Options.Thirst {
			what += ", as planned"
		}
		return what
	case whatif.Hearsay:
		return c.Stops[0] + " does sell petrol"
	}
	what, all := strings.Join(c.Stops, " and ")+" dry", 0
	for _, other := range v.Plan.Cases {
		if other.Kind == c.Kind {
			all++
		}
	}
	if all > 1 {
		what += fmt.Sprintf(", the worst of %d", all)
	}
	return what
}

// Leg says in a sentence what a leg takes and what is in the tank, for who points at it.
func (v Voice) Leg(i int) string {
	l, u := v.Plan.Legs[i], v.Units
	from, to := v.Ends(i)
	f := l.Drink.Fuel
	return fmt.Sprintf("Leg %d, %s to %s, %s: takes %s (%s to %s), arrives with %s %s: %s. In the tank: %s, %s.", i+1,
		from, to,
		u.Distance(l.Drink.Ridden), u.Needed(f.Likely), u.VolumeUp(f.Low), u.VolumeUp(f.High), u.Left(l.Arrive),
		u.VolumeUnit(), l.Verdict,
		Mixture(l.Mixture), l.Mixture.Verdict)
}

// StretchMethod says how it was estimated by how much the ride is longer than the line.
func StretchMethod(m route.Method) string {
	switch m {
	case route.EvenlySpaced:
		return "evenly spaced points, every second one left out"
	case route.FromTable:
		return "evenly spaced points, from the table of recorded rides"
	case route.ShapeSimplified:
		return "shape-simplified line, each chord taken as an arc"
	}
	return string(m)
}

// GroundGuessed says which ground a word for the whole ride is taken for.
func GroundGuessed(word string, g route.Ground) string {
	return fmt.Sprintf("--ground %s is read as %s: is it %s?", word, g, route.PackedGravel)
}

// GroundLeftOut says what of a list of ground lies beyond the end of a file that is cut
// off.
func GroundLeftOut(left route.Section) string {
	return fmt.Sprintf("the ground from km %.1f to %s lies beyond what is whole of the file: left out",
		left.From.Kilometres(), strconv.FormatFloat(left.To.Kilometres(), 'f', -1, 64))
}

// points are those of the compass, from north by the east.
var points = [...]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// Compass names the nearest of eight points of the compass.
func Compass(b route.Bearing) string {
	const each = 360 / float64(len(points))
	return points[int(math.Round(float64(b)/each))%len(points)]
}
