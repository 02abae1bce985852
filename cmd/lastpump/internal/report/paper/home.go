package paper

import (
	"cmp"
	"slices"
	"strconv"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A homeSheet is what is left with someone at home, as HTML and PDF have it.
type homeSheet struct {
	Title    string
	Lead     string // under the title
	Sections []homeSection
}

// A homeSection is one part of it.
type homeSection struct {
	Head   string
	Text   []string
	Sketch *homeSketch // beside the text
	Fields []homeField
	Table  *homeTable
}

// A homeField is something said or to be filled in by hand: it has no values then.
type homeField struct {
	Label  string
	Values []string
	Wide   bool // all of the width is for it
}

// A homeTable has cells of several lines; an empty cell is to be filled in by hand.
type homeTable struct {
	Caption string
	Columns []homeColumn
	Rows    [][]homeCell
}

type homeColumn struct {
	Head  string
	Share float64 // of the width, in per cent
	Right bool    // numbers stand at the right
	Names bool    // long words in it may be broken
}

// A homeCell is lines; Strong is a doubt that has to be seen.
type homeCell struct {
	Lines  []string
	Strong bool
}

func inCell(lines ...string) homeCell { return homeCell{Lines: lines} }

// newHomeSheet says what is left at home; name gives a place as it is to be written.
func newHomeSheet(p *plan.Plan, u units.System, contacts []Contact, name func(string) string) homeSheet {
	h := home{say: trail.Of(words.Voice{Plan: p, Units: u, Name: name}), contacts: contacts}
	for i := range p.Legs {
		if _, strong := h.say.DoubtsOf(i); strong {
			h.doubtful = append(h.doubtful, i)
		}
	}
	return homeSheet{
		Title: "Left at home: " + h.say.Loop(),
		Lead:  "Where the ride goes, where it finds petrol, and when to worry.",
		Sections: []homeSection{
			h.knows(), h.worry(), h.whatToDo(), h.who(), h.carries(), h.heard(), h.cautions(),
			h.ride(), h.nights(), h.pumps(),
		},
	}
}

type home struct {
	say      trail.Voice
	contacts []Contact
	doubtful []int // the legs of which there are doubts, from 0
}

func (h home) knows() homeSection {
	return homeSection{Head: "What the rider knows", Text: []string{h.say.KnowsAndCarries()}}
}

func (h home) worry() homeSection {
	s := homeSection{Head: "When to worry", Fields: fields(append(slices.Clone(h.contacts), h.hours()...),
		"leave", "back", "worry", "call", "zone", "checks", "who")}
	if h.say.Timed() {
		s.Text = []string{h.say.WorryTold()}
	}
	return s
}

// hours are what the clock knows of the hours to worry, where the rider says nothing of them.
func (h home) hours() (out []Contact) {
	if !h.say.Timed() {
		return nil
	}
	for _, c := range []Contact{{"leave", h.say.SetsOut()}, {"back", h.say.ExpectedBack()}, {"worry", h.say.WorryFrom()},
		{"zone", h.say.HomeZone()}} {
		if !slices.ContainsFunc(h.contacts, func(said Contact) bool { return said.Key == c.Key }) {
			out = append(out, c)
		}
	}
	return out
}

func (h home) whatToDo() homeSection {
	return homeSection{Head: "When that hour comes", Text: trail.HomeAdvice}
}

func (h home) who() homeSection {
	s := homeSection{Head: "Who rides, and what they look like", Fields: fields(h.contacts, "rider", "with", "looks",
		"medical")}
	if h.say.Plan.Group != nil {
		s.Text = []string{h.say.Together()}
	}
	bike := cmp.Or(h.say.Name(h.say.Plan.Bike.Name), "as given")
	s.Fields = append(s.Fields, homeField{Label: "Bike", Values: []string{bike}})
	s.Fields = append(s.Fields, fields(h.contacts, "bike")...)
	return s
}

func (h home) carries() homeSection {
	return homeSection{Head: "What the rider carries", Text: []string{h.say.Carries()}, Fields: fields(h.contacts,
		"supplies", "insurance", "embassy", "carries", "note")}
}

// heardRows are the lines of the log for what is heard of the rider.
const heardRows = 6

// heard is how word comes from the rider, and a log of it to be filled in by hand.
func (h home) heard() homeSection {
	t := &homeTable{Caption: "Last heard: write it down each time, with the hour by your own clock",
		Columns: []homeColumn{{"Date, hour", 18, false, true}, {"From whom, by what", 24, false, true},
			{"Where the rider was, what was said", 40, false, true}, {"Next word by", 18, false, true}}}
	for range heardRows {
		t.Rows = append(t.Rows, make([]homeCell, len(t.Columns)))
	}
	return homeSection{Head: "Word from the rider", Fields: fields(h.contacts, "beacon", "messenger"), Table: t}
}

func (h home) ride() homeSection {
	s := homeSection{Head: "The ride", Text: h.say.RideForHome(), Sketch: h.sketch()}
	if lasts := h.say.TankLasts(); lasts != "" {
		s.Text = append(s.Text, lasts)
	}
	return s
}

// nights are the days by the clock; where it is not followed the parts of the file, of which dates
// are filled in by hand.
func (h home) nights() homeSection {
	d := h.say.Units.DistanceUnit()
	if h.say.Timed() {
		return h.days()
	}
	t := &homeTable{Caption: "Parts of the ride, and where each ends", Columns: []homeColumn{
		{"Part", 29, false, true}, {d, 11, true, false}, {"Ends at", 36, false, true}, {"Last pump", 14, false, true},
		{"Date", 10, false, false}}}
	for i, part := range h.say.Plan.Line.Parts {
		if here := h.say.Plan.Here; here != nil && part.To <= here.At {
			continue
		}
		t.Rows = append(t.Rows, []homeCell{inCell(h.say.Part(i)),
			inCell(h.say.Units.Place(part.From) + "–" + h.say.Units.Place(part.To)),
			inCell(h.say.PartEnd(part.To)), inCell(h.say.LastPump(part.To)), {}})
	}
	if len(t.Rows) > 1 {
		return homeSection{Head: "Likely nights", Table: t}
	}
	for range 4 {
		t.Rows = append(t.Rows, make([]homeCell, len(t.Columns)))
	}
	return homeSection{Head: "Likely nights", Text: []string{"The file does not say where the days end: write it in."},
		Table: t}
}

// days are where each day is likely to end, and when.
func (h home) days() homeSection {
	t := &homeTable{Caption: "Each day of the ride, where it ends, and when from early to late", Columns: []homeColumn{
		{"Day", 12.5, false, true}, {h.say.Units.DistanceUnit(), 11, true, false}, {"Ends", 24, false, true},
		{"Where", 37.5, false, true}, {"There", 15, false, true}}}
	for _, n := range h.say.NightsForHome() {
		t.Rows = append(t.Rows, []homeCell{inCell(n.Day), inCell(n.Km), inCell(n.Ends), inCell(n.Where), inCell(n.There)})
	}
	s := homeSection{Head: "Likely nights", Table: t}
	if told := h.say.NobodyKnowsOfLodging(); told != "" {
		s.Text = []string{told}
	}
	return s
}

// pumps are the legs with the pump at the end of each, and what is doubtful about them.
func (h home) pumps() homeSection {
	p := h.say.Plan
	at := "at " + h.say.Units.DistanceUnit()
	t := &homeTable{
		Caption: "Pumps in the order of the ride, with the hours that the list has, and the leg that leads to each",
		Columns: []homeColumn{{"Leg", 5, true, false}, {"To", 21, false, true}, {"Open", 18, false, true},
			{"Where", 21, false, true}, {at, 7, true, false}, {"The leg", 28, false, true}}}
	row := func(number string, to, open homeCell, at orb.Point, km route.Metres, leg homeCell) {
		t.Rows = append(t.Rows, []homeCell{inCell(number), to, open, inCell(trail.Coordinates(at), trail.Minutes(at)),
			inCell(h.say.Units.Place(km)), leg})
	}
	if h.say.Timed() {
		t.Columns[1].Share, t.Columns[5].Share = 19.5, 26
		t.Columns[2] = homeColumn{"Open; rider expected", 21.5, false, true}
	}
	start, open := inCell(h.say.RideStart()), inCell("")
	if v := p.Legs[0].FromVisit; v >= 0 {
		start, open = h.pump(v)
	}
	row("S", start, open, p.Cues[0].Point, p.Legs[0].FromAt, inCell("the ride sets out here"))
	var doubtful []string
	for i, l := range p.Legs {
		to, open, at := inCell(h.say.RideEnd()+", no pump"), inCell(""), p.Cues[len(p.Cues)-1].Point
		if l.ToVisit >= 0 {
			to, open = h.pump(l.ToVisit)
			at = p.Visits[l.ToVisit].Stop.At
		}
		doubts, strong := h.say.DoubtsOf(i)
		if strong {
			doubtful = append(doubtful, strconv.Itoa(i+1))
		}
		row(strconv.Itoa(i+1), to, open, at, l.ToAt, homeCell{[]string{doubts}, strong})
	}
	if h.say.Timed() { // in one piece: hours need the room, and the sheet is two pages
		t.Caption = trail.DoubtfulLegs(doubtful) + " The pumps: their hours, when the rider is expected, early to late, and the leg to each."
		return homeSection{Head: "Where there is petrol", Table: t}
	}
	return homeSection{Head: "Where there is petrol", Text: []string{trail.DoubtfulLegs(doubtful)}, Table: t}
}

// pump names a pump with its telephone, and says when it is open and the rider expected there.
func (h home) pump(visit int) (name, open homeCell) {
	v := h.say.Plan.Visits[visit]
	name = inCell(h.say.Name(v.Stop.Name))
	if v.LastFuel != nil {
		name.Lines[0] += ", last sure fuel"
	}
	if v.Stop.Phone != "" {
		name.Lines = append(name.Lines, "phone "+v.Stop.Phone)
	}
	open = inCell("not known")
	if v.Stop.Hours != "" {
		open = inCell(sheet.Hours(v.Stop.Hours))
	}
	if expected := h.say.ExpectedAt(visit); len(expected) > 0 {
		open.Lines = append(open.Lines, expected...)
		open.Strong = v.Hour.MayBeShut()
	}
	return name, open
}

func (h home) cautions() homeSection {
	return homeSection{Head: "How far to trust this", Text: h.say.CautionsForHome()}
}
