package plan_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/route"
)

// Paved ground: the high figure is 1.05 × 1.10 of the likely, so that a tank of 200
// km is dry after 173.2, and out and back after half of that.
func TestHighFiguresOnTheTripMeter(t *testing.T) {
	l := make1(t, ride(straight(t, 190))).Legs[0]
	wantNear(t, "dry at, high", l.DryAtHigh.Kilometres(), 200/1.155)
	wantNear(t, "turn back, high", l.TurnBackHigh.Kilometres(), 100/1.155)
	wantNear(t, "turn back, likely", l.TurnBack.Kilometres(), 100)
}

// 240 km lack 3.86 L: a 4 L can. All 4 L of it fit, at the low use, after 4/(0.05 ×
// 0.95 × 0.9) km; the high use leaves 1 L after 9/(0.05 × 1.155) km.
func TestAFullCanFitsLater(t *testing.T) {
	u := make1(t, ride(straight(t, 240))).Can.Uses[0]
	wantNear(t, "full", float64(u.Full), 4)
	wantNear(t, "fits from", u.FullAt.Kilometres(), 4/(0.05*0.95*0.9))
	wantNear(t, "pour by", u.PourBy.Kilometres(), 9/(0.05*1.155))
}

// Riding back to a start without a pump is said to be just that.
func TestBackToAStartWithoutAPump(t *testing.T) {
	in := ride(straight(t, 300), pump("A", 90, 0), pump("B", 240, 0))
	p := make1(t, in)
	if !strings.Contains(p.Answer[1], "From one stop only back to the start, where no pump is counted.") {
		t.Errorf("%q", p.Answer[1])
	}
	in.Stops = append(in.Stops, pump("home", 0, 0))
	if p := make1(t, in); strings.Contains(p.Answer[1], "no pump is counted") {
		t.Errorf("with a pump at home: %q", p.Answer[1])
	}
}

func TestDoubtfulWordOfAStop(t *testing.T) {
	shut, early := pump("shut", 50, 0), pump("early", 60, 0)
	shut.Hours = "off"
	early.Confirmed, early.HasConfirmed = time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC), true
	var got []string
	for _, w := range make1(t, ride(straight(t, 100), shut, early)).Warnings {
		if w.Kind == plan.KindStale {
			got = append(got, w.Text)
		}
	}
	want := []string{"shut: its hours say that it is closed",
		"early is said to be confirmed 2027-06-01, after the day you leave: is the date right?"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Better petrol is not worth a drier tank: without the pump of low grade the next,
// if dry, would leave nothing over.
func TestPassingByIsNoCureWhereItIsARisk(t *testing.T) {
	in := ride(straight(t, 200), pump("low", 50, 0, ron(80)), pump("good", 100, 0))
	for _, c := range warningOf(t, make1(t, in), plan.KindBelowGrade).Cures {
		if c.Cost == plan.CostNothing {
			t.Errorf("cure %+v", c)
		}
	}
}

// On sand the low and the high figure lie far apart: 1.5 × 0.9 against 2.8 × 1.1 of
// 5 L/100 km. All of a 7.5 L can fits after 7.5/0.0675 = 111.1 km, when a thirsty
// bike has been dry since 10/0.154 = 64.9: it is never told to wait for that.
func TestACanOnSandIsPouredInTwo(t *testing.T) {
	in := ride(straight(t, 110))
	in.Grounds.Default = route.Sand
	p := make1(t, in)
	want := "of a full 7.5 L can pour what fits by trip 58 km, the rest later" // 9/0.154 = 58.4
	if got := p.Can.Uses[0].Pouring(fuel.Metric); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for _, w := range p.Warnings {
		for _, c := range w.Cures {
			if strings.Contains(c.Text, " can ") && !strings.HasSuffix(c.Text, want) {
				t.Errorf("cure %q, want %q", c.Text, want)
			}
		}
	}
	if len(warningOf(t, p, plan.KindTight).Cures) == 0 {
		t.Error("no can among the cures")
	}
}
