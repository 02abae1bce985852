package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/report/csv"
	"lastpump/cmd/lastpump/internal/report/gpx"
	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/plandata"
	"lastpump/fuel/plan"
	"lastpump/route/input"
)

// A planReport is one way in which a plan is written.
type planReport struct {
	flag  string // that names its file
	file  string // "" for none, "-" for standard output
	write func(io.Writer, *plan.Plan, units.System) error
}

// reports gives the reports asked for, the list of stops among them. The text is, where nothing
// else goes to standard output, which has one report.
func (f *planFlags) reports(html, text, stops func(io.Writer, *plan.Plan, units.System) error) ([]planReport, error) {
	strips, err := f.stripReports()
	if err != nil {
		return nil, err
	}
	home, err := f.homeReport()
	if err != nil {
		return nil, err
	}
	maps, err := f.mapReport()
	if err != nil {
		return nil, err
	}
	all := []planReport{
		{"json", f.json, writeJSON},
		{"csv", f.csv, csv.Write},
		{"html", f.html, html},
		{"gpx", f.gpx, gpx.Write},
		home,
		maps,
		{"write-stops", f.writeStops, stops},
	}
	all = append(all, strips...)
	all = slices.DeleteFunc(all, func(r planReport) bool { return r.file == "" })
	if err := oneFileEach(all); err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(all, func(r planReport) bool { return r.file == "-" }) {
		all = append(all, planReport{file: "-", write: text})
	}
	return all, nil
}

func writeJSON(w io.Writer, p *plan.Plan, u units.System) error {
	return plandata.Write(w, plandata.New(p, u))
}

// oneFileEach refuses two reports that would take each other's place.
func oneFileEach(all []planReport) error {
	at := map[string]string{}
	for _, r := range all {
		name, where := r.file, r.file
		if name == "-" {
			where = "standard output"
		} else {
			name = place(name)
		}
		if first, taken := at[name]; taken {
			return &usageError{fmt.Sprintf("--%s and --%s both to %s", first, r.flag, where),
				fmt.Sprintf("give each a file of its own: --%s %s", r.flag, usualName[r.flag])}
		}
		at[name] = r.flag
	}
	return nil
}

// keepFiles refuses to write a report over a file that the plan is made from: what the
// plan does not hold of it would be lost. The file that the program prints to is refused,
// too: one of the two texts would be.
func (a *app) keepFiles(reports []planReport, inputs []string) error {
	for _, r := range reports {
		if isPrintedTo(a.stdout, r.file) {
			return &usageError{fmt.Sprintf("--%s %s is the file that is printed to", r.flag, r.file),
				fmt.Sprintf("print it and nothing else with --%s -, or give it another name: --%s %s",
					r.flag, r.flag, usualName[r.flag])}
		}
		there, err := os.Stat(r.file)
		if err != nil {
			continue // nothing is there, or it is standard output
		}
		for _, name := range inputs {
			if info, err := os.Stat(name); err == nil && os.SameFile(there, info) {
				return &usageError{fmt.Sprintf("--%s %s would take the place of a file that the plan is made from", r.flag, r.file),
					fmt.Sprintf("give it another name: --%s %s", r.flag, usualName[r.flag])}
			}
		}
	}
	return nil
}

// usualName is the name that a hint proposes for the file of a flag.
var usualName = map[string]string{
	"json": "plan.json", "csv": "plan.csv", "html": "plan.html", "gpx": "plan.gpx",
	"strip": "strip.pdf", "home": "home.html", "map-sheet": "map.pdf", "out": "learnt.toml", "write-stops": "stops-answered.csv",
}

// stripReports gives a strip for each bike: that of the second goes to strip-2.pdf where
// that of the first goes to strip.pdf.
func (f *planFlags) stripReports() (all []planReport, err error) {
	format, err := paper.ParseFormat(f.stripPaper)
	switch {
	case err != nil:
		return nil, flagError("strip-paper", err)
	case f.strip == "" && f.stripPaper != "":
		return nil, &usageError{"--strip-paper without a strip", "say where to write it: --strip strip.pdf"}
	case f.strip != "" && f.strip != "-" && ending(f.strip) != ".pdf":
		return nil, flagError("strip", input.BadValue(f.strip, "does not end in .pdf, and the strip is one",
			"write --strip strip.pdf"))
	case f.strip == "-" && len(f.bikes) > 1:
		return nil, &usageError{"--strip - for several bikes, each of which has a strip of its own",
			"give them a file: --strip strip.pdf writes strip-2.pdf, too"}
	}
	for bike := range max(1, len(f.bikes)) {
		name := f.strip
		if name != "" && bike > 0 {
			end := filepath.Ext(name)
			name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, end), bike+1, end)
		}
		all = append(all, planReport{"strip", name, func(w io.Writer, p *plan.Plan, u units.System) error {
			return paper.WriteStripOf(w, p, bike, u, format)
		}})
	}
	return all, nil
}

func (f *planFlags) homeReport() (planReport, error) {
	var contacts []paper.Contact
	r := planReport{flag: "home", file: f.home}
	for _, s := range f.contacts {
		c, err := paper.ParseContact(s)
		if err != nil {
			return r, flagError("contact", err)
		}
		contacts = append(contacts, c)
	}
	write := paper.WriteHomeHTML
	switch e := ending(f.home); {
	case e == ".html" || e == ".htm":
	case e == ".pdf":
		write = paper.WriteHomePDF
	case f.home != "":
		return r, flagError("home", input.BadValue(f.home, "ends neither in .html nor in .pdf",
			"the ending says what it is to be: --home home.html or --home home.pdf"))
	case len(contacts) > 0:
		return r, &usageError{"--contact without a sheet for home", "say where to write it: --home home.html"}
	}
	r.write = func(w io.Writer, p *plan.Plan, u units.System) error { return write(w, p, u, contacts) }
	return r, nil
}

func ending(name string) string { return strings.ToLower(filepath.Ext(name)) }
