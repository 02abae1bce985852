package plan_test

import (
	"testing"
)

// Paved ground: the high figure is 1.155 of the likely, so that a tank of 200
// km is dry after 173.2, and out and back after half of that.
func TestHighFiguresOnTheTripMeter(t *testing.T) {
	l := make1(t, ride(straight(t, 190))).Legs[0]
	wantNear(t, "dry at, high", l.DryAtHigh.Kilometres(), 200/1.155)
	wantNear(t, "turn back, high", l.TurnBackHigh.Kilometres(), 100/1.155)
	wantNear(t, "turn back, likely", l.TurnBack.Kilometres(), 100)
}

// 240 km lack 3.86 L: a 4 L can. All 4 L of it fit, at the low use, after 4/(0.05 ×
// 0.885) km; the high use leaves 1 L after 9/(0.05 × 1.155) km.
func TestAFullCanFitsLater(t *testing.T) {
	u := make1(t, ride(straight(t, 240))).Can.Uses[0]
	wantNear(t, "full", float64(u.Full), 4)
	wantNear(t, "fits from", u.FullAt.Kilometres(), 4/lowKm)
	wantNear(t, "pour by", u.PourBy.Kilometres(), 9/(0.05*1.155))
}
