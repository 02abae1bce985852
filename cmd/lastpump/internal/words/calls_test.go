package words_test

import (
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/call"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"

	"github.com/mattn/go-runewidth"
	"pgregory.net/rapid"
)

func ifs(sells, lacks, dry call.Changes) []call.If {
	return []call.If{{Answer: stop.Answer{Kind: stop.Sells}, Changes: sells},
		{Answer: stop.Answer{Kind: stop.Lacks, Grades: []octane.Grade{ron(95)}}, Changes: lacks},
		{Answer: stop.Answer{Kind: stop.Dry}, Changes: dry}}
}

// withCalls gives a plan over A, which has a number, and B, which has none, with a can of 3 L.
func withCalls(t *testing.T, calls ...call.Call) *plan.Plan {
	a, b := pump("A", 150, 0), pump("B", 250, 0)
	a.Phone = "+999 555 0101"
	p := make1(t, ride(straight(t, 300), a, b))
	p.Cans.Carried = leg.Carried{3}
	p.Calls = calls
	return p
}

func TestWordsOfCalls(t *testing.T) {
	var none call.Changes
	p := withCalls(t,
		call.Call{Stop: 0, At: 150e3, AskAt: -1, Ask: call.Whether, Decided: true,
			If: ifs(none, none, call.Changes{Short: 2, NotOK: 1, Stranded: 2})},
		call.Call{Stop: 1, At: 250e3, AskAt: 0, Ask: call.ForGrade, Grade: ron(95), Decided: true,
			If: ifs(call.Changes{Can: -3, Octane: -4}, call.Changes{Octane: 30}, call.Changes{Bare: -1, Ridden: -31.2e3})},
		call.Call{Stop: 1, At: 250e3, AskAt: -1, Ask: call.ForGrade, Grade: ron(95),
			If: ifs(call.Changes{Can: 4.5, NotOK: -1}, none, none)})
	want := []string{
		"A, km 150: +999 555 0101; petrol? → dry: 2.0 L SHORT, +2 stranded",
		"B: ask at A, +999 555 0101; 95 RON? → dry: -1 nearly stranded / no: lower grade / yes: no can", // else 101 columns
		"B, km 250: no number; 95 RON? → yes: -1 not OK, 7.5 L in cans",
	}
	v := words.Of(p, units.Metric)
	if got := v.Calls(); !slices.Equal(got, want) {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	p.NotCalled = 2
	if got := v.CallsBeside(); got != "Tried with stops and cans as they are: the last 1 of 3 calls; "+
		"--answer decides them anew. Not tried: 2 more doubtful stops." {
		t.Error(got)
	}
	us := words.Of(p, units.US).Calls()
	if want := "A, mi 93: +999 555 0101; petrol? → dry: 0.53 US gal SHORT, +2 stranded"; us[0] != want {
		t.Errorf("%s, want %s", us[0], want)
	}
}

// However long names are a call is one line, the number in it whole.
func TestCallsAreLines(t *testing.T) {
	p := withCalls(t, call.Call{})
	rapid.Check(t, func(rt *rapid.T) {
		text := func(what string, most int) string {
			return "x" + rapid.StringOfN(rapid.RuneFrom([]rune("abcж 水é")), 0, most, -1).Draw(rt, what)
		}
		p.Stops[1].Name, p.Visits[0].Stop.Name = text("name", 80), text("whom to ask", 80)
		phone := rapid.StringMatching(`\+[0-9]{3,5} [0-9]{3} [0-9]{4,12}`).Draw(rt, "phone")
		p.Visits[0].Stop.Phone = phone
		changes := func(what string) call.Changes {
			n := rapid.IntRange(-3, 30)
			return call.Changes{Stranded: n.Draw(rt, what), Bare: n.Draw(rt, what), NotOK: n.Draw(rt, what),
				Short: fuel.Litres(n.Draw(rt, what)), Can: fuel.Litres(n.Draw(rt, what)), Octane: fuel.Litres(n.Draw(rt, what)),
				Ridden: route.Kilometres(float64(n.Draw(rt, what)))}
		}
		p.Calls[0] = call.Call{Stop: 1, At: route.Kilometres(rapid.Float64Range(0, 5000).Draw(rt, "at")),
			AskAt: rapid.IntRange(-1, 0).Draw(rt, "ask"), Ask: call.ForGrade, Grade: ron(95),
			If: ifs(changes("sells"), changes("lacks"), changes("dry"))}
		for _, u := range []units.System{units.Metric, units.US} {
			line := words.Of(p, u).Calls()[0]
			if runewidth.StringWidth(line) > 100 || strings.ContainsAny(line, "\n%") ||
				p.Calls[0].AskAt >= 0 && !strings.Contains(line, phone+";") {
				rt.Fatalf("%d columns: %q", runewidth.StringWidth(line), line)
			}
		}
	})
}
