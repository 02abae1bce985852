package learn_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/route"
	"lastpump/testdata/kit"
)

// A rider is one whose bike drinks as the description of the filter has it: a thirst
// around a maker's figure, that drifts from tank to tank, and weights drawn from the
// general ranges, of which 80 % lie between low and high. Nothing of the filter is used.
type rider struct {
	rand  *rand.Rand
	theta float64
	u     map[route.Ground]float64
}

func newRider(r *rand.Rand, wide float64) *rider {
	out := &rider{rand: r, theta: r.NormFloat64() * .12, u: map[route.Ground]float64{}}
	for _, g := range fuel.WeighedGrounds()[1:] {
		w := fuel.GeneralWeight(g)
		out.u[g] = r.NormFloat64() * wide * math.Log(w.High/w.Low) / (2 * 1.2815516)
	}
	return out
}

// rides gives what a way takes, scatter of 7 % and the drift of 3 % included, and how it is
// read off at the pump: 0.3 L off at either brim.
func (r *rider) rides(flat map[route.Ground]fuel.Litres, climb fuel.Litres) (truth, read fuel.Litres) {
	r.theta += r.rand.NormFloat64() * .03
	sum := float64(climb)
	for _, g := range fuel.WeighedGrounds() {
		sum += float64(flat[g]) * math.Exp(r.u[g])
	}
	burnt := sum * math.Exp(r.theta+r.rand.NormFloat64()*.07)
	return fuel.Litres(burnt), fuel.Litres(burnt + .3*(r.rand.NormFloat64()-r.rand.NormFloat64()))
}

// tank draws what a tank of a long loop is planned to take: 6 to 12 L, a third of it or so
// paved, the rest on two or three grounds.
func (r *rider) tank() (flat map[route.Ground]fuel.Litres, climb fuel.Litres) {
	all := 6 + 6*r.rand.Float64()
	parts := map[route.Ground]float64{route.Paved: r.rand.ExpFloat64()}
	for range 3 {
		g := []route.Ground{route.PackedGravel, route.LooseGravel, route.Dirt, route.Dirt, route.Sand, route.Rocky}[r.rand.IntN(6)]
		parts[g] += r.rand.ExpFloat64()
	}
	sum := 0.0
	for _, g := range fuel.WeighedGrounds() {
		sum += parts[g]
	}
	flat = map[route.Ground]fuel.Litres{}
	for _, g := range fuel.WeighedGrounds() {
		if parts[g] > 0 {
			flat[g] = fuel.Litres(all * parts[g] / sum)
		}
	}
	return flat, fuel.Litres(.05 * all * r.rand.Float64())
}

// legs are what is to be foretold: more of the same, and one ground alone.
func (r *rider) legs() map[string]map[route.Ground]fuel.Litres {
	mixed, _ := r.tank()
	return map[string]map[route.Ground]fuel.Litres{
		"mixed": mixed, "dirt": {route.Dirt: 8}, "sand": {route.Sand: 8},
	}
}

// A score is how forecasts turned out.
type score struct{ n, inside, above, off, stated float64 }

func (s *score) add(b learn.Band, truth fuel.Litres) {
	s.n++
	if truth >= b.Low && truth <= b.High {
		s.inside++
	}
	if truth > b.High {
		s.above++
	}
	s.off += math.Abs(math.Log(float64(truth / b.Likely)))
	s.stated += b.SD
}

func (s score) share() float64 { return s.inside / s.n }

// simulate lets riders fill up and learn, and scores what is foretold after 3, 5 and 10
// tanks. spoil changes what is learnt from; alone gives all litres to paved road, as where
// no ground is known.
func simulate(riders int, wide float64, spoil func(*rider, int, learn.Tank) learn.Tank, alone bool) map[int]map[string]*score {
	out := map[int]map[string]*score{}
	at := []int{3, 5, 10}
	for _, n := range at {
		out[n] = map[string]*score{"mixed": {}, "dirt": {}, "sand": {}}
	}
	needs := func(flat map[route.Ground]fuel.Litres, climb fuel.Litres) fuel.Needs {
		n := fuel.SureNeeds(flat, climb)
		if alone {
			return paved(n.Sum().Likely)
		}
		return n
	}
	b := bigBike()
	for k := range riders {
		r := newRider(rand.New(rand.NewPCG(11, uint64(k))), wide)
		s := learn.New(b)
		for i := 1; i <= at[len(at)-1]; i++ {
			flat, climb := r.tank()
			_, read := r.rides(flat, climb)
			t := learn.Tank{Needs: needs(flat, climb), Litres: read}
			if spoil != nil {
				t = spoil(r, i, t)
			}
			s, _ = s.Learn(t)
			legs := r.legs()
			for _, name := range []string{"mixed", "dirt", "sand"} {
				if scores, ok := out[i]; ok {
					next := *r // each of the legs is the next
					truth, _ := next.rides(legs[name], 0)
					scores[name].add(s.Ahead(needs(legs[name], 0)), truth)
				}
			}
		}
	}
	return out
}

// manyRiders is how many the description of the filter was measured on; in the long run
// there are more.
func manyRiders() int { return kit.Share(8000, 8) }

// off is two and a half standard deviations of a share among so many riders.
func off(share float64, riders int) float64 {
	return 2.5 * math.Sqrt(share*(1-share)/float64(riders))
}

// log prints a row of a table.
func (s score) log(t *testing.T, what string) {
	t.Helper()
	t.Logf("%s: %.1f %% inside, %.1f %% above, mean error %.1f %%, stated %.1f %%", what, 100*s.share(), 100*s.above/s.n,
		100*s.off/s.n, 100*s.stated/s.n*math.Sqrt(2/math.Pi))
}

// The description of the filter: the 90 % band holds on mixed ground, dirt and sand. And
// the error is the one that is stated: of a normal distribution the mean deviation is
// √(2/π) of the standard deviation.
func TestBandHolds(t *testing.T) {
	got := simulate(manyRiders(), 1, nil, false)
	for _, n := range []int{3, 5, 10} {
		for _, leg := range []string{"mixed", "dirt", "sand"} {
			s := got[n][leg]
			what := fmt.Sprintf("after %d tanks, %s", n, leg)
			s.log(t, what)
			if !(s.share() >= .88 && s.share() <= .97) {
				t.Errorf("%s: the band holds %.1f %%", what, 100*s.share())
			}
			if ratio := s.off / s.stated / math.Sqrt(2/math.Pi); !(ratio > .85 && ratio < 1.1) {
				t.Errorf("%s: the error is %.2f times the one stated", what, ratio)
			}
		}
	}
	if three, ten := got[3]["sand"], got[10]["sand"]; !(ten.off < .85*three.off) {
		t.Errorf("sand is foretold no better after ten tanks: %.3f, after three %.3f", ten.off/ten.n, three.off/three.n)
	}
}

// The description of the filter, "Honest limits": with true weights 1.6 times as far out,
// sand is covered 79 to 82 %.
func TestBandWhereWeightsLieFartherOut(t *testing.T) {
	got := simulate(manyRiders(), 1.6, nil, false)
	for _, n := range []int{3, 5, 10} {
		s := got[n]["sand"]
		s.log(t, fmt.Sprintf("1.6 times as far out, after %d tanks, sand", n))
		if !(s.share() >= .79-off(.79, 1000) && s.share() <= .82+off(.82, 1000)) {
			t.Errorf("after %d tanks sand is covered %.1f %%", n, 100*s.share())
		}
	}
}

// The description of the filter: one factor for everything is wrong on sand alone, and too
// sure: 17.7 % error, 52 % covered. What mixtures of ground those riders rode is not said, so
// there is room for 6 and 3 points.
func TestOneFactorIsTooSure(t *testing.T) {
	got := simulate(manyRiders(), 1, nil, true)
	for _, n := range []int{3, 5, 10} {
		s := got[n]["sand"]
		s.log(t, fmt.Sprintf("one factor, after %d tanks, sand", n))
		if !(math.Abs(s.share()-.52) < .06 && math.Abs(s.off/s.n-.177) < .03) {
			t.Errorf("after %d tanks sand is covered %.1f %%, the error %.1f %%", n, 100*s.share(), 100*s.off/s.n)
		}
	}
}

// spoilt puts into a log what real logs hold: of twenty tanks one with a fill that was not
// written, one that was not filled to the brim, and one slip of the pen.
func spoilt(r *rider, _ int, t learn.Tank) learn.Tank {
	switch x := r.rand.Float64(); {
	case x < .05:
		t.Litres *= .5
	case x < .10:
		t.Litres *= fuel.Litres(.6 + .3*r.rand.Float64())
	case x < .125:
		t.Litres *= 10
	case x < .15:
		t.Litres *= 1.5
	}
	return t
}

// The description of the filter: logs with missed fills, unmarked part-fills and slips of
// the pen hardly make it worse (on the tanks of others 6.3 %, where a mean has 13 %).
func TestSpoiltLogs(t *testing.T) {
	sum, count := 0.0, 0.0 // of what a plain mean of filled ÷ planned is off, after ten tanks
	mean := map[*rider]*[2]float64{}
	clean := simulate(manyRiders(), 1, nil, false)
	got := simulate(manyRiders(), 1, func(r *rider, i int, x learn.Tank) learn.Tank {
		x = spoilt(r, i, x)
		m := mean[r]
		if m == nil {
			m = &[2]float64{}
			mean[r] = m
		}
		m[0] += float64(x.Litres)
		m[1] += float64(x.Needs.Sum().Likely)
		if i == 10 {
			sum += math.Abs(math.Log(m[0]/m[1]) - r.theta)
			count++
		}
		return x
	}, false)
	for _, n := range []int{3, 5, 10} {
		s, c := got[n]["mixed"], clean[n]["mixed"]
		s.log(t, fmt.Sprintf("spoilt, after %d tanks, mixed", n))
		if !(s.off < 1.25*c.off && s.share() > .88) {
			t.Errorf("after %d tanks the error is %.1f %%, without slips %.1f %%; the band holds %.1f %%", n, 100*s.off/s.n,
				100*c.off/c.n, 100*s.share())
		}
	}
	t.Logf("a plain mean is off by %.1f %% after ten tanks", 100*sum/count)
	if s := got[10]["mixed"]; !(sum/count > 1.5*s.off/s.n) {
		t.Errorf("a plain mean is off by %.1f %%, the filter by %.1f %%", 100*sum/count, 100*s.off/s.n)
	}
}

// The description of the filter: kilometres that halve the doubt are 130 to 180 for sand,
// mud, deep sand and snow, 280 for rock, 475 for soft ground; packed and loose gravel and
// dirt never in 20 tanks. Which tanks it was measured on is not said, so a third either way.
func TestKilometresThatHalveTheDoubt(t *testing.T) {
	b := fuel.DefaultBike()
	s := learn.New(b)
	for g, want := range map[route.Ground][2]float64{
		route.Sand: {130, 180}, route.Mud: {130, 180}, route.DeepSand: {130, 180}, route.Snow: {130, 180},
		route.Rocky: {280, 280}, route.Soft: {475, 475},
	} {
		got, ok := s.ToHalve(b, g)
		t.Logf("%s %.0f km", g, got.Kilometres())
		if !ok || got.Kilometres() < want[0]*2/3 || got.Kilometres() > want[1]*4/3 {
			t.Errorf("%s takes %.0f km, %v, want %v", g, got.Kilometres(), ok, want)
		}
	}
	for _, g := range []route.Ground{route.Paved, route.PackedGravel, route.LooseGravel, route.Dirt} {
		if got, ok := s.ToHalve(b, g); ok {
			t.Errorf("%s is told by %v", g, got)
		}
	}
}
