package trip

import (
	"cmp"
	"math"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/route"
)

// A Worth is what speaks against a ride, in the order of its fields: of two rides the one is
// better that has less of the first in which they differ. Stops and cans are chosen by it, and
// calls and variants are ranked by it. Litres are in whole millionths and distances in
// millimetres, so that sums do not depend on their order.
type Worth struct {
	Short    int64 // litres that SHORT legs lack
	Stranded int64 // places that strand if they are dry
	Tight    int64 // legs
	Bare     int64 // places that strand at the most if they are dry
	Cans     leg.Carried
	Octane   int64 // likely litres × octane under the need
	Unsure   int64 // fills at stops that are not sure
	Fills    int64
	Shut     int64 // fills at stops that are shut or doubtful by their hours
	Detour   int64
}

// Compare orders worths, the better first.
func (w Worth) Compare(o Worth) int {
	return cmp.Or(cmp.Compare(w.Short, o.Short), cmp.Compare(w.Stranded, o.Stranded), cmp.Compare(w.Tight, o.Tight),
		cmp.Compare(w.Bare, o.Bare), w.Cans.Compare(o.Cans), cmp.Compare(w.Octane, o.Octane),
		cmp.Compare(w.Unsure, o.Unsure), cmp.Compare(w.Fills, o.Fills), cmp.Compare(w.Shut, o.Shut),
		cmp.Compare(w.Detour, o.Detour))
}

// Holds tells whether every leg is OK and no place strands or leaves bare.
func (w Worth) Holds() bool { return w.Short+w.Stranded+w.Tight+w.Bare == 0 }

// HoldsLikely tells whether every leg is OK and no place strands on the likely figures.
func (w Worth) HoldsLikely() bool { return w.Short+w.Stranded+w.Tight == 0 }

// BeforeCans gives what comes before the size of the cans.
func (w Worth) BeforeCans() [4]int64 { return [4]int64{w.Short, w.Stranded, w.Tight, w.Bare} }

// Micro gives litres in whole millionths.
func Micro(l fuel.Litres) int64 { return int64(math.Round(float64(l) * 1e6)) }

// Milli gives metres in whole thousandths.
func Milli(m route.Metres) int64 { return int64(math.Round(float64(m) * 1e3)) }

// Worth gives what speaks against the ride.
func (d *Draft) Worth() Worth {
	w := Worth{Cans: d.Trip.Carried}
	for _, l := range d.Legs {
		w.Short += Micro(l.Short)
		if l.Verdict == leg.Tight {
			w.Tight++
		}
		w.Octane += Micro(OctaneMissing(l.Drink.Fuel.Likely, l.Mixture.Low, d.Bike.Needs.Number))
	}
	stranded, bare := d.IfAnyDry()
	w.Stranded, w.Bare = int64(stranded), int64(bare)
	today := d.Trip.Options.Today
	for _, n := range d.Nodes {
		if !n.HasStop() {
			continue
		}
		v := d.Visits[n.Visit]
		w.Fills++
		if !v.Stop.Sure(today) {
			w.Unsure++
		}
		if v.Hour.MayBeShut() {
			w.Shut++
		}
		w.Detour += Milli(v.Detour)
	}
	return w
}

// OctaneMissing gives litres times the octane that a mixture has under the need, 0 where it
// meets it.
func OctaneMissing(l fuel.Litres, low, need float64) fuel.Litres {
	return l * fuel.Litres(max(0, need-low))
}
