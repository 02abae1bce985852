// Package survey tells what a map has along a line: the fuel pumps near it, and what
// the wheels roll on.
//
// Start with [Read]. It goes through each extract of a map twice at most and holds no
// more of it than lies near the line. [Survey.Stops] and [Survey.Ground] are the lists
// that a plan is made from.
//
// The idea that surprises: a map that says nothing says nothing. A pump without tags
// for its grades has petrol of a grade not known; a road without a surface gets what
// is usual for its class, marked guessed; where the line lies on no road of the map
// the ground is unknown. And a pump on a map may be dry, shut or gone: all that is
// found here has the standing "map" and no better.
//
// # Limits
//
// Whether motorcycles are allowed on a way is noted, not judged. A straight of a way
// that has both its nodes more than 5 km from the line is not seen.
//
// # Sources
//
//	[1] The OpenStreetMap wiki and the presets of the iD editor: the tags and their
//	    values. Which scale the number of fuel:octane_* has, they leave to the country.
//
// Map data is © OpenStreetMap contributors, under the Open Database Licence: whoever
// hands on what is made of it has to say so. The lists do.
package survey

import (
	"cmp"
	"context"
	"maps"
	"slices"

	"lastpump/fuel/stop"
	"lastpump/fuel/survey/surface"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/land"
	"lastpump/route/osmfile"
	"lastpump/route/roads"
)

// Options say what is looked for.
type Options struct {
	Corridor route.Metres // how far off the line a pump or a place may lie
	Scale    octane.Scale // of the numbers in fuel:octane_*; "" if nobody has said
	Towns    bool         // look for places to ask at, too
	Gap      route.Metres // between pumps, from which on they are looked for
	Counted  route.Metres // how far off the line a pump is one of those
	WaysOut  route.Metres // how far by road a way to a pump may be; 0 makes no road map
	Cores    int          // how many goroutines read and match at once, 1 at least
}

// DefaultOptions are a corridor of 5 km and, for towns, gaps of 150 km between pumps
// within 2 km, the corridor of a plan.
func DefaultOptions() Options {
	return Options{Corridor: 5000, Gap: 150_000, Counted: 2000, Cores: 1}
}

// reach is how far off the line a pump is one of those that a lack is measured between.
func (o Options) reach() route.Metres { return min(o.Counted, o.Corridor) }

// A Survey is what a map has along a line.
type Survey struct {
	Line     *route.Line
	Options  Options
	Pumps    []Pump    // in the order in which the line comes closest to them
	Asks     []Pump    // places to ask at, in the same order: hearsay
	Refused  []Refused // what is a pump on the map and is none for this rider
	Sections []Section // of the whole line, by the kilometres of the file
	Matches  []Match   // what lies under the line, in order and without holes
	Long     []Lack    // of counted pumps, longer than Options.Gap
	Blank    []Lack    // of any road of the map near the line
	Idle     []string  // names of extracts that have nothing near the line
	Longest  Lack      // from one counted pump, or an end of the line, to the next
	Roads    *RoadMap  // nil where Options.WaysOut is 0
	NoRoads  bool      // the maps have no way near the line
	Land     *land.Land
}

// A Pump is a fuel stop of the map, or a place to ask at. Its stop has no note yet:
// that is made for the list, of what stands here.
type Pump struct {
	stop.Stop
	Ref     osmfile.Ref    // the one that has most to say, where several are one station
	Along   route.Metres   // the line, to where it comes closest
	Km      route.Metres   // the same by the kilometres of the file
	Passes  []route.Metres // kilometres of the file at which the line passes it
	Off     route.Metres   // how far from there
	Remarks []Remark       // what else a rider wants to know before he counts on it
	ByEdit  bool           // it was confirmed by no more than the last edit of the map
	AskAt   string         // what a place to ask at is on the map: hamlet, shop=kiosk
}

// A Lack is a span of the line without something.
type Lack struct {
	roads.Span
	FromKm, ToKm route.Metres // the same by the kilometres of the file
}

func lack(line *route.Line, s roads.Span) Lack {
	return Lack{s, line.FileAt(s.From), line.FileAt(s.To)}
}

// A Match is a span of line with what lies under it.
type Match struct {
	roads.Match
	surface.Footing
}

// A Section is a row of the list of ground that a plan reads; its note is made for the
// list, of the matches that lie under it.
type Section struct {
	route.Section
	Line    roads.Span // where it lies on the line
	Guessed bool       // usual for the class of its ways, which have no tag of their ground
	Matches []Match
}

// Read goes through the extracts and surveys the line, which must not be arranged
// otherwise than its file. The error is a [*input.Error], the error of a reader,
// or that of ctx; an [ErrNoScale] where octane numbers are found and nobody has said
// on which scale they are.
func Read(ctx context.Context, line *route.Line, extracts []osmfile.Extract, opt Options) (*Survey, error) {
	c := newCollection(line, opt)
	if err := c.read(ctx, extracts); err != nil {
		return nil, err
	}
	if c.empty() {
		return nil, nothingNear(extracts, opt.Corridor)
	}
	s := &Survey{Line: line, Options: opt}
	if err := s.findPumps(c); err != nil {
		return nil, err
	}
	s.NoRoads, s.Land = len(c.roads) == 0, c.landOf(line)
	s.Matches = c.match(line, opt.Cores)
	s.Sections = sections(line, s.Matches)
	s.between()
	near := c.settlements(c.close)
	if opt.Towns {
		s.findAsks(c, near)
	}
	s.nameApart(near)
	s.Blank, s.Idle = c.blank(line), c.idle(extracts)
	if c.net != nil {
		s.roadMap(c, c.settlements(c.wide))
	}
	return s, nil
}

// match tells what lies under the line.
func (c *collection) match(line *route.Line, cores int) []Match {
	var ways []*roads.Way
	for r := range maps.Values(c.roads) {
		ways = append(ways, &r.Way)
	}
	var out []Match
	for _, m := range roads.New(ways).Match(line, cores) {
		f := surface.Footing{Ground: route.Unknown}
		if m.Way != nil {
			f = c.roads[m.Way.ID].Footing
			f.Guessed = f.Guessed || m.Beside
		}
		out = append(out, Match{m, f})
	}
	return out
}

// byPlace orders pumps along the line.
func byPlace(a, b Pump) int {
	return cmp.Or(cmp.Compare(a.Along, b.Along), cmp.Compare(a.Off, b.Off), a.Ref.Compare(b.Ref))
}

// inOrder gives pumps and places to ask at as one list, in the order of the line.
func (s *Survey) inOrder() []Pump {
	all := slices.Concat(s.Pumps, s.Asks)
	slices.SortStableFunc(all, byPlace)
	return all
}
