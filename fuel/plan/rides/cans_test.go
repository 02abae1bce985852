package rides_test

import "testing"

// asks gives what each leg asks of a can on the high figures: what it takes over the tank, and
// what it takes, if its end is dry, to the next other place or back to the last.
func (l *loop) asks() (out []float64) {
	for i := range l.sheet.legs {
		start := l.engine.usable
		if i == 0 && !l.sheet.stops[0].pump {
			start = l.startFuel
		}
		there := l.between(i, i+1)
		need := l.engine.high(there)
		if next := i + 1; next < l.sheet.last() {
			on, back := next+1, i
			for on < l.sheet.last() && l.sheet.stops[on].place == l.sheet.stops[next].place {
				on++
			}
			for back > 0 && l.sheet.stops[back].place == l.sheet.stops[next].place {
				back--
			}
			dry := func(to int) float64 { return l.engine.upTo(there.plus(l.between(next, to)), cautious) }
			need = max(need, min(dry(on), dry(back))) // nobody fills there: it is one way
		}
		out = append(out, need-start)
	}
	return out
}

// On a ride that goes as planned there is in the can on each leg what the sheet says and what
// the leg asks for, or it is full, although it is filled where the sheet says so and nowhere
// else; nothing comes into tank and can but at pumps, and nothing goes but by the engine; and
// no can overflows.
func TestTheCanHoldsWhatIsAsked(t *testing.T) {
	holding, _ := both(t)
	asks := map[*loop][]float64{}
	for _, l := range holding {
		asks[l] = l.asks()
	}
	uses := 0
	for _, r := range rideAll(holding, ridesHolding, 8) {
		size := float64(r.loop.plan.Bike.Can)
		wantAccounts(t, r)
		for _, s := range r.rider.setOuts {
			asked, said := min(size, asks[r.loop][s.leg]), r.loop.sheet.legs[s.leg].can
			if asked > 0 {
				uses++
			}
			if s.can < asked-1e-5 || s.can < said-thimble {
				t.Errorf("leg %d asks for %.6f L and the sheet says %.6f, in the can are %.6f: %v", s.leg+1, asked, said, s.can, r)
			}
		}
	}
	if uses < ridesHolding {
		t.Errorf("only %d legs asked for a can", uses)
	}
	t.Logf("%d legs asked for a can", uses)
}

// wantAccounts checks that no can overflows, and that nothing comes and goes but at pumps and by
// the engine.
func wantAccounts(t *testing.T, r ridden) {
	t.Helper()
	if size := float64(r.loop.plan.Bike.Can); r.rider.mostInCan > size+thimble {
		t.Errorf("%.6f L in cans of %.6f: %v", r.rider.mostInCan, size, r)
	}
	wantNear(t, "what is left in tank and can", r.rider.tank+r.rider.can, r.loop.startFuel+r.rider.filled-r.rider.burnt)
}
