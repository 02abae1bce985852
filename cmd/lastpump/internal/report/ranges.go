package report

import (
	"fmt"
	"io"

	"lastpump/fuel"
)

// WriteRanges writes what a bike reaches on each ground.
func WriteRanges(w io.Writer, ranges []fuel.Range, b fuel.Bike, u fuel.Units) error {
	name := b.Name
	if name == "" {
		name = "This bike"
	}
	if _, err := io.WriteString(w, wrap("", fmt.Sprintf("%s: %s usable of %s, %s on paved road, needs %s.",
		name, u.Held(b.Usable()), u.Held(b.Tank), u.Rate(b.Consumption), b.Needs))); err != nil {
		return err
	}
	rows := [][]string{}
	for _, r := range ranges {
		rows = append(rows, []string{string(r.Ground), rateOf(u, r.Rate[1]), rateOf(u, r.Rate[0]) + "–" + rateOf(u, r.Rate[2]),
			fmt.Sprintf("%.0f", u.DistanceIn(r.Safe)), fmt.Sprintf("%.0f", u.DistanceIn(r.Dry)),
			fmt.Sprintf("%.0f", u.DistanceIn(r.DryHigh)), fmt.Sprintf("+%.0f", u.DistanceIn(r.CanAdds))})
	}
	d := u.DistanceUnit()
	if err := table(w, []column{{"ground", false, 0}, {rateUnit(u), true, 0}, {"low–high", true, 0}, {"reserve whole to " + d, true, 0},
		{"dry at " + d, true, 0}, {"at the high figure", true, 0}, {"5 L can", true, 0}}, rows); err != nil {
		return err
	}
	_, err := io.WriteString(w, wrap("", "True distance on level ground, by our estimates of what each ground drinks: your own fill-ups are better. Climbing takes more; nothing is given back for descents."))
	return err
}

func rateUnit(u fuel.Units) string {
	switch u {
	case fuel.US:
		return "mpg US"
	case fuel.UK:
		return "mpg UK"
	}
	return "L/100 km"
}

func rateOf(u fuel.Units, c fuel.Consumption) string {
	switch u {
	case fuel.US:
		return fmt.Sprintf("%.1f", c.MPGUS())
	case fuel.UK:
		return fmt.Sprintf("%.1f", c.MPGUK())
	}
	return fmt.Sprintf("%.2f", float64(c))
}
