package surveying

import (
	"io"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel/bailout"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/fuel/wayout"
	"lastpump/route/input"
)

// bailOutsFile is what a survey writes where a rider in trouble gets help.
const bailOutsFile = "bail_outs.csv"

// findHelp looks for help by road, where ways out are asked for.
func findHelp(a *app.App, s *survey.Survey) []bailout.Way {
	if s.Roads == nil {
		return nil
	}
	a.Progress.Begin("looking for help by road")
	return outward.Help(s)
}

// addBailOuts writes what was found, and gives the name of the file as it is printed.
func addBailOuts(out *output.Outputs, s report.Survey, file string) string {
	out.Add(file, func(w io.Writer) error {
		return bailout.Write(w, s.Help, wayout.Sum(s.Line), survey.Attribution)
	})
	return input.OneLine(file)
}
