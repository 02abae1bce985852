package rides_test

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// A timedLoop is one whose pumps have hours.
type timedLoop struct {
	*loop
	weeks                map[string]*week
	long, late, doubtful int // passings that are not counted, dry if one is late, doubtful at a fill
}

// drawTimedLoop draws a loop with hours, in one zone. On a third of them the file is of one part,
// so that nights are by hours; on another third stops are chosen.
func drawTimedLoop(seed uint64) (d draft, weeks map[string]*week) {
	rnd := rand.New(rand.NewPCG(seed, 20260703))
	d = drawLoop(seed)
	zone := time.FixedZone("there", 3600*(rnd.IntN(24)-11))
	weeks = map[string]*week{}
	for i := range d.in.Stops {
		s := &d.in.Stops[i]
		w := drawWeek(rnd, zone)
		s.Hours, weeks[s.Name] = w.String(), w
	}
	if rnd.IntN(3) == 0 {
		var one route.Track
		for _, t := range d.tracks {
			one.Segments = append(one.Segments, t.Segments...)
		}
		d.tracks = []route.Track{one}
	}
	if rnd.IntN(3) == 0 {
		d.in.Options.FillAt = plan.FillChosen
	}
	leave := clock.OClock{Hour: 6 + rnd.IntN(4), Minute: 15 * rnd.IntN(4)}
	d.in.Options.Days = &days.Options{
		Date: time.Date(2026, 7, 1+rnd.IntN(7), 0, 0, 0, 0, time.UTC), First: leave, Every: leave,
		Wait: []time.Duration{clock.DefaultWait, clock.DefaultWait, clock.DefaultWait, 3 * time.Hour, time.Hour, 0}[rnd.IntN(6)],
		Zone: func(orb.Point) *time.Location { return zone },
	}
	d.drawStays(seed)
	return d, weeks
}

// drawStays draws on some loops nights that the rider names, on some halts.
func (d *draft) drawStays(seed uint64) {
	rnd, c, o := rand.New(rand.NewPCG(seed, 20260704)), follow(d.tracks), d.in.Options.Days
	along := func() days.Where { return days.Where{At: route.Metres(c.at[len(c.at)-1] * (0.05 + 0.9*rnd.Float64()))} }
	switch seed % 7 {
	case 3:
		o.Nights = []days.Where{along(), along(), along()}
	case 2:
		o.Halts = []days.Halt{{Where: along(), For: 3 * time.Hour}, {Where: along(), For: 30 * time.Minute}}
	}
}

// timed plans a loop with hours.
func (d draft) timed(weeks map[string]*week) (*timedLoop, error) {
	in, p, err := d.planned()
	if err != nil {
		return nil, err
	}
	l := &timedLoop{loop: d.loop(in, p), weeks: weeks}
	l.sheet.tellHours(p, weeks)
	for _, v := range p.Visits {
		switch h := v.Hour; {
		case h == nil:
		case h.LongShut:
			l.long++
		case h.DryIfLate:
			l.late++
		case v.Fill != nil && h.State == clock.Doubtful:
			l.doubtful++
		}
	}
	return l, nil
}

// tellHours writes down what a plan prints of hours and nights, and when the pumps truly are open.
func (s *sheet) tellHours(p *plan.Plan, weeks map[string]*week) {
	tell := func(e *entry, visit int) {
		if visit >= 0 {
			v := p.Visits[visit]
			e.hour, e.open = v.Hour, weeks[v.Stop.Name]
		}
		if e.off != nil {
			e.off.open = weeks[e.off.pump]
		}
	}
	tell(&s.stops[0], p.Legs[0].FromVisit)
	for i, l := range p.Legs {
		tell(&s.stops[i+1], l.ToVisit)
		if out := s.legs[i].out; out != nil {
			out.open = weeks[out.pump]
		}
	}
	for i, b := range p.Passes {
		tell(&s.passed[i].entry, b.Visit)
	}
	if p.Options.Days == nil {
		return
	}
	s.clock = &timetable{first: p.Days[0].Leave, wait: p.Options.Days.Wait}
	for _, h := range p.Options.Days.Halts {
		s.clock.halts = append(s.clock.halts, halt{float64(h.At), h.For})
	}
	slices.SortFunc(s.clock.halts, func(a, b halt) int { return cmp.Compare(a.at, b.at) })
	for i, d := range p.Days[:len(p.Days)-1] {
		n := night{at: float64(d.To), leave: p.Days[i+1].Leave}
		if d.Visit >= 0 {
			n.pump = p.Visits[d.Visit].Stop.Name
		}
		s.clock.nights = append(s.clock.nights, n)
	}
}

// timedSeeds are those of loops whose pumps have hours: ninety in a long run. On the last three
// whoever forgets the hours strands.
func timedSeeds() (seeds []uint64) {
	for i := range uint64(kit.Share(90, 15)) {
		seeds = append(seeds, 1000+i)
	}
	for _, s := range []uint64{1020, 1054, 1061} {
		if !slices.Contains(seeds, s) {
			seeds = append(seeds, s)
		}
	}
	return seeds
}

// timedLoops are made once.
var timedLoops = sync.OnceValues(func() (all []*timedLoop, err error) {
	for _, seed := range timedSeeds() {
		l, err := drawTimed(seed)
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
})

func drawTimed(seed uint64) (*timedLoop, error) {
	d, weeks := drawTimedLoop(seed)
	l, err := d.timed(weeks)
	if err != nil {
		return nil, fmt.Errorf("loop %d: %w", seed, err)
	}
	return l, nil
}

// drawTimedFate draws a ride by the clock. Time is lost by nobody who has not been told of it: there
// are no wrong turns, and no turning back for want of word.
func (l *timedLoop) drawTimedFate(rnd *rand.Rand, beyond bool) fate {
	f := l.draw(rnd)
	f.turns, f.noWord, f.silent = nil, false, make([]bool, len(l.sheet.stops))
	f.tempo = l.drawTempo(rnd, beyond)
	return f
}

// With hours nobody runs dry either where a plan promises it, who drinks up to the high figure, is
// anywhere between early and late, and finds up to one place dry, or pumps shut for longer than he
// waits. All is then as the plan says: he is at each pump between early and late, those that are
// said to be open are so, and those said to be shut.
func TestNobodyRunsDryByTheClock(t *testing.T) {
	all, err := timedLoops()
	if err != nil {
		t.Fatal(err)
	}
	var holding []*timedLoop
	var long, late, doubtful, chosen int
	for _, l := range all {
		if l.holds {
			holding = append(holding, l)
			long, late, doubtful = long+l.long, late+l.late, doubtful+l.doubtful
			if l.plan.Options.FillAt == plan.FillChosen {
				chosen++
			}
		}
	}
	rnd := rand.New(rand.NewPCG(13, 1))
	var count, beyond, both timedTally
	for i := range kit.Share(10000, 12) {
		l := holding[i%len(holding)]
		f := l.drawTimedFate(rnd, i%10 == 9)
		r := l.set(f, l.sheet)
		one := ridden{l.loop, f, r, r.bySheet()}
		which := &count
		outside := slices.ContainsFunc(r.shut, func(f found) bool { return !f.within })
		switch {
		case f.tempo.beyond > 1 || outside:
			which = &beyond
		case f.dry >= 0 && len(r.shut) > 0:
			which = &both
		}
		which.add(one)
		if which == &count && one.end == ranDry && count.ranDry <= 10 {
			t.Errorf("%v; found shut %v", one, r.shut)
		}
		for _, wrong := range r.wrong[:min(1, len(r.wrong))] {
			if count.wrongHours++; count.wrongHours <= 10 {
				t.Errorf("%s: %s (%v)", l.name, wrong, f.tempo.beyond)
			}
		}
	}
	if count.ranDry > 0 || count.wrongHours > 0 {
		t.Errorf("%v ran dry, %d were told of hours wrongly", count.ranDry, count.wrongHours)
	}
	t.Logf("%d of %d loops hold, %d of chosen stops; passings shut for long %d, dry if one is late %d, doubtful fills %d",
		len(holding), len(all), chosen, long, late, doubtful)
	t.Logf("between early and late: %v", count)
	t.Logf("later: %v", beyond)
	t.Logf("pumps shut and another dry: %v", both)
}

// A timedTally counts rides by the clock.
type timedTally struct {
	tally
	foundShut, back int
	longest         time.Duration // that somebody waited at a pump that he had ridden back to
	longBack        int           // rides on which that was longer than they wait
	long12          int           // and those of riders who wait as long as people do in general
	wrongHours      int
}

func (c *timedTally) add(r ridden) {
	c.tally.add(r)
	if len(r.rider.shut) > 0 {
		c.foundShut++
	}
	if r.rider.wentBack {
		c.back++
		c.longest = max(c.longest, r.rider.afterBack)
		if r.rider.afterBack > r.rider.sheet.clock.wait {
			c.longBack++
			if r.rider.sheet.clock.wait == clock.DefaultWait {
				c.long12++
			}
		}
	}
}

func (c timedTally) String() string {
	return fmt.Sprintf("%.0f rides: %.0f finished, %.0f safe, %.0f ran dry; %d found a pump shut for longer than they wait; %d rode back to a pump, %d of them to one shut for longer (%d where they wait 12 h), at most %v",
		c.rides, c.finished, c.safe, c.ranDry, c.foundShut, c.back, c.longBack, c.long12, c.longest)
}

// A sheet whose maker has not looked at the hours strands riders who get home by one that has.
func TestForgottenHoursAreFound(t *testing.T) {
	all, err := timedLoops()
	if err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewPCG(14, 1))
	rides, with, anyway := 0, 0, 0
	for _, l := range all {
		if !l.holds || l.long+l.late == 0 {
			continue
		}
		faulty, err := l.withoutHours()
		if err != nil {
			t.Fatal(err)
		}
		for range kit.Share(80, 2) {
			f := l.drawTimedFate(rnd, false)
			f.dry, f.silent = -1, make([]bool, len(l.plan.Visits)+2) // of more stops, perhaps
			rides++
			if l.set(f, faulty).bySheet() != ranDry {
				continue
			}
			with++
			if l.set(f, l.sheet).bySheet() == ranDry {
				anyway++
			}
		}
	}
	if with == 0 || anyway > 0 {
		t.Errorf("strands %d of %d, of them %d without it too", with, rides, anyway)
	}
	t.Logf("strands %d of %d", with, rides)
}

// withoutHours is the sheet of a plan that knows none; days and nights are those of the one that does.
func (l *timedLoop) withoutHours() (*sheet, error) {
	in := plan.Inputs{Line: l.plan.Line, Grounds: l.plan.Grounds, Stops: l.plan.Stops, Bike: l.plan.Bike, Options: l.plan.Options}
	in.Options.Days, in.Options.Carry = nil, plan.Carry{Cans: l.plan.Cans.Carried}
	p, err := plan.Make(context.Background(), in)
	if err != nil {
		return nil, err
	}
	s := read(p, l.road)
	s.tellHours(p, l.weeks)
	s.clock = l.sheet.clock
	return s, nil
}
