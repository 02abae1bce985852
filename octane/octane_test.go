package octane_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"lastpump/octane"

	"pgregory.net/rapid"
)

func mustParse(t *testing.T, s string) octane.Grade {
	t.Helper()
	g, err := octane.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func ExampleIndex() {
	// Directive 2009/30/EC, Annex I: RON 95 and MON 85 are the minima.
	fmt.Println(octane.Index(95, 85))
	// Output: 90
}

func ExampleGrade_Against() {
	need := octane.FromRON(95)
	for _, pump := range []octane.Grade{octane.FromAKI(91), octane.FromAKI(90), octane.FromAKI(87)} {
		fmt.Println(pump, pump.Against(need))
	}
	// Output:
	// 91 AKI meets
	// 90 AKI doubtful
	// 87 AKI below
}

func ExampleShareToReach() {
	// Penn State FSC 432, "Octane number blending": 75 and 86 to reach 83,
	// printed answer 0.73.
	share, _ := octane.ShareToReach(75, 86, 83)
	fmt.Printf("%.2f\n", share)
	// Output: 0.73
}

func TestIndexOfPublishedPairs(t *testing.T) {
	for _, c := range []struct {
		ron    octane.RON
		mon    octane.MON
		want   octane.AKI
		source string
	}{
		{95, 85, 90, "EN 228:2012 limits; Directive 2009/30/EC Annex I"},
		{91, 81, 86, "Directive 2009/30/EC Annex I, note (3)"},
		{95.4, 85.1, 90.25, "DSTU 4063-2001 batch certificate"},
		{98, 90, 94, "rider forum worked example (common practice, no source)"},
	} {
		if got := octane.Index(c.ron, c.mon); math.Abs(float64(got-c.want)) > 1e-9 {
			t.Errorf("%v/%v: %v, want %v (%s)", c.ron, c.mon, got, c.want, c.source)
		}
		in := octane.FromPair(c.ron, c.mon).In(octane.ScaleAKI)
		if math.Abs(in.Low-float64(c.want)) > 1e-9 || in.High != in.Low {
			t.Errorf("%v/%v in AKI: %v, want exactly %v", c.ron, c.mon, in, c.want)
		}
	}
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		in   string
		want octane.Grade
	}{
		{"95 RON", octane.FromRON(95)},
		{"95ron", octane.FromRON(95)},
		{" RON 95 ", octane.FromRON(95)},
		{"91 AKI", octane.FromAKI(91)},
		{"91 (R+M)/2", octane.FromAKI(91)}, // 15 U.S.C. 2821, the label on the pump
		{"95/85", octane.FromPair(95, 85)},
		{"AI-92", octane.FromRON(92)}, // GOST R 51105-97 § 3.1: by the research method
		{"ai 80", octane.FromRON(80)},
		{"АИ-95", octane.FromRON(95)}, // in Cyrillic
		{"95.4 RON", octane.FromRON(95.4)},
	} {
		got, err := octane.Parse(c.in)
		if err != nil || got != c.want {
			t.Errorf("Parse(%q) = %v, %v; want %v", c.in, got, err, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for in, want := range map[string]string{
		"91":      `"91" has no scale: 91 RON and 91 AKI are different petrols`,
		"":        `"" is not a grade of petrol`,
		"NaN RON": `"NaN RON" is not a grade of petrol`,
		"-95 RON": `"-95 RON" is not a grade of petrol`,
		"9 RON":   `"9 RON" is not an octane number (60 to 120)`,
		"950 RON": `"950 RON" is not an octane number (60 to 120)`,
		"85/95":   `"85/95" has a motor octane number above the research one`,
		"95 MON":  `"95 MON" is not a grade of petrol`,
		"diesel":  `"diesel" is not a grade of petrol`,
		"E85":     `"E85" is not a grade of petrol`,
	} {
		_, err := octane.Parse(in)
		var pe *octane.ParseError
		if !errors.As(err, &pe) || err.Error() != want || pe.HintText() == "" {
			t.Errorf("Parse(%q): %v, want %s with a hint", in, err, want)
		}
		if errors.Is(err, octane.ErrNoScale) != (in == "91") {
			t.Errorf("Parse(%q): %v, only a bare number lacks nothing but a scale", in, err)
		}
	}
}

// Two numbers that stand together are two grades if no petrol has them for its RON and
// MON, whose difference lies near 8 to 10, see above.
func TestParseSeveral(t *testing.T) {
	ron := func(numbers ...octane.RON) (out []octane.Grade) {
		for _, n := range numbers {
			out = append(out, octane.FromRON(n))
		}
		return out
	}
	for in, want := range map[string][]octane.Grade{
		"95/92 RON": ron(95, 92), "92/95ron": ron(92, 95), "95 / 92 / 89 RON": ron(95, 92, 89),
		"87/89 (R+M)/2": {octane.FromAKI(87), octane.FromAKI(89)}, "95/95 RON": ron(95), "98/92.1 RON": ron(98, 92.1),
		"95/85": {octane.FromPair(95, 85)}, "95/88": {octane.FromPair(95, 88)}, "95/83": {octane.FromPair(95, 83)},
		"95 RON": ron(95),
	} {
		got, err := octane.ParseGrades(in, "")
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v; want %v", in, got, err, want)
		}
	}
	for in, want := range map[string]string{
		"95/92":        `"95/92" has no scale: 91 RON and 91 AKI are different petrols`,
		"95/89":        `"95/89" is neither RON/MON nor two grades`,
		"95/88.1":      `"95/88.1" is neither RON/MON nor two grades`,
		"95/82.9":      `"95/82.9" is neither RON/MON nor two grades`,
		"95/85 RON":    `"95/85 RON" has numbers too far apart to be grades of one pump`,
		"98/95/80 RON": `"98/95/80 RON" has numbers too far apart to be grades of one pump`,
		"E10":          `"E10" says how much ethanol is in it, not its octane number`,
		"e 5":          `"e 5" says how much ethanol is in it, not its octane number`,
	} {
		if got, err := octane.ParseGrades(in, ""); err == nil || err.Error() != want {
			t.Errorf("%q: %v, %v; want %s", in, got, err, want)
		}
	}
	if got, err := octane.ParseGrades("95/92", octane.ScaleRON); err != nil || !slices.Equal(got, ron(95, 92)) {
		t.Errorf("with the scale of the pumps: %v, %v", got, err)
	}
	// An engine asks for one grade.
	if got, err := octane.Parse("95/92 RON"); err == nil || err.Error() != `"95/92 RON" is more than one grade` {
		t.Errorf("a need: %v, %v", got, err)
	}
}

// Between RON and AKI lies half the sensitivity: AKI = (RON + MON) / 2 = RON − S/2. A
// sensitivity of 9 is 4.5 either way, never 4.
func TestOddSensitivity(t *testing.T) {
	for _, c := range []struct {
		scale     octane.Scale
		low, high float64
	}{{octane.ScaleRON, 94.5, 95.5}, {octane.ScaleAKI, 84.5, 85.5}} {
		if low, high := octane.Across(c.scale, 90, 9, 11); low != c.low || high != c.high {
			t.Errorf("90 in %s with a sensitivity of 9 to 11: %v to %v, want %v to %v",
				c.scale, low, high, c.low, c.high)
		}
	}
}

func TestBareNumberWithPostedScale(t *testing.T) {
	// A bare 91 is below a 95 RON need in Sydney (RON posted: Fuel Standard
	// (Petrol) Determination 2001) and meets it in Denver (AKI posted: 16 CFR 306).
	need := octane.FromRON(95)
	for scale, want := range map[octane.Scale]octane.Verdict{
		octane.ScaleRON: octane.Below, octane.ScaleAKI: octane.Meets,
	} {
		g, err := octane.ParsePosted("91", scale)
		if err != nil || g.Against(need) != want {
			t.Errorf("91 %s against 95 RON: %v, %v; want %v", scale, g.Against(need), err, want)
		}
	}
}

func TestAgainst(t *testing.T) {
	for _, c := range []struct {
		pump, need string
		want       octane.Verdict
	}{
		// AKI to RON with S from 8 to 10 (15 U.S.C. 2821 and its algebra).
		{"85 AKI", "95 RON", octane.Below},
		{"87 AKI", "95 RON", octane.Below},
		{"89 AKI", "95 RON", octane.Below},
		{"90 AKI", "95 RON", octane.Doubtful},
		{"91 AKI", "95 RON", octane.Meets},
		{"93 AKI", "95 RON", octane.Meets},
		{"AI-92", "95 RON", octane.Below},
		{"95/85", "90 AKI", octane.Meets},     // exact from the pair
		{"95 RON", "90 AKI", octane.Meets},    // 95 − 5
		{"95 RON", "91 AKI", octane.Doubtful}, // 90 to 91
		{"95 RON", "92 AKI", octane.Below},
		{"95 RON", "95/85", octane.Meets},
	} {
		if got := mustParse(t, c.pump).Against(mustParse(t, c.need)); got != c.want {
			t.Errorf("%s against %s: %s, want %s", c.pump, c.need, got, c.want)
		}
	}
}

func TestAgainstAtTheBorder(t *testing.T) {
	need := octane.FromRON(95)
	if v := octane.FromRON(octane.RON(math.Nextafter(95, 0))).Against(need); v != octane.Below {
		t.Errorf("one ulp under the need: %s, want below", v)
	}
	if v := octane.FromAKI(octane.AKI(math.Nextafter(91, 0))).Against(need); v != octane.Doubtful {
		t.Errorf("one ulp under 91 AKI: %s, want doubtful", v)
	}
}

func TestBlend(t *testing.T) {
	r := func(n octane.RON) octane.Grade { return octane.FromRON(n) }
	for _, c := range []struct {
		parts  []octane.Part
		want   float64
		shown  float64
		source string
	}{
		{[]octane.Part{{3, r(75)}, {8, r(86)}}, 83, 83, "Penn State FSC 432: 75 and 86 make 83 at 8/11 (0.73)"},
		{[]octane.Part{{1, octane.FromAKI(89)}, {1, octane.FromAKI(93)}}, 91, 91,
			"Car Talk, October 1991: half and half is 91"},
		{[]octane.Part{{4, r(91)}, {10, r(95)}}, (4*91 + 10*95) / 14.0, 93.8,
			"volume-linear rule, Fahim eq. 9.19; rounded down"},
		{[]octane.Part{{7, r(91)}, {7, r(98)}}, 94.5, 94.5, "same"},
		{[]octane.Part{{2, r(95)}, {12, r(91)}}, (2*95 + 12*91) / 14.0, 91.5, "same"},
	} {
		m, err := octane.Blend(c.parts...)
		if err != nil || math.Abs(m.Low()-c.want) > 1e-9 || math.Abs(m.High()-c.want) > 1e-9 {
			t.Errorf("%v: %v to %v, %v; want %v (%s)", c.parts, m.Low(), m.High(), err, c.want, c.source)
		}
		if got := octane.ShownDown(m.Low()); math.Abs(got-c.shown) > 1e-9 {
			t.Errorf("%v shown as %v, want %v", c.parts, got, c.shown)
		}
	}
}

func TestBlendRefusesTwoScales(t *testing.T) {
	_, err := octane.Blend(octane.Part{Volume: 1, Grade: octane.FromRON(95)},
		octane.Part{Volume: 1, Grade: octane.FromAKI(91)})
	if !errors.Is(err, octane.ErrScales) {
		t.Errorf("mixing RON with AKI: %v, want ErrScales", err)
	}
}

func TestShareToReach(t *testing.T) {
	// 98 to lift 91 to 95: 4/7, from the volume-linear rule.
	if s, ok := octane.ShareToReach(91, 98, 95); !ok || math.Abs(s-4.0/7) > 1e-12 {
		t.Errorf("share %v, %v; want 4/7", s, ok)
	}
	if s, ok := octane.ShareToReach(96, 98, 95); !ok || s != 0 {
		t.Errorf("enough already: %v, %v", s, ok)
	}
	if _, ok := octane.ShareToReach(80, 92, 95); ok {
		t.Error("92 cannot lift 80 to 95")
	}
}

// The tolerances are the project's own (our estimate: inside the tests'
// reproducibility); the borders are tried from both sides.
func TestMixtureAgainst(t *testing.T) {
	need := octane.FromRON(95)
	mix := func(ron octane.RON) octane.Mixture {
		return octane.Mixture{}.AddGrade(10, octane.FromRON(ron), need)
	}
	for ron, want := range map[octane.RON]octane.Verdict{
		95: octane.Meets, 94.9: octane.Meets, 94.89: octane.Doubtful,
		94.5: octane.Doubtful, 94.49: octane.Below, 80: octane.Below,
	} {
		if got := mix(ron).Against(need); got != want {
			t.Errorf("mixture of %v RON: %s, want %s", ron, got, want)
		}
	}
}

func TestUnknownFill(t *testing.T) {
	need := octane.FromRON(95)
	full := octane.Mixture{}.AddGrade(98, need, need)
	// 2 % of unknown in the tank is overlooked, more is not.
	if m := full.AddUnknown(2, need); m.Against(need) != octane.Doubtful {
		t.Errorf("exactly 2 %%: %s, want doubtful (low %v)", m.Against(need), m.Low())
	}
	if m := full.AddUnknown(2.006, need); m.Against(need) != octane.NotKnown {
		t.Errorf("2.006 in 100.006: %s, want not known", m.Against(need))
	}
	m := full.AddUnknown(2.1, need)
	if m.Against(need) != octane.NotKnown {
		t.Errorf("over 2 %%: %s, want not known", m.Against(need))
	}
	if wantLow := (98*95 + 2.1*80) / 100.1; math.Abs(m.Low()-wantLow) > 1e-9 || math.Abs(m.High()-95) > 1e-9 {
		t.Errorf("%v to %v, want %v to 95", m.Low(), m.High(), wantLow)
	}
	// A need under 80 RON is not lifted by ignorance.
	low := octane.FromRON(76)
	if m := (octane.Mixture{}).AddUnknown(1, low); m.Low() != 76 || m.High() != 76 {
		t.Errorf("unknown for a 76 RON need: %v to %v", m.Low(), m.High())
	}
	// In AKI 80 RON is 75 at the low end.
	aki := octane.FromAKI(91)
	if m := (octane.Mixture{}).AddUnknown(1, aki); m.Low() != 75 || m.High() != 91 {
		t.Errorf("unknown for a 91 AKI need: %v to %v, want 75 to 91", m.Low(), m.High())
	}
}

func TestMixtureProperties(t *testing.T) {
	need := octane.FromRON(95)
	ron := rapid.Float64Range(60, 120)
	vol := rapid.Float64Range(0.01, 30)
	rapid.Check(t, func(t *rapid.T) {
		a, b := ron.Draw(t, "a"), ron.Draw(t, "b")
		va, vb := vol.Draw(t, "va"), vol.Draw(t, "vb")
		m := octane.Mixture{}.AddGrade(va, octane.FromRON(octane.RON(a)), need)
		n := m.AddGrade(vb, octane.FromRON(octane.RON(b)), need)
		if n.Low() < min(a, b)-1e-9 || n.High() > max(a, b)+1e-9 {
			t.Fatalf("mixture %v to %v not between %v and %v", n.Low(), n.High(), a, b)
		}
		if math.Abs(n.Volume()-va-vb) > 1e-9 {
			t.Fatalf("volume %v, want %v", n.Volume(), va+vb)
		}
		drawn := n.Draw(n.Volume() * rapid.Float64Range(0, 0.99).Draw(t, "drawn"))
		if math.Abs(drawn.Low()-n.Low()) > 1e-9 {
			t.Fatalf("burning changed the grade from %v to %v", n.Low(), drawn.Low())
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"95 RON", "91 AKI", "95/85", "AI-92", "91", "", "(R+M)/2", "9e9 RON"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		g, err := octane.Parse(s)
		if err != nil {
			return
		}
		if !(g.Number >= 60 && g.Number <= 120) || g.Scale == "" {
			t.Fatalf("%q parsed as %+v", s, g)
		}
		again, err := octane.Parse(g.String())
		if err != nil || again != g {
			t.Fatalf("%q → %q → %v, %v", s, g, again, err)
		}
	})
}
