package planning

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report/csv"
	"lastpump/cmd/lastpump/internal/report/gpx"
	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/plandata"
	"lastpump/fuel/plan"
	"lastpump/route/input"
)

// A planReport is one way in which a plan is written.
type planReport struct {
	output.Named
	write func(io.Writer, *plan.Plan, units.System) error
}

// asked gives the reports asked for, the list of stops among them. The text is, where nothing
// else goes to standard output, which has one report.
func asked(f ride.Flags, html, text, stops func(io.Writer, *plan.Plan, units.System) error) ([]planReport, error) {
	strips, err := stripReports(f)
	if err != nil {
		return nil, err
	}
	home, err := homeReport(f)
	if err != nil {
		return nil, err
	}
	maps, err := mapReport(f)
	if err != nil {
		return nil, err
	}
	all := []planReport{
		{output.To("json", f.JSON), writeJSON},
		{output.To("csv", f.CSV), csv.Write},
		{output.To("html", f.HTML), html},
		{output.To("gpx", f.GPX), gpx.Write},
		home,
		maps,
		{output.To("write-stops", f.WriteStops), stops},
	}
	all = append(all, strips...)
	all = slices.DeleteFunc(all, func(r planReport) bool { return r.File == "" })
	if err := output.OneFileEach(files(all)); err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(all, func(r planReport) bool { return r.File == "-" }) {
		all = append(all, planReport{output.To("", "-"), text})
	}
	return all, nil
}

// files gives the files that reports are written to.
func files(all []planReport) (named []output.Named) {
	for _, r := range all {
		named = append(named, r.Named)
	}
	return named
}

func writeJSON(w io.Writer, p *plan.Plan, u units.System) error {
	return plandata.Write(w, plandata.New(p, u))
}

// stripReports gives a strip for each bike: that of the second goes to strip-2.pdf where
// that of the first goes to strip.pdf.
func stripReports(f ride.Flags) (all []planReport, err error) {
	format, err := paper.ParseFormat(f.StripPaper)
	switch {
	case err != nil:
		return nil, app.FlagError("strip-paper", err)
	case f.Strip == "" && f.StripPaper != "":
		return nil, app.Misuse("--strip-paper without a strip", "say where to write it: --strip strip.pdf")
	case f.Strip != "" && f.Strip != "-" && ending(f.Strip) != ".pdf":
		return nil, app.FlagError("strip", input.BadValue(f.Strip, "does not end in .pdf, and the strip is one",
			"write --strip strip.pdf"))
	case f.Strip == "-" && len(f.Bikes) > 1:
		return nil, app.Misuse("--strip - for several bikes, each of which has a strip of its own",
			"give them a file: --strip strip.pdf writes strip-2.pdf, too")
	}
	for bike := range max(1, len(f.Bikes)) {
		name := f.Strip
		if name != "" && bike > 0 {
			end := filepath.Ext(name)
			name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, end), bike+1, end)
		}
		all = append(all, planReport{output.To("strip", name), func(w io.Writer, p *plan.Plan, u units.System) error {
			return paper.WriteStripOf(w, p, bike, u, format)
		}})
	}
	return all, nil
}

// mapReport gives the sheets of the map.
func mapReport(f ride.Flags) (planReport, error) {
	r := planReport{output.To("map-sheet", f.MapSheet), paper.WriteMapSheet}
	if f.MapSheet != "" && f.MapSheet != "-" && ending(f.MapSheet) != ".pdf" {
		return r, app.FlagError("map-sheet", input.BadValue(f.MapSheet, "does not end in .pdf, and the map is one",
			"write --map-sheet map.pdf"))
	}
	return r, nil
}

func homeReport(f ride.Flags) (planReport, error) {
	var contacts []paper.Contact
	r := planReport{Named: output.To("home", f.Home)}
	for _, s := range f.Contacts {
		c, err := paper.ParseContact(s)
		if err != nil {
			return r, app.FlagError("contact", err)
		}
		contacts = append(contacts, c)
	}
	write := paper.WriteHomeHTML
	switch e := ending(f.Home); {
	case e == ".html" || e == ".htm":
	case e == ".pdf":
		write = paper.WriteHomePDF
	case f.Home != "":
		return r, app.FlagError("home", input.BadValue(f.Home, "ends neither in .html nor in .pdf",
			"the ending says what it is to be: --home home.html or --home home.pdf"))
	case len(contacts) > 0:
		return r, app.Misuse("--contact without a sheet for home", "say where to write it: --home home.html")
	}
	r.write = func(w io.Writer, p *plan.Plan, u units.System) error { return write(w, p, u, contacts) }
	return r, nil
}

func ending(name string) string { return strings.ToLower(filepath.Ext(name)) }
