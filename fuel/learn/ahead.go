package learn

import "lastpump/fuel"

// A Band is what a way will take: nineteen of twenty take less than High, and nineteen of
// twenty more than Low.
type Band struct {
	fuel.Figures
	SD float64 // of the logarithm
}

// Ahead gives what one leg takes, or a sum of legs that follow each other. A leg is all
// that is burnt from one brim to the next: a place that is passed or dry divides nothing.
// High is never under what the high weights ask for, as far as they are not the rider's
// own.
func (s State) Ahead(legs ...fuel.Needs) Band {
	f := s.known().Forecast()
	amounts := make([]fuel.Amount, len(legs))
	for i, l := range legs {
		amounts[i] = f.Amount(l)
	}
	figures, sd := f.Band(amounts...)
	return Band{figures, sd}
}
