package rides_test

// A habit is a way of riding without a plan: when to ride past a pump, and when to
// turn round on the way to the next. A rider with a habit knows where the pumps are
// and nothing else. At a dry one he rides to the nearer of the next and the last.
type habit struct {
	name string
	past func(r *rider, last, i int) bool // ride past pump i, having filled at last
	turn func(r *rider, last, next int) bool
}

// habits from practice. The can rides only if the bike has one of its own.
var habits = []habit{
	{
		name: "fill at half tank",
		past: func(r *rider, _, _ int) bool { return r.tank > r.engine.usable/2 },
	}, {
		name: "whole tank x 80 %",
		past: func(r *rider, last, i int) bool {
			return r.sheet.stops[i+1].km-r.sheet.stops[last].km+r.since <= 0.8*r.pavedRange
		},
	}, {
		name: "turn round at half",
		turn: func(r *rider, last, next int) bool {
			half := (r.sheet.stops[last].km + r.sheet.stops[next].km) / 2
			return r.tank < r.engine.usable/2 && r.at < half
		},
	},
}

// byHabit rides a loop by a habit.
func (r *rider) byHabit(h habit) ending {
	last, dryKnown := 0, false // last is where he has filled
	r.fillByHabit(0)
	for {
		next, arrived := r.toNextPump(h, last, dryKnown)
		switch {
		case !arrived:
			return r.stopped()
		case next == r.sheet.last():
			return finished
		case !r.isDry(next):
			r.fillByHabit(next)
			last = next
			continue
		}
		dryKnown = true
		if next, arrived = r.nearest(next); !arrived || next < 0 {
			return r.stopped()
		}
		if next == r.sheet.last() {
			return finished
		}
		r.fillByHabit(next)
		last = next
	}
}

// fillByHabit fills the tank and the bike's own can.
func (r *rider) fillByHabit(i int) {
	if i == 0 {
		r.can, r.canned = r.ownCan, r.ownCan
	}
	if r.sheet.stops[i].pump {
		r.stops++
		r.canned += r.ownCan - r.can
		r.tank, r.can = r.engine.usable, r.ownCan
		r.trip, r.drunk, r.way, r.since = 0, 0, knownWay{}, 0
	}
}

// toNextPump rides on from where he has filled to the pump that the habit stops at.
func (r *rider) toNextPump(h habit, last int, dryKnown bool) (next int, arrived bool) {
	_, arrived = r.ride([]hop{{off: r.sheet.stops[last].half}})
	from := r.sheet.stops[last].km
	for next = last + 1; arrived; next++ {
		e := r.sheet.stops[next]
		if h.turn != nil {
			target := next
			r.watch = func(r *rider) bool { return h.turn(r, last, target) }
		}
		var back []hop
		back, arrived = r.ride([]hop{{from: from, to: e.km}})
		r.watch = nil
		if !arrived && !r.stranded { // turned round: he is safe where he has filled
			r.ride(append(back, hop{off: r.sheet.stops[last].half}))
			return last, false
		}
		if !arrived || next == r.sheet.last() {
			break
		}
		from = e.km
		if dryKnown && r.isDry(next) || h.past != nil && h.past(r, last, next) {
			continue
		}
		_, arrived = r.ride([]hop{{off: e.half}})
		break
	}
	return next, arrived
}

// nearest rides from a dry pump to the nearer of the next other and the last other
// one along the line; to is negative for the last, where he is safe and stays.
func (r *rider) nearest(dry int) (to int, arrived bool) {
	on, back := dry+1, dry-1
	for on < r.sheet.last() && r.isDry(on) {
		on++
	}
	for back > 0 && r.isDry(back) {
		back--
	}
	here := r.sheet.stops[dry].km
	if r.sheet.stops[on].km-here <= here-r.sheet.stops[back].km {
		_, arrived = r.ride(hops(r.sheet.stops[dry], r.sheet.stops[on]))
		return on, arrived
	}
	_, arrived = r.ride(hops(r.sheet.stops[dry], r.sheet.stops[back]))
	return -1, arrived
}
