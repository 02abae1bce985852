package report

import (
	"fmt"
	"io"
	"strings"

	"lastpump/fuel/plan"
	"lastpump/route"
)

// A StripPaper is what the roll for the tank bag is printed on.
type StripPaper string

// The papers. The width of a roll is that of the paper of adding machines, which holders
// of route sheets take (common practice, no source); A5 and A6 are ISO 216.
const (
	StripRoll StripPaper = "57mm" // one strip, as long as it needs
	StripA6   StripPaper = "a6"   // cards
	StripA5   StripPaper = "a5"
)

// ParseStripPaper reads the name of a paper; "" is the roll. The error is a
// [*route.ValueError].
func ParseStripPaper(s string) (StripPaper, error) {
	switch p := StripPaper(strings.ToLower(s)); p {
	case "":
		return StripRoll, nil
	case StripRoll, StripA6, StripA5:
		return p, nil
	}
	return "", route.BadValue(s, "is no paper for a strip", "write 57mm for a roll, or a6 or a5 for cards")
}

// A stripSize is how a paper is set, in points.
type stripSize struct {
	width, height               float64 // of a page; height 0: as long as it needs
	margin                      float64
	figure, place, strong, text face
	column                      float64 // the words stand right of the figure, so far from it; 0: under it
}

// longest is the greatest height of a page in points: ISO 32000-1, annex C.2, table C.1.
const longest = 14400

func (s StripPaper) size() stripSize {
	bold := func(size float64) face { return face{size, true} }
	switch s {
	case StripA6:
		return stripSize{105 * mm, 148 * mm, 6 * mm, bold(32), bold(17), bold(14), face{13, false}, 82}
	case StripA5:
		return stripSize{148 * mm, 210 * mm, 9 * mm, bold(42), bold(22), bold(18), face{16, false}, 108}
	}
	return stripSize{57 * mm, 0, 3 * mm, bold(30), bold(15), bold(13), face{12, false}, 0}
}

// WriteStrip writes the roll for the tank bag as PDF: what there is to do on the way, by
// the trip meter, black on white. The same plan gives the same bytes.
func WriteStrip(w io.Writer, p *plan.Plan, paper StripPaper) error {
	size := paper.size()
	first := size.height
	if first == 0 {
		first = longest
	}
	sheet, err := newPaper(p, size.width, first, stripTitle(p))
	if err != nil {
		return err
	}
	s := &strip{paper: sheet, size: size, t: newTeller(p, sheet.names(p))}
	s.layPages(s.blocks())
	return sheet.output(w)
}

func stripTitle(p *plan.Plan) string {
	if p.Name == "" {
		return "Fuel strip"
	}
	return p.Name + ": fuel strip"
}

// A strip is a roll in the making.
type strip struct {
	*paper
	size stripSize
	t    teller
}

// room is the width between the margins.
func (s *strip) room() float64 { return s.size.width - 2*s.size.margin }

func (s *strip) blocks() []block {
	out := []block{s.head()}
	for _, c := range s.t.p.Roll {
		out = append(out, s.cue(c))
	}
	return append(out, s.foot())
}

// layPages draws blocks on as many pages as they take.
func (s *strip) layPages(blocks []block) {
	z := s.size
	number := s.size.text.line() + z.margin/2
	high := z.height
	if high == 0 {
		high = longest
	}
	all := pages(blocks, high-2*z.margin-number)
	for i, rows := range all {
		page := z.height
		if page == 0 {
			page = height(rows) + 2*z.margin
			if len(all) > 1 {
				page += number
			}
		}
		s.pdf.AddPageFormat("P", pageSize(z.width, page))
		s.draw(rows, z.margin)
		if z.height > 0 || len(all) > 1 {
			s.draw(s.pageNumber(i+1, len(all)), page-z.margin-z.text.line())
		}
	}
}

// pageNumber says which of the pages this is, so that none is left at home.
func (s *strip) pageNumber(i, n int) []row {
	f := face{s.size.text.size, true}
	return []row{s.beside(cell{x: s.size.margin, width: s.room(), texts: []string{fmt.Sprintf("%d of %d", i, n)}, face: f, right: true})}
}

// head says which ride this is, on which bike, and what to carry.
func (s *strip) head() block {
	p, z := s.t.p, s.size
	name := s.t.name(p.Name)
	if name == "" {
		name = "The loop"
	}
	var b block
	add := func(f face, text string) { b.rows = append(b.rows, s.lines(text, f, z.margin, s.room())...) }
	add(z.place, name)
	add(z.text, s.bike())
	add(z.strong, s.whereabouts())
	b.rows = append(b.rows, space(4))
	add(z.strong, p.Answer[0])
	if p.Here != nil {
		add(z.text, p.Here.Answer)
	}
	b.rows = append(b.rows, space(4))
	add(z.strong, canToCarry(p))
	start := "Zero the trip at the start"
	if p.Legs[0].Start >= p.Bike.Usable()-hair {
		start = "FULL at the start, zero the trip there"
	}
	add(z.text, fmt.Sprintf("Figures: %s on the trip meter, as the bike shows them. %s and at each fill.", long(s.t.u.DistanceUnit()), start))
	return b
}

// bike names the bike that the figures are for.
func (s *strip) bike() string {
	p := s.t.p
	name := s.t.name(p.Bike.Name)
	if name == "" {
		name = "bike as given"
	}
	if p.Group != nil {
		return fmt.Sprintf("for %s, the first of %d bikes; the others have their own figures", name, len(p.Group.Bikes))
	}
	return name
}

// whereabouts says from where on this is the rest of a ride; "" for all of it.
func (s *strip) whereabouts() string {
	h := s.t.p.Here
	if !h.OnTheWay() {
		return ""
	}
	where := fmt.Sprintf("the rest from %s %s", s.t.u.DistanceUnit(), s.t.near(h.At))
	if h.Stop != "" {
		where += ", " + s.t.name(h.Stop)
	}
	return where
}

// long names a unit of distance for those who read it in the rain.
func long(unit string) string {
	if unit == "km" {
		return "KM"
	}
	return "MILES"
}

// canToCarry says what can to take along, as if the bike had none.
func canToCarry(p *plan.Plan) string {
	c, u := p.Can, p.Options.Units
	size := func(s plan.CanSize, l string) string {
		switch {
		case s.TooBig:
			return "none sold is enough, it takes " + l
		case s.Litres <= 0:
			return "none"
		}
		return u.Can(s.Litres)
	}
	forPlan, forDry := size(c.SizeForPlan, u.Needed(c.ForPlan)), size(c.SizeForDry, u.Needed(c.ForAnyDryPump))
	s := "CAN: " + forPlan
	if forDry != forPlan {
		s += "; in case a pump is dry: " + forDry
	}
	if own := p.Bike.Can; own > 0 {
		s += "; yours: " + u.Can(own)
	}
	return s
}

// cue sets what there is to do at one place.
func (s *strip) cue(c plan.Cue) block {
	t := s.t.cue(c)
	if c.Kind == plan.CuePart {
		return s.part(c, t)
	}
	z := s.size
	x, wide := z.margin, s.room()
	if z.column > 0 {
		x, wide = x+z.column, wide-z.column
	}
	b := block{head: []row{rule(z.margin, s.room(), 2.5, 5, 3), s.figure(t, z.column > 0)}}
	for _, d := range t.do {
		b.rows = append(b.rows, s.said(d, x, wide)...)
	}
	if len(t.ahead) > 0 {
		b.rows = append(b.rows, rule(x, wide, 0.8, 3, 3))
	}
	for _, d := range t.ahead {
		b.rows = append(b.rows, s.said(d, x, wide)...)
	}
	return b
}

// figure sets the trip-meter figure at the left and the place right of it. Where the
// words stand right of it too, the first of them begins beside it.
func (s *strip) figure(t cueText, wordsBeside bool) row {
	z := s.size
	figure := cell{x: z.margin, width: s.width(t.figure, z.figure) + 1, texts: []string{t.figure}, face: z.figure}
	x := z.margin + max(z.column, figure.width+7)
	place := cell{x: x, width: z.margin + s.room() - x, texts: []string{t.place}, face: s.smaller(t.place, z.margin+s.room()-x)}
	r := s.beside(figure, place)
	switch high := float64(len(r.texts)-1) * place.face.line(); {
	case wordsBeside && figure.width+7 <= z.column:
		r.height = max(high, z.figure.line()-z.text.line())
		raise := (z.figure.size - place.face.size) * (ascent - capital)
		for i := range r.texts[1:] {
			r.texts[i+1].y += raise
		}
		r.height += raise
	case len(r.texts) == 2: // one line stands on the base of the figure
		r.texts[1].y = r.texts[0].y
	}
	return r
}

// smaller gives the face of a name whose longest word would have to be broken: as much
// smaller as keeps it whole, down to that of the text.
func (s *strip) smaller(name string, width float64) face {
	f := s.size.place
	for _, word := range strings.Fields(name) {
		for f.size > s.size.text.size && s.width(word, f) > width {
			f.size = max(f.size-1, s.size.text.size)
		}
	}
	return f
}

// part sets the beginning of a part of the file: often a day.
func (s *strip) part(c plan.Cue, t cueText) block {
	z := s.size
	b := block{joined: true, rows: []row{rule(z.margin, s.room(), 7, 7, 2)}}
	if c.Trip > 0 {
		b.rows = append(b.rows, s.figure(t, false))
	} else {
		b.rows = append(b.rows, s.lines(t.place, z.place, z.margin, s.room())...)
	}
	return b
}

func (s *strip) said(d said, x, wide float64) []row {
	f := s.size.text
	switch d.how {
	case framed:
		return []row{s.framed(d.text, s.size.strong, x, wide)}
	case strong:
		f = s.size.strong
	case firm:
		f.bold = true
	}
	return s.lines(d.text, f, x, wide)
}

// foot says what no strip replaces, and what its signs mean.
func (s *strip) foot() block {
	z := s.size
	texts := []string{
		"Estimates, no promise: they hold within your margin on these figures. A pump may be dry, shut or gone: ask at the pump before it.",
		"Carry water.",
		"In brackets: low to high figure. More goes in: it drinks more than planned. Dry at: by the high figure, by the likely one.",
		"? is not known: ask at the pump.",
	}
	if s.letters.missing {
		texts = append(texts, missingNote)
	}
	b := block{rows: []row{rule(z.margin, s.room(), 2.5, 5, 3)}}
	for _, t := range texts {
		b.rows = append(b.rows, s.lines(t, z.text, z.margin, s.room())...)
	}
	return b
}

// missingNote says what became of letters that the faces do not have.
const missingNote = string(substitute) + " stands for a letter of a name that could not be printed; where it is a pump, its coordinates stand beside it."
