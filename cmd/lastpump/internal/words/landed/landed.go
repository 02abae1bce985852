// Package landed says in English what is drawn under a line, of whose map that is, and what stands
// on the sheets of the map. Start with [Of] for a plan.
package landed

import (
	"cmp"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/route/input"
	"lastpump/route/land"
)

// Written says what a file of a survey has.
func Written(file string, l *land.Land, u units.System) string {
	return fmt.Sprintf("%s has what is drawn under the line where a plan is given it with --land: %s, as far as "+
		"%.0f %s from the line.", file, kinds(l), u.DistanceIn(l.Within), u.DistanceUnit())
}

// kinds names what there is of a land.
func kinds(l *land.Land) string {
	has := map[land.Kind]bool{}
	for _, f := range l.Features {
		has[f.Kind] = true
	}
	var all []string
	for _, k := range []struct {
		kind land.Kind
		name string
	}{{land.Road, "main roads"}, {land.Town, "towns"}, {land.River, "rivers"}, {land.Lake, "lakes"}, {land.Shore, "shores"}} {
		if has[k.kind] {
			all = append(all, k.name)
		}
	}
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return strings.Join(all, "")
}

// Notes says what was read of a file otherwise than written.
func Notes(file string, n land.Notes) (out []string) {
	if n.OtherLine {
		out = append(out, file+": it was surveyed along another line; where the two part it may have nothing to draw")
	}
	if n.Left > 0 {
		out = append(out, fmt.Sprintf("%s: %s not drawn, of a kind or a shape that is not known: %s", file,
			counted(n.Left, "feature is", "features are"), strings.Join(n.Unknown, ", ")))
	}
	return out
}

func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// Whose says whose map is drawn under a line; "" for none.
func Whose(l *land.Land) string {
	if l == nil || len(l.Features) == 0 {
		return ""
	}
	said := cmp.Or(input.OneLine(l.Attribution), "map data from a file that does not say whose they are")
	first, n := utf8.DecodeRuneInString(said)
	return string(unicode.ToUpper(first)) + said[n:] + "."
}

// HomeKey says on the sheet for home, in as few words as may be, what is drawn and whose map it is.
func HomeKey(l *land.Land) string {
	return "Thin: roads; dash-dot: rivers; hatched: lakes. " + Whose(l)
}

// The keys to what is drawn.
const (
	RoadKey  = "main road"
	RiverKey = "river"
	LakeKey  = "lake"
	ShoreKey = "shore"
	TownKey  = "town or village"
	UnderKey = "on the map:"
)
