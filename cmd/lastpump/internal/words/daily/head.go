package daily

import (
	"fmt"

	"lastpump/cmd/lastpump/internal/words/when"
	"lastpump/fuel/clock"
	"lastpump/fuel/plan/days"
)

// A Head says of a day what stands over its stops.
type Head struct {
	Day   string // with its date
	Leave string // when, and how long one is in the saddle
	Night string // where it is, and what is in the tank there
	Rows  []Row  // all there is to say of it
}

// A Row is one thing that is known of a day.
type Row struct{ Label, Text string }

// Heads gives a head for each day; none without a departure.
func (v Voice) Heads() (out []Head) {
	for i, d := range v.Plan.Days {
		out = append(out, Head{
			Day:   fmt.Sprintf("Day %d, %s", i+1, when.Date(d.Leave)),
			Leave: fmt.Sprintf("leave %s, ride %s h", when.Clock(d.Leave), when.Clocked(d.Riding)),
			Night: fmt.Sprintf("%s %s, tank %s", when.Clock(d.There[clock.Likely]), v.Night(d), v.Units.Held(d.Tank)),
			Rows:  v.dayRows(i, d),
		})
	}
	return out
}

func (v Voice) dayRows(i int, d days.Day) []Row {
	rows := []Row{
		{"leave", when.Hour(d.Leave)},
		{"ride", fmt.Sprintf("%s, %s in the saddle, likely", v.Units.Distance(d.Ridden), when.Lasting(d.Riding))},
		{"there", fmt.Sprintf("%s (%s)", when.Hour(d.There[clock.Likely]), when.Between(d.There))},
	}
	if !d.Sunset.IsZero() {
		rows = append(rows, Row{"sunset", when.Clock(d.Sunset)})
	}
	place, then := "night", "at night"
	if i == len(v.Plan.Days)-1 {
		place, then = "to", "at the end"
	}
	return append(rows, Row{place, v.Night(d)}, Row{"tank", fmt.Sprintf("%s in it %s, without cans", v.Units.Held(d.Tank), then)},
		Row{"all open", "if you leave: " + Fit(d)})
}
