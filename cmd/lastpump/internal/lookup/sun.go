package lookup

import (
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report/text"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/cmd/lastpump/internal/zones"
	"lastpump/fuel/stop"
	"lastpump/route/sun"

	"github.com/paulmach/orb"
	"github.com/spf13/cobra"
)

// sunFlags are the flags of sun as they are written.
type sunFlags struct {
	from, timezone, json string
	days                 int
}

// Sun is the command that prints when the sun rises and sets.
func Sun(a *app.App) *cobra.Command {
	var f sunFlags
	c := &cobra.Command{
		Use:   "sun LAT,LON",
		Short: "when the sun rises and sets",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return app.Misuse("sun takes one place", when.HintPlace)
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return printSun(a, args[0], f) },
	}
	s := c.Flags()
	s.StringVar(&f.from, "from", "", "")
	s.IntVar(&f.days, "days", 1, "")
	s.StringVar(&f.timezone, "timezone", "", "")
	s.StringVar(&f.json, "json", "", "")
	return c
}

// mostSunDays is for how many days times are given at once: ten years.
const mostSunDays = 3660

func printSun(a *app.App, place string, f sunFlags) error {
	p, err := parsePlace(place)
	if err != nil {
		return err
	}
	zone := time.UTC
	if f.timezone != "" {
		if zone, err = zones.Parse(f.timezone); err != nil {
			return app.FlagError("timezone", err)
		}
	}
	first := time.Now().In(zone)
	if f.from != "" {
		if first, err = typed.Day(f.from); err != nil {
			return app.FlagError("from", err)
		}
	}
	if f.days < 1 || f.days > mostSunDays {
		return app.Misuse(fmt.Sprintf("--days: %d is not between 1 and %d", f.days, mostSunDays), when.HintDays)
	}
	var days []text.SunDay
	for i := range f.days {
		y, m, d := first.Date()
		noon := time.Date(y, m, d+i, 12, 0, 0, 0, zone) // midnight is not there on every day
		days = append(days, text.SunDay{Date: noon, Times: sun.On(p, noon)})
	}
	out := output.Outputs{Stdout: a.Stdout}
	out.Add(f.json, func(w io.Writer) error { return writeSunJSON(w, days) })
	if f.json != "-" {
		out.Add("-", func(w io.Writer) error { return text.WriteSun(w, days) })
	}
	return out.Write()
}

// parsePlace reads a latitude and a longitude with a comma between them.
func parsePlace(s string) (orb.Point, error) {
	lat, lon, ok := strings.Cut(s, ",")
	if !ok || strings.Contains(lon, ",") {
		return orb.Point{}, app.Misuse(fmt.Sprintf("%q is no place", s), when.HintPlace)
	}
	var p orb.Point
	var err error
	if p[1], err = stop.ParseAngle(strings.TrimSpace(lat), stop.Latitude); err == nil {
		p[0], err = stop.ParseAngle(strings.TrimSpace(lon), stop.Longitude)
	}
	if err != nil {
		return p, app.Misuse(err.Error(), when.HintPlace)
	}
	return p, nil
}

// southern is a place that begins with a minus, which looks like a flag.
var southern = regexp.MustCompile(`^-[0-9.][^,]*,`)

// PlacesLast puts a place that begins with a minus behind the flags, where it is none.
func PlacesLast(args []string) []string {
	i := slices.IndexFunc(args, southern.MatchString)
	if len(args) == 0 || args[0] != "sun" || i < 0 || slices.Contains(args, "--") {
		return args
	}
	return slices.Concat(args[:i], args[i+1:], []string{"--", args[i]})
}

// sunDocument is the days as JSON. Times are UTC, null where the sun does not do so that day.
type sunDocument struct {
	Format string       `json:"format"`
	Days   []sunDayJSON `json:"days"`
}

type sunDayJSON struct {
	Date  string    `json:"date"`
	State sun.State `json:"state"`
	Rise  *string   `json:"rise_utc"`
	Set   *string   `json:"set_utc"`
	Dawn  *string   `json:"dawn_utc"`
	Dusk  *string   `json:"dusk_utc"`
}

// sunFormat names the version of the document. Keys may be added to it, never renamed.
const sunFormat = "lastpump-sun-1"

func writeSunJSON(w io.Writer, days []text.SunDay) error {
	at := func(t time.Time) *string {
		if t.IsZero() {
			return nil
		}
		s := t.UTC().Format(time.RFC3339)
		return &s
	}
	doc := sunDocument{Format: sunFormat}
	for _, d := range days {
		doc.Days = append(doc.Days, sunDayJSON{Date: d.Date.Format(time.DateOnly), State: d.State,
			Rise: at(d.Rise), Set: at(d.Set), Dawn: at(d.Dawn), Dusk: at(d.Dusk)})
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(doc)
}
