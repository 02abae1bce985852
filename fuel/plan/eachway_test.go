package plan_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"lastpump/fuel"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A ringRide is a closed loop of five days of 40 km around a middle, 100 m from
// point to point, with heights that come back to where they began, and the ground
// under it by the kilometres of the file.
func ringRide() []route.Track {
	const points, radius = 2000, 200 / (2 * math.Pi)
	var days []route.Track
	for d := range 5 {
		var seg []route.Point
		for i := d * points / 5; i <= (d+1)*points/5; i++ {
			a := 2 * math.Pi * float64(i%points) / points
			p := route.Point{Point: at(radius*math.Sin(a), radius*(1-math.Cos(a))), HasEle: true}
			p.Ele = 1000 + 250*math.Sin(11*a) + 90*math.Cos(40*a)
			p.Time, p.HasTime = uint32(1780000000+20*i), true
			seg = append(seg, p)
		}
		days = append(days, route.Track{Name: string(rune('A' + d)), Segments: [][]route.Point{seg}})
	}
	return days
}

// underIt is ground that changes within the days, with a hole in it.
var underIt = []route.Section{
	section(0, 17, route.Paved), section(17, 55.5, route.Sand), section(60, 101, route.Rocky), section(101, 163.25,
		route.LooseGravel), section(163.25, 199.9, route.Mud),
}

// litresOf plans the ride and gives its likely litres, in all and by ground.
func litresOf(t *testing.T, tracks []route.Track, sections []route.Section, a route.Arrangement) (fuel.Litres,
	map[route.Ground]fuel.Litres) {
	t.Helper()
	l, err := route.NewLine(tracks, route.LineOptions{Arrangement: a})
	if err != nil {
		t.Fatal(err)
	}
	in := ride(l)
	in.Grounds.Default = route.Unknown
	if in.Grounds.Sections, in.Grounds.Measure, err = l.Lay(sections); err != nil {
		t.Fatal(err)
	}
	in.Bike.Tank = 40
	p := make1(t, in)
	var all fuel.Litres
	by := map[route.Ground]fuel.Litres{}
	for _, leg := range p.Legs {
		all += leg.Drink.Fuel.Likely
		for _, g := range leg.Drink.Grounds {
			by[g.Ground] += g.Likely
		}
	}
	return all, by
}

// wantLitres compares the litres of a ride, in all and on each ground.
func wantLitres(t *testing.T, what string, got, want fuel.Litres, tol float64, gotBy,
	wantBy map[route.Ground]fuel.Litres, tolBy float64) {
	t.Helper()
	if math.Abs(float64(got-want)) > tol {
		t.Errorf("%s: %v L, want %v", what, got, want)
	}
	for g, l := range wantBy {
		if math.Abs(float64(gotBy[g]-l)) > tolBy {
			t.Errorf("%s: %v L on %s, want %v", what, gotBy[g], g, l)
		}
	}
}

// One ride costs the same litres on each ground however it is planned: turned
// round, begun elsewhere, its days in disorder in the file and put in order again.
// The kilometres of the ground are those of the file each time. One turning point
// more or less is worth 10 m of climb: 0.003 L.
func TestOneRideEachWay(t *testing.T) {
	days := ringRide()
	all, by := litresOf(t, days, underIt, route.Arrangement{})
	same := func(what string, tracks []route.Track, sections []route.Section, a route.Arrangement) {
		t.Helper()
		got, gotBy := litresOf(t, tracks, sections, a)
		wantLitres(t, what, got, all, 0.01, gotBy, by, 0.005)
	}
	same("turned round", days, underIt, route.Arrangement{Reverse: true})
	for _, km := range []float64{0, 20, 40, 57, 80.05, 163.25, 199.5} {
		a := route.Arrangement{BeginAt: route.Kilometres(km), HasBeginAt: true}
		same("begun elsewhere", days, underIt, a)
		a.Reverse = true
		same("and turned round", days, underIt, a)
	}
	tracks, sections := disorder(days)
	same("put in order", tracks, sections, route.Arrangement{Order: route.OrderNearest})
	same("put in order and turned round", tracks, sections, route.Arrangement{Order: route.OrderNearest, Reverse: true})
	same("put in order and begun elsewhere", tracks, sections,
		route.Arrangement{Order: route.OrderNearest, BeginAt: route.Kilometres(13), HasBeginAt: true})
}

// disorder puts the days of the ring into another order, two of them backwards, and
// gives the ground by the kilometres of that file, in which the ways between the
// days count. It is worked out from the chords between the days' ends alone.
func disorder(days []route.Track) ([]route.Track, []route.Section) {
	var tracks []route.Track
	var sections []route.Section
	along := route.Metres(0)
	var last orb.Point
	for k, d := range []int{0, 3, 1, 4, 2} {
		seg := slices.Clone(days[d].Segments[0])
		backwards := d == 3 || d == 2
		if backwards {
			slices.Reverse(seg)
		}
		if k > 0 {
			along += route.Distance(last, seg[0].Point)
		}
		length := lengthOf(seg)
		for _, s := range underIt {
			// Days are 40 km on the ring, of chords a little shorter.
			scale := length / 40000
			from, to := (max(s.From, route.Metres(d)*40000)-route.Metres(d)*40000)*scale, (min(s.To,
				route.Metres(d+1)*40000)-route.Metres(d)*40000)*scale
			if from >= to {
				continue
			}
			if backwards {
				from, to = length-to, length-from
			}
			sections = append(sections, route.Section{From: along + from, To: along + to, Ground: s.Ground})
		}
		along += length
		last = seg[len(seg)-1].Point
		tracks = append(tracks, route.Track{Name: days[d].Name, Segments: [][]route.Point{seg}})
	}
	slices.SortFunc(sections, func(a, b route.Section) int { return int(a.From - b.From) })
	return tracks, sections
}

func lengthOf(seg []route.Point) (d route.Metres) {
	for i := 1; i < len(seg); i++ {
		d += route.Distance(seg[i-1].Point, seg[i].Point)
	}
	return d
}

// Strays and the jitter of a halt cost nothing and move no ground: neither where
// the kilometres of the ground count them, as in the file as given, nor where they
// do not, as measured on the line that this program prints.
func TestWhatIsLeftOutMovesNoGround(t *testing.T) {
	days := ringRide()
	all, by := litresOf(t, days, underIt, route.Arrangement{})
	dirty, given := spoilt(days)
	check := func(what string, sections []route.Section, a route.Arrangement) {
		t.Helper()
		got, gotBy := litresOf(t, dirty, sections, a)
		wantLitres(t, what, got, all, 0.02, gotBy, by, 0.02)
	}
	for _, reverse := range []bool{false, true} {
		check("measured on the file as given", given, route.Arrangement{Reverse: reverse})
		check("measured on the clean line", underIt, route.Arrangement{Reverse: reverse})
	}
}

// spoilt puts a stray 30 km away into the second day and a halt of ten minutes into
// the fourth, and gives the ground by the kilometres of that file.
func spoilt(days []route.Track) ([]route.Track, []route.Section) {
	dirty := ringRide()
	second := dirty[1].Segments[0]
	stray := second[100]
	stray.Point[1] += 30 / perDegree
	dirty[1].Segments[0] = slices.Insert(slices.Clone(second), 101, stray)
	leap := route.Distance(second[100].Point, stray.Point) + route.Distance(stray.Point,
		second[101].Point) - route.Distance(second[100].Point, second[101].Point)

	fourth := dirty[3].Segments[0]
	rnd := rand.New(rand.NewPCG(1, 1))
	var cloud []route.Point
	for i := range 600 {
		p := fourth[200]
		p.Point[1] += 0.012 * (rnd.Float64() - 0.5) / perDegree
		p.Time += uint32(i)
		cloud = append(cloud, p)
	}
	before := lengthOf(fourth)
	halted := slices.Insert(slices.Clone(fourth), 201, cloud...)
	for i := 201 + len(cloud); i < len(halted); i++ {
		halted[i].Time += 600
	}
	dirty[3].Segments[0] = halted
	jitter := lengthOf(halted) - before

	strayAt, haltAt := route.Metres(40000+100*100), route.Metres(120000+200*100)
	shift := func(m route.Metres) route.Metres {
		out := m
		if m > strayAt {
			out += leap
		}
		if m > haltAt {
			out += jitter
		}
		return out
	}
	var sections []route.Section
	for _, s := range underIt {
		s.From, s.To = shift(s.From), shift(s.To)
		sections = append(sections, s)
	}
	return dirty, sections
}
