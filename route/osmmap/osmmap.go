// Package osmmap reads an extract of OpenStreetMap and tells what lies along a line:
// the fuel pumps near it, and what the wheels roll on.
//
// Start with [Read]. It goes through the extract twice at most and holds no more of
// it than lies near the line.
//
// The idea that surprises: a map that says nothing says nothing. A pump without tags
// for its grades has petrol of a grade not known; a road without a surface gets what
// is usual for its class, marked guessed; where the line lies on no road of the map
// the ground is unknown. And a pump on a map may be dry, shut or gone: all that is
// found here has the standing "map" and no better.
//
// # Limits
//
// A line is laid on the ways of the map by what is most likely, not by what is
// certain. Measured on ways of two regions with noise of 5 m and points 50 m apart,
// 99 % of the kilometres and more come back to the true way; see the tests. Whether
// motorcycles are allowed on a way is noted, not judged. A straight of a way that has
// both its nodes more than 5 km from the line is not seen.
//
// # Sources
//
//	[1] Newson and Krumm, "Hidden Markov Map Matching Through Noise and Sparseness",
//	    ACM SIGSPATIAL GIS 2009: the model by which the line is laid on ways.
//	[2] The OpenStreetMap wiki and the presets of the iD editor: the tags and their
//	    values. Which scale the number of fuel:octane_* has, they leave to the country.
//
// Map data is © OpenStreetMap contributors, under the Open Database Licence: whoever
// hands on what is made of it has to say so. The lists that a survey gives do.
package osmmap

import (
	"context"
	"slices"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/paulmach/osm"
)

// Attribution is what has to stand beside everything that is made of the map.
const Attribution = "map data © OpenStreetMap contributors, ODbL 1.0"

// Options say what is looked for.
type Options struct {
	Corridor route.Metres // how far off the line a pump or a place may lie
	Scale    octane.Scale // of the numbers in fuel:octane_*; "" if nobody has said
	Towns    bool         // look for places to ask at, too
	Gap      route.Metres // between pumps, from which on they are looked for
	Counted  route.Metres // how far off the line a pump is one of those
	Cores    int          // how many goroutines read and match at once, 1 at least
}

// DefaultOptions are a corridor of 5 km and, for towns, gaps of 150 km between pumps
// within 2 km, the corridor of a plan.
func DefaultOptions() Options {
	return Options{Corridor: 5000, Gap: 150_000, Counted: 2000, Cores: 1}
}

// A Survey is what a map has along a line.
type Survey struct {
	Pumps    []Pump    // in the order in which the line comes closest to them
	Asks     []Pump    // places to ask at, in the same order: hearsay
	Refused  []Refused // what is a pump on the map and is none for this rider
	Sections []Section // of the whole line, by the kilometres of the file
	Tracks   []Match   // what lies under the line, in order and without holes
	Long     []Stretch // between pumps within Options.Counted, longer than Options.Gap
	Blank    []Stretch // of the line that have no road of the map near them
	Idle     []string  // names of extracts that have nothing near the line
	Longest  Stretch   // from one pump within Options.Counted, or an end, to the next
	NoRoads  bool      // the maps have no way near the line
}

// A Pump is a fuel stop of the map.
type Pump struct {
	stop.Stop
	Ref    Ref            // the one that has most to say, where several are one station
	Along  route.Metres   // the line, to where it comes closest
	Km     route.Metres   // the same by the kilometres of the file
	Passes []route.Metres // kilometres of the file at which the line passes it
	Off    route.Metres   // how far from there
}

// Refused is an object of the map that is left out, and why.
type Refused struct {
	Ref Ref
	Why string
}

// A Stretch is a part of the line.
type Stretch struct{ From, To route.Metres }

// A Match is a stretch of line with what lies under it.
type Match struct {
	Stretch
	Way     osm.WayID // 0 where it lies on no way of the map
	Ground  route.Ground
	Guessed bool   // usual for the class of the way, which has no tag of its ground
	Note    string // the tags that tell
}

// A Section is a row of the list of ground that a plan reads.
type Section struct {
	route.Section
	Line    Stretch // where it lies on the line
	Guessed bool    // usual for the class of its ways, which have no tag of their ground
}

// Length is how much line it is.
func (s Stretch) Length() route.Metres { return s.To - s.From }

// Read goes through the extracts and surveys the line, which must not be arranged
// otherwise than its file. The error is a [*route.InputError], the error of a reader,
// or that of ctx; an [ErrNoScale] where octane numbers are found and nobody has said
// on which scale they are.
func Read(ctx context.Context, line *route.Line, extracts []Extract, opt Options) (*Survey, error) {
	h := newHaul(line, opt)
	if err := h.read(ctx, extracts); err != nil {
		return nil, err
	}
	if h.empty() {
		return nil, nothingNear(extracts, opt.Corridor)
	}
	s := &Survey{}
	if err := s.findPumps(line, h, opt); err != nil {
		return nil, err
	}
	s.NoRoads = len(h.ways) == 0
	s.Tracks = match(line, newRoads(h.ways), opt.Cores)
	s.Sections = sections(line, s.Tracks)
	s.between(line, opt)
	near := h.settlements()
	if opt.Towns {
		s.findAsks(line, h, near, opt)
	}
	s.nameApart(near)
	s.Blank, s.Idle = h.blank(line), h.idle(extracts)
	return s, nil
}

// Stops gives pumps and places to ask at as one list, in the order of the line. The
// note of the first says whose map it is from.
func (s *Survey) Stops() []stop.Stop {
	all := slices.Concat(s.Pumps, s.Asks)
	slices.SortStableFunc(all, byPlace)
	out := make([]stop.Stop, len(all))
	for i, p := range all {
		out[i] = p.Stop
	}
	if len(out) > 0 {
		out[0].Note = noted(out[0].Note, Attribution)
	}
	return out
}

// Ground gives the list of ground that a plan reads. Like [Survey.Stops] it says in
// the note of the first row whose map it is made of.
func (s *Survey) Ground() []route.Section {
	out := make([]route.Section, len(s.Sections))
	for i, p := range s.Sections {
		out[i] = p.Section
	}
	for len(out) > 1 && out[0].To-out[0].From < 1 { // it would be left out of the list, and its note with it
		out[1].From = out[0].From
		out = out[1:]
	}
	if len(out) > 0 {
		out[0].Note = noted(out[0].Note, Attribution)
	}
	return out
}

// noted adds to a note.
func noted(note, more string) string {
	if note == "" || more == "" {
		return note + more
	}
	return note + "; " + more
}
