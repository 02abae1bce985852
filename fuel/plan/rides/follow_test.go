package rides_test

// bySheet rides a loop as the sheet says.
func (r *rider) bySheet() ending {
	r.asked = make([]bool, len(r.sheet.stops))
	r.setsOut()
	if !r.sheet.stops[0].pump { // it was filled at home
		r.fillCan(0)
		r.lookAhead(0)
	}
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
	if r.leave == next && r.sheet.legs[i].out != nil && r.asPlanned() {
		return r.takeWayOut(i)
	}
	if dry && r.dryKnown {
		return r.pass(r.sheet.stops[i], next)
	}
	r.turnAt = never
	if r.silent[next] && !r.asked[next] || dry && r.noWord {
		r.turnAt = r.sheet.legs[i].turnBack
	}
	back, arrived := r.ride(r.hopsOn(r.sheet.stops[i], i))
	open := arrived && r.comesTo(next, dry)
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
	case !open:
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

func (r *rider) isDry(i int) bool { return r.dryAt(r.sheet.stops[i]) }

func (r *rider) dryAt(e entry) bool { return r.dry >= 0 && e.place == r.dry }

func (r *rider) stopped() ending {
	if r.stranded {
		return ranDry
	}
	return safe
}

// pass is for one who stands at a pump and knows that the next stop is dry: he rides past
// it if the sheet says on, else he stays.
func (r *rider) pass(from entry, dry int) (at int, going bool) {
	if r.sheet.stops[dry].dry == goOn {
		return r.forward(from, dry)
	}
	return 0, false
}

// atDryPump does what the sheet says where a pump turns out to be dry, and pours what is in
// the can. Who rides back is safe there, and his ride is over.
func (r *rider) atDryPump(i int) (at int, going bool) {
	r.low = 1
	r.tip()
	e := r.sheet.stops[i]
	if e.dry == goOff {
		return i, r.rideOff(e.off)
	}
	to, back, fill := r.sheet.behind(i, e.to)
	if e.dry == goOn || back < 0 { // or stranded, and less so ahead
		return r.forward(e, i)
	}
	_, arrived := r.ride(hops(e, to))
	if arrived && r.dryAt(to) {
		if fill {
			return r.atDryPump(back)
		}
		r.strand()
	} else if arrived {
		r.comesBack(to)
	}
	return back, false
}

// forward rides on to where the sheet says to if a stop is dry. At a stop that is of the dry
// place, too, he does what the sheet says there; at a passed pump he fills, and goes on with
// the plan.
func (r *rider) forward(from entry, dry int) (at int, going bool) {
	to, i, fill := r.sheet.ahead(dry, r.sheet.stops[dry].to)
	r.off = true
	if _, arrived := r.ride(hops(from, to)); !arrived {
		return i, false
	}
	open := fill && i == r.sheet.last() || r.comes(to, 0, r.dryAt(to))
	switch {
	case fill && (r.dryAt(to) || !open):
		return r.atDryPump(i)
	case fill:
		return i, true
	case r.dryAt(to) || !open:
		r.strand()
		return i, false
	}
	r.rescued++
	r.fillPassed(i)
	if r.isDry(i + 1) {
		return r.pass(to, i+1)
	}
	_, arrived := r.ride(r.hopsOn(to, i))
	return i + 1, arrived
}

// strand is for one whom the sheet has sent from a dry pump to another.
func (r *rider) strand() { r.stranded, r.strandAt = true, r.at }
