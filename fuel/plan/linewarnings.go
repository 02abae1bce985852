package plan

import (
	"slices"
	"strings"

	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// list warns of what is wrong in the list of stops.
func (w *warner) list() {
	t := w.draft.Trip
	if names := append(slices.Clone(w.in.swapped), swappedBeside(t)...); len(names) > 0 {
		w.add(KindStops, StopsSwapped{names})
	}
	var nowhere []string
	for _, g := range t.Beside {
		if s := t.Stops[g.Stop]; s.At == (orb.Point{}) {
			nowhere = append(nowhere, s.Name)
		}
	}
	if len(nowhere) > 0 {
		w.add(KindStops, StopsAtNought{nowhere})
	}
	for _, name := range w.in.Options.Skip {
		places := map[orb.Point]bool{}
		for _, s := range t.Stops {
			if strings.EqualFold(s.Name, name) {
				places[s.At] = true
			}
		}
		if len(places) > 1 {
			w.add(KindStops, SkipsSeveral{name, len(places)})
		}
	}
}

// line warns of what is wrong with the line itself.
func (w *warner) line() {
	line := w.in.Line
	if line.Stretch.Coarse {
		w.add(KindCoarseLine, LineCoarse{})
	}
	w.parts()
	w.gaps(true)
	w.gaps(false)
	if w.in.Cut.Where != "" {
		w.add(KindGap, FileCut{w.in.Cut})
	}
	w.strays()
}

// gaps warns of the gaps ahead, of those that are ridden or of the others.
func (w *warner) gaps(ridden bool) {
	var f LineGaps
	for _, g := range w.in.Line.Gaps {
		if g.Ridden == ridden && g.At+g.Straight > w.Options.From { // else it is behind the rider
			f.Gaps = append(f.Gaps, g)
			f.Stops = union(f.Stops, w.inGap(g))
		}
	}
	if len(f.Gaps) > 0 {
		w.add(KindGap, f)
	}
}

// inGap names the stops that lie in a gap.
func (w *warner) inGap(g route.Gap) (names []string) {
	for _, n := range w.NotUsed {
		if n.In != nil && n.In.At == g.At && n.In.Off <= w.Options.Corridor {
			names = append(names, n.Stop)
		}
	}
	return names
}

// strays warns of leaps away and back: of those that are ridden, of those that are ridden but
// doubted, and of what was left out, which is worth more than a note where a stop lies.
func (w *warner) strays() {
	var ridden, doubted LeapsRidden
	var dropped, spurs StraysDropped
	for _, s := range w.in.Line.Strays {
		stops := w.atFarEnd(s)
		switch {
		case s.Ridden && s.To <= w.Options.From:
		case s.Ridden && s.Doubted:
			doubted = LeapsRidden{append(doubted.Leaps, s), union(doubted.Stops, stops)}
		case s.Ridden:
			ridden = LeapsRidden{append(ridden.Leaps, s), union(ridden.Stops, stops)}
		case len(stops) > 0:
			spurs = StraysDropped{append(spurs.Strays, s), union(spurs.Stops, stops)}
		default:
			dropped.Strays = append(dropped.Strays, s)
		}
	}
	for _, f := range []LeapsRidden{doubted, ridden} {
		if len(f.Leaps) > 0 {
			w.add(KindGap, f)
		}
	}
	if len(spurs.Strays) > 0 {
		w.add(KindGap, spurs)
	}
	if len(dropped.Strays) > 0 {
		w.add(KindNote, dropped)
	}
}

// union adds the names that are not among the others yet.
func union(names, more []string) []string {
	for _, n := range more {
		if !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	return names
}

// atFarEnd names the stops at the far end of a leap.
func (w *warner) atFarEnd(s route.Strays) (names []string) {
	for _, st := range w.in.Stops {
		if route.Distance(st.At, s.Far) <= stop.OnLine && !slices.Contains(names, st.Name) {
			names = append(names, st.Name)
		}
	}
	return names
}

// parts warns of parts that seem to be in a wrong order, to double others, and of
// what the recorder drew while it stood.
func (w *warner) parts() {
	line := w.in.Line
	if r := line.Reorder; r != nil && !r.Taken && w.in.Cut.Where == "" { // a cut is a gap, too
		w.add(KindGap, OutOfOrder{r})
	}
	for _, d := range line.Doubles {
		w.add(KindGap, PartDoubled{d})
	}
	if len(line.Suspects) > 0 {
		w.add(KindNote, StoodPerhaps{line.Suspects})
	}
	if taken := TakenOut(line.Halts); taken >= fewMetres {
		w.add(KindNote, HaltsTaken{len(line.Halts), taken})
	}
}

// fewMetres are not worth a word.
const fewMetres route.Metres = 50

// TakenOut gives how much shorter a line is without what the recorder drew at halts.
func TakenOut(halts []route.Halt) (taken route.Metres) {
	for _, h := range halts {
		taken += h.Taken
	}
	return taken
}

// steepest is how many metres of climb a kilometre no ride has on the whole: our
// estimate. It would go up at 15 % all the way.
const steepest = 150

// farApart is by how much two lengths differ that are not measured on one line.
const farApart route.Metres = 5000

// noGround is how much unknown ground is too little to speak of: sections of
// ground end where another program measured the line to end.
const noGround route.Metres = 100

// ground warns of a list of ground that does not fit and of ground that is not known.
func (w *warner) ground() {
	g, given := w.in.Grounds, w.in.Line.FileLength(route.AsGiven)
	if len(g.Sections) > 0 && g.Measure == route.AsGiven && given-w.in.Line.Length() > farApart && given-g.End > farApart {
		w.add(KindUnknownGround, GroundOfOtherOrder{g.End, given})
	}
	if g.Measure == route.Ordered {
		w.add(KindNote, GroundWithoutParts{g.End})
	}
	if end := w.in.Line.FileLength(g.Measure); len(g.Sections) > 0 && g.End > end+noGround {
		w.add(KindNote, GroundPastEnd{g.End, end})
	}
	if w.Loop.Guessed > noGround {
		w.add(KindUnknownGround, GroundNotKnown{})
	}
}

// climb warns of heights that cannot be and of climb that is not known, and says what
// that does to the litres.
func (w *warner) climb() {
	l := w.Loop
	if known := w.in.Line.Length() - w.Options.From - l.NoHeights; known > 0 {
		if steep := float64(l.Ascent) / known.Kilometres(); steep > steepest {
			w.add(KindUnknownClimb, ClimbTooSteep{steep})
		}
	}
	if l.NoHeights > 0 {
		var counted fuel.Figures
		for _, l := range w.Legs {
			counted = counted.Plus(l.Drink.Unknown)
		}
		w.add(KindUnknownClimb, ClimbNotKnown{counted})
	}
}

func (w *warner) notes() {
	switch c := w.Can; {
	case c.SizeForPlan.TooBig:
		w.add(KindNote, NoSuchCan{c.ForPlan})
	case c.SizeForDry.TooBig:
		w.add(KindNote, NoSuchCan{c.ForAnyDryPump})
	}
	if h := w.Here; h.UnderLow() {
		w.add(KindNote, UsedUnderLow{h.Used.Litres, h.Low})
	}
	if len(w.in.Stops) == 0 && len(w.in.swapped) == 0 {
		w.add(KindNote, NoStops{})
	}
}
