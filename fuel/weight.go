package fuel

import "lastpump/route"

// A Weight is how much more a ground drinks than paved road: at the least,
// likely and at the most.
type Weight struct{ Low, Likely, High float64 }

// weights on the rate on paved road. Our estimate, from rolling resistance by
// surface (Moyer in Marks' Handbook; Carvill, Mechanical Engineer's Data
// Handbook) with 0.4 to 0.5 of the fuel following the drag, and from what riders
// report (common practice, no source). No measurement of off-road consumption of
// motorcycles was found.
var weights = map[route.Ground]Weight{
	route.Paved:        {0.95, 1.00, 1.05},
	route.PackedGravel: {1.00, 1.05, 1.15},
	route.LooseGravel:  {1.10, 1.25, 1.40},
	route.Dirt:         {1.10, 1.25, 1.40},
	route.Soft:         {1.30, 1.50, 1.80},
	route.Rocky:        {1.30, 1.50, 2.00},
	route.Mud:          {1.40, 1.70, 2.50},
	route.Sand:         {1.50, 1.80, 2.80},
	route.DeepSand:     {2.00, 2.50, 3.50},
	route.Snow:         {1.30, 1.60, 2.20},
}

// Weight gives what a ground does to this bike: its own figure where it has one,
// else the general one. Unknown ground is dirt.
func (b Bike) Weight(g route.Ground) Weight {
	if w, ok := b.Own[g]; ok {
		return w
	}
	return GeneralWeight(g)
}

// GeneralWeight gives what a ground does to any bike. Unknown ground is dirt.
func GeneralWeight(g route.Ground) Weight {
	if w, ok := weights[g]; ok {
		return w
	}
	return weights[route.Dirt]
}

// scaled gives the general weight of a ground with its likely figure replaced:
// low and high go with it.
func scaled(g route.Ground, likely float64) Weight {
	w := GeneralWeight(g)
	f := likely / w.Likely
	return Weight{w.Low * f, likely, w.High * f}
}
