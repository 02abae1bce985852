package refused

import (
	"errors"
	"fmt"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/learn"
	"lastpump/fuel/survey"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/osmfile"
)

// Hint says what to do about an error, or "" where there is nothing to say. Where
// the cause is one that a flag helps with, the hint names the flag, with figures in
// the units of the rider; else it is the one that the error brings along.
func Hint(err error, u units.System) string {
	for _, of := range []func(error) string{refuser{u}.refusalHint, refuser{u}.clockHint, gradeHint, lineHint, surveyHint, learnHint} {
		if hint := of(err); hint != "" {
			return hint
		}
	}
	return hintOf(err)
}

// hintOf gives the hint that an error brings along, or "".
func hintOf(err error) string {
	var hinted interface{ HintText() string }
	if errors.As(err, &hinted) {
		return hinted.HintText()
	}
	return ""
}

// gradeHint is what to do about a bare octane number: write its scale, or say once what
// the pumps post.
func gradeHint(err error) string {
	var parse *octane.ParseError
	if errors.Is(err, octane.ErrNoScale) && errors.As(err, &parse) {
		return parse.Hint + ", or say what the pumps post with --pump-scale RON or AKI"
	}
	return ""
}

// lineHint is what to do about a file that gives no line, or not the one asked for.
func lineHint(err error) string {
	var gap *route.LongGapError
	switch {
	case errors.As(err, &gap):
		return gapHint(gap)
	case errors.Is(err, gpxfile.ErrCut):
		return "the file was cut off: download or export it again, or plan what is whole of it with --salvage"
	case errors.Is(err, route.ErrTooCoarse):
		return "draw it closer, or say how much longer the ride is with --stretch 1.4 or so"
	case errors.Is(err, route.ErrNoPartLeft):
		return "--skip-part leaves out one part; the others are ridden"
	case errors.Is(err, route.ErrNotClosed):
		return "--begin-at is for a loop that comes back to its start"
	case errors.Is(err, route.ErrNotOnLine):
		return "give a kilometre as a plan without --reverse and --begin-at has it, or the name of a stop"
	}
	return ""
}

// gapHint is what to do about a gap that nobody rides: mend what seems to be wrong with
// the file, or say what the gap is.
func gapHint(e *route.LongGapError) string {
	hint := "is a file missing, or are the parts out of order?"
	switch {
	case e.Double != nil:
		hint = fmt.Sprintf("part %d looks like another way for a stretch of part %d: leave it out with --skip-part %d;",
			e.Double.Part, e.Double.Of, e.Double.Part)
	case e.Reorder != nil:
		hint = fmt.Sprintf("the parts meet within %.1f km in all if they are put in order: --order nearest;",
			e.Reorder.Gaps.Kilometres())
	}
	return hint + " else say --gaps ride or --gaps skip (a ferry)"
}

// DetoursAuto says how an older way to ask for chosen stops is read.
const DetoursAuto = "--detours auto is read as --fill chosen --detours 30km"

// HintMap is what a map is given as.
const HintMap = "--map takes an extract of OpenStreetMap"

// surveyHint says what to do about an extract.
func surveyHint(err error) string {
	switch {
	case errors.Is(err, osmfile.ErrNoExtract):
		return HintMap + ": .osm.pbf, .osm, .osm.gz or .osm.bz2; " + hintOf(err)
	case errors.Is(err, survey.ErrTwice):
		return hintOf(err) + ", with a --map each"
	}
	return ""
}

// learnHint is what to do about a bike file that was learnt with other figures.
func learnHint(err error) string {
	var changed *learn.ChangedError
	if errors.As(err, &changed) {
		return "put back what it was, or learn again from all tanks of the log with --fresh"
	}
	return ""
}
