package fuel

import (
	"sort"

	"lastpump/route"
)

// unknownClimb is what is climbed where the heights are not known, in metres per kilometre
// of line: the 10th, 50th and 90th percentile of 172 recorded rides, our measurement. So on
// nine rides in ten leaving heights out makes no high figure smaller. Like the known climb it
// does not grow with the stretch.
var unknownClimb = struct{ low, likely, high route.Metres }{2, 8, 18}

// A Course is a line as one bike drinks it: the litres up to any place of it,
// riding on and riding back. It is made once by [NewCourse] and never changes.
type Course struct {
	bike   Bike
	by     *Forecast
	thirst float64
	runs   []route.Run
	marks  []mark  // marks[i] stands at the beginning of run i, one more at the end
	times  float64 // what the litres of the marks are multiplied with
}

// A mark is what has gone by up to a place of the line.
type mark struct {
	at        route.Metres
	ridden    Distances
	climbed   route.Metres
	noHeights route.Metres // of line, of climb not known
	climb     Litres       // of ahead.Likely
	fall      Litres       // what climbing takes of the same way ridden backwards
	ahead     Amount
	unknown   Figures // of it, for climb not known
}

// back gives what the same way takes ridden backwards.
func (m *mark) back() Amount {
	d := m.fall - m.climb
	return m.ahead.climbing(Figures{d, d, d})
}

// NewCourse measures the runs of a line with a bike. Thirst multiplies the whole;
// 1 is the bike as its rider measured it.
func NewCourse(runs []route.Run, b Bike, thirst float64) *Course {
	c := &Course{bike: b, by: b.Forecast(), thirst: thirst, runs: runs, marks: make([]mark, 1, len(runs)+1), times: 1}
	for _, r := range runs {
		d := c.drink(r)
		c.marks = append(c.marks, c.marks[len(c.marks)-1].plus(&d))
	}
	return c
}

// Thirstier gives the same line as a bike drinks it that takes so many times as
// much of everything: the Course of a thirst that many times as large, without
// measuring the line again.
func (c *Course) Thirstier(times float64) *Course {
	t := *c
	t.thirst *= times
	t.times *= times
	return &t
}

// Forecast gives what the amounts of the course are judged by.
func (c *Course) Forecast() *Forecast { return c.by }

// drink gives what one run takes.
func (c *Course) drink(r route.Run) mark {
	d := mark{at: r.To - r.From, ridden: Distances{r.RiddenLow, r.Ridden, r.RiddenHigh}, climbed: r.Up}
	if r.NoHeights {
		d.noHeights = d.at
		km := d.at / 1000
		d.unknown = Figures{c.climb(unknownClimb.low * km), c.climb(unknownClimb.likely * km), c.climb(unknownClimb.high * km)}
	}
	d.climb, d.fall = c.climb(r.Up)+d.unknown.Likely, c.climb(r.Down)+d.unknown.Likely
	known := d.climb - d.unknown.Likely
	d.ahead = c.by.Amount(c.flatNeeds(r.Ground, d.ridden)).climbing(Figures{known, known, known}.Plus(d.unknown))
	return d
}

// climb gives the litres for so many metres of climb.
func (c *Course) climb(up route.Metres) Litres {
	return c.bike.Climb(up) * Litres(c.bike.EthanolFactor()*c.thirst*c.by.Thirst)
}

// flat gives what a distance ridden on a ground takes, without climb.
func (c *Course) flat(d route.Metres, g route.Ground) Amount {
	return c.by.onGround(WeighedAs(g), c.bike.flatLitres(g, d)*Litres(c.thirst))
}

func (m mark) plus(o *mark) mark { return m.add(o, 1) }

// add adds a share of o.
func (m mark) add(o *mark, share float64) mark {
	l := Litres(share)
	d := route.Metres(share)
	m.at += d * o.at
	m.climbed += d * o.climbed
	m.ridden.Low += d * o.ridden.Low
	m.ridden.Likely += d * o.ridden.Likely
	m.ridden.High += d * o.ridden.High
	m.noHeights += d * o.noHeights
	m.climb += l * o.climb
	m.fall += l * o.fall
	m.ahead = m.ahead.add(&o.ahead, l)
	m.unknown = m.unknown.Plus(o.unknown.times(share))
	return m
}

func (m mark) minus(o *mark) mark { return m.add(o, -1) }

// litres gives what the bike drinks of what the marks have.
func (c *Course) litres(m mark) mark {
	if c.times == 1 {
		return m
	}
	m.climb *= Litres(c.times)
	m.fall *= Litres(c.times)
	m.ahead, m.unknown = m.ahead.Times(c.times), m.unknown.times(c.times)
	return m
}

// Length gives the length of the line in the file.
func (c *Course) Length() route.Metres { return c.marks[len(c.marks)-1].at }

// RunAt gives the number of the run, as the course was given them, that begins at
// or before a place and ends after it.
func (c *Course) RunAt(at route.Metres) int {
	i := sort.Search(len(c.marks), func(i int) bool { return c.marks[i].at > at }) - 1
	return min(max(i, 0), len(c.runs)-1)
}

// markAt gives what has gone by up to a place; a drift of the height at the very
// place has, but for one at the start.
func (c *Course) markAt(at route.Metres) mark {
	first, last := &c.marks[0], &c.marks[len(c.marks)-1]
	switch {
	case at <= first.at:
		return *first
	case at >= last.at:
		return *last
	}
	i := c.RunAt(at)
	a, b := &c.marks[i], &c.marks[i+1]
	step := b.minus(a)
	return a.add(&step, float64((at-a.at)/(b.at-a.at)))
}

// A Ground is what one ground of a stretch takes, climb not counted.
type Ground struct {
	Ground route.Ground
	Ridden route.Metres
	Likely Litres
}

// A Drink is what a stretch of line takes.
type Drink struct {
	Ridden    route.Metres // likely
	RiddenAll Distances    // by each figure: the stretch of a line is an estimate
	Up        route.Metres // climb, as far as it is known
	NoHeights route.Metres // of line, of which the climb is not known
	Guessed   route.Metres // ridden, of which the ground is not known
	Grounds   []Ground     // in the order of [route.AllGrounds]
	Climb     Litres       // of Fuel.Likely
	Amount    Amount       // what may be added to that of another way
	Back      Amount       // the same way ridden backwards
	Fuel      Figures      // of Amount, from one brim to the next
	Unknown   Figures      // likely litres for the climb not known, by each figure of that
}

// HasClimb tells whether the climb of all of it is known.
func (d Drink) HasClimb() bool { return d.NoHeights <= 0 }

// Rate gives the mean likely consumption per kilometre ridden; 0 where nothing is.
func (d Drink) Rate() Consumption {
	if d.Ridden <= 0 {
		return 0
	}
	return Consumption(float64(d.Fuel.Likely) / d.Ridden.Kilometres() * 100)
}

// between gives what goes by from one place along the line to another.
func (c *Course) between(from, to route.Metres) mark {
	start := c.markAt(from)
	return c.litres(c.markAt(to).minus(&start))
}

// Amounts gives what the line takes from one place along it to another, and what the same
// way takes ridden backwards: of [Course.Between] what is asked for most often.
func (c *Course) Amounts(from, to route.Metres) (ahead, back Amount) {
	m := c.between(from, to)
	return m.ahead, m.back()
}

// Between gives what the line takes from one place along it to another.
func (c *Course) Between(from, to route.Metres) Drink {
	m := c.between(from, to)
	d := Drink{
		Ridden: m.ridden.Likely, RiddenAll: m.ridden, Up: m.climbed, NoHeights: m.noHeights, Climb: m.climb,
		Amount: m.ahead, Back: m.back(), Fuel: m.ahead.Figures(), Unknown: m.unknown,
	}
	ridden := map[route.Ground]route.Metres{}
	for i := c.RunAt(from); i < len(c.runs) && c.runs[i].From < to; i++ {
		r := c.runs[i]
		share := (min(r.To, to) - max(r.From, from)) / (r.To - r.From)
		if !(share > 0) { // NaN for a run of no length
			continue
		}
		if r.Skipped {
			continue
		}
		ridden[r.Ground] += share * r.Ridden
		if r.Guessed {
			d.Guessed += share * r.Ridden
		}
	}
	for g, m := range ridden {
		d.addGround(g, m, c)
	}
	return d
}

// addGround adds kilometres of a ground to the list, which stays in order.
func (d *Drink) addGround(g route.Ground, ridden route.Metres, c *Course) {
	use := Ground{g, ridden, c.by.likely(WeighedAs(g), c.bike.flatLitres(g, ridden)*Litres(c.thirst))}
	i := sort.Search(len(d.Grounds), func(i int) bool { return order(d.Grounds[i].Ground) >= order(g) })
	if i < len(d.Grounds) && d.Grounds[i].Ground == g {
		d.Grounds[i].Ridden += use.Ridden
		d.Grounds[i].Likely += use.Likely
		return
	}
	d.Grounds = append(d.Grounds, Ground{})
	copy(d.Grounds[i+1:], d.Grounds[i:])
	d.Grounds[i] = use
}

func order(g route.Ground) int {
	for i, o := range route.AllGrounds() {
		if o == g {
			return i
		}
	}
	return len(route.AllGrounds())
}

// AddDetour adds a way off the line and whatever it takes: on the ground that
// the line has at a place, no stretch, no climb. It gives the likely litres.
func (c *Course) AddDetour(d *Drink, at, distance route.Metres) Litres {
	if distance <= 0 {
		return 0
	}
	r := c.runs[c.RunAt(at)]
	a := c.flat(distance, r.Ground)
	d.Ridden += distance
	d.RiddenAll = d.RiddenAll.Plus(distance)
	d.Amount, d.Back = d.Amount.Plus(a), d.Back.Plus(a)
	d.Fuel = d.Amount.Figures()
	if r.Guessed {
		d.Guessed += distance
	}
	d.addGround(r.Ground, distance, c)
	return a.Likely
}

// Detour gives what a way off the line at a place takes.
func (c *Course) Detour(at, distance route.Metres) Amount {
	if distance <= 0 {
		return Amount{By: c.by}
	}
	return c.flat(distance, c.runs[c.RunAt(at)].Ground)
}

// Over gives what riding on from a place takes for a distance ridden on the line, as the
// trip meter counts it: over as many kilometres by one of the figures, wherever the line is
// then.
func (c *Course) Over(from, ridden route.Metres, by Figure) Amount {
	return c.upTo(from, ridden, by).ahead
}

// upTo gives what goes by from a place until a distance is ridden by one of the figures, or
// the line ends.
func (c *Course) upTo(from, ridden route.Metres, by Figure) mark {
	start := c.markAt(from)
	want := by.Ridden(start.ridden) + max(ridden, 0)
	i := sort.Search(len(c.marks), func(i int) bool { return by.Ridden(c.marks[i].ridden) > want })
	if i == len(c.marks) {
		return c.litres(c.marks[i-1].minus(&start))
	}
	a, b := &c.marks[max(i, 1)-1], &c.marks[max(i, 1)]
	share := (want - by.Ridden(a.ridden)) / (by.Ridden(b.ridden) - by.Ridden(a.ridden))
	step := b.minus(a)
	return c.litres(a.add(&step, float64(share)).minus(&start))
}

// RiddenTo gives what has been ridden from the start of the line to a place of it.
func (c *Course) RiddenTo(at route.Metres) Distances { return c.markAt(at).ridden }

// After gives the place along the line that is reached from another by riding a
// distance on; the end of the line if that comes first. Where nothing is ridden, on
// a ferry, it is the place before.
func (c *Course) After(from, ridden route.Metres) route.Metres {
	want := c.markAt(from).ridden.Likely + max(ridden, 0)
	i := sort.Search(len(c.marks), func(i int) bool { return c.marks[i].ridden.Likely >= want })
	switch i {
	case 0:
		return from
	case len(c.marks):
		return c.Length()
	}
	a, b := &c.marks[i-1], &c.marks[i]
	return max(from, a.at+(b.at-a.at)*(want-a.ridden.Likely)/(b.ridden.Likely-a.ridden.Likely))
}

// A Spot is a place on the way and the distance ridden to it from where the
// search began.
type Spot struct {
	At     route.Metres // along the line
	Ridden route.Metres // by the figure that was asked for
	Left   Litres       // what was still to be used up when the line ended; 0 on the line
}

// Reach gives the spot at which riding on from a place has used the litres, by one of
// the figures, with what was used before it since the brim.
func (c *Course) Reach(from route.Metres, before Amount, l Litres, by Figure) Spot {
	return c.search(from, before, l, by, false)
}

// ReachAndBack gives the farthest spot to which riding on from a place and back to it
// uses no more than the litres, by the likely or the high figures, with what is used before
// it and behind it.
func (c *Course) ReachAndBack(from route.Metres, before Amount, l Litres, by Figure) Spot {
	return c.search(from, before, l, by, true)
}

// search gives the spot at which what was used before and the way from a place, there or
// there and back, come to the litres.
func (c *Course) search(from route.Metres, before Amount, l Litres, by Figure, andBack bool) Spot {
	start := c.markAt(from)
	used := func(to *mark) Litres {
		way := c.litres(to.minus(&start))
		all := before.add(&way.ahead, 1)
		if andBack {
			all = all.Plus(way.back())
		}
		return all.At(by)
	}
	first := c.RunAt(from) + 1
	i := first + sort.Search(len(c.marks)-first, func(i int) bool { return used(&c.marks[first+i]) > l })
	if i == len(c.marks) {
		end := &c.marks[i-1]
		return Spot{end.at, by.Ridden(end.ridden) - by.Ridden(start.ridden), l - used(end)}
	}
	a := &start
	if i > first {
		a = &c.marks[i-1]
	}
	step := c.marks[i].minus(a)
	at := func(share float64) mark { return a.add(&step, share) }
	m := at(Until(l, func(share float64) Litres {
		m := at(share)
		return used(&m)
	}))
	if m.at < from { // rounding at the very beginning
		return Spot{At: from}
	}
	return Spot{At: m.at, Ridden: by.Ridden(m.ridden) - by.Ridden(start.ridden)}
}
