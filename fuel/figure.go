package fuel

import "lastpump/route"

// A Figure is one of the three that an uncertain amount is given in.
type Figure int

// The three figures, and a fourth that only [Amount.At] tells from High.
const (
	Low Figure = iota
	Likely
	High
	Most // what a dry place is judged by, and a can that is carried for one
)

// Of picks the figure; High for Most.
func (f Figure) Of(all Figures) Litres {
	return [...]Litres{all.Low, all.Likely, all.High, all.High}[f]
}

// Ridden picks the distance of a figure; that of High for Most.
func (f Figure) Ridden(all Distances) route.Metres {
	return [...]route.Metres{all.Low, all.Likely, all.High, all.High}[f]
}

// Distances are a distance ridden by the three figures.
type Distances struct{ Low, Likely, High route.Metres }

// Plus adds a distance that is known to each.
func (d Distances) Plus(m route.Metres) Distances {
	return Distances{d.Low + m, d.Likely + m, d.High + m}
}

// Minus gives how much less o is by each.
func (d Distances) Minus(o Distances) Distances {
	return Distances{d.Low - o.Low, d.Likely - o.Likely, d.High - o.High}
}
