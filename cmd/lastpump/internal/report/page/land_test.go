package page_test

import (
	"bytes"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/fuel/plan"

	"pgregory.net/rapid"
)

const whose = "Map data © their makers, by some licence."

// Under each sketch lies what the map has, in patterns of its own, told in the key, and whose map it is
// stands below; without a map there is nothing of that.
func TestSketchOverLand(t *testing.T) {
	bare := samples.Example(t, "steppe")
	lands := samples.Land(bare)
	p := samples.ExampleWith(t, "steppe", func(in *plan.Inputs) { in.Land = lands })
	b := pageHTML(t, p)
	seen := samples.Parse(t, b)
	leadsNowhereElse(t, seen)
	sketches := pictures(seen, "sketch")
	for _, svg := range sketches {
		drawnWithin(t, svg)
		paths := within(svg, "path")
		for _, class := range []string{"main", "river", "hatch", "edge"} {
			if len(classed(classed(paths, "land"), class)) != 1 {
				t.Errorf("%s: %d of %s", samples.Attribute(svg, "class"), len(classed(paths, class)), class)
			}
		}
		if road, line := strings.Index(string(b), `class="land main"`), strings.Index(string(b), `class="casing"`); road > line {
			t.Error("the roads lie over the ride")
		}
	}
	if n := strings.Count(seen.Text, whose); n != len(sketches) {
		t.Errorf("whose map it is stands %d times under %d sketches", n, len(sketches))
	}
	for _, key := range []string{"on the map:", "main road", "river", "lake", "shore", "town or village"} {
		if !strings.Contains(seen.Text, key) {
			t.Errorf("the key lacks %q", key)
		}
	}
	if more := len(b) - len(pageHTML(t, bare)); more > 60_000 {
		t.Errorf("the map takes %d bytes of the page", more)
	}
	none := samples.Parse(t, pageHTML(t, bare))
	if strings.Contains(none.Text, "on the map:") || bytes.Contains(pageHTML(t, bare), []byte(`class="land main"`)) {
		t.Error("without a map something of one is drawn")
	}
}

// Whatever the plan, a map under its sketches stays in them.
func TestLandOfDrawnPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		p.Land = samples.Land(p)
		b := pageHTML(t, p)
		for _, svg := range pictures(samples.Parse(t, b), "sketch") {
			drawnWithin(t, svg)
		}
		if len(b) >= 1e6 || !bytes.Equal(b, pageHTML(t, p)) {
			t.Fatalf("%d bytes, or others the second time", len(b))
		}
	})
}
