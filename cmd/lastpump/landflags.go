package main

import (
	"io"

	"lastpump/cmd/lastpump/internal/report/paper"
	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/input"
	"lastpump/route/land"

	"github.com/spf13/pflag"
)

// landFlags are the flags of what is drawn under the line, and of the sheets that show it.
type landFlags struct{ land, mapSheet string }

func (f *landFlags) register(s *pflag.FlagSet) {
	s.StringVar(&f.land, "land", "", "")
	s.StringVar(&f.mapSheet, "map-sheet", "", "")
}

// land reads what lies beside the line; none where no file is given.
func (a *app) land(file string, line *route.Line, l *loop) (*land.Land, error) {
	if file == "" {
		return nil, nil
	}
	return read(a, file, func(r io.Reader, name string) (*land.Land, error) {
		found, notes, err := land.Read(r, name, line, wayout.Sum(line))
		l.notes = append(l.notes, landed.Notes(name, notes)...)
		return found, err
	})
}

// mapReport gives the sheets of the map.
func (f *landFlags) mapReport() (planReport, error) {
	r := planReport{"map-sheet", f.mapSheet, paper.WriteMapSheet}
	if f.mapSheet != "" && f.mapSheet != "-" && ending(f.mapSheet) != ".pdf" {
		return r, flagError("map-sheet", input.BadValue(f.mapSheet, "does not end in .pdf, and the map is one",
			"write --map-sheet map.pdf"))
	}
	return r, nil
}
