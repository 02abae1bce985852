package rides_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"lastpump/testdata/kit"
)

// compared is how many rides each of the riders of the comparison makes.
var compared = kit.Share(3000, 6)

// A score is how rides ended, for one way of riding, and what was carried and filled.
type score struct {
	name                    string
	rides, finished, ranDry int
	stops                   int
	cans, canned            float64 // litres that the cans hold, and that went into them
}

func (s *score) add(r *rider, can float64, e ending) {
	s.rides++
	s.stops += r.stops
	s.cans, s.canned = s.cans+can, s.canned+r.canned
	switch e {
	case finished:
		s.finished++
	case ranDry:
		s.ranDry++
	}
}

// String lays out a score, each figure by a thousand rides.
func (s score) String() string {
	each := func(n float64) float64 { return 1000 * n / float64(s.rides) }
	return fmt.Sprintf("%-26s %6.0f stranded %6.0f finished %6.0f stops %6.0f L of cans %6.0f L filled into them", s.name,
		each(float64(s.ranDry)), each(float64(s.finished)), each(float64(s.stops)), each(s.cans), each(s.canned))
}

// compare rides loops by the sheet of the plan, by that of a plan for the bike alone and by
// each habit, with the same thirst, the same wrong turns and the same dry pumps. By the sheet
// they set out where it promises that nobody runs dry, else they stay, and count as neither
// stranded nor finished; those with a habit set out everywhere, and so do those of the second
// row of the bike alone.
func compare(loops []*loop, n int) []score {
	rnd := rand.New(rand.NewPCG(3, 1))
	scores := []score{{name: "the plan"}, {name: "the bike alone"}, {name: "the bike alone, everywhere"}}
	for _, h := range habits {
		scores = append(scores, score{name: h.name})
	}
	for i := range n {
		l := loops[i%len(loops)]
		f := l.draw(rnd)
		for k, by := range []*loop{l, l.alone, l.alone} {
			r, can, end := by.set(f, by.sheet), 0.0, safe
			if by.holds || k == 2 {
				can, end = float64(by.plan.Bike.Can), r.bySheet()
			}
			scores[k].add(r, can, end)
		}
		for k, h := range habits {
			r := l.set(f, l.sheet)
			end := r.byHabit(h)
			scores[3+k].add(r, l.ownCan, end)
		}
	}
	return scores
}

// table lays out scores.
func table(what string, scores []score) string {
	var b strings.Builder
	fmt.Fprintf(&b, "per thousand rides on %s:", what)
	for _, s := range scores {
		fmt.Fprintf(&b, "\n%v", s)
	}
	return b.String()
}

// The plan strands nobody and finishes more than one for the bike alone; each habit of riders
// strands some, and so does the bike alone. Where no can has to be bought a dry pump is within
// what is left of half a tank, and turning round at half strands nobody: it turns back where
// there is no need.
func TestHabitsCompared(t *testing.T) {
	all, err := loops()
	if err != nil {
		t.Fatal(err)
	}
	var easy []*loop // their plan holds with the bike as it is
	for _, l := range all {
		if l.holds && !l.bought {
			easy = append(easy, l)
		}
	}
	scores := compare(all, compared)
	for _, s := range scores[2:] {
		if s.ranDry == 0 {
			t.Errorf("%s strands nobody", s.name)
		}
	}
	few := compare(easy, compared)
	for _, s := range []score{scores[0], scores[1], few[0], few[1]} {
		if s.ranDry > 0 {
			t.Errorf("%s strands %d", s.name, s.ranDry)
		}
	}
	if scores[0].finished <= scores[1].finished {
		t.Errorf("the plan finishes %d, the bike alone %d", scores[0].finished, scores[1].finished)
	}
	for _, s := range few[3:] {
		if s.finished >= few[0].finished {
			t.Errorf("where no can has to be bought %s finishes %d, the plan %d", s.name, s.finished, few[0].finished)
		}
	}
	t.Log(table(fmt.Sprintf("all %d loops", len(all)), scores))
	t.Log(table(fmt.Sprintf("the %d on which no can has to be bought", len(easy)), few))
}
