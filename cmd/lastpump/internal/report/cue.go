package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route"
)

// A said is one thing that is said at a cue.
type said struct {
	text string
	how  loudness
}

// A loudness is how much something has to be seen.
type loudness int

const (
	plain  loudness = iota
	firm            // a figure to ride by
	strong          // to be done, or a doubt
	framed          // before anything else
)

// A cueText is what there is to do at a cue, in words.
type cueText struct {
	figure string // on the trip meter, in the units of the plan, without the unit
	place  string // where, or what
	do     []said
	ahead  []said // the leg that begins here
}

// A teller says in words what a plan has in figures: litres you have rounded down, litres
// you need up, a place to turn back at down, one to pour from up. name gives a place as
// it is to be written.
type teller struct {
	p    *plan.Plan
	u    fuel.Units
	name func(string) string
}

func newTeller(p *plan.Plan, name func(string) string) teller {
	return teller{p: p, u: p.Options.Units, name: name}
}

// called names a place for a reader.
func (t teller) called(to string) string { return t.name(t.p.NameOf(to)) }

// down rounds a trip-meter figure down to the whole kilometre or mile, near to the nearest.
func (t teller) down(m route.Metres) string {
	return fmt.Sprintf("%.0f", math.Floor(t.u.DistanceIn(m)+hair)+0)
}

func (t teller) near(m route.Metres) string {
	if d := t.u.DistanceIn(m); d >= 0.05 && d < 9.95 {
		return fuel.Near(d)
	}
	return fmt.Sprintf("%.0f", t.u.DistanceIn(m))
}

// hair keeps a whole number, which binary holds as a little more or less, from being
// rounded to the next.
const hair = 1e-9

// cue says what there is to do at a cue.
func (t teller) cue(c plan.Cue) cueText {
	out := cueText{figure: t.near(c.Trip)}
	switch c.Kind {
	case plan.CueStart:
		out.place, out.do, out.ahead = t.called("start"), t.start(c), t.ahead(0)
	case plan.CuePart:
		out.place = t.part(c.Part)
	case plan.CuePour:
		out.figure, out.place, out.do = fmt.Sprintf("%.0f", pourTrip(t.p, c)), "POUR THE CAN", []said{{text: t.p.Can.Uses[c.Use].Pouring(t.u)}}
	case plan.CueTurnBack:
		from, _ := t.p.Ends(c.Leg)
		out.figure, out.place = t.down(c.Trip), "TURN BACK"
		out.do = []said{{text: fmt.Sprintf("here at the latest if you doubt what is ahead: back to %s", t.name(from))}}
	case plan.CueFill:
		out.place = t.name(t.p.Visits[c.Visit].Stop.Name)
		out.do = t.fill(c)
		if next := c.Leg + 1; next < len(t.p.Legs) {
			out.ahead = t.ahead(next)
		}
	case plan.CueEnd:
		out.place, out.do = t.called("end"), []said{{text: "THE RIDE ENDS: no pump is counted here", how: strong}}
	}
	return out
}

// part names a part of the file, by its number where it has no name.
func (t teller) part(i int) string {
	p := t.p.Line.Parts[i]
	if strings.TrimSpace(p.Name) == "" {
		return fmt.Sprintf("part %d", p.Number)
	}
	return t.name(p.Name)
}

// pourTrip gives the trip figure of a pour in whole units: rounded up, since before it the
// can does not fit, but never past where a thirsty bike is nearly dry.
func pourTrip(p *plan.Plan, c plan.Cue) float64 {
	u, use := p.Options.Units, p.Can.Uses[c.Use]
	from := math.Ceil(u.DistanceIn(c.Trip) - hair)
	if by := math.Floor(u.DistanceIn(use.PourBy) + hair); use.Full > 0 && from > by {
		return by
	}
	return from
}

// start says how the ride sets out.
func (t teller) start(c plan.Cue) []said {
	s := t.p.Start
	grade := s.Grade.String()
	switch {
	case s.Mixture != nil:
		grade = s.Mixture.String()
	case s.Assumed:
		grade += " (assumed)"
	}
	tank := fmt.Sprintf("%s in the tank, of %s", t.u.Held(s.Fuel), grade)
	if s.Fuel >= t.p.Bike.Usable()-hair {
		tank = "FULL: " + tank
	}
	out := []said{{text: tank, how: strong}}
	if c.Visit >= 0 {
		if f := t.p.Visits[c.Visit].Fill; f.High > 0 {
			out = append(out, said{text: t.take(*f), how: strong})
		} else if t.p.Legs[0].Verdict != plan.OK || c.Use >= 0 {
			out = append(out, said{text: "top up " + t.grade(*f)})
		}
	}
	out = append(out, t.canFilled(c)...)
	return append(out, t.zero(), t.standing(c))
}

func (t teller) zero() said { return said{text: "ZERO THE TRIP", how: strong} }

// take says how much of what to fill in.
func (t teller) take(f plan.Fill) string {
	s := fmt.Sprintf("FILL %s %s", t.u.Needed(f.Litres), t.grade(f))
	if f.High > f.Low {
		s += fmt.Sprintf(" (%s–%s)", t.u.VolumeUp(f.Low), t.u.VolumeUp(f.High))
	}
	return s
}

// grade says which petrol to take.
func (t teller) grade(f plan.Fill) string {
	switch {
	case !f.HasGrade:
		return "of grade ?"
	case f.Verdict == octane.Below:
		return fmt.Sprintf("of %s (low)", f.Grade)
	case f.Verdict == octane.Doubtful:
		return fmt.Sprintf("of %s (doubtful)", f.Grade)
	}
	return "of " + f.Grade.String()
}

// fill says what to do at a pump on the way.
func (t teller) fill(c plan.Cue) []said {
	v := t.p.Visits[c.Visit]
	var out []said
	if v.LastFuel {
		out = append(out, said{text: "LAST SURE FUEL", how: framed})
	}
	if t.stillFull(c.Leg) {
		out = append(out, said{text: "can still full: pour it first; if it is dry, ride on with it"})
	}
	out = append(out, said{text: t.take(*v.Fill), how: strong})
	out = append(out, t.canFilled(c)...)
	if c.Leg+1 < len(t.p.Legs) {
		out = append(out, t.zero())
	} else {
		out = append(out, said{text: "THE RIDE ENDS", how: strong})
	}
	out = append(out, t.standing(c))
	if v.IfDry != nil {
		out = append(out, t.ifDry(*v.IfDry, t.without(c.Leg)))
	}
	return out
}

// stillFull tells whether a leg has asked for a can that fits into the tank nowhere on it.
func (t teller) stillFull(leg int) bool {
	use := slices.IndexFunc(t.p.Can.Uses, func(u plan.Use) bool { return u.Leg == leg })
	return use >= 0 && !slices.ContainsFunc(t.p.Roll, func(c plan.Cue) bool { return c.Kind == plan.CuePour && c.Use == use })
}

// canFilled says what goes into the can for the leg that begins here.
func (t teller) canFilled(c plan.Cue) []said {
	if c.Use < 0 {
		return nil
	}
	u := t.p.Can.Uses[c.Use]
	_, to := t.p.Ends(u.Leg)
	why := ""
	if u.Why == "dry" {
		why = fmt.Sprintf(", in case %s is dry", t.name(to))
	}
	if u.Full <= 0 {
		return []said{{text: fmt.Sprintf("TAKE %s MORE%s: no can sold holds it", t.u.Needed(u.Litres), why), how: strong}}
	}
	out := []said{{text: fmt.Sprintf("FILL THE CAN: %s%s", t.u.Can(u.Full), why), how: strong}}
	if own := t.p.Bike.Can; own > 0 && own < u.Full {
		out = append(out, said{text: fmt.Sprintf("yours of %s is too small", t.u.Can(own))})
	}
	return out
}

// standing says what is to know of a pump: whether it lies off the line, is only from a
// map, and which others are at its place.
func (t teller) standing(c plan.Cue) said {
	if c.Visit < 0 {
		return said{}
	}
	v := t.p.Visits[c.Visit]
	var parts []string
	if v.Off > offLine {
		parts = append(parts, t.u.Distance(v.Off)+" off the line")
	}
	if v.Stop.Standing == "map" {
		parts = append(parts, "only from a map")
	}
	if len(v.Also) > 0 {
		also := make([]string, len(v.Also))
		for i, n := range v.Also {
			also[i] = t.name(n)
		}
		parts = append(parts, "also here: "+strings.Join(also, ", "))
	}
	return said{text: strings.Join(parts, "; ")}
}

// offLine is how far a pump lies off before it has to be said.
const offLine route.Metres = 300

// ifDry says what becomes of it if the pump is dry.
func (t teller) ifDry(d plan.IfDry, without string) said {
	to := t.called(d.To)
	if d.Outcome == plan.Stranded {
		return said{text: fmt.Sprintf("IF DRY: STRANDED%s, %s short of %s", without, t.u.Needed(-d.Spare), to), how: strong}
	}
	s := fmt.Sprintf("if dry: %s to %s, %s spare", d.Outcome, to, t.u.Held(d.Spare))
	if d.Bare {
		s += ", not at the high figure"
	}
	return said{text: s}
}

// ahead says what to know of the leg that begins here.
func (t teller) ahead(i int) []said {
	l := t.p.Legs[i]
	_, to := t.p.Ends(i)
	out := t.verdict(i)
	out = append(out, t.mixture(l.Mixture)...)
	out = append(out, said{text: fmt.Sprintf("next at %s: %s", t.near(l.Trip(t.p.Bike)), t.name(to))})
	if l.TurnBackBy <= 0 {
		out = append(out, said{text: "no turning back with the reserve whole"})
	}
	return append(out, said{"reserve whole to " + t.down(l.SafeTo), firm},
		said{fmt.Sprintf("dry at %s–%s", t.down(l.DryAtHigh), t.down(l.DryAt)), firm})
}

// verdict says of a leg that is not OK how it fails.
func (t teller) verdict(i int) []said {
	l := t.p.Legs[i]
	_, to := t.p.Ends(i)
	to = t.name(to)
	var how string
	switch {
	case l.Verdict == plan.Short:
		how = fmt.Sprintf("%s too little to reach %s", t.u.Needed(l.Short), to)
	case l.Verdict != plan.Tight:
		return nil
	case l.Arrive < l.Kept:
		how = fmt.Sprintf("at %s with %s, the reserve is %s", to, t.u.Held(l.Arrive), t.u.Needed(l.Kept))
	default:
		how = fmt.Sprintf("at the high figure dry before %s", to)
	}
	return []said{{text: fmt.Sprintf("%s%s: %s", l.Verdict, t.without(i), how), how: strong}}
}

// without says that figures of a leg leave out the can that is to be filled for it, which
// the bike does not have in the plan.
func (t teller) without(leg int) string {
	own := t.p.Legs[leg].Can > 0
	if own || !slices.ContainsFunc(t.p.Can.Uses, func(u plan.Use) bool { return u.Leg == leg && u.Full > 0 }) {
		return ""
	}
	return " without the can"
}

// mixture says of what is in the tank on a leg that it may not do.
func (t teller) mixture(m plan.Mixture) []said {
	what, how := "", plain
	switch m.Verdict {
	case octane.Below:
		what, how = "LOW GRADE", strong
	case octane.Doubtful:
		what = "grade doubtful"
	case octane.NotKnown:
		what = "grade ?"
	default:
		return nil
	}
	return []said{{fmt.Sprintf("%s: %s in the tank, needs %s", what, m, t.p.Bike.Needs), how}}
}
