package lowgrade_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/octane"
	"lastpump/testdata/kit/drawn"
)

// A dribble is a road of low pumps on paved ground as the test counts it: what each leg
// takes and asks for, the grades at its beginning, and what there is on arriving at the
// first. 5 L/100 km; the high figure is 1.05 × 1.10 = 1.155 times that.
type dribble struct {
	need, asks []float64   // litres of each leg, and what has to be in the tank for it
	grades     [][]float64 // RON
	level, mix float64
}

// A way is one way of filling: litres in all, litres × octane under the need, stops.
type way [3]float64

func (w way) better(o way) bool {
	for i := range w {
		if math.Abs(w[i]-o[i]) > 1e-7 {
			return w[i] < o[i]
		}
	}
	return false
}

// usable and dead are the tank of the bike of these tests: 10 L and 0.5 that stay in it.
const usable, dead = 10, 0.5

// levels gives what may be in the tank on leaving stop j, for one who comes with a level.
func (d dribble) levels(j int, level float64) []float64 {
	levels := []float64{level}
	gone := 0.0
	for _, need := range d.need[:j] {
		gone += need
	}
	for n := 1.0; d.level-gone+n*0.25 <= usable; n++ {
		if l := d.level - gone + n*0.25; l > level {
			levels = append(levels, l)
		}
	}
	used := 0.0
	for m := j; m < len(d.need); m++ {
		if at := min(usable, used+d.asks[m]); at > level {
			levels = append(levels, at)
		}
		used += d.need[m]
	}
	return levels
}

// all tries every way to fill from stop j on: each multiple of a quarter of a litre in
// all, and the very litres that each leg ahead asks for, of each grade, with nothing left
// out.
func (d dribble) all(j int, level, mix float64, sofar way, best *way) {
	if j == len(d.need) {
		if sofar.better(*best) {
			*best = sofar
		}
		return
	}
	for _, to := range d.levels(j, level) {
		if to < d.asks[j]-1e-9 {
			continue
		}
		for _, g := range d.grades[j] {
			after := (mix*(level+dead) + g*(to-level)) / (to + dead)
			next := sofar
			next[0] += to - level
			next[1] += d.need[j] * max(0, 95-after)
			if to > level {
				next[2]++
			}
			d.all(j+1, to-d.need[j], after, next, best)
			if to == level {
				break
			}
		}
	}
}

// draw draws a road: a start full of good petrol, two or three low pumps, and a good one.
func drawDribble(rnd *rand.Rand) (d dribble, in []float64) {
	at := 20 + float64(rnd.IntN(80))
	in = append(in, at)
	for range 2 + rnd.IntN(2) {
		leg := 20 + float64(rnd.IntN(120))
		d.need = append(d.need, leg*0.05)
		kept := max(0.1*usable, 20*0.05)
		d.asks = append(d.asks, min(usable, max(leg*0.05+kept, leg*0.05*1.155)))
		var grades []float64
		for _, g := range []float64{80, 91, 92, 94} {
			if rnd.IntN(2) == 0 {
				grades = append(grades, g)
			}
		}
		if grades == nil {
			grades = []float64{80}
		}
		d.grades = append(d.grades, grades)
		at += leg
		in = append(in, at)
	}
	d.level, d.mix = usable-in[0]*0.05, 95
	return d, in
}

// The least is the least of all ways to fill, is ridden on the best petrol of those, and
// has the fewest stops of those.
func TestLeastIsTheLeastOfAll(t *testing.T) {
	taken := 0
	for seed := range uint64(30) {
		rnd := rand.New(rand.NewPCG(seed, 3))
		d, at := drawDribble(rnd)
		in := drawn.Ride(drawn.Straight(t, int(at[len(at)-1])+10))
		in.Options.Reserve = leg.Reserve{Share: 0.1, Distance: 20000}
		for i, km := range at {
			s := drawn.Pump("L"+strconv.Itoa(i), km, 0)
			if i < len(d.grades) {
				s.Grades = nil
				for _, g := range d.grades[i] {
					s.Grades = append(s.Grades, drawn.RON(g))
				}
			}
			in.Stops = append(in.Stops, s)
		}
		best := way{1e9}
		d.all(0, d.level, d.mix, way{}, &best)
		p := drawn.Cured(t, in)
		if len(p.LowGrade) != 1 || drawn.Key(p, p.LowGrade[0].To) != "L"+strconv.Itoa(len(d.need)) {
			t.Fatalf("seed %d: %+v", seed, p.LowGrade)
		}
		if got := d.of(p.LowGrade[0].Fills); got.better(best) || best.better(got) {
			t.Errorf("seed %d: %v, the least is %v", seed, got, best)
		}
		if best[0] > 0 {
			taken++
		}
	}
	if taken < 10 {
		t.Errorf("only %d of 30 roads ask for a fill at all", taken)
	}
}

// of counts what fills come to, and holds each of their figures.
func (d dribble) of(fills []lowgrade.Fill) (w way) {
	level, mix := d.level, d.mix
	for j, f := range fills {
		l := float64(f.Litres)
		if l > 0 {
			mix = (mix*(level+dead) + f.Grade.Number*l) / (level + dead + l)
			w[2]++
		}
		level += l
		w[0] += l
		w[1] += d.need[j] * max(0, 95-mix)
		if !drawn.Near(float64(f.TankAfter), level) || !drawn.Near(f.Mixture.Low, mix) || level < d.asks[j]-1e-6 ||
			!drawn.Near(float64(f.Arrive), level-d.need[j]) {
			w[0] = math.NaN()
		}
		level -= d.need[j]
	}
	return w
}

// By hand: 60 km leave 7 L of 95; 150 km on take 7.5, with the reserve of 1.5 L 9. So 2 L
// are the least: (7.5 × 95 + 2 × 80) ÷ 9.5 = 91.84. A full fill of 3 L makes 90.71.
//
// Of 98 RON from the pump before, poured in place of the 80: 9.5 × 94.9 is to be in the
// tank; 7.5 × 95 + 2 × 80 + c × 18 = 901.55 gives c = 1.6139 L.
func TestLeastByHand(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 260), drawn.Pump("good", 0.1, 0, drawn.RON(95), drawn.RON(98)), drawn.Pump("low", 60, 0, drawn.RON(80)), drawn.Pump("next", 210,
		0))
	in.Options.Reserve.Share = 0.15
	p := drawn.Cured(t, in)
	s := p.LowGrade[0]
	f := s.Fills[0]
	drawn.WantNear(t, "least", f.Litres, 2)
	drawn.WantNear(t, "full", s.Full, 3)
	drawn.WantNear(t, "mixture of the least", f.Mixture.Low, (7.5*95+2*80)/9.5)
	drawn.WantNear(t, "mixture of the full", drawn.Visit(t, p, "low").Mixture.Low, (7.5*95+3*80)/10.5)
	if !f.Whole || s.Lift == nil {
		t.Fatalf("%+v", s)
	}
	drawn.WantNear(t, "lift", s.Lift.Litres, (9.5*94.9-7.5*95-2*80)/18)
	if s.Lift.Grade != drawn.RON(98) || drawn.Key(p, s.Lift.From) != "start" || s.Lift.Size.Litres != 2 {
		t.Errorf("lift %+v", s.Lift)
	}
	mixed := octane.Mixture{}.AddGrade(7.5, drawn.RON(95), drawn.RON(95)).AddGrade(2-float64(s.Lift.Litres), drawn.RON(80),
		drawn.RON(95)).AddGrade(float64(s.Lift.Litres), drawn.RON(98), drawn.RON(95))
	drawn.WantNear(t, "mixture with the can", mixed.Low(), 94.9)
	w := drawn.WarningOf(t, p, plan.KindBelowGrade)
	c := drawn.CureBy(t, w, cure.Lift)
	if c.Verdict != "meets" || c.Cost != cure.Carry {
		t.Errorf("%+v", c)
	}
	// With the full rule nothing of this is said.
	if p := drawn.Cured(t, drawn.Changed(in, drawn.FullOfIt)); p.LowGrade != nil {
		t.Errorf("%+v", p.LowGrade)
	}
}

// Where the next pump is within reach on the least only as long as it is not dry, that is
// said, and the least is no cure. 100 km leave 5 L, which take the rider 80 km on to the
// good pump with 1 L over; if that is dry he needs 4 L, to the next or back.
func TestLeastAndADryPump(t *testing.T) {
	p := drawn.Cured(t, drawn.Ride(drawn.Straight(t, 270), drawn.Pump("low", 100, 0, drawn.RON(80)), drawn.Pump("good", 180, 0), drawn.Pump("next", 260, 0)))
	s := p.LowGrade[0]
	if s.Least != 0 || len(s.Risks) != 1 || drawn.Key(p, s.Risks[0]) != "good" {
		t.Errorf("%+v", s)
	}
	for _, c := range drawn.WarningOf(t, p, plan.KindBelowGrade).Cures {
		if c.Kind == cure.Less || c.Kind == cure.PassBy {
			t.Errorf("cure %+v", c)
		}
	}
}

// Taking less is offered where it keeps the tank from going below and risks nothing: 100 km
// leave 5 L of 95; 60 km on take 3, with half a tank kept 8. A fill of 3 L of 93.7 makes
// (5.5 × 95 + 3 × 93.7) ÷ 8.5 = 94.54, which may do; a full one of 5 makes 94.38.
func TestTakingLessIsACure(t *testing.T) {
	in := drawn.Changed(drawn.Ride(drawn.Straight(t, 230), drawn.Pump("low", 100, 0, drawn.RON(93.7)), drawn.Pump("good", 160, 0), drawn.Pump("next", 220, 0)),
		drawn.Keep(0.5))
	c := drawn.CureBy(t, drawn.WarningOf(t, drawn.Cured(t, in), plan.KindBelowGrade), cure.Less)
	drawn.WantNear(t, "the least", c.Low.Fills[0].Litres, 3)
	if c.Cost != cure.Nothing || c.Verdict != "doubtful" {
		t.Errorf("%+v", c)
	}
}

// What climbs most while below the need is told first.
func TestSteeperFirst(t *testing.T) {
	line := drawn.LineThrough(t, drawn.Rising(300, func(km float64) float64 { return max(0, km-200) * 10 }))
	p := drawn.Cured(t, drawn.Ride(line, drawn.Pump("a", 100, 0, drawn.RON(80)), drawn.Pump("b", 200, 0, drawn.RON(80)), drawn.Pump("c", 290, 0)))
	if got := p.LowGrade[0].Steeper; len(got) != 2 || got[0] != 2 || got[1] != 1 {
		t.Errorf("%v", got)
	}
	if fuel.Litres(0) != p.LowGrade[0].Fills[0].Kept {
		t.Errorf("%+v", p.LowGrade[0].Fills)
	}
}
