package cure

import (
	"cmp"
	"context"
	"iter"
	"slices"
	"sort"

	"lastpump/fuel/leg"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// work is how many legs may be planned again in all, so that a hopeless ride over
// a thousand stops is not looked at for minutes. A ride of a hundred legs may be
// planned again 4000 times.
const work = 400_000

// A Result is what was found for one complaint: cures, cheapest first, or what is
// lacking. Where nothing mends the worst of several legs, cures are those that mend others.
type Result struct {
	Cures   []Cure
	Lacking *Lacking // nil where there are cures, of the worst leg
}

// Find tries for each complaint about a ride all that might cure it. Each is put into the
// ride and all is planned again; only what then cures is given. Who waits is told how many
// complaints have been seen to. The error is that of the context.
func Find(ctx context.Context, d *trip.Draft, complaints []Complaint, dearths []lowgrade.Dearth,
	tell func(done, of int)) ([]Result, error) {
	left, before := work, tallyOf(d)
	out := make([]Result, len(complaints))
	for i, c := range complaints {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		tell(i, len(complaints))
		if left <= 0 {
			out[i].Lacking = &Lacking{Untried: true}
			continue
		}
		f := finder{Complaint: c, sick: d, before: before, dearths: dearths, left: &left, tried: map[Kind]bool{}}
		if out[i].Cures = f.all(); len(out[i].Cures) == 0 {
			out[i].Cures, out[i].Lacking = f.partly, f.lacking()
		}
	}
	return out, nil
}

// A finder tries cures for one complaint.
type finder struct {
	Complaint
	sick    *trip.Draft
	before  tally
	dearths []lowgrade.Dearth
	left    *int // of the work
	costly  bool // what costs more than litres is looked for, too
	found   []Cure
	partly  []Cure // what mends some of the legs, and not the worst
	tried   map[Kind]bool
}

// all tries everything, and gives what cures, cheapest first: what costs nothing, a
// phone call, a can by its litres, a detour by its length, and all else.
func (f *finder) all() []Cure {
	f.fullStart()
	f.slower()
	f.passBy()
	f.confirmed()
	f.can()
	f.less()
	f.lift()
	f.offLine()
	f.otherWay()
	f.elsewhere()
	if len(f.found) == 0 { // better said with what it costs than not at all
		f.costly = true
		f.less()
		f.lift()
	}
	slices.SortStableFunc(f.found, cheaper)
	slices.SortStableFunc(f.partly, func(a, b Cure) int { return cmp.Or(len(b.Mends)-len(a.Mends), cheaper(a, b)) })
	return f.found
}

// cheaper orders cures by what they cost; of one cost, that first which mends more legs.
func cheaper(a, b Cure) int {
	return cmp.Or(cmp.Compare(a.Cost.rank(), b.Cost.rank()), len(b.Mends)-len(a.Mends), cmp.Compare(a.Detour, b.Detour),
		cmp.Compare(a.carried(), b.carried()))
}

// give lists a cure, and tells whether it mends the worst of the legs: all else is given only
// where nothing does.
func (f *finder) give(c Cure) bool {
	c.Leg = f.Leg
	if f.Fault == Below && !slices.Contains(c.Mends, f.Leg) {
		f.partly = append(f.partly, c)
		return false
	}
	f.found = append(f.found, c)
	return true
}

// A rideable is what a change can be tried on.
type rideable interface {
	Trial(trip.Change) *trip.Draft
}

// A trial is a change that is put into a ride.
type trial struct {
	on     rideable                    // the trip, perhaps turned or begun elsewhere
	where  func(trip.Span) []trip.Span // where a span of the ride lies on it
	change trip.Change                 // on top of nothing
	fewer  bool                        // all of the ride changes: the fault's like must not turn up in another place
}

// asItIs is where a span lies on a ride that is ridden the same way.
func asItIs(s trip.Span) []trip.Span { return []trip.Span{s} }

// try makes a change, plans again, and lists the cure if it is one.
func (f *finder) try(c trip.Change, cure Cure) bool {
	return f.tryOn(trial{f.sick.Trip, asItIs, c.On(f.sick.Change), false}, cure)
}

func (f *finder) tryOn(t trial, cure Cure) bool {
	*f.left -= f.sick.Trip.Work(len(f.sick.Legs))
	f.tried[cure.Kind] = true
	d := t.on.Trial(t.change)
	after := tallyOf(d)
	if t.fewer && (after.of(f.Fault) >= f.before.of(f.Fault) || after.riskier(f.before)) {
		return false
	}
	if after.worse(f.before) || f.Fault == Below && after.below > f.before.below ||
		len(t.change.PassBy) > 0 && after.riskier(f.before) {
		return false
	}
	var cured bool
	if cure.Verdict, cure.Mends, cured = f.verdict(d, t.where); !cured {
		return false
	}
	if t.change.Can == 0 {
		cure.CanLegs = max(0, after.canLegs-f.before.canLegs)
	}
	cure.Below = max(0, after.below-f.before.below)
	return f.give(cure)
}

// verdict gives the new verdict where the complaint lies, the legs below grade that no longer
// are, and whether the complaint is gone, on one of the legs at least.
func (f *finder) verdict(d *trip.Draft, where func(trip.Span) []trip.Span) (string, []int, bool) {
	switch f.Fault {
	case Stranded:
		outcome, cured := f.outcome(d, where(f.on))
		return outcome, nil, cured
	case Below:
		verdict, mends := f.mended(d, where)
		return string(verdict), mends, len(mends) > 0
	}
	worst := leg.OK
	for l := range ridden(d, where(f.on)) {
		worst = leg.Worst(worst, l.Verdict)
	}
	return string(worst), nil, worst == leg.OK || f.Fault == Short && worst != leg.Short
}

// mended lists the legs below grade that no longer are, with the worst mixture on them.
func (f *finder) mended(d *trip.Draft, where func(trip.Span) []trip.Span) (octane.Verdict, []int) {
	worst := octane.Meets
	var mends []int
	for _, i := range f.legs {
		mixture := octane.Meets
		for l := range ridden(d, where(spanOf(f.sick, i, i))) {
			mixture = mixture.Worst(l.Mixture.Verdict)
		}
		if mixture != octane.Below {
			worst, mends = worst.Worst(mixture), append(mends, i)
		}
	}
	return worst, mends
}

// ridden gives the legs that have a part on spans of line. Legs follow each other along it.
func ridden(d *trip.Draft, on []trip.Span) iter.Seq[trip.Leg] {
	return func(yield func(trip.Leg) bool) {
		for _, s := range on {
			first := sort.Search(len(d.Legs), func(i int) bool { return d.Legs[i].ToAt > s.From })
			for _, l := range d.Legs[first:] {
				if l.FromAt >= s.To {
					break
				}
				if !yield(l) {
					return
				}
			}
		}
	}
}

// outcome gives what now happens if the place is dry, which has to hold at the most,
// too: a rescue with nothing left over is none. No place on the spans may strand in its stead.
func (f *finder) outcome(d *trip.Draft, where []trip.Span) (string, bool) {
	now := leg.Outcome("")
	for _, v := range d.Visits {
		if v.IfDry == nil || !slices.ContainsFunc(where, func(s trip.Span) bool { return v.At > s.From && v.At < s.To }) {
			continue
		}
		if v.IfDry.Outcome == leg.Stranded {
			return "", false
		}
		if v.Number == f.place {
			if v.IfDry.Bare {
				return "", false
			}
			now = v.IfDry.Outcome
		}
	}
	return string(now), now != ""
}

// lacking says what is missing where nothing tried cures.
func (f *finder) lacking() *Lacking {
	l := f.sick.Legs[f.Leg]
	missing := l.Short
	var tried []Kind
	for _, k := range Kinds() {
		if f.tried[k] {
			tried = append(tried, k)
		}
	}
	switch f.Fault {
	case Below:
		return &Lacking{Tried: tried, Octane: f.sick.Bike.Needs.Number - octane.ShownDown(l.Mixture.Low)}
	case Stranded:
		missing = f.dryLack() - l.Can
	case Tight:
		missing = l.Lack() - l.Can
	}
	return &Lacking{Tried: tried, Litres: missing, Distance: l.Drink.Rate().Reach(missing)}
}
