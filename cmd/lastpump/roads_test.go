package main

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// optional is the part of the contract of the JSON that is there only where roads are given and a
// way is known.
const optional = `
visits[].if_dry.off.to visits[].if_dry.off.lat visits[].if_dry.off.lon visits[].if_dry.off.road_km visits[].if_dry.off.unknown_km
visits[].if_dry.off.turn_off[] visits[].if_dry.off.road|null visits[].if_dry.off.direction|null visits[].if_dry.off.marks[]
visits[].if_dry.off.spare_l visits[].if_dry.off.counts visits[].if_dry.off.why_not|null
legs[].way_out.to legs[].way_out.road_km legs[].way_out.turn_off[] legs[].way_out.road|null legs[].way_out.direction|null
legs[].way_out.marks[] legs[].way_out.at_km legs[].way_out.trip_km legs[].way_out.spare_l
`

// surveyed gives the ways out of the steppe, as a survey writes them.
func surveyed(t *testing.T) (roads string) {
	t.Helper()
	dir := t.TempDir()
	lastpump(t, "survey", "../../examples/steppe/loop.gpx", "--map", "../../examples/steppe/map.osm", "--pump-scale", "RON",
		"--ways-out", "40km", "--out", dir)
	return filepath.Join(dir, "roads.csv")
}

// With roads the plan as JSON has the keys that tell of them, wherever a way is known; without it has
// none of these, so that a plan without roads is what it was.
func TestJSONKeysOfRoads(t *testing.T) {
	args := append(slices.Clone(examples["steppe"]), "--stops", "../../examples/steppe/far.csv", "--json", "-")
	plain, _ := lastpump(t, args...)
	with, code := lastpump(t, append(args, "--roads", surveyed(t))...)
	for _, key := range []string{`"way_out"`, `"off":`, `"detour_road"`} {
		if strings.Contains(plain, key) {
			t.Errorf("%s in a plan without roads", key)
		}
	}
	var doc map[string]any
	if err := json.Unmarshal([]byte(with), &doc); err != nil || code == 2 {
		t.Fatal(err, code)
	}
	prune(t, doc)
	for _, key := range strings.Fields(optional) {
		path, nullable := strings.CutSuffix(key, "|null")
		if _, err := look(doc, strings.Split(path, "."), nullable); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
}

// prune leaves of visits and legs those of which a way is known.
func prune(t *testing.T, doc map[string]any) {
	t.Helper()
	keep := func(list string, has func(map[string]any) bool) {
		doc[list] = slices.DeleteFunc(doc[list].([]any), func(v any) bool { return !has(v.(map[string]any)) })
	}
	keep("visits", func(v map[string]any) bool {
		dry, ok := v["if_dry"].(map[string]any)
		return ok && dry["off"] != nil
	})
	keep("legs", func(l map[string]any) bool { return l["way_out"] != nil })
	if len(doc["visits"].([]any)) == 0 || len(doc["legs"].([]any)) == 0 {
		t.Fatal("no way is known: there is nothing to look at")
	}
}
