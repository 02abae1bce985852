package rides_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// tight are strips on each of which one rule decides: the tank is the smallest with
// which the plan promises that nobody runs dry.
func tight() []draft {
	// B lies at the foot of a descent of 2000 m. If it is dry C is too far; back are 80
	// km, and up.
	foot := stripDraft(362, func(km float64) float64 { return max(0, 2000-25*km) }, 80, 205, 212)
	foot.name = "back is uphill"
	// Out to km 110 and home by the same way: B is passed at 50 and at 170. If it is dry
	// the first time it is so the second.
	twice := stripDraft(110, level, 50)
	twice.name = "dry at both passings"
	out := twice.tracks[0].Segments[0]
	home := slices.Clone(out[:len(out)-1])
	slices.Reverse(home)
	twice.tracks[0].Segments[0] = append(slices.Clone(out), home...)
	// Three pumps 1.9 km off the road.
	off := stripDraft(310, level, 80, 160, 240)
	off.name = "down side roads"
	for i := range off.in.Stops[1:] {
		off.in.Stops[1+i].At = orb.Point{off.in.Stops[1+i].At[0] + 0.022, off.in.Stops[1+i].At[1]}
	}
	// 163 km to B, and there is often no word of it before the turn-back figure.
	far := stripDraft(320, level, 163, 170)
	far.name = "turn back"
	strips := []draft{foot, twice, off, far}
	for i := range strips {
		strips[i].shrink, strips[i].in.Bike.Tank = true, 12
	}
	return strips
}

func TestNobodyRunsDryOnTightStrips(t *testing.T) {
	for _, d := range tight() {
		t.Run(d.name, func(t *testing.T) {
			l, err := d.make()
			if err != nil {
				t.Fatal(err)
			}
			if !l.holds || l.bought {
				t.Fatalf("the plan does not hold: %v", l.plan.Answer)
			}
			rnd := rand.New(rand.NewPCG(7, 1))
			least := never
			for range 500 {
				f := l.draw(rnd)
				r := l.set(f, l.sheet)
				if end := r.bySheet(); end == ranDry {
					t.Error(ridden{l, f, r, end})
				}
				least = min(least, r.least)
			}
			if least > 0.5 {
				t.Errorf("at the least %.3f L were left: this is not tight", least)
			}
		})
	}
}
