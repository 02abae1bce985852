package paper

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"

	"github.com/paulmach/orb"
)

// The faces of the sheet left at home, on A4 (ISO 216) with margins.
var (
	homeTitle = face{16, true}
	homeHead  = face{12, true}
	homeText  = face{9.5, false}
	homeFirm  = face{9.5, true}
	homeSmall = face{9, false}
	homeDoubt = face{9, true}
)

const (
	homeWide   = 210 * mm
	homeHigh   = 297 * mm
	homeMargin = 12 * mm
	homeRoom   = homeWide - 2*homeMargin
	homeLabel  = 96 // from a label to what is said, or filled in
	homeGap    = 12 // between two fields beside each other
)

// WriteHomePDF writes the sheet left at home as PDF on A4. The same plan and contacts
// give the same bytes.
func WriteHomePDF(w io.Writer, p *plan.Plan, u units.System, contacts []Contact) error {
	doc, err := newPDF(p, homeWide, homeHigh, "Left at home: "+cmp.Or(p.Name, "the ride"))
	if err != nil {
		return err
	}
	h := newHomeSheet(p, u, contacts, doc.names(p))
	blocks := []block{{joined: true, rows: append(doc.lines(h.Title, homeTitle, homeMargin, homeRoom),
		doc.lines(h.Lead, homeText, homeMargin, homeRoom)...)}}
	for _, s := range h.Sections {
		blocks = append(blocks, doc.homeSection(s)...)
	}
	if doc.letters.missing {
		blocks = append(blocks, block{rows: doc.lines(missingNote, homeText, homeMargin, homeRoom)})
	}
	foot := homeSmall.line() + 4
	all := pages(blocks, homeHigh-2*homeMargin-foot)
	for i, rows := range all {
		doc.page(homeWide, homeHigh)
		doc.draw(rows, homeMargin)
		number := cell{homeMargin, homeRoom, []string{fmt.Sprintf("%d of %d", i+1, len(all))}, homeSmall, true}
		doc.draw([]row{doc.beside(number)}, homeHigh-homeMargin-homeSmall.line())
	}
	return doc.Output(w)
}

// homeSection lays one section: its head stays with what follows.
func (w *pdf) homeSection(s homeSection) []block {
	head := append([]row{space(4)}, w.lines(s.Head, homeHead, homeMargin, homeRoom)...)
	head = append(head, rule(homeMargin, homeRoom, 0.8, 1, 3))
	out := []block{{rows: head, joined: true}}
	if s.Sketch != nil {
		out = append(out, block{rows: []row{w.textAndSketch(s.Text, *s.Sketch)}})
		s.Text = nil
	}
	for _, t := range s.Text {
		out = append(out, block{rows: append(w.lines(t, homeText, homeMargin, homeRoom), space(2))})
	}
	for fs := s.Fields; len(fs) > 0; {
		n := 1
		if len(fs) > 1 && !fs[0].Wide && !fs[1].Wide {
			n = 2
		}
		out = append(out, block{rows: []row{w.fields(fs[:n])}})
		fs = fs[n:]
	}
	if s.Table != nil {
		out = append(out, w.table(*s.Table))
	}
	return out
}

// textAndSketch sets text at the left and a sketch with its caption at the right.
func (w *pdf) textAndSketch(texts []string, s homeSketch) row {
	left := homeMargin + homeRoom - s.Wide
	r, captions := w.textAndCaptions(texts, s)
	for _, l := range s.Under {
		r.lines = append(r.lines, l.stroke(left))
	}
	for _, m := range s.Towns {
		r.lines = append(r.lines, m.frame(left))
	}
	for _, l := range s.Lines {
		thick := 0.9
		if l.Bold {
			thick = 2
		}
		points := make([]orb.Point, len(l.Points))
		for i, p := range l.Points {
			points[i] = orb.Point{left + p[0], p[1]}
		}
		r.lines = append(r.lines, line{points: points, width: thick, dashed: l.Gap})
	}
	for _, m := range s.Marks {
		r.dots = append(r.dots, dot{orb.Point{left + m.At[0], m.At[1]}, m.Radius, m.Open})
	}
	for _, n := range s.Names {
		r.texts = append(r.texts, placed{left + n.At[0], n.At[1], n.Text, homeSmall})
	}
	y := s.High
	for _, caption := range captions {
		r.texts = append(r.texts, placed{left, y + homeSmall.size*ascent, caption, homeSmall})
		y += homeSmall.line()
	}
	r.height = max(r.height, y)
	return r
}

// textAndCaptions sets the text beside a sketch and breaks its caption. What lies under it is told where that
// takes less room.
func (w *pdf) textAndCaptions(texts []string, s homeSketch) (row, []string) {
	beside := func(texts []string) row {
		return w.beside(cell{x: homeMargin, width: homeRoom - s.Wide - homeGap, texts: texts, face: homeText})
	}
	under := func(captions []string) float64 { return s.High + float64(len(captions))*homeSmall.line() }
	r, captions := beside(texts), w.wrap(s.Caption, homeSmall, s.Wide)
	if s.Told == "" {
		return r, captions
	}
	longer, more := beside(append(slices.Clone(texts), s.Told)), w.wrap(s.Caption+" "+s.Told, homeSmall, s.Wide)
	if max(r.height, under(more)) <= max(longer.height, under(captions)) {
		return r, more
	}
	return longer, captions
}

// fields sets what is said under one label or two beside each other, or lines to write on.
func (w *pdf) fields(fs []homeField) row {
	wide := float64(homeRoom)
	if !fs[0].Wide {
		wide = (homeRoom - homeGap) / 2
	}
	var cells []cell
	for i, f := range fs {
		x := homeMargin + float64(i)*(wide+homeGap)
		cells = append(cells, cell{x, homeLabel - 6, []string{f.Label}, homeText, false},
			cell{x + homeLabel, wide - homeLabel, f.Values, homeFirm, false})
	}
	r := w.beside(cells...)
	r.height += 5.5 // room for a hand
	for i := range r.texts {
		r.texts[i].y += 3
	}
	for i, f := range fs {
		if len(f.Values) == 0 {
			c := cells[2*i+1]
			r.bars = append(r.bars, bar{c.x, r.height - 3, c.width, 0.6})
		}
	}
	return r
}

// table sets a table; its heads come again on each page.
func (w *pdf) table(t homeTable) block {
	const gap = 8
	b := block{splits: true, head: w.lines(t.Caption, homeSmall, homeMargin, homeRoom)}
	set := func(texts func(i int) homeCell) row {
		cells := make([]cell, len(t.Columns))
		x := float64(homeMargin)
		for i, c := range t.Columns {
			wide := c.Share / 100 * homeRoom
			said := texts(i)
			f := homeSmall
			if said.Strong {
				f = homeDoubt
			}
			cells[i] = cell{x, wide - gap, said.Lines, f, c.Right}
			x += wide
		}
		r := w.beside(cells...)
		if r.height == 0 {
			r.height = homeSmall.line() + 5 // all of it is to be filled in by hand
		}
		r.height += 1.6
		r.bars = []bar{{homeMargin, r.height - 1.2, homeRoom, 0.5}}
		return r
	}
	b.head = append(b.head, space(2), set(func(i int) homeCell { return inCell(t.Columns[i].Head) }))
	for _, cells := range t.Rows {
		b.rows = append(b.rows, set(func(i int) homeCell { return cells[i] }))
	}
	return b
}
