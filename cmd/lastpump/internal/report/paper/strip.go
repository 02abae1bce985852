package paper

import (
	"cmp"
	"io"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cue"
)

// WriteStrip writes the strip for the tank bag as PDF: what there is to do on the way, by
// the trip meter, black on white; of a group for the first bike. The same plan gives the
// same bytes.
func WriteStrip(w io.Writer, p *plan.Plan, u units.System, format Format) error {
	return WriteStripOf(w, p, 0, u, format)
}

// WriteStripOf is [WriteStrip] for one bike of a group, by its number from 0.
func WriteStripOf(w io.Writer, p *plan.Plan, bike int, u units.System, format Format) error {
	group := p
	if p.Group != nil {
		p = p.Group.Bikes[bike]
	}
	size := format.size()
	doc, err := newPDF(p, size.width, cmp.Or(size.height, rollMost), trail.Of(words.Of(p, u)).StripTitle())
	if err != nil {
		return err
	}
	say := trail.Of(words.Voice{Plan: p, Units: u, Name: doc.names(p)})
	s := &strip{pdf: doc, size: size, say: say, number: bike + 1, answer: words.Of(group, u).Answer()[0], of: 1}
	if g := group.Group; g != nil {
		s.of = len(g.Bikes)
	}
	s.layPages(s.blocks())
	return s.Output(w)
}

// A strip is one in the making.
type strip struct {
	*pdf
	size       stripSize
	say        trail.Voice
	answer     string // of the group, where there is one
	number, of int    // which bike it is for, from 1
	begun      bool   // the head of a day stands last
}

func (s *strip) blocks() []block {
	out := []block{s.head()}
	for _, step := range s.say.Steps() {
		out = append(out, s.step(step))
	}
	return append(out, s.foot())
}

// head says which ride this is, on which bike, and what to carry.
func (s *strip) head() block {
	p, z := s.say.Plan, s.size
	var b block
	add := func(f face, text string) { b.rows = append(b.rows, s.lines(text, f, z.margin, s.size.room())...) }
	add(z.place, cmp.Or(s.say.Name(p.Name), "The loop"))
	whose := z.text
	if s.of > 1 {
		whose = z.strong
	}
	add(whose, s.say.StripBike(s.number, s.of))
	add(z.strong, s.say.StripRest())
	b.rows = append(b.rows, space(4))
	add(z.strong, s.answer)
	if s.of > 1 {
		add(z.strong, s.say.StripOwn())
	}
	if p.Here != nil {
		add(z.text, s.say.FromHereOnPaper())
		if s.say.CanNotSaid() {
			add(z.text, trail.CanTakenForEmpty)
		}
	}
	b.rows = append(b.rows, space(4))
	add(z.strong, s.say.CanToCarry())
	add(z.text, s.say.StripFigures())
	return b
}

// step sets what stands at one place: the head of a day, the night, or what there is to do.
func (s *strip) step(step trail.Step) block {
	switch {
	case step.Day >= 0:
		return s.dayHead(s.say.DayHead(step))
	case step.Night >= 0:
		return s.cue(s.say.NightOnStrip(step.Night))
	case step.Cue.Kind == cue.Part:
		return s.part(step.Cue, s.say.Cue(step.Cue))
	}
	return s.cue(s.say.Cue(step.Cue))
}

// dayHead sets the head of a day.
func (s *strip) dayHead(t trail.DayHead) block {
	z := s.size
	b := block{joined: true, day: true, rows: []row{rule(z.margin, z.room(), 6, 4, 2)}}
	f := z.place
	for f.size > z.text.size && s.width(t.Day, f) > z.room() {
		f.size--
	}
	b.rows = append(b.rows, s.lines(t.Day, f, z.margin, z.room())...)
	if t.Part != "" {
		b.rows = append(b.rows, s.lines(t.Part, z.strong, z.margin, z.room())...)
	}
	for _, d := range t.Told {
		b.rows = s.add(b.rows, d, z.margin, z.room())
	}
	b.rows = append(b.rows, rule(z.margin, z.room(), 0.8, 3, 2))
	s.begun = true
	return b
}

// cue sets what there is to do at one place.
func (s *strip) cue(t trail.CueText) block {
	x, wide := s.size.margin, s.size.room()
	top := rule(x, wide, 2.5, 4, 2)
	if s.begun { // the head of a day has one
		top = space(2)
	}
	s.begun = false
	b := block{head: append([]row{top}, s.figure(t)...)}
	for _, d := range t.Do {
		b.rows = s.add(b.rows, d, x, wide)
	}
	b.joint = len(b.rows)
	if len(t.Ahead) > 0 {
		b.rows = append(b.rows, rule(x, wide, 0.8, 3, 2))
	}
	for _, d := range t.Ahead {
		b.rows = s.add(b.rows, d, x, wide)
	}
	return b
}

// figure sets the trip-meter figure at the left and the place right of it, on the base of
// the figure; a place that has no room there in one line stands under it.
func (s *strip) figure(t trail.CueText) []row {
	z := s.size
	figure := cell{x: z.margin, width: s.width(t.Figure, z.figure) + 1, texts: []string{t.Figure}, face: z.figure}
	x := z.margin + figure.width + 7
	f := s.smaller(t.Place, z.room())
	place := cell{x: x, width: z.margin + z.room() - x, texts: []string{t.Place}, face: f}
	if len(s.wrap(t.Place, f, place.width)) > 1 {
		return append([]row{s.beside(figure)}, s.lines(t.Place, f, z.margin, z.room())...)
	}
	r := s.beside(figure, place)
	if len(r.texts) == 2 {
		r.texts[1].y = r.texts[0].y
	}
	return []row{r}
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

// part sets the beginning of a part of the file: often a day, where none are known by the clock.
func (s *strip) part(c cue.Cue, t trail.CueText) block {
	z := s.size
	b := block{joined: true, day: len(s.say.Plan.Days) == 0, rows: []row{rule(z.margin, z.room(), 6, 4, 2)}}
	text := t.Place
	if c.Trip > 0 {
		text = t.Figure + ": " + text
	}
	b.rows = append(b.rows, s.lines(text, s.smaller(text, z.room()), z.margin, z.room())...)
	s.begun = true
	return b
}

// add sets a sentence under rows, or behind what stands last of them where it may and there
// is room.
func (s *strip) add(rows []row, d trail.Sentence, x, wide float64) []row {
	if d.How == trail.Framed {
		return append(rows, s.framed(d.Text, s.size.strong, x, wide))
	}
	f := s.faceOf(d.How)
	if n := len(rows); d.Behind && n > 0 && len(rows[n-1].texts) > 0 && len(rows[n-1].bars) == 0 {
		const gap = 7
		r := &rows[n-1]
		last := r.texts[len(r.texts)-1]
		behind := last.x + s.width(last.text, last.face) + gap
		if all := s.wrap(d.Text, f, wide); len(all) == 1 && behind+s.width(all[0], f) <= x+wide {
			r.texts = append(r.texts, placed{behind, last.y, all[0], f})
			return rows
		}
	}
	return append(rows, s.lines(d.Text, f, x, wide)...)
}

func (s *strip) faceOf(how trail.Emphasis) face {
	switch how {
	case trail.Strong:
		return s.size.strong
	case trail.Action:
		return s.size.action
	case trail.Firm:
		return face{s.size.text.size, true}
	}
	return s.size.text
}

// foot says what no strip replaces, and what its signs mean.
func (s *strip) foot() block {
	z := s.size
	texts := slices.Clone(trail.StripFoot)
	if s.say.Plan.Ways != nil || len(s.say.Plan.Bail) > 0 {
		texts = append(texts, words.RoadsOf)
	}
	if s.letters.missing {
		texts = append(texts, missingNote)
	}
	b := block{rows: []row{rule(z.margin, s.size.room(), 2.5, 5, 3)}}
	for _, t := range texts {
		b.rows = append(b.rows, s.lines(t, z.text, z.margin, s.size.room())...)
	}
	return b
}

// missingNote says what became of letters that the faces do not have.
const missingNote = string(substitute) + " stands for a letter of a name that could not be printed; a pump " +
	"with such a name has its coordinates. A column alias in the list of stops gives it a name in other letters."
