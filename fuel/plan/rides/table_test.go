package rides_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// compared is how many rides each of the riders of the comparison makes.
const compared = 3000

// A score is how rides ended, for one way of riding.
type score struct{ rides, finished, ranDry int }

func (s *score) add(e ending) {
	s.rides++
	switch e {
	case finished:
		s.finished++
	case ranDry:
		s.ranDry++
	}
}

// perThousand lays out a score.
func (s score) perThousand() string {
	return fmt.Sprintf("%6.0f stranded %6.0f finished", 1000*float64(s.ranDry)/float64(s.rides), 1000*float64(s.finished)/float64(s.rides))
}

// compare rides loops by the sheet and by each habit, with the same thirst, the same
// wrong turns and the same dry pumps. The riders of the plan carry the can that it
// asks for. Where it promises nothing with any can they do not set out, and count as
// neither stranded nor finished; those with a habit set out everywhere.
func compare(loops []*loop, n int) []score {
	rnd := rand.New(rand.NewPCG(3, 1))
	scores := make([]score, 1+len(habits))
	for i := range n {
		l := loops[i%len(loops)]
		f := l.draw(rnd)
		if l.holds {
			scores[0].add(l.set(f, l.sheet).bySheet())
		} else {
			scores[0].add(safe)
		}
		for k, h := range habits {
			scores[k+1].add(l.set(f, l.sheet).byHabit(h))
		}
	}
	return scores
}

// table lays out scores.
func table(what string, scores []score) string {
	var b strings.Builder
	fmt.Fprintf(&b, "per thousand rides on %s:\n%-20s %s", what, "the plan", scores[0].perThousand())
	for k, h := range habits {
		fmt.Fprintf(&b, "\n%-20s %s", h.name, scores[k+1].perThousand())
	}
	return b.String()
}

// Each habit of riders strands some; the plan strands none. Where no can has to be
// bought a dry pump is within what is left of half a tank, and turning round at half
// strands nobody: it turns back where there is no need.
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
	for k, h := range habits {
		if scores[k+1].ranDry == 0 {
			t.Errorf("%s strands nobody", h.name)
		}
	}
	few := compare(easy, compared)
	if scores[0].ranDry+few[0].ranDry > 0 {
		t.Errorf("the plan strands %d and %d", scores[0].ranDry, few[0].ranDry)
	}
	for k, h := range habits {
		if few[k+1].finished >= few[0].finished {
			t.Errorf("where no can has to be bought %s finishes %d, the plan %d", h.name, few[k+1].finished, few[0].finished)
		}
	}
	t.Log(table(fmt.Sprintf("all %d loops", len(all)), scores))
	t.Log(table(fmt.Sprintf("the %d on which no can has to be bought", len(easy)), few))
}
