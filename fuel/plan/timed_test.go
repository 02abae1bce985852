package plan_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/testdata/kit/drawn"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// The rides here are on paved road, without stretch: by the tables of the clock 50, 65 and 80 km/h,
// and 15, 35 and 60 min of pauses for each hour of likely riding.

// july gives a time of July 2026, the 5th of which is a Sunday.
func july(day int, clock string) time.Time {
	t, err := time.Parse("15:04", clock)
	if err != nil {
		panic(err)
	}
	return time.Date(2026, 7, day, t.Hour(), t.Minute(), 0, 0, time.UTC)
}

// leaving puts a ride on the clock: it leaves on a day of July 2026, every morning at 08:00 UTC.
func leaving(in plan.Inputs, day int, change ...func(o *days.Options)) plan.Inputs {
	o := days.Options{Date: july(day, "00:00"), First: clock.OClock{Hour: 8}, Every: clock.OClock{Hour: 8},
		Wait: clock.DefaultWait, Zone: func(orb.Point) *time.Location { return time.UTC }}
	for _, c := range change {
		c(&o)
	}
	in.Options.Days = &o
	return in
}

func open(hours string, s ...int) func(in *plan.Inputs) {
	return func(in *plan.Inputs) {
		in.Stops = slices.Clone(in.Stops)
		for _, i := range s {
			in.Stops[i].Hours = hours
		}
	}
}

// after gives when somebody is so many kilometres of paved road from a start at 08:00 of a day.
func after(day int, km float64) [3]time.Time {
	left, at := july(day, "08:00"), [3]time.Time{}
	for f, v := range []float64{80, 65, 50} {
		h := km/v + km/65*[]float64{0.25, 35. / 60, 1}[f]
		at[f] = left.Add(time.Duration(h * float64(time.Hour)))
	}
	return at
}

func wantThere(t *testing.T, what string, got clock.Times, want [3]time.Time) {
	t.Helper()
	for f := range want {
		if got[f].Sub(want[f]).Abs() > time.Second {
			t.Errorf("%s: %v, want %v", what, got, want)
			return
		}
	}
}

// fares is what a ride comes to, but for its hours.
type fares struct {
	from, to []route.Metres
	legs     []leg.Leg
	cans     leg.Carried
	canFor   fuel.Litres
}

func faresOf(p *plan.Plan) (f fares) {
	for _, l := range p.Legs {
		f.from, f.to, f.legs = append(f.from, l.FromAt), append(f.to, l.ToAt), append(f.legs, l.Leg)
	}
	f.cans, f.canFor = p.Cans.Carried, p.Can.ForAnyDryPump
	return f
}

func (f fares) equal(o fares) bool {
	return slices.Equal(f.from, o.from) && slices.Equal(f.to, o.to) && reflect.DeepEqual(f.legs, o.legs) &&
		f.cans.Compare(o.cans) == 0 && f.canFor == o.canFor
}

// 300 km with a pump at 150, reached at 11:39 on Sunday when it is shut until Monday 07:00: it is
// not counted, the one leg takes 15 L of 10, and all is as if it were skipped. With 10 L in cans,
// too: these are just 5 at the likely figure. On Monday it is open.
func TestShutOnSunday(t *testing.T) {
	in := ride(straight(t, 300), pump("home", 0, 0), pump("B", 150, 0))
	open("Mo-Sa 07:00-19:00", 1)(&in)
	p := make1(t, leaving(in, 5))
	v := visit(t, p, "B")
	if v.Counted || v.WhyNot != trip.LongShut || !v.Hour.LongShut || !v.Hour.Opens.Equal(july(6, "07:00")) {
		t.Errorf("%+v, %+v", v, v.Hour)
	}
	wantThere(t, "B", v.Hour.There, after(5, 150))
	if len(p.Legs) != 1 || p.Legs[0].Verdict != leg.Short || p.Holds() {
		t.Errorf("%+v", p.Legs)
	}
	wantNear(t, "short", p.Legs[0].Short, 5)
	if w := warningOf(t, p, plan.KindShut); len(w.Visits) != 1 || p.Visits[w.Visits[0]].Stop.Name != "B" {
		t.Errorf("%+v", w)
	}
	for _, most := range []fuel.Litres{0, 10} {
		in.Options.Carry.Most = most
		p := make1(t, leaving(in, 5))
		skip := make1(t, changed(in, func(in *plan.Inputs) { in.Options.Skip = []string{"B"} }))
		if !faresOf(p).equal(faresOf(skip)) {
			t.Errorf("up to %v L: %+v, skipped %+v", most, faresOf(p), faresOf(skip))
		}
	}
	p = make1(t, leaving(in, 6))
	if v := visit(t, p, "B"); !v.Counted || v.Hour.State != clock.Open || !p.Holds() {
		t.Errorf("on Monday %+v, %+v", v, v.Hour)
	}
}

// A pump that opens at 11:00 and is reached at 09:35 is waited for, 85 min; the end is 135 km on from
// 11:15.
func TestWaitsForAPump(t *testing.T) {
	in := ride(straight(t, 200), pump("B", 65, 0))
	open("11:00-20:00", 0)(&in)
	p := make1(t, leaving(in, 6))
	v := visit(t, p, "B")
	wait := v.Hour.Opens.Sub(v.Hour.There[clock.Likely])
	if v.Hour.State != clock.Shut || v.Hour.LongShut || v.Hour.Wait[clock.Likely] != wait || wait.Round(time.Minute) != 85*time.Minute {
		t.Errorf("%+v", v.Hour)
	}
	want := july(6, "11:15").Add(after(6, 135)[clock.Likely].Sub(july(6, "08:00")))
	if d := p.Days[0].There[clock.Likely].Sub(want).Abs(); d > time.Second {
		t.Errorf("%v, want %v", p.Days[0].There, want)
	}
}

// A full tank needs no pump at the start, be it shut; one that is not full does.
func TestStartPumpAndItsHours(t *testing.T) {
	in := ride(straight(t, 150), pump("home", 0, 0))
	open("Mo-Sa 07:00-19:00", 0)(&in)
	p := make1(t, leaving(in, 5))
	if slices.Contains(kinds(p), plan.KindShut) || !visit(t, p, "home").Counted || !p.Holds() {
		t.Errorf("%v, %+v", kinds(p), visit(t, p, "home"))
	}
	in.Options.HasStartFuel, in.Options.StartFuel = true, 5
	p = make1(t, leaving(in, 5))
	if v := visit(t, p, "home"); v.WhyNot != trip.LongShut || p.Legs[0].Start != 5 || p.Legs[0].Verdict != leg.Short {
		t.Errorf("%+v, %+v", v, p.Legs)
	}
}

// A night at a pump of chosen stops: it is filled at, though none is needed there.
func TestNightAtAPump(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 150, 0), pump("N", 200, 0))
	in.Options.FillAt = plan.FillChosen
	in.Bike.Tank = 40
	p := make1(t, leaving(in, 6, func(o *days.Options) { o.Nights = []days.Where{{Stop: "n"}} }))
	if len(p.Days) != 2 || p.Days[0].To != visit(t, p, "N").At || p.Days[0].Visit < 0 || p.Visits[p.Days[0].Visit].Stop.Name != "N" {
		t.Fatalf("%+v", p.Days)
	}
	v := visit(t, p, "N")
	if v.Fill == nil || visit(t, p, "A").Fill != nil {
		t.Errorf("%+v", p.Visits)
	}
	wantNear(t, "in the tank in the morning", p.Days[0].Tank, 39.5)
	wantThere(t, "N", v.Hour.There, after(6, 200))
	wantThere(t, "the end", p.Days[1].There, after(7, 100))
}

// From km 150 at 13:40 on: B at 215 is 65 km on, 1 h 35; what lies behind has no hours.
func TestFromTheMiddleOfADay(t *testing.T) {
	in := from(ride(straight(t, 400), pump("A", 100, 0), pump("B", 215, 0)), 150, 8)
	p := make1(t, leaving(in, 6, func(o *days.Options) { o.First = clock.OClock{Hour: 13, Minute: 40} }))
	v := visit(t, p, "B")
	if d := v.Hour.There[clock.Likely].Sub(july(6, "15:15")).Abs(); d > time.Second {
		t.Errorf("%v", v.Hour.There)
	}
	if p.Days[0].From != 150000 || !p.Days[0].Leave.Equal(july(6, "13:40")) {
		t.Errorf("%+v", p.Days[0])
	}
	for _, v := range p.Visits {
		if v.Stop.Name == "A" {
			t.Errorf("%+v", v)
		}
	}
}

// tracksOf are straight tracks, one behind the other, from kilometre to kilometre.
func tracksOf(ends ...[2]float64) (all []route.Track) {
	for _, e := range ends {
		var points []route.Point
		for km := e[0]; km <= e[1]; km++ {
			points = append(points, route.Point{Point: at(km, 0), HasEle: true})
		}
		all = append(all, route.Track{Segments: [][]route.Point{points}})
	}
	return all
}

func lineOfTracks(t *testing.T, ends ...[2]float64) *route.Line {
	t.Helper()
	l, err := route.NewLine(tracksOf(ends...), route.LineOptions{Stretch: 1})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The two parts of a file are its days; those of one part are by hours, 6 h of 65 km.
func TestPartsOfAFile(t *testing.T) {
	two := lineOfTracks(t, [2]float64{0, 200}, [2]float64{200, 500})
	p := make1(t, leaving(changed(ride(two), func(in *plan.Inputs) { in.Bike.Tank = 50 }), 6))
	if len(p.Days) != 2 || math.Abs(float64(p.Days[0].To)-200e3) > 1 || p.Days[0].Night.By != clock.ByPart {
		t.Errorf("%+v", p.Days)
	}
	one := lineOfTracks(t, [2]float64{0, 500})
	early := func(o *days.Options) { o.First = clock.OClock{Hour: 5} } // it is 19:30 UTC when the sun sets
	p = make1(t, leaving(changed(ride(one), func(in *plan.Inputs) { in.Bike.Tank = 50 }), 6, early))
	if len(p.Days) != 2 || math.Abs(float64(p.Days[0].To)-390e3) > 10 || p.Days[0].Night.By != clock.ByHours {
		t.Errorf("%+v", p.Days)
	}
}

// A ferry of 60 km takes no time and is asked for; with a halt there it takes that.
func TestFerry(t *testing.T) {
	both := tracksOf([2]float64{0, 65}, [2]float64{125, 190})
	in := ride(lineWith(t, route.LineOptions{Gaps: route.GapsSkip, Stretch: 1}, both[0].Segments[0], both[1].Segments[0]))
	p := make1(t, leaving(in, 6))
	wantThere(t, "the end", p.Days[0].There, after(6, 130))
	gap := func(n clock.Note) bool { return n.Kind == clock.GapNoTime && math.Abs(float64(n.At)-65e3) < 1 }
	if !slices.ContainsFunc(p.Notes, gap) {
		t.Errorf("%+v", p.Notes)
	}
	p = make1(t, leaving(in, 6, func(o *days.Options) {
		o.Halts = []days.Halt{{Where: days.Where{At: 65000}, For: 2 * time.Hour}}
	}))
	want := after(6, 130)
	for f := range want {
		want[f] = want[f].Add(2 * time.Hour)
	}
	if wantThere(t, "with a halt", p.Days[0].There, want); slices.ContainsFunc(p.Notes, gap) {
		t.Errorf("%+v", p.Notes)
	}
}

// Leaving on Saturday at 20:00 a pump after 260 km is reached at 02:20 on Sunday, at 00:15 at the
// earliest: then it is shut.
func TestAfterMidnight(t *testing.T) {
	in := ride(straight(t, 300), pump("B", 260, 0))
	open("Mo-Sa 00:00-24:00; Su off", 0)(&in)
	in.Bike.Tank = 20
	p := make1(t, leaving(in, 4, func(o *days.Options) { o.First.Hour = 20 }))
	h := visit(t, p, "B").Hour
	if d := h.There[clock.Likely].Sub(july(5, "02:20")).Abs(); d > time.Second || h.State != clock.Shut || !h.LongShut ||
		!h.Opens.Equal(july(6, "00:00")) {
		t.Errorf("%+v", h)
	}
}

// Where nobody knows any hours the plan is as without a clock, and it is said.
func TestNoHoursAnywhere(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 100, 0), pump("B", 200, 0))
	p := make1(t, leaving(in, 6))
	if !faresOf(p).equal(faresOf(make1(t, in))) {
		t.Error("litres differ")
	}
	if w := warningOf(t, p, plan.KindHoursNotKnown); len(w.Visits) != 2 || visit(t, p, "A").Hour.State != clock.NotKnown {
		t.Errorf("%+v", w)
	}
	if p := make1(t, in); p.Days != nil || visit(t, p, "A").Hour != nil || slices.Contains(kinds(p), plan.KindHoursNotKnown) ||
		len(p.Riding) != len(p.Legs) {
		t.Errorf("without a clock: %+v, %v", p.Days, kinds(p))
	}
}

// On a day on which nothing is open the ride is one leg.
func TestNothingIsOpen(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 100, 0), pump("B", 200, 0))
	open("Mo-Sa 06:00-20:00", 0, 1)(&in)
	p := make1(t, leaving(in, 5))
	if len(p.Legs) != 1 || p.Holds() || visit(t, p, "A").WhyNot != trip.LongShut || visit(t, p, "B").WhyNot != trip.LongShut {
		t.Errorf("%+v", p.Legs)
	}
}

// North of km 152 clocks are two hours on. A pump at 150, reached at 11:39 UTC, is near that
// border: which clock it keeps nobody knows. One at 140 is not.
func TestNearABorderOfZones(t *testing.T) {
	east := time.FixedZone("East", 2*3600)
	zones := func(o *days.Options) {
		o.Zone = func(p orb.Point) *time.Location {
			if p.Lat() > at(152, 0).Lat() {
				return east
			}
			return time.UTC
		}
	}
	for _, c := range []struct {
		km    float64
		hours string
		want  clock.State
	}{
		{150, "08:00-20:00", clock.Open}, // by either clock
		{150, "24/7", clock.Open},
		{150, "05:00-15:00", clock.Doubtful}, // by one 14:01 to 16:45 is too late
		{140, "05:00-15:00", clock.Open},
	} {
		in := ride(straight(t, 300), pump("B", c.km, 0))
		open(c.hours, 0)(&in)
		p := make1(t, leaving(in, 6, zones))
		if h := visit(t, p, "B").Hour; h.State != c.want {
			t.Errorf("at %v, %s: %+v", c.km, c.hours, h)
		}
	}
	p := make1(t, leaving(ride(straight(t, 300)), 6, zones))
	end := p.Days[0].There[clock.Likely]
	if _, offset := end.Zone(); offset != 7200 || !slices.ContainsFunc(p.Notes, func(n clock.Note) bool { return n.Kind == clock.ZoneChanges }) {
		t.Errorf("%v, %+v", end, p.Notes)
	}
}

// In New York clocks go back on 1 November 2026 and on on 14 March 2027, at 02:00 (15 U.S.C. §
// 260a): a night is an hour longer, and one shorter. A pump that opens at 08:30 does so by the new.
func TestChangesOfClocks(t *testing.T) {
	york, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		date  time.Time
		hours float64
	}{
		{time.Date(2026, 10, 31, 0, 0, 0, 0, time.UTC), 25},
		{time.Date(2027, 3, 13, 0, 0, 0, 0, time.UTC), 23},
	} {
		in := ride(straight(t, 300), pump("N", 130, 0), pump("B", 131, 0))
		open("08:30-20:00", 1)(&in)
		p := make1(t, leaving(in, 1, func(o *days.Options) {
			o.Date, o.Nights = c.date, []days.Where{{At: 100000}}
			o.Zone = func(orb.Point) *time.Location { return york }
		}))
		if got := p.Days[1].Leave.Sub(p.Days[0].Leave); got.Hours() != c.hours || p.Days[1].Leave.Hour() != 8 {
			t.Errorf("%v: %v later, at %v", c.date, got, p.Days[1].Leave)
		}
		if !slices.ContainsFunc(p.Notes, func(n clock.Note) bool { return n.Kind == clock.ClocksChange }) {
			t.Errorf("%+v", p.Notes)
		}
	}
}

// Within the polar circle the sun does not set in June: days end by hours alone, 390 km, though
// they end at 22:30, and no sunset is told.
func TestPolarDay(t *testing.T) {
	var points []route.Point
	for km := range 501 {
		points = append(points, route.Point{Point: orb.Point{20, 68 + float64(km)/perDegree}, HasEle: true})
	}
	in := ride(lineThrough(t, points))
	in.Bike.Tank = 50
	p := make1(t, leaving(in, 1, func(o *days.Options) {
		o.Date, o.First.Hour = time.Date(2026, 6, 20, 0, 0, 0, 0, time.UTC), 13
	}))
	d := p.Days[0]
	if math.Abs(float64(d.To)-390e3) > 10 || !d.Sunset.IsZero() || slices.Contains(kinds(p), plan.KindDark) {
		t.Errorf("%+v, %v", d, kinds(p))
	}
}

// anyHours draws the hours of all stops.
func anyHours(t *rapid.T, in *plan.Inputs, values ...string) {
	in.Stops = slices.Clone(in.Stops)
	for i := range in.Stops {
		in.Stops[i].Hours = rapid.SampledFrom(values).Draw(t, "hours")
	}
}

// openTogether has pumps that are near each other open always: which of them a place is filled at
// goes by the worst that any round of the clock has said of each, which no plan shows.
func openTogether(in *plan.Inputs) {
	for i, s := range in.Stops {
		if strings.HasPrefix(s.Name, "three ") {
			in.Stops[i].Hours = "24/7"
		}
	}
}

// anyDays draws when a ride is ridden.
func anyDays(t *rapid.T, in plan.Inputs) plan.Inputs {
	return leaving(in, rapid.IntRange(1, 7).Draw(t, "date"), func(o *days.Options) {
		o.First.Hour = rapid.IntRange(5, 11).Draw(t, "first")
		o.Every.Hour = rapid.IntRange(5, 9).Draw(t, "every")
		o.Wait = time.Duration(rapid.SampledFrom([]int{0, 1, 12}).Draw(t, "wait")) * time.Hour
	})
}

// Passings that are shut for too long are dry pumps: legs, litres and cans are those of the list
// without them.
func TestLongShutIsAsIfItWereNotThere(t *testing.T) {
	compared := 0
	defer func() {
		if compared == 0 {
			t.Error("no ride had a passing that was shut for too long, and no other trouble")
		}
	}()
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		anyHours(t, &in, "24/7", "24/7", "Su off; Mo-Sa 00:00-24:00", "We off; Th-Tu 00:00-24:00", "Mo 03:00-04:00")
		openTogether(&in)
		in.Options.Carry.Most = fuel.Litres(rapid.SampledFrom([]float64{0, 10}).Draw(t, "cans"))
		p := drawn.Plan(t, anyDays(t, in))
		gone := map[string]bool{}
		for _, v := range p.Visits {
			h := v.Hour
			if h != nil && !h.LongShut && (h.State != clock.Open || h.DryIfLate) {
				return // pumps that are shut together, or worse in their place
			}
			if h != nil && h.LongShut {
				gone[v.Stop.Name] = true
			}
		}
		for _, v := range p.Visits {
			if gone[v.Stop.Name] && !v.Hour.LongShut {
				return // at another passing it is there
			}
		}
		if len(gone) > 0 {
			compared++
		}
		without := in
		without.Stops = slices.DeleteFunc(slices.Clone(in.Stops), func(s stop.Stop) bool { return gone[s.Name] })
		if q := drawn.Plan(t, without); !faresOf(p).equal(faresOf(q)) {
			t.Errorf("%+v\nwithout %v %+v", faresOf(p), gone, faresOf(q))
		}
	})
}

// What is doubtful changes no litres.
func TestDoubtChangesNoLitres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawRide(t)
		in.Options.FillAt = rapid.SampledFrom([]plan.FillAt{plan.FillEverywhere, plan.FillChosen}).Draw(t, "fill")
		without := drawn.Plan(t, in)
		anyHours(t, &in, "unknown")
		in.Options.Days = nil
		p := drawn.Plan(t, anyDays(t, in))
		for _, v := range p.Visits {
			if v.Hour != nil && v.Hour.State != clock.Doubtful && v.Hour.State != clock.NotKnown { // of the start pump
				t.Fatalf("%+v", v.Hour)
			}
		}
		if in.Options.FillAt == plan.FillEverywhere && !faresOf(p).equal(faresOf(without)) {
			t.Errorf("%+v\nwithout %+v", faresOf(p), faresOf(without))
		}
		if p.Worth.BeforeCans() != without.Worth.BeforeCans() {
			t.Errorf("%+v, without %+v", p.Worth, without.Worth)
		}
	})
}
