package main

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

	"lastpump/cmd/lastpump/internal/report"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/mapped"
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

func (a *app) surveyCommand() *cobra.Command {
	var f surveyFlags
	c := &cobra.Command{
		Use:   "survey LOOP.gpx… --map EXTRACT",
		Short: "pumps and ground along a loop from a map extract",
		Args:  aFileAtLeast,
		RunE:  func(_ *cobra.Command, args []string) error { return a.survey(args, f) },
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
	if o.Scale, err = parseScale(f.pumpScale); err != nil {
		return o, u, err
	}
	err = readFlags([]flagValue{
		{"corridor", f.corridor, into(fuel.ParseDistance, &o.Corridor)},
		{"gap", f.gap, into(parseRide, &o.Gap)},
		{"ways-out", f.waysOut, into(parseRide, &o.WaysOut)},
		{"units", f.units, into(units.Parse, &u)},
	})
	if err != nil {
		return o, u, err
	}
	if o.Corridor > widestCorridor {
		return o, u, flagError("corridor", input.BadValue(f.corridor, "is too wide",
			"at most 50km: a pump farther off is a ride of its own"))
	}
	if f.waysOut != "" && !(o.WaysOut > 0) || o.WaysOut > farthestOut {
		return o, u, flagError("ways-out", input.BadValue(f.waysOut, "is no distance to petrol by road", "40km; at most 150km"))
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

// survey reads the loop and the maps and writes the lists that a plan is made from,
// and a summary: all of it, or nothing.
func (a *app) survey(gpx []string, f surveyFlags) error {
	opt, system, err := f.options()
	if err != nil {
		return err
	}
	if f.out == "" {
		return &usageError{"--out without a folder", "name the folder to write into: --out survey"}
	}
	if len(f.maps) == 0 {
		return &usageError{"survey without a map", "name an extract of OpenStreetMap: --map region.osm.pbf"}
	}
	if err := canWrite(f.out); err != nil {
		return err
	}
	// What is held of a map in dense country can come near what is promised.
	limit := int64(memoryLimit)
	if opt.WaysOut > 0 {
		limit = memoryLimitRoads
	}
	debug.SetMemoryLimit(limit)
	stopWatch := a.progress.watch(a.stderr, isTerminal(a.stderr), time.Second, time.Second/5)
	found, err := a.findAlong(gpx, f, opt)
	stopWatch()
	if err != nil {
		return err
	}
	found.Units, found.Extra = system, oneLines(append(found.Extra, f.extra()...))
	return a.writeSurvey(found, f.out)
}

// oneLines makes names of files and notes fit to be printed.
func oneLines(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = input.OneLine(t)
	}
	return out
}

// findAlong makes the line and looks along it.
func (a *app) findAlong(gpx []string, f surveyFlags, opt survey.Options) (report.Survey, error) {
	var found report.Survey
	l, err := a.readLoop(gpx, planFlags{salvage: f.salvage, relief: f.relief, heights: "file"})
	if err != nil {
		return found, err
	}
	a.progress.begin("measuring the line")
	// Neither the stretch nor what a gap costs matters here.
	line, err := l.toSurvey(route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		return found, err
	}
	extracts, err := a.extracts(f.maps)
	if err != nil {
		return found, err
	}
	s, err := survey.Read(context.Background(), line, extracts, opt)
	if errors.Is(err, survey.ErrNoScale) {
		return found, &usageError{err.Error(),
			"say what the pumps post there: --pump-scale RON in most of the world, AKI in North America"}
	}
	if err != nil {
		return found, err
	}
	notes := append(l.notes, hoursToAsk(s.Pumps)...)
	found = report.Survey{Survey: s, Name: l.name, Notes: oneLines(notes), Files: oneLines(gpx)}
	if found.Out, err = a.findOut(s, f.relief); err != nil {
		return found, err
	}
	for _, r := range l.relief {
		found.Heights = words.Heights(r.Heights)
	}
	if own, _, ferr := stop.FromWaypoints(l.file.Waypoints, opt.Scale); len(own) > 0 || ferr != nil {
		// A plan leaves out the fuel waypoints of its track where it is given lists.
		for _, name := range gpx {
			found.Extra = append(found.Extra, "--stops", name)
		}
	}
	return found, nil
}

// findOut looks for ways out where they are asked for.
func (a *app) findOut(s *survey.Survey, relief string) (*outward.Found, error) {
	if s.Roads == nil {
		return nil, nil
	}
	a.progress.begin("looking for ways out")
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
		return inFolder(err, folder)
	}
	for i := range ways {
		profile := []route.Track{{Segments: [][]route.Point{ways[i].Profile()}}}
		if _, err := tiles.Fill(profile, true); err != nil {
			return inFolder(err, folder)
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

// extracts names the maps; each is opened anew for every pass.
func (a *app) extracts(names []string) (out []osmfile.Extract, err error) {
	for i, name := range names {
		if name == "-" {
			return nil, &usageError{"--map: a map is read twice, which standard input cannot be", "give a file"}
		}
		if slices.ContainsFunc(names[:i], func(other string) bool { return filepath.Clean(other) == filepath.Clean(name) }) {
			return nil, &usageError{"--map: " + name + " is given twice", "each extract once"}
		}
		switch info, err := os.Stat(name); {
		case err != nil:
			return nil, fileError(name, err)
		case info.IsDir():
			return nil, &input.Error{File: name, What: "this is a folder, not a file",
				Hint: words.HintMap + ", several with a --map each"}
		case !info.Mode().IsRegular():
			return nil, &input.Error{File: name, What: "this is no file that can be read twice",
				Hint: "save the extract as a file"}
		}
		pass := 0
		out = append(out, osmfile.Extract{Name: name, Open: func() (io.ReadCloser, error) {
			pass++
			return a.openMap(name, pass)
		}})
	}
	return out, nil
}

// A mapFile is a map of which it is told how much has been read.
type mapFile struct {
	*os.File
	stage *stage
}

func (a *app) openMap(name string, pass int) (io.ReadCloser, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, fileError(name, err)
	}
	what := "surveying " + filepath.Base(name)
	if pass > 1 {
		what += ", second pass"
	}
	m := mapFile{f, a.progress.begin(what)}
	if info, err := f.Stat(); err == nil {
		m.stage.all = info.Size()
	}
	return m, nil
}

func (m mapFile) Read(p []byte) (int, error) {
	n, err := m.File.Read(p)
	m.stage.done.Add(int64(n))
	return n, err
}

func (m mapFile) Seek(offset int64, whence int) (int64, error) {
	n, err := m.File.Seek(offset, whence)
	m.stage.done.Store(n)
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
func (a *app) writeSurvey(s report.Survey, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return outputError(folder, err)
	}
	in := func(name string) string { return filepath.Join(folder, name) }
	s.Stops, s.Ground, s.Summary = input.OneLine(in(stopsFile)), input.OneLine(in(groundFile)), input.OneLine(in(summaryFile))
	out := outputs{stdout: a.stdout, keep: true}
	out.add(in(stopsFile), func(w io.Writer) error { return stop.WriteCSV(w, s.Survey.Stops()) })
	out.add(in(groundFile), func(w io.Writer) error { return route.WriteGround(w, s.Survey.Ground()) })
	if len(s.Survey.Land.Features) > 0 {
		s.Land = input.OneLine(in(landFile))
		out.add(in(landFile), func(w io.Writer) error { return land.Write(w, s.Survey.Land) })
	}
	if s.Out != nil {
		s.Roads, s.Shapes = input.OneLine(in(roadsFile)), input.OneLine(in(shapesFile))
		out.add(in(roadsFile), func(w io.Writer) error {
			return wayout.Write(w, s.Out.List(), wayout.Sum(s.Line), survey.Attribution)
		})
		if far := s.Out.Beyond(); len(far) > 0 {
			s.Far = input.OneLine(in(farFile))
			out.add(in(farFile), func(w io.Writer) error { return stop.WriteCSV(w, far) })
		}
		out.add(in(shapesFile), func(w io.Writer) error { return gpxfile.Write(w, mapped.Shapes(s.Name, s.Out.Ways)) })
	}
	out.add(in(summaryFile), func(w io.Writer) error { return report.WriteSurvey(w, s) })
	out.add("-", func(w io.Writer) error { return report.WriteSurvey(w, s) })
	if err := out.write(); err != nil {
		return err
	}
	return a.tellKept(out.kept)
}

// tellKept names the lists that were there before.
func (a *app) tellKept(kept []string) error {
	if len(kept) == 0 {
		return nil
	}
	_, err := io.WriteString(a.stdout, "What was in the folder before is kept as "+strings.Join(oneLines(kept), ", ")+".\n")
	return err
}
