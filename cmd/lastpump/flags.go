package main

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/spf13/pflag"
)

// planFlags are the flags of plan as they are written, before they are read.
type planFlags struct {
	clockFlags
	landFlags
	stops, ground, skip, bikes                  []string
	roads                                       string
	skipPart                                    []string
	order, beginAt, relief, heights             string
	reverse, salvage, full, planner             bool
	json, csv, html, gpx                        string
	strip, stripPaper, home                     string
	contacts, answers                           []string
	writeStops                                  string
	stretch, gaps, strays                       string
	reserve, corridor, trust                    string
	startFuel, sinceFill, startGrade, pumpScale string
	can, canMost, canNow                        string
	units, date, from, used, fills, thirst      string
	fill, detours, lowGrade                     string
	trueRate                                    bool
}

func (f *planFlags) register(s *pflag.FlagSet) {
	f.clockFlags.register(s)
	f.landFlags.register(s)
	s.StringArrayVar(&f.stops, "stops", nil, "")
	s.StringArrayVar(&f.ground, "ground", nil, "")
	s.StringVar(&f.roads, "roads", "", "")
	s.StringArrayVar(&f.skip, "skip", nil, "")
	s.StringArrayVar(&f.bikes, "bike", nil, "")
	s.StringVar(&f.json, "json", "", "")
	s.StringVar(&f.csv, "csv", "", "")
	s.StringVar(&f.html, "html", "", "")
	s.BoolVar(&f.planner, "planner", false, "")
	s.StringVar(&f.gpx, "gpx", "", "")
	s.StringVar(&f.strip, "strip", "", "")
	s.StringVar(&f.stripPaper, "strip-paper", "", "")
	s.StringVar(&f.home, "home", "", "")
	s.StringArrayVar(&f.contacts, "contact", nil, "")
	s.StringArrayVar(&f.answers, "answer", nil, "")
	s.StringVar(&f.writeStops, "write-stops", "", "")
	s.StringVar(&f.stretch, "stretch", "auto", "")
	s.StringVar(&f.gaps, "gaps", "", "")
	s.StringVar(&f.strays, "strays", "", "")
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
	s.StringVar(&f.fills, "fills", "", "")
	s.StringVar(&f.startGrade, "start-grade", "", "")
	s.StringVar(&f.pumpScale, "pump-scale", "", "")
	s.StringVar(&f.fill, "fill", "", "")
	s.StringVar(&f.detours, "detours", "", "")
	s.StringVar(&f.lowGrade, "low-grade", string(plan.LowGradeLeast), "")
	s.StringVar(&f.can, "can", "auto", "")
	s.StringVar(&f.canMost, "can-most", "", "")
	s.StringVar(&f.canNow, "can-now", "", "")
	s.StringVar(&f.units, "units", string(units.Metric), "")
	s.StringVar(&f.date, "date", "", "")
	s.StringVar(&f.thirst, "thirst", "", "")
	s.BoolVar(&f.full, "full", false, "")
	s.BoolVar(&f.trueRate, "true-rate", false, "")
}

// line reads the flags that say how the line is made.
func (f *planFlags) line() (route.LineOptions, error) {
	var o route.LineOptions
	if f.stretch != "auto" {
		v, err := strconv.ParseFloat(f.stretch, 64)
		if err != nil || !(v >= 0.5 && v <= 3) {
			return o, flagError("stretch", input.BadValue(f.stretch, "is no stretch",
				"write auto, or how many times longer the ride is than the line: 1.08"))
		}
		o.Stretch = v
	}
	switch o.Gaps = route.Gaps(f.gaps); o.Gaps {
	case "", route.GapsRide, route.GapsSkip:
	default:
		return o, flagError("gaps", input.BadValue(f.gaps, "is no rule for gaps", "write ride, or skip for a ferry"))
	}
	switch o.Strays = route.StraysRule(f.strays); o.Strays {
	case "", route.StraysRide, route.StraysDrop:
	default:
		return o, flagError("strays", input.BadValue(f.strays, "is no rule for leaps of the line",
			"write ride for spurs that you ride, or drop for errors of the recorder"))
	}
	switch o.Order = cmp.Or(route.Order(f.order), route.OrderFile); o.Order {
	case route.OrderFile, route.OrderNearest:
	default:
		return o, flagError("order", input.BadValue(f.order, "is no order of the parts",
			"write file, or nearest for the order in which they meet best"))
	}
	o.Reverse = f.reverse
	return o, nil
}

// heightsFromRelief tells whether all heights are to come from the relief.
func (f *planFlags) heightsFromRelief() (bool, error) {
	switch {
	case f.heights != "file" && f.heights != "relief":
		return false, flagError("heights", input.BadValue(f.heights, "is no source of heights", "write file or relief"))
	case f.heights == "relief" && f.relief == "":
		return false, &usageError{"--heights relief without a relief", "say where the tiles are: --relief DIR"}
	}
	return f.heights == "relief", nil
}

// options reads the flags that say how the plan is made, and in which units it is told.
func (f *planFlags) options() (o plan.Options, u units.System, err error) {
	o = plan.DefaultOptions()
	o.Skip = f.skip
	o.LowGrade = plan.LowGrade(f.lowGrade)
	if o.FillAt, o.Detours, err = f.fillAt(o.FillAt); err != nil {
		return o, u, err
	}
	err = readFlags([]flagValue{
		{"reserve", f.reserve, into(parseReserve, &o.Reserve)},
		{"corridor", f.corridor, into(fuel.ParseDistance, &o.Corridor)},
		{"since-fill", f.sinceFill, into(parseRide, &o.SinceFill)},
		{"start-fuel", f.startFuel, into(fuel.ParseLitres, &o.StartFuel)},
		{"start-grade", f.startGrade, into(f.grade, &o.StartGrade)},
		{"trust", f.trust, into(parseTrust, &o.Trust)},
		{"thirst", f.thirst, into(parseThirst, &o.Thirst)},
		{"from", f.from, into(parseFrom, &o.Whereabouts)},
		{"used", f.used, into(parseUsed, &o.Used)},
		{"units", f.units, into(units.Parse, &u)},
		{"date", f.date, into(parseDay, &o.Today)},
	})
	if err != nil {
		return o, u, err
	}
	o.HasStartFuel, o.Cans, o.Carry.Most = f.startFuel != "", u.Cans(), u.CanMost()
	o.HasCanNow = f.canNow != ""
	err = readFlags([]flagValue{
		{"can-most", f.canMost, into(fuel.ParseLitres, &o.Carry.Most)},
		{"can", f.can, into(parseCans(o.Carry.Most), &o.Carry)},
		{"can-now", f.canNow, f.inCan(&o)},
	})
	if err != nil {
		return o, u, err
	}
	if f.date == "" {
		year, month, day := time.Now().Date()
		o.Today = time.Date(year, month, day, 0, 0, 0, 0, time.UTC) // a day, as one that is given
	}
	if f.fills != "" {
		o.Fills = &here.Fills{} // read when there is a line, see rideSoFar
	}
	o.Days, err = f.days(o)
	return o, u, err
}

// detoursAuto is how riders have asked for chosen stops, those off the line among them.
const detoursAuto = "auto"

// fillAt reads at which stops to fill, and how far off the line they may be chosen. Who
// wants detours wants stops chosen.
func (f *planFlags) fillAt(unsaid plan.FillAt) (at plan.FillAt, detours route.Metres, err error) {
	switch f.detours {
	case "":
		return cmp.Or(plan.FillAt(f.fill), unsaid), 0, nil
	case detoursAuto:
		return cmp.Or(plan.FillAt(f.fill), plan.FillChosen), trip.Reach, nil
	}
	if detours, err = parseRide(f.detours); err != nil {
		err = flagError("detours", err)
	}
	return cmp.Or(plan.FillAt(f.fill), plan.FillChosen), detours, err
}

// notes says which flags are read otherwise than they are written.
func (f *planFlags) notes() (notes []string) {
	if f.detours == detoursAuto {
		notes = append(notes, words.DetoursAuto)
	}
	return notes
}

// A told answer is what a stop has said.
type told struct {
	stop   string
	answer stop.Answer
}

// told reads what stops have answered.
func (f *planFlags) told(posted octane.Scale) (all []told, err error) {
	for _, s := range f.answers {
		name, a, err := stop.ParseTold(s, posted)
		if err != nil {
			return nil, flagError("answer", err)
		}
		all = append(all, told{name, a})
	}
	return all, nil
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

// parseCans gives what reads which cans are carried: auto up to the most, none, or those that
// the rider has, "5L", "2x3L" or "5L+3L".
func parseCans(most fuel.Litres) func(string) (plan.Carry, error) {
	return func(s string) (plan.Carry, error) {
		plain := strings.ToLower(strings.ReplaceAll(s, "×", "x"))
		switch plain {
		case "auto":
			return plan.Carry{Most: most}, nil
		case "none":
			return plan.Carry{Cans: leg.Carried{}}, nil
		}
		const hint = "write auto, none, or what you have: 5L, 2x3L, 5L+3L"
		cans := leg.Carried{}
		for _, part := range strings.Split(plain, "+") {
			times, size := 1, part
			if n, each, ok := strings.Cut(part, "x"); ok {
				v, err := strconv.Atoi(strings.TrimSpace(n))
				if err != nil || v < 1 {
					return plan.Carry{}, input.BadValue(s, "is no number of cans", hint)
				}
				times, size = v, each
			}
			l, err := fuel.ParseLitres(size)
			if err != nil || !(l > 0) {
				return plan.Carry{}, input.BadValue(s, "is no can", hint)
			}
			for range min(times, 3) {
				cans = append(cans, l)
			}
		}
		if len(cans) > 2 {
			return plan.Carry{}, input.BadValue(s, "is more than two cans", hint)
		}
		slices.SortFunc(cans, func(a, b fuel.Litres) int { return cmp.Compare(b, a) })
		return plan.Carry{Cans: cans}, nil
	}
}

// inCan makes a reader of what is in the can where the rider stands: "3 L of 95 RON", or
// litres alone of what is in the tank.
func (f *planFlags) inCan(o *plan.Options) func(string) error {
	return func(s string) error {
		posted, err := f.posted()
		if err != nil {
			return err
		}
		if l, err := fuel.ParseLitres(s); err == nil {
			o.CanNow = l
			return nil
		}
		p, err := parsePortion(s, posted)
		switch {
		case portionOf.FindString(s) == "":
			return input.BadValue(s, "does not say how much of what", `write 3L, or "3 L of 95 RON"`)
		case err != nil:
			return err
		case !p.hasVolume:
			return input.BadValue(s, "says no litres", `write "3 L of 95 RON"`)
		}
		o.CanNow, o.CanNowGrade = fuel.Litres(p.Volume), p.Grade
		return nil
	}
}

func parseScale(s string) (octane.Scale, error) {
	switch v := octane.Scale(strings.ToUpper(s)); v {
	case "", octane.ScaleRON, octane.ScaleAKI:
		return v, nil
	}
	return "", flagError("pump-scale", input.BadValue(s, "is no scale",
		"write RON or AKI: what the number on the pumps means"))
}

// parseReserve reads "20%", "50km", "2L" or several of them; what is not named is 0.
func parseReserve(s string) (leg.Reserve, error) {
	var r leg.Reserve
	const hint = "write 20%, 50km, 2L or 15%,30km"
	named := map[string]bool{}
	for _, part := range strings.Split(s, ",") {
		part = strings.TrimSpace(part)
		what, err := readReserve(&r, part, hint)
		if err != nil {
			return r, err
		}
		if named[what] {
			return r, input.BadValue(s, "names one thing twice", hint)
		}
		named[what] = true
	}
	return r, nil
}

// volume is what ends in a unit of volume, known or not.
var volume = regexp.MustCompile(`(?i)\d\s*(l|lit|(us|imp|uk)?\s*gal)[a-z ]*$`)

// readReserve reads one part of a reserve and tells of what it is.
func readReserve(r *leg.Reserve, part, hint string) (what string, err error) {
	if share, isShare := strings.CutSuffix(part, "%"); isShare {
		v, err := strconv.ParseFloat(strings.TrimSpace(share), 64)
		if err != nil || !(v >= 0 && v < 100) {
			return "", input.BadValue(part, "is no share of the tank", hint)
		}
		r.Share = v / 100
		return "share", nil
	}
	if _, bare := input.Number(part); bare {
		return "", input.BadValue(part, "has no unit",
			fmt.Sprintf("write %s%% of the tank, %skm, or litres: %sL", part, part, part))
	}
	if volume.MatchString(part) {
		r.Litres, err = fuel.ParseLitres(part)
		return "litres", err
	}
	r.Distance, err = parseRide(part)
	return "distance", err
}

// parseThirst reads how many times the consumption a bike uses.
func parseThirst(s string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err == nil {
		return v, nil
	}
	hint := "write how many times the consumption: 1.15 for 15 % more"
	if share, ok := strings.CutSuffix(strings.TrimSpace(s), "%"); ok {
		if v, err := strconv.ParseFloat(strings.TrimSpace(share), 64); err == nil && v > -50 && v <= 200 {
			hint = fmt.Sprintf("for %s %% more write %.4g", strings.TrimSpace(share), 1+v/100)
		}
	}
	return 0, input.BadValue(s, "is not how many times the consumption", hint)
}

func parseTrust(s string) (stop.Standing, error) { return stop.Standing(strings.ToLower(s)), nil }

// parseRide reads a distance that is ridden. Under a kilometre it is a slip: "50m"
// is fifty metres, and whoever writes it means miles.
func parseRide(s string) (route.Metres, error) {
	d, err := fuel.ParseDistance(s)
	if err == nil && d > 0 && d < 1000 {
		return 0, input.BadValue(s, "is under a kilometre", "write 50km or 30mi")
	}
	return d, err
}

func parseDay(s string) (time.Time, error) {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return d, input.BadValue(s, "is not a day", "write it as 2026-05-31")
	}
	return d, nil
}

// A groundChoice is what --ground says.
type groundChoice struct {
	everywhere route.Ground // else than where a list has another; "" if it is not said
	guessed    string       // the word that everywhere is guessed from, or ""
	file       string
}

// groundFlags takes the values of --ground apart: names of grounds and files.
func (f *planFlags) groundFlags() (c groundChoice, err error) {
	for _, v := range f.ground {
		g, guessed, gerr := route.LikelyGround(v)
		switch {
		case gerr == nil && c.everywhere == "":
			if c.everywhere = g; guessed {
				c.guessed = v
			}
		case gerr != nil && c.file == "":
			c.file = v
		default:
			return c, flagError("ground", input.BadValue(v, "is one too many",
				"give one file of sections, and perhaps the name of the ground everywhere else"))
		}
	}
	return c, nil
}
