package plan

import (
	"lastpump/octane"
	"lastpump/route"
)

// An Assumption is a figure that the plan rests on, and where it is from. The figure
// itself is in the plan, its line, bike and options; what is not stands here.
type Assumption struct {
	Topic Topic
	Mark  Mark

	Part    int           // TopicLeftOut: its number
	Measure route.Measure // TopicGroundMeasure
	Stretch StretchDoubt  // TopicStretch
	Climb   ClimbDoubt    // TopicClimb
	Heights Heights       // TopicHeights
	Bikes   int           // TopicGroup
	First   string        // TopicGroup: the name of the bike that the start is said for
}

// A Topic is what an assumption is about.
type Topic string

// The topics, in the order in which they are given.
const (
	TopicLeftOut       Topic = "left-out"       // a part of the line
	TopicOrder         Topic = "order"          // another order of the parts was taken
	TopicFileOrder     Topic = "file-order"     // another was looked for, and none taken
	TopicCutOff        Topic = "cut-off"        // a file ends too early
	TopicDirection     Topic = "direction"      // the other way round
	TopicBeginsAt      Topic = "begins-at"      // elsewhere than the file
	TopicHalts         Topic = "halts"          // taken out of the line
	TopicGroundMeasure Topic = "ground-measure" // how the kilometres of ground are counted
	TopicFromHere      Topic = "from-here"
	TopicUsed          Topic = "used"
	TopicEmptyCan      Topic = "empty-can" // up to the first pump
	TopicStretch       Topic = "stretch"
	TopicReserve       Topic = "reserve"
	TopicStartFuel     Topic = "start-fuel"
	TopicStartGrade    Topic = "start-grade"
	TopicUsable        Topic = "usable"
	TopicConsumption   Topic = "consumption"
	TopicThirst        Topic = "thirst"
	TopicSpread        Topic = "spread"
	TopicGround        Topic = "ground"
	TopicClimb         Topic = "climb"
	TopicHeights       Topic = "heights"       // from relief tiles
	TopicRecorded      Topic = "recorded"      // the line is as a plan has written it
	TopicClimbUnknown  Topic = "climb-unknown" // in parts
	TopicEthanol       Topic = "ethanol"
	TopicStops         Topic = "stops"
	TopicGaps          Topic = "gaps"
	TopicRoads         Topic = "roads" // the ways out, of which map and when they count
	TopicOctane        Topic = "octane"
	TopicGradeUnknown  Topic = "grade-unknown" // of a fill
	TopicSpeeds        Topic = "speeds"        // on each ground
	TopicPauses        Topic = "pauses"        // and fills, by the clock
	TopicNights        Topic = "nights"        // where they are
	TopicHolidays      Topic = "holidays"
	TopicWater         Topic = "water"
	TopicZones         Topic = "zones"
	TopicGroup         Topic = "group"
	TopicLending       Topic = "lending"
)

// Topics lists them all.
func Topics() []Topic {
	return []Topic{TopicLeftOut, TopicOrder, TopicFileOrder, TopicCutOff, TopicDirection, TopicBeginsAt, TopicHalts,
		TopicGroundMeasure, TopicFromHere, TopicUsed, TopicEmptyCan, TopicStretch, TopicReserve, TopicStartFuel,
		TopicStartGrade,
		TopicUsable, TopicConsumption, TopicThirst, TopicSpread, TopicGround, TopicClimb, TopicHeights, TopicRecorded,
		TopicClimbUnknown, TopicEthanol, TopicStops, TopicGaps, TopicRoads, TopicOctane, TopicGradeUnknown, TopicSpeeds, TopicPauses, TopicNights,
		TopicHolidays, TopicWater, TopicZones, TopicGroup, TopicLending}
}

// A Mark says where a figure is from.
type Mark string

// The marks.
const (
	Given      Mark = "given"
	Published  Mark = "published"
	Common     Mark = "common practice"
	OurOwn     Mark = "our estimate"
	FromMemory Mark = "from memory"
)

// Heights say what came of taking heights from relief tiles.
type Heights struct {
	Found, Points int
	Everywhere    bool // false: only where the file has none
}

// A StretchDoubt is how sure the stretch is, by the parts of the line that it was
// estimated from. The zero value is a stretch that is given.
type StretchDoubt struct {
	Longest route.Estimate
	Worst   float64      // error of the least sure part, as a share
	Over    route.Metres // of line that is less sure than the longest part
}

// A ClimbDoubt is how much more than counted the climb may be.
type ClimbDoubt int

// The doubts, as measured on recorded rides that were thinned: noise is gone at 10 m
// between turning points, but so is a part of the ups and downs, and what lies between
// two points far apart is not seen.
const (
	ClimbNotTold  ClimbDoubt = iota // most of the heights are missing
	ClimbTenth                      // within a tenth
	ClimbTenthUp                    // up to a tenth more
	ClimbFifthUp                    // up to a fifth more
	ClimbFourthUp                   // a quarter more, and over
)

// assumptions lists every figure the plan rests on that the rider has not just
// read in his own bike file, each with where it is from.
func assumptions(in Inputs, p *Plan) []Assumption {
	var out []Assumption
	add := func(t Topic, m Mark) { out = append(out, Assumption{Topic: t, Mark: m}) }
	out = append(lineAssumptions(in), hereAssumptions(p)...)
	out = append(out, stretchAssumption(in.Line.Stretch))
	add(TopicReserve, Common)
	out = append(out, startAssumptions(p)...)
	add(TopicUsable, Common)
	add(TopicConsumption, Given)
	add(TopicThirst, Given)
	add(TopicSpread, OurOwn)
	add(TopicGround, OurOwn)
	out = append(out, Assumption{Topic: TopicClimb, Mark: OurOwn, Climb: climbDoubt(in.Line, p)})
	out = append(out, in.Choices...)
	if p.Loop.NoHeights > 0 {
		add(TopicClimbUnknown, OurOwn)
	}
	add(TopicEthanol, Published)
	add(TopicStops, Common)
	if len(in.Line.Gaps) > 0 {
		add(TopicGaps, OurOwn)
	}
	if p.Ways != nil {
		add(TopicRoads, Given)
	}
	add(TopicOctane, Common)
	if anyUnknownGrade(p) {
		add(TopicGradeUnknown, OurOwn)
	}
	add(TopicSpeeds, OurOwn)
	if p.Days == nil {
		return out
	}
	add(TopicPauses, OurOwn)
	add(TopicNights, OurOwn)
	add(TopicHolidays, Given)
	if in.Options.Days.Water > 0 {
		add(TopicWater, Common)
	}
	if in.Options.Days.Mapped {
		add(TopicZones, Published)
	} else {
		add(TopicZones, Given)
	}
	return out
}

// climbDoubt says how far off the climb may be, by how far the points lie apart.
func climbDoubt(l *route.Line, p *Plan) ClimbDoubt {
	if 2*p.Loop.NoHeights > l.Length()-p.Options.From {
		return ClimbNotTold
	}
	step := float64(l.Length()) / float64(l.Points()-1)
	for _, e := range l.Stretch.From { // the coarsest that is a tenth of the line or more
		if 10*e.Length >= l.Length() {
			step = max(step, float64(e.Step))
		}
	}
	switch {
	case step <= 100:
		return ClimbTenth
	case step <= 200:
		return ClimbTenthUp
	case step <= 500:
		return ClimbFifthUp
	}
	return ClimbFourthUp
}

// lineAssumptions says what was made of the file before it was planned.
func lineAssumptions(in Inputs) (out []Assumption) {
	add := func(t Topic, m Mark) { out = append(out, Assumption{Topic: t, Mark: m}) }
	line := in.Line
	for _, p := range line.LeftOut {
		out = append(out, Assumption{Topic: TopicLeftOut, Mark: Given, Part: p.Number})
	}
	if r := line.Reorder; r != nil && r.Taken {
		add(TopicOrder, Given)
	}
	if line.Reorder == nil && line.Arranged.Order == route.OrderNearest {
		add(TopicFileOrder, Given)
	}
	if in.Cut.Where != "" {
		add(TopicCutOff, Given)
	}
	if line.Arranged.Reverse {
		add(TopicDirection, Given)
	}
	if line.Arranged.HasBeginAt {
		add(TopicBeginsAt, Given)
	}
	if len(line.Halts) > 0 {
		add(TopicHalts, OurOwn)
	}
	if off := line.FileLength(route.AsGiven) - line.Length(); len(in.Grounds.Sections) > 0 && max(off, -off) > fewMetres {
		out = append(out, Assumption{Topic: TopicGroundMeasure, Mark: Given, Measure: in.Grounds.Measure})
	}
	return out
}

// hereAssumptions says from where the rest is planned, and on what.
func hereAssumptions(p *Plan) (out []Assumption) {
	h := p.Here
	if h == nil {
		return nil
	}
	out = append(out, Assumption{Topic: TopicFromHere, Mark: Given})
	if h.Used != nil {
		out = append(out, Assumption{Topic: TopicUsed, Mark: Given})
	}
	if p.NoFill(0) {
		out = append(out, Assumption{Topic: TopicEmptyCan, Mark: OurOwn})
	}
	return out
}

func startAssumptions(p *Plan) []Assumption {
	tank, grade := Given, Given
	if !p.Options.HasStartFuel && p.Options.SinceFill == 0 {
		tank = OurOwn
	}
	if p.Start.Mixture != nil || p.Start.Assumed {
		grade = OurOwn
	}
	return []Assumption{{Topic: TopicStartFuel, Mark: tank}, {Topic: TopicStartGrade, Mark: grade}}
}

func stretchAssumption(s route.Stretch) Assumption {
	if s.Given {
		return Assumption{Topic: TopicStretch, Mark: Given}
	}
	var d StretchDoubt
	for _, e := range s.From {
		if e.Length > d.Longest.Length {
			d.Longest = e
		}
	}
	d.Worst = d.Longest.Error
	for _, e := range s.From {
		if e.Error > d.Longest.Error {
			d.Worst, d.Over = max(d.Worst, e.Error), d.Over+e.Length
		}
	}
	return Assumption{Topic: TopicStretch, Mark: OurOwn, Stretch: d}
}

func anyUnknownGrade(p *Plan) bool {
	for _, v := range p.Visits {
		if v.Fill != nil && v.Fill.Verdict == octane.NotKnown {
			return true
		}
	}
	return false
}
