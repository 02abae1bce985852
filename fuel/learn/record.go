package learn

import (
	"math"

	"lastpump/fuel"
	"lastpump/route"
)

// An Entry is a tank, and what came of it.
type Entry struct {
	Tank     Tank
	Step     Step
	Forecast Band  // from the tanks before it
	After    State // with this tank
}

// Through learns from tanks in their order.
func (s State) Through(tanks []Tank) []Entry {
	var out []Entry
	for _, t := range tanks {
		e := Entry{Tank: t, Forecast: s.Ahead(t.Needs)}
		s, e.Step = s.Learn(t)
		e.After = s
		out = append(out, e)
	}
	return out
}

// A Score is how tanks turned out that were forecast from those before them. What was not
// learnt from is not among them, nor the first of all.
type Score struct {
	Tanks  int
	Error  float64 // mean of |litres ÷ likely − 1|
	Inside int     // between low and high
	Above  int     // over high
}

// ScoreOf scores the forecasts of entries.
func ScoreOf(entries []Entry) (s Score) {
	for _, e := range entries {
		if !e.Step.Used || e.After.Tanks() == 1 {
			continue
		}
		s.Tanks++
		s.Error += math.Abs(float64(e.Tank.Litres/e.Forecast.Likely) - 1)
		switch {
		case e.Tank.Litres > e.Forecast.High:
			s.Above++
		case e.Tank.Litres >= e.Forecast.Low:
			s.Inside++
		}
	}
	if s.Tanks > 0 {
		s.Error /= float64(s.Tanks)
	}
	return s
}

// A Tie is two things that the tanks so far have not told apart: what is too much of one
// may be too little of the other.
type Tie struct {
	Ground      route.Ground
	With        route.Ground // "" for the thirst
	Correlation float64      // from −1
}

// tied is the correlation from which two things are told of as not told apart: our
// estimate.
const tied = -0.3

// Ties gives what the tanks have not told apart, those with the thirst first.
func (s State) Ties() []Tie {
	var out []Tie
	grounds := fuel.WeighedGrounds()
	for i := range fuel.WeightCount {
		for j := i + 1; j < fuel.WeightCount; j++ {
			c := s.p[i][j] / math.Sqrt(s.p[i][i]*s.p[j][j])
			if !(c <= tied) { // NaN where there is no doubt
				continue
			}
			t := Tie{Ground: grounds[j], Correlation: c}
			if i > theta {
				t.With = grounds[i]
			}
			out = append(out, t)
		}
	}
	return out
}

// The tanks with which [State.ToHalve] asks what would tell of a ground.
const (
	tankShare = 0.6 // of what is usable, from brim to brim
	halfOf    = 0.5
	mostTanks = 20
)

// ToHalve gives how many kilometres of a ground it takes to halve what doubt there is about
// its weight, ridden in tanks that are half on it, in turn with tanks on paved road; ok is
// false where twenty tanks would not do. With a bike as most have it sand, mud, deep sand
// and snow take 100 to 250 km, rock 300, soft ground 500, and the others are never told.
func (s State) ToHalve(b fuel.Bike, g route.Ground) (km route.Metres, ok bool) {
	at := fuel.WeighedAs(g)
	if at == 0 || s.start[at] == 0 {
		return 0, false
	}
	litres := tankShare * s.usable
	half := b.FlatNeeds(g, oneKilometre).Flat[at].Likely
	before := s.known().Share(at)
	for n := range mostTanks {
		flat := map[route.Ground]fuel.Litres{route.Paved: litres}
		if n%2 == 1 {
			flat = map[route.Ground]fuel.Litres{route.Paved: litres * (1 - halfOf), g: litres * halfOf}
			km += 1000 * route.Metres(litres*halfOf/half)
		}
		needs := fuel.SureNeeds(flat, 0)
		s, _ = s.Learn(Tank{Needs: needs, Litres: s.Ahead(needs).Likely}) // just as expected
		if s.known().Share(at) <= before/2 {
			return km, true
		}
	}
	return 0, false
}

var oneKilometre = fuel.Distances{Low: 1000, Likely: 1000, High: 1000}
