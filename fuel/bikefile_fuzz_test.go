package fuel_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"lastpump/route/input"

	"lastpump/fuel"
	"lastpump/octane"
	"lastpump/route"
)

// FuzzReadBike asks of any input: a bike that can be, all its figures finite, or
// faults that each say where and what to do; and the same whatever the reader's
// pace.
func FuzzReadBike(f *testing.F) {
	f.Add(least, "")
	f.Add(strings.Replace(least, `"95 RON"`, "91", 1), "AKI")
	f.Add("tank: 13 L\n consumption = “4.5 L/100km” # x\nneeds = 95 RON\nodometer: 1.03\n", "")
	f.Add(least+"ground.sand = [1.6, 1.9, 2.6]\nodometer = 1.03\nridden_on = \"E0\"\n", "RON")
	f.Add(fuel.WithLearnt(least, "x", fuel.Learnt{Tanks: 1, Consumption: 4.5, LoadedMass: 260, SSQ: 0.04, DoF: 9}), "")
	for _, list := range [][]badFile{badValues, badGrounds, badBikes, badKeys, badTOML, badRiding} {
		for _, x := range list {
			if len(x.text) < 1000 {
				f.Add(x.text, "")
			}
		}
	}
	f.Fuzz(func(t *testing.T, text, scale string) {
		posted := octane.Scale(scale)
		if posted != octane.ScaleRON && posted != octane.ScaleAKI {
			posted = ""
		}
		b, err := fuel.ReadBike(strings.NewReader(text), "f.toml", posted)
		slow, slowErr := fuel.ReadBike(iotest.OneByteReader(strings.NewReader(text)), "f.toml", posted)
		if !reflect.DeepEqual(b, slow) || !reflect.DeepEqual(err, slowErr) {
			t.Fatalf("read at once:\n%+v %v\nbyte by byte:\n%+v %v", b, err, slow, slowErr)
		}
		if err != nil {
			checkFaults(t, err, strings.TrimPrefix(text, "\ufeff"))
			return
		}
		checkRead(t, b)
	})
}

// checkRead checks a bike that was read without a fault.
func checkRead(t *testing.T, b fuel.Bike) {
	t.Helper()
	if err := b.Check(); err != nil {
		t.Fatalf("a bike that cannot be: %v", err)
	}
	if !finite(b.Tank) || !finite(b.Unusable) || !finite(b.Can) || !finite(b.Consumption) || !finite(b.LoadedMass) ||
		!finite(b.Odometer) || !finite(b.Needs.Number) || b.TrueRate {
		t.Fatalf("bike %+v", b)
	}
	if b.MeasuredOn < 0 || b.MeasuredOn > 0.3 || b.RiddenOn < 0 || b.RiddenOn > 0.3 {
		t.Fatalf("measured on %v, ridden on %v ethanol", b.MeasuredOn, b.RiddenOn)
	}
	for g, w := range b.Own {
		if !(w.Low > 0 && w.Low <= w.Likely && w.Likely <= w.High && w.High <= 20) || g == route.Unknown {
			t.Fatalf("%s weighs %v", g, w)
		}
	}
	checkRiding(t, b.Riding)
	for _, r := range fuel.Ranges(b, 0.15*b.Usable(), 30_000, 1) {
		if !finite(r.Dry) || !finite(r.Safe) || !(r.Safe <= r.Dry) || !(r.DryHigh <= r.Dry) || !(r.Safe >= 0) {
			t.Fatalf("range %+v", r)
		}
	}
}

// checkRiding checks what a bike file says of the clock: within bounds, rising, or not said.
func checkRiding(t *testing.T, r fuel.Riding) {
	t.Helper()
	if r.Hours != 0 && (r.Hours < time.Hour || r.Hours > 18*time.Hour) || r.Pace != 0 && !(r.Pace >= 0.33 && r.Pace <= 4) {
		t.Fatalf("riding %+v", r)
	}
	for _, m := range [][3]time.Duration{r.Pauses, r.Fill} {
		if m != [3]time.Duration{} && (m[0] < 0 || m[1] < m[0] || m[2] < m[1] || m[2] <= 0 || m[2] > 4*time.Hour) {
			t.Fatalf("riding %+v", r)
		}
	}
	for g, v := range r.Speeds {
		alone := v.Low == 0 && v.High == 0
		if !(v.Likely >= 1 && v.Likely <= 160) || !alone && !(v.Low >= 1 && v.Low <= v.Likely && v.Likely <= v.High && v.High <= 160) {
			t.Fatalf("%s is ridden at %v", g, v)
		}
	}
}

// checkFaults checks that each error has a place in the text or none, words and
// a hint.
func checkFaults(t *testing.T, err error, text string) {
	t.Helper()
	list := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		list = joined.Unwrap()
	}
	lines := strings.Split(text, "\n")
	for i, e := range list {
		var ie *input.Error
		if !errors.As(e, &ie) {
			if i == 10 && strings.HasPrefix(e.Error(), "and ") {
				continue // "and 3 more"
			}
			t.Fatalf("error of type %T: %v", e, e)
		}
		if ie.File != "f.toml" || ie.What == "" || ie.Hint == "" || strings.Contains(ie.What, "\n") {
			t.Fatalf("error %#v", ie)
		}
		if ie.Line == 0 && ie.Col == 0 {
			continue
		}
		if ie.Line < 1 || ie.Line > len(lines) || ie.Col < 1 || ie.Col > len(lines[ie.Line-1])+1 {
			t.Fatalf("%v: no such place in a text of %d lines", ie, len(lines))
		}
	}
}
