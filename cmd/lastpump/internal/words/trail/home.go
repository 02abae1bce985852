package trail

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/outward"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/trip"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// Coordinates gives a place as latitude and longitude in degrees, to 11 m.
func Coordinates(at orb.Point) string { return fmt.Sprintf("%.4f, %.4f", at[1], at[0]) }

// Minutes gives a place in degrees and minutes, as those who search by boat and aircraft want
// it (common practice, no source): to a hundredth of a minute, 18 m.
func Minutes(at orb.Point) string {
	part := func(degrees float64, signs string) string {
		sign := signs[:1]
		if degrees < 0 {
			sign = signs[1:]
		}
		hundredths := math.Round(math.Abs(degrees) * 6000)
		return fmt.Sprintf("%.0f°%05.2f′%s", math.Floor(hundredths/6000), math.Mod(hundredths, 6000)/100, sign)
	}
	return part(at[1], "NS") + " " + part(at[0], "EW")
}

// HomeAdvice says to those at home what to do when the hour to worry comes.
var HomeAdvice = []string{
	"The hour to worry: try the rider's phone, then the pumps below that have one. Ask who saw the bike, when, and " +
		"which way it went on.",
	"The hour to call: ring those named above. Give them this sheet and the GPX file of the loop, and say which pump " +
		"was reached last, and when word came last: it is from there to the next one that they look first. Keep your " +
		"phone free. If the rider turns up, tell everybody you have called.",
}

// Loop names the ride for those at home.
func (v Voice) Loop() string {
	if n := v.Name(v.Plan.Name); n != "" {
		return n
	}
	return "the ride"
}

// Together names the bikes of a group for those at home.
func (v Voice) Together() string {
	var names []string
	for _, b := range v.Plan.Group.Bikes {
		names = append(names, v.Name(b.Bike.Name))
	}
	return fmt.Sprintf("A group of %d bikes: %s. The figures below are those of %s, the first, where no other is "+
		"named; all fill at the same pumps.", len(names), strings.Join(names, ", "), names[0])
}

// RideForHome says to those at home where the ride goes and whether it holds.
func (v Voice) RideForHome() []string {
	p, u := v.Plan, v.Units
	where := "It begins at " + v.RideStart()
	if p.Here.OnTheWay() {
		where = "The rest of it: from " + v.RideStart()
		if at := v.Km(p.Here.At); v.RideStart() != at {
			where += " at " + at
		}
	}
	text := []string{fmt.Sprintf("%s: %s, %s %s. %s, %s.", v.Loop(), words.Kind(p.Line.Closed), u.Distance(p.Loop.Ridden),
		v.ToRide(), where, Coordinates(p.Cues[0].Point))}
	if how := v.RiddenOtherwise(); how != "" {
		text = append(text, how)
	}
	text = append(text, words.Of(p, u).AnswerInOne())
	if p.Here != nil {
		text = append(text, v.FromHereOnPaper())
	}
	const stranded = "Stranded: neither the next pump nor the last is within reach."
	if v.allOK() {
		return append(text, stranded)
	}
	return append(text, "SHORT: the petrol does not last to the next pump. TIGHT: it does by eating into the reserve, "+
		"or only if the bike drinks no more than likely. "+stranded)
}

// allOK tells whether every leg is, of all bikes.
func (v Voice) allOK() bool {
	plans := []*plan.Plan{v.Plan}
	if g := v.Plan.Group; g != nil {
		plans = append(plans, g.Bikes...)
	}
	return !slices.ContainsFunc(plans, func(p *plan.Plan) bool {
		return slices.ContainsFunc(p.Legs, func(l trip.Leg) bool { return l.Verdict != leg.OK })
	})
}

// TankLasts says how far a full tank goes on a ride; "" where no leg sets out on one.
func (v Voice) TankLasts() string {
	u := v.Units
	d := u.DistanceUnit()
	r, ok := v.Plan.FullTank()
	if !ok {
		return ""
	}
	return fmt.Sprintf("A full tank (%s) lasts %s to %s %s by the trip meter, from the worst ground at the high "+
		"figure to the best at the likely one; %s %s with the reserve untouched on the worst.",
		u.Held(v.Plan.Bike.Usable()), u.Whole(r.DryHigh), u.Whole(r.Dry), d, u.Whole(r.Safe), d)
}

// PartEnd says where a part of the ride ends.
func (v Voice) PartEnd(at route.Metres) string {
	end := v.Plan.Line.At(at)
	return Coordinates(end) + "; " + Minutes(end)
}

// LastPump names the pump that is filled at last before a place.
func (v Voice) LastPump(at route.Metres) string {
	last := "none yet"
	for _, visit := range v.Plan.Visits {
		if visit.Fill != nil && visit.At <= at {
			last = v.Name(visit.Stop.Name)
		}
	}
	return last
}

// DoubtfulLegs says which legs to look at first.
func DoubtfulLegs(numbers []string) string {
	const trip = " Turn back by: where at the latest the rider would have turned (trip: what the trip meter shows, zeroed at " +
		"the pump before)."
	if len(numbers) == 0 {
		return "No leg is doubtful: all are OK within the margin on these figures, no pump strands the rider if it is dry, and " +
			"none is the last sure one." + trip
	}
	return "Look first at the doubtful legs: " + strings.Join(numbers, ", ") + "." + trip
}

// DoubtsOf says of a leg whether it is OK, and else why it is doubtful, and where the rider would have
// turned back: on a leg that is not doubtful where the strip has it, too.
func (v Voice) DoubtsOf(i int) (text string, doubtful bool) {
	l := v.Plan.Legs[i]
	var out []string
	for _, s := range v.Failing(i) {
		out = append(out, s.Text)
	}
	if other := v.worseOff(i); other != "" {
		out = append(out, other)
	}
	if l.ToVisit >= 0 {
		if dry := v.Plan.Visits[l.ToVisit].IfDry; dry != nil && dry.Doubtful() {
			out = append(out, v.IfDryOnStrip(*dry, i).Text)
		}
	}
	if l.FromVisit >= 0 && v.Plan.Visits[l.FromVisit].LastFuel != nil {
		out = append(out, "after the last sure fuel")
	}
	if len(out) == 0 {
		text = string(l.Verdict)
		if l.TurnsBack(v.Plan.Bike) {
			text += "; " + v.turnBackBy(l) // its minutes are for those who search: two lines do not lengthen the row
		}
		return text, false
	}
	if l.Verdict == leg.OK {
		out[0] = "OK, but " + out[0]
	}
	if l.WayOut != nil {
		off := v.Plan.Ways.All[l.WayOut.Way].TurnOff
		out = append(out, fmt.Sprintf("way out by trip %s %s: %s, from %s", v.Units.Nearest(l.WayOut.Trip), v.Units.DistanceUnit(),
			outward.Of(v.Voice).Told(l.WayOut), Coordinates(off)))
	}
	return strings.Join(append(out, v.turnBack(l)), "; "), true
}

// worseOff says which bike of a group a leg is worse for than for the first; "" for none.
func (v Voice) worseOff(i int) string {
	g := v.Plan.Group
	if g == nil {
		return ""
	}
	sets := g.Bikes[g.Legs[i].SetBy]
	l := sets.Legs[i]
	switch {
	case l.Verdict.Rank() <= v.Plan.Legs[i].Verdict.Rank():
		return ""
	case l.Verdict == leg.Short:
		return fmt.Sprintf("SHORT by %s for %s", v.Units.Needed(l.Short), v.Name(sets.Bike.Name))
	}
	return fmt.Sprintf("%s for %s", l.Verdict, v.Name(sets.Bike.Name))
}

func (v Voice) turnBack(l trip.Leg) string {
	switch {
	case l.TurnBackBy <= 0:
		return NoTurningBack
	case l.TurnBackBy >= l.Trip(v.Plan.Bike):
		return "can always turn back"
	default:
		return v.turnBackBy(l) + ", " + Minutes(v.Plan.Line.At(l.TurnBackByAt))
	}
}

// turnBackBy says from where at the latest the rider would have turned back.
func (v Voice) turnBackBy(l trip.Leg) string {
	return fmt.Sprintf("turn back by trip %s %s: %s", v.Units.Whole(l.TurnBackBy), v.Units.DistanceUnit(),
		Coordinates(v.Plan.Line.At(l.TurnBackByAt)))
}

// Carries says to those at home what petrol the rider has with him; of the rest of a ride,
// what is in the tank now.
func (v Voice) Carries() string {
	p := v.Plan
	s := fmt.Sprintf("Petrol: a tank of %s usable, filled at each pump. %s.", v.Units.Held(p.Bike.Usable()), v.CanToCarry())
	if p.Here == nil {
		return s
	}
	of := p.Start.Grade.String()
	if p.Start.Mixture != nil {
		of = words.Mixture(*p.Start.Mixture)
	}
	where := v.Km(p.Here.At)
	if name := v.RideStart(); name != where {
		where = name + ", " + where
	}
	s += fmt.Sprintf(" In the tank now, at %s: %s of %s", where, v.Units.Held(p.Start.Fuel), of)
	switch can := p.Options.CanNow; {
	case can > 0:
		s += fmt.Sprintf("; in the can: %s", v.Units.Held(can))
	case v.CanNotSaid():
		s += "; what is in the can was not said: it is taken for empty"
	}
	return s + "."
}

// CautionsForHome say how far to trust the sheet.
func (v Voice) CautionsForHome() []string {
	day := "a day not said"
	if today := v.Plan.Options.Today; !today.IsZero() {
		day = today.Format("2 January 2006")
	}
	out := []string{
		fmt.Sprintf("These are estimates, not promises, within the rider's margin on these figures. A pump "+
			"may be dry, shut or gone, and a ride is often a day late without harm: agree on the hours above before "+
			"it begins. Distances without the word trip are along the line of the GPX file; coordinates are "+
			"latitude, longitude (WGS 84). Planned for %s.", day),
		"For the rider: carry water. Fill a can on the ground, engine off, to its mark and no further; carry it " +
			"upright and closed, as local law and ferries allow. The maker's manual decides on the grade.",
	}
	if v.Plan.Ways != nil || len(v.Plan.Bail) > 0 {
		out = append(out, words.RoadsOf)
	}
	return out
}
