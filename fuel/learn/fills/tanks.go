package fills

import (
	"fmt"
	"math"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/route"
	"lastpump/route/input"
)

// A Ride is the line on which tanks were ridden, as the bike drinks it at a thirst of 1.
type Ride struct {
	Course *fuel.Course
	Half   func(at route.Metres) route.Metres // half the detour to the place at which a tank ended there; nil for none
}

// A Tank is one that was ridden, and the rows of its brims.
type Tank struct {
	learn.Tank
	From, To Row          // the brims
	Distance route.Metres // as the bike shows it; 0 where it is not known
	Ground   Ground
	Remark   RemarkKind // SpanOff or GroundOff, or ""
	Ratio    float64    // of the trip to what span or columns have, where there are any
}

// Ground says how the ground of a tank is known.
type Ground string

// Where it is known from.
const (
	NoGround  Ground = ""        // not at all: all of it counts as paved
	OfLine    Ground = "line"    // from a span of the line
	OfColumns Ground = "columns" // from columns named after grounds
)

// Tanks are all that a log gives to learn from.
type Tanks struct {
	Tanks   []Tank
	Open    learn.Open    // what is known of the tank that is not full yet
	Last    fuel.LastFill // the row that ended the last tank, or that the log was learnt up to
	Before  int           // rows that were learnt from before
	Remarks []Remark
}

// Learn gives the tanks as [learn.State.Through] takes them.
func (t Tanks) Learn() (out []learn.Tank) {
	for _, x := range t.Tanks {
		out = append(out, x.Tank)
	}
	return out
}

// gauge is how far a pump's gauge, a tank's size and the neck of the tank may be off: our
// estimate.
const gauge = 1.03

// Tanks makes tanks of the rows. The line of the ride is needed only for the ground of rows
// that have a span of it; without it they are taken without ground. Rows that a bike file
// was learnt from before are left out. The error joins [*input.Error]: rows with more litres
// than tank and can hold, spans beyond the line, a log of nothing but one full tank
// ([ErrNothing]), or of another bike, of which every tank is off by over half.
func (l *Log) Tanks(b fuel.Bike, ride *Ride) (Tanks, error) {
	var faults []error
	for _, r := range l.Rows {
		if err := l.fits(r, b, ride); err != nil {
			faults = append(faults, err)
		}
	}
	if err := input.JoinFaults(faults); err != nil {
		return Tanks{}, err
	}
	m := &maker{of: l, bike: b, ride: ride}
	m.make()
	return m.out, m.wrong()
}

// fits tells what of a row cannot be with a bike and on a line.
func (l *Log) fits(r Row, b fuel.Bike, ride *Ride) error {
	holds := (b.Tank + b.Can) * gauge
	switch {
	case r.HasLitres && r.Event.fills() && r.Litres > holds:
		hint := "what went into another can is not this bike's; is a point missing?"
		if l.Volume != volumes[0].column && r.Litres/fuel.USGallon <= holds {
			hint = "are these litres? call the column litres"
		}
		with := ""
		if b.Can > 0 {
			with = fmt.Sprintf(" and the can %.4g L", b.Can)
		}
		return l.fault(r, fmt.Sprintf("%.4g L are more than the tank holds: %.4g L%s", r.Litres, b.Tank, with), hint)
	case r.HasSpan && ride != nil && r.To > ride.Course.Length()+route.Overrun(ride.Course.Length()):
		return l.fault(r, fmt.Sprintf("km %.1f is beyond the end of the line, at km %.1f", r.To.Kilometres(),
			ride.Course.Length().Kilometres()), "is it the line of another ride?")
	}
	return nil
}

// A maker makes tanks of rows, one after the other.
type maker struct {
	of   *Log
	bike fuel.Bike
	ride *Ride
	out  Tanks

	brim *Row  // at which the tank began; nil before the first
	rows []Row // since then
}

func (m *maker) make() {
	rows := m.of.Rows[m.learntBefore():]
	for i, r := range rows {
		switch {
		case m.brim == nil && r.Event == Full:
			m.brim = &rows[i]
			if i > 0 {
				m.remark(BeforeBrim, lines(rows[:i])...)
			}
		case m.brim == nil:
		case r.Event == Full:
			m.rows = append(m.rows, r)
			m.full()
			m.brim, m.rows = &rows[i], nil
		default:
			m.rows = append(m.rows, r)
		}
	}
	if m.brim != nil {
		m.out.Last = fuel.LastFill{Date: m.brim.Date, Distance: m.brim.Distance, Litres: m.brim.Litres}
		m.open()
	}
	m.unused()
}

func lines(rows []Row) (out []int) {
	for _, r := range rows {
		out = append(out, r.Line)
	}
	return out
}

func (m *maker) remark(kind RemarkKind, lines ...int) {
	r := Remark{Kind: kind, Lines: lines}
	if len(lines) == 1 {
		r.Line = lines[0]
	}
	m.out.Remarks = append(m.out.Remarks, r)
}

// learntBefore gives the row from which learning goes on: the brim that ended the last tank
// the bike file knows. Where it is not in the log, the rows of days before it are left out:
// one of its own day may be the same brim, written down anew, or the first of another ride.
func (m *maker) learntBefore() (from int) {
	l := m.bike.Learnt
	if l == nil {
		return 0
	}
	rows := m.of.Rows
	last := slices.IndexFunc(rows, func(r Row) bool {
		const rounding = 1e-6
		near := func(a, b float64) bool { return math.Abs(a-b) <= rounding*(1+math.Abs(b)) }
		return sameDay(r, l.Last) && near(float64(r.Distance), float64(l.Last.Distance)) &&
			near(float64(r.Litres), float64(l.Last.Litres)) && r.Event == Full
	})
	if last >= 0 {
		m.out.Before = last + 1
		m.remark(LearntBefore, lines(rows[:last+1])...)
		return last
	}
	for _, r := range rows {
		if r.Date.Before(l.Last.Date) && !sameDay(r, l.Last) {
			from++
		}
	}
	if from > 0 {
		m.out.Before = from
		m.remark(NotThere, lines(rows[:from])...)
	}
	return from
}

func sameDay(r Row, l fuel.LastFill) bool {
	y, mon, d := r.Date.Date()
	y2, mon2, d2 := l.Date.Date()
	return y == y2 && mon == mon2 && d == d2
}

// full makes a tank of the rows since the brim, of which the last is a full tank.
func (m *maker) full() {
	end := m.rows[len(m.rows)-1]
	t := Tank{From: *m.brim, To: end}
	for i, r := range m.rows {
		if r.Event == Missed {
			t.Not = learn.FillNotWritten
		}
		if r.Event.fills() && !r.HasLitres && t.Not == "" {
			t.Not = learn.LitresUnknown
		}
		t.Litres += r.Litres
		if i < len(m.rows)-1 {
			t.Poured += r.Litres
		}
	}
	shown, known := m.distance(len(m.rows))
	if known {
		t.Distance = shown
	}
	way := m.way(m.rows, shown, known)
	t.Needs, t.Ground, t.Remark, t.Ratio = way.needs, way.ground, way.remark, way.ratio
	if !way.known && t.Not == "" {
		t.Not = learn.DistanceUnknown
	}
	t.Marks = m.marks(way.needs, shown, known && t.Not == "")
	m.out.Tanks = append(m.out.Tanks, t)
}

// distance gives how far it was from the brim to the row before which n rows stand, as the
// bike shows it.
func (m *maker) distance(n int) (shown route.Metres, known bool) {
	last := m.rows[n-1]
	if m.of.Odometer {
		return last.Distance - m.brim.Distance, last.HasDistance && m.brim.HasDistance
	}
	for i, r := range m.rows[:n] {
		if !r.Event.fills() && i < n-1 {
			continue // the trip goes on
		}
		if !r.HasDistance {
			return 0, false
		}
		shown += r.Distance
	}
	return shown, true
}

// marks makes marks of the rows at which lamp or tap told of the tank; without ground of
// their own they have the ground of the whole.
func (m *maker) marks(whole fuel.Needs, shown route.Metres, known bool) (out []learn.Mark) {
	for i, r := range m.rows {
		if r.Event != Lamp && r.Event != Reserve || !known {
			continue
		}
		to, ok := m.distance(i + 1)
		if !ok || !(to > 0 && to <= shown) {
			continue
		}
		out = append(out, learn.Mark{Tap: r.Event == Reserve, Poured: m.poured(i),
			Needs: whole.Times(float64(to / shown))})
	}
	return out
}

// poured gives what was filled before a row.
func (m *maker) poured(i int) (sum fuel.Litres) {
	for _, r := range m.rows[:i] {
		sum += r.Litres
	}
	return sum
}

// open tells what is known of the tank that is not full yet. Behind a fill that was not
// written, nothing is.
func (m *maker) open() {
	for i, r := range m.rows {
		shown, known := m.distance(i + 1)
		way := m.way(m.rows[:i+1], shown, known)
		if r.Event == Missed || r.Event == Part && !r.HasLitres {
			return
		}
		if !way.known {
			continue
		}
		switch r.Event {
		case Lamp, Reserve:
			m.out.Open.Marks = append(m.out.Open.Marks, learn.Mark{Tap: r.Event == Reserve, Needs: way.needs,
				Poured: m.poured(i)})
		case Dry:
			m.out.Open.Rode, m.out.Open.Dry = nil, &learn.Reach{Needs: way.needs,
				Litres: m.bike.Usable() + m.poured(i+1)}
		case Part:
			if m.out.Open.Dry == nil {
				m.out.Open.Rode = &learn.Reach{Needs: way.needs, Litres: m.bike.Usable() + m.poured(i)}
			}
		}
	}
}

// unused says what of the log nothing was made of.
func (m *maker) unused() {
	var spans, taps []int
	for _, r := range m.of.Rows {
		if r.HasSpan && m.ride == nil {
			spans = append(spans, r.Line)
		}
		if r.Event == Lamp && m.bike.LampAt == 0 || r.Event == Reserve && m.bike.ReserveTap == 0 {
			taps = append(taps, r.Line)
		}
	}
	if len(spans) > 0 {
		m.remark(SpansNotUsed, spans...)
	}
	if len(taps) > 0 {
		m.remark(NoMark, taps...)
	}
	for _, t := range m.out.Tanks {
		if t.Remark != "" {
			m.remark(t.Remark, t.To.Line)
			m.out.Remarks[len(m.out.Remarks)-1].Ratio = t.Ratio
		}
	}
}

// wrong says why nothing can be made of all of it.
func (m *maker) wrong() error {
	if len(m.out.Tanks) == 0 && m.out.Open.Empty() && m.out.Before == 0 {
		what := "nothing but one full tank: a tank is measured from brim to brim"
		if m.brim == nil {
			what = "no full tank to begin with: a tank is measured from brim to brim"
		}
		return &input.Error{File: m.of.File, What: what, Cause: ErrNothing,
			Hint: "write down the next full tank, with its distance and what went in"}
	}
	if ratio, ok := m.ofAnother(); ok {
		return &input.Error{File: m.of.File, Cause: ErrNothing,
			What: fmt.Sprintf("every tank is off by over half: the %d of them took %.2f times what this bike would",
				len(m.out.Tanks), ratio),
			Hint: "is it the log of another bike, or are its units others than the first row says?"}
	}
	return nil
}

// another is by how much each tank of another bike is off.
const another = 0.5

// ofAnother tells whether two tanks or more are all off by over half, and by how much they
// are together.
func (m *maker) ofAnother() (ratio float64, ok bool) {
	var litres, planned float64
	n, thirst := 0, 1.0
	if m.bike.Learnt != nil {
		thirst = fuel.Exp(m.bike.Learnt.X[0])
	}
	for _, t := range m.out.Tanks {
		need := float64(t.Needs.Sum().Likely) * thirst
		if t.Not != "" || !(need > 0) {
			continue
		}
		if math.Abs(float64(t.Litres)/need-1) <= another {
			return 0, false
		}
		litres, planned, n = litres+float64(t.Litres), planned+need, n+1
	}
	return litres / planned, n >= 2
}
