package plan

import (
	"cmp"
	"fmt"
	"slices"

	"lastpump/fuel"
	"lastpump/route"
)

// otherWay tries riding the loop the other way round: climbs become descents, and
// what comes after a leg comes before it.
func (h *healer) otherWay() {
	if *h.left <= 0 || h.stands != nil {
		return
	}
	s := h.turnedRound()
	how := "(--reverse)"
	if h.in.Line.Arranged.Reverse {
		how = "(without --reverse)"
	}
	h.tryOn(s, inner(stretch{s.mirror(h.to), s.mirror(h.from)}), h.sick.change.at(s.mirror), Cure{
		Text: "ride the loop the other way round " + how, Cost: CostOther, Reverse: true,
	}, true)
}

// elsewhere tries beginning a closed loop elsewhere: at the stops at the ends of the leg.
// The first that cures is enough. In the middle of a leg, where there is no pump, no loop
// begins: that would hide the gap at its ends.
func (h *healer) elsewhere() {
	if !h.in.Line.Closed || h.stands != nil { // on the way it is too late
		return
	}
	for _, b := range h.beginnings() {
		if *h.left <= 0 {
			return
		}
		s := h.begunAt(b.at)
		where := inner(s.where(h.from, h.to)...)
		c := change{fullStart: true}.on(h.sick.change.at(s.moved))
		cure := Cure{Text: fmt.Sprintf("begin the loop at %s, full (--begin-at %s)", b.name, b.flag), Cost: CostOther, BeginAt: b.at, HasBegin: true}
		if h.tryOn(s.survey, where, c, cure, true) {
			return
		}
	}
}

// inner gives stretches without their ends: where a place at an end lies to the metre
// may change with the way round.
func inner(stretches ...stretch) []stretch {
	for i, s := range stretches {
		off := min(2*atEnd, (s.to-s.from)/3)
		stretches[i] = stretch{s.from + off, s.to - off}
	}
	return stretches
}

// A beginning is a place at which a loop could begin.
type beginning struct {
	at   route.Metres
	name string
	flag string // what --begin-at takes for it
}

// beginnings gives where else the loop might begin to cure a complaint.
func (h *healer) beginnings() []beginning {
	var out []beginning
	for _, n := range h.sick.nodes[h.leg : h.leg+2] {
		if n.visit >= 0 && n.half == 0 && n.at > atEnd && n.at < h.length-atEnd {
			b := h.beginningAt(n.at)
			if b.name = n.name; h.passedOnce(n.name) {
				b.flag = fmt.Sprintf("%q", n.name)
			}
			out = append(out, b)
		}
	}
	return out
}

// beginningAt names a place along the line as --begin-at takes it.
func (h *healer) beginningAt(at route.Metres) beginning {
	unit, was := h.u.DistanceUnit(), h.u.DistanceIn(h.in.Line.BeforeTurning(at))
	return beginning{at, fmt.Sprintf("%s %.1f", unit, was), fmt.Sprintf("%.1f%s", was, unit)}
}

// passedOnce tells whether a stop's name says where it is passed.
func (h *healer) passedOnce(name string) bool {
	n := 0
	for _, g := range h.sightings {
		if h.in.Stops[g.stop].Name == name {
			n++
		}
	}
	return n == 1
}

// turnedRound gives the survey of the line ridden the other way.
func (s *survey) turnedRound() *survey {
	if s.reversed != nil {
		return s.reversed
	}
	t := *s
	t.runs = make([]route.Run, 0, len(s.runs))
	for _, r := range slices.Backward(s.runs) {
		r.From, r.To = s.length-r.To, s.length-r.From
		r.Up, r.Down = r.Down, r.Up
		t.runs = append(t.runs, r)
	}
	t.course = fuel.NewCourse(t.runs, s.in.Bike, s.in.Options.Thirst)
	t.sightings = movedBy(s.sightings, s.mirror)
	s.reversed = &t
	return &t
}

// mirror gives where a place lies on the line ridden the other way.
func (s *survey) mirror(at route.Metres) route.Metres { return s.length - at }

// movedBy gives sightings at their new places along a line.
func movedBy(sightings []sighting, to func(route.Metres) route.Metres) []sighting {
	if sightings == nil {
		return nil
	}
	out := make([]sighting, len(sightings))
	for i, g := range sightings {
		g.At = to(g.At)
		out[i] = g
	}
	slices.SortStableFunc(out, func(a, b sighting) int { return cmp.Compare(a.At, b.At) })
	return out
}

// at gives a change whose sightings lie elsewhere along the line.
func (c change) at(to func(route.Metres) route.Metres) change {
	c.extra, c.chosen, c.past = movedBy(c.extra, to), movedBy(c.chosen, to), movedBy(c.past, to)
	return c
}

// A begun is a survey of a closed loop that begins elsewhere.
type begun struct {
	*survey
	begin route.Metres // where, along the loop as it was
	end   route.Metres // of the loop as it was
	seam  route.Metres // straight from its old end to its old start
}

// moved gives where a place of the old line lies.
func (b *begun) moved(at route.Metres) route.Metres {
	if at >= b.begin {
		return at - b.begin
	}
	return at + b.end - b.begin + b.seam
}

// where gives where a stretch of the old line lies: in one piece, or at both ends.
func (b *begun) where(from, to route.Metres) []stretch {
	switch {
	case b.begin == to:
		return []stretch{{b.moved(from), b.length}}
	case b.begin > from && b.begin < to:
		return []stretch{{0, to - b.begin}, {b.length - (b.begin - from), b.length}}
	}
	return []stretch{{b.moved(from), b.moved(to)}}
}

// begunAt gives the survey of a closed loop begun at a place of it. The way from
// its old end to its old start, 500 m at the most, is ridden like a gap.
func (s *survey) begunAt(begin route.Metres) *begun {
	t := *s
	b := &begun{survey: &t, begin: begin, end: s.length, seam: route.Distance(s.in.Line.At(s.length), s.in.Line.At(0))}
	t.length = s.length + b.seam
	var head []route.Run
	t.runs = nil
	for _, r := range s.runs {
		if before, ok := part(r, r.From, begin); ok {
			head = append(head, b.shifted(before))
		}
		if after, ok := part(r, begin, r.To); ok {
			t.runs = append(t.runs, b.shifted(after))
		}
	}
	if last := t.runs[len(t.runs)-1]; b.seam > 0 {
		t.runs = append(t.runs, route.Run{From: last.To, To: last.To + b.seam, Ridden: b.seam * route.GapDetour, RiddenHigh: b.seam * route.GapDetour,
			Ground: last.Ground, Guessed: last.Guessed})
	}
	t.runs = append(t.runs, head...)
	t.course = fuel.NewCourse(t.runs, s.in.Bike, s.in.Options.Thirst)
	t.sightings = b.sights(s.sightings)
	return b
}

// shifted gives a run at its new place.
func (b *begun) shifted(r route.Run) route.Run {
	length := r.To - r.From
	r.From = b.moved(r.From)
	r.To = r.From + length
	return r
}

// part gives what of a run lies between two places; ok is false where nothing does.
func part(r route.Run, from, to route.Metres) (route.Run, bool) {
	from, to = max(from, r.From), min(to, r.To)
	if from >= to {
		return r, r.From == r.To && from == to // the drift of a height has no length
	}
	share := (to - from) / (r.To - r.From)
	r.Ridden *= share
	r.RiddenHigh *= share
	r.Up *= share
	r.Down *= share
	r.From, r.To = from, to
	return r, true
}

// sights gives what is passed from the new beginning on: a stop beside the beginning
// at the start and again at the end, one beside the old start and end once.
func (b *begun) sights(old []sighting) []sighting {
	line, corridor := b.in.Line, b.in.Options.Corridor
	here := line.At(b.begin)
	var out []sighting
	for _, g := range old {
		st := b.in.Stops[g.stop].At
		if away := max(g.At-b.begin, b.begin-g.At); away < route.ApartAlong && route.Distance(st, here) <= corridor {
			if p, ok := line.Nearest(st, b.begin, b.begin+route.ApartAlong); ok && p.Off <= corridor {
				out = append(out, sighting{g.stop, route.Passage{At: p.At - b.begin, Off: p.Off}})
			}
			if p, ok := line.Nearest(st, b.begin-route.ApartAlong, b.begin); ok && p.Off <= corridor {
				out = append(out, sighting{g.stop, route.Passage{At: b.length - (b.begin - p.At), Off: p.Off}})
			}
			continue
		}
		g.At = b.moved(g.At)
		out = append(out, g)
	}
	slices.SortStableFunc(out, func(x, y sighting) int { return cmp.Compare(x.At, y.At) })
	return b.joined(out)
}

// joined makes one of two passings that were the end and the start of the line.
func (b *begun) joined(sightings []sighting) []sighting {
	seam := b.end - b.begin
	var out []sighting
	for _, g := range sightings {
		i := slices.IndexFunc(out, func(o sighting) bool {
			return o.stop == g.stop && o.At <= seam && g.At >= seam && g.At-o.At < route.ApartAlong
		})
		switch {
		case i < 0:
			out = append(out, g)
		case g.Off < out[i].Off:
			out = append(slices.Delete(out, i, i+1), g)
		}
	}
	return out
}
