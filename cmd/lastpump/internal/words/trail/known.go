package trail

import (
	"fmt"
	"slices"
	"strings"

	"lastpump/fuel/leg"
	"lastpump/fuel/trip"
)

// KnowsAndCarries begins the sheet: what is doubtful about the ride is known to who rides it,
// and is no news for those at home.
func (v Voice) KnowsAndCarries() string {
	who, knows, carries := "The rider", "knows", "carries"
	if v.Plan.Group != nil {
		who, knows, carries = "The riders", "know", "carry"
	}
	cans := "no can"
	if c := v.Plan.Cans.Carried; len(c) == 1 {
		cans = "a can of " + v.Cans(c)
	} else if len(c) > 1 {
		cans = "cans of " + v.Cans(c)
	}
	doubts := v.knownDoubts()
	if len(doubts) == 0 {
		return fmt.Sprintf("%s %s of no leg and no pump that is doubtful by this plan, and %s %s.", who, knows, carries,
			cans)
	}
	return fmt.Sprintf("%s %s of these doubts and %s %s: %s. None of it is news: go by the hours below.",
		who, knows, carries, cans, strings.Join(doubts, "; "))
}

// knownDoubts are what may go wrong by the plan itself, the worst first.
func (v Voice) knownDoubts() (out []string) {
	p := v.Plan
	if failing := v.failingLegs(); len(failing) > 0 {
		out = append(out, strings.Join(failing, ", "))
	}
	if dry := v.pumpsWhere(func(at trip.Visit) bool { return at.IfDry != nil && at.IfDry.Outcome == leg.Stranded }); dry != "" {
		out = append(out, "if it is dry, no pump is in reach from "+dry)
	}
	if bare := v.pumpsWhere(func(at trip.Visit) bool {
		return at.IfDry != nil && at.IfDry.Bare && at.IfDry.Outcome != leg.Stranded
	}); bare != "" {
		out = append(out, "if it is dry and the bike is thirsty, no pump is in reach from "+bare)
	}
	if behind := v.behindLast(); len(behind) > 0 {
		out = append(out, "behind the last sure pump: "+strings.Join(behind, ", "))
	}
	if unsure := v.pumpsWhere(func(at trip.Visit) bool {
		return at.Fill != nil && !at.Stop.Sure(p.Options.Today)
	}); unsure != "" {
		out = append(out, "nobody is sure of "+unsure)
	}
	if n := len(p.Answer.Below); n > 0 {
		out = append(out, fmt.Sprintf("the petrol is below %s on %d of %d legs", p.Bike.Needs, n, len(p.Legs)))
	}
	if p.Loop.GroundUnknown() {
		out = append(out, fmt.Sprintf("the ground is not known over %s", v.Units.Distance(p.Loop.Guessed)))
	}
	return out
}

// failingLegs names the legs that are not OK, for the bike for which each is worst.
func (v Voice) failingLegs() (out []string) {
	for i, l := range v.Plan.Legs {
		how := v.worseOff(i)
		if how == "" && l.Verdict != leg.OK {
			how = string(l.Verdict)
		}
		if how != "" {
			_, to := v.Ends(i)
			out = append(out, fmt.Sprintf("leg %d to %s is %s", i+1, to, how))
		}
	}
	return out
}

// behindLast names the legs that are OK and set out from the last sure pump before a doubt.
func (v Voice) behindLast() (out []string) {
	for i, l := range v.Plan.Legs {
		if l.Verdict == leg.OK && l.FromVisit >= 0 && v.Plan.Visits[l.FromVisit].LastFuel != nil {
			_, to := v.Ends(i)
			out = append(out, fmt.Sprintf("leg %d to %s", i+1, to))
		}
	}
	return out
}

// pumpsWhere names the pumps of which something holds, each once.
func (v Voice) pumpsWhere(holds func(trip.Visit) bool) string {
	var names []string
	for _, at := range v.Plan.Visits {
		if name := v.Name(at.Stop.Name); holds(at) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}
