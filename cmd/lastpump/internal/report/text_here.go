package report

import (
	"fmt"
	"strconv"

	"lastpump/fuel"
)

// thenAndNow sets the legs that are still to ride beside what was planned.
func (t *texter) thenAndNow() {
	h := t.p.Here
	if h == nil {
		return
	}
	t.line("", h.Answer)
	u := t.u
	limit := "not over"
	if u != fuel.Metric {
		limit = "not under"
	}
	then := "then: the whole plan, full at its start"
	if h.OnTheWay() && t.p.Legs[0].FromVisit < 0 && h.Legs[0].HasThen {
		then += ", leg 1 from the pump before here"
	}
	t.head(fmt.Sprintf("THEN AND NOW (%s; %s; %s: the consumption by the %s the bike shows with which a leg keeps its reserve, in brackets arrives at all)",
		u.VolumeUnit(), then, limit, u.DistanceUnit()))
	rows := [][]string{}
	for i, l := range h.Legs {
		_, to := t.p.Ends(i)
		takes, arrives, verdict := "-", "-", "-"
		if l.HasThen {
			takes, arrives, verdict = t.needed(l.Then.Need), t.left(l.Then.Arrive), t.paint(string(l.Then.Verdict))
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), to, takes + " → " + t.needed(l.Now.Need), arrives + " → " + t.left(l.Now.Arrive),
			verdict + " → " + t.paint(string(l.Now.Verdict)),
			t.limit(l.Allowed, l.HasAllowed) + " (" + t.limit(l.AllowedDry, l.HasAllowedDry) + ")"})
	}
	t.table([]column{{"#", true, 0}, {"to", false, nameWidth}, {"takes", true, 0}, {"arrives", true, 0}, {"verdict", false, 0},
		{limit + " " + u.LimitUnit(), true, 0}}, rows)
}

func (t *texter) limit(c fuel.Consumption, ok bool) string {
	if !ok {
		return "-"
	}
	return t.u.Limit(c)
}

// toRide says how far it is to ride.
func (t *texter) toRide() string {
	if t.p.Here.OnTheWay() {
		return t.u.Distance(t.p.Loop.Ridden) + " still to ride"
	}
	return t.u.Distance(t.p.Loop.Ridden) + " to ride"
}

// whereabouts names where the ride, or the rest of it, begins.
func (t *texter) whereabouts() string {
	h := t.p.Here
	switch {
	case h == nil && t.p.Start.Fuel < t.p.Bike.Usable():
		return "At the start"
	case h == nil:
		return "Be full at the start"
	}
	s := fmt.Sprintf("Here, %s %.1f", t.u.DistanceUnit(), t.u.DistanceIn(h.At))
	if h.Stop == "" {
		return s
	}
	return s + ", on arriving at " + h.Stop
}
