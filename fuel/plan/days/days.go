// Package days follows a ride by the clock: when each pump is reached and whether it is open
// then, where the nights are, what is in the tank there, and at which hours one may leave.
//
// Start with [Options], what a rider says of his days, then [Of] for the clock of a draft, or
// [Reckoning.LeavingAt] for what becomes of it if a day is begun at another hour.
//
// # Sources
//
// The rules are those of package clock; hours are read by package hours.
package days

import (
	"slices"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/stop/hours"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/route/zone"

	"github.com/paulmach/orb"
)

// Options are what a rider says of the days of a ride. Dates and hours are those of the clock
// of the place.
type Options struct {
	Date      time.Time            // of leaving, from where the ride is planned; the hour is ignored
	First     clock.OClock         // of leaving on that day
	Every     clock.OClock         // on the mornings after
	On        map[int]clock.OClock // on some of the days, Date being day 1
	Nights    []Where
	Halts     []Halt
	Holidays  []time.Time // public ones; the hour is ignored
	Wait      time.Duration
	Took      *Took       // what was ridden already; nil for nothing said
	FirstFill bool        // some bike of a group fills where the ride begins, though this one may be full
	Water     fuel.Litres // that each rider drinks in a day, told beside the days
	Zone      zone.Lookup
	Mapped    bool // Zone knows by a map of boundaries, which are to be credited
}

// DefaultWater is what a rider drinks in a day in the warm. Common practice, no source.
const DefaultWater fuel.Litres = 6

// A Where is a place along the line, or a stop that is passed.
type Where struct {
	Stop string // as the list has it; "" for At
	At   route.Metres
}

// A Halt is a stay that the rider plans.
type Halt struct {
	Where
	For time.Duration
}

// Took is how long some kilometres have taken, from door to door but without nights: the last
// that are behind the rider, or else the first of the ride.
type Took struct {
	Time time.Duration
	Over route.Metres // ridden
}

// A Reckoning is the clock of a draft.
type Reckoning struct {
	*clock.Clock
	Manner  clock.Manner // with the pace of what was ridden
	Zone    func(route.Metres) *time.Location
	Hours   trip.Hours        // of each passing ahead
	Riding  []clock.Durations // of each leg
	ride    clock.Ride
	passing []trip.Sighting // of each place
	leftOut []bool          // of each place: it is not counted, for its hours alone
	full    trip.Sighting   // where the whole ride sets out full: it was filled at when that pump was open
	onWay   bool            // the ride is planned from where the rider stands
}

// NightsToFill lists the passings where a night is and that the draft does not fill at, though
// they sell what meets the need: there is time to.
func (r *Reckoning) NightsToFill(d *trip.Draft) (out []trip.Sighting) {
	for i, p := range r.Passings {
		g := r.passing[i]
		if p.Fill != clock.NoFill && r.ride.Places[i].Use == clock.Counted && d.Trip.Meets(g.Stop) {
			out = append(out, g)
		}
	}
	return out
}

// Of follows a draft by the clock, as somebody rides in a manner. The error is a [*Fault].
func Of(d *trip.Draft, m clock.Manner, o Options) (*Reckoning, error) {
	t := d.Trip
	r := &Reckoning{Manner: m, onWay: d.Start.OnTheWay}
	spans := zone.Along(t.Line, o.Zone)
	r.Zone = spans.At
	start := r.Zone(t.StartAt())
	if start == nil {
		return nil, &Fault{Why: NoZone, At: t.StartAt()}
	}
	if err := r.pace(d, o.Took); err != nil {
		return nil, err
	}
	y, month, day := o.Date.Date()
	nodes := d.Nodes
	r.ride = clock.Ride{
		Pacing: clock.NewPacing(t.Runs(), r.Manner), From: nodes[0].On, To: nodes[len(nodes)-1].On,
		Parts: t.Line.Parts, Wait: o.Wait, Point: t.Line.At, Zone: r.Zone,
		Leaving: clock.Leaving{
			First: time.Date(y, month, day, o.First.Hour, o.First.Minute, 0, 0, start), Every: o.Every, On: o.On,
		},
	}
	for i, n := range nodes[1:] {
		r.Riding = append(r.Riding, r.ride.Pacing.Riding(nodes[i].On, n.On))
	}
	if err := r.stays(t, o); err != nil {
		return nil, err
	}
	r.places(d, o)
	r.reckon()
	return r, nil
}

// reckon follows the ride and says what comes of each passing.
func (r *Reckoning) reckon() {
	r.Clock = clock.Reckon(r.ride)
	r.Hours = make(trip.Hours, len(r.passing))
	for i, g := range r.passing {
		h := trip.Hour{Passing: r.Passings[i], Worst: r.Passings[i].State}
		if g.IsOut() {
			h.LongShut, h.DryIfLate = !opensInTime(h.Passing, r.ride.Wait), false
		}
		if g == r.full { // nobody fills there on leaving
			h.LongShut, h.DryIfLate = false, false
		}
		r.Hours[g] = h
	}
}

// pace sets the pace by what was ridden.
func (r *Reckoning) pace(d *trip.Draft, took *Took) error {
	if took == nil {
		return nil
	}
	t := d.Trip
	from, to := t.StretchRidden(took.Over)
	if there := t.Course.Between(from, to).Ridden; took.Over > there+tookHair {
		return &Fault{Why: TookOverMore, At: took.Over, Limit: there}
	}
	fills := 0
	for _, n := range d.Nodes {
		if n.HasStop() && n.On.At > from && n.On.At < to {
			fills++
		}
	}
	general := r.Manner
	general.Pace = 1
	planned := clock.NewPacing(t.Runs(), general).Planned(from, to, fills)
	if planned <= 0 {
		return &Fault{Why: TookNothing}
	}
	r.Manner.Pace = took.Time.Hours() / planned.Hours()
	if !(r.Manner.Pace >= leastPace && r.Manner.Pace <= mostPace) {
		return &Fault{Why: TookUnlikely, Times: r.Manner.Pace}
	}
	return nil
}

// tookHair is by how much a distance may be over what was ridden: a trip meter is read and
// rounded, and somebody looks for the pump in town. Our estimate.
const tookHair route.Metres = 2000

// Who is three times as fast or four times as slow as planned has measured wrong, or slept on
// the way: our estimate.
const (
	leastPace = 1. / 3
	mostPace  = 4
)

// stays finds where nights and halts are along the line.
func (r *Reckoning) stays(t *trip.Trip, o Options) error {
	for _, w := range o.Nights {
		at, err := w.along(t)
		if err != nil {
			return err
		}
		if at > t.StartAt() { // else it is over
			r.ride.Nights = append(r.ride.Nights, at)
		}
	}
	slices.Sort(r.ride.Nights)
	for _, h := range o.Halts {
		at, err := h.along(t)
		if err != nil {
			return err
		}
		r.ride.Halts = append(r.ride.Halts, clock.Halt{At: at, For: h.For})
	}
	slices.SortFunc(r.ride.Halts, func(a, b clock.Halt) int { return int(max(-1, min(1, a.At-b.At))) })
	return nil
}

// along gives where a place is along the line.
func (w Where) along(t *trip.Trip) (route.Metres, error) {
	if w.Stop == "" {
		if !(w.At >= 0 && w.At <= t.Length) {
			return 0, &Fault{Why: BeyondEnd, At: w.At, Limit: t.Length}
		}
		return w.At, nil
	}
	var at []route.Metres
	known := false
	var names []string
	for i, s := range t.Stops {
		names = append(names, s.Name)
		if !strings.EqualFold(s.Name, w.Stop) {
			continue
		}
		known = true
		for _, g := range t.Sightings {
			if g.Stop == i && g.At >= t.StartAt() {
				at = append(at, g.At)
			}
		}
	}
	slices.Sort(at)
	switch {
	case !known:
		return 0, &Fault{Why: UnknownStop, Stop: w.Stop, Names: names}
	case len(at) == 0:
		return 0, &Fault{Why: NotPassed, Stop: w.Stop}
	case len(at) > 1:
		return 0, &Fault{Why: PassedTwice, Stop: w.Stop, Passed: at}
	}
	return at[0], nil
}

// places lists what the ride passes, and what lies beside it within reach, with its hours.
func (r *Reckoning) places(d *trip.Draft, o Options) {
	t := d.Trip
	filled := map[trip.Sighting]bool{}
	r.full.Stop = -1
	for k, n := range d.Nodes {
		if !n.HasStop() {
			continue
		}
		v := d.Visits[n.Visit]
		g := v.Sighting()
		if k == 0 && !d.Start.OnTheWay && !o.FirstFill && d.Start.Fuel >= t.Bike.Usable() {
			r.full = g
		} else {
			filled[g] = true
		}
	}
	read := readings{t: t, o: o, of: map[int]reading{}}
	outs := r.outs(t, &read)
	for _, g := range t.Passable() {
		if g.At < t.StartAt() && !filled[g] && g != r.full {
			continue
		}
		outs.upTo(g.At)
		p := clock.Place{End: t.EndAt(g)}
		p.At = max(p.At, t.StartAt()) // a pump just behind is where the rider stands
		switch {
		case filled[g]:
			p.Use = clock.Filled
		case t.Counts(g) && g.Off <= t.Options.Corridor:
			p.Use = clock.Counted
		}
		left := g.Off <= t.Options.Corridor && !t.Counts(g) && t.Unfit(g.Stop, trip.Change{}) == ""
		r.leftOut = append(r.leftOut, left)
		h := read.at(g.Stop, r.Zone(g.At))
		p.Hours, p.Zone = h.hours, h.zone
		r.ride.Places, r.passing = append(r.ride.Places, p), append(r.passing, g)
		for _, way := range t.Ways.From(g.Stop) { // who waits until it opens knows only then that it is dry
			outs.add(way, t.EndAt(g))
		}
	}
	outs.upTo(t.Length)
}

// A reading is what the hours of a stop say, in its zone.
type reading struct {
	hours clock.Hours
	zone  *time.Location
}

// readings are those of the stops of a trip, each read once.
type readings struct {
	t  *trip.Trip
	o  Options
	of map[int]reading
}

// at gives the hours of a stop; beside is the zone of the line there.
func (r *readings) at(stop int, beside *time.Location) reading {
	if known, ok := r.of[stop]; ok {
		return known
	}
	s := r.t.Stops[stop]
	known := reading{zone: r.o.Zone(s.At)}
	if known.zone == nil {
		known.zone = beside
	}
	if h, err := hours.Read(s.Hours); err == nil && s.Hours != "" {
		known.hours = r.zoned(h.Observing(r.o.Holidays...), s.At, known.zone)
	}
	r.of[stop] = known
	return known
}

// zoned gives hours by the clock of a place. Near a border nobody knows which clock is meant.
func (r *readings) zoned(h hours.Hours, p orb.Point, own *time.Location) clock.Hours {
	if own == nil {
		return nil
	}
	out := by(h, own)
	if h.Always() {
		return out
	}
	for _, z := range zone.Beside(p, r.o.Zone) {
		if z.String() != own.String() {
			out = clock.Either(out, by(h, z))
		}
	}
	return out
}

// steady is how far a change of state is looked for.
const steady = 15 * 24 * time.Hour

// by gives hours by the clock of a zone.
func by(h hours.Hours, z *time.Location) clock.Hours {
	if h.Always() {
		return func(time.Time) (clock.Openness, time.Time) { return clock.IsOpen, time.Time{} }
	}
	states := map[hours.State]clock.Openness{hours.Shut: clock.IsShut, hours.Open: clock.IsOpen, hours.Unclear: clock.Unclear}
	return func(t time.Time) (clock.Openness, time.Time) {
		s, until := h.Lasts(t.In(z), t.Add(steady))
		return states[s], until
	}
}
