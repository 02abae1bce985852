package examples_test

import (
	"math"
	"slices"
	"testing"

	"lastpump/route"
)

// TestSteppeIsLikeRecordedRides compares the steppe loop with recorded rides,
// in windows of 10 km. A recorder that keeps a fix each second at bicycle speed
// leaves steps of some 4 m; the rides are first thinned to the mean step of the
// loop, so that both were kept alike.
func TestSteppeIsLikeRecordedRides(t *testing.T) {
	var ours, theirs [][]route.Point
	var all []float64
	for _, track := range readTracks(t, "steppe/loop.gpx") {
		for _, s := range track.Segments {
			all = append(all, lengths(s)...)
			ours = append(ours, windows(s)...)
		}
	}
	step := sum(all) / float64(len(all))
	for _, ride := range recordedRides(t) {
		d := lengths(ride)
		n := math.Round(step / (sum(d) / float64(len(d))))
		theirs = append(theirs, windows(thin(ride, int(n)))...)
	}
	compare(t, slices.Concat(steps, shape, []statistic{climb}), ours, theirs)
}

// TestCanyonIsLikeDrawnRides compares the canyon loop with the recorded rides
// after those went through the same drawing: all but the points that the shape
// needs, to within 25 m, left out.
func TestCanyonIsLikeDrawnRides(t *testing.T) {
	const within = 25 // metres; as the canyon was drawn
	var ours, theirs [][]route.Point
	for _, track := range readTracks(t, "canyon/loop.gpx") {
		for _, s := range track.Segments {
			ours = append(ours, windows(s)...)
		}
	}
	for _, ride := range recordedRides(t) {
		theirs = append(theirs, windows(drawn(ride, within))...)
	}
	compare(t, slices.Concat(steps, shape), ours, theirs)
}

// compare holds each statistic of our windows against the recorded ones. The
// band is what nine in ten recorded windows show; of ours at least eight in ten
// must lie in it, and their median between the recorded quartiles. A made road
// is too even more easily than too wild, so ours must also spread over at least
// a quarter of the band. Nothing here is a fixed figure of the roads.
func compare(t *testing.T, stats []statistic, ours, theirs [][]route.Point) {
	t.Helper()
	for _, s := range stats {
		our, their := apply(s, ours), apply(s, theirs)
		low, high := quantile(their, 0.05), quantile(their, 0.95)
		first, third := quantile(their, 0.25), quantile(their, 0.75)
		median := quantile(our, 0.5)
		inside := 0
		for _, v := range our {
			if low <= v && v <= high {
				inside++
			}
		}
		share := float64(inside) / float64(len(our))
		spread := (quantile(our, 0.95) - quantile(our, 0.05)) / (high - low)
		t.Logf("%-24s recorded %.3g [%.3g %.3g] %.3g, ours %.3g in %d windows, %.0f %% inside, spread %.2f",
			s.name, low, first, third, high, median, len(our), 100*share, spread)
		if share < 0.8 {
			t.Errorf("%s: %.0f %% of our windows lie in the recorded band, want 80", s.name, 100*share)
		}
		if median < first || median > third {
			t.Errorf("%s: our median %.3g is outside the recorded quartiles %.3g and %.3g", s.name, median, first, third)
		}
		if spread < 0.25 {
			t.Errorf("%s: our windows spread over %.2f of the recorded band, want 0.25", s.name, spread)
		}
	}
}

func apply(s statistic, windows [][]route.Point) []float64 {
	var v []float64
	for _, w := range windows {
		v = append(v, s.of(w))
	}
	return v
}
