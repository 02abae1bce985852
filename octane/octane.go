// Package octane holds the anti-knock ratings of petrol: what the number on a
// pump is worth to an engine that asks for a certain number, and what is in the
// tank after two petrols have been mixed.
//
// Start with [Parse], then [Grade.Against] for one pump or [Mixture] for a tank.
//
// # What a rider should know
//
// An octane number means nothing without its scale. Two engines measure petrol
// in the laboratory: one gently (research octane number, RON), one hard (motor
// octane number, MON). For the same petrol MON is 8 to 10 lower; the difference
// is called the sensitivity. Most of the world posts RON. North America posts
// the mean of the two, (R+M)/2, the anti-knock index, AKI. So the same petrol is
// "95" in Europe and "90" or "91" in the United States, and a pump that says 91
// is good enough for a 95 RON engine in Denver and not in Sydney.
//
// Because the sensitivity of a given pump's petrol is not posted, one number can
// be turned into the other scale only as an interval: RON lies between AKI + 4
// and AKI + 5. A grade is compared in the scale of the need. If the whole
// interval is high enough it [Meets]; if only its upper end is, it is
// [Doubtful]; else it is [Below].
//
// Petrols mix by volume: half a tank of 91 and half of 95 make 93. That is
// done within one scale only; numbers of two scales are never averaged.
//
// # Limits
//
// No credit is given for altitude: no exact figure could be verified, engines of
// one model differ by more than any sensible credit, and the same tank is ridden
// down again. The maker's manual decides. The ethanol in a blend lifts octane
// somewhat more than by volume; this errs on the careful side by leaving it out.
//
// # Sources
//
//	[1] 15 U.S.C. § 2821: octane rating = (research + motor octane number) / 2.
//	[2] Directive 2009/30/EC, Annex I, and EN 228: 95 RON with 85 MON as minima.
//	[3] Sensitivity 8 to 10 for present-day petrol: common practice, no
//	    published standard; the pairs of [2] (95/85) lie at its upper end.
//	[4] Fahim et al., Fundamentals of Petroleum Refining, § 9.9, eq. 9.19:
//	    blending by volume fraction.
//	[5] Reproducibility of the engine tests about 0.7 (RON) and 0.9 (MON), the
//	    precision clauses of ASTM D2699 and D2700: from memory.
package octane

import (
	"math"
	"strconv"
)

// RON is a research octane number (ASTM D2699), as posted in most countries.
type RON float64

// MON is a motor octane number (ASTM D2700). No pump posts it alone.
type MON float64

// AKI is the anti-knock index, (RON+MON)/2, as posted in North America [1].
type AKI float64

// The sensitivity RON − MON of petrol whose MON is not posted, see [3]. They are
// floats: half of an odd whole number would be rounded down without a word.
const (
	minSensitivity float64 = 8
	maxSensitivity float64 = 10
)

// A Scale says in which unit an octane number is meant. The zero value is no
// scale; [Parse] never returns it.
type Scale string

// The two scales that pumps post.
const (
	ScaleRON Scale = "RON"
	ScaleAKI Scale = "AKI"
)

// A Grade is what a pump posts or a manual asks for: a number with its scale,
// or the pair RON/MON from which the AKI follows exactly.
type Grade struct {
	Scale  Scale
	Number float64 // in Scale
	MON    MON     // meaningless unless HasMON
	HasMON bool    // true only where Scale is ScaleRON
}

// FromRON makes the grade of a pump that posts RON.
func FromRON(r RON) Grade { return Grade{Scale: ScaleRON, Number: float64(r)} }

// FromAKI makes the grade of a pump that posts (R+M)/2.
func FromAKI(a AKI) Grade { return Grade{Scale: ScaleAKI, Number: float64(a)} }

// FromPair makes the grade of petrol of which both engine numbers are known.
func FromPair(r RON, m MON) Grade {
	return Grade{Scale: ScaleRON, Number: float64(r), MON: m, HasMON: true}
}

// Index gives (RON+MON)/2, exactly as in [1].
func Index(r RON, m MON) AKI { return AKI((float64(r) + float64(m)) / 2) }

// String gives the grade as it is written on input: "95 RON", "91 AKI", "95/85".
func (g Grade) String() string {
	n := strconv.FormatFloat(g.Number, 'f', -1, 64)
	if g.HasMON {
		return n + "/" + strconv.FormatFloat(float64(g.MON), 'f', -1, 64)
	}
	return n + " " + string(g.Scale)
}

// An Interval is what a petrol is worth in one scale: at least Low, at most High.
type Interval struct {
	Scale     Scale
	Low, High float64
}

// In gives what the grade is worth in scale s. It is one number where the scale
// is its own or both engine numbers are known, else an interval 1 wide:
// RON = AKI + S/2 with a sensitivity S of 8 to 10.
func (g Grade) In(s Scale) Interval {
	low, high := g.Number, g.Number
	switch {
	case s == g.Scale:
	case g.HasMON:
		low = float64(Index(RON(g.Number), g.MON))
		high = low
	default:
		low, high = across(s, g.Number, minSensitivity, maxSensitivity)
	}
	return Interval{Scale: s, Low: low, High: high}
}

// across turns a number of the other scale into scale s: between RON and AKI lies half
// the sensitivity, which is from least to most.
func across(s Scale, number, least, most float64) (low, high float64) {
	if s == ScaleRON {
		return number + least/2, number + most/2
	}
	return number - most/2, number - least/2
}

// A Verdict says whether petrol is good enough for an engine.
type Verdict string

// The verdicts, best first.
const (
	Meets    Verdict = "meets"
	Doubtful Verdict = "doubtful"
	NotKnown Verdict = "not known" // the pump's grade is not tagged, which is not "no"
	Below    Verdict = "below"
)

// Worst gives the worse of two verdicts.
func (v Verdict) Worst(o Verdict) Verdict {
	if o.Rank() > v.Rank() {
		return o
	}
	return v
}

// Rank orders verdicts, 0 for [Meets] up to 3 for [Below].
func (v Verdict) Rank() int {
	switch v {
	case Meets:
		return 0
	case Doubtful:
		return 1
	case NotKnown:
		return 2
	}
	return 3
}

// Against compares the grade with what an engine needs, in the scale of the
// need and without any tolerance: [Meets] if the low end of the grade does,
// [Doubtful] if only its high end does, else [Below].
func (g Grade) Against(need Grade) Verdict {
	in := g.In(need.Scale)
	switch {
	case in.Low >= need.Number:
		return Meets
	case in.High >= need.Number:
		return Doubtful
	}
	return Below
}

// ShownDown rounds an octane number down to one decimal, as it is shown to a
// rider: 93.857 is 93.8, never 93.9. The 1e-9 keeps 95 from being shown as 94.9
// after rounding in binary.
func ShownDown(n float64) float64 { return math.Floor((n+1e-9)*10) / 10 }
