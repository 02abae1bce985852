package clock

import (
	"time"

	"lastpump/fuel/leg"
	"lastpump/route"

	"github.com/paulmach/orb"
)

// A Use is what is done at a place of a ride.
type Use int

// What is done, from the least.
const (
	Passed  Use = iota // it is not counted; times are reckoned for it all the same
	Counted            // it is not filled at, unless the night is there
	Filled
)

// A Place is one that the ride passes: a pump, or several that are one.
type Place struct {
	leg.End
	Use   Use
	Hours Hours          // of its best stop; nil where they are not known
	Zone  *time.Location // of the place; nil for that of the line there
}

// A Halt is a stay that the rider plans, the same for every run.
type Halt struct {
	At  route.Metres // along the line; after the fill where a place is there
	For time.Duration
}

// An OClock is a time of day.
type OClock struct{ Hour, Minute int }

// Leaving is when the rider sets out.
type Leaving struct {
	First time.Time      // from where the ride begins, in the zone of that place
	Every OClock         // each morning, by the clock of the place
	On    map[int]OClock // on some days, the first being 1
}

// A Ride is what a clock follows. Everything along the line is in order; what lies before the
// beginning has been ridden, and nothing lies beyond the end. A place at the beginning is
// filled at after leaving, if it is to be filled at.
type Ride struct {
	Pacing   *Pacing
	From, To leg.End
	Places   []Place
	Halts    []Halt
	Leaving  Leaving
	Nights   []route.Metres                    // where the rider sleeps; nil for none said
	Parts    []route.Part                      // of the line, in its order
	Wait     time.Duration                     // for a pump to open, at most; in general [DefaultWait]
	Point    func(route.Metres) orb.Point      // of the line
	Zone     func(route.Metres) *time.Location // nil where it is not known
}

// DefaultWait is how long a rider waits for a pump to open. Our estimate.
const DefaultWait = 12 * time.Hour

// A Fill says when a place is filled at.
type Fill string

// When a place is filled at.
const (
	NoFill    Fill = ""
	OnArrival Fill = "on arrival" // in the evening where the night is there
	InMorning Fill = "in the morning"
)

// A Passing is one place of a ride, in its time.
type Passing struct {
	Reached bool  // false where it lies before the beginning; nothing else is then said
	Day     int   // into Clock.Days
	There   Times // when it is reached, before any wait
	State   State
	Turns   time.Time // when a doubtful one turns; zero where it does not
	Opens   time.Time // when the likely run can fill, where it is shut then; zero where it does not within 14 days
	Closes  time.Time // the last hour to be there, of the opening that the likely run meets; zero for none
	Wait    Durations // for it to open
	Fill    Fill
	// LongShut tells that it is shut throughout and for longer than anybody waits: it is no
	// place to fill at.
	LongShut bool
	// DryIfLate tells that somebody between early and late finds it shut for longer than anybody
	// waits.
	DryIfLate bool
}

// MayBeShut tells whether it is shut or doubtful; nil is not.
func (p *Passing) MayBeShut() bool { return p != nil && (p.State == Shut || p.State == Doubtful) }

// A Day is what is ridden from one night to the next.
type Day struct {
	From, To route.Metres // along the line
	Leave    time.Time    // every run
	There    Times        // at the night, or at the end of the ride
	Riding   time.Duration
	Night    Night
	// Sunset is when the sun next sets at the end of the day after leaving; zero where it does
	// not within 24 hours.
	Sunset time.Time
}

// A Night is where a day ends.
type Night struct {
	By    By
	Place int // into Ride.Places; -1 for none
	// Between is where somewhere is to be found to sleep, for a night by hours at no place.
	Between [2]route.Metres
}

// By is what a night was fixed by.
type By string

// What fixes a night.
const (
	ByEnd   By = "end"   // it is the end of the ride
	ByRider By = "rider" // who has named it
	ByPart  By = "part"  // the end of a part of the line
	ByHours By = "hours" // of riding and of daylight
	ByWait  By = "wait"  // for a pump to open
)

// A Clock is a ride in its time.
type Clock struct {
	Days     []Day
	Passings []Passing // of each place
	Notes    []Note
}

// A Note is something about a clock that the rider should know.
type Note struct {
	Kind  Kind
	Day   int           // into Clock.Days
	At    route.Metres  // along the line
	Part  int           // into Ride.Parts, for [PartNoDay]
	Takes time.Duration // that part, likely
	// Before and After are an instant by the clock that was kept and by the one that is, for
	// [ZoneChanges] and [ClocksChange].
	Before, After time.Time
}

// A Kind is what a note tells.
type Kind string

// The kinds of notes.
const (
	PartNoDay    Kind = "part no day"     // takes under 1 h or over 14, so nights are by hours
	SunNeverUp   Kind = "sun never up"    // and the rule of daylight is off that day
	HardlyRidden Kind = "hardly ridden"   // under 1 h before dark, the same
	GapNoTime    Kind = "gap no time"     // a gap that is skipped, and no halt is given there
	ZoneNotKnown Kind = "zone not known"  // the last that was known is kept
	ZoneChanges  Kind = "zone changes"    // to one whose clocks differ
	ClocksChange Kind = "clocks change"   // of the zone itself
	LateAtNight  Kind = "late at night"   // the late run is there after the hour of leaving
	ArrivesDark  Kind = "arrives in dark" // the likely run, at the end of the day
)

// Kinds lists them.
func Kinds() []Kind {
	return []Kind{PartNoDay, SunNeverUp, HardlyRidden, GapNoTime, ZoneNotKnown, ZoneChanges, ClocksChange, LateAtNight,
		ArrivesDark}
}

// Reckon follows a ride. Nights are where the rider says; else at the ends of the parts, if
// there are two or more and each takes 1 to 14 hours; else by hours.
func Reckon(r Ride) *Clock {
	if len(r.Nights) > 0 {
		return r.follow(fixed(ByRider, r.Nights)).noted()
	}
	if ends, fits := r.partEnds(); fits {
		w := r.follow(fixed(ByPart, ends))
		no, fits := w.partNoDay()
		if fits {
			return w.noted()
		}
		w = r.follow(byHours)
		w.note(no)
		return w.noted()
	}
	return r.follow(byHours).noted()
}

// Straight follows a ride from its beginning to its end in one day, and gives its passings alone.
func Straight(r Ride) []Passing {
	return r.follow(fixed(ByRider, nil)).clock.Passings
}
