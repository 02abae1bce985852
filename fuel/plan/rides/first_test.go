package rides_test

import (
	order "cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/testdata/screen"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/stop"
	"lastpump/testdata/kit"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

// A printed screen is what the command prints, taken apart again: rows by the names of their
// columns.
type printed struct {
	text   string
	km     float64 // metres in a unit of the trip meter
	litres float64 // in a unit of volume
	rows   []map[string]string
	passes []printedPass
}

// A printedPass is a pump that is passed, with the litres under which to fill there.
type printedPass struct {
	name  string
	under float64
}

var (
	tableHead = regexp.MustCompile(`\ntrip  (?:when +)?stop `)
	cells     = regexp.MustCompile(`\S+(?: \S+)*`) // two spaces part them
	passWords = regexp.MustCompile(`([^ ,][^,(]*) \(\S+ left; fill under ([^ :]+)(?:: so fill)?\)`)
)

// parseFirst takes a screen apart. A cell belongs to the column with whose head it begins, or
// with whose head it ends.
func parseFirst(text string) (*printed, error) {
	s := &printed{text: text, km: 1000, litres: 1}
	if strings.Contains(text, "(trip: mi on") {
		s.km = 1609.344 // the international mile
	}
	if strings.Contains(strings.Join(strings.Fields(text), " "), "brim, US gal,") {
		s.litres = 3.785411784 // 231 cubic inches
	}
	table := tableHead.FindStringIndex(text)
	if table == nil {
		return nil, fmt.Errorf("no table in\n%s", text)
	}
	lines := strings.Split(text[table[0]+1:], "\n")
	heads := spans(lines[0])
	for i, line := range lines[1:] {
		if line == "" || strings.HasPrefix(line, "Pass, ") || strings.HasPrefix(line, "Nights: ") {
			s.passes = parsePasses(lines[1+i:], s.litres)
			return s, nil
		}
		row := map[string]string{}
		for _, c := range spans(line) {
			k := slices.IndexFunc(heads, func(h span) bool { return h.from == c.from || h.to == c.to })
			if k < 0 {
				return nil, fmt.Errorf("%q is under no head: %s", c.text, line)
			}
			row[heads[k].text] = c.text
		}
		s.rows = append(s.rows, row)
	}
	return nil, fmt.Errorf("the table does not end in\n%s", text)
}

// A span is a cell, with the columns of letters where it begins and ends.
type span struct {
	from, to int
	text     string
}

func spans(line string) (out []span) {
	for _, at := range cells.FindAllStringIndex(line, -1) {
		from, text := len([]rune(line[:at[0]])), line[at[0]:at[1]]
		out = append(out, span{from, from + len([]rune(text)), text})
	}
	return out
}

// parsePasses reads the line of pumps that are passed, as many lines as it takes.
func parsePasses(lines []string, litres float64) (out []printedPass) {
	if end := slices.Index(lines, ""); end >= 0 {
		lines = lines[:end]
	}
	_, list, _ := strings.Cut(strings.Join(lines, " "), ": ")
	for _, m := range passWords.FindAllStringSubmatch(list, -1) {
		under, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			under = 0
		}
		out = append(out, printedPass{m[1], under * litres})
	}
	return out
}

// saysEnough tells whether the screen says that there is enough fuel, and of no pump that it
// strands, or nearly.
func (s *printed) saysEnough() bool {
	enough := strings.Contains(s.text, "\nEnough fuel")
	for _, not := range []string{"Not enough fuel", "Only just enough", "but barely", "STRANDS"} {
		enough = enough && !strings.Contains(s.text, not)
	}
	return enough
}

// A known pump is one that a rider has on his list, where he passes it.
type known struct {
	stop     stop.Stop
	km, half float64
}

// corridor is how far off the line, in metres, a stop is passed.
const corridor = 2000

// knownPumps finds where a rider passes the pumps of his list that somebody has seen, phoned or
// has on a map, in order. What lies within the corridor is one passage until the way has gone
// beyond twice of it and over 5 km.
func knownPumps(r *road, stops []stop.Stop) (out []known) {
	for _, s := range stops {
		if s.Standing != stop.Seen && s.Standing != stop.Phoned && s.Standing != stop.Map {
			continue
		}
		best, last, away := math.Inf(1), math.Inf(-1), true
		for i, st := range r.steps {
			if st.from == st.to { // a point that repeats the one before
				continue
			}
			at, off := r.closest(i, s)
			away = away || off > 2*corridor
			if off > corridor {
				continue
			}
			if away && at-last >= 5000 {
				best, out = math.Inf(1), append(out, known{stop: s})
			}
			if off < best-1e-6 {
				best, out[len(out)-1].km = off, at
			}
			away, last = false, st.to
		}
	}
	for i, k := range out {
		out[i].half = r.halfDetour(k.km, k.stop.At)
	}
	slices.SortStableFunc(out, func(a, b known) int { return order.Compare(a.km, b.km) })
	return out
}

// closest gives where on a step the way is closest to a stop, and how far off that is, both in
// metres.
func (c course) closest(i int, s stop.Stop) (at, off float64) {
	a, b := c.points[i].Point, c.points[i+1].Point
	squeeze := math.Cos(s.At.Lat() * math.Pi / 180)
	x, y := (b.Lon()-a.Lon())*squeeze, b.Lat()-a.Lat()
	share := ((s.At.Lon()-a.Lon())*squeeze*x + (s.At.Lat()-a.Lat())*y) / (x*x + y*y)
	at = c.at[i] + max(0, min(1, share))*(c.at[i+1]-c.at[i])
	return at, haversine(c.point(at), s.At)
}

// readFirst makes a sheet of a first screen and of the list of pumps that the rider has: of a
// plan it knows nothing else.
func (l *loop) readFirst(s *printed, stops []stop.Stop) (*sheet, error) {
	list := knownPumps(l.road, stops)
	out, filled := &sheet{}, map[int]bool{}
	for i, row := range s.rows {
		e := entry{name: row["stop"], can: strings.HasPrefix(row["can"], "+"), pump: row["sure"] != ""}
		e.sure = row["sure"] == "seen" || row["sure"] == "phoned" || row["sure"] == "old"
		switch {
		case i == len(s.rows)-1:
			e.km = l.road.length()
		case i > 0:
			k, err := l.find(list, out.stops[i-1], row["stop"], s.number(row, "trip")*s.km)
			if err != nil {
				return nil, err
			}
			e.name, e.km, e.half, filled[k] = list[k].stop.Name, list[k].km, list[k].half, true
		}
		if e.pump {
			e.also = []string{e.name}
		}
		out.stops = append(out.stops, e)
		if i > 0 {
			w := way{can: min(s.number(s.rows[i-1], "can")*s.litres, float64(l.plan.Bike.Can)), turnBack: never} // no can holds more than its size
			if turn := row["turn"]; turn != "" && turn != "none" {
				w.turnBack = s.number(row, "turn") * s.km
			}
			if w.pour = row["pour"] != ""; w.pour {
				w.fits = s.number(row, "pour") * s.km
				w.pourBy = w.fits
			}
			out.legs = append(out.legs, w)
		}
	}
	out.passBy(list, filled, s.passes)
	out.numberPlaces()
	for i, row := range s.rows[1 : len(s.rows)-1] {
		if err := out.stops[i+1].told(out, row["if dry"]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// number reads the first figure of a cell; 0 where it is empty.
func (s *printed) number(row map[string]string, column string) float64 {
	first, _, _ := strings.Cut(strings.TrimPrefix(row[column], "+"), " ")
	n, err := strconv.ParseFloat(first, 64)
	if err != nil {
		return 0
	}
	return n
}

// find looks up which known pump a row means: one of that name, as far as it is not cut, behind
// the row before, where the trip meter shows what is printed to within 2 km.
func (l *loop) find(list []known, from entry, name string, trip float64) (best int, err error) {
	begins, cut := strings.CutSuffix(name, "…")
	best, out := -1, 2000.0
	for i, k := range list {
		if k.km < from.km || !strings.HasPrefix(k.stop.Name, begins) || !cut && k.stop.Name != name {
			continue
		}
		shown := (l.road.ridden(from.km, k.km) + from.half + k.half) * l.engine.odometer
		if d := math.Abs(shown - trip); d < out {
			best, out = i, d
		}
	}
	if best < 0 {
		return 0, fmt.Errorf("%s: no %s %.0f km behind %s", l.name, name, trip/1000, from.name)
	}
	return best, nil
}

// passBy adds the pumps that the rider knows and does not fill at, those of the screen with the
// litres under which he does.
func (s *sheet) passBy(list []known, filled map[int]bool, passes []printedPass) {
	leg := 0
	for i, k := range list {
		for leg+1 < s.last() && s.stops[leg+1].km <= k.km {
			leg++
		}
		at := slices.ContainsFunc(s.stops, func(e entry) bool { return e.name == k.stop.Name && math.Abs(e.km-k.km) < 1 })
		if filled[i] || at {
			continue
		}
		p := passed{entry: entry{name: k.stop.Name, also: []string{k.stop.Name}, km: k.km, half: k.half, pump: true}, leg: leg}
		if len(passes) > 0 && passes[0].name == k.stop.Name {
			p.under, passes = passes[0].under, passes[1:]
		}
		s.passed = append(s.passed, p)
	}
}

// told writes down what to do if a stop is dry: on to the next pump that is not of the same
// place, or back to the last. Where several are in one place it is the one that is filled at.
func (e *entry) told(s *sheet, ifDry string) error {
	var ahead, behind string
	far, near := never, math.Inf(-1)
	look := func(p entry) {
		if p.km > e.km && p.km < far {
			ahead, far = p.name, p.km
		}
		if p.km < e.km && p.km > near {
			behind, near = p.name, p.km
		}
	}
	in := map[int]bool{e.place: true}
	for _, p := range s.stops {
		if p.place != e.place {
			in[p.place] = true
			look(p)
		}
	}
	for _, p := range s.passed {
		if !in[p.place] {
			look(p.entry)
		}
	}
	switch {
	case ifDry == "", ifDry == "STRANDS", ifDry == "STRANDS?", strings.HasPrefix(ifDry, "thirsty: "): // who may strand rides on and hopes
		e.dry, e.to = goOn, ahead
	case ifDry == "back", strings.HasPrefix(ifDry, "back "): // its name may be cut, or left out
		e.dry, e.to = goBack, behind
	default:
		return fmt.Errorf("%s: what to do if it is dry: %q", e.name, ifDry)
	}
	return nil
}

// A firstRide is a loop ridden by its first screen.
type firstRide struct {
	*loop
	screen *printed
}

// byFirst has a loop ridden by the first screen of its plan, which has to fit: in a long run with
// the calls and the cures that the command prints.
func byFirst(l *loop, stops []stop.Stop, units string) (f firstRide, err error) {
	p := *l.plan
	if kit.Long() {
		if err := errors.Join(plan.Cures(context.Background(), &p), plan.Calls(context.Background(), &p)); err != nil {
			return f, err
		}
	}
	text, err := screen.First(&p, units)
	if err == nil {
		err = screen.Fits(text, &p)
	}
	if err != nil {
		return f, fmt.Errorf("%s: %w", l.name, err)
	}
	s, err := parseFirst(text)
	if err != nil {
		return f, err
	}
	by := *l
	by.name += " by the first screen, " + units
	by.holds = s.saysEnough()
	by.sheet, err = l.readFirst(s, stops)
	return firstRide{&by, s}, err
}

// firstRides are loops by their first screens, in each of the units in turn and in a long run in
// all, each with the cans that it needs and for the bike alone.
func firstRides(t *testing.T, all []*loop) (out []firstRide) {
	t.Helper()
	for i, l := range all {
		d, err := draftOf(l)
		if err != nil {
			t.Fatal(err)
		}
		alone := l.alone
		if alone == nil {
			if alone, err = d.alone(l); err != nil {
				t.Fatal(err)
			}
		}
		for _, l := range []*loop{l, alone} {
			for k, units := range []string{"metric", "us", "uk"} {
				if k != i%3 && !kit.Long() {
					continue
				}
				f, err := byFirst(l, d.in.Stops, units)
				if err != nil {
					t.Fatal(err)
				}
				out = append(out, f)
			}
		}
	}
	return out
}

// draftOf gives what a loop was made of.
func draftOf(l *loop) (draft, error) {
	var seed uint64
	if _, err := fmt.Sscanf(l.name, "loop %d", &seed); err == nil {
		return drawLoop(seed), nil
	}
	name, _, _ := strings.Cut(l.name, " ")
	return exampleDraft(name)
}

// alone plans a loop of chosen stops for the bike alone, with the tank that it has there.
func (d draft) alone(l *loop) (*loop, error) {
	in, by := d.in, *l
	in.Bike.Tank, in.Options.FillAt = l.plan.Bike.Tank, plan.FillChosen
	var err error
	if in.Line, err = d.line(); err != nil {
		return nil, err
	}
	err = by.planAlone(in)
	return by.alone, err
}

// Nobody runs dry who rides by the lines of the first screen alone, where it says that there is
// enough fuel and of no pump that it strands; and where none is dry nearly all finish.
func TestNobodyRunsDryByTheFirstScreen(t *testing.T) {
	for _, c := range []struct {
		name  string
		loops func() ([]*loop, error)
	}{{"filled everywhere", loops}, {"stops chosen", chosen}} {
		all, err := c.loops()
		if err != nil {
			t.Fatal(err)
		}
		rides := firstRides(t, all)
		var enough, others []*loop
		for _, f := range rides {
			if f.holds {
				enough = append(enough, f.loop)
			} else {
				others = append(others, f.loop)
			}
		}
		if 4*len(enough) < len(rides) || len(others) == 0 {
			t.Errorf("%s: %d of %d say enough", c.name, len(enough), len(rides))
			continue
		}
		count := tally{}
		for _, r := range rideAll(enough, kit.Share(200, 20)*len(enough), 11) {
			count.add(r)
			if r.end == ranDry && count.ranDry <= 10 {
				t.Error(r)
			}
		}
		if count.ranDry > 0 {
			t.Errorf("%s: %.0f ran dry", c.name, count.ranDry)
		}
		if count.wetFinished < 0.95*count.wet {
			t.Errorf("%s: of %.0f rides without a dry pump %.0f finish", c.name, count.wet, count.wetFinished)
		}
		t.Logf("%s: %d of %d say enough: %s", c.name, len(enough), len(rides), count)
		count = tally{}
		for _, r := range rideAll(others, kit.Share(200, 20)*len(others), 12) {
			count.add(r)
		}
		if count.ranDry == 0 {
			t.Errorf("%s: nobody runs dry where it does not say enough", c.name)
		}
		t.Logf("%s: %d do not: %s", c.name, len(others), count)
	}
}

// What a rider reads off a screen that is written here by hand, in miles and gallons: a name that
// is cut, cells that are empty, and passed pumps over two lines.
func TestParseFirst(t *testing.T) {
	s, err := parseFirst(`Ring: 310 mi to ride, 3 legs, a bike.
Enough fuel with 2 US gal in cans, within your margin on these figures: all 3 legs are OK.

DO (trip: mi on the trip meter, zeroed at each fill; fill: to the brim,
US gal, likely ≤ at most)
trip  stop             sure           fill  grade     can   tank  pay   pour  turn  if dry
   0  the start                       full  91 AKI  +2.00
 9.5  Long Name of a…  phoned  1.90 ≤ 2.47  85 AKI   2.00  91.9?  cash        none  back
 141  B                map     0.90 ≤ 1.47  ask                   any    112    98  thirsty: STRANDS
 160  the end
Pass, unless you strayed or the last fill took over its most: Old Mill (1.20 left; fill under
0.50), C (0.80 left; fill under 0.00), and 2 more.

GRADE (the maker's manual decides)
`)
	if err != nil {
		t.Fatal(err)
	}
	want := []map[string]string{
		{"trip": "0", "stop": "the start", "fill": "full", "grade": "91 AKI", "can": "+2.00"},
		{"trip": "9.5", "stop": "Long Name of a…", "sure": "phoned", "fill": "1.90 ≤ 2.47", "grade": "85 AKI", "can": "2.00",
			"tank": "91.9?", "pay": "cash", "turn": "none", "if dry": "back"},
		{"trip": "141", "stop": "B", "sure": "map", "fill": "0.90 ≤ 1.47", "grade": "ask", "pay": "any", "pour": "112",
			"turn": "98", "if dry": "thirsty: STRANDS"},
		{"trip": "160", "stop": "the end"},
	}
	if diff := cmp.Diff(want, s.rows); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	passes := []printedPass{{"Old Mill", 0.5 * 3.785411784}, {"C", 0}}
	if !slices.Equal(s.passes, passes) || s.km != 1609.344 || s.saysEnough() {
		t.Errorf("passes %v, a mile of %v m, enough %v", s.passes, s.km, s.saysEnough())
	}
	if _, err := parseFirst(strings.Replace(s.text, "112    98 ", "112   98  ", 1)); err == nil {
		t.Error("a figure under no head is read")
	}
}

// With hours there are columns more and, for want of room, fewer: what is left is read as ever.
func TestParseFirstWithHours(t *testing.T) {
	s, err := parseFirst(`Ring: 310 mi to ride, 3 legs, a bike.
DO (trip: km on the trip meter, zeroed at each fill; when: likely)
trip  when       stop    open         sure         fill  grade   turn  if dry
   0  Wed 08:00  Ordvel               seen         full  95 RON
 203  Mon 10:59  Kembil  till 12:00?  seen   1.9 ≤ 2.47  95 RON   151  back
  52  Mon 12:10  B       ask          map     0.9 ≤ 1.4  ask           STRANDS?
 160  Tue 17:01  the end
Nights: Mon 13:35 by Narsuk (km 142), leave 08:00.

GRADE (the maker's manual decides)
`)
	if err != nil {
		t.Fatal(err)
	}
	want := []map[string]string{
		{"trip": "0", "when": "Wed 08:00", "stop": "Ordvel", "sure": "seen", "fill": "full", "grade": "95 RON"},
		{"trip": "203", "when": "Mon 10:59", "stop": "Kembil", "open": "till 12:00?", "sure": "seen", "fill": "1.9 ≤ 2.47",
			"grade": "95 RON", "turn": "151", "if dry": "back"},
		{"trip": "52", "when": "Mon 12:10", "stop": "B", "open": "ask", "sure": "map", "fill": "0.9 ≤ 1.4", "grade": "ask",
			"if dry": "STRANDS?"},
		{"trip": "160", "when": "Tue 17:01", "stop": "the end"},
	}
	if diff := cmp.Diff(want, s.rows); diff != "" || len(s.passes) > 0 {
		t.Errorf("passes %v, rows (-want +got):\n%s", s.passes, diff)
	}
}

// The first screen of an example by the clock is read as that without: a sheet of its stops, each
// with the hour at which the plan reaches it, to the minute.
func TestFirstScreenWithHoursIsRead(t *testing.T) {
	for _, name := range []string{"steppe", "canyon"} {
		d, err := exampleDraft(name)
		if err != nil {
			t.Fatal(err)
		}
		eight := clock.OClock{Hour: 8}
		d.in.Options.Days = &days.Options{Date: d.in.Options.Today, First: eight, Every: eight, Wait: clock.DefaultWait,
			Zone: func(orb.Point) *time.Location { return time.UTC }}
		in, p, err := d.planned()
		if err != nil {
			t.Fatal(err)
		}
		l := d.loop(in, p)
		for _, units := range []string{"metric", "us", "uk"} {
			f, err := byFirst(l, d.in.Stops, units)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(f.screen.rows); n != len(l.plan.Legs)+1 || len(f.sheet.stops) != n {
				t.Errorf("%s, %s: %d rows, %d stops of %d legs", name, units, n, len(f.sheet.stops), len(l.plan.Legs))
			}
			for i, leg := range l.plan.Legs[:len(l.plan.Legs)-1] {
				at := l.plan.Visits[leg.ToVisit].Hour.There[clock.Likely].Add(30 * time.Second).Format("Mon 15:04")
				if got := f.screen.rows[i+1]["when"]; got != at {
					t.Errorf("%s, %s, leg %d: %q, want %s", name, units, i+1, got, at)
				}
			}
		}
	}
}
