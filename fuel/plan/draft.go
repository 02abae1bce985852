package plan

import (
	"slices"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
)

// A survey is what all drafts of a plan share: the line as the bike drinks it,
// and which stops it passes. It is looked up once; the cures then plan again
// and again on it.
type survey struct {
	in        Inputs
	runs      []route.Run
	course    *fuel.Course
	length    route.Metres // of the line
	sightings []sighting
	notUsed   []NotUsed
	off       []route.Metres // of each stop that is not passed
	beside    []sighting     // where the line comes closest to each of them
	reversed  *survey        // the other way round; nil until it is asked for
	village   []int          // of each stop, the number of its place; nil until it is asked for
	stands    *standpoint    // nil at the start of the line
}

// A sighting is one passing of one stop.
type sighting struct {
	stop int // into Inputs.Stops
	route.Passage
}

func newSurvey(in Inputs) *survey {
	s := &survey{in: in, runs: in.Line.Runs(in.Grounds), length: in.Line.Length()}
	s.course = fuel.NewCourse(s.runs, in.Bike, in.Options.Thirst)
	s.look()
	return s
}

// A change is what a cure does to a plan.
type change struct {
	extra     []sighting  // stops off the corridor that are visited all the same
	believe   int         // the hearsay stop that is counted, plus one; 0 for none
	can       fuel.Litres // to carry; 0 for the bike's own
	fullStart bool        // set out full
	passBy    []int       // stops that are not filled at
	past      []sighting  // passings at which a stop is not filled at
	thirst    float64     // times as thirsty; 0 for as it is
	chosen    []sighting  // where to fill, off the line too, and nowhere else; nil for wherever the line passes
}

// on gives a change of a plan that is changed already.
func (c change) on(base change) change {
	c.extra = slices.Concat(base.extra, c.extra)
	c.passBy = slices.Concat(base.passBy, c.passBy)
	c.past = slices.Concat(base.past, c.past)
	c.chosen = base.chosen
	c.fullStart = c.fullStart || base.fullStart
	return c
}

// A draft is a plan in the making: the plan itself and what only its making
// needs.
type draft struct {
	*survey
	change change
	course *fuel.Course // of the survey, or thirstier
	plan   *Plan
	bike   fuel.Bike
	places []place
	nodes  []node // the ends of the legs: one more than legs

	arriving []octane.Mixture // in the tank on arriving at each node
	leaving  []octane.Mixture // and on leaving it
	poured   map[int][]pour   // of the legs that have been asked for
}

// draft makes a plan up to its warnings.
func (s *survey) draft(c change) *draft {
	d := s.trial(c)
	d.plan.NotUsed = d.stillOff()
	d.turnBack()
	d.loop()
	d.nearestStop()
	return d
}

// trial makes as much of a plan as its verdicts ask for.
func (s *survey) trial(c change) *draft {
	d := &draft{survey: s, change: c, course: s.course, bike: s.in.Bike}
	if c.thirst > 0 {
		d.course = s.course.Thirstier(c.thirst)
	}
	if c.can > 0 {
		d.bike.Can = c.can
	}
	d.plan = &Plan{Name: s.in.Name, Line: s.in.Line, Bike: d.bike, Options: s.in.Options, Here: s.stands.here()}
	d.visits()
	d.findPlaces()
	d.legs()
	d.fuel()
	d.fills()
	d.dry()
	return d
}

// stillOff lists the stops off the line that are not chosen.
func (d *draft) stillOff() []NotUsed {
	if d.change.chosen == nil {
		return d.notUsed
	}
	var out []NotUsed
	for i, g := range d.beside {
		if !slices.Contains(d.change.chosen, g) {
			out = append(out, d.notUsed[i])
		}
	}
	return out
}

// loop sums up the ride.
func (d *draft) loop() {
	l := &d.plan.Loop
	l.HasAscent = true
	for _, leg := range d.plan.Legs {
		l.Ridden += leg.Drink.Ridden
		l.Ascent += leg.Drink.Up
		l.Guessed += leg.Drink.Guessed
		l.NoHeights += leg.Drink.NoHeights
	}
	if l.NoHeights > 0 {
		l.HasAscent = false
	}
}

// nearestStop says which counted stop lies nearest to the start, straight.
func (d *draft) nearestStop() {
	s := &d.plan.Start
	start := d.startPoint()
	for i, st := range d.in.Stops {
		if d.unfit(i) != "" {
			continue
		}
		if away := route.Distance(start, st.At); s.Nearest == "" || away < s.Away {
			s.Nearest, s.Away = st.Name, away
		}
	}
}
