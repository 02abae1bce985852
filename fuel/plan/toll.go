package plan

import (
	"lastpump/fuel"
	"lastpump/octane"
)

// riskier tells whether a plan asks for a larger can or leaves more bare if a pump
// is dry: better petrol is not worth that.
func (h *healer) riskier(d *draft) bool {
	if d.can().ForAnyDryPump > h.sick.can().ForAnyDryPump {
		return true
	}
	return d.bare() > h.sick.bare()
}

// bare counts the places at which a dry pump fails on the high figures.
func (d *draft) bare() int {
	n := 0
	for _, v := range d.plan.Visits {
		if v.IfDry != nil && v.IfDry.fails() {
			n++
		}
	}
	return n
}

// canLegs counts the legs on which the bike's can rides full.
func (d *draft) canLegs() (n int) {
	for _, l := range d.plan.Legs {
		if l.Can > 0 {
			n++
		}
	}
	return n
}

// A toll is all that is wrong with a plan, to tell whether a cure of one thing
// makes another worse.
type toll struct {
	short, tight, below, stranded int
	missing                       fuel.Litres // on SHORT legs together
}

func (d *draft) toll() toll {
	var t toll
	for _, l := range d.plan.Legs {
		switch l.Verdict {
		case Short:
			t.short++
			t.missing += l.Short
		case Tight:
			t.tight++
		}
		if l.Mixture.Verdict == octane.Below {
			t.below++
		}
	}
	for _, v := range d.plan.Visits {
		if v.IfDry != nil && v.IfDry.Outcome == Stranded {
			t.stranded++
		}
	}
	return t
}

// of gives how many complaints of a kind there are.
func (t toll) of(k Kind) int {
	switch k {
	case KindShort:
		return t.short
	case KindTight:
		return t.short + t.tight
	case KindStranded:
		return t.stranded
	}
	return t.below
}

// worse tells whether a plan with this toll is worse than one with the other, in
// anything but its grades, which the cure tells by itself. A stop that makes a
// SHORT leg into two good ones may be one that must not be dry: that is better
// than before, and the only trade that is.
func (t toll) worse(than toll) bool {
	if t.missing > than.missing+hair || t.short > than.short {
		return true
	}
	if t.short < than.short {
		return t.short+t.stranded > than.short+than.stranded
	}
	return t.stranded > than.stranded || t.short+t.tight > than.short+than.tight
}

// below tells whether a leg is ridden below grade.
func (d *draft) below(leg int) bool { return d.plan.Legs[leg].Mixture.Verdict == octane.Below }
