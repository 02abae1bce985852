package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// A planReport is one way in which a plan is written.
type planReport struct {
	flag  string // that names its file
	file  string // "" for none, "-" for standard output
	write func(io.Writer, *plan.Plan) error
}

// reports gives the reports asked for. The text is among them where nothing else goes to
// standard output, which has one report.
func (f *planFlags) reports(text func(io.Writer, *plan.Plan) error) ([]planReport, error) {
	strip, err := f.stripReport()
	if err != nil {
		return nil, err
	}
	home, err := f.homeReport()
	if err != nil {
		return nil, err
	}
	all := []planReport{
		{"json", f.json, report.WriteJSON},
		{"csv", f.csv, report.WriteCSV},
		{"html", f.html, report.WriteHTML},
		{"gpx", f.gpx, report.WriteGPX},
		strip,
		home,
	}
	all = slices.DeleteFunc(all, func(r planReport) bool { return r.file == "" })
	if err := oneFileEach(all); err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(all, func(r planReport) bool { return r.file == "-" }) {
		all = append(all, planReport{file: "-", write: text})
	}
	return all, nil
}

// oneFileEach refuses two reports that would take each other's place.
func oneFileEach(all []planReport) error {
	at := map[string]string{}
	for _, r := range all {
		name, where := r.file, r.file
		if name == "-" {
			where = "standard output"
		} else {
			name = filepath.Clean(name)
		}
		if first, taken := at[name]; taken {
			return &usageError{fmt.Sprintf("--%s and --%s both to %s", first, r.flag, where),
				fmt.Sprintf("give each a file of its own: --%s %s", r.flag, usualName[r.flag])}
		}
		at[name] = r.flag
	}
	return nil
}

// keepInputs refuses to write a report over a file that the plan is made from: what the
// plan does not hold of it would be lost.
func keepInputs(reports []planReport, inputs []string) error {
	for _, r := range reports {
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

var usualName = map[string]string{
	"json": "plan.json", "csv": "plan.csv", "html": "plan.html", "gpx": "plan.gpx", "strip": "strip.pdf", "home": "home.html",
}

func (f *planFlags) stripReport() (planReport, error) {
	paper, err := report.ParseStripPaper(f.stripPaper)
	r := planReport{"strip", f.strip, func(w io.Writer, p *plan.Plan) error { return report.WriteStrip(w, p, paper) }}
	switch {
	case err != nil:
		return r, flagError("strip-paper", err)
	case f.strip == "" && f.stripPaper != "":
		return r, &usageError{"--strip-paper without a strip", "say where to write it: --strip strip.pdf"}
	case f.strip != "" && f.strip != "-" && ending(f.strip) != ".pdf":
		return r, flagError("strip", route.BadValue(f.strip, "does not end in .pdf, and the strip is one", "write --strip strip.pdf"))
	}
	return r, nil
}

func (f *planFlags) homeReport() (planReport, error) {
	var contacts []report.Contact
	r := planReport{flag: "home", file: f.home}
	for _, s := range f.contacts {
		c, err := report.ParseContact(s)
		if err != nil {
			return r, flagError("contact", err)
		}
		contacts = append(contacts, c)
	}
	write := report.WriteHomeHTML
	switch e := ending(f.home); {
	case e == ".html" || e == ".htm":
	case e == ".pdf":
		write = report.WriteHomePDF
	case f.home != "":
		return r, flagError("home", route.BadValue(f.home, "ends neither in .html nor in .pdf", "the ending says what it is to be: --home home.html or --home home.pdf"))
	case len(contacts) > 0:
		return r, &usageError{"--contact without a sheet for home", "say where to write it: --home home.html"}
	}
	r.write = func(w io.Writer, p *plan.Plan) error { return write(w, p, contacts) }
	return r, nil
}

func ending(name string) string { return strings.ToLower(filepath.Ext(name)) }
