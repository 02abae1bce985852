package filled

import (
	"cmp"
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/route"
)

// LearntRemark stands over what was learnt in a bike file.
const LearntRemark = "Learnt from your own tanks: written by `lastpump learn`, which goes on from here. Leave it " +
	"as it is."

// LearntFrom says from how many tanks what is known was learnt.
func LearntFrom(used, left, before int, bike string) string {
	s := fmt.Sprintf("%s: learnt from %s", cmp.Or(bike, "This bike"), tanks(used))
	if before > 0 {
		s += fmt.Sprintf(", after %d that were learnt from before", before)
	}
	if left > 0 {
		s += fmt.Sprintf("; %d %s not learnt from", left, wasOrWere(left))
	}
	return s + "."
}

// tanks counts them: "1 tank", "2 tanks".
func tanks(n int) string {
	if n == 1 {
		return "1 tank"
	}
	return fmt.Sprintf("%d tanks", n)
}

func wasOrWere(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// Thirst says what is known of the thirst: b is the bike by its file.
func Thirst(s learn.State, b fuel.Bike, u units.System) string {
	low, likely, high := s.Thirst()
	rate := func(t float64) string { return u.RateIn(b.Consumption * fuel.Consumption(t)) }
	return fmt.Sprintf("Thirst %.2f, with 9 in 10 between %.2f and %.2f: on paved road %s %s (%s to %s), by the "+
		"bike file %s. A single tank scatters by %.0f %% around that.", likely, low, high, rate(likely), u.RateUnit(),
		rate(low), rate(high), rate(1), 100*s.Tau())
}

// OneLeg says what a leg takes that is planned to take so many litres by the bike file.
func OneLeg(planned fuel.Litres, b learn.Band, u units.System) string {
	return fmt.Sprintf("A leg on paved road for which the bike file says %s takes %s, %s to %s; one in twenty takes more "+
		"than that.", u.Held(planned), u.Needed(b.Likely), u.Held(b.Low), u.Needed(b.High))
}

// MadeOf says what was made of a tank.
func MadeOf(s learn.Step) string {
	switch s.Why {
	case learn.TooFarOff:
		if s.Off > 0 {
			return fmt.Sprintf("not learnt from: %.1f times what was expected", fuel.Exp(s.Off))
		}
		return fmt.Sprintf("not learnt from: %.2f of what was expected", fuel.Exp(s.Off))
	case learn.FillNotWritten:
		return "not learnt from: a fill is missing"
	case learn.FillMissing:
		return "not learnt from: a fill seems to be missing, for it needs more than the tank holds"
	case learn.DistanceUnknown:
		return "not learnt from: the distance is not known"
	case learn.LitresUnknown:
		return "not learnt from: what was filled is not known"
	case learn.NothingRidden:
		return "not learnt from: nothing was ridden"
	}
	switch {
	case s.Weight == 1:
		return "counts whole"
	case s.Weight < 0.5:
		return fmt.Sprintf("far off: counts for %.0f %%", 100*s.Weight)
	}
	return fmt.Sprintf("counts for %.0f %%", 100*s.Weight)
}

// GroundKnown says where the ground of a tank is known from.
func GroundKnown(g fills.Ground) string {
	switch g {
	case fills.OfLine:
		return "line"
	case fills.OfColumns:
		return "log"
	}
	return "–"
}

// Tied says what the tanks have not told apart, and which would.
func Tied(ties []learn.Tie) (out []string) {
	var thirst []string
	for _, t := range ties {
		if t.With == "" {
			thirst = append(thirst, string(t.Ground))
			continue
		}
		out = append(out, fmt.Sprintf("The weights of %s and %s are not told apart. A tank that is mostly on one of them "+
			"would tell.", t.With, t.Ground))
	}
	if len(thirst) > 0 {
		out = append([]string{fmt.Sprintf("The thirst and what %s takes are not told apart: what is too much of one may be "+
			"too little of the other. A tank on paved road would tell.", strings.Join(thirst, " or "))}, out...)
	}
	return out
}

// NoPaved says that only rate × weight is known.
const NoPaved = "No tank had paved kilometres worth the name: only consumption × weight of the grounds is known, " +
	"and not which of the two it is. A tank on paved road would tell."

// A Wanted is a ground of which more is to be known, and how much of it would tell; not OK
// where too many tanks would have to.
type Wanted struct {
	Ground route.Ground
	Far    route.Metres
	OK     bool
}

// Telling says what rides would tell more of grounds.
func Telling(grounds []Wanted, u units.System) (out []string) {
	var never []string
	for _, g := range grounds {
		if !g.OK {
			never = append(never, string(g.Ground))
			continue
		}
		out = append(out, fmt.Sprintf("%s of %s, in tanks that are half on it in turn with paved ones, would halve the "+
			"doubt about it.", u.Distance(g.Far), g.Ground))
	}
	if len(never) > 0 {
		out = append(out, fmt.Sprintf("Twenty tanks more would not halve the doubt about %s.", strings.Join(never, ", ")))
	}
	return out
}

// Scored says how far tanks were forecast from those before them.
func Scored(s learn.Score) string {
	if s.Tanks == 0 {
		return "No tank has been forecast from one before it yet."
	}
	out := fmt.Sprintf("Each forecast from those before it, %s came out %.1f %% off on average; %d of %d lay between low "+
		"and high", tanks(s.Tanks), 100*s.Error, s.Inside, s.Tanks)
	if s.Above > 0 {
		out += fmt.Sprintf(", %d took more than high", s.Above)
	}
	return out + " (9 of 10 are to lie between, 1 of 20 to take more)."
}

// LeftAt says what is left when the lamp comes on, or the tap has to be turned.
func LeftAt(tap bool, left fuel.Litres, sd float64, u units.System) string {
	what := "When the lamp comes on"
	if tap {
		what = "When you have to turn the tap"
	}
	return fmt.Sprintf("%s, %.1f %s usable are left, give or take %.1f.", what, u.VolumeIn(left), u.VolumeUnit(),
		u.VolumeIn(fuel.Litres(sd)))
}

// OpenTold says that a tank that is not full yet has told something.
const OpenTold = "The tank since the last full one has told something, which counts for now; when it is full it " +
	"will tell more."

// NothingNew says that no tank came after those learnt from.
const NothingNew = "Nothing new: no full tank after the last one that was learnt from."

// LearntWritten says where what was learnt is kept.
func LearntWritten(file string, kept []string) string {
	s := "What was learnt is in " + file
	if len(kept) > 0 {
		s += "; what it was before is kept as " + strings.Join(kept, ", ")
	}
	return s + "."
}
