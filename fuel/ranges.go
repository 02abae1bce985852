package fuel

import "lastpump/route"

// A Range is how far a full tank takes a bike on one ground, level, in true
// kilometres.
type Range struct {
	Ground  route.Ground
	Rate    [3]Consumption // low, likely, high
	Dry     route.Metres   // to the last usable drop, likely
	DryHigh route.Metres   // the same at the high figure
	Safe    route.Metres   // with the reserve whole, likely
	CanAdds route.Metres   // five litres more, likely
}

// canExample is the can that [Range.CanAdds] speaks of.
const canExample Litres = 5

// Ranges gives what a bike reaches on each ground, hardest first. The reserve is
// the larger of so many litres and the fuel for a distance.
func Ranges(b Bike, least Litres, distance route.Metres, thirst float64) []Range {
	var out []Range
	for _, g := range route.AllGrounds() {
		if g == route.Unknown {
			continue
		}
		w := b.Weight(g)
		flat := Consumption(float64(b.Rate()) * b.EthanolFactor() * thirst)
		r := Range{Ground: g, Rate: [3]Consumption{
			flat * Consumption(w.Low*lowShare), flat * Consumption(w.Likely), flat * Consumption(w.High*highShare),
		}}
		likely := r.Rate[1]
		kept := max(least, likely.Over(distance))
		r.Dry, r.DryHigh = likely.Reach(b.Usable()), r.Rate[2].Reach(b.Usable())
		r.Safe = likely.Reach(max(0, b.Usable()-kept))
		r.CanAdds = likely.Reach(canExample)
		out = append(out, r)
	}
	return out
}
