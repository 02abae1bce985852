package words_test

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/refused"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/cmd/lastpump/internal/words/warned"
	"lastpump/fuel"
	"lastpump/fuel/clock"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/cure"
	"lastpump/fuel/plan/days"
	"lastpump/fuel/plan/lowgrade"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/route"
)

// facts are one of each, with figures where they have any.
var facts = []plan.Fact{plan.LegShort{Last: 1000}, plan.LegTight{}, plan.MixtureBelow{}, plan.MixtureDoubtful{},
	plan.GradeNotKnown{},
	plan.StrandedIfDry{}, plan.BackToNoPump{}, plan.BareIfDry{Lack: 1}, plan.LastSure{NotOK: true}, plan.UnsureToo{},
	plan.HoursClosed{},
	plan.ShutThere{}, plan.MaybeShut{}, plan.HoursNotKnown{}, plan.ArriveDark{Days: []int{0}},
	plan.ConfirmedLater{}, plan.NotConfirmed{}, plan.LineCoarse{},
	plan.LineGaps{Gaps: []route.Gap{{At: 1000, Straight: 2000}}},
	plan.FileCut{Cut: plan.Cut{Where: "a.gpx", Kept: 1000}}, plan.StraysDropped{Strays: []route.Strays{{Points: 1, Away: 9000}}},
	plan.LeapsRidden{Leaps: []route.Strays{{Points: 1, Away: 9000}}},
	plan.OutOfOrder{Reorder: &route.Reorder{Parts: []route.PartRef{{Number: 1}}}}, plan.PartDoubled{},
	plan.StoodPerhaps{Halts: []route.Halt{{At: 1000}}},
	plan.HaltsTaken{Halts: 1, Taken: 100}, plan.GroundOfOtherOrder{End: 1000, Given: 9000},
	plan.GroundWithoutParts{End: 1000},
	plan.StopsSwapped{Names: []string{"A"}}, plan.StopsAtNought{Names: []string{"A"}}, plan.NoWayOut{Names: []string{"A"}},
	plan.SkipsSeveral{Name: "A", Count: 2},
	plan.GroundPastEnd{End: 1000, Line: 900},
	plan.GroundNotKnown{}, plan.ClimbTooSteep{MetresPerKm: 160},
	plan.ClimbNotKnown{Counted: fuel.Figures{Low: 1, Likely: 2, High: 3}},
	plan.UsedUnderLow{Used: 5, Low: 6}, plan.NoSuchCan{Litres: 27}, plan.NoStops{},
	plan.Noted{Text: "odd"}}

// everything is a plan of which anything may be said: it has a leg, two visits, a place
// where it is planned from, and all that a cure may name.
func everything(t *testing.T) *plan.Plan {
	in := from(ride(straight(t, 300), pump("A", 150, 0), pump("B", 250, 0)), 100, 6)
	samples.Timed(&in)
	p := make1(t, used(in, 5, 100))
	line := *p.Line
	line.Reorder = &route.Reorder{Parts: []route.PartRef{{Number: 1}}}
	p.Line = &line
	p.Visits[0].LastFuel = &trip.LastFuel{Next: 1, NotOK: true}
	return p
}

// cureOf gives a cure of a kind with all that it may name.
func cureOf(k cure.Kind) cure.Cure {
	low := &lowgrade.Dearth{Visits: []int{0}, To: trip.End{Kind: trip.AtFinish, Stop: -1}, Fills: []lowgrade.Fill{{Litres: 2}},
		Lift: &lowgrade.Lift{From: trip.End{Kind: trip.AtStart, Stop: -1}, Grade: ron(98), Litres: 1, Size: leg.CanSize{Litres: 1},
			Pours: []fuel.Litres{1}}}
	return cure.Cure{Kind: k, Stops: []string{"A"}, Standing: stop.Map, Rate: 4, Planned: 5, Thirst: 0.8, Low: low,
		Loans: []cure.Loan{{From: "mule", Litres: 1}}, Litres: 1, Size: 1}
}

// Whatever a plan holds there are words for it: no fact, cure, assumption or refusal is
// passed over in silence, and none is left with a hole in its sentence.
func TestNothingIsLeftUnsaid(t *testing.T) {
	p := everything(t)
	source, err := os.ReadFile("../../../../fuel/plan/facts.go")
	if err != nil {
		t.Fatal(err)
	}
	if n := len(regexp.MustCompile(`(?m)^\t[A-Z]\w* struct`).FindAll(source, -1)); n != len(facts) {
		t.Errorf("%d kinds of facts, %d of them here", n, len(facts))
	}
	for _, u := range []units.System{units.Metric, units.US, units.UK} {
		for what, text := range allSaid(t, words.Of(p, u)) {
			if text == "" || strings.Contains(text, "%!") || strings.Contains(text, "  ") {
				t.Errorf("%s, %s: %q", u, what, text)
			}
			wantUnits(t, u, what, text)
		}
	}
}

// eight is in the morning of a Wednesday.
var eight = time.Date(2026, 7, 1, 8, 0, 0, 0, time.FixedZone("UTC+06:00", 6*3600))

// allSaid gives what is said of one of everything.
func allSaid(t *testing.T, v words.Voice) map[string]string {
	t.Helper()
	said := map[string]string{}
	for _, f := range facts {
		said[fmt.Sprintf("%T", f)] = warned.Of(v).Warning(plan.Warning{Fact: f, Legs: []int{0}, Visits: []int{0}})
	}
	for _, k := range cure.Kinds() {
		said[string(k)] = warned.Of(v).Cure(plan.Warning{}, cureOf(k))
	}
	for _, k := range days.CureKinds() {
		c := days.Cure{Kind: k, Leave: eight, Was: eight.Add(time.Hour), Wait: 100 * time.Minute, There: clock.Times{eight, eight, eight}}
		said["hours: "+string(k)] = warned.Of(v).HourCure(c)
	}
	for _, k := range clock.Kinds() {
		n := clock.Note{Kind: k, At: 200000, Takes: 15 * time.Hour, Before: eight.UTC(), After: eight}
		said["note: "+string(k)] = daily.Of(v).ClockNote(n)
	}
	for _, topic := range plan.Topics() {
		name, value := v.Assumption(plan.Assumption{Topic: topic, Measure: route.AsGiven, Bikes: 2, First: "A"})
		said["assumption "+string(topic)] = value
		said["name of "+string(topic)] = name
	}
	for _, why := range plan.Whys() {
		r := &plan.Refusal{Why: why, Name: "A", Stops: 3, Passed: []route.Metres{1000}}
		said["refusal "+string(why)], said["hint of "+string(why)] = refused.Fault(r, v.Units), refused.Hint(r, v.Units)
		if refused.Fault(r, v.Units) == r.Error() {
			t.Errorf("%s: said as a programmer reads it", why)
		}
	}
	return said
}

var (
	kilometres = regexp.MustCompile(`\d km\b`)
	decimals   = regexp.MustCompile(`(?:^|[ (])(?:km |mi )?\d+\.\d+(?:[ %),:;]|$)`)
	unit       = regexp.MustCompile(`^ *(?:%|L\b|US gal|km\b|mi\b|mpg|times|RON|AKI|kg|m\b|\()`)
)

// wantUnits wants a unit behind every figure that has a decimal, or before it where it
// names a place along the line; what is a bare number says of what.
func wantUnits(t *testing.T, u units.System, what, text string) {
	t.Helper()
	if u != units.Metric && kilometres.MatchString(text) && !bare[what] {
		t.Errorf("%s, %s: %q is in kilometres", u, what, text)
	}
	for _, at := range decimals.FindAllStringIndex(text, -1) {
		figure := text[at[0]:at[1]]
		rest := text[at[1]-1:]
		if strings.Contains(figure, "km ") || strings.Contains(figure, "mi ") || unit.MatchString(rest) || bare[what] {
			continue
		}
		t.Errorf("%s, %s: %q has no unit behind %q", u, what, text, figure)
	}
}

// bare are the sentences in which a figure is of a scale, a factor or of the flag that it
// is written with, or is the second of two in one unit.
var bare = map[string]bool{"slower": true, "assumption octane": true, "refusal thirst": true, "hint of thirst": true,
	"refusal corridor": true, "refusal from beyond the end": true, "refusal used over more": true,
	"hint of nothing used": true}
