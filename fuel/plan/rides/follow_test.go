package rides_test

// bySheet rides a loop as the sheet says.
func (r *rider) bySheet() ending {
	dryKnown := false // that the dry place is dry
	r.takeCan(0)      // at a start without a pump it was filled at home
	silent := append([]bool(nil), r.silent...)
	for i := 0; i < r.sheet.last(); {
		next := i + 1
		dry := r.isDry(next)
		r.fill(i)
		if dry && dryKnown {
			to, arrived := r.pass(i, next)
			if !arrived {
				return r.stopped()
			}
			i = to
			continue
		}
		r.turnAt = never
		if silent[next] || dry && r.heard {
			r.turnAt = r.sheet.legs[i].turnBack
		}
		back, arrived := r.ride(r.hops(i, next))
		turned := r.turnAt
		r.turnAt = never
		switch {
		case r.stranded:
			return ranDry
		case !arrived && r.trip >= turned-1e-6:
			r.turnedFor++
			if r.ride(back); r.stranded || !r.sheet.stops[i].pump {
				return r.stopped()
			}
			silent[next], dryKnown = false, dryKnown || dry
		case dry:
			dryKnown = true
			to, finishing := r.atDryPump(next)
			if !finishing {
				return r.stopped()
			}
			i = to
		default:
			i = next
		}
	}
	return finished
}

func (r *rider) isDry(i int) bool { return r.dry >= 0 && r.sheet.place[i] == r.dry }

func (r *rider) stopped() ending {
	if r.stranded {
		return ranDry
	}
	return safe
}

// pass is for one who stands at a pump and knows that the next is dry: he rides past
// it if the sheet says on, else he stays.
func (r *rider) pass(i, dry int) (to int, arrived bool) {
	if e := r.sheet.stops[dry]; e.dry == goOn {
		to = r.sheet.ahead(dry, e.to)
		_, arrived = r.ride(r.hops(i, to))
	}
	return to, arrived
}

// atDryPump does what the sheet says where a pump turns out to be dry. Who rides
// back is safe there, and his ride is over.
func (r *rider) atDryPump(i int) (to int, arrived bool) {
	e := r.sheet.stops[i]
	if e.dry == goOn {
		to = r.sheet.ahead(i, e.to)
		_, arrived = r.ride(r.hops(i, to))
		return to, arrived
	}
	if to = r.sheet.behind(i, e.to); to < 0 { // stranded, and less so ahead
		to = r.sheet.ahead(i, e.to)
		_, arrived = r.ride(r.hops(i, to))
		return to, arrived
	}
	r.ride(r.hops(i, to))
	return to, false
}
