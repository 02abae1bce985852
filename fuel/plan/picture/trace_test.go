package picture_test

import (
	"math"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/plan/picture"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// Every leg of a trace begins with what the leg has in the tank and ends with what it
// arrives with; what is ridden is what the legs are long; nothing goes backwards.
func TestTraceFollowsTheLegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn.Plan(t, drawn.AnyRide(t))
		trace := drawn.Trace(p)
		of := map[int][]picture.Sample{}
		for i, s := range trace.Samples {
			of[s.Leg] = append(of[s.Leg], s)
			if i > 0 && (s.Ridden < trace.Samples[i-1].Ridden-1e-6 || s.At < trace.Samples[i-1].At-1e-6) {
				t.Fatalf("sample %d goes back", i)
			}
		}
		before := route.Metres(0)
		for i, l := range p.Legs {
			first, last := of[i][0], of[i][len(of[i])-1]
			drawn.WantNear(t, "in the tank at the start", first.Tank, float64(l.Start))
			drawn.WantNear(t, "with the can at the end", last.Tank+last.Can, float64(l.Arrive))
			drawn.WantNear(t, "at the high use", last.Least+last.Can, float64(l.Start+l.Can-l.Drink.Fuel.High))
			drawn.WantNear(t, "on the trip meter", last.Trip, float64(l.Trip(p.Bike)))
			drawn.WantNear(t, "begins", first.Ridden, float64(before))
			before += l.Drink.Ridden
			drawn.WantNear(t, "ends", last.Ridden, float64(before))
			for _, s := range of[i] {
				if s.Least > s.Tank+1e-9 || s.Tank > s.Most+1e-9 || s.Most > p.Bike.Usable()+1e-9 {
					t.Fatalf("leg %d at %v: %v to %v to %v of %v", i, s.Ridden, s.Least, s.Tank, s.Most, p.Bike.Usable())
				}
			}
		}
		drawn.WantNear(t, "ridden", trace.Ridden, float64(p.Loop.Ridden))
	})
}

// The ribbon has the kilometres of ground that the legs have, and no hole.
func TestRibbonHasTheGroundsOfTheLegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn.Plan(t, drawn.AnyRide(t))
		trace := drawn.Trace(p)
		want, got := map[route.Ground]route.Metres{}, map[route.Ground]route.Metres{}
		for _, l := range p.Legs {
			for _, g := range l.Drink.Grounds {
				want[g.Ground] += g.Ridden
			}
		}
		at := route.Metres(0)
		for _, s := range trace.Ribbon {
			drawn.WantNear(t, "the next stretch begins", s.From, float64(at))
			at = s.To
			got[s.Ground] += s.To - s.From
		}
		for _, g := range route.AllGrounds() {
			drawn.WantNear(t, string(g), got[g], float64(want[g]))
		}
	})
}

// 5 L/100 km on paved road: 10 L at the start are 7.5 L after 50 km, by the low figure, 1.155
// times less, 7.8355 L, by the high one, 1.155 times as much, 7.1125 L.
func TestTraceByArithmetic(t *testing.T) {
	p := drawn.Cured(t, drawn.Ride(drawn.Straight(t, 100)))
	trace := drawn.Trace(p)
	for _, s := range trace.Samples {
		if math.Abs(s.Ridden.Kilometres()-50) < 1e-3 {
			drawn.WantNear(t, "likely", s.Tank, 10-s.Ridden.Kilometres()*0.05)
			drawn.WantNear(t, "most", s.Most, 10-s.Ridden.Kilometres()*0.05/1.155)
			drawn.WantNear(t, "least", s.Least, 10-s.Ridden.Kilometres()*0.05*1.155)
			return
		}
	}
	t.Error("no sample at half way")
}

// A can of 3 L on a leg of 250 km: it fits once even the low use (0.04329 L/km) has made
// room for it, after 69.3 km. There the tank jumps and the can is empty.
func TestTraceShowsThePour(t *testing.T) {
	in := drawn.Ride(drawn.Straight(t, 250))
	in.Bike.Can = 3
	in.Stops = append(in.Stops, drawn.Pump("start", 0, 0))
	p := drawn.Cured(t, in)
	trace := drawn.Trace(p)
	if p.Legs[0].Can != 3 {
		t.Fatalf("the can is not taken: %v", p.Legs[0].Can)
	}
	for i := 1; i < len(trace.Samples); i++ {
		a, b := trace.Samples[i-1], trace.Samples[i]
		if b.Tank > a.Tank {
			drawn.WantNear(t, "poured at km", b.Ridden.Kilometres(), 3/(0.05/1.155))
			drawn.WantNear(t, "jump", b.Tank-a.Tank, 3)
			if a.Can != 3 || b.Can != 0 {
				t.Errorf("in the can %v, then %v", a.Can, b.Can)
			}
			return
		}
	}
	t.Error("nothing is poured")
}

// A profile keeps the highest and the lowest ground whatever it leaves out: one summit of
// 1,234 m and one hole of 3 m among 20,000 points at 500 m.
func TestProfileKeepsTheSummit(t *testing.T) {
	var points []route.Point
	for k := range 20000 {
		ele := 500.0
		switch k {
		case 7777:
			ele = 1234
		case 15555:
			ele = 3
		}
		points = append(points, route.Point{Point: drawn.At(float64(k)*0.05, 0), HasEle: true, Ele: ele})
	}
	in := drawn.Ride(drawn.LineThrough(t, points))
	in.Bike.Tank = 80
	p := drawn.Cured(t, in)
	trace := drawn.Trace(p)
	low, high, n := math.Inf(1), math.Inf(-1), 0
	for _, part := range trace.Profile {
		for _, r := range part {
			low, high, n = min(low, r.Ele), max(high, r.Ele), n+1
			if math.Abs(r.Ele-1234) < 1e-6 {
				drawn.WantNear(t, "the summit", r.Ridden.Kilometres(), 7777*0.05)
			}
		}
	}
	if math.Abs(low-3) > 1e-6 || math.Abs(high-1234) > 1e-6 || n > 50 {
		t.Errorf("from %v to %v in %d points", low, high, n)
	}
}

// Where heights are missing over more than a kilometre the profile has a break, and no
// sample there has a height.
func TestProfileBreaksWhereHeightsAreMissing(t *testing.T) {
	var points []route.Point
	for k := range 101 {
		points = append(points, route.Point{Point: drawn.At(float64(k), 0), HasEle: k < 40 || k > 60, Ele: 100})
	}
	p := drawn.Cured(t, drawn.Ride(drawn.LineThrough(t, points)))
	trace := drawn.Trace(p)
	if len(trace.Profile) != 2 {
		t.Fatalf("%d parts", len(trace.Profile))
	}
	for _, s := range trace.Samples {
		km := s.Ridden.Kilometres()
		if math.Abs(km-39) < 1e-6 || math.Abs(km-61) < 1e-6 {
			continue // the edge itself may fall on either side
		}
		if known := km < 39 || km > 61; s.HasEle != known {
			t.Errorf("at km %v a height: %v", km, s.HasEle)
		}
		if s.HasEle {
			drawn.WantNear(t, "height", s.Ele, 100)
		}
	}
}

// What a profile leaves out is less than a hundredth of its height: hills of all sizes,
// each point of the line against the profile there.
func TestProfileIsTrueToADot(t *testing.T) {
	var points []route.Point
	for k := range 4000 {
		x := float64(k) / 40
		points = append(points, route.Point{Point: drawn.At(x, 0), HasEle: true,
			Ele: 500 + 300*math.Sin(x/7) + 60*math.Sin(x*1.3) + 8*math.Sin(x*9)})
	}
	p := drawn.Cured(t, drawn.Ride(drawn.LineThrough(t, points)))
	trace := drawn.Trace(p)
	rises, k := trace.Profile[0], 0
	for i, q := range points {
		km := float64(i) / 40
		for k+2 < len(rises) && rises[k+1].Ridden.Kilometres() <= km {
			k++
		}
		a, b := rises[k], rises[k+1]
		drawn := a.Ele + (b.Ele-a.Ele)*(km-a.Ridden.Kilometres())/(b.Ridden-a.Ridden).Kilometres()
		// Along a slope a dot to the side is as much as one up or down.
		if math.Abs(drawn-q.Ele) > 736.0/100 {
			t.Fatalf("at km %.2f drawn at %.1f m, it is %.1f m high", km, drawn, q.Ele)
		}
	}
	if len(rises) > len(points)/2 {
		t.Errorf("%d of %d points are drawn", len(rises), len(points))
	}
}

// The rest of a ride begins between two points: its height is between theirs (2.5 km of
// the 5 km from 100 m up to 200 m).
func TestTraceFromBetweenTwoPoints(t *testing.T) {
	var points []route.Point
	for k := range 21 {
		points = append(points, route.Point{Point: drawn.At(float64(5*k), 0), HasEle: true, Ele: 100 * float64(k)})
	}
	p := drawn.Cured(t, drawn.From(drawn.Ride(drawn.LineThrough(t, points)), 7.5, 9))
	trace := drawn.Trace(p)
	s := trace.Samples[0]
	if !s.HasEle || math.Abs(s.Ele-150) > 0.1 {
		t.Errorf("at the start of the rest %v, %v m, want 150 m", s.HasEle, s.Ele)
	}
	if r := trace.Profile[0][0]; len(trace.Profile) != 1 || math.Abs(r.Ele-150) > 0.1 || r.Ridden > 1e-6 {
		t.Errorf("the profile begins with %v, in %d parts", r, len(trace.Profile))
	}
}

// A small tank: the high use (0.05775 L/km) leaves 1 L in it before the low use (0.04329
// L/km) has made room for all of the can of 3 L. So it is poured bit by bit: what fits there,
// and the last of it where, at the low use, 3 L are gone. However that rounds, it fits.
func TestTraceShowsThePourBitByBit(t *testing.T) {
	for tank := 3.40; tank < 4.40; tank += 0.01 {
		in := drawn.Ride(drawn.Straight(t, 90), drawn.Pump("start", 0, 0))
		in.Bike.Tank, in.Bike.Can = fuel.Litres(tank), 3
		p := drawn.Cured(t, in)
		trace := drawn.Trace(p)
		var at []float64
		for i := 1; i < len(trace.Samples); i++ {
			if a, b := trace.Samples[i-1], trace.Samples[i]; b.Can < a.Can {
				at = append(at, b.Ridden.Kilometres())
			}
		}
		if len(at) < 2 {
			t.Fatalf("a tank of %.2f L: poured at %v", tank, at)
		}
		drawn.WantNear(t, "what fits", at[0], (float64(p.Bike.Usable())-1)/(0.05*1.155))
		drawn.WantNear(t, "the last of it", at[len(at)-1], 3/(0.05/1.155))
	}
}
