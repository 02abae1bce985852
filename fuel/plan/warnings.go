package plan

import (
	"cmp"
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan/answer"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
)

// warnings lists what fails and what is doubtful, one warning for one cause: in rank order,
// of one kind by what it can do to the rider, then along the line.
func warnings(in Inputs, p *Plan) []Warning {
	w := &warner{Plan: p, in: in}
	w.verdicts()
	w.grades()
	w.dry()
	w.lastFuel()
	w.sureness()
	w.byClock()
	w.list()
	w.line()
	w.ground()
	w.climb()
	w.roads()
	w.notes()
	slices.SortStableFunc(w.out, func(a, b weighed) int {
		return cmp.Or(slices.Index(Kinds(), a.Kind)-slices.Index(Kinds(), b.Kind), cmp.Compare(b.harm, a.harm))
	})
	out := make([]Warning, len(w.out))
	for i, o := range w.out {
		out[i] = o.Warning
	}
	return out
}

type warner struct {
	*Plan
	in  Inputs
	out []weighed
}

// A weighed is a warning with what it can do to the rider, more of it first; it is compared
// within a kind.
type weighed struct {
	Warning
	harm float64
}

// ofLegs warns of legs, of which the worst is told; of none it does not.
func (w *warner) ofLegs(k Kind, worst int, legs []int, f Fact, harm float64) {
	if len(legs) > 0 {
		w.out = append(w.out, weighed{Warning{Kind: k, Leg: worst, Visit: -1, Legs: legs, Fact: f}, harm})
	}
}

// ofVisits warns of visits; of none it does not.
func (w *warner) ofVisits(k Kind, visits []int, f Fact, harm float64) {
	if len(visits) > 0 {
		w.out = append(w.out, weighed{Warning{Kind: k, Leg: -1, Visit: visits[0], Visits: visits, Fact: f}, harm})
	}
}

func (w *warner) add(k Kind, f Fact) {
	w.out = append(w.out, weighed{Warning: Warning{Kind: k, Leg: -1, Visit: -1, Fact: f}})
}

// verdicts warns of each leg that does not hold.
func (w *warner) verdicts() {
	for i, l := range w.Legs {
		switch l.Verdict {
		case leg.Short:
			w.ofLegs(KindShort, i, []int{i}, LegShort{l.Drink.Rate().Reach(l.Short)}, float64(l.Short))
		case leg.Tight:
			before := l.Drink.Rate().Reach(max(0, l.Drink.Fuel.High-l.With()))
			w.ofLegs(KindTight, i, []int{i}, LegTight{before}, float64(l.Asks()-l.With()))
		}
	}
}

// grades warns of petrol below the need: once of legs that follow each other, for the next
// such leg is of another low fill; and once of all that is doubtful, and of all that is not known.
func (w *warner) grades() {
	var below, doubtful, open, fills []int
	for i, l := range w.Legs {
		switch l.Mixture.Verdict {
		case octane.Below:
			below = append(below, i)
			continue
		case octane.Doubtful:
			doubtful = append(doubtful, i)
		case octane.NotKnown:
			open = append(open, i)
		}
		w.below(below)
		below = nil
	}
	w.below(below)
	for i, v := range w.Visits {
		if v.Fill != nil && !v.Fill.HasGrade {
			fills = append(fills, i)
		}
	}
	worst, missing := w.lowest(doubtful)
	w.ofLegs(KindGradeNotKnown, worst, doubtful, MixtureDoubtful{}, missing)
	if worst, missing = w.lowest(open); len(open)+len(fills) > 0 {
		not := Warning{Kind: KindGradeNotKnown, Leg: worst, Visit: -1, Legs: open, Visits: fills, Fact: GradeNotKnown{}}
		if len(fills) > 0 {
			not.Visit = fills[0]
		}
		w.out = append(w.out, weighed{not, missing})
	}
}

// below warns of legs in a row that are ridden on petrol below the need.
func (w *warner) below(legs []int) {
	var fills []int
	for _, i := range legs {
		if k := w.Legs[i].FromVisit; k >= 0 && w.Visits[k].Fill.Litres > 0 && w.Visits[k].Fill.Verdict != octane.Meets {
			fills = append(fills, k)
		}
	}
	worst, missing := w.lowest(legs)
	w.ofLegs(KindBelowGrade, worst, legs, MixtureBelow{fills}, missing)
}

// lowest gives the leg with the least octane, and of several the one that climbs most, and the
// litres times octane that are missing on all of them; -1 where there is none.
func (w *warner) lowest(legs []int) (worst int, missing float64) {
	worst = -1
	for _, i := range legs {
		l := w.Legs[i]
		missing += float64(trip.OctaneMissing(l.Drink.Fuel.Likely, l.Mixture.Low, w.Bike.Needs.Number))
		if worst < 0 || cmp.Or(cmp.Compare(l.Mixture.Low, w.Legs[worst].Mixture.Low),
			cmp.Compare(w.Legs[worst].Drink.Up, l.Drink.Up)) < 0 {
			worst = i
		}
	}
	return worst, missing
}

// What a dry place can do where it does not strand, most first.
const (
	noPumpBehind = 1
	bareIfDry    = 2
)

// dry warns of each place that strands if it is dry, and once of those that do at
// the most alone, and of those from which only a start without a pump is left.
func (w *warner) dry() {
	var bare, noPump []int
	var lack fuel.Litres
	for i, v := range w.Visits {
		if v.IfDry == nil {
			continue
		}
		if v.IfDry.Outcome == leg.Stranded {
			w.ofVisits(KindStranded, []int{i}, StrandedIfDry{}, -float64(v.IfDry.Spare))
		}
		if v.IfDry.Bare {
			bare = append(bare, i)
			to := w.draft.NodeOf(i) - 1
			lack = max(lack, w.draft.DryLack(to, fuel.Most)-w.Legs[to].Can)
		}
		if answer.BackToNoPump(*v.IfDry) {
			noPump = append(noPump, i)
		}
	}
	w.ofVisits(KindNote, bare, BareIfDry{lack}, bareIfDry)
	w.ofVisits(KindNote, noPump, BackToNoPump{}, noPumpBehind)
}

// lastFuel warns of the last sure fuel, once for the same reasons.
func (w *warner) lastFuel() {
	at := map[LastSure][]int{}
	var order []LastSure
	var unsure []int
	for i, v := range w.Visits {
		if v.UnsureAhead {
			unsure = append(unsure, i)
		}
		if l := v.LastFuel; l != nil {
			why := LastSure{l.NotOK, l.Back, l.Off, l.Stranded, l.Unsure}
			if at[why] == nil {
				order = append(order, why)
			}
			at[why] = append(at[why], i)
		}
	}
	for _, why := range order {
		w.ofVisits(KindLastFuel, at[why], why, why.harm())
	}
	w.ofVisits(KindLastFuel, unsure, UnsureToo{}, 0)
}

// harm ranks what may follow the last sure fuel: each reason before all that come after it.
func (l LastSure) harm() (harm float64) {
	for _, is := range []bool{l.Stranded, l.NotOK, l.Back || l.Off, l.Unsure} {
		harm *= 2
		if is {
			harm++
		}
	}
	return harm
}

// roads notes which stops the ways out do not have.
func (w *warner) roads() {
	if w.Ways == nil {
		return
	}
	var guessed []string
	for _, v := range w.Visits {
		if v.Counted && v.Detour > 0 && v.Way == 0 && !slices.Contains(guessed, v.Stop.Name) {
			guessed = append(guessed, v.Stop.Name)
		}
	}
	if len(w.Ways.NotFrom)+len(guessed) > 0 {
		w.add(KindNote, NoWayOut{w.Ways.NotFrom, guessed})
	}
}

// sureness warns of stops that may not be there: of all passings of each.
func (w *warner) sureness() {
	var closed, later, old []int
	for i, v := range w.Visits {
		if s := v.Stop; v.Counted {
			if h := strings.ToLower(s.Hours); h == "off" || h == "closed" {
				closed = append(closed, i)
			}
			if s.HasConfirmed && s.Confirmed.After(w.in.Options.Today) {
				later = append(later, i)
			}
			if s.Standing == stop.Map || s.Stale(w.in.Options.Today) {
				old = append(old, i)
			}
		}
	}
	w.ofVisits(KindStops, later, ConfirmedLater{}, 0)
	w.ofVisits(KindStale, closed, HoursClosed{}, 1)
	w.ofVisits(KindStale, old, NotConfirmed{}, 0)
}
