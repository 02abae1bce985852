// Package learning has the commands about fills: fills, which writes them down ([Fills]), and learn, which
// learns from them what the bike drinks ([Learn]).
package learning

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report/learnt"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/learn"
	"lastpump/fuel/learn/fills"
	"lastpump/fuel/plan"
	"lastpump/octane"
	"lastpump/route/input"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// learnFlags are the flags of learn as they are written.
type learnFlags struct {
	bike, out, json, html string
	fresh                 bool
	line                  ride.Flags // those that say how the line is made
}

// Learn is the command that learns from fill-ups.
func Learn(a *app.App) *cobra.Command {
	var f learnFlags
	c := &cobra.Command{
		Use:   "learn FILLS.csv --bike FILE [LOOP.gpx…]",
		Short: "learn from fill-ups what the bike drinks",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return app.Misuse("learn takes a file of fills", "lastpump learn fills.csv --bike bike.toml")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return learnFills(a, args[0], args[1:], f) },
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
	f.line.Register(all)
	for _, name := range ofLine {
		s.AddFlag(all.Lookup(name))
	}
}

// learnFills reads a file of fills and tells what was learnt from it.
func learnFills(a *app.App, log string, gpx []string, f learnFlags) (err error) {
	if f.bike == "" {
		return app.Misuse("learn without a bike", "say which bike it is: --bike bike.toml")
	}
	if a.Units, err = units.Parse(f.line.Units); err != nil {
		return app.FlagError("units", err)
	}
	if err := f.oneFileEach(); err != nil {
		return err
	}
	reports := []output.Named{output.To("json", f.json), output.To("html", f.html)}
	from := slices.Concat(gpx, f.line.Stops, f.line.Ground, []string{log, f.bike})
	if err := output.KeepFiles(a.Stdout, reports, from); err != nil {
		return err
	}
	kept := []output.Named{output.To("out", f.out)}
	if err := output.KeepFiles(a.Stdout, kept, append(slices.Clone(gpx), log)); err != nil {
		return err
	}
	posted, err := f.line.Posted()
	if err != nil {
		return err
	}
	text, b, err := bikeText(a, f.bike, posted)
	if err != nil {
		return err
	}
	if f.fresh {
		b.Learnt = nil
	}
	r, err := learnFrom(a, log, gpx, f, b)
	if err != nil {
		return err
	}
	return writeLearnt(a, r, f, text, posted)
}

// oneFileEach refuses two files that would take each other's place.
func (f *learnFlags) oneFileEach() error {
	all := []output.Named{output.To("out", f.out), output.To("json", f.json), output.To("html", f.html)}
	return output.OneFileEach(slices.DeleteFunc(all, func(r output.Named) bool { return r.File == "" }))
}

// bikeText reads a bike file, and keeps its text.
func bikeText(a *app.App, name string, posted octane.Scale) (text string, b fuel.Bike, err error) {
	b, err = app.Read(a, name, func(r io.Reader, name string) (fuel.Bike, error) {
		data, err := io.ReadAll(r)
		if err != nil {
			return fuel.Bike{}, app.FileError(name, err)
		}
		text = string(data)
		return fuel.ReadBike(bytes.NewReader(data), name, posted)
	})
	return text, b, err
}

// learnFrom reads the log, and the line where there is one, and learns.
func learnFrom(a *app.App, log string, gpx []string, f learnFlags, b fuel.Bike) (learnt.Report, error) {
	var none learnt.Report
	state, err := learn.Resume(b)
	if err != nil {
		e := input.Wrap("", err)
		e.File = input.OneLine(f.bike)
		return none, e
	}
	l, err := app.Read(a, log, fills.Read)
	if err != nil {
		return none, err
	}
	ride, notes, err := rideOf(a, gpx, f, b)
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
func rideOf(a *app.App, gpx []string, f learnFlags, b fuel.Bike) (*fills.Ride, []string, error) {
	if len(gpx) == 0 {
		if len(f.line.Ground) > 0 {
			return nil, nil, app.Misuse("--ground without a line", "give the line that it lies under: LOOP.gpx")
		}
		return nil, nil, nil
	}
	posted, err := f.line.Posted()
	if err != nil {
		return nil, nil, err
	}
	l, err := ride.ReadLoop(a, gpx, f.line)
	if err != nil {
		return nil, nil, err
	}
	stops, err := ride.Stops(a, f.line.Stops, l, posted)
	if err != nil {
		return nil, nil, err
	}
	corridor := plan.DefaultOptions().Corridor
	line, err := l.Line(f.line, stops, corridor)
	if err != nil {
		return nil, nil, err
	}
	grounds, err := ride.Grounds(a, f.line, line, l)
	if err != nil {
		return nil, nil, err
	}
	return &fills.Ride{Course: fuel.NewCourse(line.Runs(grounds), b, 1), Half: ride.Detours(line, stops, corridor)},
		app.OneLines(l.Notes), nil
}

// writeLearnt writes all reports, or none.
func writeLearnt(a *app.App, r learnt.Report, f learnFlags, text string, posted octane.Scale) error {
	out := output.Outputs{Stdout: a.Stdout, Keeps: f.out}
	if f.out != "" {
		file, err := withLearnt(r, text, posted)
		if err != nil {
			return err
		}
		out.Add(f.out, func(w io.Writer) error {
			_, err := io.WriteString(w, file)
			return err
		})
	}
	out.Add(f.json, func(w io.Writer) error { return learnt.WriteJSON(w, r) })
	out.Add(f.html, func(w io.Writer) error { return learnt.WriteHTML(w, r, a.Units) })
	if f.json != "-" && f.out != "-" && f.html != "-" {
		out.Add("-", func(w io.Writer) error { return learnt.Write(w, r, a.Units) })
	}
	if err := out.Write(); err != nil {
		return err
	}
	if f.out == "" || f.out == "-" || f.json == "-" || f.html == "-" {
		return nil
	}
	_, err := fmt.Fprintln(a.Stdout, filled.LearntWritten(input.OneLine(f.out), app.OneLines(out.Kept)))
	return err
}

// withLearnt gives the text of a bike file with what was learnt, and looks whether it can
// be read again.
func withLearnt(r learnt.Report, text string, posted octane.Scale) (string, error) {
	if r.Kept.Tanks() == 0 {
		return "", app.Misuse("--out: no full tank was learnt from, and there is nothing to keep",
			"learn again when the tank is full")
	}
	b := r.Bike
	kept := r.Kept.Keep(b, r.Tanks.Last)
	if b.Learnt != nil && len(r.Entries) == 0 {
		kept = *b.Learnt
	}
	file := fuel.WithLearnt(text, filled.LearntRemark, kept)
	again, err := fuel.ReadBike(bytes.NewReader([]byte(file)), "bike", posted)
	if err != nil || again.Learnt == nil || *again.Learnt != kept {
		return "", app.Misuse("--out: the bike file has a table learnt that is written in another way",
			"take it out of the file, and learn again from all tanks of the log")
	}
	return file, nil
}
