package lookup

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/stop/hours"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

// hoursFlags are the flags of hours as they are written.
type hoursFlags struct {
	from, days, json string
	holidays         []string
}

// Hours is the command that prints when a place is open.
func Hours(a *app.App) *cobra.Command {
	var f hoursFlags
	c := &cobra.Command{
		Use:   "hours VALUE",
		Short: "when a pump is open, by its opening hours",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return app.Misuse("hours takes one value, in quotes",
					`lastpump hours "Mo-Fr 08:00-20:00; Su off" --from 2026-07-01 --days 14`)
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return printHours(a, args[0], f) },
	}
	c.Flags().StringVar(&f.from, "from", "", "")
	c.Flags().StringVar(&f.days, "days", "14", "")
	c.Flags().StringArrayVar(&f.holidays, "holiday", nil, "")
	c.Flags().StringVar(&f.json, "json", "", "")
	return c
}

// openHours are hours on some days, to be printed.
type openHours struct {
	value         string
	hours         hours.Hours
	notUnderstood *hours.NotUnderstood // nil where they are understood
	from          time.Time            // the first midnight, local time taken as UTC
	days          int
	holidays      []time.Time
}

// printHours prints when a place is open.
func printHours(a *app.App, value string, f hoursFlags) error {
	o := openHours{value: input.OneLine(value)}
	if err := o.read(f); err != nil {
		return err
	}
	out := output.Outputs{Stdout: a.Stdout}
	out.Add(f.json, o.writeJSON)
	if f.json != "-" {
		out.Add("-", o.write)
	}
	if err := out.Write(); err != nil {
		return err
	}
	if o.notUnderstood != nil {
		a.Exit = app.ExitFails
	}
	return nil
}

// mostHoursDays bounds the days that are printed.
const mostHoursDays = 366

// read reads the flags, and the hours.
func (o *openHours) read(f hoursFlags) error {
	y, m, d := time.Now().Date()
	o.from = time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	if err := app.ReadFlags(app.Flag("from", f.from, app.Into(typed.Day, &o.from))); err != nil {
		return err
	}
	var err error
	if o.days, err = strconv.Atoi(f.days); err != nil || o.days < 1 || o.days > mostHoursDays {
		return app.FlagError("days", input.BadValue(f.days, "is no number of days",
			fmt.Sprintf("write 1 to %d", mostHoursDays)))
	}
	for _, s := range f.holidays {
		day, err := typed.Day(s)
		if err != nil {
			return app.FlagError("holiday", err)
		}
		o.holidays = append(o.holidays, day)
	}
	h, err := hours.Read(o.value)
	errors.As(err, &o.notUnderstood)
	o.hours = h.Observing(o.holidays...)
	return nil
}

// write prints the days, one a line.
func (o *openHours) write(w io.Writer) error {
	lines := []string{o.value}
	if o.notUnderstood != nil {
		lines = append(lines, when.NotUnderstood(o.notUnderstood))
	} else {
		unclear := false
		for i := range o.days {
			day := o.from.AddDate(0, 0, i)
			spans := o.hours.Between(day, day.AddDate(0, 0, 1))
			unclear = unclear || slices.ContainsFunc(spans, func(s hours.Span) bool { return s.State == hours.Unclear })
			lines = append(lines, when.HoursOfDay(day, spans))
		}
		lines = append(lines, when.HoursFoot(o.hours, len(o.holidays), unclear)...)
	}
	for _, l := range lines {
		if _, err := fmt.Fprintln(w, sheet.Isolated(l)); err != nil {
			return err
		}
	}
	return nil
}

// writeJSON writes all the days as spans, joined over midnight.
func (o *openHours) writeJSON(w io.Writer) error {
	type span [2]string
	doc := struct {
		Format     string  `json:"format"`
		Understood bool    `json:"understood"`
		Open       []span  `json:"open"`
		Unclear    []span  `json:"unclear"`
		Why        *string `json:"why"`
	}{"lastpump-hours-1", o.notUnderstood == nil, []span{}, []span{}, nil}
	if o.notUnderstood != nil {
		why := when.NotUnderstood(o.notUnderstood)
		doc.Why = &why
	} else {
		const local = "2006-01-02T15:04"
		for _, s := range o.hours.Between(o.from, o.from.AddDate(0, 0, o.days)) {
			at := span{s.From.Format(local), s.To.Format(local)}
			if s.State == hours.Open {
				doc.Open = append(doc.Open, at)
			} else {
				doc.Unclear = append(doc.Unclear, at)
			}
		}
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(doc)
}
