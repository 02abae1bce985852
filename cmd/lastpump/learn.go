package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"

	"lastpump/cmd/lastpump/internal/report/learnt"
	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// learnFlags are the flags of learn as they are written.
type learnFlags struct {
	bike, out, json, html string
	fresh                 bool
	line                  planFlags // those that say how the line is made
}

func (a *app) learnCommand() *cobra.Command {
	var f learnFlags
	c := &cobra.Command{
		Use:   "learn FILLS.csv --bike FILE [LOOP.gpx…]",
		Short: "learn from fill-ups what the bike drinks",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return &usageError{"learn takes a file of fills", "lastpump learn fills.csv --bike bike.toml"}
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.learn(args[0], args[1:], f) },
	}
	f.register(c.Flags())
	return c
}

// ofLine are the flags of plan that say how the line is made, what lies under it, and in
// which units it is told.
var ofLine = []string{"ground", "stops", "stretch", "gaps", "strays", "order", "skip-part", "reverse", "begin-at",
	"salvage", "relief", "heights", "units", "pump-scale"}

func (f *learnFlags) register(s *pflag.FlagSet) {
	s.SortFlags = false
	s.StringVar(&f.bike, "bike", "", "")
	s.StringVar(&f.out, "out", "", "")
	s.StringVar(&f.json, "json", "", "")
	s.StringVar(&f.html, "html", "", "")
	s.BoolVar(&f.fresh, "fresh", false, "")
	all := pflag.NewFlagSet("plan", pflag.ContinueOnError)
	f.line.register(all)
	for _, name := range ofLine {
		s.AddFlag(all.Lookup(name))
	}
}

// learn reads a file of fills and tells what was learnt from it.
func (a *app) learn(log string, gpx []string, f learnFlags) (err error) {
	if f.bike == "" {
		return &usageError{"learn without a bike", "say which bike it is: --bike bike.toml"}
	}
	if a.units, err = units.Parse(f.line.units); err != nil {
		return flagError("units", err)
	}
	if err := f.oneFileEach(); err != nil {
		return err
	}
	if err := a.keepFiles([]planReport{{flag: "json", file: f.json}, {flag: "html", file: f.html}}, slices.Concat(gpx, f.line.stops, f.line.ground,
		[]string{log, f.bike})); err != nil {
		return err
	}
	if err := a.keepFiles([]planReport{{flag: "out", file: f.out}}, append(slices.Clone(gpx), log)); err != nil {
		return err
	}
	posted, err := f.line.posted()
	if err != nil {
		return err
	}
	text, b, err := a.bikeText(f.bike, posted)
	if err != nil {
		return err
	}
	if f.fresh {
		b.Learnt = nil
	}
	r, err := a.learnFrom(log, gpx, f, b)
	if err != nil {
		return err
	}
	return a.writeLearnt(r, f, text, posted)
}

// oneFileEach refuses two files that would take each other's place.
func (f *learnFlags) oneFileEach() error {
	all := []planReport{{flag: "out", file: f.out}, {flag: "json", file: f.json}, {flag: "html", file: f.html}}
	return oneFileEach(slices.DeleteFunc(all, func(r planReport) bool { return r.file == "" }))
}

// bikeText reads a bike file, and keeps its text.
func (a *app) bikeText(name string, posted octane.Scale) (text string, b fuel.Bike, err error) {
	b, err = read(a, name, func(r io.Reader, name string) (fuel.Bike, error) {
		data, err := io.ReadAll(r)
		if err != nil {
			return fuel.Bike{}, fileError(name, err)
		}
		text = string(data)
		return fuel.ReadBike(bytes.NewReader(data), name, posted)
	})
	return text, b, err
}

// learnFrom reads the log, and the line where there is one, and learns.
func (a *app) learnFrom(log string, gpx []string, f learnFlags, b fuel.Bike) (learnt.Report, error) {
	var none learnt.Report
	state, err := learn.Resume(b)
	if err != nil {
		e := input.Wrap("", err)
		e.File = input.OneLine(f.bike)
		return none, e
	}
	l, err := read(a, log, fills.Read)
	if err != nil {
		return none, err
	}
	ride, notes, err := a.rideOf(gpx, f, b)
	if err != nil {
		return none, err
	}
	tanks, err := l.Tanks(b, ride)
	if err != nil {
		return none, err
	}
	r := learnt.New(b, state, l, tanks)
	r.Notes = append(r.Notes, notes...)
	return r, nil
}

// rideOf reads the line on which tanks were ridden; nil where none is given.
func (a *app) rideOf(gpx []string, f learnFlags, b fuel.Bike) (*fills.Ride, []string, error) {
	if len(gpx) == 0 {
		if len(f.line.ground) > 0 {
			return nil, nil, &usageError{"--ground without a line", "give the line that it lies under: LOOP.gpx"}
		}
		return nil, nil, nil
	}
	posted, err := f.line.posted()
	if err != nil {
		return nil, nil, err
	}
	l, err := a.readLoop(gpx, f.line)
	if err != nil {
		return nil, nil, err
	}
	stops, err := a.stops(f.line.stops, l, posted)
	if err != nil {
		return nil, nil, err
	}
	corridor := plan.DefaultOptions().Corridor
	line, err := l.line(f.line, stops, corridor)
	if err != nil {
		return nil, nil, err
	}
	grounds, err := a.grounds(f.line, line, l)
	if err != nil {
		return nil, nil, err
	}
	return &fills.Ride{Course: fuel.NewCourse(line.Runs(grounds), b, 1), Half: detours(line, stops, corridor)},
		oneLines(l.notes), nil
}

// atPlace is how near along the line a place stands to where a tank was filled, as the
// rider wrote it down.
const atPlace route.Metres = 1000

// detours gives the way from the line to the stop at which a tank was filled, by where along
// the line that was.
func detours(line *route.Line, stops []stop.Stop, corridor route.Metres) func(route.Metres) route.Metres {
	var all []trip.Sighting
	for i, s := range stops {
		for _, p := range line.Passages(s.At, corridor) {
			all = append(all, trip.Sighting{Stop: i, Passage: p})
		}
	}
	return func(at route.Metres) route.Metres {
		far := func(s trip.Sighting) route.Metres { return max(s.At-at, at-s.At) }
		near := slices.DeleteFunc(slices.Clone(all), func(s trip.Sighting) bool { return far(s) > atPlace })
		if len(near) == 0 {
			return 0
		}
		return slices.MinFunc(near, func(a, b trip.Sighting) int {
			return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a.Off, b.Off))
		}).Detour() / 2
	}
}

// writeLearnt writes all reports, or none.
func (a *app) writeLearnt(r learnt.Report, f learnFlags, text string, posted octane.Scale) error {
	out := outputs{stdout: a.stdout, keeps: f.out}
	if f.out != "" {
		file, err := withLearnt(r, text, posted)
		if err != nil {
			return err
		}
		out.add(f.out, func(w io.Writer) error {
			_, err := io.WriteString(w, file)
			return err
		})
	}
	out.add(f.json, func(w io.Writer) error { return learnt.WriteJSON(w, r) })
	out.add(f.html, func(w io.Writer) error { return learnt.WriteHTML(w, r, a.units) })
	if f.json != "-" && f.out != "-" && f.html != "-" {
		out.add("-", func(w io.Writer) error { return learnt.Write(w, r, a.units) })
	}
	if err := out.write(); err != nil {
		return err
	}
	if f.out == "" || f.out == "-" || f.json == "-" || f.html == "-" {
		return nil
	}
	_, err := fmt.Fprintln(a.stdout, filled.LearntWritten(input.OneLine(f.out), oneLines(out.kept)))
	return err
}

// withLearnt gives the text of a bike file with what was learnt, and looks whether it can
// be read again.
func withLearnt(r learnt.Report, text string, posted octane.Scale) (string, error) {
	if r.Kept.Tanks() == 0 {
		return "", &usageError{"--out: no full tank was learnt from, and there is nothing to keep",
			"learn again when the tank is full"}
	}
	b := r.Bike
	kept := r.Kept.Keep(b, r.Tanks.Last)
	if b.Learnt != nil && len(r.Entries) == 0 {
		kept = *b.Learnt
	}
	file := fuel.WithLearnt(text, filled.LearntRemark, kept)
	again, err := fuel.ReadBike(bytes.NewReader([]byte(file)), "bike", posted)
	if err != nil || again.Learnt == nil || *again.Learnt != kept {
		return "", &usageError{"--out: the bike file has a table learnt that is written in another way",
			"take it out of the file, and learn again from all tanks of the log"}
	}
	return file, nil
}
