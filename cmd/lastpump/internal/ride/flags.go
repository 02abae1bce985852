package ride

import (
	"cmp"
	"strconv"
	"strings"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/spf13/pflag"
)

// Flags are the flags of plan as they are written, before they are read: those that say what is ridden, on
// what and from where, and those that name its reports.
type Flags struct {
	clockFlags
	Stops, Ground, skip, Bikes                  []string
	Roads, BailOuts, Land                       string
	skipPart                                    []string
	order, beginAt, Relief, Heights             string
	reverse, Salvage, Full, Planner             bool
	JSON, CSV, HTML, GPX                        string
	Strip, StripPaper, Home, MapSheet           string
	Contacts, answers                           []string
	WriteStops                                  string
	stretch, gaps, strays                       string
	reserve, corridor, trust                    string
	startFuel, sinceFill, startGrade, pumpScale string
	can, canMost, canNow                        string
	Units, date, from, used, Fills, thirst      string
	fill, detours, lowGrade                     string
	trueRate                                    bool
}

// Register tells a set of flags where to put what is written of each.
func (f *Flags) Register(s *pflag.FlagSet) {
	f.clockFlags.register(s)
	s.StringArrayVar(&f.Stops, "stops", nil, "")
	s.StringArrayVar(&f.Ground, "ground", nil, "")
	s.StringVar(&f.Roads, "roads", "", "")
	s.StringVar(&f.BailOuts, "bail-outs", "", "")
	s.StringVar(&f.Land, "land", "", "")
	s.StringVar(&f.MapSheet, "map-sheet", "", "")
	s.StringArrayVar(&f.skip, "skip", nil, "")
	s.StringArrayVar(&f.Bikes, "bike", nil, "")
	s.StringVar(&f.JSON, "json", "", "")
	s.StringVar(&f.CSV, "csv", "", "")
	s.StringVar(&f.HTML, "html", "", "")
	s.BoolVar(&f.Planner, "planner", false, "")
	s.StringVar(&f.GPX, "gpx", "", "")
	s.StringVar(&f.Strip, "strip", "", "")
	s.StringVar(&f.StripPaper, "strip-paper", "", "")
	s.StringVar(&f.Home, "home", "", "")
	s.StringArrayVar(&f.Contacts, "contact", nil, "")
	s.StringArrayVar(&f.answers, "answer", nil, "")
	s.StringVar(&f.WriteStops, "write-stops", "", "")
	s.StringVar(&f.stretch, "stretch", "auto", "")
	s.StringVar(&f.gaps, "gaps", "", "")
	s.StringVar(&f.strays, "strays", "", "")
	s.StringVar(&f.order, "order", "", "")
	s.StringArrayVar(&f.skipPart, "skip-part", nil, "")
	s.BoolVar(&f.reverse, "reverse", false, "")
	s.StringVar(&f.beginAt, "begin-at", "", "")
	s.BoolVar(&f.Salvage, "salvage", false, "")
	s.StringVar(&f.Relief, "relief", "", "")
	s.StringVar(&f.Heights, "heights", "file", "")
	s.StringVar(&f.reserve, "reserve", "", "")
	s.StringVar(&f.corridor, "corridor", "", "")
	s.StringVar(&f.trust, "trust", "", "")
	s.StringVar(&f.startFuel, "start-fuel", "", "")
	s.StringVar(&f.sinceFill, "since-fill", "", "")
	s.StringVar(&f.from, "from", "", "")
	s.StringVar(&f.used, "used", "", "")
	s.StringVar(&f.Fills, "fills", "", "")
	s.StringVar(&f.startGrade, "start-grade", "", "")
	s.StringVar(&f.pumpScale, "pump-scale", "", "")
	s.StringVar(&f.fill, "fill", "", "")
	s.StringVar(&f.detours, "detours", "", "")
	s.StringVar(&f.lowGrade, "low-grade", string(plan.LowGradeLeast), "")
	s.StringVar(&f.can, "can", "auto", "")
	s.StringVar(&f.canMost, "can-most", "", "")
	s.StringVar(&f.canNow, "can-now", "", "")
	s.StringVar(&f.Units, "units", string(units.Metric), "")
	s.StringVar(&f.date, "date", "", "")
	s.StringVar(&f.thirst, "thirst", "", "")
	s.BoolVar(&f.Full, "full", false, "")
	s.BoolVar(&f.trueRate, "true-rate", false, "")
}

// line reads the flags that say how the line is made.
func (f *Flags) line() (route.LineOptions, error) {
	var o route.LineOptions
	if f.stretch != "auto" {
		v, err := strconv.ParseFloat(f.stretch, 64)
		if err != nil || !(v >= 0.5 && v <= 3) {
			return o, app.FlagError("stretch", input.BadValue(f.stretch, "is no stretch",
				"write auto, or how many times longer the ride is than the line: 1.08"))
		}
		o.Stretch = v
	}
	switch o.Gaps = route.Gaps(f.gaps); o.Gaps {
	case "", route.GapsRide, route.GapsSkip:
	default:
		return o, app.FlagError("gaps", input.BadValue(f.gaps, "is no rule for gaps", "write ride, or skip for a ferry"))
	}
	switch o.Strays = route.StraysRule(f.strays); o.Strays {
	case "", route.StraysRide, route.StraysDrop:
	default:
		return o, app.FlagError("strays", input.BadValue(f.strays, "is no rule for leaps of the line",
			"write ride for spurs that you ride, or drop for errors of the recorder"))
	}
	switch o.Order = cmp.Or(route.Order(f.order), route.OrderFile); o.Order {
	case route.OrderFile, route.OrderNearest:
	default:
		return o, app.FlagError("order", input.BadValue(f.order, "is no order of the parts",
			"write file, or nearest for the order in which they meet best"))
	}
	o.Reverse = f.reverse
	return o, nil
}

// heightsFromRelief tells whether all heights are to come from the relief.
func (f *Flags) heightsFromRelief() (bool, error) {
	switch {
	case f.Heights != "file" && f.Heights != "relief":
		return false, app.FlagError("heights", input.BadValue(f.Heights, "is no source of heights", "write file or relief"))
	case f.Heights == "relief" && f.Relief == "":
		return false, app.Misuse("--heights relief without a relief", "say where the tiles are: --relief DIR")
	}
	return f.Heights == "relief", nil
}

// Options reads the flags that say how the plan is made, and in which units it is told.
func (f *Flags) Options() (o plan.Options, u units.System, err error) {
	o = plan.DefaultOptions()
	o.Skip = f.skip
	o.LowGrade = plan.LowGrade(f.lowGrade)
	if o.FillAt, o.Detours, err = f.fillAt(o.FillAt); err != nil {
		return o, u, err
	}
	err = app.ReadFlags(
		app.Flag("reserve", f.reserve, app.Into(typed.Reserve, &o.Reserve)),
		app.Flag("corridor", f.corridor, app.Into(fuel.ParseDistance, &o.Corridor)),
		app.Flag("since-fill", f.sinceFill, app.Into(typed.Ride, &o.SinceFill)),
		app.Flag("start-fuel", f.startFuel, app.Into(fuel.ParseLitres, &o.StartFuel)),
		app.Flag("start-grade", f.startGrade, app.Into(f.grade, &o.StartGrade)),
		app.Flag("trust", f.trust, app.Into(parseTrust, &o.Trust)),
		app.Flag("thirst", f.thirst, app.Into(typed.Thirst, &o.Thirst)),
		app.Flag("from", f.from, app.Into(parseFrom, &o.Whereabouts)),
		app.Flag("used", f.used, app.Into(parseUsed, &o.Used)),
		app.Flag("units", f.Units, app.Into(units.Parse, &u)),
		app.Flag("date", f.date, app.Into(typed.Day, &o.Today)),
	)
	if err != nil {
		return o, u, err
	}
	o.HasStartFuel, o.Cans, o.Carry.Most = f.startFuel != "", u.Cans(), u.CanMost()
	o.HasCanNow = f.canNow != ""
	if err = app.ReadFlags(app.Flag("can-most", f.canMost, app.Into(fuel.ParseLitres, &o.Carry.Most))); err != nil {
		return o, u, err
	}
	err = app.ReadFlags( // of auto the most is known by now
		app.Flag("can", f.can, app.Into(typed.Cans(o.Carry.Most), &o.Carry)),
		app.Flag("can-now", f.canNow, f.inCan(&o)),
	)
	if err != nil {
		return o, u, err
	}
	if f.date == "" {
		year, month, day := time.Now().Date()
		o.Today = time.Date(year, month, day, 0, 0, 0, 0, time.UTC) // a day, as one that is given
	}
	if f.Fills != "" {
		o.Fills = &here.Fills{} // read when there is a line, see rideSoFar
	}
	o.Days, err = f.days(o)
	return o, u, err
}

// detoursAuto is how riders have asked for chosen stops, those off the line among them.
const detoursAuto = "auto"

// fillAt reads at which stops to fill, and how far off the line they may be chosen. Who
// wants detours wants stops chosen.
func (f *Flags) fillAt(unsaid plan.FillAt) (at plan.FillAt, detours route.Metres, err error) {
	switch f.detours {
	case "":
		return cmp.Or(plan.FillAt(f.fill), unsaid), 0, nil
	case detoursAuto:
		return cmp.Or(plan.FillAt(f.fill), plan.FillChosen), trip.Reach, nil
	}
	if detours, err = typed.Ride(f.detours); err != nil {
		err = app.FlagError("detours", err)
	}
	return cmp.Or(plan.FillAt(f.fill), plan.FillChosen), detours, err
}

// notes says which flags are read otherwise than they are written.
func (f *Flags) notes() (notes []string) {
	if f.detours == detoursAuto {
		notes = append(notes, refused.DetoursAuto)
	}
	return notes
}

// A told answer is what a stop has said.
type told struct {
	stop   string
	answer stop.Answer
}

// told reads what stops have answered.
func (f *Flags) told(posted octane.Scale) (all []told, err error) {
	for _, s := range f.answers {
		name, a, err := stop.ParseTold(s, posted)
		if err != nil {
			return nil, app.FlagError("answer", err)
		}
		all = append(all, told{name, a})
	}
	return all, nil
}

// grade reads a grade, a bare number on the scale of the pumps.
func (f *Flags) grade(s string) (octane.Grade, error) {
	posted, err := f.Posted()
	if err != nil {
		return octane.Grade{}, err
	}
	return octane.ParsePosted(s, posted)
}

// Posted gives the scale the pumps post, "" where it is not said.
func (f *Flags) Posted() (octane.Scale, error) { return app.ParseScale(f.pumpScale) }

// inCan makes a reader of what is in the can where the rider stands: "3 L of 95 RON", or
// litres alone of what is in the tank.
func (f *Flags) inCan(o *plan.Options) func(string) error {
	return func(s string) error {
		posted, err := f.Posted()
		if err != nil {
			return err
		}
		if l, err := fuel.ParseLitres(s); err == nil {
			o.CanNow = l
			return nil
		}
		p, err := typed.ReadPortion(s, posted)
		switch {
		case !p.HasVolume:
			return input.BadValue(s, "does not say how much of what", `write 3L, or "3 L of 95 RON"`)
		case err != nil:
			return err
		}
		o.CanNow, o.CanNowGrade = fuel.Litres(p.Volume), p.Grade
		return nil
	}
}

func parseTrust(s string) (stop.Standing, error) { return stop.Standing(strings.ToLower(s)), nil }

// A groundChoice is what --ground says.
type groundChoice struct {
	everywhere route.Ground // else than where a list has another; "" if it is not said
	guessed    string       // the word that everywhere is guessed from, or ""
	file       string
}

// groundFlags takes the values of --ground apart: names of grounds and files.
func (f *Flags) groundFlags() (c groundChoice, err error) {
	for _, v := range f.Ground {
		g, guessed, gerr := route.LikelyGround(v)
		switch {
		case gerr == nil && c.everywhere == "":
			if c.everywhere = g; guessed {
				c.guessed = v
			}
		case gerr != nil && c.file == "":
			c.file = v
		default:
			return c, app.FlagError("ground", input.BadValue(v, "is one too many",
				"give one file of sections, and perhaps the name of the ground everywhere else"))
		}
	}
	return c, nil
}
