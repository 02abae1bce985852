package clock_test

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// Expectations are worked by hand from the rules of doc.go and from the table of speeds:
// paved 50/65/80 and dirt 30/40/50 km/h, pauses 15/35/60 min for each hour of likely riding,
// fills 10/15/30 min.

// 130 km paved are 1.625, 2 and 2.6 h, 80 km dirt 1.6, 2 and 2.667 h. Pauses over 4 h of
// likely riding: 1, 2.333 and 4 h.
func TestElapsed(t *testing.T) {
	r := along(ground(130, route.Paved, 80, route.Dirt), clock.DefaultManner(), pump(130, always))
	c := clock.Reckon(r)
	left := day(1, "08:00")
	v := c.Passings[0]
	wantTimes(t, "at the pump", v.There, at(left, 1.625+0.5), at(left, 2+2*35./60), at(left, 2.6+2))
	if v.State != clock.Open || v.Fill != clock.OnArrival || v.Day != 0 || v.Wait != (clock.Durations{}) {
		t.Errorf("%+v", v)
	}
	if len(c.Days) != 1 || len(c.Notes) != 0 {
		t.Fatalf("%+v", c)
	}
	d := c.Days[0]
	wantTimes(t, "at the end", d.There, at(left, 3.225+1+10./60), at(left, 4+4*35./60+0.25), at(left, 2.6+8./3+4+0.5))
	if d.Riding.Round(time.Second) != 4*time.Hour || d.Night.By != clock.ByEnd || !d.Leave.Equal(left) {
		t.Errorf("%+v", d)
	}
}

// Pace is of riding and pauses, not of fills. A halt of 1 h 30 is the same for every run; a
// detour of 13 km there and 13 back, on paved road at 65 km/h likely, is 0.2 h each way.
func TestPaceHaltsAndDetours(t *testing.T) {
	m := clock.DefaultManner()
	m.Pace = 1.5
	p := pump(65, always)
	p.Half = 13000
	r := along(ground(130, route.Paved), m, p)
	r.Halts = []clock.Halt{{At: 65000, For: 90 * time.Minute}}
	c := clock.Reckon(r)
	left := day(1, "08:00")
	wantTimes(t, "at the pump", c.Passings[0].There, at(left, 1.5*(78./80+0.25*1.2)), at(left, 1.5*1.2*(1+35./60)),
		at(left, 1.5*(78./50+1.2)))
	wantTimes(t, "at the end", c.Days[0].There, at(left, 1.5*(156./80+0.25*2.4)+1./6+1.5),
		at(left, 1.5*2.4*(1+35./60)+0.25+1.5), at(left, 1.5*(156./50+2.4)+0.5+1.5))
	leave := leg.End{At: 65000, Half: 13000}
	if got := r.Pacing.Riding(leave, r.To)[clock.Likely].Round(time.Second); got != 108*time.Minute { // 1.5 × 1.2 h
		t.Errorf("the leg takes %v", got)
	}
	// 7 h 30 were needed over 130 km with two fills: 2 h + 70 min + 30 min are planned.
	if got := r.Pacing.Planned(0, 130000, 2); got.Round(time.Second) != 3*time.Hour+40*time.Minute {
		t.Errorf("planned %v", got)
	}
}

// The table of speeds, ground that is not known (whatever it is planned as), a rider's own
// figures, and one figure that takes the others with it: dirt at 60 is 45 and 75.
func TestSpeeds(t *testing.T) {
	likely := map[route.Ground]float64{"paved": 65, "packed-gravel": 55, "loose-gravel": 45, "dirt": 40, "soft": 25,
		"rocky": 18, "mud": 15, "sand": 25, "deep-sand": 15, "snow": 20, "unknown": 40}
	m := clock.DefaultManner()
	for _, g := range route.AllGrounds() {
		s := m.Speed(g)
		if float64(s.Likely) != likely[g] || !(0 < s.Low && s.Low < s.Likely && s.Likely < s.High) {
			t.Errorf("%s: %v", g, s)
		}
	}
	runs := ground(110, route.Dirt)
	runs[0].Guessed = true
	got := clock.NewPacing(runs, m).Riding(leg.End{}, leg.End{At: 110000})
	if got[clock.Early] != 2*time.Hour || got[clock.Late].Round(time.Second) != 4*time.Hour+24*time.Minute { // 55, 25
		t.Errorf("unknown ground takes %v", got)
	}
	m.Own = map[route.Ground]clock.Speed{route.Dirt: clock.ScaledSpeed(route.Dirt, 60)}
	got = clock.NewPacing(ground(225, route.Dirt), m).Riding(leg.End{}, leg.End{At: 225000})
	if got != (clock.Durations{3 * time.Hour, 225 * time.Minute, 5 * time.Hour}) {
		t.Errorf("own dirt takes %v", got)
	}
}

// A gap that is skipped takes no time, and a halt there says how long it is.
func TestSkippedGap(t *testing.T) {
	runs := ground(65, route.Paved, 10, route.Paved, 65, route.Paved)
	runs[1].Ridden, runs[1].Skipped = 0, true
	r := along(runs, clock.DefaultManner())
	c := clock.Reckon(r)
	if got := c.Days[0].Riding.Round(time.Second); got != 2*time.Hour {
		t.Errorf("%v", got)
	}
	if len(c.Notes) != 1 || c.Notes[0].Kind != clock.GapNoTime || c.Notes[0].At != 65000 {
		t.Errorf("%+v", c.Notes)
	}
	r.Halts = []clock.Halt{{At: 70000, For: time.Hour}}
	if c = clock.Reckon(r); len(c.Notes) != 0 {
		t.Errorf("%+v", c.Notes)
	}
	wantTimes(t, "at the end", c.Days[0].There, at(day(1, "08:00"), 130./80+0.5+1), at(day(1, "08:00"), 2+2*35./60+1))
}

// 6 h of likely riding on paved road are 390 km, with pauses 9.5 h: 17:30. But the sun sets at
// 18:05 there, so daylight ends the day at 17:05, after 9.08 h: 5.737 h of riding, 373 km. The
// window is the last quarter.
func TestNightByHoursAndDaylight(t *testing.T) {
	runs := ground(1000, route.Paved)
	c := clock.Reckon(along(runs, clock.DefaultManner()))
	n := c.Days[0].Night
	if km := c.Days[0].To.Kilometres(); n.By != clock.ByHours || n.Place != -1 || math.Abs(km-373) > 1 {
		t.Fatalf("%+v", c.Days[0])
	}
	if n.Between[1] != c.Days[0].To || math.Abs(float64(n.Between[0]/n.Between[1])-0.75) > 1e-6 {
		t.Errorf("%+v", n)
	}
	if d := c.Days[0].Sunset.Sub(c.Days[0].There[clock.Likely]); (d - time.Hour).Abs() > time.Second {
		t.Errorf("an hour before sunset is %v before", d)
	}
	if !c.Days[1].Leave.Equal(day(2, "08:00")) {
		t.Errorf("%v", c.Days[1].Leave)
	}
	// Leaving at 06:30 the hours end it: 390 km at 16:00. Three days, the last of 220 km.
	r := along(runs, clock.DefaultManner())
	r.Leaving = clock.Leaving{First: day(1, "06:30"), Every: clock.OClock{Hour: 6, Minute: 30}}
	c = clock.Reckon(r)
	for i, want := range []route.Metres{390000, 780000, 1000000} {
		if d := c.Days[i]; math.Abs(float64(d.To-want)) > 1 {
			t.Errorf("day %d: %+v", i, d)
		}
	}
	wantTimes(t, "the first night", c.Days[0].There, at(day(1, "06:30"), 390./80+1.5), day(1, "16:00"),
		at(day(1, "06:30"), 7.8+6))
	wantTimes(t, "the end", c.Days[2].There, at(day(3, "06:30"), 220./80+0.25*220/65))
}

// early is a ride on 1000 km of paved road that leaves at 06:30, so that days are 390 km and
// end at 16:00; windows begin at 292.5 km.
func early(places ...clock.Place) clock.Ride {
	r := along(ground(1000, route.Paved), clock.DefaultManner(), places...)
	r.Leaving = clock.Leaving{First: day(1, "06:30"), Every: clock.OClock{Hour: 6, Minute: 30}}
	return r
}

func counted(km float64, h clock.Hours) clock.Place {
	p := pump(km, h)
	p.Use = clock.Counted
	return p
}

func passed(km float64, h clock.Hours) clock.Place {
	p := pump(km, h)
	p.Use = clock.Passed
	return p
}

// Where in the window the night is: the last place that is open, else the last whose hours
// are not known, else none; and none before the window.
func TestPlaceOfTheNight(t *testing.T) {
	for _, c := range []struct {
		name   string
		places []clock.Place
		night  int
	}{
		{"the last that is open", []clock.Place{counted(300, always), counted(320, always), counted(370, never)}, 1},
		{"open before not known", []clock.Place{counted(300, always), counted(320, nil)}, 0},
		{"not known before none", []clock.Place{counted(300, nil), counted(320, nil), counted(330, never)}, 1},
		{"not before the window", []clock.Place{counted(292, always)}, -1},
		{"the beginning of it", []clock.Place{counted(293, always)}, 0},
		{"not what is not counted", []clock.Place{passed(300, always)}, -1},
		// 320 km and no fill are 4.923 h of riding and 2.872 of pauses: 14:18.
		{"by the likely arrival", []clock.Place{counted(320, daily(14, 15)), counted(330, daily(6, 14))}, 0},
		{"not where it is unclear", []clock.Place{counted(300, always), counted(320, unclear)}, 0},
		{"nearby, not counted", []clock.Place{passed(391, always)}, -1},
		{"nearby, on ahead", []clock.Place{counted(392.9, always)}, 0},
		{"not so near", []clock.Place{counted(393.1, always)}, -1},
		{"nearby before, shut", []clock.Place{counted(388, daily(6, 12))}, 0},
		{"open in the window before nearby", []clock.Place{counted(300, always), counted(391, always)}, 0},
	} {
		got := clock.Reckon(early(c.places...))
		d := got.Days[0]
		if d.Night.Place != c.night || d.Night.By != clock.ByHours {
			t.Errorf("%s: %+v", c.name, d)
		}
		if c.night >= 0 && (d.To != c.places[c.night].At || got.Passings[c.night].Fill == clock.NoFill) {
			t.Errorf("%s: %+v, %+v", c.name, d, got.Passings[c.night])
		}
	}
}

// Shut in the evening: it is filled at in the morning if it opens within an hour of leaving,
// at 06:30, and who does so leaves then; else it is not.
func TestFilledInTheMorning(t *testing.T) {
	for _, c := range []struct {
		opens int
		fill  clock.Fill
		leave string
		then  float64 // hours until the likely run is on its way
	}{
		{5, clock.InMorning, "06:30", 0.25},
		{7, clock.InMorning, "07:00", 0.25},
		{8, clock.NoFill, "06:30", 0}, // 08:00 is 16 h after 15:57, longer than anybody waits
	} {
		got := clock.Reckon(early(counted(388, daily(c.opens, 12)), passed(453, nil)))
		v := got.Passings[0]
		if v.Fill != c.fill || v.LongShut != (c.fill == clock.NoFill) || v.State != clock.Shut {
			t.Errorf("opens at %d: %+v", c.opens, v)
		}
		if leave := got.Days[1].Leave; !leave.Equal(day(2, c.leave)) {
			t.Errorf("opens at %d: leaves %v", c.opens, leave)
		}
		if want := at(day(2, c.leave), c.then+1+35./60); !got.Passings[1].There[clock.Likely].Round(time.Second).Equal(want) {
			t.Errorf("opens at %d: %v, want %v", c.opens, got.Passings[1].There, want)
		}
	}
}

// So little is left that the ride is finished today: up to 15 % of 6 h, 54 min or 58.5 km. 448
// km are ridden at 17:25, by light.
func TestFinishToday(t *testing.T) {
	for km, days := range map[int]int{390: 1, 448: 1, 449: 2} {
		r := along(ground(km, route.Paved), clock.DefaultManner())
		r.Leaving = clock.Leaving{First: day(1, "06:30"), Every: clock.OClock{Hour: 6, Minute: 30}}
		if c := clock.Reckon(r); len(c.Days) != days {
			t.Errorf("%d km: %+v", km, c.Days)
		}
	}
	// From 08:00 on daylight ends the day at 373 km, an hour before sunset: 41 km with pauses.
	for km, days := range map[int]int{412: 1, 416: 2} {
		if c := clock.Reckon(along(ground(km, route.Paved), clock.DefaultManner())); len(c.Days) != days {
			t.Errorf("%d km: %+v", km, c.Days)
		}
	}
}

// Who leaves at 16:30 has hardly ridden before dark: the rule of daylight is off, and said.
// Who leaves at 03:00 rides on by day. In the polar night there is none.
func TestDaylightIsOff(t *testing.T) {
	r := along(ground(1000, route.Paved), clock.DefaultManner())
	r.Leaving.First = day(1, "16:30")
	c := clock.Reckon(r)
	if d := c.Days[0]; math.Abs(d.To.Kilometres()-390) > 0.01 {
		t.Errorf("%+v", d)
	}
	if k := noted(c); !slices.Contains(k, clock.HardlyRidden) || !slices.Contains(k, clock.ArrivesDark) {
		t.Errorf("%v", k)
	}
	// 02:00 on the next day, and 8 h later it is 10:00, after the hour of leaving.
	if got := c.Days[1].Leave; !got.Equal(day(2, "10:00")) {
		t.Errorf("leaves at %v", got)
	}
	r.Leaving = clock.Leaving{First: day(1, "03:00"), Every: clock.OClock{Hour: 3}}
	r.Places = []clock.Place{passed(10, nil)}
	if c = clock.Reckon(r); math.Abs(c.Days[0].To.Kilometres()-390) > 0.01 || len(c.Notes) > 0 {
		t.Errorf("%+v", c)
	}
	polar := along(ground(1000, route.Paved), clock.DefaultManner())
	point := polar.Point
	polar.Point = func(at route.Metres) orb.Point { return orb.Point{20, 70 + point(at).Lat()} }
	polar.Leaving.First = time.Date(2026, 12, 20, 8, 0, 0, 0, utc)
	c = clock.Reckon(polar)
	if d := c.Days[0]; math.Abs(d.To.Kilometres()-390) > 0.01 || !d.Sunset.IsZero() || noted(c)[0] != clock.SunNeverUp {
		t.Errorf("%+v %v", d, c.Notes)
	}
	// And in June the sun does not set there.
	polar.Leaving.First = time.Date(2026, 6, 20, 20, 0, 0, 0, utc)
	c = clock.Reckon(polar)
	if d := c.Days[0]; math.Abs(d.To.Kilometres()-390) > 0.01 || !d.Sunset.IsZero() || len(c.Notes) > 0 {
		t.Errorf("%+v %v", d, c.Notes)
	}
}

// Nights that the rider names are where they are said to be, and day 2 has an hour of its own.
func TestNightsOfTheRider(t *testing.T) {
	r := early(pump(130, always))
	r.Nights = []route.Metres{130000, 650000}
	r.Leaving.On = map[int]clock.OClock{2: {Hour: 7, Minute: 15}}
	c := clock.Reckon(r)
	if len(c.Days) != 3 || c.Days[0].Night != (clock.Night{By: clock.ByRider}) || c.Passings[0].Fill != clock.OnArrival ||
		c.Days[1].Night.Place != -1 || c.Days[1].To != 650000 {
		t.Fatalf("%+v", c.Days)
	}
	// 130 km are done at 09:40. The fill was in the evening. 520 km are 8 h and 4 h 40.
	wantTimes(t, "night 1", c.Days[0].There, at(day(1, "06:30"), 2.125), day(1, "09:40"))
	wantTimes(t, "night 2", c.Days[1].There, at(day(2, "07:15"), 6.5+2), at(day(2, "07:15"), 8+8*35./60))
	if got := c.Days[2].Leave; !got.Equal(day(3, "06:30")) {
		t.Errorf("%v", got)
	}
}

// Parts are days if each takes 1 to 14 h: 65 km paved are 1.583 h, 570 km 13.88 h, 580 km
// 14.13 h, and 40 km 0.97 h.
func TestPartsAsDays(t *testing.T) {
	parts := func(ends ...route.Metres) (all []route.Part) {
		from := route.Metres(0)
		for _, to := range ends {
			all = append(all, route.Part{From: from, To: to})
			from = to
		}
		return all
	}
	for _, c := range []struct {
		parts []route.Part
		by    clock.By
		part  int // that is no day
		takes float64
	}{
		{parts(430e3, 1000e3), clock.ByPart, 0, 0},
		{parts(420e3, 1000e3), clock.ByHours, 1, 580. / 65 * (1 + 35./60)},
		{parts(40e3, 500e3, 1000e3), clock.ByHours, 0, 40. / 65 * (1 + 35./60)},
		{parts(65e3, 500e3, 1000e3), clock.ByPart, 0, 0},
		{parts(1000e3), clock.ByHours, -1, 0},
	} {
		r := early()
		r.Parts = c.parts
		got := clock.Reckon(r)
		if d := got.Days[0]; d.Night.By != c.by || c.by == clock.ByPart && d.To != c.parts[0].To {
			t.Errorf("%v: %+v", c.parts, d)
		}
		var no []clock.Note
		for _, n := range got.Notes {
			if n.Kind == clock.PartNoDay {
				no = append(no, n)
			}
		}
		switch said := c.by == clock.ByHours && c.part >= 0; {
		case said != (len(no) == 1):
			t.Errorf("%v: %+v", c.parts, got.Notes)
		case said && (no[0].Part != c.part || math.Abs(no[0].Takes.Hours()-c.takes) > 1e-3):
			t.Errorf("%v: %+v", c.parts, no)
		}
	}
	// Begun at km 400 the first part is not whole, and its 30 km do not speak against it.
	r := early()
	r.Parts, r.From = parts(430e3, 1000e3), leg.End{At: 400e3}
	if got := clock.Reckon(r); got.Days[0].Night.By != clock.ByPart || got.Days[0].To != 430e3 {
		t.Errorf("%+v", got.Days)
	}
}

// A detour that takes longer than anybody rides a day is ridden all the same: 40 km of deep sand
// to the pump are 2 h 40, and back; then 20 km to the end.
func TestDetourLongerThanADay(t *testing.T) {
	m := clock.DefaultManner()
	m.Hours = 2 * time.Hour
	p := pump(20, always)
	p.Half = 40000
	r := along(ground(40, route.DeepSand), m, p)
	r.From.At = 20000
	c := clock.Reckon(r)
	var riding time.Duration
	for _, d := range c.Days {
		riding += d.Riding
	}
	if riding.Round(time.Minute) != 400*time.Minute || len(c.Days) > 5 || c.Passings[0].Fill != clock.OnArrival {
		t.Errorf("%v in %+v", riding, c.Days)
	}
}

// Who halts until it is too late to ride on sleeps there, and does not halt again in the morning:
// 130 km are done at 11:10, and after 6 h it is 55 min before sunset.
func TestHaltUntilTheNight(t *testing.T) {
	r := along(ground(300, route.Paved), clock.DefaultManner())
	r.Halts = []clock.Halt{{At: 130000, For: 6 * time.Hour}}
	c := clock.Reckon(r)
	if len(c.Days) != 2 || c.Days[0].To != 130000 {
		t.Fatalf("%+v", c.Days)
	}
	wantTimes(t, "the night", c.Days[0].There, at(day(1, "08:00"), 2.125+6), day(1, "17:10"), at(day(1, "08:00"), 4.6+6))
	wantTimes(t, "the end", c.Days[1].There, at(day(2, "08:00"), 170./80+0.25*170/65))
}

func ExampleReckon() {
	// 130 km of paved road and 80 km of dirt: 2 h each at 65 and 40 km/h, 35 min of pauses an
	// hour, and 15 min at the pump between them.
	r := along(ground(130, route.Paved, 80, route.Dirt), clock.DefaultManner(), pump(130, nil))
	c := clock.Reckon(r)
	fmt.Println("at the pump", c.Passings[0].There[clock.Likely].Format("15:04"))
	fmt.Println("at the end", c.Days[0].There[clock.Likely].Format("15:04"))
	// Output:
	// at the pump 11:10
	// at the end 14:35
}

func BenchmarkReckon(b *testing.B) {
	var runs []route.Run
	for i := range 20000 {
		from := route.Metres(i * 75)
		runs = append(runs, route.Run{From: from, To: from + 75, Ridden: 80, Ground: route.AllGrounds()[i/500%4]})
	}
	var places []clock.Place
	for i := range 200 {
		places = append(places, pump(float64(i)*7.5, daily(7, 20)))
	}
	r := along(runs, clock.DefaultManner(), places...)
	for b.Loop() {
		clock.Reckon(r)
	}
}
