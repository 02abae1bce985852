package leg

import (
	"cmp"
	"math"
	"slices"

	"lastpump/fuel"
)

// Cans are the sizes of cans that are sold, at their nominal mark, the smallest first. The
// space above the mark is for the fuel to expand. None are those that are sold in litres.
type Cans []fuel.Litres

// inLitres are the sizes sold in litres (common practice, no source).
var inLitres = Cans{1, 1.5, 2, 3, 4, 5, 7.5, 10, 15, 20}

func (c Cans) sizes() Cans {
	if len(c) == 0 {
		return inLitres
	}
	return c
}

// A CanSize is a size sold; TooBig where none is big enough. The zero value is no can.
type CanSize struct {
	Litres fuel.Litres
	TooBig bool
}

// Smallest gives the smallest size sold that holds the litres.
func (c Cans) Smallest(l fuel.Litres) CanSize {
	if l <= 0 {
		return CanSize{}
	}
	for _, s := range c.sizes() {
		if l <= s+Hair { // a sum of binary fractions is not a larger can
			return CanSize{Litres: s}
		}
	}
	return CanSize{TooBig: true}
}

// Rank orders sizes, 0 for none; one that is not sold comes last.
func (c Cans) Rank(s CanSize) int {
	switch {
	case s.TooBig:
		return len(c.sizes()) + 1
	case s.Litres == 0:
		return 0
	}
	return slices.Index(c.sizes(), s.Litres) + 1
}

// partStep is to what litres are rounded up that are filled into part of a can: our
// estimate of what is read off its side.
const partStep = 0.5

// PartOf gives what to fill into a can of which so many litres are needed, no more than it
// holds.
func PartOf(need, can fuel.Litres) fuel.Litres {
	return min(can, fuel.Litres(math.Ceil(float64(need-Hair)/partStep)*partStep))
}

// Carried are the cans on a bike, the largest first, at their nominal marks: two at the most.
type Carried []fuel.Litres

// Total gives what they hold.
func (c Carried) Total() (l fuel.Litres) {
	for _, can := range c {
		l += can
	}
	return l
}

// Compare orders what is carried, the better first: the smallest total, then the fewer, then
// those of equal size.
func (c Carried) Compare(o Carried) int {
	spread := func(c Carried) fuel.Litres {
		if len(c) < 2 {
			return 0
		}
		return c[0] - c[len(c)-1]
	}
	if d := c.Total() - o.Total(); d < -Hair || d > Hair {
		return cmp.Compare(d, 0)
	}
	return cmp.Or(cmp.Compare(len(c), len(o)), cmp.Compare(spread(c), spread(o)))
}

// CarriedUnasked is how much is carried in cans without a fight (our estimate).
const CarriedUnasked fuel.Litres = 10

// UpTo lists what can be carried beside the cans that a bike has, up to so many litres in
// all and two cans, of each total the best, the smallest first. What the bike has comes first
// and is always among them, however much it is.
func (c Cans) UpTo(own Carried, most fuel.Litres) []Carried {
	all := []Carried{own}
	add := func(cans ...fuel.Litres) {
		with := append(slices.Clone(own), cans...)
		slices.SortFunc(with, func(a, b fuel.Litres) int { return cmp.Compare(b, a) })
		if len(with) <= 2 && with.Total() <= most+Hair {
			all = append(all, with)
		}
	}
	for i, a := range c.sizes() {
		add(a)
		for _, b := range c.sizes()[:i+1] {
			add(a, b)
		}
	}
	slices.SortStableFunc(all, Carried.Compare)
	return slices.CompactFunc(all, func(a, b Carried) bool {
		d := a.Total() - b.Total()
		return d > -Hair && d < Hair
	})
}
