package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/cmd/lastpump/internal/report/learnt"
	"lastpump/cmd/lastpump/plandata"
)

// standIn writes files into a folder, and goes there.
func standIn(t *testing.T, files map[string]string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for name, text := range files {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// learn runs learn and reads what it writes as JSON.
func learn(t *testing.T, args ...string) (d learnt.Document) {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(append([]string{"learn"}, append(args, "--json", "-")...), strings.NewReader(""), &out, &errs); code != app.ExitHolds {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	dec := json.NewDecoder(&out)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	return d
}

// The worked example of the description of the filter, on paved road, from the files: at
// 5 L/100 km 160, 136, 148 and 104 km are planned at 8.0, 6.8, 7.4 and 5.2 L.
func TestLearnWorked(t *testing.T) {
	rows := []string{"2026-07-02,160,8.7\n", "2026-07-03,136,7.0\n", "2026-07-04,148,12.9\n", "2026-07-05,104,5.6\n",
		"2026-07-06,160,18.6\n"}
	head := "date,trip_km,litres\n2026-07-01,,\n"
	standIn(t, map[string]string{"bike.toml": "tank = \"30 L\"\nconsumption = \"5 L/100km\"\nneeds = \"95 RON\"\n",
		"fills.csv": head + strings.Join(rows, ""), "two.csv": head + rows[0] + rows[1]})
	want := []struct{ v, v2, r, w, theta, sd, tau float64 }{
		{.0839, .014400, .007278, 1, .0557, .0695, .0673},
		{-.0267, .005735, .008206, 1, .0447, .0581, .0640},
		{.5110, .004276, .005184, .1582, .1037, .0615, .0772},
		{-.0296, .004682, .011707, 1, .0952, .0578, .0741},
	}
	check := func(d learnt.Document, from int) {
		t.Helper()
		near := func(what string, got *float64, want, last float64) {
			t.Helper()
			if got == nil || !(math.Abs(*got-want) <= last) {
				t.Errorf("%s is %v, want %v", what, got, want)
			}
		}
		for i, x := range want[from:] {
			k := d.Tanks[i]
			near("v", k.V, x.v, 1e-4)
			near("V", k.VarianceV, x.v2, 1e-6)
			near("R", k.R, x.r, 1e-6)
			near("w", k.W, x.w, 1e-4)
			near("theta", &k.Theta, x.theta, 1e-4)
			near("sd_theta", &k.SDTheta, x.sd, 1e-4)
			near("tau", &k.Tau, x.tau, 1e-4)
			if !k.Used || k.Why != nil {
				t.Errorf("tank %d: %+v", i, k)
			}
		}
		if last := d.Tanks[len(want)-from]; last.Used || last.Why == nil || *last.Why != "off-by-over-twice" || d.Seen != 5 ||
			d.Theta != last.Theta {
			t.Errorf("18.6 L for 8.0: %+v", last)
		}
	}
	once := learn(t, "fills.csv", "--bike", "bike.toml")
	check(once, 0)

	// In two goes, with the bike file between them, it is the same to the last bit.
	first := learn(t, "two.csv", "--bike", "bike.toml", "--out", "learnt.toml")
	then := learn(t, "fills.csv", "--bike", "learnt.toml")
	check(then, 2)
	if len(first.Tanks) != 2 || then.Theta != once.Theta || then.SDTheta != once.SDTheta || then.Tau != once.Tau ||
		then.OneLeg != once.OneLeg {
		t.Errorf("in two goes %+v\nin one %+v", then, once)
	}
	if fresh := learn(t, "fills.csv", "--bike", "learnt.toml", "--fresh"); fresh.Theta != once.Theta || len(fresh.Tanks) != 5 {
		t.Errorf("anew: %+v", fresh)
	}
}

// What was learnt with other figures in the bike file is not gone on from.
func TestLearnWithAnotherBike(t *testing.T) {
	const bike = "tank = \"30 L\"\nconsumption = \"5 L/100km\"\nneeds = \"95 RON\"\n"
	standIn(t, map[string]string{"bike.toml": bike, "fills.csv": "date,trip_km,litres\n2026-07-01,,\n2026-07-02,160,8.7\n"})
	learn(t, "fills.csv", "--bike", "bike.toml", "--out", "bike.toml")
	text, err := os.ReadFile("bike.toml")
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(text), "needs", "odometer = 1.02\nneeds", 1)
	if err := os.WriteFile("bike.toml", []byte(changed), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	code := run([]string{"learn", "fills.csv", "--bike", "bike.toml"}, strings.NewReader(""), &out, &errs)
	want := "bike.toml: what was learnt was learnt with other figures: odometer\n" +
		"hint: put back what it was, or learn again from all tanks of the log with --fresh\n"
	if code != app.ExitNoPlan || errs.String() != want {
		t.Errorf("exit %d\n%s", code, errs.String())
	}
	learn(t, "fills.csv", "--bike", "bike.toml", "--fresh", "--out", "bike.toml")
	learn(t, "fills.csv", "--bike", "bike.toml")
}

// Of a tank that was ridden from one stop of a plan to the next, learn plans the litres of
// the plan: ground, climb, stretch and detours are the same.
func TestLearnPlansAsPlanDoes(t *testing.T) {
	root, err := filepath.Abs("../../examples/steppe")
	if err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(root, name) }
	line := []string{in("loop.gpx"), "--ground", in("ground.csv"), "--stops", in("stops.csv"), "--bike", in("bike.toml")}
	var out, errs bytes.Buffer
	run(append(append([]string{"plan"}, line...), "--json", "-", "--date", "2026-06-10"), strings.NewReader(""), &out, &errs)
	p, err := plandata.Read(&out)
	if err != nil {
		t.Fatalf("%v: %s", err, errs.String())
	}
	var log strings.Builder
	log.WriteString("date,trip_km,litres,from_km,to_km\n2026-07-01,,,,\n")
	const shown = 1.03 // kilometres of this bike for each one ridden
	for i, l := range p.Legs {
		fmt.Fprintf(&log, "2026-07-%02d,%.6f,%.6f,%.6f,%.6f\n", i+2, l.RiddenKm*shown, min(l.FuelL.Likely, 14), l.FromKm, l.ToKm)
	}
	standIn(t, map[string]string{"fills.csv": log.String()})
	d := learn(t, append([]string{"fills.csv"}, line...)...)
	if len(d.Tanks) != len(p.Legs) || len(d.Tanks) < 8 {
		t.Fatalf("%d tanks of %d legs", len(d.Tanks), len(p.Legs))
	}
	detours := 0
	for i, k := range d.Tanks {
		l := p.Legs[i]
		if l.DetourL > 0 {
			detours++
		}
		if k.Ground != "line" || !(math.Abs(k.PlannedL-l.FuelL.Likely) < 0.001) {
			t.Errorf("leg %d (km %.1f to %.1f, detour %.2f L): %.4f L, the plan has %.4f", i+1, l.FromKm, l.ToKm, l.DetourL, k.PlannedL,
				l.FuelL.Likely)
		}
	}
	if detours == 0 {
		t.Error("no leg has a detour")
	}
}

// Ten riders add to one file at once, and ten rows stand in it.
func TestAddsAtOnce(t *testing.T) {
	standIn(t, nil)
	var wait sync.WaitGroup
	const riders = 10
	for i := range riders {
		wait.Add(1)
		go func() {
			defer wait.Done()
			var out, errs bytes.Buffer
			args := []string{"fills", "add", "fills.csv", fmt.Sprintf("%dkm", 100+i), "5L", "--date", "2026-07-01"}
			if code := run(args, strings.NewReader(""), &out, &errs); code != app.ExitHolds {
				t.Errorf("exit %d: %s", code, errs.String())
			}
		}()
	}
	wait.Wait()
	text, err := os.ReadFile("fills.csv")
	if err != nil || strings.Count(string(text), "2026-07-01,") != riders {
		t.Errorf("%v\n%s", err, text)
	}
	if left, _ := filepath.Glob("*"); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}
