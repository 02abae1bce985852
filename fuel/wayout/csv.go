package wayout

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lastpump/route"
	"lastpump/route/input"
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
	rows := [][]string{header()}
	for _, way := range ways {
		rows = append(rows, way.row(sum))
	}
	return WriteRows(w, rows, attribution)
}

func (w Way) row(sum string) []string {
	whole := route.Metres(0)
	var grounds []string
	for _, m := range w.Ground {
		m = route.Metres(math.Round(float64(m)))
		whole += m
		grounds = append(grounds, Kilometres(m))
	}
	from := w.From
	if strings.HasPrefix(from, "#") {
		from = " " + from // in quotes, so that the row is no remark
	}
	row := []string{from, Kilometres(w.At), Degrees(w.TurnOff[1]), Degrees(w.TurnOff[0]), w.To, Degrees(w.Pump[1]),
		Degrees(w.Pump[0]), Kilometres(whole)}
	return slices.Concat(row, grounds, []string{metres(w.Climb, w.Climbed), metres(w.Descent, w.Descended), w.Road, w.Toward, w.Marks.String(), sum})
}

// metres gives a climb, empty where it is not known.
func metres(m route.Metres, known bool) string {
	if !known {
		return ""
	}
	return strconv.FormatFloat(float64(m), 'f', 0, 64)
}

// Read reads ways as [Write] writes them, columns in any order; those of grounds, climb,
// road, direction and marks may be missing. The name is the file's, for errors. sum is the
// name of the line that the ways are wanted for, see [Sum]. The notes say what was read
// otherwise than written. The error joins up to ten [*input.Error], one for each bad row;
// of a list that is sound, and of another line, its cause is [ErrOtherLine].
func Read(r io.Reader, name, sum string) (ways []Way, notes []string, err error) {
	return ReadRows(r, name, sum, columns(), len(neededColumns), read)
}

// read reads a row.
func read(t *input.Table) (w Way, err error) {
	text := func(column string) string { return input.OneLine(t.Get(column)) }
	w = Way{Row: t.Row(), From: text("from"), To: text("to"), Road: text("road")}
	if w.To == "" {
		return w, t.Fault("to", "a way to no pump: to is empty", "name the pump")
	}
	if w.At, err = Length(t, "at_km"); err != nil {
		return w, err
	}
	if w.TurnOff, err = Place(t, "lat", "lon"); err != nil {
		return w, err
	}
	if w.Pump, err = Place(t, "to_lat", "to_lon"); err != nil {
		return w, err
	}
	if err := readGrounds(t, &w); err != nil {
		return w, err
	}
	return w, readRest(t, &w)
}

// readGrounds reads how much of each ground there is, which has to be all of the way:
// what is missing would be ridden without fuel.
func readGrounds(t *input.Table, w *Way) error {
	for i, column := range groundColumns() {
		if t.Get(column) == "" {
			continue
		}
		m, err := Length(t, column)
		if err != nil {
			return err
		}
		w.Ground[i] = m
	}
	whole, err := Length(t, "road_km")
	if err != nil {
		return err
	}
	const rounded route.Metres = 0.5 * (Grounds + 1)
	if off := whole - w.Length(); off > rounded || off < -rounded {
		return t.Fault("road_km", fmt.Sprintf("road_km is %s, its grounds together are %s km", t.Get("road_km"),
			Kilometres(w.Length())), "each kilometre has one ground; what is not known is unknown_km")
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
	if w.Toward, err = Direction(t, "direction"); err != nil {
		return err
	}
	w.Marks, err = ReadMarks(t, "marks")
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
