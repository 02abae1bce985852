package trail

import (
	"fmt"
	"math"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/outward"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// A Sentence is one on the strip for the tank bag, and how much it has to be seen.
type Sentence struct {
	Text   string
	How    Emphasis
	Behind bool // it may stand on the line of the one before it
}

// An Emphasis is how much a sentence has to be seen.
type Emphasis int

// Its degrees.
const (
	Plain  Emphasis = iota
	Firm            // a figure to ride by
	Strong          // a doubt
	Action          // to be done
	Framed          // before anything else
)

// A CueText is what there is to do at a cue.
type CueText struct {
	Figure string // on the trip meter, without the unit
	Place  string // where, or what
	Do     []Sentence
	Ahead  []Sentence // of the leg that begins here
}

// Cue says what there is to do at a cue.
func (v Voice) Cue(c cue.Cue) CueText {
	out := CueText{Figure: v.Units.Nearest(c.Trip)}
	switch c.Kind {
	case cue.Start:
		out.Place, out.Do, out.Ahead = v.RideStart(), v.start(c), append(v.ahead(0), v.bailOuts(0)...)
	case cue.Part:
		out.Place = v.Part(c.Part)
	case cue.Pour:
		out.Figure, out.Place, out.Do = fmt.Sprintf("%.0f", v.PourTrip(c)), "POUR THE CAN",
			[]Sentence{{Text: v.Pouring(v.Plan.Can.Uses[c.Use])}}
	case cue.WayOut:
		_, to := v.Ends(c.Leg)
		out.Place = "WAY OUT"
		out.Do = []Sentence{{Text: fmt.Sprintf("%s; the last before %s", outward.Of(v.Voice).Told(v.Plan.Legs[c.Leg].WayOut), to)}}
	case cue.TurnBack:
		from, _ := v.Ends(c.Leg)
		out.Figure, out.Place = v.Units.Whole(c.Trip), "TURN BACK"
		out.Do = []Sentence{{Text: fmt.Sprintf("here at the latest if you doubt what is ahead: back to %s", from)}}
	case cue.Fill:
		out.Place = v.Name(v.Plan.Visits[c.Visit].Stop.Name)
		out.Do = v.fill(c)
		if next := c.Leg + 1; next < len(v.Plan.Legs) {
			out.Ahead = append(v.ahead(next), v.bailOuts(next)...)
		}
	case cue.End:
		out.Place, out.Do = v.RideEnd(), []Sentence{{Text: "THE RIDE ENDS: no pump is counted here", How: Action}}
		if n := len(v.Plan.Days); n > 0 {
			out.Do = append(out.Do, Sentence{Text: there(v.Plan.Days[n-1].There), How: Firm})
		}
	}
	return out
}

// Part names a part of the file, by its number where it has no name.
func (v Voice) Part(i int) string {
	p := v.Plan.Line.Parts[i]
	if name := v.Name(p.Name); strings.TrimSpace(name) != "" {
		return name
	}
	return fmt.Sprintf("part %d", p.Number)
}

// PourTrip gives the trip figure of a pour in whole units: rounded up, since before it the
// can does not fit, but never past where a thirsty bike is nearly dry.
func (v Voice) PourTrip(c cue.Cue) float64 {
	u, use := v.Units, v.Plan.Can.Uses[c.Use]
	from := math.Ceil(u.DistanceIn(c.Trip) - leg.Hair)
	if by := math.Floor(u.DistanceIn(use.PourBy) + leg.Hair); use.Full > 0 && from > by {
		return by
	}
	return from
}

// start says how the ride sets out.
func (v Voice) start(c cue.Cue) []Sentence {
	s := v.Plan.Start
	grade := s.Grade.String()
	switch {
	case s.Mixture != nil:
		grade = words.Mixture(*s.Mixture)
	case s.Assumed:
		grade += " (assumed)"
	}
	tank := fmt.Sprintf("%s in the tank, of %s", v.Units.Held(s.Fuel), grade)
	if s.Fuel >= v.Plan.Bike.Usable()-leg.Hair {
		tank = "FULL: " + tank
	}
	out := []Sentence{{Text: tank, How: Strong}}
	if c.Visit >= 0 {
		out = append(out, DoubtAhead(v.Plan.Visits[c.Visit])...)
		if f := v.Plan.Visits[c.Visit].Fill; f.High > 0 {
			out = append(append(out, v.hour(c.Visit)...), v.take(*f)...)
		} else if v.Plan.Legs[0].Verdict != leg.OK || c.Use >= 0 {
			out = append(out, Sentence{Text: "TOP UP" + strings.Replace(v.grade(*f), " of ", " with ", 1), How: Action})
		}
	}
	out = append(out, v.canFilled(c)...)
	return append(append(out, v.zero()), v.standing(c)...)
}

// DoubtAhead says what to do at a pump because of what follows it.
func DoubtAhead(at trip.Visit) []Sentence {
	switch {
	case at.LastFuel != nil:
		return []Sentence{{Text: "FILL UP: DOUBTFUL AHEAD", How: Framed}}
	case at.UnsureAhead:
		return []Sentence{{Text: "FILL UP: nobody is sure of this pump, nor of what follows", How: Strong}}
	}
	return nil
}

func (v Voice) zero() Sentence { return Sentence{Text: "ZERO THE TRIP", How: Action} }

// take says how much of what to fill in.
func (v Voice) take(f leg.Fill) []Sentence {
	out := []Sentence{{Text: fmt.Sprintf("FILL %s%s", v.Units.Needed(f.Litres), v.grade(f)), How: Action}}
	if f.High > f.Low {
		out = append(out, Sentence{Text: fmt.Sprintf("(%s–%s %s)", v.Units.VolumeUp(f.Low), v.Units.VolumeUp(f.High),
			v.Units.VolumeUnit()), How: Firm, Behind: true})
	}
	return out
}

// grade says which petrol to take.
func (v Voice) grade(f leg.Fill) string {
	switch {
	case !f.HasGrade:
		return ", grade unknown"
	case f.Verdict == octane.Below:
		return fmt.Sprintf(" of %s (low)", f.Grade)
	case f.Verdict == octane.Doubtful:
		return fmt.Sprintf(" of %s (doubtful)", f.Grade)
	}
	return " of " + f.Grade.String()
}

// fill says what to do at a pump on the way.
func (v Voice) fill(c cue.Cue) []Sentence {
	at := v.Plan.Visits[c.Visit]
	var out []Sentence
	out = append(out, DoubtAhead(at)...)
	out = append(out, v.hour(c.Visit)...)
	out = append(out, v.take(*at.Fill)...)
	out = append(out, v.canFilled(c)...)
	if next := c.Leg + 1; next < len(v.Plan.Legs) && c.Can <= 0 && v.Plan.Legs[next].Can > 0 {
		// Who had to pour at a dry pump fills it again here.
		can := v.Units.Held(v.Plan.Legs[next].Can)
		out = append(out, Sentence{Text: fmt.Sprintf("leave with %s in the can", can), Behind: true})
	}
	if c.Leg+1 < len(v.Plan.Legs) {
		out = append(out, v.zero())
	} else {
		out = append(out, Sentence{Text: "THE RIDE ENDS", How: Action})
	}
	out = append(out, v.standing(c)...)
	if at.IfDry != nil {
		out = append(out, v.IfDryOnStrip(*at.IfDry, c.Leg))
	}
	return append(out, v.nightHere(c.Visit)...)
}

// canFilled says what goes into the can here, and for what.
func (v Voice) canFilled(c cue.Cue) []Sentence {
	if c.Use < 0 {
		return nil
	}
	u := v.Plan.Can.Uses[c.Use]
	_, to := words.EndsOf(v.Plan, u.Leg)
	why := fmt.Sprintf(", for the way to %s", v.Name(to))
	if u.Why == trip.ForDryPump {
		why = fmt.Sprintf(", in case %s is dry", v.Name(to))
	}
	return []Sentence{{Text: fmt.Sprintf("FILL THE CAN: %s%s", v.Units.Needed(c.Can), why), How: Action}}
}

// standing says what is to know of a pump: which way it lies and how far off the line, when
// it is open, what is paid with, its telephone, whether it is only from a map, and which
// others are at its place.
func (v Voice) standing(c cue.Cue) (out []Sentence) {
	if c.Visit < 0 {
		return nil
	}
	at := v.Plan.Visits[c.Visit]
	say := func(how Emphasis, text string) {
		if text != "" {
			out = append(out, Sentence{Text: text, How: how, Behind: len(out) > 0})
		}
	}
	say(Firm, v.OffTheLine(c))
	say(Plain, v.OpenAndPaid(at.Stop))
	if at.Stop.Phone != "" {
		say(Plain, "phone "+at.Stop.Phone)
	}
	if at.Stop.Standing == stop.Map {
		say(Plain, words.OnMap)
	}
	if len(at.Also) > 0 {
		also := make([]string, len(at.Also))
		for i, n := range at.Also {
			also[i] = v.Name(n)
		}
		say(Plain, "also here: "+strings.Join(also, ", "))
	}
	return out
}

// OpenAndPaid says when a pump is open by the list, and what is paid with there.
func (v Voice) OpenAndPaid(s stop.Stop) string {
	hours, pay := "hours not known", "pay not known"
	if s.Hours != "" {
		hours = "open " + strings.ReplaceAll(strings.ReplaceAll(s.Hours, ", ", ","), ",", ", ")
	}
	if s.Pay != "" {
		pay = "pay " + s.Pay
	}
	return hours + "; " + pay
}

// ahead says what to know of the leg that begins here.
func (v Voice) ahead(i int) []Sentence {
	l := v.Plan.Legs[i]
	_, to := words.EndsOf(v.Plan, i)
	out := v.Failing(i)
	out = append(out, v.mixture(l.Mixture)...)
	out = append(out, Sentence{Text: fmt.Sprintf("next at %s: %s", v.Units.Nearest(l.Trip(v.Plan.Bike)), v.Name(to))})
	if l.TurnBackBy <= 0 {
		out = append(out, Sentence{Text: NoTurningBack})
	}
	return append(out, Sentence{Text: fmt.Sprintf("reserve untouched to %s; dry at %s, at %s if thirsty",
		v.Units.Whole(l.SafeTo), v.Units.Whole(l.DryAt), v.Units.Whole(l.DryAtHigh)), How: Firm})
}

// Failing says of a leg that is not OK how it fails.
func (v Voice) Failing(i int) []Sentence {
	l := v.Plan.Legs[i]
	_, to := words.EndsOf(v.Plan, i)
	to = v.Name(to)
	var how string
	switch {
	case l.Verdict == leg.Short:
		how = fmt.Sprintf("%s too little to reach %s", v.Units.Needed(l.Short), to)
	case l.Verdict != leg.Tight:
		return nil
	case l.Arrive < l.Kept:
		how = fmt.Sprintf("at %s with %s, the reserve is %s", to, v.Units.Held(l.Arrive), v.Units.Needed(l.Kept))
	default:
		how = fmt.Sprintf("at the high figure dry before %s", to)
	}
	return []Sentence{{Text: fmt.Sprintf("%s: %s", l.Verdict, how), How: Strong}}
}

// mixture says of what is in the tank on a leg that it may not do.
func (v Voice) mixture(m leg.Mixture) []Sentence {
	what, how := "", Plain
	switch m.Verdict {
	case octane.Below:
		what, how = "LOW GRADE", Strong
	case octane.Doubtful:
		what = "grade doubtful"
	case octane.NotKnown:
		what = "grade unknown"
	default:
		return nil
	}
	return []Sentence{{Text: fmt.Sprintf("%s: %s, needs %s", what, words.Mixture(m), v.Plan.Bike.Needs), How: how}}
}

// NoTurningBack is said of a leg that is too long for it.
const NoTurningBack = "no turning back with the reserve untouched"

// IfDryOnStrip says what becomes of the ride if a pump is dry, on the strip, at the pump at the end of a leg.
func (v Voice) IfDryOnStrip(d trip.IfDry, i int) Sentence {
	if d.Outcome == leg.Stranded {
		text := "IF DRY: STRANDED, " + v.ShortOf(d, v.Units.Needed)
		if d.Off != nil && d.Off.Why != "" {
			text += "; " + v.PerhapsOff(*d.Off)
		}
		return Sentence{Text: text, How: Strong}
	}
	high := v.IfThirsty(d)
	if high != "" && !d.Bare {
		high = "; if thirsty back to " + v.Called(d.Back)
	}
	if d.Outcome != leg.Off && d.High == leg.Off {
		high = "; if thirsty off to " + v.Off(*d.Off)
	}
	if d.Outcome == leg.Off {
		return Sentence{Text: fmt.Sprintf("if dry: off to %s, %s spare", v.Off(*d.Off), v.Units.Held(d.Spare)), How: Strong}
	}
	return Sentence{Text: fmt.Sprintf("if dry: %s to %s, %s spare", d.Outcome, v.Goal(d), v.Units.Held(d.Spare)) + high}
}

// IfDryTold says it in the notes of a waypoint.
func (v Voice) IfDryTold(d trip.IfDry) string {
	if d.Outcome == leg.Stranded {
		return fmt.Sprintf("you are stranded, %s: ask before you come here", v.ShortOf(d, v.Units.Needed))
	}
	if d.Outcome == leg.Off {
		return fmt.Sprintf("off to %s, %s to spare if thirsty", v.Off(*d.Off), v.Units.Held(d.Spare))
	}
	return fmt.Sprintf("%s to %s, %s to spare", d.Outcome, v.Goal(d), v.Units.Held(d.Spare)) + v.IfThirsty(d)
}
