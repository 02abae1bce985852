package planning

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/output"
	"lastpump/cmd/lastpump/internal/report"
	"lastpump/cmd/lastpump/internal/ride"
	"lastpump/cmd/lastpump/internal/words/compared"
	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/fuel/plan"
	"lastpump/route/input"

	"github.com/google/shlex"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Compare is the command that lays several plans beside each other.
func Compare(a *app.App) *cobra.Command {
	var f ride.Flags
	var with []string
	c := &cobra.Command{
		Use:   `compare LOOP.gpx… --with "FLAGS"…`,
		Short: "plan several variants and lay them beside each other",
		Args:  app.AFileAtLeast,
		RunE: func(c *cobra.Command, args []string) error {
			return comparePlans(a, args, given(c.Flags()), with, f)
		},
	}
	c.Flags().SortFlags = false
	f.Register(c.Flags())
	c.Flags().StringArrayVar(&with, "with", nil, "")
	return c
}

// A setting is one flag as it was given.
type setting struct{ flag, value string }

// given lists the flags that were given, all but the variants themselves.
func given(s *pflag.FlagSet) (out []setting) {
	s.Visit(func(f *pflag.Flag) {
		if list, ok := f.Value.(pflag.SliceValue); ok {
			for _, v := range list.GetSlice() {
				out = append(out, setting{f.Name, v})
			}
			return
		}
		out = append(out, setting{f.Name, f.Value.String()})
	})
	return slices.DeleteFunc(out, func(s setting) bool { return s.flag == "with" })
}

// added are the flags that a variant adds to those before; of any other it takes the place.
var added = []string{"skip", "skip-part"}

// ofOnePlan are the reports that are written of one plan.
var ofOnePlan = []string{"csv", "html", "gpx", "strip", "strip-paper", "home", "map-sheet", "contact", "json", "write-stops", "full"}

// A variant is one set of flags, with the files of its loop.
type variant struct {
	name  string
	gpx   []string
	flags ride.Flags
}

// comparePlans plans each variant and lays them in one table, the best first. It fails where none
// was planned.
func comparePlans(a *app.App, gpx []string, base []setting, with []string, f ride.Flags) error {
	if len(with) < 2 {
		return app.Misuse("there is nothing to compare: give --with at least twice",
			`write --with "" for the plan as it is, and --with "--reverse" beside it`)
	}
	for _, s := range base {
		if s.flag != "json" && slices.Contains(ofOnePlan, s.flag) {
			return app.Misuse(fmt.Sprintf("--%s is a report of one plan", s.flag),
				"compare prints a table, or writes it with --json; the rest comes from lastpump plan")
		}
	}
	var variants []variant
	var faults []error
	for _, w := range with {
		v, err := variantOf(gpx, base, w)
		faults = append(faults, err)
		variants = append(variants, v)
	}
	if err := errors.Join(faults...); err != nil {
		return err
	}
	var inputs []string
	for _, v := range variants {
		inputs = slices.Concat(inputs, v.gpx, v.flags.Stops, v.flags.Bikes, v.flags.Ground)
	}
	json := []output.Named{output.To("json", f.JSON)}
	if err := output.KeepFiles(a.Stdout, json, slices.Concat(inputs, with)); err != nil {
		return err
	}
	rows, err := plans(a, variants)
	if err != nil {
		return err
	}
	if _, a.Units, err = f.Options(); err != nil {
		return err
	}
	out := output.Outputs{Stdout: a.Stdout}
	out.Add(cmp.Or(f.JSON, "-"), func(w io.Writer) error {
		if f.JSON != "" {
			return writeCompared(w, rows)
		}
		return report.WriteCompared(w, rows, a.Units)
	})
	if f.JSON != "" && f.JSON != "-" {
		out.Add("-", func(w io.Writer) error { return report.WriteCompared(w, rows, a.Units) })
	}
	return out.Write()
}

// plans makes the plans, the best first and those that cannot be made last. The error is that
// of the first where none can.
func plans(a *app.App, variants []variant) ([]compared.Variant, error) {
	stop := a.Progress.Watch(a.Stderr, app.IsTerminal(a.Stderr), time.Second, time.Second/5)
	defer stop()
	var rows []compared.Variant
	var first error
	for _, v := range variants {
		in, bikes, _, err := ride.Inputs(a, v.gpx, v.flags)
		row := compared.Variant{Name: v.name}
		if err == nil {
			a.Progress.Begin("planning " + v.name)
			in.Tell = a.Progress.Tell
			row.Plan, err = plan.MakeGroup(context.Background(), in, bikes)
		}
		if err != nil {
			row.Why = refused.Fault(err, a.Units)
			first = cmp.Or(first, err)
		}
		rows = append(rows, row)
	}
	if !slices.ContainsFunc(rows, func(r compared.Variant) bool { return r.Plan != nil }) {
		return nil, first
	}
	slices.SortStableFunc(rows, compared.Variant.Compare)
	return rows, nil
}

// variantOf reads the flags of a variant: written out, or in a file that it names. They add to
// the flags before or take their place; files of a loop take the place of those before.
func variantOf(gpx []string, base []setting, with string) (variant, error) {
	text, name := with, strings.TrimSpace(with)
	if data, err := os.ReadFile(name); err == nil && !strings.HasSuffix(strings.ToLower(name), ".gpx") {
		text = string(data)
	}
	fault := func(err error) (variant, error) {
		return variant{}, app.FlagError("with", input.BadValue(with, err.Error(),
			`write the flags of plan: --with "--reverse --can none"`))
	}
	tokens, err := shlex.Split(text)
	if err != nil {
		return fault(errors.New("is not closed: a quote is missing"))
	}
	var f ride.Flags
	own := pflag.NewFlagSet("", pflag.ContinueOnError)
	own.Usage = func() {}
	f.Register(own)
	if err := own.Parse(tokens); err != nil {
		return fault(fmt.Errorf("cannot be read: %s", strings.TrimSpace(err.Error())))
	}
	for _, report := range ofOnePlan {
		if own.Changed(report) {
			return fault(fmt.Errorf("asks for a report: --%s", report))
		}
	}
	v := variant{name: cmp.Or(name, "as it is"), gpx: gpx}
	all := pflag.NewFlagSet("", pflag.ContinueOnError)
	v.flags.Register(all)
	kept := slices.DeleteFunc(slices.Clone(base), func(s setting) bool {
		return own.Changed(s.flag) && !slices.Contains(added, s.flag)
	})
	for _, s := range slices.Concat(kept, given(own)) {
		if err := all.Set(s.flag, s.value); err != nil {
			return fault(err)
		}
	}
	if own.NArg() > 0 {
		v.gpx = own.Args()
	}
	return v, nil
}

// comparedFormat names the version of the document.
const comparedFormat = "lastpump-compare-1"

// A comparedRow is one variant as JSON.
type comparedRow struct {
	With         string  `json:"with"`
	Planned      bool    `json:"planned"`
	Why          *string `json:"why"` // why it was not planned
	Verdict      *string `json:"verdict"`
	ShortL       float64 `json:"short_l"`
	WorstLeg     *int    `json:"worst_leg"` // as a rider counts, from 1
	LegsNotOK    int     `json:"legs_not_ok"`
	Stranded     int     `json:"stranded"`
	StrandedHigh int     `json:"stranded_high"`
	CanL         float64 `json:"can_l"`
	Litres       float64 `json:"litres"` // likely, over the ride
	OctaneLitres float64 `json:"octane_litres"`
	Fills        int     `json:"fills"`
	RiddenKm     float64 `json:"ridden_km"`
}

// writeCompared writes the variants as JSON, the best first.
func writeCompared(w io.Writer, rows []compared.Variant) error {
	doc := struct {
		Format   string        `json:"format"`
		Variants []comparedRow `json:"variants"`
	}{Format: comparedFormat}
	for _, r := range rows {
		row := comparedRow{With: r.Name, Planned: r.Plan != nil}
		if r.Plan == nil {
			row.Why = &r.Why
		} else {
			f := r.Figures()
			verdict, worst := string(f.Verdict), f.WorstLeg+1
			row.Verdict, row.WorstLeg, row.ShortL = &verdict, &worst, float64(f.Short)
			row.LegsNotOK, row.Stranded, row.StrandedHigh = f.NotOK, f.Stranded, f.Stranded+f.Bare
			row.CanL, row.Litres, row.OctaneLitres = float64(f.Can), float64(f.Litres), f.Octane
			row.Fills, row.RiddenKm = f.Fills, f.Ridden.Kilometres()
		}
		doc.Variants = append(doc.Variants, row)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(doc)
}
