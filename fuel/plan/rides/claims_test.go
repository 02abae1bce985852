package rides_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"lastpump/testdata/kit"
)

// How many rides, on loops whose plan promises that nobody runs dry and on the
// others: ten thousand in a long run.
var (
	ridesHolding = kit.Share(8500, 5)
	ridesOther   = kit.Share(1500, 5)
)

// ridden is one ride: the loop, what chance made of it, and how it ended by the
// sheet.
type ridden struct {
	loop  *loop
	fate  fate
	rider *rider
	end   ending
}

// rideAll rides loops in turn, n rides in all, by the sheet.
func rideAll(loops []*loop, n int, seed uint64) []ridden {
	rnd := rand.New(rand.NewPCG(seed, 1))
	var out []ridden
	for i := range n {
		l := loops[i%len(loops)]
		f := l.draw(rnd)
		r := l.set(f, l.sheet)
		out = append(out, ridden{l, f, r, r.bySheet()})
	}
	return out
}

// String says of a ride what is needed to look into it.
func (r ridden) String() string {
	dry := "none"
	for i := range r.loop.sheet.stops {
		if r.rider.isDry(i) {
			dry = r.loop.sheet.stops[i].name
			break
		}
	}
	for _, p := range r.loop.sheet.passed {
		if dry == "none" && r.rider.dryAt(p.entry) {
			dry = p.name + ", which is passed"
		}
	}
	return fmt.Sprintf("%s: %v at km %.3f, dry place %s, word of it %v, high all day %v, turned back %d times, tank %.6f L, can %.3f L, trip %.3f km",
		r.loop.name, r.end, r.rider.at/1000, dry, !r.fate.noWord, r.fate.pace == r.loop.most, r.rider.turnedFor, r.rider.tank, r.rider.can, r.rider.trip/1000)
}

// Nobody runs dry on a loop whose plan promises it, who drinks up to the high figure
// and finds up to one place dry; and where none is dry nearly all finish.
func TestNobodyRunsDry(t *testing.T) {
	holding, others := both(t)
	if len(holding) < 30 {
		t.Fatalf("only %d of %d loops hold", len(holding), len(holding)+len(others))
	}
	rides := rideAll(holding, ridesHolding, 1)
	if 2*len(rides) < ridesHolding+ridesOther {
		t.Fatalf("only %d rides on loops that hold", len(rides))
	}
	count := tally{}
	for _, r := range rides {
		count.add(r)
		if r.end == ranDry && count.ranDry <= 10 || r.end != ranDry && !(r.rider.tank >= -thimble) {
			t.Error(r)
		}
	}
	if count.ranDry > 0 {
		t.Errorf("%.0f ran dry", count.ranDry)
	}
	if count.wetFinished < 0.95*count.wet {
		t.Errorf("of %.0f rides without a dry pump %.0f finish", count.wet, count.wetFinished)
	}
	t.Logf("%d loops hold: %s", len(holding), count)
	for _, l := range holding[max(0, len(holding)-2):] {
		t.Log("among them: ", l.name)
	}
	count = tally{}
	for _, r := range rideAll(others, ridesOther, 2) {
		count.add(r)
	}
	t.Logf("%d do not: %s", len(others), count)
}

// A tally counts rides.
type tally struct {
	rides, finished, safe, ranDry float64
	wet, wetFinished              float64 // no place is dry
	turned, wrong, poured, high   float64
	nearly                        float64 // under half a litre left at the worst moment
	least                         float64 // litres at the worst moment of all
}

func (c *tally) add(r ridden) {
	one := map[bool]float64{true: 1}
	c.rides++
	c.finished += one[r.end == finished]
	c.safe += one[r.end == safe]
	c.ranDry += one[r.end == ranDry]
	c.wet += one[r.fate.dry < 0]
	c.wetFinished += one[r.fate.dry < 0 && r.end == finished]
	c.turned += one[r.rider.turnedFor > 0]
	c.wrong += one[r.rider.wrongWay > 0]
	c.poured += one[r.rider.poured > 0]
	if c.least = min(c.least, r.rider.least); c.rides == 1 {
		c.least = r.rider.least
	}
	c.nearly += one[r.rider.least < 0.5]
	c.high += one[r.fate.pace == r.loop.most]
}

func (c tally) String() string {
	return fmt.Sprintf("%.0f rides: %.0f finished, %.0f safe, %.0f ran dry; without a dry pump %.0f of %.0f finished; %.0f turned back, %.0f took wrong turns, %.0f poured, %.0f at the high figure all day, %.0f were once down to the last half litre, at the least %.3f L",
		c.rides, c.finished, c.safe, c.ranDry, c.wetFinished, c.wet, c.turned, c.wrong, c.poured, c.high, c.nearly, c.least)
}
