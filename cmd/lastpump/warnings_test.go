package main

import (
	"slices"
	"testing"
)

// What a rider has to read the evening before is one warning for one cause: at most 12 on the
// steppe, 8 on the canyon; and each leg below grade is in exactly one of them.
func TestFewWarningsOnTheExamples(t *testing.T) {
	most := map[string]int{"steppe": 12, "canyon": 8}
	for name, args := range examples {
		doc, said := planned(t, args...)
		if doc == nil {
			t.Fatal(said)
		}
		if n := len(doc.Warnings); n == 0 || n > most[name] {
			t.Errorf("%s: %d warnings, want at most %d", name, n, most[name])
		}
		var got, want []int
		for _, w := range doc.Warnings {
			if w.Kind == "below-grade" {
				got = append(got, w.Legs...)
				if len(w.Cures) == 0 && w.NoCure == nil {
					t.Errorf("%s: neither a cure nor what was tried: %s", name, w.Text)
				}
			}
		}
		for i, l := range doc.Legs {
			if l.Mixture.Verdict == "below" {
				want = append(want, i)
			}
		}
		if slices.Sort(got); len(want) == 0 || !slices.Equal(got, want) {
			t.Errorf("%s: legs %v are warned of, %v are below grade", name, got, want)
		}
	}
}
