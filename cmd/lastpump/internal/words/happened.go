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
		return "not said where"
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
	return fmt.Sprintf("%s to %s", name(t.FromEnd, t.From), name(t.ToEnd, t.To))
}

// HowItWent says whether a tank took what was planned, or why nothing was learnt from it.
func (v Voice) HowItWent(t here.Happened) string {
	switch {
	case !t.Told:
		return filled.MadeOf(learn.Step{Why: t.Why})
	case t.In():
		return "in"
	case t.Why != "":
		return "out, not learnt from: is a fill missing?"
	case t.Over():
		return "out: more than high"
	}
	return "out: less than low"
}
