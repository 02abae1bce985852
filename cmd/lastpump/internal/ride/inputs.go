// Package ride reads what a plan is made from: the flags of plan ([Flags]), the GPX files as one ride ([Loop]), and the
// lists that the flags name ([Inputs] reads all of it). A survey and what learns from fills read their line by the
// same flags and in the same way.
package ride

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/bail"
	"lastpump/cmd/lastpump/internal/words/landed"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel"
	"lastpump/fuel/bailout"
	"lastpump/fuel/learn"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/wayout"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"
	"lastpump/route/land"
)

// Inputs reads the files that the flags name. The bike of the inputs is the first.
func Inputs(a *app.App, gpx []string, f Flags) (in plan.Inputs, bikes []fuel.Bike, notes []string, err error) {
	if in.Options, a.Units, err = f.Options(); err != nil {
		return in, nil, nil, err
	}
	posted, err := f.Posted()
	if err != nil {
		return in, nil, nil, err
	}
	told, err := f.told(posted)
	if err != nil {
		return in, nil, nil, err
	}
	if err := f.fit(); err != nil {
		return in, nil, nil, err
	}
	if bikes, err = bikesOf(a, f, posted); err != nil {
		return in, nil, nil, err
	}
	in.Bike = bikes[0]
	byTripMeter(in.Options.Days, in.Bike)
	l, err := ReadLoop(a, gpx, f)
	if err != nil {
		return in, nil, nil, err
	}
	in.Name, in.Cut = l.Name, l.cut
	if in.Stops, err = Stops(a, f.Stops, l, posted); err != nil {
		return in, nil, nil, err
	}
	a.Progress.Begin("measuring the line")
	if in.Line, err = l.Line(f, in.Stops, in.Options.Corridor); err != nil {
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
	in.Choices = slices.Concat(l.Relief, l.recorded)
	if err := alongside(a, f, &in, l); err != nil {
		return in, nil, nil, err
	}
	said, err := rideSoFar(a, f, &in)
	return in, bikes, slices.Concat(l.Notes, f.notes(), f.clockNotes(in.Options), said), err
}

// fit checks flags before anything is read, those of the line too, which is made last.
func (f Flags) fit() error {
	switch {
	case f.Fills != "" && f.from == "":
		return &plan.Refusal{Why: plan.FillsNotWhere}
	case f.Fills != "" && f.used != "":
		return &plan.Refusal{Why: plan.UsedAndFills}
	}
	if _, err := f.line(); err != nil {
		return err
	}
	_, err := f.heightsFromRelief()
	return err
}

// alongside reads the lists that hold for one line: ways by road, what is drawn beside it, and its ground.
func alongside(a *app.App, f Flags, in *plan.Inputs, l *Loop) (err error) {
	if in.Roads, err = roads(a, f.Roads, in.Line, l); err != nil {
		return f.asFiled(err)
	}
	if in.Bail, err = bailOuts(a, f.BailOuts, in.Line, l); err != nil {
		return f.asFiled(err)
	}
	if in.Land, err = beside(a, f.Land, in.Line, l); err != nil {
		return err
	}
	in.Grounds, err = Grounds(a, f, in.Line, l)
	return err
}

// bikesOf reads the bike files in the order given; without any there is one bike.
func bikesOf(a *app.App, f Flags, posted octane.Scale) ([]fuel.Bike, error) {
	names := f.Bikes
	if len(names) == 0 {
		names = []string{""}
	}
	var bikes []fuel.Bike
	for _, name := range names {
		b, err := Bike(a, name, posted)
		if err != nil {
			return nil, err
		}
		if b.TrueRate = f.trueRate; b.TrueRate && b.Learnt != nil && b.Odometer != 1 {
			return nil, app.Misuse("--true-rate, and what "+input.OneLine(name)+
				" has learnt goes by the kilometres that the bike shows",
				"leave --true-rate out, or take the table learnt out of the file")
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

// Bike reads a bike file; without one it is the embedded default.
func Bike(a *app.App, name string, posted octane.Scale) (fuel.Bike, error) {
	if name == "" {
		b := fuel.DefaultBike()
		b.Invented = true
		return b, nil
	}
	return app.Read(a, name, func(r io.Reader, name string) (fuel.Bike, error) {
		return fuel.ReadBike(r, name, posted)
	})
}

// Grounds reads the sections of ground and lays them on the line. Of a file that is
// cut off there may be no line for the last of them.
func Grounds(a *app.App, f Flags, line *route.Line, l *Loop) (g route.Grounds, err error) {
	c, err := f.groundFlags()
	if err != nil {
		return g, err
	}
	if c.guessed != "" {
		l.Notes = append(l.Notes, words.GroundGuessed(c.guessed, c.everywhere))
	}
	file := c.file
	if g.Default = c.everywhere; file == "" {
		return g, nil
	}
	if _, serr := os.Stat(file); file != "-" && errors.Is(serr, os.ErrNotExist) && !strings.ContainsAny(file, "./\\") {
		_, gerr := route.ParseGround(file)
		return g, app.FlagError("ground", gerr)
	}
	sections, err := app.Read(a, file, func(r io.Reader, name string) ([]route.Section, error) {
		s, notes, err := route.ReadGround(r, name)
		l.Notes = append(l.Notes, notes...)
		return s, err
	})
	if err != nil {
		return g, err
	}
	if d := guessed(sections); d > 0 {
		l.Notes = append(l.Notes, fmt.Sprintf("%s: the ground of %.0f km is guessed from the class of the road, "+
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
			l.Notes = append(l.Notes, file+": "+words.GroundLeftOut(left))
		}
	}
	if n := len(sections); n > 0 {
		g.End = sections[n-1].To
	}
	g.Sections, g.Measure, err = line.Lay(sections)
	return g, app.InFile(err, file)
}

// asFiled says of ways of another line that they are of this one in the order of its files, where flags
// arrange it otherwise.
func (f Flags) asFiled(err error) error {
	var e *input.Error
	arranged := f.reverse || f.beginAt != "" || f.order != "" || len(f.skipPart) > 0
	if !arranged || !errors.Is(err, wayout.ErrOtherLine) || !errors.As(err, &e) {
		return err
	}
	said := *e
	said.Hint = "ways by road hold for the ride in the order of its files alone: leave --reverse, --begin-at, --order and " +
		"--skip-part out, or plan without the list"
	return &said
}

// roads reads the ways out, which have to be those of the line; none where no file is given.
func roads(a *app.App, file string, line *route.Line, l *Loop) ([]wayout.Way, error) {
	if file == "" {
		return nil, nil
	}
	return app.Read(a, file, func(r io.Reader, name string) ([]wayout.Way, error) {
		ways, notes, err := wayout.Read(r, name, wayout.Sum(line))
		l.Notes = append(l.Notes, notes...)
		return ways, err
	})
}

// bailOuts reads where a rider in trouble gets help, which has to be looked for along this line; nil
// where no file is given.
func bailOuts(a *app.App, file string, line *route.Line, l *Loop) ([]bailout.Mark, error) {
	if file == "" {
		return nil, nil
	}
	ways, err := app.Read(a, file, func(r io.Reader, name string) ([]bailout.Way, error) {
		ways, notes, err := bailout.Read(r, name, wayout.Sum(line))
		l.Notes = append(l.Notes, notes...)
		return ways, err
	})
	if err != nil {
		return nil, err
	}
	marks := bailout.Gather(line, ways)
	if from, silent := bailout.SilentFrom(marks); silent {
		l.Notes = append(l.Notes, fmt.Sprintf("%s: %s", input.OneLine(file), bail.SilentFrom(from, a.Units)))
	}
	return marks, nil
}

// beside reads what lies beside the line; nil where no file is given.
func beside(a *app.App, file string, line *route.Line, l *Loop) (*land.Land, error) {
	if file == "" {
		return nil, nil
	}
	return app.Read(a, file, func(r io.Reader, name string) (*land.Land, error) {
		found, notes, err := land.Read(r, name, line, wayout.Sum(line))
		l.Notes = append(l.Notes, landed.Notes(name, notes)...)
		return found, err
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

// Stops reads the stop lists, or without any the fuel waypoints of the loop.
func Stops(a *app.App, names []string, l *Loop, posted octane.Scale) ([]stop.Stop, error) {
	if len(names) == 0 {
		stops, notes, err := stop.FromWaypoints(l.File.Waypoints, posted)
		l.Notes = append(append(l.Notes, notes...), when.HoursToAsk(stops)...)
		return stops, err
	}
	var all []stop.Stop
	var faults []error
	for _, name := range names {
		s, err := app.Read(a, name, func(r io.Reader, name string) ([]stop.Stop, error) {
			s, notes, err := readStops(r, name, posted)
			l.Notes = append(l.Notes, notes...)
			return s, err
		})
		if err != nil {
			faults = append(faults, err)
		}
		all = append(all, s...)
	}
	l.Notes = append(l.Notes, when.HoursToAsk(all)...)
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
