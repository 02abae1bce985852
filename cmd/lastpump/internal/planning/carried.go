package planning

import (
	"bytes"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/planner"
	"lastpump/cmd/lastpump/internal/report/page"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/zones"
	"lastpump/fuel/plan"
	"lastpump/route/zone"

	"github.com/spf13/pflag"
)

// carried are what a page with the planner in it is made from: the files as they were read, and the
// flags as they were given.
type carried struct {
	files []planner.File
	said  [][2]string
}

// through keeps what is read of a file, all of it, before it is read.
func (c *carried) through(name string, r io.Reader) (io.Reader, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	c.files = append(c.files, planner.File{Name: filepath.ToSlash(name), Text: text})
	return bytes.NewReader(text), nil
}

// notCarried are flags of reports, of which a page makes its own.
var notCarried = []string{"json", "csv", "html", "gpx", "strip", "strip-paper", "home", "map-sheet", "contact", "write-stops", "full", "planner"}

// say keeps the flags that were given, in one order however they are typed.
func (c *carried) say(s *pflag.FlagSet) {
	s.VisitAll(func(f *pflag.Flag) {
		if !f.Changed || slices.Contains(notCarried, f.Name) {
			return
		}
		values := []string{f.Value.String()}
		if list, ok := f.Value.(pflag.SliceValue); ok {
			values = list.GetSlice()
		}
		for _, v := range values {
			if slices.Contains([]string{"stops", "ground", "bike", "roads", "bail-outs", "land"}, f.Name) {
				v = filepath.ToSlash(v)
			}
			c.said = append(c.said, [2]string{f.Name, v})
		}
	})
}

// checkPlanner refuses a planner where it has nowhere to be, or could not have what the plan is made from.
func checkPlanner(f ride.Flags) error {
	switch {
	case !f.Planner:
		return nil
	case f.HTML == "":
		return app.Misuse("--planner without a page", "say where to write it: --html plan.html --planner")
	case f.Relief != "":
		return app.Misuse("--planner cannot carry the tiles of --relief, which are larger than a page",
			"write the line with its heights first, --gpx plan.gpx, and make the page of that")
	}
	return nil
}

// pageReport gives how the page is written: with the planner in it where that is asked for.
func (a *run) pageReport(gpx []string, f ride.Flags) func(io.Writer, *plan.Plan, units.System) error {
	if !f.Planner {
		return page.Write
	}
	return func(w io.Writer, p *plan.Plan, u units.System) error {
		r := planner.Ride{Said: a.carried.said, Files: slices.Clone(a.carried.files), Places: places(p)}
		for _, name := range gpx {
			r.Loops = append(r.Loops, filepath.ToSlash(name))
		}
		if f.Timezone == "" {
			r.Files = append(r.Files, planner.File{Name: zones.TableFile, Text: []byte(a.zoneTable(p))})
		}
		return page.WriteWithPlanner(w, p, u, r)
	}
}

// zoneTable gives the zones along the ride and about its stops, which a page cannot look up.
func (a *run) zoneTable(p *plan.Plan) string {
	var t zones.Table
	of := t.Through(zones.Lookup())
	zone.Along(p.Line, of)
	far := max(p.Options.Corridor, p.Options.Detours)
	for _, s := range a.listed {
		if len(p.Line.Passages(s.At, far)) > 0 {
			zone.Beside(s.At, of)
		}
	}
	return t.Text()
}

// places gives where a rider may say that he is: each passing of a stop that is counted.
func places(p *plan.Plan) (all []planner.Place) {
	times, met := map[string]int{}, map[string]bool{}
	for _, v := range p.Visits {
		times[strings.ToLower(v.Stop.Name)]++
	}
	for _, v := range p.Visits {
		name := strings.ToLower(v.Stop.Name)
		from := v.Stop.Name
		if times[name] > 1 {
			from = units.Metric.StopAlong(v.Stop.Name, v.At)
		}
		all = append(all, planner.Place{Name: v.Stop.Name, From: from, Skip: !met[name]})
		met[name] = true
	}
	return all
}
