package text

import (
	"fmt"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel"
)

// ThenAndNow sets the legs that are still to ride beside what was planned.
func (r *Report) ThenAndNow() {
	h, u := r.p.Here, r.u
	if h == nil {
		return
	}
	r.Line("", r.say.FromHere())
	r.happened()
	then := "then: the whole plan, full at its start"
	if h.OnTheWay() && r.p.Legs[0].FromVisit < 0 && h.Legs[0].HasThen {
		then += ", leg 1 from the pump before here"
	}
	r.Head(fmt.Sprintf("THEN AND NOW (%s; %s; %s: the consumption by the %s the bike shows with which a leg keeps its "+
		"reserve, in brackets arrives at all; - where no bike can be ridden so)", u.VolumeUnit(), then, u.NotOver(), u.DistanceUnit()))
	rows := [][]string{}
	for i, l := range h.Legs {
		_, to := words.EndsOf(r.p, i)
		now := r.p.Legs[i]
		takes, arrives, verdict := "-", "-", "-"
		if l.HasThen {
			takes, arrives = r.needed(l.Then.Need), u.Left(l.Then.Arrive)
			verdict = r.paint(string(l.Then.Verdict))
		}
		rows = append(rows, []string{legNumber(i), to, takes + " → " + r.needed(now.Drink.Fuel.Likely),
			arrives + " → " + u.Left(now.Arrive), verdict + " → " + r.paint(string(now.Verdict)),
			r.limit(l.Allowed, l.HasAllowed && l.Rideable(l.Allowed)) + " (" +
				r.limit(l.AllowedDry, l.HasAllowedDry && l.Rideable(l.AllowedDry)) + ")"})
	}
	r.Table([]sheet.Column{sheet.Number("#"), stopColumn("to"), sheet.Number("takes"), sheet.Number("arrives"),
		sheet.Words("verdict"), sheet.Number(u.NotOver() + " " + u.RateUnit())}, rows)
}

// happened sets the tanks of the ride so far beside what was planned of them.
func (r *Report) happened() {
	h, u := r.p.Here, r.u
	if len(h.Tanks) == 0 {
		return
	}
	r.Head(fmt.Sprintf("PLANNED AND WHAT HAPPENED (%s; of each tank so far, as it was planned before the ride; in: between low and high)",
		u.VolumeUnit()))
	var rows [][]string
	for i, t := range h.Tanks {
		row := []string{fmt.Sprint(i + 1), r.say.TankOf(t), "-", "-", "-", r.say.HowItWent(t)}
		if t.Real > 0 {
			row[4] = r.needed(t.Real)
		}
		if t.Told {
			row[2], row[3] = r.needed(t.Planned.Likely), r.spread(t.Planned.Low, t.Planned.High)
		}
		rows = append(rows, row)
	}
	r.Table([]sheet.Column{sheet.Number("#"), stopColumn("leg"), sheet.Number("planned"), sheet.Number("low–high"),
		sheet.Number("real"), sheet.Words("")}, rows)
}

func (r *Report) limit(c fuel.Consumption, ok bool) string {
	if !ok {
		return "-"
	}
	return r.u.Limit(c)
}
