package words

import (
	"fmt"

	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/fuel/learn"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// TankOf says from where to where a tank of the ride so far was ridden.
func (v Voice) TankOf(t here.Happened) string {
	if !t.HasSpan {
		return "not said where" + ranDry(t)
	}
	name := func(e trip.End, at route.Metres) string {
		switch {
		case !t.HasEnds:
			return v.Km(at)
		case e.HasStop():
			return v.Name(v.Plan.Stops[e.Stop].Name)
		case e.Kind == trip.AtStart:
			return "the start"
		}
		return "the end"
	}
	return fmt.Sprintf("%s to %s", name(t.FromEnd, t.From), name(t.ToEnd, t.To)) + ranDry(t)
}

func ranDry(t here.Happened) string {
	if t.Dry {
		return ", dry there"
	}
	return ""
}

// HowItWent says whether a tank took what was planned, or why nothing was learnt from it.
func (v Voice) HowItWent(t here.Happened) string {
	switch {
	case !t.Told:
		return filled.MadeOf(learn.Step{Why: t.Why})
	case t.Why != "":
		return "out, not learnt from: " + oddWhy(t)
	case t.NoGround:
		return "ground not said: planned as paved"
	case t.In():
		return "in"
	case t.Over():
		return "out: more than high"
	}
	return "out: less than low"
}

// oddWhy asks what may be wrong with a tank that took over twice or under half of what was planned.
func oddWhy(t here.Happened) string {
	if t.Over() {
		return "is the trip or a unit wrong, or does it leak?"
	}
	return "is a fill missing, or the trip wrong?"
}
