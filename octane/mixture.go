package octane

import (
	"cmp"
	"errors"
	"fmt"
)

// ErrScales is wrapped by the error of [Mixture.Add] and [Blend] where numbers
// of two scales would have been averaged.
var ErrScales = errors.New("grades of two scales cannot be averaged")

// How far a mixture may lie from the need: up to [MeetsWithin] under it, it meets. The
// test methods do not tell such petrols apart (reproducibility about 0.7 RON, see the
// package's [5]): our estimate. Without it one low fill would mark the rest of a loop.
const (
	MeetsWithin    = 0.1
	doubtfulWithin = 0.5
)

// A fill of which nothing is known is taken to lie between the lowest grade
// still sold for cars (GOST R 51105: Normal-80) and the need.
const lowestSold RON = 80

// notKnownShare is the share of a mixture, by volume, up to which petrol of
// unknown grade is overlooked: our estimate.
const notKnownShare = 0.02

// A Mixture is the petrol in a tank, by volume: how much there is, and the low
// and the high end of what it is worth in one scale. The zero value is an empty
// tank that takes the scale of its first fill. Mixtures are values: Add and Draw
// return a new one.
type Mixture struct {
	scale     Scale
	volume    float64 // any unit, the same for all calls
	low, high float64 // volume × octane number
	unknown   float64 // of volume, of no known grade
}

// Of gives a volume of petrol on its own.
func Of(volume float64, petrol Interval) Mixture { return Mixture{}.add(volume, petrol) }

// Add mixes a volume of petrol into the tank. The error wraps [ErrScales] if
// the petrol is rated in another scale than what is in the tank: turn it into
// an interval of that scale first, with [Grade.In].
func (m Mixture) Add(volume float64, petrol Interval) (Mixture, error) {
	if m.scale != "" && m.scale != petrol.Scale {
		return m, fmt.Errorf("%w: %s into %s", ErrScales, petrol.Scale, m.scale)
	}
	m.scale = petrol.Scale
	m.volume += volume
	m.low += volume * petrol.Low
	m.high += volume * petrol.High
	return m, nil
}

// AddGrade mixes in a petrol of known grade, rated in the scale of the need.
func (m Mixture) AddGrade(volume float64, g, need Grade) Mixture {
	return m.add(volume, g.In(need.Scale))
}

// AddUnknown mixes in a petrol of no known grade: somewhere from 80 RON to the
// need, and remembered as not known.
func (m Mixture) AddUnknown(volume float64, need Grade) Mixture {
	low := min(FromRON(lowestSold).In(need.Scale).Low, need.Number)
	m = m.add(volume, Interval{Scale: need.Scale, Low: low, High: need.Number})
	m.unknown += volume
	return m
}

// DrawTo burns all but a volume; what is left keeps its grade.
func (m Mixture) DrawTo(volume float64) Mixture { return m.Draw(max(0, m.volume-volume)) }

// AddMixture mixes in what another vessel holds, both rated in the same scale.
func (m Mixture) AddMixture(o Mixture) Mixture {
	if o.volume <= 0 {
		return m
	}
	m = m.add(o.volume, Interval{Scale: o.scale, Low: o.Low(), High: o.High()})
	m.unknown += o.unknown
	return m
}

// add is Add where the caller has already chosen the scale.
func (m Mixture) add(volume float64, petrol Interval) Mixture {
	m.scale = petrol.Scale
	m.volume += volume
	m.low += volume * petrol.Low
	m.high += volume * petrol.High
	return m
}

// Draw burns a volume; what is left keeps its grade. Drawing more than there is
// empties the tank.
func (m Mixture) Draw(volume float64) Mixture {
	if !(volume < m.volume) {
		return Mixture{scale: m.scale}
	}
	keep := (m.volume - volume) / m.volume
	m.volume -= volume
	m.low *= keep
	m.high *= keep
	m.unknown *= keep
	return m
}

// Resize gives a volume of the same petrol.
func (m Mixture) Resize(volume float64) Mixture {
	if m.volume <= 0 || volume <= 0 {
		return Mixture{scale: m.scale}
	}
	times := volume / m.volume
	return Mixture{m.scale, volume, m.low * times, m.high * times, m.unknown * times}
}

// Volume gives how much there is, in the unit it was filled in.
func (m Mixture) Volume() float64 { return m.volume }

// Scale gives the scale in which Low and High are rated.
func (m Mixture) Scale() Scale { return m.scale }

// Low gives the least the mixture is worth; 0 for an empty tank.
func (m Mixture) Low() float64 { return m.mean(m.low) }

// High gives the most the mixture is worth; 0 for an empty tank.
func (m Mixture) High() float64 { return m.mean(m.high) }

func (m Mixture) mean(sum float64) float64 {
	if m.volume <= 0 {
		return 0
	}
	return sum / m.volume
}

// Against compares the mixture with a need of the same scale. It meets within
// 0.1 of the need, is doubtful if the high end comes within 0.5 of it, and is
// not known in place of doubtful while more than 2 % of it is of no known grade.
func (m Mixture) Against(need Grade) Verdict {
	const ulps = 1e-9 // the sums above round; a border is not missed by that
	switch {
	case m.Low() >= need.Number-MeetsWithin-ulps:
		return Meets
	case m.High() < need.Number-doubtfulWithin-ulps:
		return Below
	case m.unknown > notKnownShare*m.volume:
		return NotKnown
	}
	return Doubtful
}

// Worse gives the one of two mixtures that is worse for a need: by its verdict,
// then by its low end, then by its high end.
func Worse(a, b Mixture, need Grade) Mixture {
	worse := cmp.Or(cmp.Compare(b.Against(need).Rank(), a.Against(need).Rank()),
		cmp.Compare(a.Low(), b.Low()), cmp.Compare(a.High(), b.High()))
	if worse > 0 {
		return b
	}
	return a
}

// A Part is a volume of one grade, for [Blend].
type Part struct {
	Volume float64 // any unit, the same for all parts
	Grade  Grade
}

// Blend mixes petrols posted in one scale, by volume [4]. The error wraps
// [ErrScales] where they are posted in two: without a need there is no scale to
// turn them into.
func Blend(parts ...Part) (Mixture, error) {
	var m Mixture
	for _, p := range parts {
		var err error
		if m, err = m.Add(p.Volume, p.Grade.In(p.Grade.Scale)); err != nil {
			return Mixture{}, err
		}
	}
	return m, nil
}

// ShareToReach gives the volume fraction of the petrol rated high that lifts the
// one rated low to want, all in one scale: (want − low) / (high − low). It is 0
// where low is enough already; ok is false where even high is not.
func ShareToReach(low, high, want float64) (share float64, ok bool) {
	switch {
	case low >= want:
		return 0, true
	case high < want:
		return 0, false
	}
	return (want - low) / (high - low), true
}
