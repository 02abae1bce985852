package words

import (
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/words/phrase"
	"lastpump/fuel"
	"lastpump/fuel/plan/call"
	"lastpump/fuel/stop"

	"github.com/mattn/go-runewidth"
)

// callWidth is how many columns a call takes at the most: a line.
const callWidth = 98

// Calls says whom to phone before the ride, one line for each, who matters most first: who, at
// what number, what to ask, and what the answers change.
func (v Voice) Calls() []string {
	lines := make([]string, len(v.Plan.Calls))
	for i, c := range v.Plan.Calls {
		lines[i] = v.call(c)
	}
	return lines
}

// CallsBeside says what holds of the calls: which are of the fills as they are, and how many stops
// were not tried; "" where there is nothing to say.
func (v Voice) CallsBeside() string {
	asTheyAre := 0
	for _, c := range v.Plan.Calls {
		if !c.Decided {
			asTheyAre++
		}
	}
	var out []string
	if asTheyAre > 0 {
		out = append(out, fmt.Sprintf("Tried with stops and cans as they are: the last %d of %s; --answer decides them anew.",
			asTheyAre, phrase.Count(len(v.Plan.Calls), "call")))
	}
	if n := v.Plan.NotCalled; n > 0 {
		out = append(out, fmt.Sprintf("Not tried: %s.", phrase.Count(n, "more doubtful stop")))
	}
	return strings.Join(out, " ")
}

// call says one call in a line: with less where it would be longer.
func (v Voice) call(c call.Call) string {
	name := v.Name(v.Plan.Stops[c.Stop].Name)
	line := ""
	for _, less := range []struct {
		where, none string
		effects     int
		name        int // its columns at the most
	}{
		{", " + v.Km(c.At), "no number: ", 2, 40}, {", " + v.Km(c.At), "", 2, 30},
		{", " + v.Km(c.At), "", 1, 30}, {"", "", 1, 16}, {"", "", 1, 10},
	} {
		short := func(s string) string { return runewidth.Truncate(s, less.name, "…") }
		line = fmt.Sprintf("%s%s: %s; %s → %s", short(name), less.where, v.number(c, less.none, short), question(c),
			v.answers(c, less.effects))
		if runewidth.StringWidth(line) <= callWidth {
			return line
		}
	}
	return runewidth.Truncate(line, callWidth, "…")
}

// number gives the number of who is asked, or whom to ask instead.
func (v Voice) number(c call.Call, none string, short func(string) string) string {
	const longest = 30 // columns of a number: half of one is none
	switch phone := v.Plan.Stops[c.Stop].Phone; {
	case phone != "":
		return runewidth.Truncate(phone, longest, "…")
	case c.AskAt >= 0:
		s := v.Plan.Visits[c.AskAt].Stop
		return fmt.Sprintf("%sask at %s, %s", none, short(v.Name(s.Name)), runewidth.Truncate(s.Phone, longest, "…"))
	}
	return "no number"
}

// question says what to ask.
func question(c call.Call) string {
	if c.Ask == call.ForGrade {
		return c.Grade.String() + "?"
	}
	return "petrol?"
}

// answers says what the answers change that change anything, the bad news first, each by its most
// weighty effects.
func (v Voice) answers(c call.Call, effects int) string {
	var out []string
	for _, said := range []struct {
		kind stop.AnswerKind
		text string
	}{{stop.Dry, "dry"}, {stop.Lacks, "no"}, {stop.Sells, "yes"}} {
		for _, i := range c.If {
			if e := v.effects(i.Changes); i.Answer.Kind == said.kind && len(e) > 0 {
				out = append(out, said.text+": "+strings.Join(e[:min(effects, len(e))], ", "))
			}
		}
	}
	return strings.Join(out, " / ")
}

// effects says in a few words each what changes, in the order of what is better.
func (v Voice) effects(c call.Changes) (out []string) {
	u := v.Units
	if c.Nothing() {
		return nil
	}
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	const shown = 0.05
	var short fuel.Litres // without the answer
	for _, l := range v.Plan.Legs {
		short += l.Short
	}
	switch {
	case c.Short >= shown && short < shown:
		say("%s SHORT", u.Needed(c.Short))
	case c.Short >= shown:
		say("%s more SHORT", u.Needed(c.Short))
	case c.Short <= -shown && short+c.Short < shown:
		say("none SHORT")
	case c.Short <= -shown:
		say("%s less SHORT", u.Held(-c.Short))
	}
	counted := func(n int, what string) {
		if n != 0 {
			say("%+d %s", n, what)
		}
	}
	counted(c.Stranded, "stranded")
	counted(c.NotOK, "not OK")
	counted(c.Bare, "nearly stranded")
	if c.Can != 0 {
		if all := v.Plan.Cans.Carried.Total() + c.Can; all > shown {
			say("%s in cans", u.Can(all))
		} else {
			say("no can")
		}
	}
	switch {
	case c.Octane > shown:
		say("lower grade")
	case c.Octane < -shown:
		say("better grade")
	}
	if c.Ridden >= 50 || c.Ridden <= -50 {
		say("%+.0f %s", u.DistanceIn(c.Ridden), u.DistanceUnit())
	}
	return out
}
