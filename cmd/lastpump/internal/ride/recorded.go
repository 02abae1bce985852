package ride

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"
)

// asRecorded makes the line that a plan has recorded in the file; nil where none has, or
// where the line was changed since: then a note says so, and the file is read like any other.
func (l *Loop) asRecorded(opt route.LineOptions) (*route.Line, error) {
	r := l.File.Record
	if r.Text == "" {
		if i := slices.IndexFunc(l.File.Waypoints, stop.Planned); i >= 0 {
			w := l.File.Waypoints[i]
			l.Notes = append(l.Notes, fmt.Sprintf("%s:%d:%d: a plan wrote the stops of this file, and another program the file "+
				"since, in which what the plan had recorded of the line got lost: the line is read like any other, so that "+
				"kilometres of ground are its own", w.File, w.Line, w.Col))
		}
		return nil, nil
	}
	line, err := route.Recorded(r.Text, l.tracks, opt)
	if errors.Is(err, route.ErrEdited) {
		l.Notes = append(l.Notes, fmt.Sprintf("%s:%d:%d: a plan wrote this file, but its line was changed since: "+
			"it is read like any other, so that kilometres of ground are its own, stretch and gaps are looked for anew, "+
			"and what was turned round or left out before is not known", r.File, r.Line, r.Col))
		return nil, nil
	}
	var ie *input.Error
	if errors.As(err, &ie) {
		named := *ie
		named.File, named.Line, named.Col = r.File, r.Line, r.Col
		return nil, &named
	}
	l.recorded = []plan.Assumption{{Topic: plan.TopicRecorded, Mark: plan.Given}}
	return line, err
}

// recallCut takes from a plan's record where the file that it was made from was cut off.
func (l *Loop) recallCut(r gpxfile.Record) error {
	if r.Cut == "" {
		return nil
	}
	if err := json.Unmarshal([]byte(r.Cut), &l.cut); err != nil {
		return &input.Error{File: r.File, Line: r.Line, Col: r.Col,
			What: "what a plan has recorded of a cut is damaged: " + err.Error(),
			Hint: "plan the file that this one was made from"}
	}
	l.cut.Where = input.OneLine(l.cut.Where)
	return nil
}

// ToSurvey makes the line for a survey, whose list of ground counts by the file.
func (l *Loop) ToSurvey(opt route.LineOptions) (*route.Line, error) {
	line, err := l.asRecorded(opt)
	if err != nil {
		return nil, err
	}
	if line == nil {
		return l.build(opt)
	}
	if !line.InFileOrder() {
		return nil, &input.Error{File: l.File.Record.File,
			What: "a plan wrote this line, and not in the order of the file that it was made from",
			Hint: "survey that file: its stops and ground hold however it is arranged; ways by road in its own order alone"}
	}
	return line, nil
}

// sameArrangement refuses flags that ask for another arrangement than the one in which a
// plan has written the line. The same flags, or none, change nothing.
func sameArrangement(f Flags, line *route.Line) error {
	if line == nil {
		return nil
	}
	a, flag := line.Arranged, ""
	ridden := func(s route.Strays) bool { return s.Ridden }
	switch {
	case f.strays == string(route.StraysDrop) && slices.ContainsFunc(line.Strays, ridden):
		flag = "strays"
	case f.reverse && !a.Reverse:
		flag = "reverse"
	case f.beginAt != "" && !beginsAt(f.beginAt, a):
		flag = "begin-at"
	case f.order != "" && route.Order(f.order) != a.Order:
		flag = "order"
	case len(f.skipPart) > 0 && !leavesOut(f.skipPart, line):
		flag = "skip-part"
	default:
		return nil
	}
	return app.Misuse(fmt.Sprintf("--%s: a plan wrote this file, the line as it is ridden then, and not so", flag),
		"plan the file that it was made from, with all the flags; or leave the flag out")
}

func beginsAt(where string, a route.Arrangement) bool {
	if at, ok := kilometre(where); ok {
		return a.HasBeginAt && a.BeginName == "" && a.BeginAt == at
	}
	return a.HasBeginAt && strings.EqualFold(a.BeginName, where)
}

// leavesOut tells whether the parts called are those that a line leaves out.
func leavesOut(called []string, line *route.Line) bool {
	var numbers []int
	for _, c := range called {
		n, err := strconv.Atoi(c)
		if err != nil {
			i := slices.IndexFunc(line.LeftOut, func(p route.Part) bool { return strings.EqualFold(p.Name, c) })
			if i < 0 {
				return false
			}
			n = line.LeftOut[i].Number
		}
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	return slices.EqualFunc(slices.Compact(numbers), line.LeftOut, func(n int, p route.Part) bool { return n == p.Number })
}
