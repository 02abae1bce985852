package main

import (
	"cmp"
	"strconv"
	"strings"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/spf13/pflag"
)

// planFlags are the flags of plan as they are written, before they are read.
type planFlags struct {
	stops, ground, skip, bikes                  []string
	skipPart                                    []string
	order, beginAt, relief, heights             string
	reverse, salvage                            bool
	json, csv, html, gpx                        string
	strip, stripPaper, home                     string
	contacts                                    []string
	stretch, gaps, reserve, corridor, trust     string
	startFuel, sinceFill, startGrade, pumpScale string
	units, date, from, used, detours, lowGrade  string
	thirst                                      float64
	trueRate                                    bool
}

func (f *planFlags) register(s *pflag.FlagSet) {
	s.StringArrayVar(&f.stops, "stops", nil, "")
	s.StringArrayVar(&f.ground, "ground", nil, "")
	s.StringArrayVar(&f.skip, "skip", nil, "")
	s.StringArrayVar(&f.bikes, "bike", nil, "")
	s.StringVar(&f.json, "json", "", "")
	s.StringVar(&f.csv, "csv", "", "")
	s.StringVar(&f.html, "html", "", "")
	s.StringVar(&f.gpx, "gpx", "", "")
	s.StringVar(&f.strip, "strip", "", "")
	s.StringVar(&f.stripPaper, "strip-paper", "", "")
	s.StringVar(&f.home, "home", "", "")
	s.StringArrayVar(&f.contacts, "contact", nil, "")
	s.StringVar(&f.stretch, "stretch", "auto", "")
	s.StringVar(&f.gaps, "gaps", "", "")
	s.StringVar(&f.order, "order", "", "")
	s.StringArrayVar(&f.skipPart, "skip-part", nil, "")
	s.BoolVar(&f.reverse, "reverse", false, "")
	s.StringVar(&f.beginAt, "begin-at", "", "")
	s.BoolVar(&f.salvage, "salvage", false, "")
	s.StringVar(&f.relief, "relief", "", "")
	s.StringVar(&f.heights, "heights", "file", "")
	s.StringVar(&f.reserve, "reserve", "", "")
	s.StringVar(&f.corridor, "corridor", "", "")
	s.StringVar(&f.trust, "trust", "", "")
	s.StringVar(&f.startFuel, "start-fuel", "", "")
	s.StringVar(&f.sinceFill, "since-fill", "", "")
	s.StringVar(&f.from, "from", "", "")
	s.StringVar(&f.used, "used", "", "")
	s.StringVar(&f.startGrade, "start-grade", "", "")
	s.StringVar(&f.pumpScale, "pump-scale", "", "")
	s.StringVar(&f.detours, "detours", "", "")
	s.StringVar(&f.lowGrade, "low-grade", string(plan.LowGradeLeast), "")
	s.StringVar(&f.units, "units", string(fuel.Metric), "")
	s.StringVar(&f.date, "date", "", "")
	s.Float64Var(&f.thirst, "thirst", 1, "")
	s.BoolVar(&f.trueRate, "true-rate", false, "")
}

// line reads the flags that say how the line is made.
func (f *planFlags) line() (route.LineOptions, error) {
	var o route.LineOptions
	if f.stretch != "auto" {
		v, err := strconv.ParseFloat(f.stretch, 64)
		if err != nil || !(v >= 0.5 && v <= 3) {
			return o, flagError("stretch", route.BadValue(f.stretch, "is no stretch", "write auto, or how many times longer the ride is than the line: 1.08"))
		}
		o.Stretch = v
	}
	switch o.Gaps = route.Gaps(f.gaps); o.Gaps {
	case "", route.GapsRide, route.GapsSkip:
	default:
		return o, flagError("gaps", route.BadValue(f.gaps, "is no rule for gaps", "write ride, or skip for a ferry"))
	}
	switch o.Order = cmp.Or(route.Order(f.order), route.OrderFile); o.Order {
	case route.OrderFile, route.OrderNearest:
	default:
		return o, flagError("order", route.BadValue(f.order, "is no order of the parts", "write file, or nearest for the order in which they meet best"))
	}
	o.Reverse = f.reverse
	return o, nil
}

// heightsFromRelief tells whether all heights are to come from the relief.
func (f *planFlags) heightsFromRelief() (bool, error) {
	switch {
	case f.heights != "file" && f.heights != "relief":
		return false, flagError("heights", route.BadValue(f.heights, "is no source of heights", "write file or relief"))
	case f.heights == "relief" && f.relief == "":
		return false, &usageError{"--heights relief without a relief", "say where the tiles are: --relief DIR"}
	}
	return f.heights == "relief", nil
}

// options reads the flags that say how the plan is made.
func (f *planFlags) options() (plan.Options, error) {
	o := plan.DefaultOptions()
	o.Skip, o.Thirst = f.skip, f.thirst
	o.Detours, o.LowGrade = plan.Detours(f.detours), plan.LowGrade(f.lowGrade)
	err := readFlags([]flagValue{
		{"reserve", f.reserve, into(parseReserve, &o.Reserve)},
		{"corridor", f.corridor, into(fuel.ParseDistance, &o.Corridor)},
		{"since-fill", f.sinceFill, into(parseRide, &o.SinceFill)},
		{"start-fuel", f.startFuel, into(fuel.ParseLitres, &o.StartFuel)},
		{"start-grade", f.startGrade, into(f.grade, &o.StartGrade)},
		{"trust", f.trust, into(parseTrust, &o.Trust)},
		{"from", f.from, into(parseFrom, &o.Whereabouts)},
		{"used", f.used, into(parseUsed, &o.Used)},
		{"units", f.units, into(fuel.ParseUnits, &o.Units)},
		{"date", f.date, into(parseDay, &o.Today)},
	})
	if err != nil {
		return o, err
	}
	o.HasStartFuel = f.startFuel != ""
	if f.date == "" {
		o.Today = time.Now()
	}
	return o, nil
}

// A flagValue is a flag as it is written, and what reads it.
type flagValue struct {
	flag, value string
	into        func(string) error
}

// readFlags reads the flags that are given. The error names the first that is wrong.
func readFlags(flags []flagValue) error {
	for _, f := range flags {
		if f.value == "" {
			continue
		}
		if err := f.into(f.value); err != nil {
			return flagError(f.flag, err)
		}
	}
	return nil
}

// into makes a reader that puts what it has read into a variable.
func into[T any](parse func(string) (T, error), v *T) func(string) error {
	return func(s string) (err error) {
		*v, err = parse(s)
		return err
	}
}

// grade reads a grade, a bare number on the scale of the pumps.
func (f *planFlags) grade(s string) (octane.Grade, error) {
	posted, err := f.posted()
	if err != nil {
		return octane.Grade{}, err
	}
	return octane.ParsePosted(s, posted)
}

// posted gives the scale the pumps post, "" where it is not said.
func (f *planFlags) posted() (octane.Scale, error) { return parseScale(f.pumpScale) }

func parseScale(s string) (octane.Scale, error) {
	switch v := octane.Scale(strings.ToUpper(s)); v {
	case "", octane.ScaleRON, octane.ScaleAKI:
		return v, nil
	}
	return "", flagError("pump-scale", route.BadValue(s, "is no scale", "write RON or AKI: what the number on the pumps means"))
}

// parseReserve reads "20%", "50km" or both; what is not named is 0.
func parseReserve(s string) (plan.Reserve, error) {
	var r plan.Reserve
	const hint = "write 20%, 50km or 15%,30km"
	hasShare, hasDistance := false, false
	for _, part := range strings.Split(s, ",") {
		part = strings.TrimSpace(part)
		share, isShare := strings.CutSuffix(part, "%")
		switch {
		case isShare && !hasShare:
			v, err := strconv.ParseFloat(strings.TrimSpace(share), 64)
			if err != nil || !(v >= 0 && v < 100) {
				return r, route.BadValue(part, "is no share of the tank", hint)
			}
			r.Share, hasShare = v/100, true
		case !isShare && !hasDistance:
			d, err := parseRide(part)
			if err != nil {
				return r, err
			}
			r.Distance, hasDistance = d, true
		default:
			return r, route.BadValue(s, "names one thing twice", hint)
		}
	}
	return r, nil
}

func parseTrust(s string) (stop.Standing, error) { return stop.Standing(strings.ToLower(s)), nil }

// parseRide reads a distance that is ridden. Under a kilometre it is a slip: "50m"
// is fifty metres, and whoever writes it means miles.
func parseRide(s string) (route.Metres, error) {
	d, err := fuel.ParseDistance(s)
	if err == nil && d > 0 && d < 1000 {
		return 0, route.BadValue(s, "is under a kilometre", "write 50km or 30mi")
	}
	return d, err
}

func parseDay(s string) (time.Time, error) {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return d, route.BadValue(s, "is not a day", "write it as 2026-05-31")
	}
	return d, nil
}

// groundFlags takes the values of --ground apart: names of grounds and files.
func (f *planFlags) groundFlags() (ground route.Ground, file string, err error) {
	for _, v := range f.ground {
		g, gerr := route.ParseGround(v)
		switch {
		case gerr == nil && ground == "":
			ground = g
		case gerr != nil && file == "":
			file = v
		default:
			return "", "", flagError("ground", route.BadValue(v, "is one too many",
				"give one file of sections, and perhaps the name of the ground everywhere else"))
		}
	}
	return ground, file, nil
}
