package rides_test

// bySheet rides a loop as the sheet says.
func (r *rider) bySheet() ending {
	r.asked = make([]bool, len(r.sheet.stops))
	r.takeCan(0) // at a start without a pump it was filled at home
	for i, going := 0, true; i < r.sheet.last(); {
		if i, going = r.leg(i); !going {
			return r.stopped()
		}
	}
	return finished
}

// leg fills up and rides on to the next stop. It gives where the rider is then, which
// is where he was if he has turned back, and whether he rides on from there.
func (r *rider) leg(i int) (at int, going bool) {
	next := i + 1
	dry := r.isDry(next)
	r.fill(i)
	if dry && r.dryKnown {
		return r.pass(i, next)
	}
	r.turnAt = never
	if r.silent[next] && !r.asked[next] || dry && r.noWord {
		r.turnAt = r.sheet.legs[i].turnBack
	}
	back, arrived := r.ride(r.hops(i, next))
	due := r.trip >= r.turnAt-1e-6
	r.turnAt = never
	switch {
	case !arrived && due:
		return i, r.turnBack(back, i)
	case !arrived:
		return i, false
	case dry:
		r.dryKnown = true
		return r.atDryPump(next)
	}
	return next, true
}

// turnBack rides back to the last fill for want of word from the next pump, and gets
// it there. Where there is no pump he is at home and stays.
func (r *rider) turnBack(back []hop, i int) (going bool) {
	r.turnedFor++
	r.asked[i+1], r.dryKnown = true, r.dryKnown || r.isDry(i+1)
	r.ride(back)
	return !r.stranded && r.sheet.stops[i].pump
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
func (r *rider) pass(i, dry int) (at int, going bool) {
	if e := r.sheet.stops[dry]; e.dry == goOn {
		return r.forward(i, r.sheet.ahead(dry, e.to))
	}
	return i, false
}

// atDryPump does what the sheet says where a pump turns out to be dry. Who rides
// back is safe there, and his ride is over.
func (r *rider) atDryPump(i int) (at int, going bool) {
	e := r.sheet.stops[i]
	back := r.sheet.behind(i, e.to)
	if e.dry == goOn || back < 0 { // or stranded, and less so ahead
		return r.forward(i, r.sheet.ahead(i, e.to))
	}
	if _, arrived := r.ride(r.hops(i, back)); arrived && r.isDry(back) {
		return r.atDryPump(back)
	}
	return back, false
}

// forward rides on to a stop further ahead, and if that is of the dry place, too, does
// what the sheet says there.
func (r *rider) forward(i, to int) (at int, going bool) {
	if _, arrived := r.ride(r.hops(i, to)); !arrived || !r.isDry(to) {
		return to, arrived
	}
	return r.atDryPump(to)
}
