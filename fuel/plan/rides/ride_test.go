package rides_test

import "math"

// An ending is how a ride ends.
type ending int

const (
	finished ending = iota
	safe            // not finished, but not stranded: turned back, or stayed
	ranDry
)

func (e ending) String() string { return [...]string{"finished", "safe", "ran dry"}[e] }

// A rider is on the road: what a ride knows from one metre to the next. Litres and
// metres.
type rider struct {
	*loop
	fate
	dial
	nature *nature // nil for one who takes no more than the high figure
	sheet  *sheet  // what he was given, which may be wrong

	at    float64 // along the line
	piece int     // of the road, that he is on or comes to next
	next  int     // into fate.turns

	tank, can float64
	trip      float64  // as the bike shows it, since the fill
	drunk     float64  // since the fill
	way       knownWay // since the fill, wrong turns left out: what the high figure of it is made of
	ridden    sum      // since the fill, wrong turns and all: what he writes down
	since     float64  // ridden when he set out, since the tank was full

	intoDry bool // this tank leads to a dry pump, of which he has no word before he is there

	pourAt float64           // on the trip meter; infinite where nothing is to be poured
	low    float64           // litres in the tank below which what is in the can is poured
	turnAt float64           // on the trip meter; infinite for one who does not turn back
	watch  func(*rider) bool // asked all along the line whether to turn round; nil for no

	dryKnown bool   // that the dry place is dry
	asked    []bool // of each stop, whether he has word of it after having had none

	stranded bool
	strandAt float64 // along the line

	least, wrongWay, poured float64 // in tank and can at the worst moment; wrong turns; from the can
	filled, canned, burnt   float64 // into tank and can, of that into the can; out of the tank
	turnedFor, stops        int     // times turned back; fills
	beside, rescued         int     // of these at passed pumps: for want of petrol; because another was dry
	ridOff, leftLine        int     // left by road, a dry pump or the line; the line
	shutOut                 string  // a pump that he has left for by road and found shut for longer than he waits
	mostInCan               float64
	setOuts                 []setOut // from pumps and the start, as long as the ride goes as planned
}

// A setOut is what a rider has in the can when a leg begins.
type setOut struct {
	leg int
	can float64
}

// a thimble is what rounding may take.
const thimble = 1e-6 // litres

// never is a figure that no trip meter reaches.
var never = math.Inf(1)

// set puts a rider on the start with what is in his tank there.
func (l *loop) set(f fate, s *sheet) *rider {
	return &rider{loop: l, fate: f, sheet: s, tank: l.startFuel, least: never, since: l.sinceFill, pourAt: never, low: 1, turnAt: never}
}

// fill fills the tank to the brim and the can as told, and zeroes the trip.
func (r *rider) fill(i int) {
	if !r.sheet.stops[i].pump || r.isDry(i) {
		return
	}
	r.fillTank()
	if r.sheet.stops[i].can || !r.asPlanned() {
		r.fillCan(i)
	}
	r.lookAhead(i)
}

func (r *rider) fillTank() {
	r.stops++
	r.filled += r.engine.usable - r.tank
	r.trip, r.drunk, r.way, r.ridden = 0, 0, knownWay{}, sum{}
	r.tank, r.intoDry = r.engine.usable, false
	if r.nature != nil {
		r.nature.next()
	}
}

// fillPassed fills at a passed pump, the can up to what the sheet has in it on that leg. The
// figures for pouring are those of a leg from its beginning: from here it is poured when little
// is left.
func (r *rider) fillPassed(leg int) {
	r.fillTank()
	r.fillCan(leg)
	r.mostInCan = max(r.mostInCan, r.can)
	r.pourAt, r.low = never, 0
	if r.sheet.legs[leg].pour {
		r.low = 1
	}
}

// asPlanned tells whether no pump was dry, none silent and none shut so far.
func (r *rider) asPlanned() bool { return !r.dryKnown && r.turnedFor == 0 && len(r.shut) == 0 }

// fillCan fills the can up to what the sheet has in it on the leg ahead: where it says so, and
// at every pump once the ride has not gone as planned.
func (r *rider) fillCan(i int) {
	if l := r.sheet.legs[i].can - r.can; l > 0 {
		r.can, r.filled, r.canned = r.can+l, r.filled+l, r.canned+l
	}
}

// lookAhead looks up whether and where to pour on the leg ahead. A reserve stays in the can
// until the tank is dry.
func (r *rider) lookAhead(i int) {
	r.mostInCan = max(r.mostInCan, r.can)
	if r.asPlanned() {
		r.setOuts = append(r.setOuts, setOut{i, r.can})
	}
	r.intoDry = !r.noWord && i < r.sheet.last() && r.isDry(i+1) && !r.silent[i+1]
	r.pourAt, r.low = never, 0
	if w := r.sheet.legs[i]; w.pour {
		r.low, r.pourAt = 1, w.pourBy
		if w.fits < w.pourBy {
			r.pourAt = w.fits + r.pour*(w.pourBy-w.fits)
		}
	}
}

// tip pours what fits.
func (r *rider) tip() {
	l := min(r.can, r.engine.usable-r.tank)
	r.tank, r.can, r.poured = r.tank+l, r.can-l, r.poured+l
}

// A knownWay is a way as it is known: by who has ridden it, and by the plan, which knows neither how
// long his road is nor, so, quite how much of it is of each ground.
type knownWay struct{ ridden, planned sum }

// add adds a share of o.
func (k *knownWay) add(o *knownWay, share float64) {
	k.ridden.add(&o.ridden, share)
	k.planned.add(&o.planned, share)
}

// sure is a way of which nothing is in doubt but what it takes.
func sure(s sum) *knownWay { return &knownWay{s, s} }

// allowed is what a plan lets him take since the fill, by his own road or by the plan's: the lesser.
func (r *rider) allowed() float64 {
	times := 1.0
	if r.intoDry {
		times = cautious
	}
	return min(r.engine.upTo(r.way.ridden, times), r.engine.upTo(r.way.planned, times))
}

// burn takes a bit of way from the tank; what the high figure is made of for it is a share of way.
func (r *rider) burn(ridden, litres float64, way *knownWay, of float64) {
	shown := ridden * r.engine.odometer
	if shown == 0 {
		return
	}
	if r.can > 0 && r.pourAt <= r.trip+shown {
		share := max(0, r.pourAt-r.trip) / shown
		r.use(shown*share, litres*share, way, of*share)
		r.tip()
		r.pourAt = never
		r.use(shown*(1-share), litres*(1-share), way, of*(1-share))
		return
	}
	r.use(shown, litres, way, of)
}

// use is burn with nothing to do on the way. A rest that did not fit from the can
// is poured when the tank is down to its last litre, a reserve when it is dry. Nobody in here
// takes more since the fill than the high figure.
func (r *rider) use(shown, litres float64, way *knownWay, of float64) {
	r.trip += shown
	r.way.add(way, of)
	r.ridden.add(&way.ridden, of)
	if r.nature != nil {
		litres = r.nature.ofTank(litres)
	} else if r.drunk+litres > r.engine.surely*min(r.way.ridden.long, r.way.planned.long) {
		litres = min(litres, max(0, r.allowed()-r.drunk))
	}
	r.drunk += litres
	r.burnt += litres
	r.tank -= litres
	if r.tank < r.low && r.can > 0 {
		r.tip()
	}
	r.least = min(r.least, r.tank+r.can)
	if r.tank < -thimble && !r.stranded {
		r.stranded, r.strandAt = true, r.at
	}
}

// until gives how much of a bit of way is ridden before the trip meter shows the
// figure to turn back at.
func (r *rider) until(ridden float64) float64 {
	left := r.turnAt - r.trip
	if shown := ridden * r.engine.odometer; left < shown {
		return max(0, left/shown)
	}
	return 1
}

// A hop is a bit of a leg: a way off the line, or the line from one place to
// another.
type hop struct {
	off      float64 // metres of way off the line; 0 on it
	road     *byway  // that way, where it is known
	home     bool    // it is ridden from the pump to the line
	from, to float64
	passing  *passed // the pump that is passed at its end; nil for none
}

// hops is the way from one stop to another, in either direction.
func hops(from, to entry) []hop {
	return []hop{from.hopHome(), {from: from.km, to: to.km}, to.hopOut()}
}

// hopHome and hopOut are half the detour to a stop.
func (e entry) hopHome() hop {
	if e.homeward != nil {
		return hop{off: e.homeward.length(), road: e.homeward, home: true}
	}
	return hop{off: e.half, road: e.road, home: true}
}
func (e entry) hopOut() hop { return hop{off: e.half, road: e.road} }

// hopsOn is the way from a stop of a leg, or from a passed pump, to the end of the leg.
func (r *rider) hopsOn(from entry, leg int) []hop {
	out, at, to := []hop{from.hopHome()}, from.km, r.sheet.stops[leg+1]
	for _, p := range r.sheet.passedOn(leg) {
		if p.km > from.km && p.km < to.km {
			out, at = append(out, hop{from: at, to: p.km, passing: &p}), p.km
		}
	}
	return append(out, hop{from: at, to: to.km}, to.hopOut())
}

// ride rides hops until they end, the tank is dry or it is time to turn back. It
// gives the hops that lead back to where they began.
func (r *rider) ride(hops []hop) (back []hop, arrived bool) {
	for _, h := range hops {
		var done hop
		if h.from == h.to {
			done, arrived = r.offLine(h)
		} else {
			done, arrived = r.onLine(h)
		}
		back = append([]hop{done}, back...)
		if !arrived {
			return back, false
		}
		if h.passing != nil && r.tank < h.passing.under && !r.fillBeside(h.passing) {
			return back, false
		}
	}
	return back, !r.stranded
}

// fillBeside leaves the line for a pump that is passed and fills there, unless he knows that it
// is dry. After that he turns back no more: the figure for it is of the leg from its beginning.
func (r *rider) fillBeside(p *passed) (arrived bool) {
	dry := r.dryAt(p.entry)
	if dry && r.dryKnown {
		return true
	}
	r.turnAt = never
	if _, arrived = r.offLine(p.hopOut()); !arrived {
		return false
	}
	open := r.comes(p.entry, 0, dry)
	r.off = true
	if dry {
		r.dryKnown = true
	} else if open {
		r.beside++
		r.fillPassed(p.leg)
	}
	_, arrived = r.offLine(p.hopHome())
	return arrived
}

// offLine rides a way off the line: by road, or level and on the ground that the line has there.
func (r *rider) offLine(h hop) (back hop, arrived bool) {
	metres := h.off
	if metres == 0 {
		return hop{}, !r.stranded
	}
	p := r.loop.road.pieces[r.loop.road.on(r.at)]
	if h.road != nil {
		share := r.until(metres)
		r.burn(metres*share, r.pace.byway(h.road, p.day, h.home)*share, sure(r.engine.byway(h.road, h.home)), share)
		r.takesRoad(h.road.part(share), p.day)
		return hop{off: metres * share, road: h.road.part(share), home: !h.home}, share == 1 && !r.stranded
	}
	share := r.until(metres)
	metres *= share
	r.burn(metres, metres*r.pace.flat[p.day][p.ground], sure(r.engine.flatOver(p.ground, band{metres, metres, metres})), 1)
	r.takes(metres, &p)
	return hop{off: metres}, share == 1 && !r.stranded
}

// onLine rides the line, forwards or back, piece by piece.
func (r *rider) onLine(h hop) (back hop, arrived bool) {
	h.from, h.to = min(h.from, r.road.length()), min(h.to, r.road.length()) // rounding may put the end a hair beyond
	backwards := h.to < h.from
	r.at, r.piece = h.from, r.road.on(h.from)
	if p := r.road.pieces[r.piece]; backwards && p.from == r.at && r.piece > 0 {
		r.piece--
	}
	for r.at != h.to && !r.stranded {
		end, turn := r.pieceEnd(h.to, backwards)
		if !r.stretch(end, backwards) || r.watch != nil && r.watch(r) {
			return hop{from: r.at, to: h.from}, false
		}
		if !backwards {
			r.sleepsHere()
		}
		if turn && !r.loseWay() {
			return hop{from: r.at, to: h.from}, false
		}
	}
	return hop{from: r.at, to: h.from}, !r.stranded
}

// pieceEnd gives how far to ride in one go: to the end of the piece, or to a wrong
// turn before it, which are taken on the way out only.
func (r *rider) pieceEnd(to float64, backwards bool) (end float64, turn bool) {
	p := &r.road.pieces[r.piece]
	if backwards {
		return max(p.from, to), false
	}
	end = min(p.to, to)
	if at, ok := r.rest(); ok && at > r.at {
		end = min(end, at)
	}
	for r.next < len(r.turns) && r.turns[r.next].at < r.at {
		r.next++
	}
	if r.next < len(r.turns) && r.turns[r.next].at < end {
		return r.turns[r.next].at, true
	}
	return end, false
}

// stretch rides within one piece up to a place, or to where it is time to turn
// back; then it tells false.
func (r *rider) stretch(end float64, backwards bool) bool {
	p := &r.road.pieces[r.piece]
	share := math.Abs(end-r.at) / (p.to - p.from)
	rolled := p.ridden.at(r.pace.longer)
	full := r.until(rolled * share)
	if full < 1 {
		end = r.at + full*(end-r.at)
		share *= full
	}
	own := *p // his road is as long as it is: that is not in doubt to his engine
	own.ridden = band{rolled, rolled, rolled}
	way := knownWay{r.engine.over(&own, backwards), r.engine.over(p, backwards)}
	r.at = end
	r.burn(rolled*share, r.pace.over(p, backwards)*share, &way, share)
	r.takes(p.ridden.likely*share, p)
	if full < 1 {
		return false
	}
	if backwards && end == p.from {
		r.piece = max(0, r.piece-1)
	} else if !backwards && end == p.to {
		r.piece = min(len(r.road.pieces)-1, r.piece+1)
	}
	return true
}

// loseWay takes the wrong turn that is due, as far as what he has saved of the high
// figure since the fill goes: beyond that no plan promises anything. It tells false
// where the trip meter then says to turn back.
func (r *rider) loseWay() bool {
	out := r.turns[r.next].out
	r.next++
	p := r.road.pieces[r.piece]
	rate := r.pace.flat[p.day][p.ground]
	if r.nature != nil {
		rate = r.nature.ofTank(rate)
	}
	out = min(out, (r.allowed()-r.drunk)/rate/2)
	if out < 10 {
		return true
	}
	r.wrongWay += 2 * out
	r.ridden = r.ridden.plus(r.engine.flatOver(p.ground, band{2 * out, 2 * out, 2 * out}))
	r.burn(2*out, 2*out*r.pace.flat[p.day][p.ground], &knownWay{}, 1)
	return r.trip < r.turnAt
}
