package mapped

import (
	"fmt"
	"strings"

	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/gpxfile"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
)

// WaysOutHead is what stands over the table of ways out.
func (w Voice) WaysOutHead(f *outward.Found) string {
	return fmt.Sprintf("WAYS OUT by road, up to %s: %d from %s, and from %s where a road leaves the line",
		w.km(w.found.Options.WaysOut), len(f.Ways), counted(f.Stops, "stop"), counted(f.Places, "place"))
}

// WaysOut is the table of the best way from each stop: where it begins, from and to what,
// how far, by which road, and how many more there are.
func (w Voice) WaysOut(f *outward.Found) (rows [][]string) {
	more := map[string]int{}
	for _, way := range f.Ways {
		if way.From != "" {
			more[way.From]++
		}
	}
	told := map[string]bool{}
	for _, way := range f.Ways {
		if way.From == "" || told[way.From] {
			continue
		}
		told[way.From] = true
		rest := "-"
		if n := more[way.From] - 1; n > 0 {
			rest = fmt.Sprint(n)
		}
		rows = append(rows, []string{w.u.Place(way.At), way.From, way.To, fmt.Sprintf("%.1f", w.u.DistanceIn(way.Length())),
			firstRoad(way.Way), rest})
	}
	return rows
}

// firstRoad names the road behind the turn-off, where it goes, and what to know of it.
func firstRoad(w wayout.Way) string {
	parts := []string{strings.TrimSpace(w.Road + " " + w.Toward)}
	if m := w.Marks.String(); m != "" {
		parts = append(parts, strings.ReplaceAll(strings.ReplaceAll(m, "-", " "), ";", ","))
	}
	return strings.Join(parts, ": ")
}

// RoadsMissing says what of the roads is not known, and what is not counted.
func (w Voice) RoadsMissing(f *outward.Found) (out []string) {
	for _, b := range w.found.Roads.Blank {
		out = append(out, fmt.Sprintf("THE MAP HAS NOTHING AT ALL for ten kilometres each way, from %s off the line on, "+
			"beside %s to %.1f: desert, water, or the end of the extract. "+
			"What roads and pumps lie there is not known, and none is counted.",
			w.km(b.Off), w.at(b.FromKm), w.u.DistanceIn(b.ToKm)))
	}
	if cuts := w.found.Roads.Cuts; len(cuts) > 0 {
		out = append(out, fmt.Sprintf("THE MAP BREAKS OFF: %s within reach, the nearest %s off the line at %s (%.5f, %.5f). "+
			"What lies beyond is not known, and nothing there is counted. Is there an extract of that region for another --map?",
			goesOn(len(cuts)), w.km(cuts[0].Off), w.at(cuts[0].Km), cuts[0].At[1], cuts[0].At[0]))
	}
	if n := len(w.found.Roads.Ferries); n > 0 {
		ferries := "1 ferry"
		if n > 1 {
			ferries = fmt.Sprintf("%d ferries", n)
		}
		out = append(out, fmt.Sprintf("%s within reach, and no way is counted over one: %s.", ferries, w.ferries()))
	}
	out = append(out, noRoad("stop", f.NoRoad)...)
	out = append(out, noRoad("pump", f.Unroads)...)
	out = append(out, "these are ways with the least kilometres × weight of their ground, by the map. A gate may be locked and a "+
		"ford deep; ways that may be shut are marked, and stand behind those that are open.")
	return out
}

func goesOn(n int) string {
	if n == 1 {
		return "1 road goes on that it does not have"
	}
	return fmt.Sprintf("%d roads go on that it does not have", n)
}

func (w Voice) ferries() string {
	const shown = 5
	var out []string
	for _, f := range w.found.Roads.Ferries[:min(shown, len(w.found.Roads.Ferries))] {
		name := f.Name
		if name == "" {
			name = "without a name"
		}
		out = append(out, fmt.Sprintf("%s (%s, %s off)", name, w.at(f.Km), w.km(f.Off)))
	}
	if n := len(w.found.Roads.Ferries) - shown; n > 0 {
		out = append(out, fmt.Sprintf("and %d more", n))
	}
	return strings.Join(out, ", ")
}

// noRoad says what lies on no road that motors may use.
func noRoad(what string, names []string) []string {
	const shown = 8
	if len(names) == 0 {
		return nil
	}
	text := strings.Join(names[:min(shown, len(names))], ", ")
	if n := len(names) - shown; n > 0 {
		text += fmt.Sprintf(" and %d more", n)
	}
	return []string{fmt.Sprintf("%s with no road open to motors within 200 m, and so with no way: %s.",
		counted(len(names), what), text)}
}

// RoadsWritten says which files are written for the ways.
func (w Voice) RoadsWritten(roads, shapes, far string) string {
	s := fmt.Sprintf("%s has all of them by kilometres of each ground, %s their shapes.", roads, shapes)
	if far != "" {
		s += fmt.Sprintf(" %s has the pumps that lie in no other list: one that you have phoned counts if another is dry.", far)
	}
	return s
}

// Shapes gives the ways as a file for a GPS: those of stops whole, those of places on the
// line as far as where another way to the same pump begins that is in it already.
func Shapes(loop string, ways []outward.Way) gpxfile.Document {
	d := gpxfile.Document{Name: "ways out of " + loop, Desc: survey.Attribution}
	for _, w := range ways {
		shape := orb.LineString(w.Shape)
		if w.From == "" {
			shape = shape[:w.Joins]
		}
		if len(shape) < 2 {
			continue
		}
		const off = 1e-4 // degrees that a thinned road may lie off itself: some 10 m
		var points []route.Point
		for _, p := range simplify.DouglasPeucker(off).LineString(shape.Clone()) {
			points = append(points, route.Point{Point: p})
		}
		from := w.From
		if from == "" {
			from = fmt.Sprintf("km %.1f", w.At.Kilometres())
		}
		d.Tracks = append(d.Tracks, gpxfile.Track{Name: from + " to " + w.To, Segments: [][]route.Point{points}})
	}
	return d
}
