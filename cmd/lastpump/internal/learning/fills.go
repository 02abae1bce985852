package learning

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words/filled"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/learn/fills"
	"lastpump/octane"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

// Fills is the command that begins a file of fills, or adds a row to one.
func Fills(a *app.App) *cobra.Command {
	var system string
	c := &cobra.Command{
		Use:   "fills",
		Short: "an empty file of fills, or a row more in one",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return app.Misuse(fmt.Sprintf("fills knows no %q", args[0]), "lastpump fills add fills.csv 146.9km 8.4L")
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error {
			u, err := units.Parse(system)
			if err != nil {
				return app.FlagError("units", err)
			}
			_, err = io.WriteString(a.Stdout, filled.EmptyFills(u))
			return err
		},
	}
	c.Flags().StringVar(&system, "units", string(units.Metric), "")
	c.AddCommand(addCommand(a))
	return c
}

// addFlags are the flags of fills add as they are written.
type addFlags struct{ event, date, span, note, bike string }

func addCommand(a *app.App) *cobra.Command {
	var f addFlags
	c := &cobra.Command{
		Use: "add FILE [DISTANCE] [AMOUNT] [GRADE]",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 || args[0] == "-" {
				return app.Misuse("fills add takes the file to add to", "lastpump fills add fills.csv 146.9km 8.4L \"95 RON\"")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return addFill(a, args[0], args[1:], f) },
	}
	c.Flags().StringVar(&f.event, "event", string(fills.Full), "")
	c.Flags().StringVar(&f.date, "date", "", "")
	c.Flags().StringVar(&f.span, "span", "", "")
	c.Flags().StringVar(&f.note, "note", "", "")
	c.Flags().StringVar(&f.bike, "bike", "", "")
	return c
}

// newFill reads a row as it is typed. u are the units it is typed in.
func newFill(figures []string, f addFlags) (row fills.NewRow, u units.System, err error) {
	row = fills.NewRow{Event: fills.Event(strings.ToLower(f.event)), Note: input.OneLine(f.note), Date: time.Now()}
	if !slices.Contains(fills.Events(), row.Event) {
		return row, u, app.FlagError("event", input.BadValue(f.event, "is no event",
			"write full, part, missed, lamp, reserve or dry"))
	}
	if f.date != "" {
		if row.Date, err = typed.Day(f.date); err != nil {
			return row, u, app.FlagError("date", err)
		}
	}
	if row.FromKm, row.ToKm, err = parseSpan(f.span); err != nil {
		return row, u, app.FlagError("span", err)
	}
	u = units.Metric
	for _, s := range figures {
		if err := figure(&row, s, &u); err != nil {
			return row, u, err
		}
	}
	return row, u, nil
}

// inMiles and inGallons tell the unit of what is typed.
var (
	inMiles   = regexp.MustCompile(`(?i)\d\s*mi`)
	inGallons = regexp.MustCompile(`(?i)us|gal`)
)

// figure takes one figure: a distance, an amount or a grade, whichever it is.
func figure(row *fills.NewRow, s string, u *units.System) error {
	_, notDistance := fuel.ParseDistance(s)
	litres, notAmount := fuel.ParseLitres(s)
	_, notGrade := octane.Parse(s)
	into, what := &row.Grade, "a grade"
	switch {
	case notDistance == nil:
		if into, what = &row.Distance, "a distance"; inMiles.MatchString(s) && *u == units.Metric {
			*u = units.UK
		}
	case notAmount == nil:
		if !(litres > 0) {
			return input.BadValue(s, "is no amount", "leave it out where it is not known")
		}
		if into, what = &row.Amount, "an amount"; inGallons.MatchString(s) {
			*u = units.US
		}
	case errors.Is(notGrade, octane.ErrNoScale):
		return notGrade
	case notGrade != nil:
		return app.Misuse(fmt.Sprintf("%q is neither a distance, nor an amount, nor a grade", s),
			`write them with their unit: 146.9km 8.4L "95 RON"`)
	}
	if *into != "" {
		return app.Misuse(fmt.Sprintf("%q is %s, and there is one already: %q", s, what, *into), "one row is one fill")
	}
	*into = input.OneLine(s)
	if into != &row.Grade {
		*into = input.DecimalPoint(*into)
	}
	return nil
}

var span = regexp.MustCompile(`^\s*(\d+(?:\.\d+)?)\s*-\s*(\d+(?:\.\d+)?)\s*(?:km)?\s*$`)

// parseSpan reads "0-142.4", kilometres of the line.
func parseSpan(s string) (from, to string, err error) {
	m := span.FindStringSubmatch(s)
	if m == nil && s != "" {
		return "", "", input.BadValue(s, "is no span of the line", "write its kilometres from and to, like 0-142.4")
	}
	if s == "" {
		return "", "", nil
	}
	return m[1], m[2], nil
}

// addFill adds a row to a file of fills.
func addFill(a *app.App, name string, figures []string, f addFlags) error {
	row, u, err := newFill(figures, f)
	if err != nil {
		return err
	}
	unlock, err := lock(name)
	if err != nil {
		return err
	}
	defer unlock()
	text, err := os.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		text = []byte(filled.EmptyFills(u))
	case err != nil:
		return app.FileError(name, err)
	}
	added, err := fills.Add(text, input.OneLine(name), row)
	if err != nil {
		return err
	}
	tanks, err := tanksOf(a, added.Log, f.bike)
	if err != nil {
		return err
	}
	out := output.Outputs{Stdout: a.Stdout}
	out.Add(name, func(w io.Writer) error {
		_, err := w.Write(added.Text)
		return err
	})
	out.Add("-", func(w io.Writer) error { return tellAdded(w, added, tanks) })
	return out.Write()
}

// tanksOf makes tanks of a log, with a bike or as any bike would have ridden them.
func tanksOf(a *app.App, l *fills.Log, bike string) ([]fills.Tank, error) {
	b := fuel.DefaultBike()
	b.Tank = anyTank
	if bike != "" {
		var err error
		if b, err = ride.Bike(a, bike, octane.ScaleRON); err != nil {
			return nil, err
		}
		b.Learnt = nil
	}
	tanks, err := l.Tanks(b, nil)
	if errors.Is(err, fills.ErrNothing) && (bike == "" || len(tanks.Tanks) == 0) {
		err = nil // a log that is begun, or of a bike that is not known
	}
	return tanks.Tanks, err
}

// anyTank is a tank that holds what any does.
const anyTank fuel.Litres = 160

// odd is by how much a tank is off those before it so that it is said.
const odd = 2

// tellAdded says what was added, and how its tank compares with those before it.
func tellAdded(w io.Writer, added fills.Added, tanks []fills.Tank) error {
	u := units.Metric
	switch {
	case added.Log.Volume == "gal_us":
		u = units.US
	case added.Log.Miles:
		u = units.UK
	}
	lines := []string{filled.FillAdded(added.Row, added.Log.Odometer, u)}
	if added.Early() {
		lines = append(lines, filled.AddedBefore(added.Above))
	}
	var before []float64
	for _, t := range tanks {
		if t.Not != "" || !(t.Distance > 0) {
			continue
		}
		rate := float64(t.Litres) / t.Distance.Kilometres()
		if t.To.Line != added.Row.Line {
			before = append(before, rate)
			continue
		}
		lines = append(lines, filled.TankTook(t.Distance, t.Litres, u))
		slices.Sort(before)
		if n := len(before); n > 0 {
			if times := rate / before[n/2]; times > odd || times < 1./odd {
				lines = append(lines, filled.TankOdd(times))
			}
		}
	}
	t := sheet.NewText(w)
	for _, line := range lines {
		t.Line("", line)
	}
	return t.Flush()
}

// How long is waited for another that adds to the same file.
const (
	lockTries = 40
	lockPause = 50 * time.Millisecond
)

// lock keeps others from adding to a file at the same time: one of the two rows would be
// lost.
func lock(name string) (unlock func(), err error) {
	beside := name + ".lock"
	for range lockTries {
		f, err := os.OpenFile(beside, os.O_CREATE|os.O_EXCL|os.O_WRONLY, output.NewFile)
		if err == nil {
			f.Close()
			return func() { os.Remove(beside) }, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, output.Error(name, err)
		}
		time.Sleep(lockPause)
	}
	return nil, &input.Error{File: name, What: "somebody else is adding to it",
		Hint: "if nobody is, delete " + beside + ", which was left behind"}
}
