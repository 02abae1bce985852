package cure

import (
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
)

// A tally counts all that is wrong with a ride, to tell whether a cure of one thing makes
// another worse.
type tally struct {
	short, tight, below int
	stranded, bare      int         // places that strand if they are dry, and that do at the most
	missing             fuel.Litres // on SHORT legs together
	forAnyDryPump       fuel.Litres // in a can
	canLegs             int         // on which the can is needed
}

func tallyOf(d *trip.Draft) tally {
	t := tally{forAnyDryPump: d.SpareNeeded().ForAnyDryPump}
	t.stranded, t.bare = d.IfAnyDry()
	for i, l := range d.Legs {
		switch l.Verdict {
		case leg.Short:
			t.short++
			t.missing += l.Short
		case leg.Tight:
			t.tight++
		}
		if l.Below() {
			t.below++
		}
		if l.Can > 0 && d.Asked[i].Most() > 0 {
			t.canLegs++
		}
	}
	return t
}

// of gives how many faults of a kind there are.
func (t tally) of(f Fault) int {
	switch f {
	case Short:
		return t.short
	case Tight:
		return t.short + t.tight
	case Stranded:
		return t.stranded
	}
	return t.below
}

// worse tells whether a ride with this tally is worse than one with the other, in
// anything but its grades, which the cure tells by itself. A stop that makes a
// SHORT leg into two good ones may be one that must not be dry: that is better
// than before, and the only trade that is.
func (t tally) worse(than tally) bool {
	if t.missing > than.missing+leg.Hair || t.short > than.short {
		return true
	}
	if t.short < than.short {
		return t.short+t.stranded > than.short+than.stranded
	}
	return t.stranded > than.stranded || t.short+t.tight > than.short+than.tight
}

// riskier tells whether a ride asks for a larger can or leaves more bare if a pump
// is dry: better petrol is not worth that.
func (t tally) riskier(than tally) bool {
	return t.forAnyDryPump > than.forAnyDryPump || t.stranded+t.bare > than.stranded+than.bare
}
