package route_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/route/input"

	"lastpump/route"
)

// FuzzReadGround claims: what is read without an error can be planned with, what
// is not tells where.
func FuzzReadGround(f *testing.F) {
	for _, c := range groundFiles {
		f.Add(c.text)
	}
	for _, c := range groundFaults {
		f.Add(c.text)
	}
	f.Add("von;bis;Belag;gr\xfcn\n0;12,5;Gravel;x\n12,5;13;Loose Gravel;\n")
	f.Fuzz(func(t *testing.T, text string) {
		sections, _, err := route.ReadGround(strings.NewReader(text), "g.csv")
		if err != nil {
			soundFaults(t, err)
			return
		}
		soundSections(t, sections)
		again, _, err := route.ReadGround(strings.NewReader(written(sections)), "g.csv")
		if err != nil || len(again) != len(sections) {
			t.Fatalf("written and read again: %v, %v", again, err)
		}
		for i, s := range sections {
			a := again[i]
			if a.Ground != s.Ground || !near(float64(a.From), float64(s.From), 1e-9*float64(s.From)) ||
				!near(float64(a.To), float64(s.To), 1e-9*float64(s.To)) {
				t.Errorf("section %d: %+v, read again %+v", i, s, a)
			}
		}
	})
}

func soundSections(t *testing.T, sections []route.Section) {
	t.Helper()
	end := route.Metres(0)
	for _, s := range sections {
		if !(s.From >= end) || !(s.To > s.From) || math.IsInf(float64(s.To), 0) {
			t.Errorf("from %v to %v, after one that ends at %v", s.From, s.To, end)
		}
		end = s.To
		if !slices.Contains(route.AllGrounds(), s.Ground) || s.Row < 2 || s.Note != strings.TrimSpace(s.Note) {
			t.Errorf("%+v", s)
		}
	}
}

func soundFaults(t *testing.T, err error) {
	t.Helper()
	faults := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		faults = joined.Unwrap()
	}
	if len(faults) == 0 || len(faults) > 11 {
		t.Fatalf("%d faults", len(faults))
	}
	for i, e := range faults {
		fault, ok := e.(*input.Error)
		if !ok {
			if i != 10 || !strings.HasPrefix(e.Error(), "and ") {
				t.Errorf("fault %d is %v", i, e)
			}
			continue
		}
		placed := fault.Line >= 1 && fault.Col >= 1
		if fault.File != "g.csv" || !placed || fault.What == "" {
			t.Errorf("fault %d is %+v", i, fault)
		}
	}
}

func written(sections []route.Section) string {
	var b strings.Builder
	b.WriteString("from_km,to_km,ground\n")
	for _, s := range sections {
		fmt.Fprintf(&b, "%v,%v,%s\n", s.From.Kilometres(), s.To.Kilometres(), s.Ground)
	}
	return b.String()
}
