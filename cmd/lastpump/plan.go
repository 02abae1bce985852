package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

func (a *app) planCommand() *cobra.Command {
	var f planFlags
	c := &cobra.Command{
		Use:   "plan LOOP.gpx…",
		Short: "plan the fuel for a loop",
		Args:  aFileAtLeast,
		RunE: func(c *cobra.Command, args []string) error {
			if a.carried.wanted = f.planner; f.planner {
				a.carried.say(c.Flags())
			}
			return a.plan(args, f)
		},
	}
	c.Flags().SortFlags = false
	f.register(c.Flags())
	return c
}

// aFileAtLeast is the rule for arguments of the commands that take GPX files.
func aFileAtLeast(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return &usageError{c.Name() + " takes a GPX file, or several in the order of the ride", "lastpump " + c.Use}
	}
	return nil
}

// plan reads what a plan is made from, makes it and writes every report asked
// for: all of them, or none.
func (a *app) plan(gpx []string, f planFlags) error {
	if err := f.checkPlanner(); err != nil {
		return err
	}
	reports, err := f.reports(a.pageReport(gpx, f), func(w io.Writer, p *plan.Plan, u units.System) error {
		style := text.Style{Units: u, Colour: wantsColour(a.stdout)}
		if f.full {
			return text.Write(w, p, style)
		}
		return text.WriteFirst(w, p, style)
	}, func(w io.Writer, _ *plan.Plan, _ units.System) error { return stop.WriteCSV(w, a.listed) })
	if err != nil {
		return err
	}
	if err := a.keepFiles(reports, slices.Concat(gpx, f.stops, f.bikes, f.ground, []string{f.roads, f.land, f.fills})); err != nil {
		return err
	}
	stopWatch := a.progress.watch(a.stderr, isTerminal(a.stderr), time.Second, time.Second/5)
	p, err := a.make(gpx, f)
	stopWatch()
	if err != nil {
		return err
	}
	out := outputs{stdout: a.stdout}
	for _, r := range reports {
		out.add(r.file, func(w io.Writer) error { return r.write(w, p, a.units) })
	}
	if err := out.write(); err != nil {
		return err
	}
	if !p.Holds() || p.Group != nil && !p.Group.Holds() {
		a.exit = exitFails
	}
	return nil
}

// make reads the files and makes the plan.
func (a *app) make(gpx []string, f planFlags) (*plan.Plan, error) {
	in, bikes, notes, err := a.inputs(gpx, f)
	if err != nil {
		return nil, err
	}
	a.progress.begin("planning")
	in.Tell = a.progress.tell
	ctx := context.Background()
	p, err := plan.MakeGroup(ctx, in, bikes)
	if err != nil {
		return nil, err
	}
	a.listed = in.Stops
	p.Note(oneLines(slices.Concat(notes, dayNotes(p)))...)
	if err := plan.Cures(ctx, p); err != nil {
		return nil, err
	}
	if err := plan.Calls(ctx, p); err != nil {
		return nil, err
	}
	return p, plan.WhatIf(ctx, p)
}

// inputs reads the files that the flags name. The bike of the inputs is the first.
func (a *app) inputs(gpx []string, f planFlags) (in plan.Inputs, bikes []fuel.Bike, notes []string, err error) {
	if in.Options, a.units, err = f.options(); err != nil {
		return in, nil, nil, err
	}
	posted, err := f.posted()
	if err != nil {
		return in, nil, nil, err
	}
	told, err := f.told(posted)
	if err != nil {
		return in, nil, nil, err
	}
	// Flags are checked before anything is read, those of the line too, which is made last.
	if f.fills != "" && f.from == "" {
		return in, nil, nil, &usageError{"--fills without --from", "say where you are, the rest is planned from there: --from NAME or --from KM"}
	}
	if f.fills != "" && f.used != "" {
		return in, nil, nil, &usageError{"--used and --fills both say what the bike has used",
			"write it into the file of fills, and leave --used out"}
	}
	if _, err := f.line(); err != nil {
		return in, nil, nil, err
	}
	if _, err := f.heightsFromRelief(); err != nil {
		return in, nil, nil, err
	}
	if bikes, err = a.bikes(f, posted); err != nil {
		return in, nil, nil, err
	}
	in.Bike = bikes[0]
	byTripMeter(in.Options.Days, in.Bike)
	l, err := a.readLoop(gpx, f)
	if err != nil {
		return in, nil, nil, err
	}
	in.Name, in.Cut = l.name, l.cut
	if in.Stops, err = a.stops(f.stops, l, posted); err != nil {
		return in, nil, nil, err
	}
	a.progress.begin("measuring the line")
	if in.Line, err = l.line(f, in.Stops, in.Options.Corridor); err != nil {
		return in, nil, nil, err
	}
	if err := f.standing(&in); err != nil {
		return in, nil, nil, err
	}
	for _, t := range told {
		if err := in.Answer(t.stop, t.answer); err != nil {
			return in, nil, nil, err
		}
	}
	in.Choices = slices.Concat(l.relief, l.recorded)
	if in.Roads, err = a.roads(f.roads, in.Line, l); err != nil {
		return in, nil, nil, err
	}
	if in.Land, err = a.land(f.land, in.Line, l); err != nil {
		return in, nil, nil, err
	}
	if in.Grounds, err = a.grounds(f, in.Line, l); err != nil {
		return in, nil, nil, err
	}
	said, err := a.rideSoFar(f, &in)
	return in, bikes, slices.Concat(l.notes, f.notes(), f.clockNotes(in.Options), said), err
}

// bikes reads the bike files in the order given; without any there is one bike.
func (a *app) bikes(f planFlags, posted octane.Scale) ([]fuel.Bike, error) {
	names := f.bikes
	if len(names) == 0 {
		names = []string{""}
	}
	var bikes []fuel.Bike
	for _, name := range names {
		b, err := a.bike(name, posted)
		if err != nil {
			return nil, err
		}
		if b.TrueRate = f.trueRate; b.TrueRate && b.Learnt != nil && b.Odometer != 1 {
			return nil, &usageError{"--true-rate, and what " + input.OneLine(name) + " has learnt goes by the kilometres that the bike shows",
				"leave --true-rate out, or take the table learnt out of the file"}
		}
		if err := resumes(b, name); err != nil {
			return nil, err
		}
		bikes = append(bikes, b)
	}
	return bikes, nil
}

// resumes tells whether what a bike has learnt holds for the figures of its file.
func resumes(b fuel.Bike, name string) error {
	if _, err := learn.Resume(b); err != nil {
		e := input.Wrap("", err)
		e.File = input.OneLine(name)
		return e
	}
	return nil
}

// bike reads a bike file; without one it is the embedded default.
func (a *app) bike(name string, posted octane.Scale) (fuel.Bike, error) {
	if name == "" {
		b := fuel.DefaultBike()
		b.Invented = true
		return b, nil
	}
	return read(a, name, func(r io.Reader, name string) (fuel.Bike, error) {
		return fuel.ReadBike(r, name, posted)
	})
}

// grounds reads the sections of ground and lays them on the line. Of a file that is
// cut off there may be no line for the last of them.
func (a *app) grounds(f planFlags, line *route.Line, l *loop) (g route.Grounds, err error) {
	c, err := f.groundFlags()
	if err != nil {
		return g, err
	}
	if c.guessed != "" {
		l.notes = append(l.notes, words.GroundGuessed(c.guessed, c.everywhere))
	}
	file := c.file
	if g.Default = c.everywhere; file == "" {
		return g, nil
	}
	if _, serr := os.Stat(file); file != "-" && errors.Is(serr, os.ErrNotExist) && !strings.ContainsAny(file, "./\\") {
		_, gerr := route.ParseGround(file)
		return g, flagError("ground", gerr)
	}
	sections, err := read(a, file, func(r io.Reader, name string) ([]route.Section, error) {
		s, notes, err := route.ReadGround(r, name)
		l.notes = append(l.notes, notes...)
		return s, err
	})
	if err != nil {
		return g, err
	}
	if d := guessed(sections); d > 0 {
		l.notes = append(l.notes, fmt.Sprintf("%s: the ground of %.0f km is guessed from the class of the road, "+
			"as its notes say", file, d.Kilometres()))
	}
	if l.cut.Where != "" && !l.cut.Last {
		return g, &input.Error{File: file,
			What: "its kilometres beyond the cut are not known: a file in the middle of the ride is cut off",
			Hint: "give one ground for all of it, such as --ground dirt, or plan the whole files"}
	}
	if l.cut.Where != "" {
		kept, left, ok := line.Within(sections)
		if sections = kept; ok {
			l.notes = append(l.notes, file+": "+words.GroundLeftOut(left))
		}
	}
	if n := len(sections); n > 0 {
		g.End = sections[n-1].To
	}
	g.Sections, g.Measure, err = line.Lay(sections)
	return g, inFile(err, file)
}

// roads reads the ways out, which have to be those of the line; none where no file is given.
func (a *app) roads(file string, line *route.Line, l *loop) ([]wayout.Way, error) {
	if file == "" {
		return nil, nil
	}
	return read(a, file, func(r io.Reader, name string) ([]wayout.Way, error) {
		ways, notes, err := wayout.Read(r, name, wayout.Sum(line))
		l.notes = append(l.notes, notes...)
		return ways, err
	})
}

// guessed gives how much ground a survey has guessed.
func guessed(sections []route.Section) (d route.Metres) {
	for _, s := range sections {
		if s.Guessed() {
			d += s.To - s.From
		}
	}
	return d
}

// stops reads the stop lists, or without any the fuel waypoints of the loop.
func (a *app) stops(names []string, l *loop, posted octane.Scale) ([]stop.Stop, error) {
	if len(names) == 0 {
		stops, notes, err := stop.FromWaypoints(l.file.Waypoints, posted)
		l.notes = append(append(l.notes, notes...), when.HoursToAsk(stops)...)
		return stops, err
	}
	var all []stop.Stop
	var faults []error
	for _, name := range names {
		s, err := read(a, name, func(r io.Reader, name string) ([]stop.Stop, error) {
			s, notes, err := readStops(r, name, posted)
			l.notes = append(l.notes, notes...)
			return s, err
		})
		if err != nil {
			faults = append(faults, err)
		}
		all = append(all, s...)
	}
	l.notes = append(l.notes, when.HoursToAsk(all)...)
	return all, errors.Join(faults...)
}

// readStops reads a list of stops: the waypoints of a GPX file, which its content
// tells and not its name, or CSV.
func readStops(r io.Reader, name string, posted octane.Scale) ([]stop.Stop, []string, error) {
	buf := bufio.NewReader(r)
	if head, _ := buf.Peek(512); !gpxfile.Likely(head) {
		return stop.ReadCSV(buf, name, posted)
	}
	f, err := gpxfile.Read(buf, name)
	if err != nil {
		return nil, nil, err
	}
	return stop.FromWaypoints(f.Waypoints, posted)
}

// read opens a file, or standard input for "-", and reads it.
func read[T any](a *app, name string, parse func(io.Reader, string) (T, error)) (T, error) {
	var none T
	step := a.progress.begin("reading " + name)
	if name == "-" {
		in, err := a.carried.through(name, step.through(a.stdin))
		if err != nil {
			return none, fileError(name, err)
		}
		return parse(in, "standard input")
	}
	f, err := os.Open(name)
	if err != nil {
		return none, fileError(name, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil {
		step.all = info.Size()
	}
	if err == nil && info.IsDir() {
		return none, &input.Error{File: name, What: "this is a folder, not a file",
			Hint: "name the file in it, or several in the order of the ride"}
	}
	in, err := a.carried.through(name, step.through(f))
	if err != nil {
		return none, fileError(name, err)
	}
	return parse(in, input.OneLine(name))
}

func fileError(name string, err error) error {
	var pe *os.PathError
	if errors.Is(err, os.ErrNotExist) {
		return &input.Error{File: name, What: "no such file", Hint: "is the name right, and the folder?"}
	}
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return &input.Error{File: name, What: err.Error()}
}

// inFile names the file in an error that comes from what was read of it.
func inFile(err error, name string) error {
	var ie *input.Error
	if errors.As(err, &ie) && ie.File == "" {
		named := *ie
		named.File = name
		return &named
	}
	return err
}
