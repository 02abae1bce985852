package survey

import (
	"context"
	"math/rand/v2"
	"testing"

	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/testdata/kit/extracts"
)

// A world is all of a map, as tests compare with it.
type world struct{ *extracts.World }

// surveyOf surveys a line.
func surveyOf(t testing.TB, line *route.Line, opt Options, maps ...osmfile.Extract) *Survey {
	t.Helper()
	s, err := Read(context.Background(), line, maps, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// small is an extract of a few objects.
func small(objects ...any) osmfile.Extract { return named("a", objects) }

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }

func lineOf(t testing.TB, segments ...[]route.Point) *route.Line {
	t.Helper()
	line, err := route.NewLine([]route.Track{{Segments: segments}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	return line
}
