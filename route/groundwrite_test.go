package route_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"lastpump/route"

	"pgregory.net/rapid"
)

// What is written is read again: the same grounds and notes, kilometres to the metre,
// nothing left over behind the last.
func TestGroundWrittenIsReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var in []route.Section
		at := route.Metres(0)
		for range rapid.IntRange(1, 20).Draw(t, "sections") {
			to := at + route.Metres(rapid.Float64Range(1.1, 50_000).Draw(t, "length"))
			in = append(in, route.Section{From: at, To: to, Ground: rapid.SampledFrom(route.AllGrounds()).Draw(t,
				"ground"),
				Note: strings.TrimSpace(rapid.StringMatching(`[ -~äж]{0,20}`).Draw(t, "note"))})
			at = to
		}
		var b bytes.Buffer
		if err := route.WriteGround(&b, in); err != nil {
			t.Fatal(err)
		}
		out, _, err := route.ReadGround(&b, "ground.csv")
		if err != nil || len(out) != len(in) {
			t.Fatalf("%d sections of %d, %v", len(out), len(in), err)
		}
		for i, s := range out {
			if math.Abs(float64(s.From-in[i].From)) > 0.51 || math.Abs(float64(s.To-in[i].To)) > 1 ||
				s.Ground != in[i].Ground || s.Note != in[i].Note {
				t.Fatalf("%+v, was %+v", s, in[i])
			}
		}
		if last := out[len(out)-1].To; last < at-1e-6 {
			t.Fatalf("the list ends at %v, the line at %v", last, at)
		}
	})
}

func TestSectionsWithoutLengthAreLeftOut(t *testing.T) {
	var b bytes.Buffer
	err := route.WriteGround(&b, []route.Section{{To: 1000, Ground: route.Paved},
		{From: 1000, To: 1000.2, Ground: route.Sand}, {From: 1000.2, To: 1999.1, Ground: route.Dirt, Note: "a, b"}})
	want := "from_km,to_km,ground,note\n0.000,1.000,paved,\n1.000,2.000,dirt,\"a, b\"\n"
	if err != nil || b.String() != want {
		t.Errorf("%q, %v; want %q", b.String(), err, want)
	}
}
