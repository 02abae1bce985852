package ride

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/gpxfile"
	"lastpump/route/input"
	"lastpump/route/relief"
)

// A Loop is what the GPX files on the command line hold, as one ride.
type Loop struct {
	Name   string
	files  []string
	File   *gpxfile.File // all of them as one
	tracks []route.Track
	Notes  []string // what there is to say of the files
	cut    plan.Cut
	Relief []plan.Assumption // what heights were taken from relief tiles

	recorded []plan.Assumption // that the line is as a plan has recorded it; nil where it is not
}

// ReadLoop reads the files in the order given.
func ReadLoop(a *app.App, names []string, f Flags) (*Loop, error) {
	l := &Loop{files: names}
	parse := gpxfile.Read
	if f.Salvage {
		parse = gpxfile.Salvage
	}
	var files []*gpxfile.File
	for i, name := range names {
		if slices.ContainsFunc(names[:i], func(other string) bool { return filepath.Clean(other) == filepath.Clean(name) }) {
			return nil, app.Misuse(fmt.Sprintf("%s is given twice", name), "a loop that is ridden twice is planned once")
		}
		file, err := app.Read(a, name, parse)
		if err != nil {
			return nil, err
		}
		if len(names) > 1 && file.Record.Text != "" {
			return nil, &input.Error{File: name, What: "this is a line as a plan has written it, and there are other files",
				Hint: "plan it alone, or all the files that it was made from"}
		}
		if len(names) > 1 {
			nameTracks(file, name)
		}
		if err := l.recallCut(file.Record); err != nil {
			return nil, err
		}
		if file.Cut != "" && l.cut.Where == "" {
			l.cut = plan.Cut{Where: file.Cut, Kept: route.Drawn(file.Lines()), Last: i == len(names)-1}
		}
		files = append(files, file)
	}
	l.File = gpxfile.Join(files...)
	l.tracks = l.File.Lines()
	l.Name = loopName(l.File, l.tracks, names)
	l.Notes = l.File.Notes
	return l, l.takeHeights(f)
}

// nameTracks calls the tracks of one file of several after it that have no name.
func nameTracks(f *gpxfile.File, name string) {
	for _, tracks := range [][]route.Track{f.Tracks, f.Routes} {
		for i := range tracks {
			if tracks[i].Name == "" {
				tracks[i].Name = baseName(name)
			}
		}
	}
}

// baseName gives what names a ride or a part of it where only the file has a name.
func baseName(file string) string {
	return input.OneLine(strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)))
}

// parts gives the numbers of parts that are called by number or by name.
func (l *Loop) parts(called []string) (numbers []int, err error) {
	for _, c := range called {
		n, err := strconv.Atoi(c)
		if err != nil {
			if n, err = l.partCalled(c); err != nil {
				return nil, err
			}
		}
		numbers = append(numbers, n)
	}
	return numbers, nil
}

// partCalled finds the one part of a name: which of several is meant, the rider has
// to say.
func (l *Loop) partCalled(name string) (int, error) {
	n := 0
	var names []string
	var found []int
	for i, t := range l.tracks {
		if !gpxfile.HasPoints(l.tracks[i : i+1]) {
			continue
		}
		n++
		if strings.EqualFold(t.Name, name) {
			found = append(found, n)
		}
		names = append(names, t.Name)
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return 0, app.Misuse(fmt.Sprintf("--skip-part: parts %d and %d are both called %q", found[0], found[1], name),
			"give the number of the part, from 1")
	}
	return 0, app.Misuse(fmt.Sprintf("--skip-part: no part is called %q", name),
		input.Suggest(name, names)+"give the number of the part, from 1, or its name")
}

// loopName names the loop: as the file does, as its one track does, or after the
// file.
func loopName(f *gpxfile.File, tracks []route.Track, names []string) string {
	base := baseName(names[0])
	switch more := len(names) - 1; {
	case more == 1:
		return cmp.Or(f.Name, base) + " and 1 more file"
	case more > 1:
		return fmt.Sprintf("%s and %d more files", cmp.Or(f.Name, base), more)
	case f.Name != "":
		return f.Name
	case len(tracks) == 1 && tracks[0].Name != "":
		return tracks[0].Name
	}
	return base
}

// takeHeights takes heights from relief tiles: where the file has none, or everywhere.
func (l *Loop) takeHeights(f Flags) error {
	everywhere, err := f.heightsFromRelief()
	if err != nil || f.Relief == "" {
		return err
	}
	if info, err := os.Stat(f.Relief); err != nil {
		return app.FileError(f.Relief, err)
	} else if !info.IsDir() {
		return &input.Error{File: f.Relief, What: "this is a file, not a folder",
			Hint: "--relief takes the folder with the .hgt tiles in it"}
	}
	tiles, err := relief.Open(os.DirFS(f.Relief))
	if err != nil {
		return app.InFolder(err, f.Relief)
	}
	filled, err := tiles.Fill(l.tracks, everywhere)
	if err != nil {
		return app.InFolder(err, f.Relief)
	}
	l.tell(filled, tiles.Missing(), f.Relief, everywhere)
	return nil
}

// tell says what came of the relief.
func (l *Loop) tell(filled relief.Filled, missing []string, folder string, everywhere bool) {
	l.Relief = append(l.Relief, plan.Assumption{Topic: plan.TopicHeights, Mark: plan.Given,
		Heights: plan.Heights{Found: filled.From, Points: filled.Points, Everywhere: everywhere}})
	if len(missing) > 0 {
		l.Notes = append(l.Notes, fmt.Sprintf("%s: no relief tile %s: %d points have no height from it",
			folder, strings.Join(missing, ", "), filled.Missing))
	}
	if filled.Voids > 0 {
		l.Notes = append(l.Notes, fmt.Sprintf("%s: %d points lie where the relief has no height", folder, filled.Voids))
	}
}

// Line makes the line, arranged as the flags ask for.
func (l *Loop) Line(f Flags, stops []stop.Stop, corridor route.Metres) (*route.Line, error) {
	opt, err := f.line()
	if err != nil {
		return nil, err
	}
	if line, err := l.asRecorded(opt); line != nil || err != nil {
		return line, errors.Join(err, sameArrangement(f, line))
	}
	if opt.SkipParts, err = l.parts(f.skipPart); err != nil {
		return nil, err
	}
	if at, ok := kilometre(f.beginAt); ok {
		opt.BeginAt, opt.HasBeginAt = at, true
		return l.build(opt)
	}
	line, err := l.build(opt)
	if err != nil || f.beginAt == "" {
		return line, err
	}
	s, err := findStop(f.beginAt, stops)
	if err != nil {
		return nil, err
	}
	passages := line.Passages(s.At, corridor)
	if len(passages) == 0 {
		return nil, app.Misuse(fmt.Sprintf("--begin-at: the loop does not pass %s within the corridor", s.Name),
			"begin at a stop on the line, or give a kilometre of it")
	}
	opt.BeginAt, opt.HasBeginAt, opt.BeginName = line.BeforeTurning(passages[0].At), true, s.Name
	return l.build(opt)
}

func (l *Loop) build(opt route.LineOptions) (*route.Line, error) {
	line, err := route.NewLine(l.tracks, opt)
	return line, app.InFile(err, strings.Join(l.files, " "))
}

// kilometre reads a place along the line: a bare number is in kilometres.
func kilometre(s string) (route.Metres, bool) {
	if v, err := strconv.ParseFloat(s, 64); err == nil && v >= 0 && v < 1e6 {
		return route.Kilometres(v), true
	}
	m, err := fuel.ParseDistance(s)
	return m, err == nil
}

// findStop finds a stop by its name.
func findStop(name string, stops []stop.Stop) (stop.Stop, error) {
	var names []string
	for _, s := range stops {
		if strings.EqualFold(s.Name, name) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return stop.Stop{}, app.Misuse(fmt.Sprintf("--begin-at: no stop is called %q", name),
		input.Suggest(name, names)+"give the name of a stop as the list has it, or a kilometre")
}
