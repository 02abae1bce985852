package ride

import (
	"fmt"
	"time"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/typed"
	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/cmd/lastpump/internal/zones"
	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/days"
	"lastpump/route"
	"lastpump/route/input"

	"github.com/paulmach/orb"
	"github.com/spf13/pflag"
)

// clockFlags are the flags that put a ride on the clock, as they are written.
type clockFlags struct {
	depart, halts, nights, holidays  []string
	now, Timezone, took, wait, water string
}

func (f *clockFlags) register(s *pflag.FlagSet) {
	s.StringArrayVar(&f.depart, "depart", nil, "")
	s.StringVar(&f.now, "now", "", "")
	s.StringVar(&f.Timezone, "timezone", "", "")
	s.StringArrayVar(&f.halts, "halt", nil, "")
	s.StringArrayVar(&f.nights, "night", nil, "")
	s.StringVar(&f.took, "took", "", "")
	s.StringVar(&f.wait, "wait", "", "")
	s.StringVar(&f.water, "water", "", "")
	s.StringArrayVar(&f.holidays, "holiday", nil, "")
}

// asked tells whether the ride is to go by the clock.
func (f *clockFlags) asked() bool { return len(f.depart) > 0 || f.now != "" }

// leaving is the hour of leaving each morning, where a rider on the way says only what hour it
// is now: the median of 145 recorded days was 7:50.
var leaving = clock.OClock{Hour: 8}

// days reads what the flags say of the days of a ride; nil where it does not go by the clock.
func (f *Flags) days(o plan.Options) (*days.Options, error) {
	if !f.asked() {
		return nil, f.withoutHour()
	}
	if f.now != "" && f.from == "" {
		return nil, app.Misuse("--now is the hour where you are, and that is not said",
			`say it: --from 212, or --from "the name of a stop"; from the start it is --depart 08:00`)
	}
	d := &days.Options{Date: o.Today, Wait: clock.DefaultWait, Water: days.DefaultWater,
		Mapped: f.Timezone == ""}
	if err := f.mornings(d); err != nil {
		return nil, err
	}
	err := app.ReadFlags(
		app.Flag("wait", f.wait, app.Into(typed.Length, &d.Wait)),
		app.Flag("water", f.water, app.Into(parseWater, &d.Water)),
	)
	if err != nil {
		return nil, err
	}
	if err := f.stays(d); err != nil {
		return nil, err
	}
	d.Zone, err = f.zone()
	return d, err
}

// withoutHour refuses what makes no sense of a ride that does not go by the clock.
func (f *clockFlags) withoutHour() error {
	for _, s := range []struct {
		flag  string
		given bool
	}{
		{"timezone", f.Timezone != ""}, {"halt", len(f.halts) > 0}, {"night", len(f.nights) > 0}, {"took", f.took != ""},
		{"wait", f.wait != ""}, {"water", f.water != ""}, {"holiday", len(f.holidays) > 0},
	} {
		if s.given {
			return app.Misuse(fmt.Sprintf("--%s is for a ride by the clock, and the hour of leaving is not said", s.flag),
				"say it: --depart 08:00; on the way --from where you are and --now 13:40")
		}
	}
	return nil
}

// mornings reads when each day is begun.
func (f *Flags) mornings(d *days.Options) error {
	const hint = `write --depart 08:00 for every morning, and --depart "5 07:15" for the fifth day`
	every := false
	d.Every, d.On = leaving, map[int]clock.OClock{}
	for _, s := range f.depart {
		m, err := typed.ReadMorning(s)
		if err != nil {
			return app.FlagError("depart", err)
		}
		_, twice := d.On[m.Day]
		switch {
		case m.Day == 0 && every:
			return app.FlagError("depart", input.BadValue(s, "is a second hour for every morning", hint))
		case m.Day == 0:
			every, d.Every = true, m.At
			continue
		case twice:
			return app.FlagError("depart", input.BadValue(s, fmt.Sprintf("is a second hour for day %d", m.Day), hint))
		case m.Day == 1 && f.now != "":
			return app.FlagError("depart", input.BadValue(s, "is of the day that you are on, which begins at --now",
				"leave one of them out"))
		}
		d.On[m.Day] = m.At
	}
	if !every && f.now == "" {
		return app.Misuse("--depart: the hour of the other mornings is not said", hint)
	}
	d.First = d.Every
	if first, ok := d.On[1]; ok {
		d.First = first
	}
	return app.ReadFlags(app.Flag("now", f.now, app.Into(typed.OClock, &d.First)))
}

// stays reads where the rider stays and how long, and what was ridden already.
func (f *clockFlags) stays(d *days.Options) error {
	for _, s := range f.halts {
		h, err := typed.Stay(s)
		if err != nil {
			return app.FlagError("halt", err)
		}
		d.Halts = append(d.Halts, h)
	}
	for _, s := range f.nights {
		w, err := typed.Where(s)
		if err != nil {
			return app.FlagError("night", err)
		}
		d.Nights = append(d.Nights, w)
	}
	for _, s := range f.holidays {
		day, err := typed.Day(s)
		if err != nil {
			return app.FlagError("holiday", err)
		}
		d.Holidays = append(d.Holidays, day)
	}
	if f.took == "" {
		return nil
	}
	took, err := typed.Taken(f.took)
	if err != nil {
		return app.FlagError("took", err)
	}
	d.Took = &took
	return nil
}

// zone gives the time zones: the one that is said, or those of the places, which are loaded when
// the first is asked for.
func (f *clockFlags) zone() (func(orb.Point) *time.Location, error) {
	if f.Timezone == "" {
		return zones.Lookup(), nil
	}
	z, err := zones.Parse(f.Timezone)
	if err != nil {
		return nil, app.FlagError("timezone", err)
	}
	return func(orb.Point) *time.Location { return z }, nil
}

// mostWater is more than anybody drinks in a day: our estimate.
const mostWater fuel.Litres = 30

// parseWater reads how much one rider drinks in a day.
func parseWater(s string) (fuel.Litres, error) {
	l, err := fuel.ParseLitres(s)
	if err == nil && l > 0 && l <= mostWater {
		return l, nil
	}
	what := "is not what one drinks in a day"
	if _, bare := input.Number(s); bare {
		what = "has no unit"
	}
	return 0, input.BadValue(s, what, "write 6L or 1.5 USgal: up to 30 L a day")
}

// byTripMeter turns what took so long from kilometres as a bike shows them to those ridden.
func byTripMeter(d *days.Options, b fuel.Bike) {
	if d != nil && d.Took != nil {
		d.Took.Over /= route.Metres(b.Odometer)
	}
}

// clockNotes says what was taken for what the flags do not say, and of which day it is.
func (f *Flags) clockNotes(o plan.Options) (notes []string) {
	if o.Days == nil {
		return nil
	}
	if f.date == "" {
		notes = append(notes, when.TodayTaken(o.Days.Date, f.now != ""))
	}
	if f.now != "" && len(f.depart) == len(o.Days.On) {
		notes = append(notes, when.MorningsTaken(leaving))
	}
	return notes
}

// DayNotes says which days hours of leaving are of: those that the ride does not have, and where
// days are counted from where the rider is, all.
func DayNotes(p *plan.Plan) []string {
	if p.Options.Days == nil {
		return nil
	}
	var leaves []time.Time
	for _, d := range p.Days {
		leaves = append(leaves, d.Leave)
	}
	return when.DaysCounted(p.Options.Days.On, leaves, p.Here != nil)
}
