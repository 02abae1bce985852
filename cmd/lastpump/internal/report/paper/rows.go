package paper

import "github.com/paulmach/orb"

// A row is drawn as one: no page ends inside it. Places in it are counted from the left
// edge of the page and from its own top.
type row struct {
	height float64
	texts  []placed
	bars   []bar
	lines  []line
	dots   []dot
}

// A line is drawn from point to point; dashed over what is not known.
type line struct {
	points []orb.Point
	width  float64
	dashed bool
	dash   []float64 // another pattern: dash, gap and so on; nil for none
}

// A dot is a circle around a place, filled or open.
type dot struct {
	at     orb.Point
	radius float64
	open   bool
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
	day    bool  // begins with it
	joint  int   // so many rows may stand in one column of a card and the rest in the next; 0: none
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
func pages(blocks []block, room float64) [][]row { return columns(blocks, room, 1) }

// columns lays blocks in columns of a height, of which so many are a page. A block with a
// joint may go on in the next column of its page.
func columns(blocks []block, room float64, each int) [][]row {
	p := pager{out: [][]row{nil}, room: room, left: room, each: each}
	for i := 0; i < len(blocks); {
		end := i + 1
		for end < len(blocks) && blocks[end-1].joined {
			end++
		}
		together := 0.0
		for _, b := range blocks[i:end] {
			together += p.need(b)
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
	each       int     // columns of a page
}

// need gives how much of a block has to stand in the column at hand.
func (p *pager) need(b block) float64 {
	if b.joint > 0 && len(p.out)%p.each != 0 {
		return height(b.head) + height(b.rows[:b.joint])
	}
	return b.together()
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
	if p.tooHigh(b.together()) && b.joint > 0 && len(p.out)%p.each != 0 && !p.tooHigh(p.need(b)) {
		p.put(b.head...)
		p.put(b.rows[:b.joint]...)
		p.turn()
		b.head, b.rows = nil, b.rows[b.joint:]
	}
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
func (w *pdf) draw(rows []row, top float64) {
	w.SetFillColor(0, 0, 0)
	w.SetTextColor(0, 0, 0)
	for _, r := range rows {
		for _, b := range r.bars {
			w.Rect(b.x, top+b.y, b.width, b.height, "F")
		}
		w.drawing(r, top)
		for _, t := range r.texts {
			w.SetFont("face", t.face.style(), t.face.size)
			w.Text(t.x, top+t.y, t.text)
		}
		top += r.height
	}
}

// drawing draws the lines and dots of a row.
func (w *pdf) drawing(r row, top float64) {
	for _, l := range r.lines {
		w.SetLineWidth(l.width)
		if l.dashed {
			l.dash = []float64{2, 2}
		}
		if l.dash != nil {
			w.SetDashPattern(l.dash, 0)
			w.path(l.points, top)
			w.SetDashPattern([]float64{}, 0)
			continue
		}
		for i, p := range l.points[1:] {
			w.Line(l.points[i][0], top+l.points[i][1], p[0], top+p[1])
		}
	}
	for _, d := range r.dots {
		how := "F"
		if d.open {
			how = "D"
			w.SetLineWidth(0.7)
		}
		w.Circle(d.at[0], top+d.at[1], d.radius, how)
	}
}

// path strokes a line as one, so that its pattern goes on round the corners.
func (w *pdf) path(points []orb.Point, top float64) {
	for i, p := range points {
		if i == 0 {
			w.MoveTo(p[0], top+p[1])
		} else {
			w.LineTo(p[0], top+p[1])
		}
	}
	w.DrawPath("D")
}

// lines makes a row of each line of a text.
func (w *pdf) lines(text string, f face, x, width float64) []row {
	var out []row
	for _, s := range w.wrap(text, f, width) {
		out = append(out, row{height: f.line(), texts: []placed{{x, f.size * ascent, s, f}}})
	}
	return out
}

// framed sets a text in a frame.
func (w *pdf) framed(text string, f face, x, width float64) row {
	const edge, pad = 1.5, 3.0
	r := row{height: 2 * (edge + pad)}
	for _, s := range w.wrap(text, f, width-2*(edge+pad)) {
		r.texts = append(r.texts, placed{x + edge + pad, r.height - edge - pad + f.size*ascent, s, f})
		r.height += f.line()
	}
	right, foot := x+width-edge, r.height-edge
	r.bars = []bar{{x, 0, width, edge}, {x, foot, width, edge}, {x, 0, edge, r.height}, {right, 0, edge, r.height}}
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
func (w *pdf) beside(cells ...cell) row {
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
