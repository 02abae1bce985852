package route_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lastpump/route"
)

func TestRunsByGround(t *testing.T) {
	l := newLine(t, track(north(steps(0, 1000, 100)...)), route.LineOptions{Stretch: 1.5})
	end := l.Length()
	g := route.Grounds{
		Default: route.PackedGravel,
		Sections: []route.Section{
			{From: 120, To: 250, Ground: route.Sand},
			{From: 250, To: 600, Ground: route.Unknown},
			{From: 900, To: end + 90, Ground: route.Mud}, // overruns the end
		},
	}
	want := []route.Run{
		{From: 0, To: 120, Ground: route.PackedGravel},
		{From: 120, To: 250, Ground: route.Sand},
		{From: 250, To: 600, Ground: route.Dirt, Guessed: true}, // unknown is planned as dirt
		{From: 600, To: 900, Ground: route.PackedGravel},
		{From: 900, To: end, Ground: route.Mud},
	}
	got := l.Runs(g)
	if len(got) != len(want) {
		t.Fatalf("runs %+v", got)
	}
	for i, w := range want {
		r := got[i]
		if r.From != w.From || r.To != w.To || r.Ground != w.Ground || r.Guessed != w.Guessed {
			t.Errorf("run %d: %+v, want %+v", i, r, w)
		}
		wantNear(t, "ridden", r.Ridden, 1.5*float64(w.To-w.From), 1e-9)
	}
}

// Nothing said is unknown ground throughout, planned as dirt.
func TestRunsWithoutGround(t *testing.T) {
	for _, g := range []route.Grounds{{}, {Default: route.Unknown}} {
		runs := plain(t, north(0, 500, 1000)).Runs(g)
		if len(runs) != 1 || runs[0].Ground != route.Dirt || !runs[0].Guessed {
			t.Errorf("%+v", runs)
		}
	}
}

// anySections draws sections that do not overlap, some of them touching, the last
// perhaps over the end of the line.
func anySections(t *rapid.T, length route.Metres) []route.Section {
	var sections []route.Section
	ends := rapid.SliceOfNDistinct(rapid.Float64Range(0, float64(length)+100), 0, 12, rapid.ID).Draw(t, "ends")
	slices.Sort(ends)
	for i := 1; i < len(ends); i++ {
		if rapid.Bool().Draw(t, "section") {
			g := rapid.SampledFrom(route.AllGrounds()).Draw(t, "ground")
			sections = append(sections, route.Section{From: route.Metres(ends[i-1]), To: route.Metres(ends[i]),
				Ground: g})
		}
	}
	return sections
}

// groundAt looks the ground up one section after the other.
func groundAt(g route.Grounds, m route.Metres) (route.Ground, bool) {
	ground := g.Default
	for _, s := range g.Sections {
		if s.From <= m && m < s.To {
			ground = s.Ground
		}
	}
	if ground == "" || ground == route.Unknown {
		return route.Dirt, true
	}
	return ground, false
}

// Runs follow each other without holes from 0 to the end, each on the ground of
// its section from border to border, and as long on the ground as the stretch and
// the gaps say.
func TestRunsCoverTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const stretch = 1.25
		opt := route.LineOptions{Stretch: stretch, Gaps: rapid.SampledFrom([]route.Gaps{"", route.GapsSkip}).Draw(t,
			"gaps")}
		l := lineOf(t, anyProfile(t), opt)
		g := route.Grounds{
			Default:  rapid.SampledFrom(append([]route.Ground{""}, route.AllGrounds()...)).Draw(t, "default"),
			Sections: anySections(t, l.Length()),
		}
		at := route.Metres(0)
		for _, r := range l.Runs(g) {
			if r.From != at || r.To < r.From {
				t.Fatalf("run %+v after km %v", r, at.Kilometres())
			}
			at = r.To
			checkRun(t, l, g, r, stretch)
		}
		if at != l.Length() {
			t.Errorf("the runs end at %v, the line at %v", at, l.Length())
		}
	})
}

func checkRun(t *rapid.T, l *route.Line, g route.Grounds, r route.Run, stretch float64) {
	if r.Up < 0 || r.Down < 0 || r.Up > 0 && r.Down > 0 || r.NoHeights && r.Up+r.Down > 0 {
		t.Errorf("climb of %+v", r)
	}
	if r.From == r.To {
		if r.Ridden != 0 || r.RiddenHigh != 0 {
			t.Errorf("%+v is ridden", r)
		}
		return // the height drifted at one place
	}
	ground, guessed := groundAt(g, r.From)
	before, _ := groundAt(g, r.To-(r.To-r.From)*1e-9)
	if r.Ground != ground || r.Guessed != guessed || r.Ground != before {
		t.Errorf("%+v, want the ground %v, guessed %v, throughout", r, ground, guessed)
	}
	factor := route.Metres(stretch)
	for _, gap := range l.Gaps {
		if gap.At <= r.From && r.From < gap.At+gap.Straight-1e-6 {
			if factor = 1.3; !gap.Ridden { // a gap costs 1.3 times its length
				factor = 0
			}
		}
	}
	if !near(float64(r.Ridden), float64(factor*(r.To-r.From)), 1e-6) || r.RiddenHigh != r.Ridden ||
		r.Skipped != (factor == 0) {
		t.Errorf("%+v, want it ridden %v times", r, factor)
	}
}
