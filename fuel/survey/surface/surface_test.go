package surface

import (
	"slices"
	"strings"
	"testing"

	"lastpump/fuel"
	"lastpump/route"

	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
)

var tagsOf = osmtest.Tags

// What the values mean is told by OpenStreetMap's wiki (Key:surface, Key:tracktype,
// Key:smoothness, Key:mtb:scale) in words; which of our grounds that is, is our
// estimate: asphalt and paving stones as paved, what is compacted as packed gravel,
// earth and gravel by the weights of hard and loose, grass and grades 4 and 5 as soft.
func TestGroundOfTags(t *testing.T) {
	for _, c := range []struct {
		tags    string
		ground  route.Ground
		guessed bool
	}{
		{"highway=primary surface=asphalt", route.Paved, false},
		{"highway=residential surface=paving_stones", route.Paved, false},
		{"highway=track surface=concrete:lanes", route.Paved, false},
		{"highway=unclassified surface=sett", route.PackedGravel, false},
		{"highway=unclassified surface=compacted", route.PackedGravel, false},
		{"highway=unclassified surface=fine_gravel", route.PackedGravel, false},
		{"highway=unclassified surface=gravel", route.LooseGravel, false},
		{"highway=unclassified surface=pebblestone", route.LooseGravel, false},
		{"highway=track surface=unpaved", route.Dirt, false},
		{"highway=track surface=ground", route.Dirt, false},
		{"highway=track surface=clay", route.Dirt, false},
		{"highway=track surface=grass", route.Soft, false},
		{"highway=track surface=mud", route.Mud, false},
		{"highway=track surface=sand", route.Sand, false},
		{"highway=track surface=rock", route.Rocky, false},
		{"highway=track surface=snow", route.Snow, false},
		{"highway=track tracktype=grade1", route.PackedGravel, false},
		{"highway=track tracktype=grade2", route.PackedGravel, false},
		{"highway=track tracktype=grade3", route.Dirt, false},
		{"highway=track tracktype=grade4", route.Soft, false},
		{"highway=track tracktype=grade5", route.Soft, false},
		{"highway=path mtb:scale=1", route.Dirt, false},
		{"highway=path mtb:scale=3", route.Rocky, false},

		// Where they disagree the thirstiest counts, in whatever order they stand.
		{"highway=track surface=gravel tracktype=grade5", route.Soft, false},
		{"highway=track tracktype=grade2 surface=sand", route.Sand, false},
		{"highway=track surface=asphalt smoothness=very_bad", route.Dirt, false},
		{"highway=track surface=gravel smoothness=horrible", route.Rocky, false},
		{"highway=track surface=compacted smoothness=good", route.PackedGravel, false},
		{"highway=track surface=mud mtb:scale=2", route.Mud, false},
		{"highway=track surface=gravel;sand", route.Sand, false},
		{"highway=track surface=dirt/sand", route.Sand, false},
		{"highway=unclassified surface=asphalt ford=yes", route.Rocky, false},
		{"highway=unclassified surface=asphalt ford=no", route.Paved, false},

		// Without a tag that tells it is what is usual for the class.
		{"highway=motorway", route.Paved, true},
		{"highway=primary", route.Paved, true},
		{"highway=tertiary", route.PackedGravel, true},
		{"highway=unclassified", route.PackedGravel, true},
		{"highway=track", route.Dirt, true},
		{"highway=path", route.Rocky, true},
		{"highway=footway motorcycle=yes", route.PackedGravel, true},
		{"highway=track surface=custard", route.Dirt, true},
		{"highway=primary surface=murram", route.Dirt, true}, // a word that is not known here is no asphalt
		{"highway=track smoothness=horrible", route.Rocky, true},
		{"highway=primary smoothness=bad", route.PackedGravel, true},
		{"highway=track smoothness=good", route.Dirt, true},
	} {
		if f := Of(tagsOf(c.tags)); f.Ground != c.ground || f.Guessed != c.guessed {
			t.Errorf("%s is %s, guessed: %v; want %s, %v", c.tags, f.Ground, f.Guessed, c.ground, c.guessed)
		}
	}
}

func TestNoteHasTheTagsThatTell(t *testing.T) {
	for tags, want := range map[string]string{
		"highway=track name=X surface=sand lit=no tracktype=grade4": "highway=track surface=sand tracktype=grade4",
		"highway=track surface=custard":                             "highway=track surface=custard",
		"motor_vehicle=no highway=track surface=dirt access=private": "highway=track surface=dirt " +
			"motor_vehicle=no access=private",
		"highway=unclassified ford=yes mtb:scale=2 smoothness=impassable": "highway=unclassified smoothness=impassable " +
			"mtb:scale=2 ford=yes",
	} {
		if got := Of(tagsOf(tags)).Note(); got != want {
			t.Errorf("%s is noted as %q, want %q", tags, got, want)
		}
	}
}

// The order of thirst is that of the weights a plan is made with.
func TestThirstIsThatOfTheWeights(t *testing.T) {
	last := 0.0
	for _, g := range thirst {
		w := fuel.GeneralWeight(g).Likely
		if w < last {
			t.Errorf("%s has weight %v after %v", g, w, last)
		}
		last = w
	}
	if len(thirst) != len(route.AllGrounds())-1 { // without unknown
		t.Errorf("%d grounds have an order, there are %d", len(thirst), len(route.AllGrounds()))
	}
}

// Every rule names a ground there is, and no value stands twice.
func TestRulesAreSound(t *testing.T) {
	seen := map[osmfile.Tag]bool{}
	for _, r := range groundRules {
		if !slices.Contains(thirst, r.ground) {
			t.Errorf("%s: no ground %q", r.key, r.ground)
		}
		for _, v := range strings.Fields(r.values) {
			tag := osmfile.Tag{Key: r.key, Value: v}
			if seen[tag] {
				t.Errorf("%v stands twice", tag)
			}
			seen[tag] = true
		}
	}
}

func TestRideable(t *testing.T) {
	for tags, want := range map[string]bool{
		"highway=motorway": true, "highway=track": true, "highway=path": true, "highway=service access=private": true,
		"highway=footway": false, "highway=footway motor_vehicle=permissive": true, "highway=pedestrian": false,
		"highway=cycleway motorcycle=yes": true, "highway=steps": false, "highway=construction": false,
		"highway=proposed":         false,
		"highway=service area=yes": false, "railway=rail": false, "highway=bus_stop": false,
	} {
		if got := Rideable(tagsOf(tags)); got != want {
			t.Errorf("%s: rideable is %v", tags, got)
		}
	}
}

func TestOneway(t *testing.T) {
	for tags, want := range map[string]int8{
		"highway=primary": 0, "highway=primary oneway=yes": 1, "highway=primary oneway=-1": -1, "highway=motorway": 1,
		"highway=motorway oneway=no": 0, "highway=primary junction=roundabout": 1, "highway=primary oneway=reversible": 0,
	} {
		if got := Oneway(tagsOf(tags)); got != want {
			t.Errorf("%s: %d, want %d", tags, got, want)
		}
	}
}
