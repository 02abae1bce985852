package trip

import (
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/route"
)

// roads give the line as short, as likely and as long as the estimate of its stretch may
// have it, and half-way between, the shortest first, as the bike drinks each: litres by the kilometre
// are the same on all, but what lies at a figure of the trip meter is not. Where the stretch is given
// there is one.
func (t *Trip) roads() []*fuel.Course {
	if t.metered != nil {
		return t.metered
	}
	t.metered = []*fuel.Course{t.Course}
	if !slices.ContainsFunc(t.runs, func(r route.Run) bool { return r.RiddenLow != r.RiddenHigh }) {
		return t.metered
	}
	t.metered = nil
	for _, longer := range []route.Metres{-1, -.5, 0, .5, 1} { // between likely and the ends of what it may be
		runs, same := slices.Clone(t.runs), longer != 0
		for i, r := range runs {
			off := r.RiddenHigh - r.Ridden
			if longer < 0 {
				off = r.Ridden - r.RiddenLow
			}
			same = same && off == 0
			d := r.Ridden + longer*off
			runs[i].RiddenLow, runs[i].Ridden, runs[i].RiddenHigh = d, d, d
		}
		if !same {
			t.metered = append(t.metered, fuel.NewCourse(runs, t.Bike, t.Options.Thirst))
		}
	}
	return t.metered
}

// metered gives a leg on each road that the line may be.
func (d *Draft) metered(i int) (ways []leg.Way) {
	roads := d.Trip.roads()
	if len(roads) == 1 {
		return []leg.Way{d.Ways[i]}
	}
	for _, c := range roads {
		if d.Change.Thirst > 0 {
			c = c.Thirstier(d.Change.Thirst)
		}
		ways = append(ways, leg.NewWay(c, d.Ways[i].From, d.Ways[i].To))
	}
	return ways
}

// soonest gives the least of a figure of the trip meter over the roads that the line may be,
// latest the largest.
func soonest(ways []leg.Way, of func(leg.Way) route.Metres) route.Metres {
	least := of(ways[0])
	for _, w := range ways[1:] {
		least = min(least, of(w))
	}
	return least
}

func latest(ways []leg.Way, of func(leg.Way) route.Metres) route.Metres {
	return -soonest(ways, func(w leg.Way) route.Metres { return -of(w) })
}

// turnHigh gives by where to turn back on the high figures, whichever road it is; the whole of
// a leg where turning at its end works on each. On a road between two of them the figure of
// the trip meter is reached no farther on than on the shorter, and up to there and back it takes
// no more than on the longer: so it is the trip on the shorter to where the longer says to turn.
func (d *Draft) turnHigh(i int, ways []leg.Way) leg.Turn {
	turn := leg.Turn{Ridden: d.Ways[i].Drink.Ridden, At: d.Ways[i].To.At}
	for k, w := range ways {
		_, high := w.TurnBack(d.Legs[i].Leg)
		if high.Ridden >= w.Drink.Ridden {
			continue
		}
		if k > 0 && high.At > w.From.At {
			high.Ridden = min(high.Ridden, ways[k-1].Ridden(high.At))
		}
		turn.Ridden, turn.At = min(turn.Ridden, high.Ridden), min(turn.At, high.At)
	}
	return turn
}

// pourAt gives where a tank has room for litres, even at the low use, but not past where the
// high use leaves 1 L in it, whichever road it is.
func (d *Draft) pourAt(i int, litres fuel.Litres) route.Metres {
	from, by := d.fullCan(i, litres)
	return min(from, by)
}

// fullCan gives between where and where all of a full can is poured, whichever road it is.
func (d *Draft) fullCan(i int, can fuel.Litres) (from, by route.Metres) {
	ways, usable, start := d.metered(i), d.Bike.Usable(), d.Legs[i].Start
	from = latest(ways, func(w leg.Way) route.Metres { from, _ := w.FullCan(usable, start, can); return from })
	by = soonest(ways, func(w leg.Way) route.Metres { _, by := w.FullCan(usable, start, can); return by })
	return from, by
}
