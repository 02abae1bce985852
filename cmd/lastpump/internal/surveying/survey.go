// Package surveying has the commands that prepare a ride: survey, which finds pumps, ground and ways out in a
// map ([Survey]), and init, which lays a folder for a ride, with a map or without ([Init]).
package surveying

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/mapped"
	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel"
	"lastpump/fuel/stop"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/outward"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"
	"lastpump/route/land"
	"lastpump/route/osmfile"
	"lastpump/route/relief"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// surveyFlags are the flags of survey as they are written.
type surveyFlags struct {
	maps                                         []string
	out, corridor, gap, pumpScale, units, relief string
	waysOut                                      string
	towns, salvage                               bool
}

func (f *surveyFlags) register(s *pflag.FlagSet) {
	s.StringArrayVar(&f.maps, "map", nil, "")
	s.StringVar(&f.out, "out", ".", "")
	s.StringVar(&f.corridor, "corridor", "", "")
	s.StringVar(&f.pumpScale, "pump-scale", "", "")
	s.BoolVar(&f.towns, "towns", false, "")
	s.StringVar(&f.waysOut, "ways-out", "", "")
	s.StringVar(&f.gap, "gap", "", "")
	s.StringVar(&f.relief, "relief", "", "")
	s.BoolVar(&f.salvage, "salvage", false, "")
	s.StringVar(&f.units, "units", string(units.Metric), "")
}

// Survey is the command that finds pumps and ground along a loop in a map.
func Survey(a *app.App) *cobra.Command {
	var f surveyFlags
	c := &cobra.Command{
		Use:   "survey LOOP.gpx… --map EXTRACT",
		Short: "pumps and ground along a loop from a map extract",
		Args:  app.AFileAtLeast,
		RunE:  func(_ *cobra.Command, args []string) error { return surveyLoop(a, args, f) },
	}
	c.Flags().SortFlags = false
	f.register(c.Flags())
	return c
}

// extra are the flags that a plan of the same loop needs, too.
func (f *surveyFlags) extra() []string {
	var out []string
	if f.salvage {
		out = append(out, "--salvage")
	}
	if f.relief != "" {
		out = append(out, "--relief", f.relief)
	}
	return out
}

// options reads the flags that say what is looked for.
func (f *surveyFlags) options() (o survey.Options, u units.System, err error) {
	o = survey.DefaultOptions()
	o.Towns, o.Cores = f.towns, runtime.GOMAXPROCS(0)
	if o.Scale, err = app.ParseScale(f.pumpScale); err != nil {
		return o, u, err
	}
	err = app.ReadFlags(
		app.Flag("corridor", f.corridor, app.Into(fuel.ParseDistance, &o.Corridor)),
		app.Flag("gap", f.gap, app.Into(typed.Ride, &o.Gap)),
		app.Flag("ways-out", f.waysOut, app.Into(typed.Ride, &o.WaysOut)),
		app.Flag("units", f.units, app.Into(units.Parse, &u)),
	)
	if err != nil {
		return o, u, err
	}
	if o.Corridor > widestCorridor {
		return o, u, app.FlagError("corridor", input.BadValue(f.corridor, "is too wide",
			"at most 50km: a pump farther off is a ride of its own"))
	}
	if f.waysOut != "" && !(o.WaysOut > 0) || o.WaysOut > farthestOut {
		return o, u, app.FlagError("ways-out", input.BadValue(f.waysOut, "is no distance to petrol by road",
			"40km; at most 150km"))
	}
	return o, u, nil
}

// farthestOut bounds what is held of a map for ways out.
const farthestOut route.Metres = 150_000

// widestCorridor bounds what is held of a map.
const widestCorridor route.Metres = 50_000

// memoryLimit is where memory is given back sooner than it would be otherwise, and what it
// is with the roads about the line.
const (
	memoryLimit      = 256 << 20
	memoryLimitRoads = 930 << 20
)

// surveyLoop reads the loop and the maps and writes the lists that a plan is made from,
// and a summary: all of it, or nothing.
func surveyLoop(a *app.App, gpx []string, f surveyFlags) error {
	opt, system, err := f.options()
	if err != nil {
		return err
	}
	if f.out == "" {
		return app.Misuse("--out without a folder", "name the folder to write into: --out survey")
	}
	if len(f.maps) == 0 {
		return app.Misuse("survey without a map", "name an extract of OpenStreetMap: --map region.osm.pbf")
	}
	if err := output.CanWrite(f.out); err != nil {
		return err
	}
	// What is held of a map in dense country can come near what is promised.
	limit := int64(memoryLimit)
	if opt.WaysOut > 0 {
		limit = memoryLimitRoads
	}
	debug.SetMemoryLimit(limit)
	stopWatch := a.Progress.Watch(a.Stderr, app.IsTerminal(a.Stderr), time.Second, time.Second/5)
	found, err := findAlong(a, gpx, f, opt)
	stopWatch()
	if err != nil {
		return err
	}
	found.Units, found.Extra = system, app.OneLines(append(found.Extra, f.extra()...))
	return writeSurvey(a, found, f.out)
}

// findAlong makes the line and looks along it.
func findAlong(a *app.App, gpx []string, f surveyFlags, opt survey.Options) (report.Survey, error) {
	var found report.Survey
	l, err := ride.ReadLoop(a, gpx, ride.Flags{Salvage: f.salvage, Relief: f.relief, Heights: "file"})
	if err != nil {
		return found, err
	}
	a.Progress.Begin("measuring the line")
	// Neither the stretch nor what a gap costs matters here.
	line, err := l.ToSurvey(route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		return found, err
	}
	extracts, err := extractsOf(a, f.maps)
	if err != nil {
		return found, err
	}
	s, err := survey.Read(context.Background(), line, extracts, opt)
	if errors.Is(err, survey.ErrNoScale) {
		return found, app.Misuse(err.Error(),
			"say what the pumps post there: --pump-scale RON in most of the world, AKI in North America")
	}
	if err != nil {
		return found, err
	}
	notes := append(l.Notes, hoursToAsk(s.Pumps)...)
	found = report.Survey{Survey: s, Name: l.Name, Notes: app.OneLines(notes), Files: app.OneLines(gpx)}
	if found.Out, err = findOut(a, s, f.relief); err != nil {
		return found, err
	}
	found.Help = findHelp(a, s)
	for _, r := range l.Relief {
		found.Heights = words.Heights(r.Heights)
	}
	if own, _, ferr := stop.FromWaypoints(l.File.Waypoints, opt.Scale); len(own) > 0 || ferr != nil {
		// A plan leaves out the fuel waypoints of its track where it is given lists.
		for _, name := range gpx {
			found.Extra = append(found.Extra, "--stops", name)
		}
	}
	return found, nil
}

// findOut looks for ways out where they are asked for.
func findOut(a *app.App, s *survey.Survey, relief string) (*outward.Found, error) {
	if s.Roads == nil {
		return nil, nil
	}
	a.Progress.Begin("looking for ways out")
	out := outward.Find(s)
	return &out, climbOut(out.Ways, relief)
}

// climbOut takes the climb of ways out from relief tiles, where there are any.
func climbOut(ways []outward.Way, folder string) error {
	if folder == "" {
		return nil
	}
	tiles, err := relief.Open(os.DirFS(folder))
	if err != nil {
		return app.InFolder(err, folder)
	}
	for i := range ways {
		profile := []route.Track{{Segments: [][]route.Point{ways[i].Profile()}}}
		if _, err := tiles.Fill(profile, true); err != nil {
			return app.InFolder(err, folder)
		}
		ways[i].ClimbBy(profile[0].Segments[0])
	}
	return nil
}

// hoursToAsk names the pumps of which the hours are not understood.
func hoursToAsk(pumps []survey.Pump) []string {
	stops := make([]stop.Stop, len(pumps))
	for i, p := range pumps {
		stops[i] = p.Stop
	}
	return when.HoursToAsk(stops)
}

// extractsOf names the maps; each is opened anew for every pass.
func extractsOf(a *app.App, names []string) (out []osmfile.Extract, err error) {
	for i, name := range names {
		if name == "-" {
			return nil, app.Misuse("--map: a map is read twice, which standard input cannot be", "give a file")
		}
		if slices.ContainsFunc(names[:i], func(other string) bool { return filepath.Clean(other) == filepath.Clean(name) }) {
			return nil, app.Misuse("--map: "+name+" is given twice", "each extract once")
		}
		switch info, err := os.Stat(name); {
		case err != nil:
			return nil, app.FileError(name, err)
		case info.IsDir():
			return nil, &input.Error{File: name, What: "this is a folder, not a file",
				Hint: refused.HintMap + ", several with a --map each"}
		case !info.Mode().IsRegular():
			return nil, &input.Error{File: name, What: "this is no file that can be read twice",
				Hint: "save the extract as a file"}
		}
		pass := 0
		out = append(out, osmfile.Extract{Name: name, Open: func() (io.ReadCloser, error) {
			pass++
			return openMap(a, name, pass)
		}})
	}
	return out, nil
}

// A mapFile is a map of which it is told how much has been read.
type mapFile struct {
	*os.File
	stage *app.Stage
}

func openMap(a *app.App, name string, pass int) (io.ReadCloser, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, app.FileError(name, err)
	}
	what := "surveying " + filepath.Base(name)
	if pass > 1 {
		what += ", second pass"
	}
	m := mapFile{f, a.Progress.Begin(what)}
	if info, err := f.Stat(); err == nil {
		m.stage.All = info.Size()
	}
	return m, nil
}

func (m mapFile) Read(p []byte) (int, error) {
	n, err := m.File.Read(p)
	m.stage.Done.Add(int64(n))
	return n, err
}

func (m mapFile) Seek(offset int64, whence int) (int64, error) {
	n, err := m.File.Seek(offset, whence)
	m.stage.Done.Store(n)
	return n, err
}

// The files that a survey writes into its folder.
const (
	stopsFile   = "stops.csv"
	groundFile  = "ground.csv"
	summaryFile = "survey.txt"
	roadsFile   = "roads.csv"
	shapesFile  = "roads.gpx"
	farFile     = "far.csv"
	landFile    = "land.json"
)

// writeSurvey writes the lists and the summary, which is printed too. Lists that are
// there already and say something else are kept under another name: a rider may have
// written into them what he heard on the phone.
func writeSurvey(a *app.App, s report.Survey, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return output.Error(folder, err)
	}
	in := func(name string) string { return filepath.Join(folder, name) }
	s.Stops, s.Ground, s.Summary = input.OneLine(in(stopsFile)), input.OneLine(in(groundFile)), input.OneLine(in(summaryFile))
	out := output.Outputs{Stdout: a.Stdout, Keep: true}
	out.Add(in(stopsFile), func(w io.Writer) error { return stop.WriteCSV(w, s.Survey.Stops()) })
	out.Add(in(groundFile), func(w io.Writer) error { return route.WriteGround(w, s.Survey.Ground()) })
	if len(s.Survey.Land.Features) > 0 {
		s.Land = input.OneLine(in(landFile))
		out.Add(in(landFile), func(w io.Writer) error { return land.Write(w, s.Survey.Land) })
	}
	if s.Out != nil {
		s.BailOuts = addBailOuts(&out, s, in(bailOutsFile))
		s.Roads, s.Shapes = input.OneLine(in(roadsFile)), input.OneLine(in(shapesFile))
		out.Add(in(roadsFile), func(w io.Writer) error {
			return wayout.Write(w, s.Out.List(), wayout.Sum(s.Line), survey.Attribution)
		})
		if far := s.Out.Beyond(); len(far) > 0 {
			s.Far = input.OneLine(in(farFile))
			out.Add(in(farFile), func(w io.Writer) error { return stop.WriteCSV(w, far) })
		}
		out.Add(in(shapesFile), func(w io.Writer) error { return gpxfile.Write(w, mapped.Shapes(s.Name, s.Out.Ways)) })
	}
	out.Add(in(summaryFile), func(w io.Writer) error { return report.WriteSurvey(w, s) })
	out.Add("-", func(w io.Writer) error { return report.WriteSurvey(w, s) })
	if err := out.Write(); err != nil {
		return err
	}
	return tellKept(a, out.Kept)
}

// tellKept names the lists that were there before.
func tellKept(a *app.App, kept []string) error {
	if len(kept) == 0 {
		return nil
	}
	_, err := io.WriteString(a.Stdout, "What was in the folder before is kept as "+
		strings.Join(app.OneLines(kept), ", ")+".\n")
	return err
}
