package main

import (
	"io"
	"path/filepath"
	"strings"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// A sheet is a report on paper: its flag, its file, and how it is written.
type sheet struct {
	name  string // "" for none
	write func(io.Writer, *plan.Plan) error
}

// sheets reads the flags of the roll for the tank bag and of the sheet left at home.
func (f *planFlags) sheets() ([]sheet, error) {
	strip, err := f.stripSheet()
	if err != nil {
		return nil, err
	}
	home, err := f.homeSheet()
	return []sheet{strip, home}, err
}

func (f *planFlags) stripSheet() (sheet, error) {
	paper, err := report.ParseStripPaper(f.stripPaper)
	switch {
	case err != nil:
		return sheet{}, flagError("strip-paper", err)
	case f.strip == "" && f.stripPaper != "":
		return sheet{}, &usageError{"--strip-paper without a strip", "say where to write it: --strip strip.pdf"}
	case f.strip != "" && f.strip != "-" && ending(f.strip) != ".pdf":
		return sheet{}, flagError("strip", route.BadValue(f.strip, "does not end in .pdf, and the strip is one", "write --strip strip.pdf"))
	}
	return sheet{f.strip, func(w io.Writer, p *plan.Plan) error { return report.WriteStrip(w, p, paper) }}, nil
}

func (f *planFlags) homeSheet() (sheet, error) {
	var contacts []report.Contact
	for _, s := range f.contacts {
		c, err := report.ParseContact(s)
		if err != nil {
			return sheet{}, flagError("contact", err)
		}
		contacts = append(contacts, c)
	}
	write := report.WriteHomeHTML
	switch ending(f.home) {
	case ".html", ".htm":
	case ".pdf":
		write = report.WriteHomePDF
	default:
		if f.home != "" {
			return sheet{}, flagError("home", route.BadValue(f.home, "ends neither in .html nor in .pdf", "the ending says what it is to be: --home home.html or --home home.pdf"))
		}
		if len(contacts) > 0 {
			return sheet{}, &usageError{"--contact without a sheet for home", "say where to write it: --home home.html"}
		}
	}
	return sheet{f.home, func(w io.Writer, p *plan.Plan) error { return write(w, p, contacts) }}, nil
}

func ending(name string) string { return strings.ToLower(filepath.Ext(name)) }
