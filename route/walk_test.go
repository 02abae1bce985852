package route_test

import (
	"math"
	"testing"

	"lastpump/route"
)

func TestVerticesTellGaps(t *testing.T) {
	// Two segments with 50 km between them: the way between is a gap, the others are not.
	l := newLine(t, []route.Track{{Segments: [][]route.Point{north(0, 1000), north(51000, 52000)}}},
		route.LineOptions{})
	wantAt := []float64{0, 1000, 51000, 52000}
	wantGap := []bool{false, false, true, false}
	i := 0
	for v := range l.Vertices() {
		if math.Abs(float64(v.At)-wantAt[i]) > 0.01 || v.AfterGap != wantGap[i] {
			t.Errorf("vertex %d at %v m, after a gap: %v; want %v, %v", i, v.At, v.AfterGap, wantAt[i], wantGap[i])
		}
		if off := route.Distance(v.Point, place(0, wantAt[i])); off > 0.01 {
			t.Errorf("vertex %d lies %v m off", i, off)
		}
		i++
	}
	if i != 4 {
		t.Errorf("%d vertices, want 4", i)
	}
	for range l.Vertices() { // whoever has seen enough may stop
		break
	}
}

func TestFileAtCountsWhatWasLeftOut(t *testing.T) {
	// Due north with a point in the middle that leaps away and back: it is left out
	// of the line, but a list of ground measured on the file counts both leaps.
	pts := north(steps(0, 1900, 100)...)
	astray := flat([2]float64{200_000, 950})[0]
	with := append(append(append([]route.Point{}, pts[:10]...), astray), pts[10:]...)
	l := newLine(t, []route.Track{{Segments: [][]route.Point{with}}}, route.LineOptions{})
	if len(l.Strays) != 1 {
		t.Fatalf("strays: %v", l.Strays)
	}
	leap := float64(route.Distance(pts[9].Point, astray.Point) + route.Distance(astray.Point, pts[10].Point))
	for _, c := range []struct{ at, want float64 }{{0, 0}, {500, 500}, {1500, 1400 + leap}, {1900, 1800 + leap}} {
		if got := float64(l.FileAt(route.Metres(c.at))); math.Abs(got-c.want) > 0.05 {
			t.Errorf("at %v the file is at %v, want %v", c.at, got, c.want)
		}
	}
	if got, want := l.FileAt(l.Length()), l.FileLength(route.AsGiven); got != want {
		t.Errorf("the end is at %v, the file's at %v", got, want)
	}
}
