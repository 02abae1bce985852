package report

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route/gpxfile"
)

// WriteGPX writes the plan for a GPS: each stop that was given as a waypoint, with what to
// take there at the beginning of its name; marks of what to do on the way; the line as it
// is ridden, with what is needed to plan the same once more from the file.
func WriteGPX(w io.Writer, p *plan.Plan) error {
	record, err := p.Line.Record()
	if err != nil {
		return err
	}
	g := &gpxer{texter{p: p, u: p.Options.Units}}
	d := gpxfile.Document{Name: stop.OneLine(p.Name), Desc: g.summary(), Record: record, Tracks: p.Line.Tracks()}
	if p.Cut.Where != "" {
		cut, err := json.Marshal(p.Cut)
		if err != nil {
			return err
		}
		d.Cut = string(cut)
	}
	for i := range p.Stops {
		d.Waypoints = append(d.Waypoints, g.pump(i))
	}
	d.Waypoints = append(d.Waypoints, g.marks()...)
	return gpxfile.Write(w, d)
}

type gpxer struct{ texter }

func (g *gpxer) summary() string {
	lines := append(g.p.Answer[:], cautions...)
	if g.p.Group != nil {
		lines = append(lines, lendingCaution)
	}
	return strings.Join(lines, "\n")
}

// visitsOf gives the visits of a stop; none for one that stands in the list before.
func (g *gpxer) visitsOf(i int) (visits []int) {
	s := g.p.Stops[i]
	same := func(o stop.Stop) bool { return o.Name == s.Name && o.At == s.At }
	if slices.IndexFunc(g.p.Stops, same) < i {
		return nil
	}
	for k, v := range g.p.Visits {
		if same(v.Stop) {
			visits = append(visits, k)
		}
	}
	return visits
}

// pump gives the waypoint of a stop.
func (g *gpxer) pump(i int) gpxfile.Waypoint {
	s := g.p.Stops[i]
	name, told := "? ", []string(nil)
	for _, k := range g.visitsOf(i) {
		v := g.p.Visits[k]
		if v.Fill == nil {
			continue
		}
		if told == nil {
			name = g.fillName(v.Fill)
		}
		told = append(told, g.fillTold(k)...)
	}
	if told == nil {
		told = []string{"no fill is planned here: " + g.whyNot(i)}
	}
	out := gpxfile.Waypoint{Name: name + stop.OneLine(s.Name), Desc: s.Desc(told...), Sym: "Fuel", Type: "fuel"}
	out.Point.Point = s.At
	return out
}

// fillName says in a few letters what to take: "8.0L 95RON ".
func (g *gpxer) fillName(f *plan.Fill) string {
	unit := strings.TrimPrefix(g.u.VolumeUnit(), "US ")
	name := "FULL "
	if f.High > 0 {
		name = g.u.VolumeUp(f.Litres) + unit + " "
	}
	name += strings.ReplaceAll(cmp.Or(g.grade(f), "grade?"), " ", "") + " "
	if f.Can > 0 {
		name += "+" + g.u.VolumeUp(f.Can) + unit + " CAN "
	}
	return name
}

// grade gives the grade of a fill, or of what is in a tank that is full; "" where it is
// not known.
func (g *gpxer) grade(f *plan.Fill) string {
	switch s := g.p.Start; {
	case f.High <= 0 && s.Mixture == nil:
		return s.Grade.String()
	case f.HasGrade:
		return f.Grade.String()
	}
	return ""
}

// fillTold says what to do at a visit.
func (g *gpxer) fillTold(k int) []string {
	v := g.p.Visits[k]
	f := v.Fill
	take := "the tank is full here"
	if f.High > 0 {
		take = fmt.Sprintf("fill to the brim, %s (%s–%s; if more goes in, it drinks more than planned)", g.u.Needed(f.Litres), g.needed(f.Low), g.needed(f.High))
	}
	told := []string{fmt.Sprintf("%s %s: %s; %s; zero the trip meter", g.u.DistanceUnit(), g.reach(v.At), take, cmp.Or(g.grade(f), "grade not known: ask"))}
	if f.Can > 0 {
		told = append(told, "into the can: "+g.u.Needed(f.Can))
	}
	if v.Mixture != nil {
		told = append(told, fmt.Sprintf("in the tank then: %s, %s for %s", v.Mixture, v.Mixture.Verdict, g.p.Bike.Needs))
	}
	for _, c := range g.p.Roll {
		if c.Visit == k && c.Use >= 0 {
			told = append(told, g.use(g.p.Can.Uses[c.Use]))
		}
	}
	return append(told, g.doubts(v)...)
}

// doubts says what may be wrong with a stop.
func (g *gpxer) doubts(v plan.Visit) (told []string) {
	if v.LastFuel {
		told = append(told, "last sure fuel")
	}
	if v.IfDry != nil {
		told = append(told, "if it is dry: "+g.dry(v.IfDry))
	}
	if len(v.Also) > 0 {
		told = append(told, "also here: "+strings.Join(v.Also, ", "))
	}
	return told
}

func (g *gpxer) dry(d *plan.IfDry) string {
	if d.Outcome == plan.Stranded {
		return fmt.Sprintf("you are stranded, %s short of %s: ask before you come here", g.u.Needed(-d.Spare), g.p.NameOf(d.To))
	}
	s := fmt.Sprintf("%s to %s, %s to spare", d.Outcome, g.p.NameOf(d.To), g.u.Held(d.Spare))
	if d.Bare {
		s += ", but not at the high figure"
	}
	return s
}

// whyNot says why no fill is planned at a stop.
func (g *gpxer) whyNot(i int) string {
	s := g.p.Stops[i]
	for _, k := range g.visitsOf(i) {
		if why := g.p.Visits[k].WhyNot; why != "" {
			return why
		}
	}
	for _, v := range g.p.Visits {
		if slices.Contains(v.Also, s.Name) {
			return "one place with " + v.Stop.Name + ", which is planned"
		}
	}
	for _, n := range g.p.NotUsed {
		if n.Stop == s.Name {
			return g.u.Distance(n.Off) + " off the line"
		}
	}
	return "not on the way that is planned"
}

// marks gives the places where there is something to do. The first fill at a stop stands
// on its waypoint.
func (g *gpxer) marks() (out []gpxfile.Waypoint) {
	filled := map[int]bool{}
	for _, c := range g.p.Roll {
		switch c.Kind {
		case plan.CueTurnBack:
			out = append(out, mark(c, fmt.Sprintf("TURN BACK %s%s", g.reach(c.Trip), g.u.DistanceUnit()), g.turnBack(c)))
		case plan.CuePour:
			out = append(out, mark(c, fmt.Sprintf("POUR CAN %.0f%s", pourTrip(g.p, c), g.u.DistanceUnit()), g.pour(c)))
		}
		if c.Visit < 0 {
			continue
		}
		v := g.p.Visits[c.Visit]
		at := g.stopOf(v)
		if v.Fill != nil && filled[at] {
			out = append(out, mark(c, g.fillName(v.Fill)+v.Stop.Name, g.fillTold(c.Visit)))
		}
		filled[at] = true
		if v.LastFuel {
			out = append(out, mark(c, "LAST FUEL "+v.Stop.Name, g.lastFuel(c)))
		}
	}
	return out
}

// mark gives a waypoint that no reader takes for a pump.
func mark(c plan.Cue, name string, told []string) gpxfile.Waypoint {
	for k := range told {
		told[k] = stop.OneLine(told[k])
	}
	w := gpxfile.Waypoint{Name: stop.OneLine(name), Desc: strings.Join(told, "\n"), Type: stop.MarkType}
	w.Point.Point = c.Point
	return w
}

// stopOf gives the number of the stop that is visited.
func (g *gpxer) stopOf(v plan.Visit) int {
	return slices.IndexFunc(g.p.Stops, func(s stop.Stop) bool { return s.Name == v.Stop.Name && s.At == v.Stop.At })
}

func (g *gpxer) turnBack(c plan.Cue) []string {
	l := g.p.Legs[c.Leg]
	from, to := g.p.Ends(c.Leg)
	return []string{
		fmt.Sprintf("Leg %d, %s to %s: the last place to turn back from, trip %s %s.", c.Leg+1, from, to, g.reach(c.Trip), g.u.DistanceUnit()),
		fmt.Sprintf("Is anything wrong ahead, with the way, the weather or the fuel? Turn round here at the latest: by the likely figures you are back at %s with the reserve whole, by the high ones not yet dry.", from),
		fmt.Sprintf("Farther on go on to %s, at trip %s %s.", to, g.far(l.Trip(g.p.Bike)), g.u.DistanceUnit()),
	}
}

func (g *gpxer) pour(c plan.Cue) []string {
	u := g.p.Can.Uses[c.Use]
	told := []string{fmt.Sprintf("Pour the can, engine off: %s.", strings.TrimSuffix(g.use(u), "."))}
	if u.Full > 0 {
		told = append(told, fmt.Sprintf("If you ride on past trip %s %s a thirsty bike has less than %s left.", g.reach(u.PourBy), g.u.DistanceUnit(), g.u.Needed(1)))
	}
	return told
}

func (g *gpxer) lastFuel(c plan.Cue) []string {
	v := g.p.Visits[c.Visit]
	told := []string{"The last sure fuel before a doubtful stretch: do not ride past, fill to the brim, and ask about what comes next."}
	next := slices.IndexFunc(g.p.Legs, func(l plan.Leg) bool { return l.FromVisit == c.Visit })
	if next >= 0 {
		l := g.p.Legs[next]
		_, to := g.p.Ends(next)
		text := fmt.Sprintf("Next: leg %d to %s, trip %s %s, %s", next+1, to, g.far(l.Trip(g.p.Bike)), g.u.DistanceUnit(), l.Verdict)
		if l.ToVisit >= 0 && g.p.Visits[l.ToVisit].IfDry != nil {
			text += "; if that is dry: " + g.dry(g.p.Visits[l.ToVisit].IfDry)
		}
		told = append(told, text+".")
	}
	if v.IfDry != nil {
		told = append(told, "If it is dry here: "+g.dry(v.IfDry)+".")
	}
	return told
}
