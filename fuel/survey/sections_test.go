package survey

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"lastpump/fuel/survey/surface"
	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/route/roads"
)

// patchesOf reads "paved 500, sand 20": grounds and metres; a ? behind is guessed.
func patchesOf(text string) (out []Match) {
	at := route.Metres(0)
	for _, part := range strings.Split(text, ", ") {
		var ground string
		var metres float64
		fmt.Sscanf(part, "%s %f", &ground, &metres)
		name, guessed := strings.CutSuffix(ground, "?")
		out = append(out, matchOf(at, at+route.Metres(metres), route.Ground(name), guessed))
		at += route.Metres(metres)
	}
	return out
}

// matchOf makes a match on a way with a tag that tells its ground.
func matchOf(from, to route.Metres, ground route.Ground, guessed bool) Match {
	return Match{roads.Match{Span: roads.Span{From: from, To: to}, Way: &roads.Way{ID: 1}},
		surface.Footing{Ground: ground, Guessed: guessed,
			Tags: osmfile.Tags{{Key: "surface", Value: string(ground)}}}}
}

// Sections under 50 m go to their neighbours unless they are sand, mud or rock;
// the examples are worked by hand.
func TestShortSectionsAreSmoothedAway(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"paved 500, dirt 49, paved 500", "paved 1049"},
		{"paved 500, dirt 50, paved 500", "paved 500, dirt 50, paved 500"},
		{"paved 500, sand 3, paved 500", "paved 500, sand 3, paved 500"},
		{"paved 500, mud 3, rocky 4, paved 500", "paved 500, mud 3, rocky 4, paved 500"},
		{"paved 500, unknown 30, paved 500", "paved 1030"},
		{"paved 500, packed-gravel 30, dirt 500", "paved 500, dirt 530"}, // to the thirstier neighbour
		{"dirt 500, packed-gravel 30, paved 500", "dirt 530, paved 500"},
		{"paved 500, dirt? 30, dirt 500", "paved 500, dirt 530"}, // to its own kind
		{"dirt 30, paved 500", "paved 530"},
		{"paved 500, dirt 30", "paved 530"},
		{"dirt 30", "dirt 30"},
		{"paved 40, dirt 30, paved 40, dirt 30", "dirt 140"}, // in short pieces rough does not go for smooth
		{"paved 45, dirt 40, paved 45, dirt 40, paved 500", "dirt 170, paved 500"},
		{"paved 500, paved? 500", "paved 500, paved? 500"},
		{"unknown 500, paved 20, unknown 500", "unknown 1020"},
	} {
		var got []string
		for _, s := range smoothed(patches(patchesOf(c.in))) {
			mark := ""
			if s.guessed {
				mark = "?"
			}
			got = append(got, fmt.Sprintf("%s%s %.0f", s.ground, mark, s.length()))
		}
		if text := strings.Join(got, ", "); text != c.want {
			t.Errorf("%s becomes %s, want %s", c.in, text, c.want)
		}
	}
}

// Twenty thousand short pieces are smoothed in a moment, as a line through a town has
// them: were it a matter of squares, this would take minutes.
func TestSmoothingManyPieces(t *testing.T) {
	var in []Match
	at := route.Metres(0)
	for i := range 20_000 {
		to := at + 20 + route.Metres(i%29)
		in = append(in, matchOf(at, to, route.AllGrounds()[i%3], false))
		at = to
	}
	if out := smoothed(patches(in)); len(out) == 0 || out[len(out)-1].to() != at {
		t.Errorf("%d patches", len(out))
	}
}

// Whatever is smoothed, the length stays, and only what may is short.
func TestSmoothingKeepsTheLength(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		var in []Match
		at := route.Metres(0)
		for range 1 + r.IntN(40) {
			to := at + route.Metres(1+r.ExpFloat64()*60)
			in = append(in, matchOf(at, to, route.AllGrounds()[r.IntN(len(route.AllGrounds()))], r.IntN(2) == 0))
			at = to
		}
		out := smoothed(patches(in))
		end := route.Metres(0)
		for i, s := range out {
			if s.from() != end {
				t.Fatalf("a patch begins at %v after %v", s.from(), end)
			}
			end = s.to()
			if len(out) > 1 && s.mayGo() {
				t.Fatalf("%v m of %s are left", s.length(), s.ground)
			}
			if i > 0 && s.like(out[i-1]) {
				t.Fatalf("two patches of %s side by side", s.ground)
			}
		}
		if end != at {
			t.Fatalf("the patches end at %v of %v", end, at)
		}
	}
}

func TestNoteOfASection(t *testing.T) {
	s := Section{Guessed: true, Matches: patchesOf("a 10, b 50, a 45, c 20, d 1, e 2")}
	if got, want := s.note(), "guessed from surface=a; surface=b; surface=c; and 2 more"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
