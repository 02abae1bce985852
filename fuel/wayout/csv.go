package wayout

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
)

// ErrOtherLine is the cause of the error of a list whose ways were looked for along
// another line.
var ErrOtherLine = errors.New("ways out of another line")

// MostKilometres is how long a way may be in a list, and how far along the line it may
// begin, in kilometres.
const MostKilometres = 100_000

// neededColumns come first, then those that may be missing. A list is written with all
// of them, in the order of [header].
var neededColumns = []string{"from", "at_km", "lat", "lon", "to", "to_lat", "to_lon", "road_km", "line"}

// header gives the columns as they are written.
func header() []string {
	return slices.Concat(neededColumns[:8], groundColumns(), []string{"climb_m", "descent_m", "road", "direction", "marks", "line"})
}

// groundColumns gives a column for each ground, in the order of [route.AllGrounds].
func groundColumns() (names []string) {
	for _, g := range route.AllGrounds() {
		names = append(names, strings.ReplaceAll(string(g), "-", "_")+"_km")
	}
	return names
}

func columns() (out []input.Column) {
	for _, name := range neededColumns {
		out = append(out, input.Column{Name: name})
	}
	for _, name := range header()[8:] {
		if name != "line" {
			out = append(out, input.Column{Name: name})
		}
	}
	return out
}

// Write writes ways as CSV, with whose map they are made of in a remark above the
// header. Lengths are to the metre, road_km is the sum of the grounds; a climb that is
// not known is empty. sum names the line, see [Sum].
func Write(w io.Writer, ways []Way, sum, attribution string) error {
	if _, err := fmt.Fprintf(w, "# %s\n", input.OneLine(attribution)); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	rows := [][]string{header()}
	for _, way := range ways {
		rows = append(rows, way.row(sum))
	}
	return out.WriteAll(rows)
}

func (w Way) row(sum string) []string {
	whole := route.Metres(0)
	var grounds []string
	for _, m := range w.Ground {
		m = route.Metres(math.Round(float64(m)))
		whole += m
		grounds = append(grounds, kilometres(m))
	}
	from := w.From
	if strings.HasPrefix(from, "#") {
		from = " " + from // in quotes, so that the row is no remark
	}
	row := []string{from, kilometres(w.At), degrees(w.TurnOff[1]), degrees(w.TurnOff[0]), w.To, degrees(w.Pump[1]),
		degrees(w.Pump[0]), kilometres(whole)}
	return slices.Concat(row, grounds, []string{metres(w.Climb, w.Climbed), metres(w.Descent, w.Descended), w.Road, w.Toward, w.Marks.String(), sum})
}

// metres gives a climb, empty where it is not known.
func metres(m route.Metres, known bool) string {
	if !known {
		return ""
	}
	return strconv.FormatFloat(float64(m), 'f', 0, 64)
}

func kilometres(m route.Metres) string { return strconv.FormatFloat(m.Kilometres(), 'f', 3, 64) }

func degrees(d float64) string { return strconv.FormatFloat(d, 'f', 7, 64) }

// Read reads ways as [Write] writes them, columns in any order; those of grounds, climb,
// road, direction and marks may be missing. The name is the file's, for errors. sum is the
// name of the line that the ways are wanted for, see [Sum]. The notes say what was read
// otherwise than written. The error joins up to ten [*input.Error], one for each bad row;
// of a list that is sound, and of another line, its cause is [ErrOtherLine].
func Read(r io.Reader, name, sum string) (ways []Way, notes []string, err error) {
	t, err := input.NewRemarkedTable(r, name, columns(), len(neededColumns))
	if err != nil {
		return nil, nil, err
	}
	var faults []error
	line := ""
	row := 0 // of the first way
	for t.Next() {
		w, of, err := read(t)
		switch {
		case err == nil && line == "":
			line, row = of, w.Row
		case err == nil && of != line:
			err = t.Fault("line", fmt.Sprintf("the way is of another line than that of row %d", row),
				"two lists in one? survey each line into a folder of its own")
		}
		if err != nil {
			faults = append(faults, err)
			continue
		}
		ways = append(ways, w)
	}
	faults = append(faults, t.Faults()...)
	if len(faults) == 0 && line != "" && line != sum {
		faults = append(faults, &input.Error{File: name, Line: row, Col: 1,
			What: "these ways were looked for along another line",
			Hint: "survey this line anew: kilometres and turn-offs are those of the other", Cause: ErrOtherLine})
	}
	if err := input.JoinFaults(faults); err != nil {
		return nil, t.Notes(), err
	}
	return ways, t.Notes(), nil
}

// read reads a row, and of which line it is.
func read(t *input.Table) (w Way, line string, err error) {
	text := func(column string) string { return input.OneLine(t.Get(column)) }
	w = Way{Row: t.Row(), From: text("from"), To: text("to"), Road: text("road")}
	if w.To == "" {
		return w, "", t.Fault("to", "a way to no pump: to is empty", "name the pump")
	}
	if w.At, err = length(t, "at_km"); err != nil {
		return w, "", err
	}
	if w.TurnOff, err = place(t, "lat", "lon"); err != nil {
		return w, "", err
	}
	if w.Pump, err = place(t, "to_lat", "to_lon"); err != nil {
		return w, "", err
	}
	if err := readGrounds(t, &w); err != nil {
		return w, "", err
	}
	if err := readRest(t, &w); err != nil {
		return w, "", err
	}
	line = strings.ToLower(t.Get("line"))
	if len(line) != 64 || strings.Trim(line, "0123456789abcdef") != "" {
		return w, "", t.Fault("line", "this is not the checksum of a line: 64 digits of 0-9 and a-f", "survey the line anew")
	}
	return w, line, nil
}

// readGrounds reads how much of each ground there is, which has to be all of the way:
// what is missing would be ridden without fuel.
func readGrounds(t *input.Table, w *Way) error {
	for i, column := range groundColumns() {
		if t.Get(column) == "" {
			continue
		}
		m, err := length(t, column)
		if err != nil {
			return err
		}
		w.Ground[i] = m
	}
	whole, err := length(t, "road_km")
	if err != nil {
		return err
	}
	const rounded route.Metres = 0.5 * (Grounds + 1)
	if off := whole - w.Length(); off > rounded || off < -rounded {
		return t.Fault("road_km", fmt.Sprintf("road_km is %s, its grounds together are %s km", t.Get("road_km"),
			kilometres(w.Length())), "each kilometre has one ground; what is not known is unknown_km")
	}
	return nil
}

func readRest(t *input.Table, w *Way) (err error) {
	if w.Climb, w.Climbed, err = climb(t, "climb_m"); err != nil {
		return err
	}
	if w.Descent, w.Descended, err = climb(t, "descent_m"); err != nil {
		return err
	}
	w.Toward = strings.ToUpper(t.Get("direction"))
	if w.Toward != "" && !slices.Contains(compass, w.Toward) {
		return t.Fault("direction", fmt.Sprintf("unknown direction %q", t.Get("direction")),
			"one of "+strings.Join(compass, ", "))
	}
	w.Marks, err = readMarks(t)
	return err
}

// climb reads a climb; not known where the field is empty.
func climb(t *input.Table, column string) (m route.Metres, known bool, err error) {
	text := t.Get(column)
	if text == "" {
		return 0, false, nil
	}
	v, ok := t.Number(column)
	if !ok || v < 0 || v > 1e6 {
		return 0, false, t.Fault(column, fmt.Sprintf("%s is %q, not a climb in metres", column, text),
			"leave it empty where it is not known")
	}
	return route.Metres(v), true, nil
}

// readMarks reads marks. One that is not known may say that the way is shut, and is not
// passed over.
func readMarks(t *input.Table) (m Marks, err error) {
	for word := range strings.SplitSeq(t.Get("marks"), ";") {
		if word = strings.ToLower(strings.TrimSpace(word)); word == "" {
			continue
		}
		i := slices.Index(markNames, word)
		if i < 0 {
			return 0, t.Fault("marks", fmt.Sprintf("unknown mark %q", word), "the marks are "+strings.Join(markNames, ", "))
		}
		m |= 1 << i
	}
	return m, nil
}

func length(t *input.Table, column string) (route.Metres, error) {
	v, ok := t.Number(column)
	if !ok || v < 0 || v > MostKilometres {
		return 0, t.Fault(column, fmt.Sprintf("%s is %q, not a distance in kilometres", column, t.Get(column)), "write 12.5")
	}
	return route.Kilometres(v), nil
}

func place(t *input.Table, lat, lon string) (p orb.Point, err error) {
	for i, c := range []struct {
		column string
		most   float64
	}{{lon, 180}, {lat, 90}} {
		v, ok := t.Number(c.column)
		if !ok || math.Abs(v) > c.most {
			what := fmt.Sprintf("%s is %q, not degrees from %v to %v", c.column, t.Get(c.column), -c.most, c.most)
			return p, t.Fault(c.column, what, "write 47.123456")
		}
		p[i] = v
	}
	return p, nil
}
