package outward

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/bailout"
	"lastpump/fuel/survey"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/extracts"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func init() { kit.Draws(30) }

// helpTold tells of ways to help in short: from which mark to what, by which road.
func helpTold(ways []bailout.Way) (out []string) {
	for _, w := range ways {
		out = append(out, strings.Join(strings.Fields(fmt.Sprintf("%.0f %s %s %s %s %s %s", w.At.Kilometres(), w.Kind, w.What, w.To,
			w.Road, w.Toward, w.Marks)), " "))
	}
	return out
}

// help looks for help along the valley: a road from west to east, 15.7 km long.
func help(t *testing.T, more ...any) []bailout.Way {
	t.Helper()
	s := surveyOf(t, valleyLine(t), 20_000, valley(more...))
	Find(s) // as the command does, on the same net
	return Help(s)
}

// Of each kind the nearest by road is found, from the beginning of the line and its end,
// which are the marks of 15.7 km: the road of the line itself, which is a secondary one; a
// pump beside its beginning; and up a side road from its middle a village, a clinic, water. What
// tags do not call help is none. Kilometres are worked out here.
func TestHelpOfAValley(t *testing.T) {
	const metre = 1 / 111194.9 // degrees of latitude on the sphere of the design
	got := help(t, osmtest.Way(2, "highway=tertiary name=Side~Road", 3, 21, 20),
		osmtest.Node(50, 10.1, 45.05+300*metre, "place=village name=Oskel"),
		osmtest.Node(51, 10.1+100*metre*math.Sqrt2, 45.05, "amenity=doctors name=Healer"),
		osmtest.Node(52, 10.1, 45.02, "amenity=drinking_water"),
		osmtest.Node(53, 10.1, 45.021, "amenity=shelter access=private"),
		osmtest.Node(54, 10.1, 45.021, "place=hamlet"),
		osmtest.Node(55, 10.1, 45.021, "place=locality name=Nobody"),
		osmtest.Node(56, 10.1, 45.05+250*metre, "tourism=wilderness_hut name=Too~Far~Off")) // of a road
	want := []string{
		"0 village village Oskel Side Road N", "0 road secondary Valley Road", "0 pump fuel Home Valley Road E along-the-line",
		"0 clinic doctors Healer Side Road N", "0 water drinking_water drinking water Side Road N",
		"16 village village Oskel Side Road N", "16 road secondary Valley Road", "16 pump fuel North Side Road N",
		"16 clinic doctors Healer Side Road N", "16 water drinking_water drinking water Side Road N",
	}
	if told := helpTold(got); !slices.Equal(told, want) {
		t.Fatalf("%s\nwant\n%s", strings.Join(told, "\n"), strings.Join(want, "\n"))
	}
	half := route.Distance(orb.Point{10, 45}, orb.Point{10.1, 45})
	for i, want := range map[int]route.Metres{0: half + 5560 + 300, 4: half + 2224, 1: 0, 5: half + 5560 + 300} {
		if w := got[i]; math.Abs(float64(w.Length-want)) > 5 {
			t.Errorf("%s %s from %v is %v away, want %v", w.Kind, w.To, w.At, w.Length, want)
		}
	}
	if w := got[0]; math.Abs(float64(w.Leave-half)) > 5 || w.Goal != (orb.Point{10.1, 45.052698}) || w.At != 0 {
		t.Errorf("the line is left at %v, want %v: %+v", w.Leave, half, w)
	}
}

// A clinic that is drawn as an outline lies in its middle; without ways out nothing of all this is
// looked for.
func TestHelpWithAnOutline(t *testing.T) {
	outline := []any{osmtest.Way(2, "highway=tertiary name=Side~Road", 3, 21, 20),
		osmtest.Node(60, 10.1002, 45.0202, ""), osmtest.Node(61, 10.1006, 45.0202, ""), osmtest.Node(62, 10.1006, 45.0206, ""),
		osmtest.Node(63, 10.1002, 45.0206, ""), osmtest.Way(9, "amenity=clinic building=yes name=Ward", 60, 61, 62, 63, 60)}
	got := help(t, outline...)
	i := slices.IndexFunc(got, func(w bailout.Way) bool { return w.Kind == bailout.Clinic })
	if i < 0 || got[i].To != "Ward" || route.Distance(got[i].Goal, orb.Point{10.1004, 45.0204}) > 1 {
		t.Errorf("%v", helpTold(got))
	}
	opt := survey.DefaultOptions()
	opt.Scale = "RON"
	s, err := survey.Read(context.Background(), valleyLine(t), []osmfile.Extract{valley(outline...)}, opt)
	if err != nil || s.Roads != nil {
		t.Errorf("%v, %v", s.Roads, err)
	}
}

// A road that may be shut is taken where no other leads there, and marked; where one does it stands
// behind that, if it is less than half as long. What is closed to motors leads nowhere, and what is out of reach is not there.
func TestHelpByRoadsThatMayBeShut(t *testing.T) {
	oskel := osmtest.Node(50, 10.1, 45.05, "place=village name=Oskel")
	open := osmtest.Way(3, "highway=track", 3, 30, 20)
	by := osmtest.Node(30, 10.13, 45.03, "")
	for _, c := range []struct {
		more []any
		want string
	}{
		{[]any{osmtest.Way(2, "highway=tertiary access=private", 3, 21, 20)}, "0 village village Oskel tertiary N private"},
		{[]any{osmtest.Way(2, "highway=tertiary access=private", 3, 21, 20), by, open}, "0 village village Oskel track NE"},
		{[]any{osmtest.Way(2, "highway=tertiary access=private", 3, 21, 20), osmtest.Node(31, 10.4, 45.03, ""),
			osmtest.Way(3, "highway=track", 3, 31, 20)}, "0 village village Oskel track E\n0 village village Oskel tertiary N private"},
		{[]any{osmtest.Way(2, "highway=path", 3, 21, 20)}, ""},
		{[]any{osmtest.Way(2, "highway=tertiary access=no", 3, 21, 20)}, ""},
	} {
		got := helpTold(help(t, append(c.more, oskel)...))
		got = slices.DeleteFunc(got, func(s string) bool { return !strings.HasPrefix(s, "0 village") })
		if strings.Join(got, "\n") != c.want {
			t.Errorf("%v: %q, want %q", c.more, got, c.want)
		}
	}
}

// Where no road is near a mark the rider goes along the line to the first from which one
// leads there: here on over open country, 1.1 km beside the road, to where that comes to the
// line at last, and where the way is shorter back, back.
func TestHelpAlongTheLine(t *testing.T) {
	var points []orb.Point
	for k := range 401 {
		points = append(points, orb.Point{10 + 0.0005*float64(k), 45.01})
	}
	side := osmtest.Way(2, "highway=tertiary name=Side~Road", 3, 21, 20)
	s := surveyOf(t, lineOf(t, points...), 20_000, valley(side, osmtest.Node(50, 10.1, 45.05, "place=town name=Oskel")))
	got := Help(s)
	want := []string{"0 village town Oskel Side Road N", "0 road secondary Valley Road Side Road S", "0 pump fuel Home",
		"16 village town Oskel Side Road N", "16 road secondary Valley Road Side Road S", "16 pump fuel North Side Road N"}
	if told := helpTold(got); !slices.Equal(told, want) {
		t.Fatalf("%q, want %q", told, want)
	}
	half := s.Line.Length() / 2
	for _, w := range got {
		if w.To == "Home" { // by the road it cannot be come to, and the line passes 1 km off
			if off := route.Distance(w.Mark, w.Goal); w.Leave > 2000 || w.Length < off || w.Length > 3*off {
				t.Errorf("%+v", w)
			}
			continue
		}
		straight := half + 4448
		if w.Kind == bailout.Road {
			straight = half + 1112
		}
		// Up to 200 m off the line there is a road; up to so far it is to the first place that is asked.
		if w.Length < straight-1 || w.Kind != bailout.Pump && w.Length > straight+alongStep+snapWithin || math.Abs(float64(w.Leave-half)) > float64(alongStep+snapWithin) {
			t.Errorf("%s %s from %v: %v away, left at %v; straight it is %v", w.Kind, w.To, w.At, w.Length, w.Leave, straight)
		}
	}
}

// Nobody is led over a gap of the line, of which nobody knows whether it can be ridden.
func TestHelpNotOverAGap(t *testing.T) {
	var segments [2][]route.Point
	for k := range 401 {
		if p := (route.Point{Point: orb.Point{10 + 0.0005*float64(k), 45.01}}); k < 120 {
			segments[0] = append(segments[0], p)
		} else if k > 180 {
			segments[1] = append(segments[1], p)
		}
	}
	line, err := route.NewLine([]route.Track{{Segments: segments[:]}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil || len(line.Gaps) != 1 {
		t.Fatal(err, line.Gaps)
	}
	s := surveyOf(t, line, 20_000, valley(osmtest.Way(2, "highway=tertiary name=Side~Road", 3, 21, 20),
		osmtest.Node(50, 10.1, 45.05, "place=town name=Oskel")))
	want := []string{"0 pump fuel Home", "16 village town Oskel Side Road N", "16 road secondary Valley Road Side Road S", "16 pump fuel North Side Road N"}
	if told := helpTold(Help(s)); !slices.Equal(told, want) {
		t.Errorf("%q, want %q", told, want)
	}
}

// What lies beside the line is come to along it, whatever roads the map has, as far as the line is ridden
// and not drawn, with a detour guessed as that of a stop; but not what is farther off, nor beyond a gap.
func TestHelpBesideTheLine(t *testing.T) {
	var points []route.Point
	for k := range 401 {
		points = append(points, route.Point{Point: orb.Point{10 + 0.0005*float64(k), 45.01}})
	}
	line, err := route.NewLine([]route.Track{{Segments: [][]route.Point{points}}}, route.LineOptions{Stretch: 1.1})
	if err != nil {
		t.Fatal(err)
	}
	at := func(k int) orb.Point { return points[k].Point }
	s := surveyOf(t, line, 20_000, valley(osmtest.Node(50, at(200)[0], 45.02, "place=village name=Near"),
		osmtest.Node(51, at(100)[0], 45.05, "place=village name=Far")))
	for _, w := range Help(s) {
		if w.Kind != bailout.Village {
			continue
		}
		leave, _ := line.Nearest(w.Goal, 0, line.Length())
		along := max(leave.At-w.At, w.At-leave.At)
		if want := along*1.1 + leave.Off*1.3; w.To != "Near" || math.Abs(float64(w.Length-want)) > 1 || leave.Off < 1000 || w.Leave != leave.At || w.Road != "" {
			t.Errorf("%+v, want %v m to Near", w, want)
		}
	}
}

// A plainHelper works out by the textbook's search, forwards from each place of the line to all
// goals, what a bailer finds backwards from the goals.
type plainHelper struct {
	*bailer
	closed wayout.Marks
	known  map[int][]reachedBy // by place
}

// from gives how far it is from a place of the line to the nearest of some goals.
func (p *plainHelper) from(i int, goals []goal) route.Metres {
	best := route.Metres(math.Inf(1))
	if p.nodes[i] < 0 {
		return best
	}
	if p.known[i] == nil {
		p.known[i] = plain(p.net, p.nodes[i], slices.Repeat([]float64{1}, wayout.Grounds), p.closed)
	}
	for _, g := range goals {
		if g.node >= 0 && p.known[i][g.node].cost != math.MaxInt64 {
			best = min(best, p.known[i][g.node].length+g.off)
		}
	}
	if best > p.reach {
		return route.Metres(math.Inf(1))
	}
	return best + p.spots[i].Off
}

// nearest is the nearest of some goals from a mark, by the rule that the bailer goes by.
func (p *plainHelper) nearest(mark int, goals []goal) route.Metres {
	least := p.from(mark, goals)
	if !math.IsInf(float64(least), 1) {
		return least
	}
	for _, step := range []int{-1, 1} {
		for i := mark + step; i >= 0 && i < len(p.at) && p.apart(i, mark) <= p.reach; i += step {
			if at := p.from(i, goals); !math.IsInf(float64(at), 1) {
				least = min(least, at+p.apart(i, mark))
				break
			}
		}
	}
	return least
}

// majorNodes are all nodes of roads of the secondary class or above, whatever else they have.
func majorNodes(b *bailer, closed wayout.Marks) (goals []goal) {
	for e := range int32(b.net.Edges()) {
		if x := b.net.Edge(e); b.Roads.Major[x.Way] > 0 && wayout.Marks(x.Marks)&closed == 0 {
			goals = append(goals, goal{node: x.From}, goal{node: x.To})
		}
	}
	return goals
}

// checkHelp wants of every mark and kind what the plain search finds, and tells how many ways
// there are, and of these how many that set out elsewhere than at their mark.
func checkHelp(t kit.T, b *bailer) (ways, along int) {
	open := &plainHelper{b, wayout.Doubtful, map[int][]reachedBy{}}
	all := &plainHelper{b, 0, map[int][]reachedBy{}}
	got := map[bailout.Kind]map[route.Metres][]bailout.Way{}
	for _, k := range bailout.Kinds() {
		got[k] = map[route.Metres][]bailout.Way{}
		for _, w := range b.withDoubtful(k, b.findOn(k, uint8(wayout.Doubtful))) {
			got[k][w.At] = append(got[k][w.At], w)
		}
		for _, mark := range b.marks {
			goals, rest := b.goals[k], b.goals[k]
			if k == bailout.Road {
				goals, rest = majorNodes(b, wayout.Doubtful), majorNodes(b, 0)
			}
			want, other := open.nearest(mark, goals), all.nearest(mark, rest)
			var wanted []route.Metres
			if want <= b.reach {
				wanted = append(wanted, want)
			}
			if b.doubtful() && other <= b.reach && (len(wanted) == 0 || other < want/2) {
				wanted = append(wanted, other)
			}
			found := got[k][b.Line.FileAt(b.at[mark])]
			if len(found) != len(wanted) {
				t.Fatalf("%s from %v: %d ways, want those of %v", k, b.at[mark], len(found), wanted)
			}
			for i, w := range found {
				checkHelpWay(t, w, wanted[i], want > b.reach || i > 0)
				ways++
				if b.nodes[mark] < 0 {
					along++
				}
			}
		}
	}
	return ways, along
}

// checkHelpWay holds one way against its length; one that is not open has to be marked.
func checkHelpWay(t kit.T, w bailout.Way, want route.Metres, shut bool) {
	switch {
	case math.Abs(float64(w.Length-want)) > 1:
		t.Fatalf("it is %v, want %v: %+v", w.Length, want, w)
	case shut != (w.Marks&wayout.Doubtful != 0):
		t.Fatalf("may it be shut? %v: %+v", shut, w)
	case w.Length < route.Distance(w.Mark, w.Goal)-10 || w.Length < max(w.Leave-w.At, w.At-w.Leave)-2*snapWithin:
		t.Fatalf("no road is so short: %+v", w)
	}
}

// drawnCountry is a map of some 80 by 30 km of roads of all kinds, some of which lead nowhere, with
// help here and there, and a line that follows them in part.
func drawnCountry(t *rapid.T) (points []orb.Point, extract osmfile.Extract) {
	pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
	upTo := func(name string, most int) int { return rapid.IntRange(0, most).Draw(t, name) }
	const wide, high, step = 9, 4, 0.12
	var objects, ways []any
	at := map[int]orb.Point{}
	for x := range wide {
		for y := range high {
			n := 1 + x*high + y
			at[n] = orb.Point{10 + step*float64(x) + 0.0001*float64(upTo("lon", 500)), 45 + step*float64(y)*0.7 + 0.0001*float64(upTo("lat", 400))}
			objects = append(objects, osmtest.Node(int64(n), at[n][0], at[n][1], ""))
		}
	}
	road := func(a, b int) {
		tags := pick("road", "highway=track", "highway=track", "highway=tertiary", "highway=secondary", "highway=primary oneway=yes",
			"highway=unclassified access=private", "highway=secondary access=private", "highway=path", "highway=residential oneway=-1", "")
		if tags != "" {
			ways = append(ways, osmtest.Way(int64(len(ways)+1), tags, int64(a), int64(b)))
		}
	}
	for x := range wide {
		for y := range high {
			n := 1 + x*high + y
			if x+1 < wide {
				road(n, n+high)
			}
			if y+1 < high {
				road(n, n+1)
			}
		}
	}
	for k := range 4 + upTo("helps", 8) {
		p := at[1+upTo("near", wide*high-1)]
		objects = append(objects, osmtest.Node(int64(1000+k), p[0]+1e-5*float64(upTo("off", 300)), p[1]+1e-5*float64(upTo("off", 300)),
			fmt.Sprintf("%s name=H%d", pick("help", "place=village", "amenity=clinic", "amenity=pharmacy", "amenity=shelter",
				"amenity=drinking_water", "amenity=fuel"), k)))
	}
	for x := range wide {
		points = append(points, at[1+x*high+upTo("row", high-1)])
	}
	data := osmtest.PBF(append(objects, ways...), 100, false)
	return points, osmfile.Extract{Name: "drawn", Open: func() (io.ReadCloser, error) { return readCloser{bytes.NewReader(data)}, nil }}
}

// On drawn maps what is found is what the plain search finds.
func TestHelpAgainstPlainDijkstra(t *testing.T) {
	found, beside := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		points, extract := drawnCountry(r)
		b := newBailer(surveyOf(t, lineOf(t, points...), 60_000, extract))
		b.reach = route.Metres(rapid.IntRange(5, 90).Draw(r, "reach")) * 1000
		b.place()
		ways, along := checkHelp(r, b)
		found, beside = found+ways, beside+along
	})
	if found < 100 || beside < 10 {
		t.Errorf("%d ways, %d of them along the line, are no test", found, beside)
	}
}

// So it is on maps of two real regions.
func TestHelpOnRealMapsAgainstPlainDijkstra(t *testing.T) {
	if !kit.Long() {
		t.Skip("two maps are read: a long run")
	}
	for _, c := range []struct {
		name   string
		reach  route.Metres
		places []orb.Point
	}{
		{extracts.Andorra, 25_000, []orb.Point{{1.49, 42.44}, {1.58, 42.54}, {1.73, 42.54}}},
		{extracts.Delaware, 15_000, []orb.Point{{-75.59, 38.46}, {-75.40, 38.91}, {-75.67, 39.45}}},
	} {
		extract := extracts.Of(t, c.name)
		b := newBailer(surveyOf(t, rideOver(t, extract, c.places...), c.reach, extract))
		b.place()
		ways, along := checkHelp(t, b)
		t.Logf("%s: %d marks, %d ways, %d along the line", c.name, len(b.marks), ways, along)
		for _, line := range helpTold(Help(surveyOf(t, b.Line, c.reach, extract))) {
			t.Log(line)
		}
		if ways < 3*len(b.marks) {
			t.Errorf("%d ways are no test", ways)
		}
	}
}
