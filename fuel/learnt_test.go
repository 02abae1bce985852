package fuel_test

import (
	"strings"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/octane"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// someLearnt draws what may have been learnt of the least bike.
func someLearnt(t *rapid.T) fuel.Learnt {
	b := fuel.DefaultBike()
	day := time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(-4000, 4000).Draw(t, "day"))
	l := fuel.Learnt{
		Until: day, Tanks: rapid.IntRange(1, 500).Draw(t, "tanks"), Last: fuel.LastFill{Date: day},
		Consumption: fuel.Consumption(rapid.Float64Range(0.5, 100).Draw(t, "consumption")),
		Odometer:    rapid.Float64Range(0.8, 1.25).Draw(t, "odometer"),
		LoadedMass:  b.LoadedMass, MeasuredOn: 0.05, RiddenOn: 0.29,
		SSQ: rapid.Float64Range(0.001, 1).Draw(t, "ssq"), DoF: 8,
	}
	if rapid.Bool().Draw(t, "known") {
		l.Last.Distance, l.Last.Litres = 146900, fuel.Litres(rapid.Float64Range(0.1, 60).Draw(t, "litres"))
	}
	var p [fuel.WeightCount][fuel.WeightCount]float64
	for i, g := range fuel.WeighedGrounds() {
		l.Weights[i] = b.Weight(g)
		l.X[i] = rapid.Float64Range(-2, 2).Draw(t, "x")
		p[i][i] = rapid.Float64Range(0, 0.05).Draw(t, "P")
	}
	l.SetCovariance(p)
	return l
}

// What was learnt comes back from the file, to the last bit, whatever stands in the file
// besides, and however often it is learnt again.
func TestLearntComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{least, least + "\n[ground]\nsand = 1.9",
			least + "# a remark\n\n[ground] # mine\nsand = [1.6, 1.9, 2.6]\n"}).Draw(t, "file")
		first, then := someLearnt(t), someLearnt(t)
		want, err := fuel.ReadBike(strings.NewReader(text), "b.toml", octane.ScaleRON)
		if err != nil {
			t.Fatal(err)
		}
		once := fuel.WithLearnt(text, "from two tanks", first)
		if at := strings.Index(once, "\n[learnt]"); rapid.Bool().Draw(t, "in the middle") && strings.Contains(text, "[ground]") {
			begin := strings.Index(once, "[ground]") // the rider has put his own table last
			once = once[:begin] + strings.TrimPrefix(once[at:], "\n") + once[begin:at] + "\n"
		}
		twice := fuel.WithLearnt(once, "from three tanks", then)
		if strings.Count(twice, "[learnt]") != 1 || strings.Contains(twice, "two tanks") && !strings.Contains(once, "[ground]") {
			t.Fatalf("two of them in\n%s", twice)
		}
		got, err := fuel.ReadBike(strings.NewReader(twice), "b.toml", octane.ScaleRON)
		if err != nil {
			t.Fatalf("%v\n%s", err, twice)
		}
		want.Learnt = &then
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("(- learnt, + read):\n%s", diff)
		}
	})
}

// Each change makes the table one that cannot have been learnt.
func TestReadBikeRefusesWhatWasNotLearnt(t *testing.T) {
	var l fuel.Learnt
	l.Until = time.Date(2026, 7, 4, 0, 0, 0, 0, time.UTC)
	l.Last, l.Tanks, l.Consumption, l.Odometer, l.LoadedMass, l.SSQ, l.DoF = fuel.LastFill{Date: l.Until,
		Distance: 146900, Litres: 8.4}, 4, 4.5, 1, 260, 0.04, 12
	for i := range l.Weights {
		l.Weights[i] = fuel.Weight{Low: 1, Likely: 1.1, High: 1.2}
	}
	text := fuel.WithLearnt(least, "x", l)
	if _, err := fuel.ReadBike(strings.NewReader(text), "b.toml", ""); err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct{ was, is, what string }{
		{"tanks = 4", "tanks = 0", "learnt: tanks: nothing is learnt from no tank"},
		{"tanks = 4", "tanks = 4.5", `learnt: tanks: "4.5" is not a count`},
		{"dof = 12", "dof = 0", "learnt: dof: 0 are no degrees of freedom"},
		{"dof = 12", "dof = nan", `learnt: dof: "NaN" is not a number`},
		{"ssq = 0.04", "ssq = -1", "learnt: ssq: -1 is no sum of squares"},
		{"ssq = 0.04\n", "", "learnt: no ssq"},
		{"ssq = 0.04", "ssq = 0.04\nqqs = 1", `learnt: unknown key "qqs"`},
		{`until = "2026-07-04"`, `until = "4.7.2026"`, `learnt: until: "4.7.2026" is not a day`},
		{"km = 146.9", "km = -1", `learnt: last: "-1" is not what a fill has`},
		{"km = 146.9", "mi = 91", `learnt: last: last: unknown key "mi"`},
		{"x = [0, 0", "x = [9, 0", "learnt: x: 9 is no logarithm of a thirst or a factor"},
		{"x = [0, 0", "x = [0", "learnt: x: these are not 10 numbers"},
		{"P = [\n  0,", "P = [\n  -1,", "learnt: P: this is the covariance of nothing"},
		{"P = [\n  0, 0,", "P = [\n  0, 1,", "learnt: P: this is the covariance of nothing"},
		{"[1, 1.1, 1.2], # sand", "[1, 1.1], # sand", "learnt: weights: these are not 3 numbers"},
		{"[1, 1.1, 1.2], # sand", "", "learnt: weights: these are not the weights of 10 grounds"},
	} {
		bad := strings.Replace(text, x.was, x.is, 1)
		if bad == text {
			t.Errorf("%s does not stand in it", x.was)
		}
		_, err := fuel.ReadBike(strings.NewReader(bad), "b.toml", "")
		if err == nil || !strings.Contains(err.Error(), x.what) || !strings.HasPrefix(err.Error(), "b.toml:6:2: ") {
			t.Errorf("%s: %v\nwant %s", x.is, err, x.what)
		}
	}
}

// What is left when the lamp comes on is in the tank.
func TestReadBikeRefusesLampsOutsideTheTank(t *testing.T) {
	for _, line := range []string{`lamp_at = "14 L"`, `reserve_tap = "13.5 L"`, `consumption_tanks = -1`} {
		if _, err := fuel.ReadBike(strings.NewReader(least+line), "b.toml", ""); err == nil {
			t.Errorf("%s is read", line)
		}
	}
}
