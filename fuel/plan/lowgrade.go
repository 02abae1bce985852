package plan

import (
	"cmp"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/octane"
)

// LowGrade says what a plan tells of stops that sell only below the need.
type LowGrade string

// The rules for low grade.
const (
	LowGradeLeast LowGrade = "least" // the least that reaches better petrol, beside the full fill
	LowGradeFull  LowGrade = "full"  // the full fill alone
)

// A LowStretch is the way from a stop that sells only below the need to the next
// one that meets it. The plan fills to the brim there; Fills say how little would
// do.
type LowStretch struct {
	Visits  []int       // of the stops on it that do not meet, in order
	To      string      // the next stop that meets; "end" where there is none
	Fills   []LowFill   // one for each of Visits
	Least   fuel.Litres // of Fills together
	Full    fuel.Litres // to the brim at each of Visits, together
	Lift    *Lift       // good petrol in a can that keeps the mixture up; nil where none can
	Steeper []int       // legs of the stretch that are ridden below the need, by their climb, most first
	Risks   []string    // places that, if dry, strand or are bare where the least was taken, but not on a full tank
}

// A LowFill is the least at one stop.
type LowFill struct {
	Visit     int
	Leg       int // that it is for
	Litres    fuel.Litres
	Grade     octane.Grade
	HasGrade  bool // false where nothing is taken or no grade is tagged
	TankAfter fuel.Litres
	Mixture   Mixture // after it
	Arrive    fuel.Litres
	Kept      fuel.Litres
	Whole     bool // the reserve is kept and the high figure holds; false where no tank is enough
}

// A Lift is good petrol carried in a can and poured at the stops of a low stretch
// in place of as much of what they sell, so that the mixture meets on every leg.
type Lift struct {
	From   string // where the can is filled: the last stop that meets, or the start
	Grade  octane.Grade
	Litres fuel.Litres
	Size   CanSize
	Pours  []fuel.Litres // at each of the stretch's Visits
}

// lowGrade gives the stretches of low grade, with the least that does on each.
func (d *draft) lowGrade() []LowStretch {
	if d.in.Options.LowGrade == LowGradeFull {
		return nil
	}
	var out []LowStretch
	last := len(d.plan.Legs)
	for k := 0; k < last; k++ {
		if d.nodes[k].visit < 0 || !d.onlyBelow(d.plan.Visits[d.nodes[k].visit]) {
			continue
		}
		to := k + 1
		for to < last && !d.meetsAt(to) {
			to++
		}
		if !slices.ContainsFunc(d.plan.Legs[k:to], func(l Leg) bool { return l.Can > 0 }) { // else the can is needed anyway
			out = append(out, d.lowStretch(k, to))
		}
		k = to - 1
	}
	return out
}

// onlyBelow tells whether a stop sells petrol, and none that may meet the need.
func (d *draft) onlyBelow(v Visit) bool {
	return len(v.Stop.Grades) > 0 && !slices.ContainsFunc(v.Stop.Grades, func(g octane.Grade) bool {
		return g.Against(d.bike.Needs) != octane.Below
	})
}

// meetsAt tells whether a node's stop sells a grade that meets.
func (d *draft) meetsAt(k int) bool {
	return d.nodes[k].visit >= 0 && d.hasMeeting(d.plan.Visits[d.nodes[k].visit])
}

// lowStretch works out the way from node k to node to.
func (d *draft) lowStretch(k, to int) LowStretch {
	s := LowStretch{To: d.nodes[to].name}
	for j := k; j < to; j++ {
		v := d.nodes[j].visit
		s.Visits = append(s.Visits, v)
		s.Full += d.plan.Visits[v].Fill.Litres
	}
	s.Fills = d.least(k, to)
	for _, f := range s.Fills {
		s.Least += f.Litres
	}
	s.Lift = d.lift(k, s.Fills)
	for _, f := range s.Fills {
		if f.Mixture.Verdict == octane.Below || d.below(f.Leg) {
			s.Steeper = append(s.Steeper, f.Leg)
		}
	}
	slices.SortStableFunc(s.Steeper, func(a, b int) int {
		return cmp.Compare(d.plan.Legs[b].Drink.Up, d.plan.Legs[a].Drink.Up)
	})
	s.Risks = d.risks(s.Fills)
	return s
}

// risks gives the places that strand or are bare if they are dry and only the least
// was taken before them, but not on a full tank.
func (d *draft) risks(fills []LowFill) []string {
	var out []string
	for _, f := range fills {
		full, least := d.ifDry(f.Leg+1), d.ifDryWith(f.Leg+1, f.TankAfter, hair)
		if least != nil && least.risk() > full.risk() {
			out = append(out, d.nodes[f.Leg+1].name)
		}
	}
	return out
}

// risk ranks what a dry place does: 0 where it may be ridden past or back from, 1 where
// that fails on the high figures, 2 where it strands.
func (d *IfDry) risk() int {
	switch {
	case d.Outcome == Stranded:
		return 2
	case d.Bare:
		return 1
	}
	return 0
}

// fails tells whether a dry place strands, if not on the likely figures then on the
// high ones.
func (d *IfDry) fails() bool { return d.Outcome == Stranded || d.Bare }

// lift gives the good petrol from the last stop that meets which, poured in place of
// as much of each low fill, keeps the mixture at what meets; nil where no such petrol
// can. Petrol that is poured early is partly burnt when the next low fill comes:
// pouring as little as meets, each time, takes the least in all.
func (d *draft) lift(k int, fills []LowFill) *Lift {
	l, ok := d.lifter(k)
	if !ok {
		return nil
	}
	need := d.bike.Needs
	good := l.Grade.In(need.Scale)
	tank := d.arriving[k]
	for i, f := range fills {
		j := k + i
		v := d.plan.Visits[d.nodes[j].visit]
		poor, ok := f.interval(need)
		if !ok && f.Litres > 0 {
			return nil // of no known grade
		}
		low := tank.AddMixture(fillOf(f.Litres, poor, need))
		pour := fuel.Litres(0)
		if low.Low() < need.Number-octane.MeetsWithin {
			lack := low.Volume() * (need.Number - octane.MeetsWithin - low.Low())
			pour = fuel.Litres(lack / (good.Low - poor.Low))
		}
		if !(pour <= f.Litres+hair) || good.Low <= poor.Low && pour > 0 || v.Fill == nil {
			return nil
		}
		pour = min(pour, f.Litres)
		tank = tank.AddMixture(fillOf(f.Litres-pour, poor, need)).AddGrade(float64(pour), l.Grade, need)
		l.Pours = append(l.Pours, pour)
		l.Litres += pour
		tank = drawnTo(tank, max(0, f.Arrive)+d.bike.Unusable)
	}
	if l.Size = canSize(l.Litres); l.Litres <= 0 || l.Size.TooBig {
		return nil
	}
	return &l
}

// interval gives what the fill is worth in the scale of the need; ok is false where
// it is not known.
func (f LowFill) interval(need octane.Grade) (octane.Interval, bool) {
	if !f.HasGrade {
		return octane.Interval{Scale: need.Scale}, false
	}
	return f.Grade.In(need.Scale), true
}

// fillOf is a volume of petrol on its own.
func fillOf(l fuel.Litres, worth octane.Interval, need octane.Grade) octane.Mixture {
	worth.Scale = need.Scale
	m, _ := octane.Mixture{}.Add(float64(l), worth) // into an empty tank of no scale: no error
	return m
}

// lifter says where the can for a low stretch is filled and with what: the best that
// the last stop that meets sells, or what is in the tank at the start.
func (d *draft) lifter(k int) (Lift, bool) {
	for j := k - 1; j >= 0; j-- {
		if !d.meetsAt(j) {
			continue
		}
		v := d.plan.Visits[d.nodes[j].visit]
		grades := d.lowestFirst(v.Stop.Grades)
		return Lift{From: d.nodes[j].name, Grade: grades[len(grades)-1]}, true
	}
	if k > 0 && d.nodes[0].visit < 0 && !d.noFill(0) {
		return Lift{From: "start", Grade: d.plan.Start.Grade}, true
	}
	return Lift{}, false
}

// lessOfIt offers the least of the low grade as a cure, where the tank is then not
// below grade and no dry pump strands that would not strand on a full tank.
func (h *healer) lessOfIt() {
	s, f, ok := h.lowFill()
	if !ok || f.Mixture.Verdict == octane.Below || len(s.Risks) > 0 || !f.Whole || h.passes(s) {
		return
	}
	h.found = append(h.found, Cure{Text: h.takeOnly(s, f.Leg), Cost: CostNothing, Verdict: string(f.Mixture.Verdict)})
}

// passes tells whether it is said already that the stops of a low stretch are ridden past.
func (h *healer) passes(s LowStretch) bool {
	return s.Least <= 0 && slices.ContainsFunc(h.found, func(c Cure) bool { return strings.HasPrefix(c.Text, "do not fill at ") })
}

// lifted offers good petrol in a can as a cure of a low stretch.
func (h *healer) lifted() {
	s, f, ok := h.lowFill()
	if !ok || s.Lift == nil || len(s.Risks) > 0 || !f.Whole {
		return
	}
	h.found = append(h.found, Cure{
		Text: h.carryGood(s), Cost: CostCan, Litres: s.Lift.Litres, HasLitres: true, Verdict: string(octane.Meets),
	})
}

// lowFill gives the low stretch of a leg that is below grade, and its fill there.
func (h *healer) lowFill() (LowStretch, LowFill, bool) {
	if h.kind != KindBelowGrade {
		return LowStretch{}, LowFill{}, false
	}
	for _, s := range h.sick.plan.LowGrade {
		for _, f := range s.Fills {
			if f.Leg == h.leg {
				return s, f, true
			}
		}
	}
	return LowStretch{}, LowFill{}, false
}
