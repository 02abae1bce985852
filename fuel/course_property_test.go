package fuel_test

import (
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/testdata/kit/band"

	"pgregory.net/rapid"
)

// drawRuns makes a line of up to twelve runs: ridden ones, up, down or of climb
// not known, now and then a ferry.
func drawRuns(t *rapid.T) []route.Run {
	var runs []route.Run
	var at route.Metres
	for range rapid.IntRange(1, 12).Draw(t, "runs") {
		r := route.Run{From: at, To: at + route.Metres(rapid.Float64Range(1, 80_000).Draw(t, "length"))}
		at = r.To
		r.Ground = rapid.SampledFrom(route.AllGrounds()[:10]).Draw(t, "ground")
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			r.Skipped = true
		case 1:
			r.NoHeights = true
		case 2, 3:
			r.Up = route.Metres(rapid.Float64Range(0, 2000).Draw(t, "up"))
		case 4:
			r.Down = route.Metres(rapid.Float64Range(0, 2000).Draw(t, "down"))
		}
		if !r.Skipped {
			r.Ridden = (r.To - r.From) * route.Metres(rapid.Float64Range(1, 1.3).Draw(t, "stretch"))
			r.RiddenLow = r.Ridden * route.Metres(rapid.Float64Range(0.8, 1).Draw(t, "low"))
			r.RiddenHigh = r.Ridden * route.Metres(rapid.Float64Range(1, 1.4).Draw(t, "high"))
			r.Guessed = r.Ground == route.Dirt && rapid.Bool().Draw(t, "guessed")
		}
		runs = append(runs, r)
	}
	return runs
}

func drawBike(t *rapid.T) (fuel.Bike, float64) {
	b := checkBike()
	b.Consumption = fuel.Consumption(rapid.Float64Range(2, 12).Draw(t, "consumption"))
	b.Odometer = rapid.Float64Range(0.8, 1.25).Draw(t, "odometer")
	b.TrueRate = rapid.Bool().Draw(t, "true rate")
	b.LoadedMass = fuel.Kilograms(rapid.Float64Range(50, 1000).Draw(t, "mass"))
	b.RiddenOn = fuel.Ethanol(rapid.Float64Range(0, 0.3).Draw(t, "ethanol"))
	return b, rapid.Float64Range(0.5, 3).Draw(t, "thirst")
}

// drawPlace gives a place on the line, often just where two runs meet.
func drawPlace(t *rapid.T, runs []route.Run, name string) route.Metres {
	if rapid.Bool().Draw(t, name+" at a seam") {
		return rapid.SampledFrom(runs).Draw(t, name).From
	}
	return runs[len(runs)-1].To * route.Metres(rapid.Float64Range(0, 1).Draw(t, name))
}

// byHand is the model, written again from its words:
//
//	(Σ km × rate/100 × weight + m·g·climb/(η·H)) × ethanol × thirst
//
// with 2, 8 and 18 m/km where the climb is not known, and the band of it.
func byHand(runs []route.Run, b fuel.Bike, thirst float64) fuel.Figures {
	way := band.Way{}
	rate := float64(b.Consumption)
	if !b.TrueRate {
		rate *= b.Odometer
	}
	energy := func(e fuel.Ethanol) float64 { return float64(1-e)*doePetrol + float64(e)*doeEthanol }
	all := energy(b.MeasuredOn) / energy(b.RiddenOn) * thirst
	lift := func(m route.Metres) float64 { return float64(b.LoadedMass) * 9.80665 * float64(m) / (0.25 * 32.05e6) }
	for _, r := range runs {
		kmLow, km, kmHigh := float64(r.RiddenLow)/1000, float64(r.Ridden)/1000, float64(r.RiddenHigh)/1000
		unknown := route.Metres(0)
		if r.NoHeights {
			unknown = (r.To - r.From) / 1000
		}
		each := all * rate / 100 * weightTable[r.Ground].Likely
		way = way.Plus(band.Way{
			Flat:  map[route.Ground][3]float64{r.Ground: {kmLow * each, km * each, kmHigh * each}},
			Climb: [3]float64{all * lift(r.Up+2*unknown), all * lift(r.Up+8*unknown), all * lift(r.Up+18*unknown)},
		})
	}
	return way.Figures(band.Maker, func(g route.Ground) fuel.Weight { return weightTable[g] })
}

// turned gives the line ridden from its end to its start.
func turned(runs []route.Run) []route.Run {
	end := runs[len(runs)-1].To
	out := slices.Clone(runs)
	slices.Reverse(out)
	for i, r := range out {
		out[i].From, out[i].To, out[i].Up, out[i].Down = end-r.To, end-r.From, r.Down, r.Up
	}
	return out
}

// Litres of lines up to 1000 km and 500 L, summed in a few dozen steps.
const rounding = 1e-8

// spread is the share that a standard deviation given to seven digits leaves.
const spread = 1e-6

func TestCourseIsTheModel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst)
		d := c.Between(0, c.Length())
		nearFigures(t, "line", d.Fuel, byHand(runs, b, thirst), spread*float64(1+d.Fuel.High))
		back := d.Back.Figures()
		nearFigures(t, "back", back, byHand(turned(runs), b, thirst), spread*float64(1+back.High))
		if d.Fuel.Low > d.Fuel.Likely || d.Fuel.Likely > d.Fuel.High || back.Likely > back.High {
			t.Errorf("low, likely and high do not rise: %v, back %v", d.Fuel, d.Back)
		}
	})
}

// What is asked for by itself is to the last bit what it is among the rest.
func TestAmountsAreThoseOfBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst).Thirstier(rapid.SampledFrom([]float64{1, 1.2}).Draw(t, "thirstier"))
		from, to := drawPlace(t, runs, "from"), drawPlace(t, runs, "to")
		d := c.Between(min(from, to), max(from, to))
		if ahead, back := c.Amounts(min(from, to), max(from, to)); ahead != d.Amount || back != d.Back {
			t.Errorf("%v and back %v, among the rest %v and %v", ahead, back, d.Amount, d.Back)
		}
		each := fuel.Figures{Low: d.Amount.At(fuel.Low), Likely: d.Amount.At(fuel.Likely), High: d.Amount.At(fuel.High)}
		if d.Amount.Likely > 0 && each != d.Fuel {
			t.Errorf("each by itself %v, together %v", each, d.Fuel)
		}
		if most := d.Amount.At(fuel.Most); most < each.High {
			t.Errorf("at the most %v, high %v", most, each.High)
		}
	})
}

// A leg cut in two takes what the whole leg takes; whoever sums the ends of bands says too much,
// as one tank is not thirsty on both.
func TestBetweenAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst)
		at := []route.Metres{drawPlace(t, runs, "from"), drawPlace(t, runs, "cut"), drawPlace(t, runs, "to")}
		slices.Sort(at)
		one, two, whole := c.Between(at[0], at[1]), c.Between(at[1], at[2]), c.Between(at[0], at[2])
		nearFigures(t, "ahead", one.Amount.Plus(two.Amount).Figures(), whole.Fuel, rounding)
		nearFigures(t, "back", one.Back.Plus(two.Back).Figures(), whole.Back.Figures(), rounding)
		sure := slices.Clone(runs)
		for i := range sure {
			sure[i].RiddenLow, sure[i].RiddenHigh, sure[i].NoHeights = sure[i].Ridden, sure[i].Ridden, false
		}
		c = fuel.NewCourse(sure, b, thirst)
		if a, z, all := c.Between(at[0], at[1]).Fuel, c.Between(at[1], at[2]).Fuel, c.Between(at[0], at[2]).Fuel; all.High > a.High+z.High+rounding {
			t.Errorf("high %v of both is more than the %v and %v of each", all.High, a.High, z.High)
		}
		near(t, "climb", one.Climb+two.Climb, whole.Climb, rounding)
		near(t, "unknown climb", one.Unknown.High+two.Unknown.High, whole.Unknown.High, rounding)
		for what, m := range map[string][3]route.Metres{
			"ridden":     {one.Ridden, two.Ridden, whole.Ridden},
			"up":         {one.Up, two.Up, whole.Up},
			"no heights": {one.NoHeights, two.NoHeights, whole.NoHeights},
			"guessed":    {one.Guessed, two.Guessed, whole.Guessed},
		} {
			near(t, what, m[0]+m[1], m[2], 1e-6)
		}
	})
}

// The grounds and the climb are the whole of the likely figure.
func TestGroundsAndClimbAreTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		c := fuel.NewCourse(runs, b, thirst)
		from := drawPlace(t, runs, "from")
		to := max(from, drawPlace(t, runs, "to"))
		d := c.Between(from, to)
		c.AddDetour(&d, to, route.Metres(rapid.Float64Range(0, 5000).Draw(t, "detour")))
		litres, ridden, last := d.Climb, route.Metres(0), -1
		for _, g := range d.Grounds {
			litres += g.Likely
			ridden += g.Ridden
			if i := slices.Index(route.AllGrounds(), g.Ground); i <= last {
				t.Errorf("grounds out of order: %v", d.Grounds)
			} else {
				last = i
			}
		}
		near(t, "litres", litres, d.Fuel.Likely, rounding)
		near(t, "ridden", ridden, d.Ridden, 1e-6)
	})
}

// Riding the line the other way swaps climb and descent, and nothing else.
func TestBackwardsSwapsClimbAndDescent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		there, home := fuel.NewCourse(runs, b, thirst), fuel.NewCourse(turned(runs), b, thirst)
		from := drawPlace(t, runs, "from")
		to := max(from, drawPlace(t, runs, "to"))
		end := there.Length()
		a, z := there.Between(from, to), home.Between(end-to, end-from)
		// A place on the line turned round is off by the rounding of its kilometre:
		// a billionth of a metre, on a slope of up to 2000 in 1.
		near(t, "back", a.Back.Likely, z.Fuel.Likely, 1e-6)
		near(t, "back, high", a.Back.At(fuel.High), z.Fuel.High, 1e-5)
		near(t, "ahead", a.Fuel.Likely, z.Back.Likely, 1e-6)
	})
}

func TestUnknownClimbIsInEachFigure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := drawRuns(t)
		b, thirst := drawBike(t)
		known := slices.Clone(runs)
		for i := range known {
			known[i].NoHeights = false
		}
		c, k := fuel.NewCourse(runs, b, thirst), fuel.NewCourse(known, b, thirst)
		from := drawPlace(t, runs, "from")
		to := max(from, drawPlace(t, runs, "to"))
		d, e := c.Between(from, to), k.Between(from, to)
		near(t, "without it", d.Fuel.Likely-d.Unknown.Likely, e.Fuel.Likely, rounding)
		near(t, "the long way without it", d.Amount.Long-d.Unknown.High, e.Amount.Long, rounding)
		near(t, "the short way without it", d.Amount.Short-d.Unknown.Low, e.Amount.Short, rounding)
		all, km := fuel.Litres(b.EthanolFactor()*thirst), d.NoHeights/1000
		nearFigures(t, "2, 8 and 18 m/km", d.Unknown,
			fuel.Figures{Low: all * b.Climb(2*km), Likely: all * b.Climb(8*km), High: all * b.Climb(18*km)}, rounding)
	})
}
