package fuel

import "lastpump/route"

// A Range is how far a full tank takes a bike on one ground, level, in true
// kilometres.
type Range struct {
	Ground  route.Ground
	Rate    [3]Consumption // low, likely, high: of a full tank
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
	by := b.Forecast()
	for _, g := range route.AllGrounds() {
		if g == route.Unknown {
			continue
		}
		over := func(d route.Metres) Amount { return by.Amount(b.FlatNeeds(g, Distances{d, d, d}).Times(thirst)) }
		const hundred = 100 * 1000
		likely := Consumption(over(hundred).Likely)
		kept := max(least, likely.Over(distance))
		r := Range{Ground: g, Dry: likely.Reach(b.Usable())}
		tank := over(r.Dry).Figures()
		per := Consumption(likely) / Consumption(tank.Likely)
		r.Rate = [3]Consumption{per * Consumption(tank.Low), likely, per * Consumption(tank.High)}
		r.DryHigh = r.Dry * route.Metres(Until(b.Usable(), func(share float64) Litres {
			return over(r.Dry * route.Metres(share)).At(High)
		}))
		r.Safe = likely.Reach(max(0, b.Usable()-kept))
		r.CanAdds = likely.Reach(canExample)
		out = append(out, r)
	}
	return out
}
