package plan

import (
	"lastpump/fuel"
	"lastpump/route"
)

// A Fact is what a warning is about: one of the types below. What follows from the legs or
// the visits of the warning, or from the plan as a whole, is not repeated in it.
type Fact any

// Facts about legs: LegShort and LegTight are about one, the others about one or more.
type (
	// LegShort: the leg does not arrive.
	LegShort struct {
		Last route.Metres // of it, that the litres missing would take
	}
	// LegTight: the leg eats into its reserve, or runs dry at the high figure.
	LegTight struct {
		DryBefore route.Metres // its end, at the high figure; 0 where it is not
	}
	// MixtureBelow: legs that follow each other are ridden on petrol below the need.
	MixtureBelow struct {
		Fills []int // visits on them at which a grade is filled that does not meet
	}
	// MixtureDoubtful: the petrol on the legs may be below the need.
	MixtureDoubtful struct{}
	// GradeNotKnown: no grade is known of the fills at the visits, if there are any; on the
	// legs, if there are any, that leaves it open whether the petrol meets.
	GradeNotKnown struct{}
)

// Facts about visits: StrandedIfDry is about one, the others about one or more.
type (
	// StrandedIfDry: if the place is dry, no other is within reach.
	StrandedIfDry struct{}
	// BackToNoPump: if the place is dry, only the start is within reach, and no pump is
	// counted there.
	BackToNoPump struct{}
	// BareIfDry: if the place is dry, another is within reach on the likely figures only.
	BareIfDry struct {
		Lack fuel.Litres // at the most, see [fuel.Most], the largest of all
	}
	// LastSure: each place is the last sure fuel before a doubtful stretch, for the same
	// reasons as in its [trip.LastFuel].
	LastSure struct{ NotOK, Back, Off, Stranded, Unsure bool }
	// ShutThere: the stop is shut when the rider is there; he waits, or it is not counted, as
	// the hour of the visit has it.
	ShutThere struct{}
	// MaybeShut: the stop may be shut when the rider is there.
	MaybeShut struct{}
	// HoursNotKnown: nobody knows the hours of the stop, or they are not understood.
	HoursNotKnown struct{}
	// UnsureToo: nobody is sure of the place, nor of the next.
	UnsureToo struct{}
	// HoursClosed: the opening hours say that the stop is closed.
	HoursClosed struct{}
	// ConfirmedLater: the stop is confirmed after the day of the plan.
	ConfirmedLater struct{}
	// NotConfirmed: nobody has seen the stop or spoken to it, or it was confirmed over a
	// year ago.
	NotConfirmed struct{}
)

// Facts about days.
type (
	// ArriveDark: those days end in the dark, by the likely hour.
	ArriveDark struct{ Days []int } // into Plan.Days
)

// Facts about the list of stops.
type (
	// StopsSwapped: the line passes them if lat and lon are swapped, and not as written.
	StopsSwapped struct{ Names []string }
	// StopsAtNought stand at 0,0, where nothing is.
	StopsAtNought struct{ Names []string }
	// SkipsSeveral: a name to leave out is that of several stops.
	SkipsSeveral struct {
		Name  string
		Count int
	}
)

// Facts about the line.
type (
	// LineCoarse: the points of the line lie too far apart to trust its length.
	LineCoarse struct{}
	// LineGaps are gaps in the line, all of them ridden or none.
	LineGaps struct {
		Gaps  []route.Gap
		Stops []string // that lie in them
	}
	// FileCut: a file of the loop ends too early.
	FileCut struct{ Cut }
	// StraysDropped are points that were left out.
	StraysDropped struct {
		Strays []route.Strays
		Stops  []string // at their far ends
	}
	// LeapsRidden are leaps away and back that are counted as ridden, all of them doubted
	// or none.
	LeapsRidden struct {
		Leaps []route.Strays
		Stops []string // at their far ends
	}
	// OutOfOrder: in another order the parts meet much better.
	OutOfOrder struct{ *route.Reorder }
	// PartDoubled: a part looks like another way for a stretch of another.
	PartDoubled struct{ route.Doubling }
	// StoodPerhaps is what may have been drawn by a recorder that stood.
	StoodPerhaps struct{ Halts []route.Halt }
	// HaltsTaken is what was taken out, of halts.
	HaltsTaken struct {
		Halts int
		Taken route.Metres
	}
)

// Facts about ground, climb and the plan as a whole.
type (
	// GroundOfOtherOrder: the list of ground ends elsewhere than the file as given.
	GroundOfOtherOrder struct{ End, Given route.Metres }
	// GroundWithoutParts: the list of ground counts without the parts left out.
	GroundWithoutParts struct{ End route.Metres }
	// GroundPastEnd: the list of ground ends behind the end of the line.
	GroundPastEnd struct{ End, Line route.Metres }
	// GroundNotKnown: over [Loop].Guessed.
	GroundNotKnown struct{}
	// ClimbTooSteep: the heights climb more metres a kilometre than any ride.
	ClimbTooSteep struct{ MetresPerKm float64 }
	// ClimbNotKnown: over [Loop].NoHeights.
	ClimbNotKnown struct {
		Counted fuel.Figures // for it, over all legs
	}
	// UsedUnderLow: less was used up to here than the least that was expected.
	UsedUnderLow struct{ Used, Low fuel.Litres }
	// NoSuchCan: no can sold holds so much.
	NoSuchCan struct{ Litres fuel.Litres }
	// NoWayOut: the ways out that are given have none from the stops of these names, and none to those
	// of Guessed, which lie off the line.
	NoWayOut struct{ Names, Guessed []string }
	// NoStops: none is given.
	NoStops struct{}
	// Noted is what a reader of a file found odd, in its words.
	Noted struct{ Text string }
)
