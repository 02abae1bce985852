// Package gpx writes a plan for a GPS.
package gpx

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cue"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"

	"github.com/paulmach/orb"
)

// Write writes the plan for a GPS: each stop that was given as a waypoint, with what to
// take there at the beginning of its name; marks of what to do on the way; the line as it
// is ridden, with what is needed to plan the same once more from the file.
func Write(w io.Writer, p *plan.Plan, u units.System) error {
	record, err := p.Line.Record()
	if err != nil {
		return err
	}
	g := gps{trail.Of(words.Of(p, u))}
	d := gpxfile.Document{Name: input.OneLine(p.Name), Desc: g.summary(), Record: record, Tracks: p.Line.Tracks()}
	if p.Cut.Where != "" {
		cut, err := json.Marshal(p.Cut)
		if err != nil {
			return err
		}
		d.Cut = string(cut)
	}
	d.Waypoints, d.Routes = g.waypoints(), g.routes()
	return gpxfile.Write(w, d)
}

// A gps says what stands on the waypoints of a plan.
type gps struct{ trail.Voice }

func (g gps) summary() string {
	answer := g.Answer()
	told := answer[:]
	if g.Plan.Group != nil {
		told = append(told, g.FirstBike())
	}
	return strings.Join(append(told, g.Cautions()...), "\n")
}

// A pin is a waypoint whose name is not put together yet.
type pin struct {
	name  trail.WaypointName
	cue   *cue.Cue // of a mark
	again int      // the stop that is filled at once more; -1 for none
	gpxfile.Waypoint
}

// waypoints gives the stops in their order, then the marks along the ride, with names that
// tell them apart.
func (g gps) waypoints() (out []gpxfile.Waypoint) {
	var pins []pin
	for i := range g.Plan.Stops {
		pins = append(pins, g.pump(i))
	}
	pumps := len(pins)
	pins = append(pins, g.marks()...)
	apart(g.Plan.Line, pins, pumps)
	names := make([]trail.WaypointName, len(pins))
	for i, p := range pins {
		names[i] = p.name
	}
	for i, name := range trail.Named(names) {
		w := pins[i].Waypoint
		w.Name = name
		if at := pins[i].again; at >= 0 {
			w.Desc = input.OneLine(g.PumpTold(*pins[i].cue, out[at].Name)) + "\n" + w.Desc
		}
		out = append(out, w)
	}
	return out
}

// pump gives the waypoint of a stop, with all that is filled there on all passes. It is
// called after the first of them.
func (g gps) pump(i int) pin {
	s := g.Plan.Stops[i]
	name, told := trail.WaypointName{What: "?", Place: trail.PlaceOf(s)}, []string(nil)
	for _, k := range g.VisitsOf(i) {
		if g.Plan.Visits[k].Fill == nil {
			continue
		}
		if told == nil {
			name.What, name.Pass = g.FillWhat(k), g.PassOf(i, k)
		}
		told = append(told, g.FillTold(k)...)
	}
	if told == nil {
		told = []string{"no fill is planned here: " + g.WhyNot(i)}
	}
	out := pin{name: name, again: -1}
	out.Desc, out.Sym, out.Type, out.Point.Point = s.Desc(told...), pumpSymbol, "fuel", s.At
	return out
}

// Symbols by the words that devices and programs know (common practice, no source): one that
// they do not know is left out or shown as any waypoint. That of a mark says nothing of fuel,
// so that it is no pump either where its type has got lost.
const (
	pumpSymbol     = "Gas Station"
	turnBackSymbol = "Flag, Red"
	pourSymbol     = "Flag, Blue"
	wayOutSymbol   = "Flag, Green"
	againSymbol    = "Flag, Green"
	nightSymbol    = "Flag, Green" // whether anybody has beds there is not known
)

// marks gives the places where there is something to do. The first fill at a stop stands
// on its waypoint; where the can is poured at the place to turn back from it is one mark.
func (g gps) marks() (out []pin) {
	filled := map[int]bool{}
	for _, c := range g.Plan.Cues {
		switch c.Kind {
		case cue.TurnBack:
			out = append(out, mark(c, turnBackSymbol, g.TurnBackName(c), g.TurnBackTold(c)))
		case cue.Pour:
			out = append(out, mark(c, pourSymbol, g.PourName(c), g.PourTold(c)))
		}
		if n := len(out); n > 1 && (c.Kind == cue.TurnBack || c.Kind == cue.Pour) && out[n-2].cue.Leg == c.Leg &&
			route.Distance(out[n-2].Point.Point, out[n-1].Point.Point) < apartAtLeast {
			out = append(out[:n-2], g.both(out[n-2], out[n-1]))
		}
		if c.Visit < 0 {
			continue
		}
		v := g.Plan.Visits[c.Visit]
		at := g.stopOf(v)
		if v.Fill != nil && filled[at] {
			again := mark(c, againSymbol, trail.WaypointName{What: g.FillWhat(c.Visit), Place: trail.PlaceOf(v.Stop),
				Pass: g.PassOf(at, c.Visit)}, g.FillTold(c.Visit))
			again.again = at
			out = append(out, again)
		}
		filled[at] = true
	}
	for _, c := range g.Plan.Cues {
		if c.Kind == cue.WayOut {
			out = append(out, mark(c, wayOutSymbol, g.WayOutName(c), g.WayOutTold(c)))
		}
	}
	return append(out, g.nights()...)
}

// routes gives the ways out that the plan leans on or tells as the last of a leg, each once: from
// where the line is left to the pump. What lies between them is on the map alone.
func (g gps) routes() (out []gpxfile.Route) {
	given := map[int]bool{}
	add := func(way int, from string) {
		w := g.Plan.Ways.All[way]
		if given[way] {
			return
		}
		given[way] = true
		point := func(p orb.Point, name string) (w gpxfile.Waypoint) {
			w.Point.Point, w.Name, w.Type = p, input.OneLine(name), stop.MarkType
			return w
		}
		points := []gpxfile.Waypoint{point(w.TurnOff, "turn off"), point(w.Pump, w.To)}
		if w.From >= 0 {
			s := g.Plan.Stops[w.From]
			points = append([]gpxfile.Waypoint{point(s.At, s.Name)}, points...)
		}
		out = append(out, gpxfile.Route{
			Name:   input.OneLine("out to " + g.Name(w.To)),
			Desc:   input.OneLine(fmt.Sprintf("%s: %s. The road between is on the map of your device, or in roads.gpx.", from, g.RoadFar(way))),
			Points: points,
		})
	}
	for _, v := range g.Plan.Visits {
		if v.IfDry != nil && v.IfDry.Off != nil && v.IfDry.Off.Why == "" {
			add(v.IfDry.Off.Way, "if "+g.Name(v.Stop.Name)+" is dry")
		}
	}
	for i, l := range g.Plan.Legs {
		if l.WayOut != nil {
			add(l.WayOut.Way, fmt.Sprintf("the last way out of leg %d", i+1))
		}
	}
	return out
}

// nights gives the places where the rider sleeps, but for the end of the ride.
func (g gps) nights() (out []pin) {
	for i, d := range g.Plan.Days {
		if d.Night.By == clock.ByEnd {
			continue
		}
		c := cue.Cue{Visit: -1, Use: -1, Part: -1, At: d.To, Point: g.Plan.Line.At(d.To)}
		out = append(out, mark(c, nightSymbol, g.NightName(i), g.NightTold(i)))
	}
	return out
}

// both makes one mark of where to turn back and where to pour.
func (g gps) both(a, b pin) pin {
	back, pour := a, b
	if a.cue.Kind == cue.Pour {
		back, pour = b, a
	}
	if back.cue.Kind == pour.cue.Kind {
		return back
	}
	back.name = g.TurnBackAndPourName(*back.cue)
	back.Desc += "\n" + pour.Desc
	return back
}

// mark gives a waypoint on the line that no reader takes for a pump.
func mark(c cue.Cue, symbol string, name trail.WaypointName, told []string) pin {
	for k := range told {
		told[k] = input.OneLine(told[k])
	}
	out := pin{name: name, cue: &c, again: -1}
	out.Desc, out.Sym, out.Type = strings.Join(told, "\n"), symbol, stop.MarkType
	out.Point.Point = c.Point
	return out
}

// apartAtLeast is how far a mark stands from a pump and from any other mark: two in one
// place are one on a display, and which it is depends on the device. Our choice, ten times
// what a receiver is off.
const apartAtLeast route.Metres = 50

// apart lays marks on the line, and back along it from where others stand already: a mark
// that comes early does no harm.
func apart(line *route.Line, pins []pin, pumps int) {
	for i := pumps; i < len(pins); i++ {
		free := func(at orb.Point) bool {
			return !slices.ContainsFunc(pins[:i], func(o pin) bool { return route.Distance(o.Point.Point, at) < apartAtLeast })
		}
		at := pins[i].cue.At
		place := line.At(at)
		for step := apartAtLeast / 2; !free(place) && at-step > 0 && step < 100*apartAtLeast; step += apartAtLeast / 2 {
			place = line.At(at - step)
		}
		pins[i].Point.Point = place
	}
}

// stopOf gives the number of the stop that is visited.
func (g gps) stopOf(v trip.Visit) int {
	return slices.IndexFunc(g.Plan.Stops, func(s stop.Stop) bool { return s.Name == v.Stop.Name && s.At == v.Stop.At })
}
