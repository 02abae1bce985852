package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"

	"github.com/spf13/cobra"
)

func (a *app) planCommand() *cobra.Command {
	var f planFlags
	c := &cobra.Command{
		Use:   "plan LOOP.gpx",
		Short: "plan the fuel for a loop",
		Args:  oneFile,
		RunE:  func(_ *cobra.Command, args []string) error { return a.plan(args[0], f) },
	}
	c.Flags().SortFlags = false
	f.register(c.Flags())
	return c
}

func oneFile(_ *cobra.Command, args []string) error {
	if len(args) != 1 {
		return &usageError{fmt.Sprintf("plan takes one GPX file, not %d", len(args)), "lastpump plan LOOP.gpx --stops stops.csv"}
	}
	return nil
}

// plan reads what a plan is made from, makes it and writes every report asked
// for: all of them, or none.
func (a *app) plan(gpx string, f planFlags) error {
	quiet, err := f.wantsStdout()
	if err != nil {
		return err
	}
	in, notes, err := a.inputs(gpx, f)
	if err != nil {
		return err
	}
	p, err := plan.Make(in)
	if err != nil {
		return err
	}
	p.Note(notes...)
	out := outputs{stdout: a.stdout}
	out.add(f.json, func(w io.Writer) error { return report.WriteJSON(w, p) })
	out.add(f.csv, func(w io.Writer) error { return report.WriteCSV(w, p) })
	if !quiet {
		style := report.Style{Colour: wantsColour(a.stdout)}
		out.add("-", func(w io.Writer) error { return report.WriteText(w, p, style) })
	}
	if err := out.write(); err != nil {
		return err
	}
	if !p.Holds() {
		a.exit = exitFails
	}
	return nil
}

// inputs reads the files that the flags name.
func (a *app) inputs(gpx string, f planFlags) (in plan.Inputs, notes []string, err error) {
	if in.Options, err = f.options(); err != nil {
		return in, nil, err
	}
	posted, err := f.posted()
	if err != nil {
		return in, nil, err
	}
	lineOptions, err := f.line()
	if err != nil {
		return in, nil, err
	}
	if in.Bike, err = a.bike(f.bike, posted); err != nil {
		return in, nil, err
	}
	in.Bike.TrueRate = f.trueRate
	file, err := read(a, gpx, gpxfile.Read)
	if err != nil {
		return in, nil, err
	}
	in.Name = loopName(file, gpx)
	if in.Line, err = route.NewLine(tracksOf(file), lineOptions); err != nil {
		return in, nil, inFile(err, gpx)
	}
	if in.Grounds, err = a.grounds(f, in.Line); err != nil {
		return in, nil, err
	}
	in.Stops, err = a.stops(f.stops, gpx, file, posted)
	return in, file.Notes, err
}

// loopName names the loop: as the file does, as its one track does, or after the
// file.
func loopName(f *gpxfile.File, gpx string) string {
	switch tracks := tracksOf(f); {
	case f.Name != "":
		return f.Name
	case len(tracks) == 1 && tracks[0].Name != "":
		return tracks[0].Name
	}
	return strings.TrimSuffix(filepath.Base(gpx), filepath.Ext(gpx))
}

// bike reads a bike file; without one it is the embedded default.
func (a *app) bike(name string, posted octane.Scale) (fuel.Bike, error) {
	if name == "" {
		return fuel.DefaultBike(), nil
	}
	return read(a, name, func(r io.Reader, name string) (fuel.Bike, error) {
		return fuel.ReadBike(r, name, posted)
	})
}

// tracksOf gives the tracks of a file, or its routes if none of them has a
// point.
func tracksOf(f *gpxfile.File) []route.Track {
	for _, t := range f.Tracks {
		for _, s := range t.Segments {
			if len(s) > 0 {
				return f.Tracks
			}
		}
	}
	return f.Routes
}

func (a *app) grounds(f planFlags, line *route.Line) (g route.Grounds, err error) {
	ground, file, err := f.groundFlags()
	if err != nil {
		return g, err
	}
	g.Default = ground
	if file == "" {
		return g, nil
	}
	if _, serr := os.Stat(file); file != "-" && errors.Is(serr, os.ErrNotExist) && !strings.ContainsAny(file, "./\\") {
		_, gerr := route.ParseGround(file)
		return g, flagError("ground", gerr)
	}
	if g.Sections, err = read(a, file, route.ReadGround); err != nil {
		return g, err
	}
	return g, inFile(g.Fit(line.Length()), file)
}

// stops reads the stop lists, or without any the fuel waypoints of the loop.
func (a *app) stops(names []string, gpx string, file *gpxfile.File, posted octane.Scale) ([]stop.Stop, error) {
	if len(names) == 0 {
		return stop.FromWaypoints(file.Waypoints, gpx, posted)
	}
	var all []stop.Stop
	var faults []error
	for _, name := range names {
		s, err := read(a, name, func(r io.Reader, name string) ([]stop.Stop, error) {
			if strings.EqualFold(filepath.Ext(name), ".gpx") {
				f, err := gpxfile.Read(r, name)
				if err != nil {
					return nil, err
				}
				return stop.FromWaypoints(f.Waypoints, name, posted)
			}
			return stop.ReadCSV(r, name, posted)
		})
		if err != nil {
			faults = append(faults, err)
		}
		all = append(all, s...)
	}
	return all, errors.Join(faults...)
}

// read opens a file, or standard input for "-", and reads it.
func read[T any](a *app, name string, parse func(io.Reader, string) (T, error)) (T, error) {
	var none T
	if name == "-" {
		return parse(a.stdin, "standard input")
	}
	f, err := os.Open(name)
	if err != nil {
		return none, fileError(name, err)
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return none, &route.InputError{File: name, What: "this is a folder, not a file", Hint: "name the file in it"}
	}
	return parse(f, name)
}

func fileError(name string, err error) error {
	var pe *os.PathError
	if errors.Is(err, os.ErrNotExist) {
		return &route.InputError{File: name, What: "no such file", Hint: "is the name right, and the folder?"}
	}
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return &route.InputError{File: name, What: err.Error()}
}

// inFile names the file in an error that comes from what was read of it.
func inFile(err error, name string) error {
	var ie *route.InputError
	if errors.As(err, &ie) && ie.File == "" {
		named := *ie
		named.File = name
		return &named
	}
	return err
}
