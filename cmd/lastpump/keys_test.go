package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// contract is the key list of the plan as JSON, verbatim. Keys may be added to
// the program, never taken away or renamed. |null marks what may be null.
const contract = `
format version|null date|null options.corridor_km options.trust options.skip[] options.start_fuel_l|null
options.since_fill_km|null options.start_grade|null options.thirst options.low_grade options.fill_at options.detours_km options.detours|null
visits[].prices[].amount visits[].prices[].currency visits[].prices[].per legs[].number legs[].turn_back_by_km
can.uses[].number warnings[].number|null low_grade[].fills[].number group.legs[].number
loop.name loop.points loop.line_km loop.stretch loop.ridden_km loop.ascent_m|null loop.closed
loop.parts[].name loop.parts[].from_km loop.parts[].to_km
loop.gaps[].at_km loop.gaps[].straight_km loop.gaps[].ridden
bike.name bike.tank_l bike.unusable_l bike.consumption_l_per_100km bike.loaded_mass_kg bike.needs
bike.odometer bike.can_l
reserve.share reserve.distance_km
visits[].stop visits[].lat visits[].lon visits[].line_km visits[].off_line_km visits[].detour_km
visits[].standing visits[].confirmed|null visits[].hours|null visits[].pay|null visits[].phone|null
visits[].grades[] visits[].counted visits[].why_not|null visits[].also[] visits[].last_fuel
visits[].fill|null visits[].fill.grade|null visits[].fill.verdict visits[].fill.litres
visits[].fill.low_l visits[].fill.high_l visits[].fill.tank_after_l visits[].fill.can_l
visits[].mixture|null visits[].mixture.low visits[].mixture.high visits[].mixture.scale
visits[].mixture.verdict
visits[].if_dry|null visits[].if_dry.outcome visits[].if_dry.to visits[].if_dry.spare_l
visits[].if_dry.bare visits[].if_dry.standing|null visits[].if_dry.high_outcome visits[].if_dry.back_to
visits[].unsure_ahead
legs[].from legs[].to legs[].from_visit|null legs[].to_visit|null legs[].from_km legs[].to_km
legs[].ridden_km legs[].ascent_m|null
legs[].ground[].ground legs[].ground[].ridden_km legs[].ground[].likely_l
legs[].climb_l legs[].detour_l legs[].fuel_l.low legs[].fuel_l.likely legs[].fuel_l.high
legs[].start_l legs[].can_l legs[].kept_l legs[].arrive_l legs[].verdict legs[].short_l
legs[].headroom|null legs[].safe_to_km legs[].dry_at_km legs[].turn_back_km legs[].turn_back_at[]
legs[].mixture.low legs[].mixture.high legs[].mixture.scale legs[].mixture.verdict
can.for_plan_l can.for_any_dry_pump_l can.size_for_plan_l|null can.size_for_any_dry_pump_l|null
can.uses[].leg can.uses[].why can.uses[].fill_at can.uses[].pour_at_km can.uses[].litres
not_used[].stop not_used[].off_line_km
warnings[].kind warnings[].leg|null warnings[].visit|null warnings[].text warnings[].legs[] warnings[].visits[]
warnings[].cures[].text warnings[].cures[].litres|null warnings[].cures[].km|null
warnings[].cures[].verdict warnings[].cures[].cost warnings[].cures[].l_per_100km|null
warnings[].cures[].begin_at_km|null warnings[].cures[].reverse
start.mixture|null start.mixture.low visits[].need|null can.for_any_dry_pump_high_l can.size_for_any_dry_pump_high_l|null
chosen|null chosen.objective chosen.candidates chosen.taken
low_grade[].to low_grade[].least_l low_grade[].full_l low_grade[].legs_below_by_climb[]
low_grade[].fills[].visit low_grade[].fills[].leg low_grade[].fills[].litres low_grade[].fills[].grade|null
low_grade[].fills[].tank_after_l low_grade[].fills[].mixture.low low_grade[].fills[].arrive_l
low_grade[].fills[].kept_l low_grade[].fills[].reserve_whole low_grade[].risks_if_dry[]
low_grade[].lift|null low_grade[].lift.from low_grade[].lift.grade low_grade[].lift.litres
low_grade[].lift.size_l|null low_grade[].lift.pours_l[]
what_if[].kind what_if[].thirst|null what_if[].stops[] what_if[].from what_if[].to what_if[].verdict
what_if[].arrive_l what_if[].legs_not_ok what_if[].can_l what_if[].size_l|null what_if[].stranding|null
what_if[].for_any_dry_pump_l|null what_if[].size_for_any_dry_pump_l|null
calls[].stop calls[].visit|null calls[].at_km calls[].phone|null calls[].ask_at|null calls[].ask_at_visit|null
calls[].ask calls[].grade|null calls[].decided calls[].if[].answer calls[].if[].changes.stranded
calls[].if[].changes.stranded_high calls[].if[].changes.legs_not_ok calls[].if[].changes.short_l
calls[].if[].changes.can_l calls[].if[].changes.octane_litres calls[].if[].changes.km calls_not_tried
assumptions[].name assumptions[].value assumptions[].mark
from_here|null from_here.at_km from_here.stop|null from_here.answer from_here.used_l|null
from_here.trip_km|null from_here.expected_l|null from_here.expected_l.low
from_here.expected_l.likely from_here.expected_l.high from_here.factor
from_here.thirst_before from_here.thirst
from_here.tanks[].from|null from_here.tanks[].to|null from_here.tanks[].from_km|null from_here.tanks[].to_km|null
from_here.tanks[].planned_l.low from_here.tanks[].planned_l.likely from_here.tanks[].planned_l.high from_here.tanks[].real_l
from_here.tanks[].inside|null from_here.tanks[].why|null
from_here.legs[].to from_here.legs[].to_km from_here.legs[].then|null
from_here.legs[].then.need_l from_here.legs[].then.arrive_l from_here.legs[].then.verdict
from_here.legs[].now.need_l from_here.legs[].now.arrive_l from_here.legs[].now.verdict
from_here.legs[].allowed_l_per_100km|null from_here.legs[].allowed_dry_l_per_100km|null
group|null group.answer group.bikes[].name group.bikes[].holds group.bikes[].answer[]
group.bikes[].plan.format group.bikes[].plan.legs[].verdict group.bikes[].plan.group|null
group.legs[].leg group.legs[].to group.legs[].set_by group.legs[].verdict group.legs[].not_ok
group.legs[].loans[].from group.legs[].loans[].to group.legs[].loans[].litres
group.legs[].loans[].grade group.legs[].loans[].worse group.legs[].verdict_lent
group.legs[].lack_l group.legs[].lacking_l[]
group.can.litres group.can.size_l|null group.can.without_lending_l
group.can.size_without_lending_l|null group.can.for_any_dry_pump_l
group.can.size_for_any_dry_pump_l|null
`

// neverKnown are keys that are always null: the plan of one bike of a group has no
// group, and a test has no version.
var neverKnown = []string{"group.bikes[].plan.group|null", "version|null"}

// TestJSONKeys holds the contract over both examples, a ride with a gap and the rest of one: each
// key is there wherever its object is, and null only where it may be. A number
// that is not finite would have failed to encode.
func TestJSONKeys(t *testing.T) {
	found := map[string]bool{}
	alone := []string{"--can", "none", "--fill", "everywhere"}
	for _, args := range append(slices.Collect(maps.Values(examples)),
		slices.Concat(examples["steppe"], alone), slices.Concat(examples["canyon"], alone),
		slices.Concat(examples["steppe"], alone, []string{"--thirst", "0.9"}),
		[]string{"plan", "testdata/gap.gpx", "--ground", "dirt", "--date", "2026-07-01"},
		[]string{"plan", "testdata/ring.gpx", "--ground", "paved", "--stretch", "1", "--start-fuel", "4L", "--date", "2026-07-01"},
		[]string{"plan", "testdata/ring.gpx", "--ground", "paved", "--stretch", "1", "--start-fuel", "6.5L", "--can", "none", "--date", "2026-07-01"},
		append(slices.Clone(examples["steppe"]), "--from", "Yarsat Bridge", "--used", "8L over 125km"),
		append(slices.Clone(examples["steppe"]), "--from", "Sulmeg", "--fills", "../../examples/steppe/fills.csv"),
		append(slices.Clone(examples["steppe"]), "--fill", "chosen", "--detours", "30km"),
		append(slices.Clone(examples["steppe"]), "--skip", "Tomurga", "--thirst", "0.95", "--since-fill", "20km", "--start-grade", "95 RON",
			"--date", "2027-07-01"),
		append(slices.Clone(examples["steppe"]), "--bike", "../../examples/canyon/bike.toml", "--bike", "../../examples/canyon/mule.toml"),
		slices.Concat(examples["steppe"], alone, []string{"--bike", "../../examples/canyon/bike.toml", "--bike", "../../examples/canyon/mule.toml"})) {
		out, _ := lastpump(t, append(args[:len(args):len(args)], "--json", "-")...)
		var doc map[string]any
		if err := json.Unmarshal([]byte(out), &doc); err != nil {
			t.Fatal(err)
		}
		for _, key := range strings.Fields(contract) {
			path, nullable := strings.CutSuffix(key, "|null")
			n, err := look(doc, strings.Split(path, "."), nullable)
			if err != nil {
				t.Errorf("%s: %v", path, err)
			}
			found[key] = found[key] || n > 0
		}
	}
	for _, key := range strings.Fields(contract) {
		if !found[key] && !slices.Contains(neverKnown, key) {
			t.Errorf("%s was never seen with a value: the test proves nothing of it", key)
		}
	}
}

// look follows a path to all the values it leads to and counts those that are
// not null. It is an error if a key is missing or null where it may not be; what
// lies below a null need not be there.
func look(v any, path []string, nullable bool) (int, error) {
	if len(path) == 0 {
		if v == nil && !nullable {
			return 0, fmt.Errorf("is null")
		}
		if v == nil {
			return 0, nil
		}
		return 1, nil
	}
	if v == nil {
		return 0, nil
	}
	object, ok := v.(map[string]any)
	if !ok {
		return 0, fmt.Errorf("is in no object")
	}
	key, isList := strings.CutSuffix(path[0], "[]")
	child, ok := object[key]
	if !ok {
		return 0, fmt.Errorf("is missing")
	}
	if !isList {
		return look(child, path[1:], nullable)
	}
	list, ok := child.([]any)
	if !ok {
		return 0, fmt.Errorf("is no list")
	}
	n := 0
	for _, e := range list {
		m, err := look(e, path[1:], nullable)
		if err != nil {
			return n, err
		}
		n += m
	}
	return n, nil
}
