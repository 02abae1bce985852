package paper

import (
	"math"
	"strings"

	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/land"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
)

const pumpDot = 2.8

// A pumpMark is how a pump is drawn, as on the page: full, a ring where it is known only from a map,
// a ring of dashes where it is not counted, with a cross where a dry one strands.
type pumpMark struct{ mapped, uncounted, strands bool }

// markOf gives the mark of a stop of which these are the passings: the worst of them.
func (m *mapper) markOf(visits []int) (k pumpMark) {
	k.uncounted = true
	for _, i := range visits {
		v := m.say.Plan.Visits[i]
		k.uncounted = k.uncounted && !v.Counted
		k.mapped = k.mapped || v.Counted && v.Stop.Standing == stop.Map
		k.strands = k.strands || v.IfDry != nil && v.IfDry.Outcome == leg.Stranded
	}
	return k
}

// pump draws a mark.
func (m *mapper) pump(at orb.Point, k pumpMark) {
	m.SetFillColor(255, 255, 255)
	m.SetLineWidth(1)
	switch {
	case k.uncounted:
		m.SetDashPattern([]float64{1.6, 1.2}, 0)
		m.Circle(at[0], at[1], pumpDot, "FD")
		m.SetDashPattern([]float64{}, 0)
	case k.mapped:
		m.Circle(at[0], at[1], pumpDot, "FD")
	}
	m.SetFillColor(0, 0, 0)
	if !k.uncounted && !k.mapped {
		m.Circle(at[0], at[1], pumpDot, "F")
	}
	if k.strands {
		const r = pumpDot + 2
		for _, s := range []float64{1, -1} {
			m.stroke(line{points: []orb.Point{{at[0] - r, at[1] - s*r}, {at[0] + r, at[1] + s*r}}, width: 1.1})
		}
	}
}

// pumps draws the stops that the ride passes, those that count before the others, so that their names
// have room.
func (l *leaf) pumps() {
	var seen []int
	for _, number := range l.order {
		at := l.place(l.say.Plan.Stops[number].At)
		if l.frame.Contains(at) {
			seen = append(seen, number)
			l.room.take(around(at, pumpDot+1))
		}
	}
	for _, number := range seen {
		l.pump(l.place(l.say.Plan.Stops[number].At), l.markOf(l.passes[number]))
	}
	for _, uncounted := range []bool{false, true} {
		for _, number := range seen {
			visits := l.passes[number]
			if l.markOf(visits).uncounted != uncounted {
				continue
			}
			s := said{[]string{l.say.Name(l.say.Plan.Stops[number].Name)}, []face{mapPump}}
			if uncounted {
				s.faces[0] = mapSmall
			}
			for _, text := range l.say.Pump(visits) {
				s.texts, s.faces = append(s.texts, text), append(s.faces, mapSmall)
			}
			l.label(l.place(l.say.Plan.Stops[number].At), s, pumpDot+2.5, !uncounted)
		}
	}
}

// waysOut draws ways out as straights, from where the line is left to their pumps.
func (l *leaf) waysOut() {
	for _, i := range l.ways {
		w := l.say.Plan.Ways.All[i]
		from, to := l.place(w.TurnOff), l.place(w.Pump)
		parts := clip.LineString(l.frame, orb.LineString{from, to})
		if len(parts) == 0 {
			continue
		}
		for _, p := range parts {
			l.stroke(line{points: p, width: 0.8, dash: wayDash})
			l.room.lines = append(l.room.lines, p)
		}
		s := said{l.say.Way(i), []face{mapPump, mapSmall, mapSmall}}
		at := to
		switch in := l.frame.Contains(to); {
		case in && !l.onLine(w.ToStop):
			l.pump(to, pumpMark{mapped: w.ToStop < 0 || l.say.Plan.Stops[w.ToStop].Standing == stop.Map})
			l.room.take(around(to, pumpDot+1))
		case in:
			s.texts, s.faces = s.texts[1:], s.faces[1:]
			at = orb.Point{(from[0] + to[0]) / 2, (from[1] + to[1]) / 2}
		case l.frame.Contains(from):
			s.texts, at = l.say.Onto(i), parts[0][len(parts[0])-1]
		default:
			continue
		}
		l.label(at, s, pumpDot+2.5, true)
	}
}

// onLine tells whether a stop has a mark as one that is passed.
func (m *mapper) onLine(number int) bool { return number >= 0 && m.passes[number] != nil }

// markSteps are how far apart marks along the line may be, in the rider's unit.
var markSteps = []float64{1, 2, 5, 10, 25, 50, 100}

// kilometres marks round distances along the line, at the least so far apart on the paper.
func (l *leaf) kilometres() {
	const apart = 16                             // millimetres
	smooth := route.Metres(l.sheet.Scale / 1000) // a millimetre
	p := l.say.Plan
	unit := 1 / l.say.Units.DistanceIn(1) // metres
	step := markSteps[len(markSteps)-1]
	for _, s := range markSteps {
		if l.sheet.Millimetres(route.Metres(s*unit)) >= apart {
			step = s
			break
		}
	}
	for n := math.Ceil(float64(l.sheet.From) / unit / step); ; n++ {
		at := route.Metres(n * step * unit)
		if at > l.sheet.To {
			return
		}
		on := l.place(p.Line.At(at))
		a, b := l.place(p.Line.At(max(at-smooth, 0))), l.place(p.Line.At(min(at+smooth, p.Line.Length())))
		dx, dy := b[0]-a[0], b[1]-a[1]
		long := max(math.Hypot(dx, dy), 1e-9)
		const half = 3.2
		across := orb.Point{dy / long * half, dx / long * half}
		l.stroke(line{points: []orb.Point{{on[0] - across[0], on[1] + across[1]}, {on[0] + across[0], on[1] - across[1]}}, width: 0.8})
		l.label(on, said{[]string{l.say.Units.Place(at)}, []face{mapSmall}}, 4, false)
	}
}

// onward leads to the sheets before and after, where the stretch of this one begins and ends.
func (l *leaf) onward() {
	lead := func(at route.Metres, sheet int) {
		on := l.place(l.say.Plan.Line.At(at))
		l.label(on, said{[]string{landed.To(sheet + 1)}, []face{mapPump}}, 7, true)
	}
	if l.number > 0 {
		lead(l.sheet.From, l.number-1)
	}
	if l.number < len(l.atlas.Sheets)-1 {
		lead(l.sheet.To, l.number+1)
	}
}

// landNames names towns, then roads by their numbers, rivers and lakes, each where there is room.
func (l *leaf) landNames() {
	for _, t := range l.view.Towns {
		mark := around(t.At, townHalf+0.8)
		name := l.printable(t.Name)
		if !l.room.free(mark) {
			continue
		}
		f := mapSmall
		f.bold = land.Rank(land.Town, t.Class) < 2
		l.room.take(mark)
		l.SetFillColor(255, 255, 255)
		l.Rect(t.At[0]-townHalf, t.At[1]-townHalf, 2*townHalf, 2*townHalf, "F")
		l.stroke(sketchMark{At: t.At, Radius: townHalf}.frame(0))
		if name != "" {
			l.label(t.At, said{[]string{name}, []face{f}}, townHalf+1.5, false)
		}
	}
	named := map[string]bool{}
	for _, s := range append(l.view.Roads, l.view.Rivers...) {
		l.along(named, s)
	}
	for _, w := range l.view.Lakes {
		if name := l.printable(w.Name); name != "" {
			l.label(w.Fill.Bound().Center(), said{[]string{name}, []face{mapSmall}}, 0, false)
		}
	}
}

// along names a road, if it is no lesser one, or a river, once on a sheet: on it, where it is on the sheet
// for long enough.
func (l *leaf) along(named map[string]bool, s land.Stroke) {
	name := l.printable(s.Name)
	if name == "" || named[name] || s.Class == "tertiary" {
		return
	}
	wide, high := l.measure(said{[]string{name}, []face{mapSmall}})
	b := orb.LineString(s.Points).Bound()
	if max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) < 2*wide {
		return
	}
	at := s.Points[len(s.Points)/2]
	if len(s.Points) == 2 {
		at = orb.Point{(s.Points[0][0] + at[0]) / 2, (s.Points[0][1] + at[1]) / 2}
	}
	half := orb.Point{wide/2 + labelPad, high / 2}
	box := orb.Bound{Min: orb.Point{at[0] - half[0], at[1] - half[1]}, Max: orb.Point{at[0] + half[0], at[1] + half[1]}}
	if l.room.free(box) && l.room.clear(box) {
		named[name] = true
		l.room.take(box)
		l.blank(box)
		l.set(said{[]string{name}, []face{mapSmall}}, box)
	}
}

// printable gives the words of a name of the map of which all letters can be printed, for many a place has
// its name in two scripts; what cannot is not missed.
func (m *mapper) printable(name string) string {
	before := m.letters.missing
	var words []string
	for _, w := range strings.Fields(name) {
		if text, whole := m.letters.of(w); whole {
			words = append(words, text)
		}
	}
	m.letters.missing = before
	return strings.Join(words, " ")
}
