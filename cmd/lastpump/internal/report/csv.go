package report

import (
	"encoding/csv"
	"io"
	"strconv"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// WriteCSV writes one row a leg, with the fill at its end, as CSV (RFC 4180),
// the units in the header. Numbers have no grouping and a decimal point.
func WriteCSV(w io.Writer, p *plan.Plan) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	u := p.Options.Units
	d, v := u.DistanceUnit(), "L"
	if u == fuel.US {
		v = "USgal"
	}
	c.Write([]string{"leg", "from", "to", "to_at_" + d, "ridden_" + d, "climb_m", "takes_" + v, "low_" + v, "high_" + v,
		"in_tank_" + v, "can_" + v, "arrives_" + v, "reserve_" + v, "verdict", "trip_stop_" + d, "trip_reserve_whole_" + d,
		"trip_turn_back_" + d, "trip_dry_" + d, "mixture_low", "mixture_high", "mixture_scale", "mixture_verdict",
		"fill_" + v, "fill_grade", "fill_can_" + v, "if_dry", "standing", "confirmed", "hours", "pay", "phone"})
	for i, l := range p.Legs {
		c.Write(append(legCells(p, i, l), fillCells(p, l)...))
	}
	c.Flush()
	return c.Error()
}

func legCells(p *plan.Plan, i int, l plan.Leg) []string {
	u := p.Options.Units
	far := func(m route.Metres) string { return decimals(u.DistanceIn(m), 1) }
	vol := func(x fuel.Litres) string { return decimals(u.VolumeIn(x), 2) }
	climb := ""
	if l.Drink.NoHeights <= 0 {
		climb = decimals(float64(l.Drink.Up), 0)
	}
	f := l.Drink.Fuel
	return []string{strconv.Itoa(i + 1), l.From, l.To, far(l.ToAt), far(l.Drink.Ridden), climb, vol(f.Likely), vol(f.Low), vol(f.High),
		vol(l.Start), vol(l.Can), vol(l.Arrive), vol(l.Kept), string(l.Verdict), far(l.Trip(p.Bike)), far(l.SafeTo), far(l.TurnBack),
		far(l.DryAt), decimals(l.Mixture.Low, 2), decimals(l.Mixture.High, 2), string(l.Mixture.Scale), string(l.Mixture.Verdict)}
}

func fillCells(p *plan.Plan, l plan.Leg) []string {
	out := make([]string, 9)
	if l.ToVisit < 0 {
		return out
	}
	u, v := p.Options.Units, p.Visits[l.ToVisit]
	out[0] = decimals(u.VolumeIn(v.Fill.Litres), 2)
	if v.Fill.HasGrade {
		out[1] = v.Fill.Grade.String()
	}
	out[2] = decimals(u.VolumeIn(v.Fill.Can), 2)
	if v.IfDry != nil {
		out[3] = string(v.IfDry.Outcome)
	}
	out[4] = string(v.Stop.Standing)
	if v.Stop.HasConfirmed {
		out[5] = v.Stop.Confirmed.Format(time.DateOnly)
	}
	out[6], out[7], out[8] = v.Stop.Hours, v.Stop.Pay, v.Stop.Phone
	return out
}

func decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }
