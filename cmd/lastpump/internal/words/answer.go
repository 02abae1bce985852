package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/answer"
	"lastpump/fuel/trip"
)

// Answer gives the three lines that stand first: does it hold and what to carry;
// what if a pump is dry; is the grade there. Of a group they are of all its bikes.
func (v Voice) Answer() [3]string {
	if v.Plan.Group != nil {
		return [3]string{v.wholeRide(v.Group()), v.ifAnyDryOfGroup(), v.gradedOfGroup()}
	}
	return [3]string{v.wholeRide(v.verdict(v.Plan.Answer) + v.carry()), v.withoutCans() + v.ifAnyDry(), v.graded()}
}

// AnswerInOne gives the answer as one paragraph.
func (v Voice) AnswerInOne() string {
	a := v.Answer()
	return strings.Join(a[:], " ")
}

// wholeRide says of what part of the ride an answer is, of whose bike, and what is not known of
// the line.
func (v Voice) wholeRide(s string) string {
	p := v.Plan
	if p.Bike.Invented {
		s = "No --bike is given: this is for an invented bike, not yours. " + s
	}
	if p.Loop.GroundUnknown() {
		s += fmt.Sprintf(" The ground is not known over %s.", v.Units.Distance(p.Loop.Guessed))
	}
	if p.Loop.NoHeights > 0 {
		s += fmt.Sprintf(" Heights are missing over %s: the climb there is guessed.",
			v.Units.Distance(p.Loop.NoHeights))
	}
	if p.Line.Stretch.Coarse {
		s += " The line is drawn too coarsely to trust."
	}
	s += v.leftOut()
	switch {
	case p.Cut.Where != "" && p.Cut.Last:
		return fmt.Sprintf("The file is cut off: this is only the first %s of the ride. %s",
			v.Units.Distance(p.Line.Length()), s)
	case p.Cut.Where != "":
		return "A file is cut off in the middle of the ride: what is missing of it is planned as a gap. " + s
	}
	return s
}

// verdict says first what is worst: a leg that is SHORT, then a dry pump that strands, then a
// leg that is TIGHT.
func (v Voice) verdict(a answer.Answer) string {
	all := len(v.Plan.Legs)
	switch short, tight := len(a.Short), len(a.Tight); {
	case short > 0:
		which := ""
		if short > 1 {
			which = fmt.Sprintf(", leg %d", a.Worst+1)
		}
		return fmt.Sprintf("Not enough fuel%s: %s SHORT%s by %s (%s).", v.evenWithCans(), legs(a.Short, all), which,
			v.Units.Needed(v.Plan.Legs[a.Worst].Short), v.Units.Distance(a.Last)) + moreTight(tight)
	case tight > 0:
		return v.opening("Only just enough"+v.withCans(), a.Stranded) + fmt.Sprintf(": %s TIGHT.", legs(a.Tight, all))
	case all == 1:
		return v.opening("Enough fuel"+v.withCans()+within, a.Stranded) + ": the one leg is OK."
	}
	return v.opening("Enough fuel"+v.withCans()+within, a.Stranded) + fmt.Sprintf(": %s are OK.", phrase.AllOf(all, "leg"))
}

// within is what any verdict rests on.
const within = ", within your margin on these figures"

// opening begins the verdict on a plan of which no leg is SHORT: with the pumps that strand if
// they are dry, where there are any.
func (v Voice) opening(verdict string, stranded []int) string {
	if len(stranded) == 0 {
		return verdict
	}
	dry := v.stopsAt(stranded) + " is dry"
	if len(stranded) > 1 {
		dry = fmt.Sprintf("one of %d pumps is dry", len(stranded))
	}
	return fmt.Sprintf("Not enough fuel if %s; otherwise %s", dry, lowered(verdict))
}

// moreTight says how many legs are TIGHT besides those that are SHORT.
func moreTight(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return " 1 more leg is TIGHT."
	}
	return fmt.Sprintf(" %d more legs are TIGHT.", n)
}

// legs says which legs: "leg 4 is", "legs 4 and 7 are", "5 of 12 legs are".
func legs(of []int, all int) string {
	switch {
	case len(of) == 1:
		return fmt.Sprintf("leg %d is", of[0]+1)
	case len(of) == 2:
		return fmt.Sprintf("legs %d and %d are", of[0]+1, of[1]+1)
	}
	return fmt.Sprintf("%d of %d legs are", len(of), all)
}

func (v Voice) ifAnyDry() string {
	p, a := v.Plan, v.Plan.Answer
	var s string
	switch {
	case a.Places == 0 && len(p.Visits) == 0 && len(p.NotUsed) == 0 && p.Here == nil:
		return "No fuel stop is given: give them with --stops, or as waypoints in the file."
	case a.Places == 0:
		how := "counted"
		if len(a.Short)+len(a.Tight) == 0 {
			how = "needed"
		}
		s = fmt.Sprintf("No pump is %s between %s and the end.", how, v.startName())
	case len(a.Stranded) > 0:
		s = "If a pump is dry: stranded at " + v.stopsAt(a.Stranded)
		if len(a.Bare) > 0 {
			s += fmt.Sprintf(", close to it at %s", phrase.Count(len(a.Bare), "more stop"))
		}
		s += "." + v.dryCan()
	case len(a.Bare) > 0:
		s = fmt.Sprintf("If a pump is dry: another is in reach, but barely at %s.", v.stopsAt(a.Bare))
	default:
		s = "If any one pump is dry, the next or the last one is within reach."
		if v.leansOnRoads() {
			s = "If any one pump is dry, the next, the last or one by road is within reach."
		}
	}
	return s + leans(a.Leans) + v.noPump(a) + fromMap(a)
}

// leansOnRoads tells whether some dry pump leaves only a way out by road, on the high figures, to the
// bike or to one of a group.
func (v Voice) leansOnRoads() bool {
	bikes := []*plan.Plan{v.Plan}
	if v.Plan.Group != nil {
		bikes = v.Plan.Group.Bikes
	}
	return slices.ContainsFunc(bikes, func(p *plan.Plan) bool {
		return slices.ContainsFunc(p.Visits, func(at trip.Visit) bool {
			return at.IfDry != nil && (at.IfDry.Outcome == leg.Off || at.IfDry.High == leg.Off)
		})
	})
}

// leans says on how many pumps that nobody has confirmed it depends what becomes of a dry one.
func leans(on []int) string {
	switch len(on) {
	case 0:
		return ""
	case 1:
		return " That leans on a pump that nobody has confirmed."
	}
	return fmt.Sprintf(" That leans on %d pumps that nobody has confirmed.", len(on))
}

// noPump says from how many stops there is only the way back to a start without a pump.
func (v Voice) noPump(a answer.Answer) string {
	switch a.NoPump {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf(" From one stop only back to %s, where no pump is counted.", v.startName())
	}
	return fmt.Sprintf(" From %s only back to %s, where no pump is counted.", phrase.Count(a.NoPump, "stop"), v.startName())
}

// stopsAt names the stop of one visit, and counts those of several.
func (v Voice) stopsAt(visits []int) string {
	if len(visits) > 1 {
		return phrase.Count(len(visits), "stop")
	}
	return v.Name(v.Plan.Visits[visits[0]].Stop.Name)
}

// OnMap is said of a stop that nobody has seen or asked.
const OnMap = "known only from a map"

// fromMap says how many of the counted stops nobody has confirmed.
func fromMap(a answer.Answer) string {
	switch a.FromMap {
	case 0:
		return ""
	case 1:
		if a.Counted == 1 {
			return " The one stop is " + OnMap + "."
		}
		return fmt.Sprintf(" 1 of %d stops is %s.", a.Counted, OnMap)
	case a.Counted:
		return fmt.Sprintf(" %s are %s.", raised(phrase.AllOf(a.Counted, "stop")), OnMap)
	}
	return fmt.Sprintf(" %d of %d stops are %s.", a.FromMap, a.Counted, OnMap)
}

func (v Voice) graded() string {
	p, a := v.Plan, v.Plan.Answer
	need := p.Bike.Needs
	switch {
	case len(a.Below) > 0:
		s := fmt.Sprintf("Grade: %s below %s, at worst %s", legs(a.Below, len(p.Legs)), need, Mixture(a.Lowest))
		if len(a.Doubtful) > 0 {
			s += fmt.Sprintf("; %s doubtful or not known", more(len(a.Doubtful)))
		}
		return s + "."
	case len(a.Doubtful) > 0:
		return fmt.Sprintf("Grade: %s doubtful or not known for %s; none is below it for sure.", legs(a.Doubtful,
			len(p.Legs)), need)
	case len(p.Legs) == 1 && p.Legs[0].FromVisit < 0:
		return fmt.Sprintf("Grade: no petrol is bought on the way; the tank at the start meets %s.", need)
	}
	return fmt.Sprintf("Grade: the petrol on the way meets %s on every leg.", need)
}

// more says of how many legs besides: "1 more is", "3 more are".
func more(n int) string {
	if n == 1 {
		return "1 more is"
	}
	return fmt.Sprintf("%d more are", n)
}

// FromHere says in a line how thirsty the bike is and what that changes.
func (v Voice) FromHere() string {
	s := v.FromHereOnPaper() + v.offFromHere()
	if t := v.Plan.Here.Tank; t != nil && t.Least < t.Left {
		s += " --start-fuel says what is in the tank, if you know."
	}
	if v.CanNotSaid() {
		s += " The can is taken for empty where you stand: --can-now says what is in it."
	}
	return s
}

// offFromHere says which road leads from where the rider stands to petrol; "" where none that may
// be leaned on does.
func (v Voice) offFromHere() string {
	out := v.Plan.Legs[0].WayOut
	if out == nil || v.Plan.Ways.All[out.Way].From < 0 {
		return ""
	}
	return fmt.Sprintf(" By road from here: %s, %s left there at the high figure.", v.Off(trip.Off{Way: out.Way}),
		v.Units.VolumeDown(out.Spare)+" "+v.Units.VolumeUnit())
}

// FromHereOnPaper is [Voice.FromHere] for who has no command to give any more.
func (v Voice) FromHereOnPaper() string {
	return "From here" + v.thirsty() + ": " + v.changed() + v.tightest() + "." + v.inTank()
}

// CanNotSaid tells whether the rest of a ride is planned without a word on what is in the can
// where it begins.
func (v Voice) CanNotSaid() bool {
	return v.Plan.Here.OnTheWay() && v.Plan.Bike.Can > 0 && !v.Plan.Options.SaysCan()
}

func (v Voice) thirsty() string {
	h := v.Plan.Here
	if len(h.Tanks) > 0 {
		return v.tanksTaught()
	}
	if h.Used == nil {
		return ", with the thirst as planned"
	}
	figures := fmt.Sprintf("(%s, expected %s)", v.Units.Held(h.Used.Litres), v.Units.Needed(h.Likely))
	if math.Abs(h.Factor-1) < 0.005 {
		return ": it uses as much as planned " + figures
	}
	s := fmt.Sprintf(": it has used %.2f times what was planned %s", h.Factor, figures)
	if h.UnderLow() {
		s += underLow
	}
	if h.Why != "" {
		return s + "; " + filled.MadeOf(learn.Step{Why: h.Why}) + ": the rest is planned as before"
	}
	return s + fmt.Sprintf("; the rest is planned to take %.2f times as much as before, which is what one tank says", h.Ahead)
}

// underLow asks of a tank that took less than low.
const underLow = ", under the low figure (was it filled to the brim?)"

// tanksTaught says what the tanks of the ride so far have taught.
func (v Voice) tanksTaught() string {
	h := v.Plan.Here
	var counted, in, paved, left int
	low := ""
	for _, t := range h.Tanks {
		switch {
		case t.Counts():
			counted++
			if t.In() {
				in++
			} else if !t.Over() {
				low = ", one of them" + underLow
			}
		case t.Told && t.Why == "":
			paved++
		default:
			left++
		}
	}
	const asPaved = ", taken as paved road: where is not said"
	s := ""
	switch {
	case counted > 0:
		s = fmt.Sprintf(": %s so far took %.2f times what was planned, %d of %d inside the band%s", Tanks(counted), h.Factor, in,
			counted, low)
		if paved > 0 {
			s += fmt.Sprintf("; %d more%s", paved, asPaved)
		}
	case paved > 0:
		s = ": " + Tanks(paved) + " so far" + asPaved
	default:
		return ": nothing is learnt from " + Tanks(left) + " of this ride" + v.oddTank()
	}
	if left > 0 {
		s += fmt.Sprintf("; nothing is learnt from %d more%s", left, v.oddTank())
	}
	return s + fmt.Sprintf("; the rest is planned to take %.2f times as much as before", h.Ahead)
}

// oddTank says of the first tank that is too far off to be learnt from what it took.
func (v Voice) oddTank() string {
	for _, t := range v.Plan.Here.Tanks {
		if t.Told && t.Why != "" {
			return fmt.Sprintf(" (%.1f times what was planned: %s)", float64(t.Real/t.Planned.Likely), oddWhy(t))
		}
	}
	return ""
}

// inTank says what the fills say is in the tank; "" where the rider has said so.
func (v Voice) inTank() string {
	h := v.Plan.Here
	s := ""
	if h.HasBeyond {
		s = fmt.Sprintf(" The fills go on to %s, ahead of here: is the place right, or did you turn round?", v.Km(h.Beyond))
	}
	if t := h.Tank; t != nil && t.Least < t.Left {
		s += fmt.Sprintf(" In the tank %s, counted from %s at %s; at the high figure %s.", v.Units.Held(t.Left), levels[t.From.Event],
			v.Km(t.From.At), v.Units.Held(t.Least))
	}
	return s
}

// levels names the rows from which on a tank is counted.
var levels = map[fills.Event]string{
	fills.Full: "the brim", fills.Dry: "where it ran dry", fills.Lamp: "the lamp", fills.Reserve: "the reserve tap",
}

// changed lists the legs with another verdict than in the plan of the whole, the
// first few of many.
func (v Voice) changed() string {
	const most = 4
	h := v.Plan.Here
	var list []string
	for _, i := range h.Answer.Changed {
		list = append(list, fmt.Sprintf("leg %d %s → %s", i+1, h.Legs[i].Then.Verdict, v.Plan.Legs[i].Verdict))
	}
	switch n := len(list); {
	case n == 0:
		return "no leg changes its verdict"
	case n > most:
		return fmt.Sprintf("%s, and %d more legs change", strings.Join(list[:most-1], ", "), n-most+1)
	}
	return strings.Join(list, ", ")
}

// tightest says of the leg with the least room how much it may drink.
func (v Voice) tightest() string {
	h := v.Plan.Here
	switch i := h.Answer.Tightest; {
	case i < 0:
		return ""
	case !h.Legs[i].HasAllowed:
		return fmt.Sprintf("; leg %d sets out with less than the reserve", i+1)
	case !h.Legs[i].Rideable(h.Legs[i].Allowed):
		return "" // no bike is ridden so: that there is not enough is said already
	default:
		return fmt.Sprintf("; %s on leg %d", v.Units.AtMost(h.Legs[i].Allowed), i+1)
	}
}
