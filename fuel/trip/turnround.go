package trip

import (
	"slices"

	"lastpump/fuel"
	"lastpump/route"
)

// A Span is a part of the line.
type Span struct{ From, To route.Metres }

// Inner gives spans without their ends: where a place at an end lies to the metre may
// change with the way round.
func Inner(spans ...Span) []Span {
	for i, s := range spans {
		off := min(2*atEnd, (s.To-s.From)/3)
		spans[i] = Span{s.From + off, s.To - off}
	}
	return spans
}

// A Turned is a trip whose line is ridden otherwise but not laid anew: a change can be
// tried on it, and that is all, for places along it are no longer those of the line.
type Turned struct{ t *Trip }

// Trial makes as much of the ride as its verdicts ask for.
func (t Turned) Trial(c Change) *Draft { return t.t.Trial(c) }

// Reversed gives the trip the other way round: climbs become descents. [Trip.Mirror] tells
// where a place of the line then lies.
func (t *Trip) Reversed() Turned {
	if t.reversed != nil {
		return Turned{t.reversed}
	}
	n := t.fresh()
	n.runs = make([]route.Run, 0, len(t.runs))
	for _, r := range slices.Backward(t.runs) {
		r.From, r.To = t.Length-r.To, t.Length-r.From
		r.Up, r.Down = r.Down, r.Up
		n.runs = append(n.runs, r)
	}
	n.Course = fuel.NewCourse(n.runs, t.Bike, t.Options.Thirst)
	n.Sightings = moved(t.Sightings, t.Mirror)
	t.reversed = n
	return Turned{n}
}

// Mirror gives where a place lies on the line ridden the other way.
func (t *Trip) Mirror(at route.Metres) route.Metres { return t.Length - at }

// A Rotated is a closed loop that begins elsewhere.
type Rotated struct {
	Turned
	begin route.Metres // where, along the loop as it was
	end   route.Metres // of the loop as it was
	seam  route.Metres // straight from its old end to its old start
}

// RotatedTo gives a closed loop begun at a place of it. The way from its old end to its old
// start is 500 m at the most.
func (t *Trip) RotatedTo(begin route.Metres) *Rotated {
	n := t.fresh()
	b := &Rotated{Turned: Turned{n}, begin: begin, end: t.Length, seam: route.Distance(t.Line.At(t.Length), t.Line.At(0))}
	n.Length = t.Length + b.seam
	n.runs = t.Line.RunsBegunAt(begin, t.Grounds)
	n.Course = fuel.NewCourse(n.runs, t.Bike, t.Options.Thirst)
	n.Sightings = b.sightings(t.Sightings)
	return b
}

// Moved gives where a place of the old line lies.
func (b *Rotated) Moved(at route.Metres) route.Metres {
	if at >= b.begin {
		return at - b.begin
	}
	return at + (b.end - b.begin + b.seam)
}

// Where gives where a span of the old line lies: in one piece, or at both ends.
func (b *Rotated) Where(s Span) []Span {
	switch {
	case b.begin == s.To:
		return []Span{{b.Moved(s.From), b.t.Length}}
	case b.begin > s.From && b.begin < s.To:
		return []Span{{0, s.To - b.begin}, {b.t.Length - (b.begin - s.From), b.t.Length}}
	}
	return []Span{{b.Moved(s.From), b.Moved(s.To)}}
}

// sightings gives what is passed from the new beginning on: a stop beside the beginning
// at the start and again at the end, one beside the old start and end once.
func (b *Rotated) sightings(old []Sighting) []Sighting {
	line, corridor := b.t.Line, b.t.Options.Corridor
	here := line.At(b.begin)
	var out []Sighting
	for _, g := range old {
		st := b.t.Stops[g.Stop].At
		if away := max(g.At-b.begin, b.begin-g.At); g.Way == 0 && away < route.ApartAlong &&
			route.Distance(st, here) <= corridor {
			if p, ok := line.Nearest(st, b.begin, b.begin+route.ApartAlong); ok && p.Off <= corridor {
				out = append(out, Sighting{Stop: g.Stop, Passage: route.Passage{At: p.At - b.begin, Off: p.Off}})
			}
			if p, ok := line.Nearest(st, b.begin-route.ApartAlong, b.begin); ok && p.Off <= corridor {
				out = append(out, Sighting{Stop: g.Stop, Passage: route.Passage{At: b.t.Length - (b.begin - p.At), Off: p.Off}})
			}
			continue
		}
		g.At = b.Moved(g.At)
		out = append(out, g)
	}
	InOrder(out)
	return b.overSeam(out)
}

// overSeam makes one of two passings that were the end and the start of the line.
func (b *Rotated) overSeam(sightings []Sighting) []Sighting {
	seam := b.end - b.begin
	var out []Sighting
	for _, g := range sightings {
		if g.At < seam || g.At-seam >= route.ApartAlong {
			out = append(out, g)
			continue
		}
		near := firstAt(out, seam-route.ApartAlong)
		i := slices.IndexFunc(out[near:], func(o Sighting) bool {
			return o.Stop == g.Stop && o.At <= seam && g.At-o.At < route.ApartAlong
		})
		switch i += near; {
		case i < near:
			out = append(out, g)
		case g.Off < out[i].Off:
			out = append(slices.Delete(out, i, i+1), g)
		}
	}
	return out
}
