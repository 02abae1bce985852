package paper

import (
	"fmt"
	"slices"
)

// layPages draws the blocks of a strip on as many pages as they take. Where the days are known by
// the clock each begins a card, so that it can be ridden with its own alone.
func (s *strip) layPages(blocks []block) {
	if s.size.height == 0 {
		s.layRoll(blocks)
		return
	}
	z := s.size
	pieces := [][]block{blocks}
	if len(s.say.Plan.Days) > 0 {
		pieces = days(blocks)
	}
	var cards [][][]row
	for _, day := range pieces {
		columns := columns(day, z.height-2*z.margin-s.numberHeight(), z.columns)
		cards = slices.AppendSeq(cards, slices.Chunk(columns, z.columns))
	}
	for i, card := range cards {
		left, top := s.card(i)
		for k, rows := range card {
			s.draw(shifted(rows, left+float64(k)*(z.room()+columnGap)), top+z.margin)
			if k > 0 {
				middle := z.margin + float64(k)*(z.room()+columnGap) - columnGap/2
				s.draw([]row{{bars: []bar{{middle, 0, 0.5, z.height - 2*z.margin - s.numberHeight()}}}}, top+z.margin)
			}
		}
		s.draw(shifted(s.pageNumber(i+1, len(cards)), left), top+z.height-z.margin-z.text.line())
	}
}

// numberHeight is the room for the number of a page, with what keeps it apart.
func (s *strip) numberHeight() float64 { return s.size.text.line() + 4 }

// card begins a card, on a page of its own or as one of four on a sheet, and gives its
// upper left corner. The sheet is cut along its middle lines, which leave the edges free:
// few printers reach them.
func (s *strip) card(i int) (left, top float64) {
	z := s.size
	if !z.sheet {
		s.page(z.width, z.height)
		return 0, 0
	}
	const free = 5 * mm
	if i%4 == 0 {
		s.page(2*z.width, 2*z.height)
		s.draw([]row{{bars: []bar{{free, z.height - 0.25, 2*z.width - 2*free, 0.5},
			{z.width - 0.25, free, 0.5, 2*z.height - 2*free}}}}, 0)
	}
	return float64(i%2) * z.width, float64(i/2%2) * z.height
}

// layRoll draws a roll: in one piece, or cut where days begin. Where no days are known, and
// where one is longer than a piece may be, it is cut between two places.
func (s *strip) layRoll(blocks []block) {
	z, total := s.size, 0.0
	for _, b := range blocks {
		total += b.together()
	}
	pieces := [][]row{slices.Concat(pages(blocks, total+1)...)}
	if total+2*z.margin > rollMost {
		pieces = nil
		for _, day := range days(blocks) {
			pieces = append(pieces, pages(day, rollMost-2*z.margin-s.numberHeight())...)
		}
	}
	for i, rows := range pieces {
		long := height(rows) + 2*z.margin
		if len(pieces) > 1 {
			long += s.numberHeight()
		}
		s.page(z.width, long)
		s.draw(rows, z.margin)
		if len(pieces) > 1 {
			s.draw(s.pageNumber(i+1, len(pieces)), long-z.margin-z.text.line())
		}
	}
}

// days parts the blocks of a strip where days begin, but for the first, which begins with
// what stands before it. A day is one of the clock, or else a part of the file.
func days(blocks []block) (out [][]block) {
	from, any := 0, false
	for i, b := range blocks {
		if b.day && any {
			out, from = append(out, blocks[from:i]), i
		}
		any = any || b.day
	}
	return append(out, blocks[from:])
}

// pageNumber says which of the pages this is, so that none is left at home.
func (s *strip) pageNumber(i, n int) []row {
	f := face{s.size.text.size, true}
	whole := s.size.width - 2*s.size.margin
	return []row{s.beside(cell{x: s.size.margin, width: whole, texts: []string{fmt.Sprintf("%d of %d", i, n)},
		face: f, right: true})}
}

// shifted gives rows further to the right.
func shifted(rows []row, by float64) []row {
	if by == 0 {
		return rows
	}
	out := make([]row, len(rows))
	for i, r := range rows {
		out[i] = row{height: r.height, texts: slices.Clone(r.texts), bars: slices.Clone(r.bars)}
		for k := range r.texts {
			out[i].texts[k].x += by
		}
		for k := range r.bars {
			out[i].bars[k].x += by
		}
	}
	return out
}
