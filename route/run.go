package route

import "sort"

// A Run is a stretch of line over which nothing changes: one ground, one slope,
// one rule for the distance ridden. Litres are linear in distance within it.
//
// A run of no length holds the climb of a recorder that stood still while its
// height drifted by over 10 m: it belongs to the heights that follow.
type Run struct {
	From, To   Metres // along the line
	Ridden     Metres // on the ground
	RiddenHigh Metres // the same for the high figure; larger only on a coarse line
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
	drifts := l.climb.drifts
	for i := 1; i < len(cuts); i++ {
		r := walk.run(cuts[i-1], cuts[i])
		for ; len(drifts) > 0 && drifts[0].at <= r.From; drifts = drifts[1:] {
			runs = append(runs, drifts[0].run(r))
		}
		runs = append(runs, r)
	}
	for _, d := range drifts {
		runs = append(runs, d.run(runs[len(runs)-1]))
	}
	return runs
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
	for _, c := range l.climb.chains {
		for _, t := range c {
			cuts = append(cuts, t.at)
		}
	}
	for _, d := range l.climb.drifts {
		cuts = append(cuts, d.at)
	}
	for _, u := range l.climb.unknown {
		cuts = append(cuts, u.from, u.to)
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
	chains := w.line.climb.chains
	for w.chain < len(chains) && chains[w.chain][len(chains[w.chain])-1].at <= from {
		w.chain++
		w.turning = 0
	}
	if w.chain == len(chains) || chains[w.chain][0].at > from {
		return 0, 0
	}
	c := chains[w.chain]
	for c[w.turning+1].at <= from {
		w.turning++
	}
	a, b := c[w.turning], c[w.turning+1]
	d := Metres(b.ele-a.ele) * (to - from) / (b.at - a.at)
	return max(d, 0), max(-d, 0)
}

func (w *walker) noHeights(from Metres) bool {
	u := w.line.climb.unknown
	for w.unknown < len(u) && u[w.unknown].to <= from {
		w.unknown++
	}
	return w.unknown < len(u) && u[w.unknown].from <= from
}
