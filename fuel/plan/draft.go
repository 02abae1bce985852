package plan

import (
	"lastpump/fuel"
	"lastpump/route"
)

// A survey is what all drafts of a plan share: the line as the bike drinks it,
// and which stops it passes. It is looked up once; the cures then plan again
// and again on it.
type survey struct {
	in        Inputs
	course    *fuel.Course
	sightings []sighting
	notUsed   []NotUsed
	off       []route.Metres // of each stop that is not passed
	stands    *standpoint    // nil at the start of the line
}

// A sighting is one passing of one stop.
type sighting struct {
	stop int // into Inputs.Stops
	route.Passage
}

func newSurvey(in Inputs) *survey {
	s := &survey{in: in, course: fuel.NewCourse(in.Line.Runs(in.Grounds), in.Bike, in.Options.Thirst)}
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
}

// A draft is a plan in the making: the plan itself and what only its making
// needs.
type draft struct {
	*survey
	change change
	plan   *Plan
	bike   fuel.Bike
	places []place
	nodes  []node // the ends of the legs: one more than legs
}

// draft makes a plan up to its warnings.
func (s *survey) draft(c change) *draft {
	d := &draft{survey: s, change: c, bike: s.in.Bike}
	if c.can > 0 {
		d.bike.Can = c.can
	}
	d.plan = &Plan{Name: s.in.Name, Line: s.in.Line, Bike: d.bike, Options: s.in.Options, NotUsed: s.notUsed, Here: s.stands.here()}
	d.visits()
	d.findPlaces()
	d.legs()
	d.fuel()
	d.fills()
	d.dry()
	d.turnBack()
	d.loop()
	d.nearestStop()
	return d
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
		if d.whyNot(i) != "" {
			continue
		}
		if away := route.Distance(start, st.At); s.Nearest == "" || away < s.Away {
			s.Nearest, s.Away = st.Name, away
		}
	}
}
