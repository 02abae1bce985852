package report

import (
	"fmt"
	"io"

	"lastpump/fuel/plan"
)

// The faces of the sheet left at home, on A4 (ISO 216) with margins.
var (
	homeTitle = face{16, true}
	homeHead  = face{12, true}
	homeText  = face{10.5, false}
	homeFirm  = face{10.5, true}
	homeSmall = face{10, false}
	homeDoubt = face{10, true}
)

const (
	homeWide   = 210 * mm
	homeHigh   = 297 * mm
	homeMargin = 15 * mm
	homeRoom   = homeWide - 2*homeMargin
	homeLabel  = 98 // from a label to what is said, or filled in
	homeGap    = 14 // between two fields beside each other
)

// WriteHomePDF writes the sheet left at home as PDF on A4. The same plan and contacts
// give the same bytes.
func WriteHomePDF(w io.Writer, p *plan.Plan, contacts []Contact) error {
	name := p.Name
	if name == "" {
		name = "the ride"
	}
	sheet, err := newPaper(p, homeWide, homeHigh, "Left at home: "+name)
	if err != nil {
		return err
	}
	h := newHomeSheet(p, contacts, sheet.names(p))
	blocks := []block{{joined: true, rows: append(sheet.lines(h.Title, homeTitle, homeMargin, homeRoom),
		sheet.lines(h.Lead, homeText, homeMargin, homeRoom)...)}}
	for _, s := range h.Sections {
		blocks = append(blocks, sheet.homeSection(s)...)
	}
	if sheet.letters.missing {
		blocks = append(blocks, block{rows: sheet.lines(missingNote, homeText, homeMargin, homeRoom)})
	}
	foot := homeSmall.line() + 4
	all := pages(blocks, homeHigh-2*homeMargin-foot)
	for i, rows := range all {
		sheet.pdf.AddPageFormat("P", pageSize(homeWide, homeHigh))
		sheet.draw(rows, homeMargin)
		sheet.draw([]row{sheet.beside(cell{homeMargin, homeRoom, []string{fmt.Sprintf("%d of %d", i+1, len(all))}, homeSmall, true})},
			homeHigh-homeMargin-homeSmall.line())
	}
	return sheet.output(w)
}

// homeSection lays one section: its head stays with what follows.
func (w *paper) homeSection(s homeSection) []block {
	head := append([]row{space(9)}, w.lines(s.Head, homeHead, homeMargin, homeRoom)...)
	head = append(head, rule(homeMargin, homeRoom, 0.8, 1, 3))
	out := []block{{rows: head, joined: true}}
	for _, t := range s.Text {
		out = append(out, block{rows: append(w.lines(t, homeText, homeMargin, homeRoom), space(3))})
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

// fields sets what is said under one label or two beside each other, or lines to write on.
func (w *paper) fields(fs []homeField) row {
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
	r.height += 6 // room for a hand
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
func (w *paper) table(t homeTable) block {
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
			r.height = homeSmall.line() + 6 // all of it is to be filled in by hand
		}
		r.height += 4
		r.bars = []bar{{homeMargin, r.height - 2, homeRoom, 0.5}}
		return r
	}
	b.head = append(b.head, space(2), set(func(i int) homeCell { return inCell(t.Columns[i].Head) }))
	for _, cells := range t.Rows {
		b.rows = append(b.rows, set(func(i int) homeCell { return cells[i] }))
	}
	return b
}
