// Package refused says in English why nothing is planned, and what to do about it: of any error [Fault] says what
// is wrong, and [Hint] names the flag that helps, or says what else does.
package refused

import (
	"errors"
	"fmt"
	"strings"

	"lastpump/cmd/lastpump/internal/words/units"
	"lastpump/fuel/plan"
	"lastpump/route"
	"lastpump/route/input"
)

// A refuser says why a plan is refused.
type refuser struct{ units.System }

// Fault says what is wrong, in the units of the rider.
func Fault(err error, u units.System) string {
	var of *plan.BikeError
	if errors.As(err, &of) {
		return of.Bike + ": " + Fault(of.Err, u)
	}
	say := refuser{u}
	if s := say.clockFault(err); s != "" {
		return s
	}
	var r *plan.Refusal
	if !errors.As(err, &r) {
		return err.Error()
	}
	for _, refused := range []func(*plan.Refusal) string{say.refusedOption, say.refusedPlace, say.refusedFigures} {
		if s := refused(r); s != "" {
			return s
		}
	}
	return err.Error()
}

// refusedOption says which option cannot be.
func (u refuser) refusedOption(r *plan.Refusal) string {
	switch r.Why {
	case plan.BadReserveShare:
		return fmt.Sprintf("a reserve of %.4g %% leaves nothing to ride on", r.Number*100)
	case plan.BadReserveDistance:
		return "the reserve is no distance"
	case plan.BadReserveLitres:
		return fmt.Sprintf("a reserve of %s leaves nothing to ride on of %s usable", u.Needed(r.Likely),
			u.Held(r.Usable))
	case plan.BadCorridor:
		return fmt.Sprintf("a corridor of %.4g km is not between 0 and %.0f", r.At.Kilometres(), r.Limit.Kilometres())
	case plan.BadThirst:
		return fmt.Sprintf("a thirst of %v is not between 0.5 and 3", r.Number)
	case plan.BadStartFuel:
		return fmt.Sprintf("%.4g L at the start do not go into a tank of %.4g usable litres", r.Likely, r.Usable)
	case plan.BadLowGrade:
		return fmt.Sprintf("%q is no rule for low grade", r.Name)
	case plan.BadFillAt:
		return fmt.Sprintf("%q does not say which stops to fill at", r.Name)
	case plan.BadDetours:
		return fmt.Sprintf("detours of %s are not between 0 and %s", u.Distance(r.At), u.Distance(r.Limit))
	case plan.DetoursNotChosen:
		return "detours are for stops that are chosen, and all are to be filled at"
	case plan.CanNowOver:
		return fmt.Sprintf("%s in the can do not go into %s", u.Needed(r.Likely), u.Can(r.Usable))
	case plan.BadCans:
		return fmt.Sprintf("%s in cans cannot be carried: two at the most, and %s in all", u.Needed(r.Likely), u.Can(r.Usable))
	case plan.BadCanMost:
		return fmt.Sprintf("%s in cans is not between 0 and %s", u.Needed(r.Likely), u.Can(r.Usable))
	case plan.BadTrust:
		return fmt.Sprintf("%q is not a standing to trust", r.Name)
	case plan.FillsNotWhere:
		return "--fills without --from"
	case plan.UsedAndFills:
		return "--used and --fills both say what the bike has used"
	case plan.UsedNotWhere:
		return "what was used on the way is given, but not where you are"
	case plan.StartFuelTwice:
		return "both the fuel at the start and the distance since the last fill are given"
	case plan.UsedInGroup:
		return "--used is of one bike, and there are several"
	case plan.GroupAtNoStop:
		return "what is in the tank where no pump is counted is of one bike, and there are several"
	}
	return ""
}

// refusedPlace says which stop or place is not there.
func (u refuser) refusedPlace(r *plan.Refusal) string {
	switch r.Why {
	case plan.UnknownSkip, plan.UnknownFrom, plan.UnknownAnswer:
		return fmt.Sprintf("no stop is called %q", r.Name)
	case plan.FromNotPassed:
		return fmt.Sprintf("the loop does not pass %s within the corridor", r.Name)
	case plan.FromPassedTwice:
		return fmt.Sprintf("%s is passed more than once, at %s %s", r.Name, u.DistanceUnit(), strings.Join(u.along(r.Passed),
			", "))
	case plan.FromPassedElsewhere:
		return fmt.Sprintf("%s is not passed within %s of %s, but at %s %s", r.Name, u.Distance(r.Limit), u.Km(r.At),
			u.DistanceUnit(), strings.Join(u.along(r.Passed), ", "))
	case plan.AnswerOfSeveral:
		return fmt.Sprintf("%d stops are called %s, at %s %s", len(r.Passed), r.Name, u.DistanceUnit(),
			strings.Join(u.along(r.Passed), ", "))
	case plan.FromBeyondEnd:
		return fmt.Sprintf("%s %.1f is not before the end of the line, at %.1f", u.DistanceUnit(), u.DistanceIn(r.At),
			u.DistanceIn(r.Limit))
	case plan.TankNotSaid:
		where := u.Km(r.At)
		if r.Name != "" {
			where = r.Name + ", " + where
		}
		return fmt.Sprintf("no pump is counted at %s, and what is in the tank there is not said", where)
	case plan.NoStopNear:
		return fmt.Sprintf("no stop of %d lies within %s of the line; the nearest, %s, is %s off", r.Stops,
			u.Distance(r.Limit), r.Name, u.Distance(r.At))
	case plan.NoLine:
		return "there is no line to ride"
	}
	return ""
}

// refusedFigures says why what was used on the way cannot be.
func (u refuser) refusedFigures(r *plan.Refusal) string {
	switch r.Why {
	case plan.NothingUsed:
		return "nothing used, or over no distance, measures nothing"
	case plan.UsedOverMore:
		return fmt.Sprintf("the %.1f %s on the trip meter are more than there are from the start to %s: as the bike "+
			"shows them %.1f",
			u.DistanceIn(r.Used.Trip), u.DistanceUnit(), u.Km(r.At), u.DistanceIn(r.Shown))
	case plan.UsedUnlikely:
		return fmt.Sprintf("%s over %s are %.2f times the %s expected", u.Held(r.Used.Litres), u.Distance(r.Used.Trip),
			r.Number, u.Needed(r.Likely))
	}
	return ""
}

// refusalHint says what to do about a refusal.
func (u refuser) refusalHint(err error) string {
	var r *plan.Refusal
	if !errors.As(err, &r) {
		return ""
	}
	switch r.Why {
	case plan.UnknownSkip:
		return input.Suggest(r.Name, r.Names) + "--skip takes the name as the list has it"
	case plan.UnknownAnswer:
		return input.Suggest(r.Name, r.Names) + "--answer takes the name as the list has it, a colon and the answer"
	case plan.UnknownFrom:
		return input.Suggest(r.Name, r.Names) + "--from takes the name of a stop as the list has it, or a kilometre"
	case plan.FromPassedTwice, plan.FromPassedElsewhere:
		return "say which it is: " + u.fromEach(r.Name, r.Passed)
	case plan.UsedOverMore:
		return fmt.Sprintf("if it was zeroed at the start, write \"… over %s %s\"; "+
			"else give what was used since a fill on this ride",
			units.Down(u.DistanceIn(r.Shown)), u.DistanceUnit())
	}
	return refusalHints[r.Why]
}

// fromEach gives the flags for each passing of a stop. The kilometre alone would not do: it is not at a stop that
// lies off the line.
func (u refuser) fromEach(name string, passed []route.Metres) string {
	all := make([]string, len(passed))
	for i, at := range passed {
		all[i] = fmt.Sprintf(`--from "%s"`, u.StopAlong(name, at))
	}
	return strings.Join(all, " or ")
}

// refusalHints are the hints that no figure stands in.
var refusalHints = map[plan.Why]string{
	plan.BadReserveShare:    "write it like --reserve 15%,30km",
	plan.BadReserveDistance: "write it like --reserve 15%,30km",
	plan.BadReserveLitres:   "write it like --reserve 2L",
	plan.BadCorridor:        "it is how far off the line a stop is still visited: --corridor 2km",
	plan.BadThirst:          "1 is the bike as measured, 1.15 a head wind",
	plan.BadStartFuel:       "--start-fuel counts usable litres",
	plan.BadLowGrade:        "write --low-grade least or full",
	plan.BadFillAt:          "write --fill chosen or --fill everywhere",
	plan.BadDetours:         "it is how far off the line a stop may be chosen: --fill chosen --detours 30km",
	plan.DetoursNotChosen:   "write --fill chosen with it, or leave --detours out",
	plan.CanNowOver:         "give a larger can with --can, such as --can 10L, or less in it",
	plan.BadCans:            "say which cans you have: --can 5L, 2x3L or 5L+3L",
	plan.BadCanMost:         "it is what cans may hold in all: --can-most 10L",
	plan.BadTrust:           "write --trust seen, phoned or map; hearsay is never counted",
	plan.FillsNotWhere:      `say where you are, the rest is planned from there: --from 212, or --from "the name of a stop"`,
	plan.UsedAndFills:       "write it into the file of fills, and leave --used out",
	plan.UsedNotWhere:       `say it: --from 212, or --from "the name of a stop"`,
	plan.StartFuelTwice:     "give one of --start-fuel and --since-fill",
	plan.UsedInGroup:        "measure one bike at a time: give one --bike",
	plan.GroupAtNoStop:      "give --from the name of a stop where everybody fills, or one --bike",
	plan.FromNotPassed:      "give the kilometre where you are: --from 212",
	plan.FromBeyondEnd: "kilometres are those of the whole loop, as its plan has them: --from 212, or --from " +
		"130mi",
	plan.TankNotSaid: "to plan with a full tank would flatter: give --start-fuel 6L, or --since-fill 80km",
	plan.NothingUsed: `write it like --used "9.8 L over 212 km"`,
	plan.UsedUnlikely: "check the figures: what was filled, what the trip meter showed, and where that was " +
		"(--from)",
	plan.NoStopNear: "is it the list of another loop? else look farther: --corridor 5km",
	plan.NoLine:     "give a GPX file with a track or a route",

	plan.AnswerOfSeveral: "write the answer into the list, or give each of them a name of its own there",
}
