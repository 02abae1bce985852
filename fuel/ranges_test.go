package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"
	"lastpump/testdata/kit/band"
)

func rangeOn(t *testing.T, ranges []fuel.Range, g route.Ground) fuel.Range {
	t.Helper()
	for _, r := range ranges {
		if r.Ground == g {
			return r
		}
	}
	t.Fatalf("no range on %s", g)
	return fuel.Range{}
}

// A figure that riders go by (common practice, no source): a tank of 3.7 US
// gallons at 52 mpg, 15 % kept, is good for 126 miles of dirt. So a loop of a
// thousand miles at the pace of ten days, 100 miles a day, fits a day into a
// tank; at the pace of six, 167 miles, it does not.
func TestTankAgainstThePaceOfTheLoop(t *testing.T) {
	b := fuel.DefaultBike()
	var err error
	if b.Consumption, err = fuel.ParseConsumption("52 mpg US"); err != nil {
		t.Fatal(err)
	}
	near(t, "tank, US gal", b.Tank/fuel.USGallon, 3.7, 0.005)
	for _, kept := range []route.Metres{0, 30_000} { // 30 km are the smaller reserve
		safe := rangeOn(t, fuel.Ranges(b, 0.15*b.Usable(), kept, 1), route.Dirt).Safe / fuel.Mile
		near(t, "miles", safe, 126, 0.5)
		if ten, six := route.Metres(1000.0/10), route.Metres(1000.0/6); !(ten < safe && safe < six) {
			t.Errorf("%v miles are not between the %v of ten days and the %v of six", safe, ten, six)
		}
	}
}

// By hand (common practice, no source): 14 L, 10 % kept, 4.0 L/100 km.
func TestRangeByPencil(t *testing.T) {
	b := checkBike()
	b.Own = map[route.Ground]fuel.Weight{route.Dirt: {Low: 1.2, Likely: 1.3, High: 1.4}}
	ranges := fuel.Ranges(b, 0.10*b.Usable(), 0, 1)
	near(t, "at a weight of 1.30, km", rangeOn(t, ranges, route.Dirt).Safe.Kilometres(), 242.3, 0.05)
	near(t, "in full", rangeOn(t, ranges, route.Dirt).Safe.Kilometres(), 14*0.9/(4*1.3)*100, 1e-9)
	near(t, "on the road, km", rangeOn(t, ranges, route.Paved).Safe.Kilometres(), 315, 1e-9)
	near(t, "dry, km", rangeOn(t, ranges, route.Paved).Dry.Kilometres(), 350, 1e-9)

	// A leg of 260 km at 1.30 is 17.7 km too long for that tank: 0.92 L.
	leg := fuel.NewCourse([]route.Run{level(0, 260, route.Dirt)}, b, 1).Between(0, 260_000)
	near(t, "short, L", leg.Fuel.Likely-0.9*b.Usable(), 0.92, 1e-9)
	near(t, "short, km", 260-rangeOn(t, ranges, route.Dirt).Safe.Kilometres(), 17.7, 0.05)
}

func TestRangesInFull(t *testing.T) {
	b := checkBike()
	b.Unusable, b.Odometer, b.MeasuredOn, b.RiddenOn = 0.5, 1.03, 0, 0.10
	ranges := fuel.Ranges(b, 0, 50_000, 1.2)
	flat := 4 * 1.03 * 1.2 / (1 - 0.1*(1-doeEthanol/doePetrol)) // L/100 km on the road
	if len(ranges) != len(route.AllGrounds())-1 {
		t.Fatalf("%d ranges, want one for each ground but unknown", len(ranges))
	}
	for i, r := range ranges {
		if r.Ground != route.AllGrounds()[i] {
			t.Errorf("range %d is on %s, want %s: hardest first", i, r.Ground, route.AllGrounds()[i])
		}
		w := weightTable[r.Ground]
		name := string(r.Ground)
		tank := band.Sure(0, map[route.Ground]float64{r.Ground: 13.5}).Figures(band.Maker, b.Weight)
		near(t, name+" low", r.Rate[0], fuel.Consumption(flat*w.Likely)*fuel.Consumption(tank.Low/13.5), nearly)
		near(t, name+" likely", r.Rate[1], fuel.Consumption(flat*w.Likely), 1e-9)
		near(t, name+" high", r.Rate[2], fuel.Consumption(flat*w.Likely)*fuel.Consumption(tank.High/13.5), nearly)
		near(t, name+" dry", r.Dry.Kilometres(), 13.5/(flat*w.Likely)*100, 1e-9)
		onHigh := r.DryHigh.Kilometres() * flat * w.Likely / 100 // litres, likely, which may be 13.5
		high := band.Sure(0, map[route.Ground]float64{r.Ground: onHigh}).Figures(band.Maker, b.Weight).High
		near(t, name+" dry, high", high, 13.5, nearly)
		near(t, name+" safe", r.Safe, r.Dry-50_000, 1e-6)
		near(t, name+" five litres more", r.CanAdds.Kilometres(), 5/(flat*w.Likely)*100, 1e-9)
	}
}

// The larger of the two reserves is kept, and it cannot take more than there is.
func TestRangeReserve(t *testing.T) {
	b := checkBike() // 350 km on the road
	for _, c := range []struct {
		share    float64
		distance route.Metres
		want     float64 // km
	}{
		{0, 0, 350}, {0.2, 0, 280}, {0.2, 70_000, 280}, {0.2, 70_001, 279.999}, {0, 400_000, 0}, {1, 0, 0},
	} {
		got := rangeOn(t, fuel.Ranges(b, fuel.Litres(c.share)*b.Usable(), c.distance, 1), route.Paved).Safe.Kilometres()
		near(t, "safe, km", got, c.want, 1e-9)
	}
}
