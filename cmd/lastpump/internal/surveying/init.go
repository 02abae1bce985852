package surveying

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/help"
	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/fuel/stop"
	"lastpump/fuel/survey"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/spf13/cobra"
)

// Init is the command that lays a folder for a ride.
func Init(a *app.App) *cobra.Command {
	var f surveyFlags
	c := &cobra.Command{
		Use:   "init DIR LOOP.gpx…",
		Short: "a folder for a ride of your own",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return app.Misuse("init takes a folder and a GPX file, or several in the order of the ride",
					"lastpump init my-ride loop.gpx")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return startRide(a, args[0], args[1:], f) },
	}
	c.Flags().StringArrayVar(&f.maps, "map", nil, "")
	c.Flags().StringVar(&f.pumpScale, "pump-scale", "", "")
	return c
}

// A starter is a file that a ride begins with.
type starter struct {
	name, what string
	write      func(io.Writer) error
}

// startRide lays a folder for a ride: a bike file to fill in, the stops and the ground. A file that is
// there keeps its words.
func startRide(a *app.App, dir string, gpx []string, f surveyFlags) error {
	starters, err := startersOf(a, gpx, f)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return output.Error(dir, err)
	}
	out := output.Outputs{Stdout: a.Stdout}
	var said []string
	for _, s := range starters {
		name := filepath.Join(dir, s.name)
		shown := input.OneLine(name)
		if _, err := os.Lstat(name); err == nil {
			said = append(said, fmt.Sprintf("%s is there already: left as it is", shown))
			continue
		}
		out.Add(name, s.write)
		said = append(said, fmt.Sprintf("%s: %s", shown, s.what))
	}
	in := func(name string) string { return report.Quoted(input.OneLine(filepath.Join(dir, name))) }
	command := "lastpump plan"
	for _, name := range gpx {
		command += " " + report.Quoted(input.OneLine(name))
	}
	command += fmt.Sprintf(" --stops %s --ground %s --bike %s", in(stopsFile), in(groundFile), in(bikeFile))
	out.Add("-", func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "%s\n\nFill in the bike, look through the other two, and then:\n  %s\n",
			strings.Join(said, "\n"), command)
		return err
	})
	return out.Write()
}

const bikeFile = "bike.toml"

// startersOf gives what a ride begins with: stops and ground of a map where there is one, else
// the fuel waypoints of the loop and one stretch of ground that is not known.
func startersOf(a *app.App, gpx []string, f surveyFlags) ([]starter, error) {
	bike := starter{bikeFile, "your bike, to fill in", func(w io.Writer) error {
		_, err := io.WriteString(w, help.BikeTemplate)
		return err
	}}
	if len(f.maps) > 0 {
		opt, _, err := f.options()
		if err != nil {
			return nil, err
		}
		debug.SetMemoryLimit(memoryLimit)
		stopWatch := a.Progress.Watch(a.Stderr, app.IsTerminal(a.Stderr), time.Second, time.Second/5)
		found, err := findAlong(a, gpx, f, opt)
		stopWatch()
		if err != nil {
			return nil, err
		}
		return starts(bike, found.Survey)
	}
	posted, err := app.ParseScale(f.pumpScale)
	if err != nil {
		return nil, err
	}
	l, err := ride.ReadLoop(a, gpx, ride.Flags{Heights: "file"})
	if err != nil {
		return nil, err
	}
	stops, _, err := stop.FromWaypoints(l.File.Waypoints, posted)
	if err != nil {
		return nil, err
	}
	line, err := l.ToSurvey(route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		return nil, err
	}
	said := fmt.Sprintf("%d stops, the fuel waypoints of the loop", len(stops))
	if len(stops) == 0 {
		said = "no fuel waypoint in the loop: write your stops into it, or let a map find them with --map"
	}
	ground := []route.Section{{To: line.FileLength(route.AsGiven), Ground: route.Unknown}}
	return []starter{bike,
		{stopsFile, said, func(w io.Writer) error { return stop.WriteCSV(w, stops) }},
		{groundFile, "what lies under the wheels, not known yet: write it in, km by km",
			func(w io.Writer) error { return route.WriteGround(w, ground) }},
	}, nil
}

// starts gives what a ride begins with of a survey.
func starts(bike starter, s *survey.Survey) ([]starter, error) {
	stops, ground := s.Stops(), s.Ground()
	guessed := len(slices.DeleteFunc(slices.Clone(ground), func(g route.Section) bool { return !g.Guessed() }))
	return []starter{bike,
		{stopsFile, fmt.Sprintf("%d stops of the map, none confirmed", len(stops)), func(w io.Writer) error { return stop.WriteCSV(w, stops) }},
		{groundFile, fmt.Sprintf("%d stretches of ground of the map, %d of them guessed", len(ground), guessed),
			func(w io.Writer) error { return route.WriteGround(w, ground) }},
	}, nil
}
