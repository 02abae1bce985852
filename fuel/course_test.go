package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/testdata/kit/band"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

// The leg to redo with a pencil (common practice, no source): 100 km paved at 1,
// 60 km gravel at 1.10, 20 km sand at 1.80, 4.0 L/100 km: 100 + 66 + 36 = 202
// paved kilometres, 8.08 L.
const pencilLeg fuel.Litres = 8.08

// pencilBike has the weights of that leg; 1.10 for gravel is not our own figure.
func pencilBike() fuel.Bike {
	b := checkBike()
	b.Own = map[route.Ground]fuel.Weight{
		route.PackedGravel: {Low: 1.00, Likely: 1.10, High: 1.20},
		route.Sand:         {Low: 1.50, Likely: 1.80, High: 2.80},
	}
	return b
}

// pencilBand is the band of that leg with litres of climb. Sand is 1.44 of its 8.08 L and off
// by .2435, gravel 2.64 and off by .0711, paved road by nothing.
func pencilBand(climb float64) fuel.Figures {
	return band.Sure(climb, map[route.Ground]float64{route.Paved: 4, route.PackedGravel: 2.64, route.Sand: 1.44}).
		Figures(band.Maker, pencilBike().Weight)
}

func pencilRuns() []route.Run {
	return []route.Run{level(0, 100, route.Paved), level(100, 160, route.PackedGravel), level(160, 180, route.Sand)}
}

func TestLegByPencil(t *testing.T) {
	d := fuel.NewCourse(pencilRuns(), pencilBike(), 1).Between(0, 180_000)
	near(t, "leg", d.Fuel.Likely, pencilLeg, exactly)
	nearFigures(t, "leg", d.Fuel, pencilBand(0), nearly)
	near(t, "ridden", d.Ridden, 180_000, 1e-9)
	near(t, "back", d.Back.Likely, pencilLeg, exactly)
	want := []fuel.Ground{
		{Ground: route.Paved, Ridden: 100_000, Likely: 4.00},
		{Ground: route.PackedGravel, Ridden: 60_000, Likely: 2.64},
		{Ground: route.Sand, Ridden: 20_000, Likely: 1.44},
	}
	sameGrounds(t, d.Grounds, want)
}

func sameGrounds(t *testing.T, got, want []fuel.Ground) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("grounds %v, want %v", got, want)
	}
	for i, g := range got {
		if g.Ground != want[i].Ground {
			t.Fatalf("ground %d is %s, want %s", i, g.Ground, want[i].Ground)
		}
		near(t, string(g.Ground)+" ridden", g.Ridden, want[i].Ridden, 1e-6)
		near(t, string(g.Ground)+" litres", g.Likely, want[i].Likely, 1e-9)
	}
}

// The same leg with 1500 m of climb, 260 kg, efficiency 0.25: 8.558 L by the
// hand-made table with H = 32.0, 0.319 L for 1000 m. H = 32.05 gives 0.0008 less.
func TestLegByPencilWithClimb(t *testing.T) {
	runs := pencilRuns()
	runs[1].Up, runs[2].Up, runs[0].Down = 1000, 500, 300
	d := fuel.NewCourse(runs, pencilBike(), 1).Between(0, 180_000)
	near(t, "leg", d.Fuel.Likely, 8.558, 0.001)
	const climb = 260 * 9.80665 * 1500 / (0.25 * 32.05e6)
	near(t, "climb", d.Climb, climb, exactly)
	near(t, "leg, in full", d.Fuel.Likely, pencilLeg+climb, exactly)
	nearFigures(t, "leg", d.Fuel, pencilBand(climb), nearly)
	near(t, "ascent", d.Up, 1500, 1e-9)
	near(t, "back: the 300 m that were descended", d.Back.Likely, pencilLeg+climb/5, exactly)
	nearFigures(t, "back", d.Back.Figures(), pencilBand(climb/5), nearly)
}

// The same leg drawn as a track along a meridian: one degree of latitude is
// 111 195.0802 m on a sphere of 6 371 008.8 m.
func TestLegByPencilFromALine(t *testing.T) {
	var points []route.Point
	for km := range 181 {
		p := route.Point{Point: orb.Point{105, float64(km) / 111.1950802}, HasEle: true}
		p.Ele = 1000 + 1500*float64(km)/180
		points = append(points, p)
	}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{points}}}, route.LineOptions{Stretch: 1})
	if err != nil {
		t.Fatal(err)
	}
	runs := line.Runs(route.Grounds{Default: route.Paved, Sections: []route.Section{
		{From: 100_000, To: 160_000, Ground: route.PackedGravel},
		{From: 160_000, To: 180_000, Ground: route.Sand},
	}})
	d := fuel.NewCourse(runs, pencilBike(), 1).Between(0, line.Length())
	near(t, "ascent", d.Up, 1500, 1e-3)
	near(t, "leg", d.Fuel.Likely, 8.558, 0.001)
	near(t, "leg, in full", d.Fuel.Likely, pencilLeg+260*9.80665*1500/(0.25*32.05e6), 1e-6)
}

// Measured without ethanol and ridden on E10 the leg takes 1.0351 times as much
// (DOE, AFDC fuel property table: 115 000 and 76 000 Btu per US gallon).
func TestLegByPencilOnE10(t *testing.T) {
	b := pencilBike()
	b.MeasuredOn = 0
	d := fuel.NewCourse(pencilRuns(), b, 1).Between(0, 180_000)
	near(t, "leg", d.Fuel.Likely, 8.36, 0.005)
	near(t, "leg, in full", d.Fuel.Likely, pencilLeg/fuel.Litres(1-0.1*(1-doeEthanol/doePetrol)), 1e-9)
}

// Ground without a name, a gap that is not ridden, an unknown climb: each is
// told apart in what a stretch takes.
func TestBetweenTellsWhatIsNotKnown(t *testing.T) {
	guessed := level(0, 10, route.Dirt)
	guessed.Guessed = true
	noHeights := level(10, 20, route.Paved)
	noHeights.NoHeights, noHeights.RiddenLow, noHeights.Ridden, noHeights.RiddenHigh = true, 10_500, 11_000, 12_000
	ferry := route.Run{From: 20_000, To: 30_000, Ground: route.Sand, Skipped: true}
	runs := []route.Run{guessed, noHeights, ferry}
	d := fuel.NewCourse(runs, checkBike(), 1).Between(5000, 30_000)
	near(t, "guessed", d.Guessed, 5000, 1e-9)
	near(t, "no heights, of line", d.NoHeights, 10_000, 1e-9)
	near(t, "ridden", d.Ridden, 16_000, 1e-9)
	if want := (fuel.Distances{Low: 15_500, Likely: 16_000, High: 17_000}); d.RiddenAll != want {
		t.Errorf("ridden by each figure %v, want %v", d.RiddenAll, want)
	}
	// 2, 8 and 18 m for each kilometre of line: measured on 172 recorded rides.
	lift := func(metres float64) fuel.Litres { return fuel.Litres(260 * 9.80665 * metres / (0.25 * 32.05e6)) }
	nearFigures(t, "unknown climb", d.Unknown, fuel.Figures{Low: lift(20), Likely: lift(80), High: lift(180)}, exactly)
	near(t, "likely", d.Fuel.Likely, 0.04*(5*1.25+11)+lift(80), exactly)
	way := band.Way{
		Flat: map[route.Ground][3]float64{route.Dirt: {0.04 * 5 * 1.25, 0.04 * 5 * 1.25, 0.04 * 5 * 1.25},
			route.Paved: {0.04 * 10.5, 0.04 * 11, 0.04 * 12}},
		Climb: [3]float64{float64(lift(20)), float64(lift(80)), float64(lift(180))},
	}
	nearFigures(t, "leg", d.Fuel, way.Figures(band.Maker, fuel.GeneralWeight), nearly)
	near(t, "back", d.Back.Likely, 0.04*(5*1.25+11)+lift(80), exactly)
	nearFigures(t, "back", d.Back.Figures(), d.Fuel, nearly)
	near(t, "climb", d.Climb, lift(80), exactly)
	sameGrounds(t, d.Grounds, []fuel.Ground{
		{Ground: route.Paved, Ridden: 11_000, Likely: 0.44}, {Ground: route.Dirt, Ridden: 5000, Likely: 0.25},
	})
}

// Thirst multiplies the whole, climb and unknown climb too.
func TestThirstMultipliesTheWhole(t *testing.T) {
	runs := pencilRuns()
	runs[0].Up, runs[0].Down, runs[1].NoHeights = 400, 0, true
	once := fuel.NewCourse(runs, pencilBike(), 1)
	more := fuel.NewCourse(runs, pencilBike(), 1.15)
	a, b := once.Between(10_000, 170_000), more.Between(10_000, 170_000)
	times := func(f fuel.Figures) fuel.Figures {
		return fuel.Figures{Low: 1.15 * f.Low, Likely: 1.15 * f.Likely, High: 1.15 * f.High}
	}
	nearFigures(t, "ahead", b.Fuel, a.Amount.Times(1.15).Figures(), exactly)
	nearFigures(t, "back", b.Back.Figures(), a.Back.Times(1.15).Figures(), exactly)
	near(t, "ahead", b.Fuel.Likely, 1.15*a.Fuel.Likely, exactly)
	near(t, "climb", b.Climb, 1.15*a.Climb, exactly)
	nearFigures(t, "unknown climb", b.Unknown, times(a.Unknown), exactly)
	if b.Ridden != a.Ridden {
		t.Errorf("thirst rides %v m for %v m", b.Ridden, a.Ridden)
	}
}

// A bike that shows 103 km where 100 are ridden has drunk its 4 L on 97.1 km:
// 4.12 L for 100 km ridden. The climb does not go by the odometer.
func TestOdometer(t *testing.T) {
	b := pencilBike()
	b.Odometer = 1.03
	near(t, "rate", b.Rate(), 4.12, exactly)
	near(t, "100 km shown", b.Shown(100_000), 103_000, 1e-9)
	runs := pencilRuns()
	runs[0].Up = 1000
	climb := fuel.Litres(260 * 9.80665 * 1000 / (0.25 * 32.05e6))
	near(t, "leg", fuel.NewCourse(runs, b, 1).Between(0, 180_000).Fuel.Likely, 1.03*pencilLeg+climb, exactly)
	b.TrueRate = true // measured with a GPS
	near(t, "true rate", b.Rate(), 4, 0)
	near(t, "leg at the true rate", fuel.NewCourse(runs, b, 1).Between(0, 180_000).Fuel.Likely, pencilLeg+climb, exactly)
	near(t, "100 km shown all the same", b.Shown(100_000), 103_000, 1e-9)
}

func TestBetweenBeyondTheEnds(t *testing.T) {
	c := fuel.NewCourse(pencilRuns(), pencilBike(), 1)
	near(t, "length", c.Length(), 180_000, 0)
	whole := c.Between(0, 180_000)
	if diff := cmp.Diff(whole, c.Between(-5000, 200_000)); diff != "" {
		t.Errorf("beyond its ends there is no line:\n%s", diff)
	}
	if d := c.Between(90_000, 90_000); d.Fuel != (fuel.Figures{}) || d.Ridden != 0 || len(d.Grounds) != 0 {
		t.Errorf("no way takes %+v", d)
	}
}
