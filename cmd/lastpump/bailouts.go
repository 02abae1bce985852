package main

import (
	"io"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel/bailout"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/input"
)

// bailOutsFile is what a survey writes where a rider in trouble gets help.
const bailOutsFile = "bail_outs.csv"

// findHelp looks for help by road, where ways out are asked for.
func (a *app) findHelp(s *survey.Survey) []bailout.Way {
	if s.Roads == nil {
		return nil
	}
	a.progress.begin("looking for help by road")
	return outward.Help(s)
}

// addBailOuts writes what was found, and gives the name of the file as it is printed.
func addBailOuts(out *outputs, s report.Survey, file string) string {
	out.add(file, func(w io.Writer) error {
		return bailout.Write(w, s.Help, wayout.Sum(s.Line), survey.Attribution)
	})
	return input.OneLine(file)
}

// bailOuts reads where a rider in trouble gets help, which has to be looked for along this line; nil
// where no file is given.
func (a *app) bailOuts(file string, line *route.Line, l *loop) ([]bailout.Mark, error) {
	if file == "" {
		return nil, nil
	}
	ways, err := read(a, file, func(r io.Reader, name string) ([]bailout.Way, error) {
		ways, notes, err := bailout.Read(r, name, wayout.Sum(line))
		l.notes = append(l.notes, notes...)
		return ways, err
	})
	if err != nil {
		return nil, err
	}
	return bailout.Gather(line, ways), nil
}
