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
	After  []string // below the table
}

// A homeField is something said or to be filled in by hand: it has no values then.
type homeField struct {
	Label  string
	Values []string
}

// A homeTable has cells of several lines; an empty cell is to be filled in by hand.
type homeTable struct {
	Caption string
	Columns []homeColumn
	Rows    [][]homeCell
}

type homeColumn struct {
	Head  string
	Share float64 // of the width on paper
	Right bool    // numbers stand at the right
}

// A homeCell is lines; Strong is a doubt that has to be seen.
type homeCell struct {
	Lines  []string
	Strong bool
}

func said1(lines ...string) homeCell {
	c := homeCell{}
	for _, l := range lines {
		if l != "" {
			c.Lines = append(c.Lines, l)
		}
	}
	return c
}

// newHomeSheet says what is left at home; name gives a place as it is to be written.
func newHomeSheet(p *plan.Plan, contacts []Contact, name func(string) string) homeSheet {
	h := home{newTeller(p, name), contacts}
	return homeSheet{
		Title: "Left at home: " + h.loop(),
		Lead:  "Where the ride goes, where it finds petrol, and when to worry.",
		Sections: []homeSection{
			h.worry(), h.whatToDo(), h.who(), h.ride(), h.nights(), h.pumps(), h.doubts(), h.carries(), h.cautions(),
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
		"Worry: try the phone, then the pumps below that have one, the last first. Ask when the rider was there and which way he went on.",
		"Call: ring those named above. Give them this sheet and the GPX file of the loop. Say which pump was reached last: look first between it and the next one, and from the turn-back point back. Keep a phone free.",
		"If the rider turns up, tell everybody you have called.",
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
	where := "It begins at " + h.called("start")
	if p.Here.OnTheWay() {
		where = fmt.Sprintf("The rest of it: from %s at %s %s", h.called("start"), u.DistanceUnit(), h.along(p.Here.At))
	}
	text := []string{fmt.Sprintf("%s: %s, %s to ride. %s, %s.", h.loop(), kind, u.Distance(p.Loop.Ridden), where, coordinates(p.Roll[0].Point))}
	if p.Arranged != "" {
		text = append(text, "Ridden otherwise than in the file: "+p.Arranged+".")
	}
	for _, a := range p.Answer {
		text = append(text, a)
	}
	if p.Here != nil && p.Here.Answer != "" {
		text = append(text, p.Here.Answer)
	}
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
		{"Part", 0.34, false}, {d, 0.14, true}, {"Ends at", 0.17, false}, {"Last pump before", 0.20, false}, {"Date", 0.15, false}}}
	for i, part := range h.p.Line.Parts {
		if here := h.p.Here; here != nil && part.To <= here.At {
			continue
		}
		t.Rows = append(t.Rows, []homeCell{said1(h.part(i)), said1(h.along(part.From) + "–" + h.along(part.To)),
			said1(coordinates(h.p.Line.At(part.To))), said1(h.pumpBefore(part.To)...), {}})
	}
	return homeSection{Head: "Likely nights", Table: t}
}

// pumpBefore names the last counted pump that is passed up to a place along the line.
func (h home) pumpBefore(at route.Metres) []string {
	var out []string
	for _, v := range h.p.Visits {
		if v.Fill != nil && v.At <= at {
			out = []string{h.name(v.Stop.Name), h.u.DistanceUnit() + " " + h.along(v.At)}
		}
	}
	if out == nil {
		return []string{"none"}
	}
	return out
}

// pumps are the legs with the pump at the end of each.
func (h home) pumps() homeSection {
	p := h.p
	t := &homeTable{Caption: "Pumps in the order of the ride, and the leg that leads to each", Columns: []homeColumn{
		{"Leg", 0.07, true}, {"To", 0.35, false}, {"at " + h.u.DistanceUnit(), 0.11, true}, {"Coordinates", 0.20, false}, {"Leg holds?", 0.27, false}}}
	start := said1(h.called("start"))
	if v := p.Legs[0].FromVisit; v >= 0 {
		start = h.pump(p.Visits[v])
	}
	t.Rows = append(t.Rows, []homeCell{said1("start"), start, said1(h.along(p.Legs[0].FromAt)), said1(coordinates(p.Roll[0].Point)), said1("–")})
	for i, l := range p.Legs {
		to, at := said1(h.called("end"), "no pump"), p.Line.At(l.ToAt)
		if l.ToVisit >= 0 {
			to, at = h.pump(p.Visits[l.ToVisit]), p.Visits[l.ToVisit].Stop.At
		}
		t.Rows = append(t.Rows, []homeCell{said1(strconv.Itoa(i + 1)), to, said1(h.along(l.ToAt)), said1(coordinates(at)), h.holds(i)})
	}
	return homeSection{Head: "Where there is petrol", Table: t}
}

// pump names a pump with what is known of it.
func (h home) pump(v plan.Visit) homeCell {
	c := said1(h.name(v.Stop.Name))
	if v.Stop.Phone != "" {
		c.Lines = append(c.Lines, "phone "+v.Stop.Phone)
	}
	if v.LastFuel {
		c.Lines = append(c.Lines, "last sure fuel")
	}
	return c
}

// holds says of a leg whether it holds, and how it fails.
func (h home) holds(i int) homeCell {
	c := homeCell{Lines: []string{string(h.p.Legs[i].Verdict)}}
	for _, v := range h.verdict(i) {
		c = homeCell{Lines: []string{v.text}, Strong: true}
	}
	return c
}

// doubts are the legs that are not OK or begin at the last sure fuel, or at whose end a
// dry pump strands, with where one would have turned back.
func (h home) doubts() homeSection {
	t := &homeTable{Caption: "Legs to look at first, and where the rider would have turned back", Columns: []homeColumn{
		{"Leg", 0.07, true}, {"From, to", 0.27, false}, {"Why", 0.34, false}, {"Turn back by", 0.32, false}}}
	for i, l := range h.p.Legs {
		why := h.why(i)
		if len(why) == 0 {
			continue
		}
		from, to := h.p.Ends(i)
		t.Rows = append(t.Rows, []homeCell{said1(strconv.Itoa(i + 1)), said1(h.name(from) + " to " + h.name(to)), said1(why...), said1(h.turnBack(l)...)})
	}
	if len(t.Rows) == 0 {
		return homeSection{Head: "The doubtful legs", Text: []string{"None: every leg is OK within the margin on these figures, and no pump is the last sure one."}}
	}
	return homeSection{Head: "The doubtful legs", Table: t,
		After: []string{"Trip is what the trip meter shows, zeroed at the pump before; the coordinates are of that place."}}
}

// why says why a leg is doubtful; nothing where it is not.
func (h home) why(i int) []string {
	l := h.p.Legs[i]
	var out []string
	for _, v := range h.verdict(i) {
		out = append(out, v.text)
	}
	if l.FromVisit >= 0 && h.p.Visits[l.FromVisit].LastFuel {
		out = append(out, "begins at the last sure fuel")
	}
	if l.ToVisit >= 0 {
		if dry := h.p.Visits[l.ToVisit].IfDry; dry != nil && dry.Outcome == plan.Stranded {
			out = append(out, h.ifDry(*dry, h.without(i)).text)
		}
	}
	return out
}

func (h home) turnBack(l plan.Leg) []string {
	switch d := h.u.DistanceUnit(); {
	case l.TurnBackBy <= 0:
		return []string{"nowhere with the reserve whole"}
	case l.TurnBackBy >= l.Trip(h.p.Bike):
		return []string{"anywhere: the way back is within reach from the end, too"}
	default:
		return []string{fmt.Sprintf("trip %s %s", h.down(l.TurnBackBy), d), coordinates(h.p.Line.At(l.TurnBackByAt))}
	}
}

func (h home) carries() homeSection {
	p := h.p
	text := []string{fmt.Sprintf("Petrol: a tank of %s usable, filled at each pump.", h.u.Held(p.Bike.Usable())), canToCarry(p) + "."}
	return homeSection{Head: "What the rider carries", Text: text, Fields: fields(h.contacts, "carries", "note")}
}

func (h home) cautions() homeSection {
	return homeSection{Head: "How far to trust this", Text: []string{
		"These are estimates, no promise: they hold within the rider's margin on these figures. A pump may be dry, shut or gone, and a ride is often a day late without harm: agree on the hours above before it begins.",
		fmt.Sprintf("Kilometres and miles are along the line of the GPX file; coordinates are latitude, longitude (WGS 84). Made for %s.", planDay(h.p)),
	}}
}

// planDay gives the day that a plan is counted from.
func planDay(p *plan.Plan) string {
	if p.Options.Today.IsZero() {
		return "a day not said"
	}
	return p.Options.Today.Format("2 January 2006")
}
