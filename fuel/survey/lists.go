package survey

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/input"
)

// Attribution is what has to stand beside everything that is made of the map.
const Attribution = "map data © OpenStreetMap contributors, ODbL 1.0"

// The notes of the lists are written here, and nowhere else.

// Stops gives pumps and places to ask at as one list, in the order of the line. The
// note of the first says whose map it is from.
func (s *Survey) Stops() []stop.Stop {
	var out []stop.Stop
	for _, p := range s.inOrder() {
		p.Stop.Note = p.note()
		out = append(out, p.Stop)
	}
	if len(out) > 0 {
		out[0].Note = noted(out[0].Note, Attribution)
	}
	return out
}

// Ground gives the list of ground that a plan reads. Like [Survey.Stops] it says in
// the note of the first row whose map it is made of.
func (s *Survey) Ground() []route.Section {
	var out []route.Section
	for _, p := range s.Sections {
		p.Section.Note = p.note()
		out = append(out, p.Section)
	}
	for len(out) > 1 && out[0].To-out[0].From < 1 { // it would be left out of the list, and its note with it
		out[1].From = out[0].From
		out = out[1:]
	}
	if len(out) > 0 {
		out[0].Note = noted(out[0].Note, Attribution)
	}
	return out
}

// noted adds to a note.
func noted(note, more string) string {
	if note == "" || more == "" {
		return note + more
	}
	return note + "; " + more
}

func (p Pump) note() string {
	if p.AskAt != "" {
		return "ask here: " + p.AskAt
	}
	var notes []string
	for _, r := range p.Remarks {
		notes = append(notes, r.note())
	}
	how := ""
	if p.ByEdit {
		how = "confirmed: last edit of the map"
	}
	return noted(oneLine(strings.Join(notes, "; ")), how)
}

// A Remark is something that the tags of a pump say.
type Remark struct {
	Kind  RemarkKind
	Value string
}

// A RemarkKind is what a remark is about.
type RemarkKind uint8

// The kinds of remarks, with what their value is.
const (
	OtherFuelsOnly  RemarkKind = iota // these fuels alone are tagged, none of them petrol
	NumberNotTagged                   // petrol
	NotSold                           // grades
	SelfService
	Automatic // nobody is there
	NotAllYear
	Season
	ForBoatsToo // the value of its tag
	Disputed    // a key of which the map says two things
	AsTagged    // key=value
)

func (r Remark) note() string {
	switch r.Kind {
	case OtherFuelsOnly:
		return r.Value + " only, by the map's tags: ask for petrol"
	case NumberNotTagged:
		return "petrol, its number not tagged"
	case NotSold:
		return "not sold: " + r.Value
	case SelfService:
		return "self-service"
	case Automatic:
		return "automatic, nobody there"
	case NotAllYear:
		return "not open all year"
	case Season:
		return "season: " + r.Value
	case ForBoatsToo:
		return "boat=" + r.Value + ": ask whether it is for boats alone"
	case Disputed:
		return r.Value + ": the map says yes and no"
	}
	return r.Value
}

// note tells what the map says of a section: the tags of its ways, those under most of
// it first.
func (s Section) note() string {
	length := map[string]route.Metres{}
	var notes []string
	for _, m := range s.Matches {
		note := m.note()
		if _, ok := length[note]; !ok {
			notes = append(notes, note)
		}
		length[note] += m.Length()
	}
	slices.SortStableFunc(notes, func(a, b string) int { return cmp.Compare(length[b], length[a]) })
	const shown = 3
	text := strings.Join(notes[:min(len(notes), shown)], "; ")
	if n := len(notes) - shown; n > 0 {
		text += fmt.Sprintf("; and %d more", n)
	}
	if s.Guessed {
		text = route.GuessedFrom + text
	}
	return text
}

func (m Match) note() string {
	switch {
	case m.Gap:
		return "a gap in the line"
	case m.Way == nil:
		return "no way of the map lies under the line"
	case m.Beside:
		return "20 m and more beside " + m.Footing.Note()
	}
	return m.Footing.Note()
}

// oneLine puts a text on one line, with single spaces: what strangers wrote goes into a
// list.
func oneLine(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(input.Clean(s), string(unicode.ReplacementChar), "")), " ")
}
