package report

import (
	"fmt"
	"strconv"
	"strings"

	"lastpump/fuel/plan"
	"lastpump/route"
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
func newHomeSheet(p *plan.Plan, contacts []Contact, name func(string) string) homeSheet {
	h := home{newTeller(p, name), contacts}
	return homeSheet{
		Title: "Left at home: " + h.loop(),
		Lead:  "Where the ride goes, where it finds petrol, and when to worry.",
		Sections: []homeSection{
			h.worry(), h.whatToDo(), h.who(), h.carries(), h.ride(), h.nights(), h.pumps(), h.cautions(),
		},
	}
}

type home struct {
	teller
	contacts []Contact
}

func (h home) loop() string {
	if n := h.name(h.p.Name); n != "" {
		return n
	}
	return "the ride"
}

func (h home) worry() homeSection {
	return homeSection{Head: "When to worry", Fields: fields(h.contacts, "leave", "back", "worry", "call", "who")}
}

func (h home) whatToDo() homeSection {
	return homeSection{Head: "When that hour comes", Text: []string{
		"The hour to worry: try the rider's phone, then the pumps below that have one. Ask who saw the bike, when, and which way it went on.",
		"The hour to call: ring those named above. Give them this sheet and the GPX file of the loop, and say which pump was reached last: it is from there to the next one that they look first. Keep your phone free. If the rider turns up, tell everybody you have called.",
	}}
}

func (h home) who() homeSection {
	s := homeSection{Head: "Who rides", Fields: fields(h.contacts, "rider", "with")}
	if g := h.p.Group; g != nil {
		var names []string
		for _, b := range g.Bikes {
			names = append(names, h.name(b.Bike.Name))
		}
		s.Text = []string{fmt.Sprintf("A group of %d bikes: %s. The figures below are those of the first; all fill at the same pumps.", len(g.Bikes), strings.Join(names, ", "))}
	}
	bike := h.name(h.p.Bike.Name)
	if bike == "" {
		bike = "as given"
	}
	s.Fields = append(s.Fields, homeField{Label: "Bike", Values: []string{bike}})
	s.Fields = append(s.Fields, fields(h.contacts, "bike")...)
	return s
}

func (h home) ride() homeSection {
	p, u := h.p, h.u
	kind := "one way"
	if p.Line.Closed {
		kind = "a closed loop"
	}
	where, ride := "It begins at "+h.called("start"), "to ride"
	if p.Here.OnTheWay() {
		ride = "still to ride"
		where = fmt.Sprintf("The rest of it: from %s at %s %s", h.called("start"), u.DistanceUnit(), h.along(p.Here.At))
	}
	text := []string{fmt.Sprintf("%s: %s, %s %s. %s, %s.", h.loop(), kind, u.Distance(p.Loop.Ridden), ride, where, coordinates(p.Roll[0].Point))}
	if p.Arranged != "" {
		text = append(text, "Ridden otherwise than in the file: "+p.Arranged+".")
	}
	text = append(text, strings.Join(p.Answer[:], " "))
	if p.Here != nil && p.Here.Answer != "" {
		text = append(text, p.Here.Answer)
	}
	text = append(text, "SHORT: the petrol does not last to the next pump. TIGHT: it does by eating into the reserve, or only if the bike drinks no more than likely. Stranded: neither the next pump nor the last is within reach.")
	return homeSection{Head: "The ride", Text: append(text, h.reach()...)}
}

// along gives a place along the line, in the units of the plan and rounded down, as the
// text has it.
func (h home) along(m route.Metres) string { return h.down(m) }

// reach says how far the tank takes the bike, over the legs that set out full and
// without a can.
func (h home) reach() []string {
	var dry, most, safe route.Metres
	found := false
	for _, l := range h.p.Legs {
		if l.Start < h.p.Bike.Usable()-hair || l.Can > 0 {
			continue
		}
		if !found {
			dry, most, safe, found = l.DryAtHigh, l.DryAt, l.SafeTo, true
		}
		dry, most, safe = min(dry, l.DryAtHigh), max(most, l.DryAt), min(safe, l.SafeTo)
	}
	if !found {
		return nil
	}
	d := h.u.DistanceUnit()
	return []string{fmt.Sprintf("A full tank (%s) lasts %s to %s %s on this ride, by the trip meter, from the worst ground at the high figure to the best at the likely one; with its reserve whole it goes %s %s on the worst.",
		h.u.Held(h.p.Bike.Usable()), h.down(dry), h.down(most), d, h.down(safe), d)}
}

// nights are the parts of the file: where a day is likely to end.
func (h home) nights() homeSection {
	d := h.u.DistanceUnit()
	t := &homeTable{Caption: "Parts of the ride, and where each ends", Columns: []homeColumn{
		{"Part", 31, false, true}, {d, 16, true, false}, {"Ends at", 39, false, true}, {"Date", 14, false, false}}}
	for i, part := range h.p.Line.Parts {
		if here := h.p.Here; here != nil && part.To <= here.At {
			continue
		}
		t.Rows = append(t.Rows, []homeCell{inCell(h.part(i)), inCell(h.along(part.From) + "–" + h.along(part.To)),
			inCell(coordinates(h.p.Line.At(part.To)) + h.pumpBefore(part.To)), {}})
	}
	if len(t.Rows) > 1 {
		return homeSection{Head: "Likely nights", Table: t}
	}
	for range 4 {
		t.Rows = append(t.Rows, make([]homeCell, len(t.Columns)))
	}
	return homeSection{Head: "Likely nights", Text: []string{"The file does not say where the days end: write it in."}, Table: t}
}

// pumpBefore names the last counted pump that is passed up to a place along the line.
func (h home) pumpBefore(at route.Metres) string {
	out := ", before any pump"
	for _, v := range h.p.Visits {
		if v.Fill != nil && v.At <= at {
			out = ", after " + h.name(v.Stop.Name)
		}
	}
	return out
}

// pumps are the legs with the pump at the end of each, and what is doubtful about them.
func (h home) pumps() homeSection {
	p := h.p
	t := &homeTable{Caption: "Pumps in the order of the ride, and the leg that leads to each", Columns: []homeColumn{
		{"Leg", 8, true, false}, {"To", 39, false, true}, {"at " + h.u.DistanceUnit(), 13, true, false}, {"The leg", 40, false, true}}}
	start := inCell(h.called("start"), coordinates(p.Roll[0].Point))
	if v := p.Legs[0].FromVisit; v >= 0 {
		start = h.pump(p.Visits[v])
	}
	t.Rows = append(t.Rows, []homeCell{inCell("–"), start, inCell(h.along(p.Legs[0].FromAt)), inCell("the ride sets out here")})
	var doubtful []string
	for i, l := range p.Legs {
		to := inCell(h.called("end")+", no pump", coordinates(p.Line.At(l.ToAt)))
		if l.ToVisit >= 0 {
			to = h.pump(p.Visits[l.ToVisit])
		}
		doubts := h.doubts(i)
		if doubts.Strong {
			doubtful = append(doubtful, strconv.Itoa(i+1))
		}
		t.Rows = append(t.Rows, []homeCell{inCell(strconv.Itoa(i + 1)), to, inCell(h.along(l.ToAt)), doubts})
	}
	first := "No leg is doubtful: all are OK within the margin on these figures, and no pump is the last sure one."
	if len(doubtful) > 0 {
		first = "Look first at the doubtful legs, with where the rider would have turned back (trip: what the trip meter shows, zeroed at the pump before): " + strings.Join(doubtful, ", ") + "."
	}
	return homeSection{Head: "Where there is petrol", Text: []string{first}, Table: t}
}

// pump names a pump with what is known of it.
func (h home) pump(v plan.Visit) homeCell {
	name, where := h.name(v.Stop.Name), coordinates(v.Stop.At)
	if v.LastFuel {
		name += ", last sure fuel"
	}
	if v.Stop.Phone != "" {
		where += ", phone " + v.Stop.Phone
	}
	return inCell(name, where)
}

// doubts says of a leg whether it is OK, and else why it is doubtful and where the rider
// would have turned back.
func (h home) doubts(i int) homeCell {
	l := h.p.Legs[i]
	var out []string
	for _, v := range h.verdict(i) {
		out = append(out, v.text)
	}
	if l.ToVisit >= 0 {
		if dry := h.p.Visits[l.ToVisit].IfDry; dry != nil && dry.Outcome == plan.Stranded {
			out = append(out, h.ifDry(*dry, h.without(i)).text)
		}
	}
	if l.FromVisit >= 0 && h.p.Visits[l.FromVisit].LastFuel {
		out = append(out, "after the last sure fuel")
	}
	if len(out) == 0 {
		return inCell(string(l.Verdict))
	}
	if l.Verdict == plan.OK {
		out[0] = "OK, but " + out[0]
	}
	return homeCell{Lines: []string{strings.Join(append(out, h.turnBack(l)), "; ")}, Strong: true}
}

func (h home) turnBack(l plan.Leg) string {
	switch d := h.u.DistanceUnit(); {
	case l.TurnBackBy <= 0:
		return "no turning back with the reserve whole"
	case l.TurnBackBy >= l.Trip(h.p.Bike):
		return "turn back anywhere"
	default:
		return fmt.Sprintf("turn back by trip %s %s: %s", h.down(l.TurnBackBy), d, coordinates(h.p.Line.At(l.TurnBackByAt)))
	}
}

func (h home) carries() homeSection {
	p := h.p
	text := []string{fmt.Sprintf("Petrol: a tank of %s usable, filled at each pump. %s.", h.u.Held(p.Bike.Usable()), canToCarry(p))}
	return homeSection{Head: "What the rider carries", Text: text, Fields: fields(h.contacts, "carries", "note")}
}

func (h home) cautions() homeSection {
	return homeSection{Head: "How far to trust this", Text: []string{
		fmt.Sprintf("These are estimates, no promise: they hold within the rider's margin on these figures. A pump may be dry, shut or gone, and a ride is often a day late without harm: agree on the hours above before it begins. Distances without the word trip are along the line of the GPX file; coordinates are latitude, longitude (WGS 84). Planned for %s.", planDay(h.p)),
		"For the rider: carry water. Fill a can on the ground, engine off, to its mark and no further; carry it upright and closed, as local law and ferries allow. The maker's manual decides on the grade.",
	}}
}

// planDay gives the day that a plan is counted from.
func planDay(p *plan.Plan) string {
	if p.Options.Today.IsZero() {
		return "a day not said"
	}
	return p.Options.Today.Format("2 January 2006")
}
