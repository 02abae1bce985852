package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// Assumption gives the name of an assumption and its value.
func (v Voice) Assumption(a plan.Assumption) (name, value string) {
	for _, say := range []func(plan.Assumption) (string, string){v.lineAssumed, v.startAssumed, v.bikeAssumed,
		v.rideAssumed, v.hoursAssumed} {
		if name, value = say(a); name != "" {
			return name, value
		}
	}
	return "", ""
}

// lineAssumed says what was made of the file before it was planned.
func (v Voice) lineAssumed(a plan.Assumption) (name, value string) {
	u, line := v.Units, v.Plan.Line
	switch a.Topic {
	case plan.TopicLeftOut:
		return "Left out", fmt.Sprintf("%s (--skip-part %d)", PartName(line, a.Part), a.Part)
	case plan.TopicOrder:
		return "Order of the parts", fmt.Sprintf("%s, %s apart in all; as in the file %s (--order nearest)",
			OrderOf(line, line.Reorder), u.Distance(line.Reorder.Gaps), u.Distance(line.Reorder.FileGaps))
	case plan.TopicFileOrder:
		why := "no other meets better"
		if len(line.Parts) > route.MostParts {
			why = fmt.Sprintf("no other is looked for among over %d", route.MostParts)
		}
		return "Order of the parts", fmt.Sprintf("as in the file: %s (--order nearest)", why)
	case plan.TopicCutOff:
		return "Cut off", "what is whole of the file is planned, the rest of the ride is not (--salvage)"
	case plan.TopicDirection:
		return "Direction", "the other way round than in the file (--reverse)"
	case plan.TopicBeginsAt:
		at := v.Km(line.Arranged.BeginAt) + " of the line before it is turned"
		if name := line.Arranged.BeginName; name != "" {
			at = name + ", " + at
		}
		return "Begins at", at + " (--begin-at)"
	}
	return v.lengthAssumed(a)
}

// lengthAssumed says how the kilometres of the line are counted.
func (v Voice) lengthAssumed(a plan.Assumption) (name, value string) {
	u, line := v.Units, v.Plan.Line
	switch a.Topic {
	case plan.TopicHalts:
		return "Halts", fmt.Sprintf("points within 15 m of their middle for over 5 minutes are one: %d, %s of line "+
			"taken out",
			len(line.Halts), u.Distance(plan.TakenOut(line.Halts)))
	case plan.TopicGroundMeasure:
		return "Kilometres of the ground", fmt.Sprintf("%s, %s long; the line that is ridden is %s",
			measures[a.Measure],
			u.Distance(line.FileLength(a.Measure)), u.Distance(line.Length()))
	case plan.TopicStretch:
		return "Stretch", v.stretch(a.Stretch)
	case plan.TopicHeights:
		return "Heights", Heights(a.Heights)
	case plan.TopicRecorded:
		return "Line", "as a plan has written it: neither cleaned, stretched nor arranged again; ground by the " +
			"kilometres of the file that it was made from"
	case plan.TopicGaps:
		return "Gaps", "ridden at 1.3 times the straight, unless skipped"
	case plan.TopicRoads:
		return "Ways by road", "by a map (--roads); one counts if a pump is dry " +
			"where it leads to a pump seen or phoned within a year, on roads that are open and of known ground, if the bike " +
			"gets there thirsty"
	}
	return "", ""
}

// Heights says what came of taking heights from relief tiles.
func Heights(h plan.Heights) string {
	where := "where the file has none over a kilometre and more"
	if h.Everywhere {
		where = "everywhere (--heights relief)"
	}
	return fmt.Sprintf("from relief tiles %s: %d of %d points found", where, h.Found, h.Points)
}

// measures says how the kilometres of a list of ground were counted.
var measures = map[route.Measure]string{
	route.AsGiven: "those of the file as given, with all parts in its order, the gaps between them and what is left " +
		"out of it",
	route.Cleaned: "those of the file without strays and the jitter of halts, for there the list ends",
	route.Ordered: "those of the file without the parts left out, for there the list ends",
}

// stretch says how much longer the ride is than the line, and how sure that is.
func (v Voice) stretch(d plan.StretchDoubt) string {
	s := v.Plan.Line.Stretch
	value := fmt.Sprintf("the ride is %.3f times as long as the line", s.Factor)
	if s.Given {
		return value
	}
	step := fmt.Sprintf("%.0f m", float64(d.Longest.Step))
	if d.Longest.Step >= 1000 {
		step = v.Units.Distance(d.Longest.Step)
	}
	likely, worst := fmt.Sprintf("%.1f %%", d.Longest.Error*100), fmt.Sprintf("%.1f %%", d.Worst*100)
	value += fmt.Sprintf(" (%s, %s apart on average; nine times in ten within %s", StretchMethod(d.Longest.Method),
		step, likely)
	if d.Over > 0 && worst != likely {
		value += fmt.Sprintf("; on %s of it only within %s", v.Units.Distance(d.Over), worst)
	}
	return value + "): low and high figures count that much less and more, and by as much a pump may come sooner " +
		"or later on the trip meter"
}

// startAssumed says where the plan begins, and on what.
func (v Voice) startAssumed(a plan.Assumption) (name, value string) {
	u, h, s := v.Units, v.Plan.Here, v.Plan.Start
	switch a.Topic {
	case plan.TopicFromHere:
		at := v.Km(h.At)
		if h.Stop >= 0 {
			at = v.Plan.Stops[h.Stop].Name + ", " + at
		}
		return "From here", at + " of the whole line (--from); as it was planned means full at its start"
	case plan.TopicUsed:
		return "Used up to here", fmt.Sprintf("%s over %s by the trip meter (--used); expected %s, at the least %s, "+
			"at the most %s; %.3f times the likely",
			u.Held(h.Used.Litres), u.Distance(h.Used.Trip), u.Needed(h.Likely), u.Needed(h.Low), u.Needed(h.High),
			h.Factor)
	case plan.TopicEmptyCan:
		return "Can up to the first pump", "empty: what is in one counts when it is in the tank (--start-fuel)"
	case plan.TopicStartFuel:
		return "Fuel at the start", u.Held(s.Fuel) + " usable in the tank"
	case plan.TopicStartGrade:
		switch {
		case s.Mixture != nil:
			value = fmt.Sprintf("what the whole plan has in the tank there, %s; another: --start-grade",
				Mixture(*s.Mixture))
		case s.Assumed:
			value = "what the engine needs, " + s.Grade.String()
		default:
			value = s.Grade.String()
		}
		return "Grade at the start", value
	}
	return "", ""
}

// reserve says what is kept back on a leg.
func reserve(u units.System, r leg.Reserve) string {
	share := fmt.Sprintf("%.4g %% of the usable tank", r.Share*100)
	switch {
	case r.Litres == 0:
		return fmt.Sprintf("the larger of %s and %s", share, u.Distance(r.Distance))
	case r.Share == 0 && r.Distance == 0:
		return u.Needed(r.Litres)
	}
	return fmt.Sprintf("the largest of %s, %s and %s", share, u.Distance(r.Distance), u.Needed(r.Litres))
}

// bikeAssumed says what is taken of the bike.
func (v Voice) bikeAssumed(a plan.Assumption) (name, value string) {
	u, b, o := v.Units, v.Plan.Bike, v.Plan.Options
	switch a.Topic {
	case plan.TopicReserve:
		return "Reserve", reserve(u, o.Reserve)
	case plan.TopicUsable:
		return "Usable fuel", fmt.Sprintf("%s of %s; the rest does not reach the engine", u.Held(b.Usable()),
			u.Held(b.Tank))
	case plan.TopicConsumption:
		by := fmt.Sprintf("the kilometres the bike shows; odometer %.4g", b.Odometer)
		if b.TrueRate {
			by = "true kilometres"
		}
		return "Consumption", fmt.Sprintf("%s on paved road, by %s; %s", u.Rate(b.Consumption), by, v.basis())
	case plan.TopicThirst:
		value = fmt.Sprintf("%.4g times", o.Thirst)
		if h := v.Plan.Here; h != nil && (h.Used != nil || len(h.Tanks) > 0) {
			value += fmt.Sprintf("; on the way the bike was found %.4g times as thirsty on paved road, which is learnt into its rate "+
				"and the weights", h.Thirst/h.Before)
		}
		return "Thirst", value
	case plan.TopicSpread:
		return "Spread", "of all that is burnt from one brim to the next, a way past a dry pump too: one tank in twenty takes " +
			"less than low, one more than high, if the consumption and the grounds are as sure as said here; a dry place is " +
			"judged by 1.3 times as far off as high; what was measured are tanks of road rides"
	case plan.TopicGround:
		return "Ground", "times paved road: " + v.grounds()
	case plan.TopicClimb:
		return "Climb", fmt.Sprintf("%s lifted at 25 %% efficiency; nothing back for descents; %s between "+
			"turning points%s",
			u.Weight(b.LoadedMass, 0), u.Height(10), climbDoubts[a.Climb])
	case plan.TopicClimbUnknown:
		return "Climb not known", v.Units.Slope(8) + " of line; " + v.Units.Slope(2) + " in the low and " +
			v.Units.Slope(18) + " in the high figures: the middle and the tenths at both ends of 172 recorded rides"
	case plan.TopicEthanol:
		return "Ethanol", fmt.Sprintf("measured on E%.0f, ridden on E%.0f: %.3f times (US Department of Energy, "+
			"heating values)",
			float64(b.MeasuredOn)*100, float64(b.RiddenOn)*100, b.EthanolFactor())
	}
	return "", ""
}

// climbDoubts says how far off the climb may be.
var climbDoubts = map[plan.ClimbDoubt]string{
	plan.ClimbNotTold:  "",
	plan.ClimbTenth:    "; likely within 10 %",
	plan.ClimbTenthUp:  "; likely up to 10 % more than counted, the points lie so far apart",
	plan.ClimbFifthUp:  "; likely up to 20 % more than counted, the points lie so far apart",
	plan.ClimbFourthUp: "; likely 25 % and more above what is counted, the points lie so far apart",
}

// basis says where the consumption is from.
func (v Voice) basis() string {
	switch b := v.Plan.Band; b.Basis {
	case plan.FromLearnt:
		return fmt.Sprintf("learnt from %s of your own: %.3g times that", Tanks(b.Tanks), fuel.Exp(v.Plan.Bike.Known().X[0]))
	case plan.FromOwn:
		return "from " + Tanks(b.Tanks) + " of your own"
	}
	return "taken for a maker's figure"
}

// Tanks counts tanks.
func Tanks(n int) string {
	if n == 1 {
		return "one tank"
	}
	return fmt.Sprintf("%d tanks", n)
}

// RestsOn says in a line what the high figures rest on: how much more than likely a full tank's worth of paved
// road may take.
func (v Voice) RestsOn() string {
	b := v.Plan.Band
	takes := fmt.Sprintf("+%.0f %% on paved road, sand more; 1 tank in 20 takes more yet.", math.Ceil(b.Over*100-0.01))
	switch b.Basis {
	case plan.FromLearnt:
		return "High figures, learnt from " + Tanks(b.Tanks) + " of yours: " + takes
	case plan.FromOwn:
		return "High figures, from " + Tanks(b.Tanks) + " of your own: " + takes
	}
	return "High figures, from a maker's or unsaid consumption: " + takes + " Tanks of your own narrow it: lastpump learn."
}

// grounds lists what each ground takes, as it is known of the bike.
func (v Voice) grounds() string {
	on := map[route.Ground]bool{}
	for _, l := range v.Plan.Legs {
		for _, g := range l.Drink.Grounds {
			on[g.Ground] = true
		}
	}
	var parts []string
	known := v.Plan.Bike.Known()
	for _, g := range route.AllGrounds() {
		if !on[g] {
			continue
		}
		w, own := known.Weight(fuel.WeighedAs(g)), ""
		if _, is := v.Plan.Bike.Own[g]; is {
			own = " (yours)"
		} else if s := known.Standing(fuel.WeighedAs(g)); s != fuel.General {
			own = fmt.Sprintf(" (%s)", s)
		}
		parts = append(parts, fmt.Sprintf("%s %.2f (%.2f–%.2f)%s", g, w.Likely, w.Low, w.High, own))
	}
	return strings.Join(parts, ", ")
}

// rideAssumed says what is taken of stops and petrol, and of those who ride along.
func (v Voice) rideAssumed(a plan.Assumption) (name, value string) {
	switch o := v.Plan.Options; a.Topic {
	case plan.TopicStops:
		return "Stops", fmt.Sprintf("visited up to %s off the line; up to 300 m is on it; there and back is 1.3 times "+
			"the straight; counted from %q up",
			v.Units.Distance(o.Corridor), o.Trust)
	case plan.TopicOctane:
		return "Octane", "RON is 4 to 5 above AKI; no credit for altitude; mixed by volume, within 0.1 it meets"
	case plan.TopicGradeUnknown:
		return "Grade not known", "somewhere from 80 RON to the need"
	case plan.TopicGroup:
		return "Group", fmt.Sprintf("%d bikes; everybody fills at every fill; what is in the tank at the start is "+
			"said for %s, the others set out full of what they need",
			a.Bikes, a.First)
	case plan.TopicLending:
		return "Lending", "only what leaves the lender its reserve, and fuel to arrive at its high figure"
	}
	return "", ""
}

// Arranged says how a line is ridden otherwise than in the file; "" if it is not.
func (v Voice) Arranged() string {
	line := v.Plan.Line
	var how []string
	for _, p := range line.LeftOut {
		how = append(how, "without "+PartName(line, p.Number))
	}
	if r := line.Reorder; r != nil && r.Taken {
		how = append(how, "its parts in the order "+OrderOf(line, r))
	}
	if line.Arranged.Reverse {
		how = append(how, "the other way round")
	}
	if a := line.Arranged; a.HasBeginAt {
		how = append(how, "begun at "+cmp.Or(a.BeginName, v.Km(a.BeginAt)))
	}
	return strings.Join(how, "; ")
}

// Objective says what stops are chosen for, in this order.
const Objective = "the fewest litres short; the fewest stops that strand if they are dry; the fewest TIGHT legs; the " +
	"fewest stops that strand a thirsty bike; the smallest cans; the fewest litres times the octane they lack; the " +
	"fewest fills that are not sure; the fewest fills; the shortest detours"

// OrderOf lists the parts of an order by number and name, the first of very many:
// 3 "Day 1", 1 "Day 2" backwards.
func OrderOf(line *route.Line, r *route.Reorder) string {
	const most = 20
	var list []string
	for i, p := range r.Parts {
		if i == most {
			list = append(list, "…")
			break
		}
		s := strings.TrimPrefix(PartName(line, p.Number), "part ")
		if p.Backwards {
			s += " backwards"
		}
		list = append(list, s)
	}
	return strings.Join(list, ", ")
}

// PartName names a part by its number and, if it has one, its name.
func PartName(line *route.Line, number int) string {
	for _, p := range slices.Concat(line.Parts, line.LeftOut) {
		if p.Number == number && p.Name != "" {
			return fmt.Sprintf("part %d %q", number, p.Name)
		}
	}
	return fmt.Sprintf("part %d", number)
}
