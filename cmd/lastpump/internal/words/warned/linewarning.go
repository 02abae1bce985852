package warned

import (
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
)

// ofList says what is wrong in the list of stops.
func (v Voice) ofList(w plan.Warning) string {
	switch f := w.Fact.(type) {
	case plan.StopsSwapped:
		return fmt.Sprintf("%s: lat and lon look swapped: the other way round this is on the way; "+
			"not counted, mend the list", v.names(f.Names))
	case plan.NoWayOut:
		return v.noWayOut(f)
	case plan.StopsAtNought:
		return fmt.Sprintf("%s: at 0,0, which is in the sea; not counted, mend the list", v.names(f.Names))
	case plan.SkipsSeveral:
		return fmt.Sprintf("--skip %q leaves out %d stops of that name", v.Name(f.Name), f.Count)
	}
	return ""
}

// noWayOut says which stops the list of ways out does not have.
func (v Voice) noWayOut(f plan.NoWayOut) string {
	var out []string
	if len(f.Names) > 0 {
		out = append(out, "no way out by road is known from "+v.names(f.Names)+
			": --roads has none, or knows the stop by another name")
	}
	if len(f.Guessed) > 0 {
		out = append(out, "the detour is guessed at 1.3 times the straight to "+v.names(f.Guessed))
	}
	return strings.Join(out, "; ")
}

// names lists stops, the first of very many.
func (v Voice) names(names []string) string {
	var out []string
	for _, n := range names {
		out = append(out, v.Name(n))
	}
	return strings.Join(phrase.FirstOf(out), ", ")
}

// unconfirmed says what a stop that is not trusted takes to be filled at; "" for one
// that is.
func unconfirmed(now stop.Standing) string {
	if now == "" {
		return ""
	}
	return fmt.Sprintf(", if it is confirmed to sell petrol (%s now)", now)
}

// ofLine says what is wrong with the line.
func (v Voice) ofLine(w plan.Warning) string {
	u := v.Units
	switch f := w.Fact.(type) {
	case plan.LineCoarse:
		s := v.Plan.Line.Stretch
		return fmt.Sprintf("the line is drawn too coarsely to trust: the ride is taken as %.2f times as long, at the "+
			"most %.2f times; draw it finer, or say --stretch", s.Factor, s.High)
	case plan.LineGaps:
		return v.gaps(f)
	case plan.FileCut:
		return fmt.Sprintf("%s: only the %s of line before that are kept of the file; export it again", f.Where, u.Distance(f.Kept))
	case plan.StraysDropped:
		return v.strayDropped(f)
	case plan.LeapsRidden:
		return v.leapsRidden(f)
	case plan.StoodPerhaps:
		var at []string
		for _, h := range f.Halts {
			at = append(at, fmt.Sprintf("%s of line at %s (%d points within 40 m over %.0f minutes)", u.Distance(h.Taken),
				v.Km(h.At), h.Points, h.For.Minutes()))
		}
		return strings.Join(phrase.FirstOf(at), ", ") + " may be drawn by a recorder that stood; planned as ridden"
	case plan.HaltsTaken:
		return fmt.Sprintf("%s of line taken out, which the recorder drew at %s (points within 15 m for over 5 "+
			"minutes)",
			u.Distance(f.Taken), phrase.Count(f.Halts, "halt"))
	}
	return ""
}

// gaps says where there are gaps, and how they are counted.
func (v Voice) gaps(f plan.LineGaps) string {
	u := v.Units
	how := "not ridden and costs no fuel (a ferry: ask whether it takes a filled can)"
	if f.Gaps[0].Ridden {
		how = "counted as ridden, 1.3 times as far as straight across: is a file missing? --gaps skip, if it is a ferry"
	}
	s := fmt.Sprintf("a gap of %s at %s", u.Distance(f.Gaps[0].Straight), v.Km(f.Gaps[0].At))
	if len(f.Gaps) > 1 {
		var all route.Metres
		var at []string
		for _, g := range f.Gaps {
			all += g.Straight
			at = append(at, fmt.Sprintf("%s at %s", u.Distance(g.Straight), v.Km(g.At)))
		}
		s = fmt.Sprintf("%d gaps of %s in all (%s)", len(f.Gaps), u.Distance(all), strings.Join(phrase.FirstOf(at), ", "))
	}
	return s + ": " + how + v.lost(f.Stops)
}

// lost names the stops that holes in the line cost.
func (v Voice) lost(stops []string) string {
	if len(stops) == 0 {
		return ""
	}
	return "; not passed, as it lies in the gap: " + v.names(stops)
}

// strayDropped says which points were left out, and what that may cost.
func (v Voice) strayDropped(f plan.StraysDropped) string {
	var left []string
	for _, s := range f.Strays {
		p := phrase.Count(s.Points, "point")
		if s.Track != "" {
			p += fmt.Sprintf(" of %q", s.Track)
		}
		if s.Far[0] != 0 || s.Far[1] != 0 {
			p += " at " + v.Km(s.From)
		}
		left = append(left, fmt.Sprintf("%s left out: stray, %s away from the rest", p, v.Units.Distance(s.Away)))
	}
	s := strings.Join(phrase.FirstOf(left), "; ")
	if len(f.Stops) > 0 {
		s += fmt.Sprintf("; yet %s lies there: if it is a spur that you ride, say --strays ride, or draw it",
			v.names(f.Stops))
	}
	return s
}

// leapsRidden says of leaps that they are counted as ridden, and what to do if they are not.
func (v Voice) leapsRidden(f plan.LeapsRidden) string {
	var leaps []string
	for _, l := range f.Leaps {
		leaps = append(leaps, fmt.Sprintf("at %s the line goes %s away and comes back with only %s between: counted as "+
			"ridden, %s of line", v.Km(l.From), v.Units.Distance(l.Away), phrase.Count(l.Points, "point"), v.Units.Distance(l.To-l.From)))
	}
	s := strings.Join(phrase.FirstOf(leaps), "; ") + "; if that is an error of the recorder, leave it out with --strays drop"
	switch {
	case len(f.Stops) > 0 && f.Leaps[0].Doubted:
		s += fmt.Sprintf("; %s, at its far end, is not counted until --strays ride says that it is a spur",
			v.names(f.Stops))
	case len(f.Stops) > 0:
		s += "; at its far end: " + v.names(f.Stops)
	}
	return s
}

// ofParts says which parts of the file seem to be in a wrong order or to double others.
func (v Voice) ofParts(w plan.Warning) string {
	u, line := v.Units, v.Plan.Line
	switch f := w.Fact.(type) {
	case plan.OutOfOrder:
		s := fmt.Sprintf("the parts may be out of order: as in the file they lie %s apart in all, in the order %s "+
			"only %s", u.Distance(f.FileGaps), words.OrderOf(line, f.Reorder), u.Distance(f.Gaps))
		if f.Refused {
			return s + ", but there is a gap of over 100 km then, too: is a file missing?"
		}
		return s + "; to ride them so: --order nearest"
	case plan.PartDoubled:
		part, of := words.PartName(line, f.Part), words.PartName(line, f.Of)
		how := "begins and ends beside " + of
		if 2*f.Shared >= f.Length {
			how = fmt.Sprintf("runs beside %s for %s of its %s", of, u.Distance(f.Shared), u.Distance(f.Length))
		}
		return fmt.Sprintf("%s %s: if it is another way for the same stretch, leave it out with --skip-part %d", part,
			how, f.Part)
	}
	return ""
}

// ofGround says what is not known of ground and climb.
func (v Voice) ofGround(w plan.Warning) string {
	u, loop := v.Units, v.Plan.Loop
	switch f := w.Fact.(type) {
	case plan.GroundOfOtherOrder:
		return fmt.Sprintf("the list of ground ends at %s, the file as given at %s with the ways between its parts: "+
			"the list is read by the file as given; is it of another order of the parts?", v.endKm(f.End), v.endKm(f.Given))
	case plan.GroundWithoutParts:
		return fmt.Sprintf("the list of ground ends with the line without the parts left out, at %s: it is read by "+
			"the kilometres of that line", v.endKm(f.End))
	case plan.GroundPastEnd:
		return fmt.Sprintf("the list of ground ends at %s, the line at %s: what lies beyond is left out", v.endKm(f.End),
			v.endKm(f.Line))
	case plan.GroundNotKnown:
		return fmt.Sprintf("the ground is not known over %s: planned as dirt, unless --ground says more", u.Distance(loop.Guessed))
	case plan.ClimbTooSteep:
		return fmt.Sprintf("the heights climb %s: they cannot be right; take them from elsewhere "+
			"(--relief DIR --heights relief)", u.Slope(f.MetresPerKm))
	case plan.ClimbNotKnown:
		return fmt.Sprintf("the climb is not known over %s: %s of the likely litres are for it, %s in the low and %s "+
			"in the high figures (%s, from %s to %s); heights from relief tiles: --relief DIR",
			u.Distance(loop.NoHeights), u.Needed(f.Counted.Likely), u.Needed(f.Counted.Low), u.Needed(f.Counted.High),
			u.Slope(8), u.Slope(2), u.Slope(18))
	}
	return ""
}

// ofPlan says what is wrong with the plan as a whole.
func (v Voice) ofPlan(w plan.Warning) string {
	switch f := w.Fact.(type) {
	case plan.NoSuchCan:
		return fmt.Sprintf("%s of spare fuel would be needed: no can sold is that big, plan another stop",
			v.Units.Needed(f.Litres))
	case plan.UsedUnderLow:
		return fmt.Sprintf("%s up to here are under the low figure of the plan, %s: was it filled to the brim?",
			v.Units.Held(f.Used), v.Units.Needed(f.Low))
	case plan.NoStops:
		return "no fuel stops are given: the whole ride is one leg; give a list with --stops"
	case plan.Noted:
		return f.Text
	}
	return ""
}

// endKm tells where a list or a file ends, which is no place to ride to: "km 111.9", for two
// of them may differ by little.
func (v Voice) endKm(at route.Metres) string {
	return fmt.Sprintf("%s %.1f", v.Units.DistanceUnit(), v.Units.DistanceIn(at))
}
