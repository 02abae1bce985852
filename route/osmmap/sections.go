package osmmap

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lastpump/route"

	"github.com/paulmach/orb"
)

// shortest is how long a section is at least, unless it is one that stops a rider.
const shortest route.Metres = 50

// keptShort are grounds of which a few metres matter.
var keptShort = []route.Ground{route.Sand, route.DeepSand, route.Mud, route.Rocky}

// A strip is a row of matches with one ground, known or guessed.
type strip struct {
	ground  route.Ground
	guessed bool
	matches []Match
}

func (s strip) from() route.Metres   { return s.matches[0].From }
func (s strip) to() route.Metres     { return s.matches[len(s.matches)-1].To }
func (s strip) length() route.Metres { return s.to() - s.from() }

func (s strip) like(o strip) bool { return s.ground == o.ground && s.guessed == o.guessed }

func (s strip) mayGo() bool { return s.length() < shortest && !slices.Contains(keptShort, s.ground) }

// sections makes of matches the list of ground that a plan reads: those that follow
// each other with one ground are one, short ones go to their neighbours, kilometres
// are those of the file.
func sections(line *route.Line, matches []Match) []Section {
	var out []Section
	for _, s := range smoothed(strips(matches)) {
		from, to := line.FileAt(s.from()), line.FileAt(s.to())
		if k := len(out) - 1; k >= 0 {
			from = out[k].To
		}
		if to > from {
			out = append(out, Section{route.Section{From: from, To: to, Ground: s.ground, Note: s.note()}, s.guessed})
		}
	}
	return out
}

func strips(matches []Match) (out []strip) {
	for _, m := range matches {
		out = joined(out, strip{m.Ground, m.Guessed, []Match{m}})
	}
	return out
}

// joined adds a strip to a row, to the last one where it is alike.
func joined(row []strip, s strip) []strip {
	if k := len(row) - 1; k >= 0 && row[k].like(s) {
		row[k].matches = append(row[k].matches, s.matches...)
		return row
	}
	return append(row, s)
}

// smoothed gives short strips to their neighbours, the shortest first: it was only a
// crossing, or the line strayed onto the road beside its own.
func smoothed(row []strip) []strip {
	for {
		k := -1
		for i, s := range row {
			if s.mayGo() && (k < 0 || s.length() < row[k].length()) {
				k = i
			}
		}
		if k < 0 || len(row) == 1 {
			return row
		}
		row[k].ground, row[k].guessed = heir(row, k)
		next := row[:max(k-1, 0):max(k-1, 0)]
		for _, s := range row[max(k-1, 0):] {
			next = joined(next, s)
		}
		row = next
	}
}

// heir gives the ground that a short strip is taken for: that of its neighbours, of
// two the one that is like it, else the thirstier; unknown is not known to be thirsty.
func heir(row []strip, k int) (route.Ground, bool) {
	switch {
	case k == 0:
		return row[1].ground, row[1].guessed
	case k == len(row)-1:
		return row[k-1].ground, row[k-1].guessed
	}
	a, b := row[k-1], row[k+1]
	if b.ground == row[k].ground || a.ground != row[k].ground && thirstier(a.ground, b.ground) == b.ground {
		a = b
	}
	return a.ground, a.guessed
}

// note tells what the map says of a strip: the tags of its ways, those under most of
// it first.
func (s strip) note() string {
	length := map[string]route.Metres{}
	var notes []string
	for _, m := range s.matches {
		if _, ok := length[m.Note]; !ok {
			notes = append(notes, m.Note)
		}
		length[m.Note] += m.Length()
	}
	slices.SortStableFunc(notes, func(a, b string) int { return cmp.Compare(length[b], length[a]) })
	const shown = 3
	text := strings.Join(notes[:min(len(notes), shown)], "; ")
	if n := len(notes) - shown; n > 0 {
		text += fmt.Sprintf("; and %d more", n)
	}
	if s.guessed {
		text = "guessed from " + text
	}
	return text
}

// beyond gives how much of the line lies outside the bounds of all extracts.
func beyond(line *route.Line, bounds []orb.Bound) (out route.Metres) {
	var last route.Vertex
	within := false
	for v := range line.Vertices() {
		was := within
		within = slices.ContainsFunc(bounds, func(b orb.Bound) bool { return b.Contains(v.Point) })
		if v.At > 0 && !(was && within) && !v.AfterGap {
			out += v.At - last.At
		}
		last = v
	}
	return out
}

// nothingNear is the fault of extracts that have nothing where the line is.
func nothingNear(extracts []Extract, corridor route.Metres) error {
	var names []string
	for _, e := range extracts {
		names = append(names, e.Name)
	}
	return &route.InputError{File: strings.Join(names, ", "),
		What: fmt.Sprintf("nothing on it lies within %.1f km of the line", corridor.Kilometres()),
		Hint: "is it the extract of another region? the tracks and the map have to be of one place"}
}
