package report

// A row is drawn as one: no page ends inside it. Places in it are counted from the left
// edge of the page and from its own top.
type row struct {
	height float64
	texts  []placed
	bars   []bar
}

// A placed text is one line of letters; y is its baseline.
type placed struct {
	x, y float64
	text string
	face face
}

// A bar is a filled black rectangle: a rule, or a side of a frame.
type bar struct{ x, y, width, height float64 }

// A block is rows that belong together: it stands on one page wherever it fits on one.
type block struct {
	rows   []row
	joined bool  // and with the block after it
	splits bool  // though it goes on over a page like a long list
	head   []row // comes again there
}

// together gives how much of a block has to stand on one page.
func (b block) together() float64 {
	if b.splits {
		return height(b.head) + height(b.rows[:min(2, len(b.rows))])
	}
	return height(b.head) + height(b.rows)
}

func height(rows []row) (h float64) {
	for _, r := range rows {
		h += r.height
	}
	return h
}

// pages lays blocks on pages of a height. A block that is higher than a page goes on
// on the next one, between two rows.
func pages(blocks []block, room float64) [][]row {
	p := pager{out: [][]row{nil}, room: room, left: room}
	for i := 0; i < len(blocks); {
		end := i + 1
		for end < len(blocks) && blocks[end-1].joined {
			end++
		}
		together := 0.0
		for _, b := range blocks[i:end] {
			together += b.together()
		}
		if together > p.left && together <= room {
			p.turn()
		}
		for _, b := range blocks[i:end] {
			p.block(b)
		}
		i = end
	}
	return p.out
}

// A pager fills pages from their tops.
type pager struct {
	out        [][]row
	room, left float64 // on a page, and on the last one
}

func (p *pager) turn() { p.out, p.left = append(p.out, nil), p.room }

func (p *pager) put(rows ...row) {
	last := len(p.out) - 1
	p.out[last] = append(p.out[last], rows...)
	p.left -= height(rows)
}

// tooHigh tells whether something has to go to a new page; it is not put off on an empty one.
func (p *pager) tooHigh(h float64) bool { return h > p.left+1e-6 && p.left < p.room }

func (p *pager) block(b block) {
	if high := b.together(); p.tooHigh(high) && (high <= p.room || p.left < p.room/2) {
		p.turn()
	}
	for k, r := range b.rows {
		begins, need := k == 0, r.height
		if begins {
			need += height(b.head)
		}
		if p.tooHigh(need) {
			p.turn()
			begins = true
		}
		if begins {
			p.put(b.head...)
		}
		p.put(r)
	}
}

// draw sets rows on the page that was begun last, from a height downwards.
func (w *paper) draw(rows []row, top float64) {
	w.pdf.SetFillColor(0, 0, 0)
	w.pdf.SetTextColor(0, 0, 0)
	for _, r := range rows {
		for _, b := range r.bars {
			w.pdf.Rect(b.x, top+b.y, b.width, b.height, "F")
		}
		for _, t := range r.texts {
			w.pdf.SetFont("face", t.face.style(), t.face.size)
			w.pdf.Text(t.x, top+t.y, t.text)
		}
		top += r.height
	}
}

// lines makes a row of each line of a text.
func (w *paper) lines(text string, f face, x, width float64) []row {
	var out []row
	for _, s := range w.wrap(text, f, width) {
		out = append(out, row{height: f.line(), texts: []placed{{x, f.size * ascent, s, f}}})
	}
	return out
}

// framed sets a text in a frame.
func (w *paper) framed(text string, f face, x, width float64) row {
	const edge, pad = 1.5, 3.0
	r := row{height: 2 * (edge + pad)}
	for _, s := range w.wrap(text, f, width-2*(edge+pad)) {
		r.texts = append(r.texts, placed{x + edge + pad, r.height - edge - pad + f.size*ascent, s, f})
		r.height += f.line()
	}
	r.bars = []bar{{x, 0, width, edge}, {x, r.height - edge, width, edge}, {x, 0, edge, r.height}, {x + width - edge, 0, edge, r.height}}
	r.height += pad // to what follows
	return r
}

// space is an empty row.
func space(h float64) row { return row{height: h} }

// rule is a bar with room above and below it.
func rule(x, width, thick, above, below float64) row {
	return row{height: above + thick + below, bars: []bar{{x, above, width, thick}}}
}

// beside puts texts next to each other into one row, each in lines of its own width.
func (w *paper) beside(cells ...cell) row {
	var r row
	for _, c := range cells {
		y := 0.0
		for _, text := range c.texts {
			for _, s := range w.wrap(text, c.face, c.width) {
				x := c.x
				if c.right {
					x += c.width - w.width(s, c.face)
				}
				r.texts = append(r.texts, placed{x, y + c.face.size*ascent, s, c.face})
				y += c.face.line()
			}
		}
		r.height = max(r.height, y)
	}
	return r
}

// A cell is texts under each other in a column.
type cell struct {
	x, width float64
	texts    []string
	face     face
	right    bool
}
