package bailout

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/input"
)

// header are the columns as they are written; the last three but one may be missing.
var header = []string{"at_km", "lat", "lon", "kind", "to", "to_lat", "to_lon", "road_km", "leave_km", "line",
	"what", "road", "direction", "marks"}

// needed is how many of them have to be there.
const needed = 10

func columns() (out []input.Column) {
	for _, name := range header {
		out = append(out, input.Column{Name: name})
	}
	return out
}

// order is the order in which columns are written: the line, which nobody reads, last.
var order = []string{"at_km", "lat", "lon", "kind", "what", "to", "to_lat", "to_lon", "road_km", "leave_km", "road",
	"direction", "marks", "line"}

// Write writes ways as CSV, with whose map they are made of in a remark above the header.
// sum names the line, see [wayout.Sum].
func Write(w io.Writer, ways []Way, sum, attribution string) error {
	rows := [][]string{order}
	for _, way := range ways {
		rows = append(rows, []string{wayout.Kilometres(way.At), wayout.Degrees(way.Mark[1]), wayout.Degrees(way.Mark[0]),
			string(way.Kind), way.What, way.To, wayout.Degrees(way.Goal[1]), wayout.Degrees(way.Goal[0]),
			wayout.Kilometres(way.Length), wayout.Kilometres(way.Leave), way.Road, way.Toward, way.Marks.String(), sum})
	}
	return wayout.WriteRows(w, rows, attribution)
}

// Read reads ways as [Write] writes them, columns in any order; what, road, direction and
// marks may be missing. The arguments, notes and errors are those of [wayout.Read].
func Read(r io.Reader, name, sum string) ([]Way, []string, error) {
	return wayout.ReadRows(r, name, sum, columns(), needed, read)
}

func read(t *input.Table) (w Way, err error) {
	text := func(column string) string { return input.OneLine(t.Get(column)) }
	w = Way{Row: t.Row(), Kind: Kind(strings.ToLower(text("kind"))), What: text("what"), To: text("to"), Road: text("road")}
	if !slices.Contains(Kinds(), w.Kind) {
		var names []string
		for _, k := range Kinds() {
			names = append(names, string(k))
		}
		return w, t.Fault("kind", fmt.Sprintf("unknown kind of help %q", t.Get("kind")), "one of "+strings.Join(names, ", "))
	}
	if w.To == "" {
		return w, t.Fault("to", "a way to nowhere: to is empty", "name what is there")
	}
	if w.Mark, err = wayout.Place(t, "lat", "lon"); err != nil {
		return w, err
	}
	if w.Goal, err = wayout.Place(t, "to_lat", "to_lon"); err != nil {
		return w, err
	}
	for _, c := range []struct {
		column string
		to     *route.Metres
	}{{"at_km", &w.At}, {"road_km", &w.Length}, {"leave_km", &w.Leave}} {
		if *c.to, err = wayout.Length(t, c.column); err != nil {
			return w, err
		}
	}
	return w, readRest(t, &w)
}

// readRest reads what may be missing, and holds the length against what is known of it.
func readRest(t *input.Table, w *Way) (err error) {
	if w.Toward, err = wayout.Direction(t, "direction"); err != nil {
		return err
	}
	if w.Marks, err = wayout.ReadMarks(t, "marks"); err != nil {
		return err
	}
	const rounded, besides route.Metres = 50, 500 // what is written is rounded; and a road beside the line may be shorter
	if straight := route.Distance(w.Mark, w.Goal); w.Length < straight-rounded {
		return t.Fault("road_km", fmt.Sprintf("road_km is %s, and it is %.3f km straight", t.Get("road_km"), straight.Kilometres()),
			"no road is shorter than the straight: is it of another place?")
	}
	if along := max(w.Leave-w.At, w.At-w.Leave); along > 1.25*w.Length+besides {
		return t.Fault("leave_km", fmt.Sprintf("leave_km is %s, %.3f km along the line, and the way is %.3f km in all",
			t.Get("leave_km"), along.Kilometres(), w.Length.Kilometres()), "the line is left before the way ends")
	}
	return nil
}
