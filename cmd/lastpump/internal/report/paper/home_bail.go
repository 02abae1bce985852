package paper

import (
	"lastpump/cmd/lastpump/internal/words/bail"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/fuel/bailout"
)

// look is where searchers begin, where that is known: the people, clinics, pumps and roads that a
// rider in trouble makes for.
func (h home) look() []homeSection {
	if len(h.say.Plan.Bail) == 0 {
		return nil
	}
	say := bail.Of(h.say.Voice)
	t := &homeTable{Columns: []homeColumn{{bail.Columns[0], 36, false, true}, {bail.Columns[1], 22, false, true},
		{bail.Columns[2] + " " + h.say.Units.DistanceUnit(), 42, false, true}}}
	for _, p := range say.Places(func(p bailout.Place) string { return trail.Coordinates(p.At) }) {
		t.Rows = append(t.Rows, []homeCell{inCell(p.Name), inCell(p.Where), inCell(p.Near)})
	}
	s := homeSection{Head: bail.PlacesHead, Text: []string{say.PlacesTold()}, Table: t}
	if roads := say.Roads(); roads != "" {
		s.Text = append(s.Text, roads)
	}
	return []homeSection{s}
}
