package route

import (
	"sort"

	"lastpump/route/internal/climb"
	"lastpump/route/internal/earth"
)

// A Run is a stretch of line over which nothing changes: one ground, one slope,
// one rule for the distance ridden. Litres are linear in distance within it.
//
// A run of no length holds the climb of a recorder that stood still while its
// height drifted by over 10 m: it belongs to the heights that follow.
type Run struct {
	From, To   Metres // along the line
	Ridden     Metres // on the ground
	RiddenLow  Metres // the same for the low figure
	RiddenHigh Metres // and for the high one: the stretch of a line is an estimate
	Ground     Ground
	Guessed    bool   // the ground is not known; Ground is what it is planned as
	Up, Down   Metres // climb and descent, each >= 0; 0 where not known
	NoHeights  bool   // the climb is not known here
	Skipped    bool   // a gap that is not ridden: Ridden is 0
}

// Runs cuts the line into runs by what lies under it. They follow each other
// without holes from 0 to the end of the line.
func (l *Line) Runs(g Grounds) []Run {
	cuts := l.cuts(g)
	runs := make([]Run, 0, len(cuts))
	walk := walker{line: l, grounds: g}
	drifts := l.climb.Drifts
	for i := 1; i < len(cuts); i++ {
		r := walk.run(cuts[i-1], cuts[i])
		for ; len(drifts) > 0 && drifts[0].At <= r.From; drifts = drifts[1:] {
			runs = append(runs, drift(drifts[0], r))
		}
		runs = append(runs, r)
	}
	for _, d := range drifts {
		runs = append(runs, drift(d, runs[len(runs)-1]))
	}
	return runs
}

// drift gives a drift of the heights as a run of no length beside another.
func drift(d climb.Drift, beside Run) Run {
	return Run{From: d.At, To: d.At, Ground: beside.Ground, Guessed: beside.Guessed,
		Up: max(d.Rise, 0), Down: max(-d.Rise, 0)}
}

// cuts gives all the places where something changes, in order and once each.
func (l *Line) cuts(g Grounds) []Metres {
	end := l.length()
	cuts := []Metres{0, end}
	for _, p := range l.pieces {
		cuts = append(cuts, p.to)
	}
	for _, s := range g.Sections {
		cuts = append(cuts, min(s.From, end), min(s.To, end))
	}
	for _, c := range l.climb.Chains {
		for _, t := range c {
			cuts = append(cuts, t.At)
		}
	}
	for _, d := range l.climb.Drifts {
		cuts = append(cuts, d.At)
	}
	for _, u := range l.climb.Unknown {
		cuts = append(cuts, u.From, u.To)
	}
	sort.Slice(cuts, func(i, j int) bool { return cuts[i] < cuts[j] })
	once := cuts[:1]
	for _, c := range cuts[1:] {
		if c > once[len(once)-1] {
			once = append(once, c)
		}
	}
	return once
}

// A walker goes along the line and keeps its place in each of the lists.
type walker struct {
	line                           *Line
	grounds                        Grounds
	piece, section, chain, turning int
	unknown                        int
}

func (w *walker) run(from, to Metres) Run {
	r := Run{From: from, To: to}
	for w.line.pieces[w.piece].to <= from {
		w.piece++
	}
	p := w.line.pieces[w.piece]
	r.Ridden = (to - from) * Metres(p.factor)
	r.RiddenLow = (to - from) * Metres(p.low)
	r.RiddenHigh = (to - from) * Metres(p.high)
	r.Skipped = p.skipped
	r.Ground, r.Guessed = w.ground(from)
	r.Up, r.Down = w.climb(from, to)
	r.NoHeights = w.noHeights(from)
	return r
}

func (w *walker) ground(from Metres) (Ground, bool) {
	s := w.grounds.Sections
	for w.section < len(s) && s[w.section].To <= from {
		w.section++
	}
	if w.section < len(s) && s[w.section].From <= from {
		return s[w.section].Ground.planned()
	}
	return w.grounds.Default.planned()
}

// climb gives the climb and descent between two neighbouring cuts, which never
// reach over a turning point.
func (w *walker) climb(from, to Metres) (up, down Metres) {
	chains := w.line.climb.Chains
	for w.chain < len(chains) && chains[w.chain][len(chains[w.chain])-1].At <= from {
		w.chain++
		w.turning = 0
	}
	if w.chain == len(chains) || chains[w.chain][0].At > from {
		return 0, 0
	}
	c := chains[w.chain]
	for c[w.turning+1].At <= from {
		w.turning++
	}
	a, b := c[w.turning], c[w.turning+1]
	d := Metres(b.Ele-a.Ele) * (to - from) / (b.At - a.At)
	return max(d, 0), max(-d, 0)
}

func (w *walker) noHeights(from Metres) bool {
	u := w.line.climb.Unknown
	for w.unknown < len(u) && u[w.unknown].To <= from {
		w.unknown++
	}
	return w.unknown < len(u) && u[w.unknown].From <= from
}

// HeightsBridged is how long a hole in the elevations may be to be bridged; beyond
// it the climb is not known there.
const HeightsBridged = climb.Bridged

// RunsBegunAt gives the runs of a closed line that begins at a place of it, as they would be
// if it were laid so by [Arrangement].BeginAt: heights are followed from there on, and the
// way from its old end to its old start is joined to it, or a gap.
func (l *Line) RunsBegunAt(begin Metres, g Grounds) []Run {
	end := l.length()
	r := ring{l, begin, end, Distance(l.pts[len(l.pts)-1], l.pts[0])}
	turned := &Line{pieces: r.pieces()}
	var heights []climb.Height
	turned.at, heights = r.heights()
	var skipped []int
	for _, p := range turned.pieces {
		if p.skipped {
			skipped = append(skipped, sort.Search(len(turned.at), func(i int) bool { return turned.at[i] >= p.to }))
		}
	}
	turned.climb = climb.New(heights, turned.at, skipped)
	return turned.Runs(r.grounds(g))
}

// A ring is a closed line to be begun at a place of it.
type ring struct {
	*Line
	begin, end, seam Metres
}

// moved gives where a place of the line lies when it is begun elsewhere.
func (r ring) moved(at Metres) Metres {
	if at >= r.begin {
		return at - r.begin
	}
	return at + r.behind()
}

// behind gives by how much what lies before the beginning is moved.
func (r ring) behind() Metres { return r.end - r.begin + r.seam }

// split gives what of a span is ridden before the seam, and what behind it.
func (r ring) split(from, to Metres) (before, behind earth.Span) {
	before = earth.Span{From: max(from, r.begin) - r.begin, To: max(to, r.begin) - r.begin}
	behind = earth.Span{From: r.moved(min(from, r.begin)), To: r.moved(min(to, r.begin))}
	if from >= r.begin {
		behind.From = r.end + r.seam
	}
	if to >= r.begin { // the end of the line, to the last bit
		behind.To = r.end + r.seam
	}
	return before, behind
}

// pieces gives the rules for the distance ridden. A seam that is no gap has the stretch of
// what comes behind it, like every join.
func (r ring) pieces() []piece {
	var out, head []piece
	for _, p := range r.Line.pieces {
		before, behind := r.split(p.from, p.to)
		if p.from, p.to = before.From, before.To; p.from < p.to {
			out = append(out, p)
		}
		if p.from, p.to = behind.From, behind.To; p.from < p.to {
			head = append(head, p)
		}
	}
	if r.seam > 0 && len(head) > 0 {
		p := head[0]
		switch {
		case r.seam > r.join && r.rule == GapsSkip:
			p = piece{gap: true, skipped: true}
		case r.seam > r.join:
			p = piece{gap: true, factor: GapDetour, low: GapDetour, high: GapDetour}
		}
		p.from, p.to = r.end-r.begin, head[0].from
		out = append(out, p)
	}
	return append(out, head...)
}

// grounds gives the sections where they then lie. The seam has the ground of what is ridden
// before it.
func (r ring) grounds(g Grounds) Grounds {
	var out, head []Section
	for _, s := range g.Sections {
		before, behind := r.split(s.From, s.To)
		if s.From, s.To = before.From, before.To; s.From < s.To {
			if s.To == r.end-r.begin {
				s.To += r.seam
			}
			out = append(out, s)
		}
		if s.From, s.To = behind.From, behind.To; s.From < s.To {
			head = append(head, s)
		}
	}
	g.Sections = append(out, head...)
	return g
}

// heights gives where the points then lie, and the heights of those that have one. The place
// at which the line begins is a point of it, with the height between its neighbours.
func (r ring) heights() ([]Metres, []climb.Height) {
	const there = 1e-3 // metres
	l := r.Line
	next := sort.Search(len(l.at), func(i int) bool { return l.at[i] > r.begin+there })
	on := l.at[next-1] >= r.begin-there
	ele, known := make([]float64, len(l.at)), make([]bool, len(l.at))
	for _, h := range l.heights {
		ele[h.Point], known[h.Point] = h.Ele, true
	}
	var at []Metres
	var hs []climb.Height
	add := func(where Metres, ele float64, known bool) {
		if at = append(at, where); known {
			hs = append(hs, climb.Height{Point: len(at) - 1, Ele: ele})
		}
	}
	here, sure := ele[next-1], known[next-1]
	if !on && next < len(l.at) {
		share := float64((r.begin - l.at[next-1]) / (l.at[next] - l.at[next-1]))
		here, sure = here+share*(ele[next]-here), sure && known[next]
	}
	add(0, here, sure)
	for i := next; i < len(l.at); i++ {
		add(r.moved(l.at[i]), ele[i], known[i])
	}
	for i := 0; i < next && (!on || i < next-1); i++ {
		add(r.moved(l.at[i]), ele[i], known[i])
	}
	add(r.end+r.seam, here, sure)
	return at, hs
}
