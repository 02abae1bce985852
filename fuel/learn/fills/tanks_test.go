package fills_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/route"
	"lastpump/testdata/kit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func init() { kit.Draws(50) }

// aRide is 100 km of paved road, then 100 of sand, ridden 5 % longer, with a hill of 500 m
// on the sand; every place is 1 km off the line, half of it there and half back.
func aRide(b fuel.Bike) *fills.Ride {
	run := func(from, to route.Metres, g route.Ground) route.Run {
		r := 1.05 * (to - from)
		return route.Run{From: from, To: to, Ridden: r, RiddenLow: r * .98, RiddenHigh: r * 1.02, Ground: g}
	}
	paved, sand := run(0, 100e3, route.Paved), run(100e3, 200e3, route.Sand)
	sand.Up = 500
	return &fills.Ride{Course: fuel.NewCourse([]route.Run{paved, sand}, b, 1)}
}

func tanks(t testing.TB, text string, b fuel.Bike, ride *fills.Ride) fills.Tanks {
	t.Helper()
	got, err := read(t, text).Tanks(b, ride)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return got
}

func closeTo(t testing.TB, what string, got, want fuel.Litres) {
	t.Helper()
	if !(math.Abs(float64(got-want)) < 1e-9) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func on(n fuel.Needs, g route.Ground) fuel.Litres { return n.Flat[fuel.WeighedAs(g)].Likely }

// perMetre is what a metre of climb takes of the default bike: m·g ÷ (η·H), by hand.
const perMetre = 260 * 9.80665 / (0.25 * 32.05e6)

// By hand, 4.5 L/100 km with an odometer that shows 3 % too much: 103 km shown are 100
// ridden, and take 4.635 L.
func TestTankByHand(t *testing.T) {
	b := fuel.DefaultBike()
	b.Odometer = 1.03
	const head = "date,trip_km,litres,event,from_km,to_km,paved,sand\n2026-07-01,,,full\n"

	got := tanks(t, head+"2026-07-02,206,9,full\n", b, nil).Tanks[0]
	closeTo(t, "no ground", on(got.Needs, route.Paved), 2*4.635)
	if got.Ground != fills.NoGround || got.Litres != 9 || got.Distance != 206e3 {
		t.Errorf("%+v", got)
	}

	// The span has 105 km of paved road and 52.5 of sand, the trip 160 × 157.5 ÷ 157.5.
	got = tanks(t, head+"2026-07-02,164.8,9,full,0,150\n", b, aRide(b)).Tanks[0]
	scale := fuel.Litres(160 / 157.5)
	closeTo(t, "paved of a span", on(got.Needs, route.Paved), 4.635*1.05*scale)
	closeTo(t, "sand of a span", on(got.Needs, route.Sand), 4.635*1.05/2*1.8*scale)
	closeTo(t, "climb of a span", got.Needs.Climb.Likely, 250*perMetre)
	if f := got.Needs.Flat[0]; f.Low != f.Likely || f.High != f.Likely || got.Ground != fills.OfLine || got.Remark != "" {
		t.Errorf("kilometres that are measured are in doubt: %+v", got)
	}

	// 1 km of detour at either end.
	ride := aRide(b)
	ride.Half = func(route.Metres) route.Metres { return 1000 }
	got = tanks(t, head+"2026-07-02,164.8,9,full,0,150\n", b, ride).Tanks[0]
	scale = 160 / 159.5
	closeTo(t, "paved with a detour", on(got.Needs, route.Paved), .04635*106*scale)
	closeTo(t, "sand with a detour", on(got.Needs, route.Sand), .04635*53.5*1.8*scale)

	// Columns: 80 and 120 km as shown, 206 on the trip.
	got = tanks(t, head+"2026-07-02,206,9,full,,,80,120\n", b, nil).Tanks[0]
	closeTo(t, "paved of a column", on(got.Needs, route.Paved), 80/103.*4.635*1.03)
	closeTo(t, "sand of a column", on(got.Needs, route.Sand), 120/103.*4.635*1.8*1.03)
	if got.Ground != fills.OfColumns {
		t.Errorf("%+v", got)
	}
}

// Over 10 % off is said, over 25 % is without ground; of columns 10 % is the border.
func TestTripsThatDoNotFitTheirGround(t *testing.T) {
	b := fuel.DefaultBike()
	for _, x := range []struct {
		ratio   float64
		columns bool
		ground  fills.Ground
		said    fills.RemarkKind
	}{
		{1.0999, false, fills.OfLine, ""}, {1.1001, false, fills.OfLine, fills.SpanOff}, {0.8999, false, fills.OfLine, fills.SpanOff},
		{1.2499, false, fills.OfLine, fills.SpanOff}, {1.2501, false, fills.NoGround, fills.GroundOff},
		{0.7499, false, fills.NoGround, fills.GroundOff},
		{1.0999, true, fills.OfColumns, ""}, {1.1001, true, fills.NoGround, fills.GroundOff},
		{0.9001, true, fills.OfColumns, ""}, {0.8999, true, fills.NoGround, fills.GroundOff},
	} {
		row := fmt.Sprintf("2026-07-02,%v,9,50,150,\n", 105*x.ratio)
		if x.columns {
			row = fmt.Sprintf("2026-07-02,%v,9,,,100\n", 100*x.ratio)
		}
		got := tanks(t, "date,trip_km,litres,from_km,to_km,sand\n2026-07-01,,,,,\n"+row, b, aRide(b))
		tank := got.Tanks[0]
		said := fills.RemarkKind("")
		if len(got.Remarks) > 0 {
			said = got.Remarks[0].Kind
		}
		if tank.Ground != x.ground || said != x.said || math.Abs(tank.Ratio-x.ratio) > 1e-9 {
			t.Errorf("%v: ground %q, said %q, ratio %v; want %+v", x.ratio, tank.Ground, said, tank.Ratio, x)
		}
		if x.ground == fills.NoGround && on(tank.Needs, route.Sand) != 0 {
			t.Errorf("%v: it has ground: %+v", x.ratio, tank.Needs)
		}
	}
}

var markNames = map[bool]string{false: "lamp", true: "tap"}

// What is made of events, by hand, at 4.5 L/100 km on paved road: tanks as planned/filled,
// and why not.
func TestEvents(t *testing.T) {
	const head = "date,trip_km,litres,event\n2026-07-01,,,full\n"
	b := fuel.DefaultBike()
	b.LampAt, b.ReserveTap = 3, 2
	for name, x := range map[string]struct{ rows, want string }{
		"part-fills join the brim":    {"2026-07-02,100,3,part\n2026-07-02,60,2,part\n2026-07-03,40,4,full\n", "9.00/9.0 poured 5.0"},
		"a part-fill without litres":  {"2026-07-02,100,,part\n2026-07-03,40,4,full\n", "6.30/4.0 litres-not-known"},
		"a missed fill takes both":    {"2026-07-02,100,5,full\n2026-07-02,,,missed\n2026-07-03,40,4,full\n2026-07-04,80,4,full\n", "4.50/5.0, 0.00/4.0 missed-fill, 3.60/4.0"},
		"a full tank of unknown size": {"2026-07-02,100,,full\n2026-07-03,80,4,full\n", "4.50/0.0 litres-not-known, 3.60/4.0"},
		"a tank of unknown length":    {"2026-07-02,,5,full\n2026-07-03,80,4,full\n", "0.00/5.0 distance-not-known, 3.60/4.0"},
		"the trip goes on at a lamp":  {"2026-07-02,100,3,part\n2026-07-02,110,,lamp\n2026-07-02,130,,reserve\n2026-07-03,140,9,full\n", "10.80/12.0 poured 3.0 lamp 9.45 tap 10.35"},
		"what was poured joins":       {"2026-07-02,250,2,dry\n2026-07-03,280,11,full\n", "12.60/13.0 poured 2.0"},
	} {
		var got []string
		for _, k := range tanks(t, head+x.rows, b, nil).Tanks {
			s := fmt.Sprintf("%.2f/%.1f", k.Needs.Sum().Likely, k.Litres)
			if k.Not != "" {
				s += " " + string(k.Not)
			} else if k.Poured > 0 {
				s += fmt.Sprintf(" poured %.1f", k.Poured)
			}
			for _, m := range k.Marks {
				s += fmt.Sprintf(" %s %.2f", markNames[m.Tap], m.Needs.Sum().Likely)
			}
			got = append(got, s)
		}
		if got := strings.Join(got, ", "); got != x.want {
			t.Errorf("%s: %s\nwant %s", name, got, x.want)
		}
	}
}

// What is known of a tank that is not full yet. 13.5 L are usable.
func TestOpenTank(t *testing.T) {
	const head = "date,trip_km,litres,event\n2026-07-01,,,full\n2026-07-02,100,5,full\n"
	b := fuel.DefaultBike()
	b.LampAt = 3
	for name, x := range map[string]struct{ rows, want string }{
		"nothing":                       {"", ""},
		"a part-fill":                   {"2026-07-03,200,6,part\n", "rode 9.00 on 13.5"},
		"two":                           {"2026-07-03,200,6,part\n2026-07-03,100,6,part\n", "rode 13.50 on 19.5"},
		"dry":                           {"2026-07-03,300,,dry\n", "dry 13.50 on 13.5"},
		"dry, and poured in":            {"2026-07-03,340,2,dry\n", "dry 15.30 on 15.5"},
		"a lamp behind a part-fill":     {"2026-07-03,200,6,part\n2026-07-03,210,,lamp\n", "lamp 18.45 poured 6.0 rode 9.00 on 13.5"},
		"behind a fill not written":     {"2026-07-03,200,6,part\n2026-07-03,,,missed\n2026-07-03,210,,lamp\n", "rode 9.00 on 13.5"},
		"behind a part not measured":    {"2026-07-03,200,,part\n2026-07-03,210,,lamp\n", ""},
		"the tap that the bike has not": {"2026-07-03,210,,reserve\n", "tap 9.45 poured 0.0"},
	} {
		got := tanks(t, head+x.rows, b, nil)
		var s []string
		for _, m := range got.Open.Marks {
			s = append(s, fmt.Sprintf("%s %.2f poured %.1f", markNames[m.Tap], m.Needs.Sum().Likely, m.Poured))
		}
		if r := got.Open.Rode; r != nil {
			s = append(s, fmt.Sprintf("rode %.2f on %.1f", r.Needs.Sum().Likely, r.Litres))
		}
		if r := got.Open.Dry; r != nil {
			s = append(s, fmt.Sprintf("dry %.2f on %.1f", r.Needs.Sum().Likely, r.Litres))
		}
		if got := strings.Join(s, " "); got != x.want {
			t.Errorf("%s: %s\nwant %s", name, got, x.want)
		}
		if last := got.Last; last.Date != day(2) || last.Litres != 5 || len(got.Tanks) != 1 {
			t.Errorf("%s: last %+v, tanks %d", name, last, len(got.Tanks))
		}
	}
}

// Logs of which nothing can be made, and rows that cannot be with this bike: 14 L of tank.
func TestTanksRefuses(t *testing.T) {
	const head = "date,trip_km,litres,event,from_km,to_km\n2026-07-01,,,full\n"
	can := fuel.DefaultBike()
	can.Can = 3
	for _, x := range []struct {
		text string
		b    fuel.Bike
		want string
		none bool
	}{
		{head, fuel.DefaultBike(), "f.csv: nothing but one full tank", true},
		{"date,trip_km,litres,event\n2026-07-01,100,3,part\n", fuel.DefaultBike(), "f.csv: no full tank to begin with", true},
		{"date,trip_km,litres\n", fuel.DefaultBike(), "f.csv: no full tank to begin with", true},
		{head + "2026-07-02,300,14.42,full\n", fuel.DefaultBike(), "", false},
		{head + "2026-07-02,300,14.43,full\n", fuel.DefaultBike(), "f.csv:3:1: 14.43 L are more than the tank holds: 14 L", false},
		{head + "2026-07-02,300,17.5,full\n", can, "", false},
		{head + "2026-07-02,300,17.52,full\n", can, "f.csv:3:1: 17.52 L are more than the tank holds: 14 L and the can 3 L", false},
		{head + "2026-07-02,1,65,full\n", fuel.DefaultBike(), "f.csv:3:1: 65 L are more than the tank holds", false},
		{head + "2026-07-02,160,9,full,50,203\n", fuel.DefaultBike(), "f.csv:3:1: km 203.0 is beyond the end of the line, at km 200.0", false},
		{head + "2026-07-02,160,9,full,50,202\n", fuel.DefaultBike(), "", false},
		// Two tanks of a bike that drinks 7 L/100 km, one of them of this one.
		{head + "2026-07-02,100,7,full\n2026-07-03,120,8.4,full\n", fuel.DefaultBike(), "f.csv: every tank is off by over half: the 2 of them took 1.56 times", true},
		{head + "2026-07-02,100,7,full\n2026-07-03,120,5.4,full\n", fuel.DefaultBike(), "", false},
		{head + "2026-07-02,100,7,full\n", fuel.DefaultBike(), "", false},
	} {
		_, err := read(t, x.text).Tanks(x.b, aRide(x.b))
		wrong := (err == nil) != (x.want == "") || err != nil && !strings.HasPrefix(err.Error(), x.want)
		if wrong || errors.Is(err, fills.ErrNothing) != x.none {
			t.Errorf("%q\n%v\nwant %s", x.text, err, x.want)
		}
	}
	// A column of gallons with litres in it.
	_, err := read(t, "date,trip_km,gal_us\n2026-07-01,,\n2026-07-02,200,9\n").Tanks(fuel.DefaultBike(), nil)
	var hinted interface{ HintText() string }
	if !errors.As(err, &hinted) || !strings.Contains(hinted.HintText(), "are these litres?") {
		t.Errorf("9 gallons into 14 L: %v", err)
	}
}

// A fill of one rider, to be written in several ways.
type aFill struct {
	km, litres float64
	part       bool
}

func someFills(t *rapid.T) []aFill {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) aFill {
		km := rapid.Float64Range(20, 120).Draw(t, "km")
		return aFill{km, km * .045 * rapid.Float64Range(.7, 1.4).Draw(t, "thirst"), rapid.Bool().Draw(t, "part")}
	}), 2, 12).Draw(t, "fills")
}

// written writes them with trips or an odometer, in units of so many km and L.
func written(all []aFill, distance, volume string, km, litres float64) string {
	var b strings.Builder
	at := 1000.0
	fmt.Fprintf(&b, "date,%s,%s,event\n2026-07-01,%.9f,,full\n", distance, volume, at/km)
	for i, f := range all {
		at += f.km
		d := f.km
		if strings.HasPrefix(distance, "odometer") {
			d = at
		}
		event := "full"
		if f.part && i < len(all)-1 {
			event = "part"
		}
		fmt.Fprintf(&b, "2026-07-%02d,%.9f,%.9f,%s\n", i+2, d/km, f.litres/litres, event)
	}
	return b.String()
}

func learnt(t interface {
	Fatalf(string, ...any)
}, text string, b fuel.Bike) (learn.State, fills.Tanks) {
	l, err := fills.Read(strings.NewReader(text), "f.csv")
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	k, err := l.Tanks(b, nil)
	if errors.Is(err, fills.ErrNothing) {
		return learn.State{}, k
	}
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	s, err := learn.Resume(b)
	if err != nil {
		t.Fatalf("%v", err)
	}
	for _, e := range s.Through(k.Learn()) {
		s = e.After
	}
	return s, k
}

// The same fills tell the same in any units, by trip or odometer.
func TestUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := someFills(t)
		want, _ := learnt(t, written(all, "trip_km", "litres", 1, 1), fuel.DefaultBike())
		for _, d := range []struct {
			column string
			km     float64
		}{{"trip_mi", 1.609344}, {"odometer_km", 1}, {"odometer_mi", 1.609344}} {
			for _, v := range []struct {
				column string
				litres float64
			}{{"litres", 1}, {"gal_us", 3.785411784}, {"gal_uk", 4.54609}} {
				got, _ := learnt(t, written(all, d.column, v.column, d.km, v.litres), fuel.DefaultBike())
				if math.Abs(got.Theta()-want.Theta()) > 1e-6 || math.Abs(got.SDTheta()-want.SDTheta()) > 1e-6 || got.Tanks() != want.Tanks() {
					t.Fatalf("in %s and %s θ %v ± %v, in km and litres %v ± %v", d.column, v.column, got.Theta(), got.SDTheta(),
						want.Theta(), want.SDTheta())
				}
			}
		}
	})
}

// Part-fills between two brims tell the same in any order, and as one.
func TestOrderOfPartFills(t *testing.T) {
	bike := fuel.DefaultBike()
	bike.Tank = 20 // two of the drawn fills go into it at once
	rapid.Check(t, func(t *rapid.T) {
		parts := someFills(t)[:2]
		parts[0].part, parts[1].part = true, true
		brim := aFill{50, 5, false}
		one := aFill{parts[0].km + parts[1].km, parts[0].litres + parts[1].litres, true}
		want, _ := learnt(t, written([]aFill{one, brim}, "trip_km", "litres", 1, 1), bike)
		for _, all := range [][]aFill{{parts[0], parts[1], brim}, {parts[1], parts[0], brim}} {
			got, _ := learnt(t, written(all, "trip_km", "litres", 1, 1), bike)
			if math.Abs(got.Theta()-want.Theta()) > 1e-9 || got.Tanks() != 1 {
				t.Fatalf("%v gives %v, as one %v", all, got.Theta(), want.Theta())
			}
		}
	})
}

// Learning in two goes, with what was learnt kept in the bike file between them, is
// learning in one.
func TestLearningGoesOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := someFills(t)
		text := written(all, "odometer_km", "litres", 1, 1)
		b := fuel.DefaultBike()
		want, wantTanks := learnt(t, text, b)
		if want.Tanks() == 0 {
			return
		}
		n := rapid.IntRange(2, len(all)+2).Draw(t, "lines")
		first, k := learnt(t, strings.Join(strings.SplitAfter(text, "\n")[:n], ""), b)
		if first.Tanks() == 0 {
			return
		}
		kept := first.Keep(b, k.Last)
		b.Learnt = &kept
		then, rest := learnt(t, text, b)
		if then.Tanks() != want.Tanks() || then.Theta() != want.Theta() || then.Tau() != want.Tau() {
			t.Fatalf("in two goes %d tanks, θ %v, in one %d, %v", then.Tanks(), then.Theta(), want.Tanks(), want.Theta())
		}
		diff := cmp.Diff(wantTanks.Last, rest.Last)
		if diff != "" || len(k.Tanks)+len(rest.Tanks) != len(wantTanks.Tanks) || rest.Before == 0 {
			t.Fatalf("%d and %d tanks of %d, last\n%s", len(k.Tanks), len(rest.Tanks), len(wantTanks.Tanks), diff)
		}
	})
}

// A log that does not have the row up to which was learnt: the days before it are left out. A row of
// its own day is the same brim, or the first of another ride.
func TestLogWithoutTheLastRow(t *testing.T) {
	b := fuel.DefaultBike()
	_, k := learnt(t, "date,trip_km,litres\n2026-07-01,,\n2026-07-02,150,7\n", b)
	kept := learn.New(b).Keep(b, k.Last)
	b.Learnt = &kept
	got := tanks(t, "date,trip_km,litres\n2026-07-01,,\n2026-07-02,150,7.1\n2026-07-03,140,6.5\n", b, nil)
	if len(got.Tanks) != 1 || got.Tanks[0].Litres != 6.5 || got.Before != 1 || got.Remarks[0].Kind != fills.NotThere {
		t.Errorf("%+v", got)
	}
	got = tanks(t, "date,trip_km,litres\n2026-07-02,,\n2026-07-02,146,8\n2026-07-03,140,6.5\n", b, nil)
	if len(got.Tanks) != 2 || got.Before != 0 || len(got.Remarks) != 0 {
		t.Errorf("another ride: %+v", got)
	}
}
