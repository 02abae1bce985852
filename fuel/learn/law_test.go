package learn_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func init() { kit.Draws(50) }

// someNeeds draws what a way may be planned to take.
func someNeeds(t *rapid.T) fuel.Needs {
	flat := map[route.Ground]fuel.Litres{}
	for range rapid.IntRange(1, 4).Draw(t, "grounds") {
		flat[rapid.SampledFrom(fuel.WeighedGrounds()).Draw(t, "ground")] += fuel.Litres(rapid.Float64Range(.5, 9).Draw(t, "flat"))
	}
	return fuel.SureNeeds(flat, fuel.Litres(rapid.Float64Range(0, 2).Draw(t, "climb")))
}

// lampBike is a big bike with a lamp and a tap.
func lampBike() fuel.Bike {
	b := bigBike()
	b.LampAt, b.ReserveTap = 4, 3
	return b
}

// anyStep takes whatever there is to learn from.
func anyStep(t *rapid.T, s learn.State) learn.State {
	n := someNeeds(t)
	planned := float64(n.Sum().Likely)
	mark := learn.Mark{Tap: rapid.Bool().Draw(t, "tap"), Needs: n.Times(rapid.Float64Range(.1, 3).Draw(t, "mark"))}
	litres := fuel.Litres(planned * math.Exp(rapid.Float64Range(-1, 1).Draw(t, "off")))
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		s, _ = s.LearnOpen(learn.Open{Marks: []learn.Mark{mark}})
		return s
	case 1:
		s, _ = s.LearnOpen(learn.Open{Dry: &learn.Reach{Needs: n, Litres: litres}})
		return s
	case 2:
		s, _ = s.LearnOpen(learn.Open{Rode: &learn.Reach{Needs: n, Litres: litres}})
		return s
	}
	s, _ = s.Learn(learn.Tank{Needs: n, Litres: litres, Marks: []learn.Mark{mark}})
	return s
}

// cholesky tells whether a covariance is one: symmetric, with no direction of a variance
// below 0, but for rounding.
func cholesky(p [fuel.WeightCount][fuel.WeightCount]float64) bool {
	var l [fuel.WeightCount][fuel.WeightCount]float64
	for j := range p {
		for i := j; i < len(p); i++ {
			if p[i][j] != p[j][i] {
				return false
			}
			sum := p[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			switch {
			case i == j && !(sum > -1e-12):
				return false
			case i == j:
				l[j][j] = math.Sqrt(max(sum, 1e-15))
			default:
				l[i][j] = sum / l[j][j]
			}
		}
	}
	return true
}

// Whatever is learnt: P is a covariance, no ground is known less than at the start, and
// what is ahead has figures that rise.
func TestStateStaysSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := lampBike()
		s := learn.New(b)
		for range rapid.IntRange(1, 15).Draw(t, "steps") {
			s = anyStep(t, s)
			kept := s.Keep(b, fuel.LastFill{})
			if !cholesky(kept.Covariance()) {
				t.Fatalf("P is no covariance: %v", kept.P)
			}
			for _, g := range s.Grounds() {
				if !(g.Share <= 1+1e-12 && g.Share >= 0 && g.Weight.Low <= g.Weight.Likely && g.Weight.Likely <= g.Weight.High) {
					t.Fatalf("%+v", g)
				}
			}
			n := someNeeds(t)
			a, two := s.Ahead(n), s.Ahead(n, n)
			if !(0 < a.Low && a.Low < a.Likely && a.Likely < a.High && !math.IsInf(float64(a.High), 0)) {
				t.Fatalf("ahead %+v", a)
			}
			if !(two.SD <= a.SD+1e-12) || math.Abs(float64(two.Likely-2*a.Likely)) > 1e-9*float64(a.Likely) {
				t.Fatalf("twice the way %+v, once %+v", two, a)
			}
			if low, likely, high := s.Thirst(); !(0 < low && low < likely && likely < high) {
				t.Fatalf("thirst %v %v %v", low, likely, high)
			}
			if _, sd, ok := s.Left(false); !ok || !(sd > 0 && sd <= .5) {
				t.Fatalf("what is left at the lamp is off by %v, %v", sd, ok)
			}
		}
	})
}

// The same bike written with a consumption k times as high has a thirst k times lower;
// nothing else is another: not what a tank tells, nor any litres.
func TestScaleOfRateAndThirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := bigBike()
		s := learn.New(b)
		for range rapid.IntRange(1, 4).Draw(t, "tanks") {
			s = anyStep(t, s)
		}
		if s.Tanks() == 0 {
			return
		}
		k := rapid.Float64Range(.6, 1.6).Draw(t, "k")
		kept, other := s.Keep(b, fuel.LastFill{}), b
		other.Consumption *= fuel.Consumption(k)
		kept.Consumption = other.Consumption
		kept.X[0] -= math.Log(k)
		other.Learnt = &kept
		o, err := learn.Resume(other)
		if err != nil {
			t.Fatal(err)
		}
		n, litres := someNeeds(t), fuel.Litres(rapid.Float64Range(2, 30).Draw(t, "litres"))
		a, a2 := s.Ahead(n), o.Ahead(n.Times(k))
		s, step := s.Learn(learn.Tank{Needs: n, Litres: litres})
		o, step2 := o.Learn(learn.Tank{Needs: n.Times(k), Litres: litres})
		closely := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(a)) })
		if diff := cmp.Diff(step, step2, closely); diff != "" {
			t.Fatalf("what the tank told:\n%s", diff)
		}
		for _, x := range [][2]fuel.Litres{{a.Low, a2.Low}, {a.Likely, a2.Likely}, {a.High, a2.High},
			{s.Ahead(n).High, o.Ahead(n.Times(k)).High}} {
			if math.Abs(float64(x[0]-x[1])) > 1e-9*float64(x[0]) {
				t.Fatalf("%v L and %v L of the same way", x[0], x[1])
			}
		}
		if math.Abs(s.Theta()-o.Theta()-math.Log(k)) > 1e-9 {
			t.Fatalf("thirst %v and %v", s.Theta(), o.Theta())
		}
	})
}

// No fill, a slip of the pen least of all, moves the forecast of the way it was filled
// after by more than it says itself, or the other way. Twice the slip moves
// it hardly farther.
func TestTypoMovesNothingFar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := learn.New(bigBike())
		for range rapid.IntRange(0, 5).Draw(t, "steps") {
			s = anyStep(t, s)
		}
		n := someNeeds(t)
		before := float64(s.Ahead(n).Likely)
		moved := func(v float64) (float64, learn.Step) {
			after, step := s.Learn(learn.Tank{Needs: n, Litres: fuel.Litres(before * math.Exp(v))})
			return math.Log(float64(after.Ahead(n).Likely) / before), step
		}
		v := rapid.Float64Range(-4, 4).Draw(t, "v")
		by, step := moved(v)
		switch {
		case !step.Used && by != 0:
			t.Fatalf("not learnt from, and moved by %v", by)
		case math.Abs(by) > math.Abs(v)+1e-12 || by*v < -1e-9*math.Abs(v):
			t.Fatalf("a fill off by %v moved its own forecast by %v", v, by)
		case step.Used && math.Abs(v) > .1:
			// Where both are believed less the farther they are off, w ~ 1/v, what a fill moves
			// is v V/(V + R/w): of twice the slip 1 + V/(V + R/w) times as much at most.
			half, ok := moved(v / 2)
			most := math.Abs(half) * (1 + step.V/(step.V+step.R/step.Weight))
			if ok.Used && ok.Weight < .5 && math.Abs(by) > most*1.001 {
				t.Fatalf("off by %v it moves %v, off by half %v: %v at most", v, by, half, most)
			}
		}
	})
}

// What is kept in the bike file goes on where it was, through the text of the file, to the
// last bit; with other figures in the file it does not.
func TestResume(t *testing.T) {
	const file = "tank = \"40 L\"\nconsumption = \"52 mpg US\"\nneeds = \"95 RON\"\nodometer = 1.03\n"
	read := func(t *rapid.T, text string) fuel.Bike {
		b, err := fuel.ReadBike(strings.NewReader(text), "b.toml", octane.ScaleRON)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	rapid.Check(t, func(t *rapid.T) {
		b := read(t, file)
		s, _ := learn.New(b).Learn(learn.Tank{Needs: someNeeds(t), Litres: 9})
		for range rapid.IntRange(0, 5).Draw(t, "steps") {
			s = anyStep(t, s)
		}
		day := time.Date(2026, 7, 4, 0, 0, 0, 0, time.UTC)
		text := fuel.WithLearnt(file, "x", s.Keep(b, fuel.LastFill{Date: day, Distance: 146900, Litres: 8.4}))
		again, err := learn.Resume(read(t, text))
		if err != nil || again != s {
			t.Fatalf("%v\n%+v\n%+v", err, again, s)
		}
		for _, line := range []string{`consumption = "51 mpg US"`, "odometer = 1.02", `loaded_mass = "300 kg"`,
			`ridden_on = "E0"`, `measured_on = "E5"`, "ground.sand = [1.5, 1.8, 2.7]"} {
			key, _, _ := strings.Cut(strings.TrimPrefix(line, "ground."), " ")
			changed := line + "\n"
			for l := range strings.Lines(text) {
				if !strings.HasPrefix(l, key+" =") || strings.Contains(changed, "[learnt]") {
					changed += l
				}
			}
			var other *learn.ChangedError
			if _, err := learn.Resume(read(t, changed)); !errors.As(err, &other) || len(other.Keys) != 1 || other.Keys[0] != key {
				t.Fatalf("%s: %v", line, err)
			}
		}
	})
}
