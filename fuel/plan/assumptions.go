package plan

import (
	"fmt"
	"strings"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
)

// assumptions lists every figure the plan rests on that the rider has not just
// read in his own bike file, each with where it is from.
func assumptions(in Inputs, p *Plan) []Assumption {
	u := in.Options.Units
	var out []Assumption
	add := func(name string, m Mark, format string, args ...any) {
		out = append(out, Assumption{name, fmt.Sprintf(format, args...), m})
	}
	lineAssumptions(in, u, add)
	hereAssumptions(p, u, add)
	add("Stretch", stretchMark(in.Line.Stretch), "%s", stretchValue(in.Line.Stretch, u))
	add("Reserve", Common, "the larger of %.4g %% of the usable tank and %s", in.Options.Reserve.Share*100, u.Distance(in.Options.Reserve.Distance))
	startAssumptions(p, u, add)
	b := in.Bike
	add("Usable fuel", Common, "%s of %s; the rest does not reach the engine", u.Held(b.Usable()), u.Held(b.Tank))
	add("Consumption", Given, "%s on paved road, by the kilometres the bike shows; odometer %.4g", u.Rate(b.Consumption), b.Odometer)
	if b.TrueRate {
		out[len(out)-1].Value = fmt.Sprintf("%s on paved road, by true kilometres", u.Rate(b.Consumption))
	}
	add("Thirst", Given, "%.4g times%s", in.Options.Thirst, p.Here.measured())
	add("Spread", OurOwn, "low and high are 10 %% under and over, on top of the spread of the ground")
	add("Ground", OurOwn, "times paved road: %s", groundValue(b, p))
	add("Climb", OurOwn, "%.0f kg lifted at 25 %% efficiency; nothing back for descents; 10 m between turning points%s", float64(b.LoadedMass), climbDoubt(in.Line, p))
	out = append(out, in.Choices...)
	if p.Loop.NoHeights > 0 {
		add("Climb not known", OurOwn, "15 m a kilometre in the high figures, none in the likely")
	}
	add("Ethanol", Published, "measured on E%.0f, ridden on E%.0f: %.3f times (US Department of Energy, heating values)",
		float64(b.MeasuredOn)*100, float64(b.RiddenOn)*100, b.EthanolFactor())
	add("Stops", Common, "visited up to %s off the line; up to 300 m is on it; there and back is 1.3 times the straight; counted from %q up",
		u.Distance(in.Options.Corridor), in.Options.Trust)
	if len(in.Line.Gaps) > 0 {
		add("Gaps", OurOwn, "ridden at 1.3 times the straight, unless skipped")
	}
	add("Octane", Common, "RON is 4 to 5 above AKI; no credit for altitude; mixed by volume, within 0.1 it meets")
	if anyUnknownGrade(p) {
		add("Grade not known", OurOwn, "somewhere from 80 RON to the need")
	}
	return out
}

// climbDoubt says how far off the climb may be, as measured on recorded rides that
// were thinned: noise is gone at 10 m between turning points, but so is a part of
// the ups and downs, and what lies between two points far apart is not seen.
func climbDoubt(l *route.Line, p *Plan) string {
	if 2*p.Loop.NoHeights > l.Length()-p.Options.From {
		return ""
	}
	step := float64(l.Length()) / float64(l.Points()-1)
	for _, e := range l.Stretch.From { // the coarsest that is a tenth of the line or more
		if 10*e.Length >= l.Length() {
			step = max(step, float64(e.Step))
		}
	}
	switch {
	case step <= 100:
		return "; likely within 10 %"
	case step <= 200:
		return "; likely up to 10 % more than counted, the points lie so far apart"
	case step <= 500:
		return "; likely up to 20 % more than counted, the points lie so far apart"
	}
	return "; likely 25 % and more above what is counted, the points lie so far apart"
}

// lineAssumptions says what was made of the file before it was planned.
func lineAssumptions(in Inputs, u fuel.Units, add func(string, Mark, string, ...any)) {
	line := in.Line
	for _, p := range line.LeftOut {
		add("Left out", Given, "%s (--skip-part %d)", partName(line, p.Number), p.Number)
	}
	if r := line.Reorder; r != nil && r.Taken {
		add("Order of the parts", Given, "%s, %s apart in all; as in the file %s (--order nearest)",
			orderOf(line, r), u.Distance(r.Gaps), u.Distance(r.FileGaps))
	}
	if line.Reorder == nil && line.Arranged.Order == route.OrderNearest {
		why := "no other meets better"
		if len(line.Parts) > route.MostParts {
			why = fmt.Sprintf("no other is looked for among over %d", route.MostParts)
		}
		add("Order of the parts", Given, "as in the file: %s (--order nearest)", why)
	}
	if in.Cut.Where != "" {
		add("Cut off", Given, "what is whole of the file is planned, the rest of the ride is not (--salvage)")
	}
	if line.Arranged.Reverse {
		add("Direction", Given, "the other way round than in the file (--reverse)")
	}
	if line.Arranged.HasBeginAt {
		at := fmt.Sprintf("%s %.1f of the line before it is turned", u.DistanceUnit(), u.DistanceIn(line.Arranged.BeginAt))
		if line.Arranged.BeginName != "" {
			at = line.Arranged.BeginName + ", " + at
		}
		add("Begins at", Given, "%s (--begin-at)", at)
	}
	if len(line.Halts) > 0 {
		add("Halts", OurOwn, "points within 15 m of their middle for over 5 minutes are one: %d, %s of line taken out",
			len(line.Halts), u.Distance(haltsTaken(line.Halts)))
	}
	if off := line.FileLength(route.AsGiven) - line.Length(); len(in.Grounds.Sections) > 0 && max(off, -off) > fewMetres {
		add("Kilometres of the ground", Given, "%s, %s long; the line that is ridden is %s", measures[in.Grounds.Measure],
			u.Distance(line.FileLength(in.Grounds.Measure)), u.Distance(line.Length()))
	}
}

// arranged says how a line is ridden otherwise than in the file; "" if it is not.
func arranged(line *route.Line, u fuel.Units) string {
	var how []string
	for _, p := range line.LeftOut {
		how = append(how, "without "+partName(line, p.Number))
	}
	if r := line.Reorder; r != nil && r.Taken {
		how = append(how, "its parts in the order "+orderOf(line, r))
	}
	if line.Arranged.Reverse {
		how = append(how, "the other way round")
	}
	if a := line.Arranged; a.HasBeginAt && a.BeginName != "" {
		how = append(how, "begun at "+a.BeginName)
	} else if a.HasBeginAt {
		how = append(how, fmt.Sprintf("begun at %s %.1f", u.DistanceUnit(), u.DistanceIn(a.BeginAt)))
	}
	return strings.Join(how, "; ")
}

// measures says how the kilometres of a list of ground were counted.
var measures = map[route.Measure]string{
	route.AsGiven: "those of the file as given, with all parts in its order, the gaps between them and what is left out of it",
	route.Cleaned: "those of the file without strays and the jitter of halts, for there the list ends",
	route.Ordered: "those of the file without the parts left out, for there the list ends",
}

func startAssumptions(p *Plan, u fuel.Units, add func(string, Mark, string, ...any)) {
	mark := Given
	if !p.Options.HasStartFuel && p.Options.SinceFill == 0 {
		mark = OurOwn
	}
	add("Fuel at the start", mark, "%s usable in the tank", u.Held(p.Start.Fuel))
	switch {
	case p.Start.Mixture != nil:
		add("Grade at the start", OurOwn, "what the whole plan has in the tank there, %s; another: --start-grade", *p.Start.Mixture)
	case p.Start.Assumed:
		add("Grade at the start", OurOwn, "what the engine needs, %s", p.Start.Grade)
	default:
		add("Grade at the start", Given, "%s", p.Start.Grade)
	}
}

func stretchMark(s route.Stretch) Mark {
	if s.Given {
		return Given
	}
	return OurOwn
}

func stretchValue(s route.Stretch, u fuel.Units) string {
	v := fmt.Sprintf("the ride is %.3f times as long as the line", s.Factor)
	if s.Given {
		return v
	}
	longest := route.Estimate{}
	for _, e := range s.From {
		if e.Length > longest.Length {
			longest = e
		}
	}
	step := fmt.Sprintf("%.0f m", float64(longest.Step))
	if longest.Step >= 1000 {
		step = u.Distance(longest.Step)
	}
	v += fmt.Sprintf(" (%s, %s apart on average; likely within %.1f %%", longest.Method, step, longest.Error*100)
	worse, over := longest.Error, route.Metres(0) // what is less sure, all of it
	for _, e := range s.From {
		if e.Error > longest.Error {
			worse, over = max(worse, e.Error), over+e.Length
		}
	}
	if over > 0 {
		v += fmt.Sprintf("; on %s of it only within %.1f %%", u.Distance(over), worse*100)
	}
	return v + ")"
}

// groundValue lists the weights of the grounds on the way.
func groundValue(b fuel.Bike, p *Plan) string {
	on := map[route.Ground]bool{}
	for _, l := range p.Legs {
		for _, g := range l.Drink.Grounds {
			on[g.Ground] = true
		}
	}
	var parts []string
	for _, g := range route.AllGrounds {
		if on[g] {
			w := b.Weight(g)
			own := ""
			if _, is := b.Own[g]; is {
				own = " (yours)"
			}
			parts = append(parts, fmt.Sprintf("%s %.2f (%.2f–%.2f)%s", g, w.Likely, w.Low, w.High, own))
		}
	}
	return strings.Join(parts, ", ")
}

func anyUnknownGrade(p *Plan) bool {
	for _, v := range p.Visits {
		if v.Fill != nil && v.Fill.Verdict == octane.NotKnown {
			return true
		}
	}
	return false
}
