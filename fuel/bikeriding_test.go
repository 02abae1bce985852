package fuel_test

import (
	"strings"
	"testing"
	"time"

	"lastpump/fuel"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
)

const (
	hintRide   = "the keys of ride are hours, pace, pauses_min, fill_min"
	hintHours  = "in the saddle, without pauses: from 1 to 18 (our estimate)"
	hintPace   = "1 is as planned, 1.2 takes a fifth longer: from 0.33 to 4 (our estimate)"
	hintPauses = "write pauses_min = [15, 35, 60]: at the least, likely and at the most, up to 240 (our estimate)"
	hintSpeed  = `while moving, from 1 to 160 km/h (our estimate): 40, or "25 mph"`
	hintSpeeds = "write dirt = [30, 40, 50]: low, likely, high"
)

// A mile is 1.609344 km (NIST SP 811, B.6).
func TestReadRiding(t *testing.T) {
	got := read(t, least+`[ride]
hours = 7.5
pace = 1.2
pauses_min = [0, 10, 20]
fill_min = [5, 5, 20]
[speed]
dirt = [20, 30, 40]
sand = "25 mph"
rocky = ["5 mph", 12, "20 km/h"]
unknown = 30
paved = "90kph"
`).Riding
	minute := time.Minute
	want := fuel.Riding{Hours: 450 * minute, Pace: 1.2, Pauses: [3]time.Duration{0, 10 * minute, 20 * minute},
		Fill: [3]time.Duration{5 * minute, 5 * minute, 20 * minute},
		Speeds: map[route.Ground]fuel.Speeds{
			route.Dirt: {Low: 20, Likely: 30, High: 40}, route.Sand: {Likely: 25 * 1.609344},
			route.Rocky: {Low: 5 * 1.609344, Likely: 12, High: 20}, route.Unknown: {Likely: 30}, route.Paved: {Likely: 90},
		}}
	if diff := cmp.Diff(want, got, closely); diff != "" {
		t.Errorf("riding (- file, + read):\n%s", diff)
	}
}

var badRiding = []badFile{
	{"no table", least + "ride = 6\n", `bike.toml:4:1: ride: "6" is not a table`, "write [ride] and below it lines like hours = 6"},
	{"no hours", least + "[ride]\nhours = 0\n", `bike.toml:5:1: hours: "0" are no hours of riding a day`, hintHours},
	{"too many hours", least + "[ride]\nhours = 18.5\n", `bike.toml:5:1: hours: "18.5" are no hours of riding a day`, hintHours},
	{"text for hours", least + "[ride]\nhours = \"6h\"\n", `bike.toml:5:1: hours: "6h" is not a number`, ""},
	{"NaN for a pace", least + "[ride]\npace = nan\n", `bike.toml:5:1: pace: "NaN" is not a number`, ""},
	{"no pace", least + "[ride]\npace = 0\n", `bike.toml:5:1: pace: "0" is no pace`, hintPace},
	{"pace in per cent", least + "[ride]\npace = 120\n", `bike.toml:5:1: pace: "120" is no pace`, hintPace},
	{"one pause", least + "[ride]\npauses_min = 35\n", `bike.toml:5:1: pauses_min: "35" are not three minutes`,
		"write pauses_min = [15, 35, 60]: low, likely, high"},
	{"falling pauses", least + "[ride]\npauses_min = [60, 35, 15]\n", `bike.toml:5:1: pauses_min: "[60 35 15]" are no minutes that rise`, hintPauses},
	{"no pause at all", least + "[ride]\npauses_min = [0, 0, 0]\n", `bike.toml:5:1: pauses_min: "[0 0 0]" are no minutes that rise`, hintPauses},
	{"negative pause", least + "[ride]\npauses_min = [-1, 0, 5]\n", `bike.toml:5:1: pauses_min: "[-1 0 5]" are no minutes that rise`, hintPauses},
	{"long fills", least + "[ride]\nfill_min = [10, 15, 300]\n", `bike.toml:5:1: fill_min: "[10 15 300]" are no minutes that rise`, ""},
	{"two fills", least + "[ride]\nfill_min = [10, 15]\n", `bike.toml:5:1: fill_min: "[10 15]" are not three minutes`, ""},
	{"text of three", least + "[ride]\nfill_min = [10, \"15\", 20]\n", `bike.toml:5:1: fill_min: "15" is not a number`, ""},
	{"misspelt", least + "[ride]\nhour = 6\n", `bike.toml:5:1: unknown key "hour"`, `did you mean "hours"? ` + hintRide},
	{"far from any", least + "[ride]\nsleep = 8\n", `bike.toml:5:1: unknown key "sleep"`, hintRide},
	{"no table of speeds", least + "speed = 40\n", `bike.toml:4:1: speed: "40" is not a table`, "write [speed] and below it lines like dirt = 40"},
	{"no speed", least + "[speed]\ndirt = 0\n", `bike.toml:5:1: dirt: "0" is no speed off the road`, hintSpeed},
	{"no speed of three", least + "[speed]\ndirt = [0, 40, 50]\n", `bike.toml:5:1: dirt: "0" is no speed off the road`, hintSpeed},
	{"too fast", least + "[speed]\ndirt = \"100 mph\"\n", `bike.toml:5:1: dirt: "100 mph" is no speed off the road`, hintSpeed},
	{"falling speeds", least + "[speed]\ndirt = [50, 40, 30]\n", `bike.toml:5:1: dirt: "[50 40 30]" are no speeds that rise`, hintSpeeds},
	{"two speeds", least + "[speed]\ndirt = [30, 40]\n", `bike.toml:5:1: dirt: "[30 40]" are not three speeds`, hintSpeeds},
	{"speed in metres", least + "[speed]\ndirt = \"11 m/s\"\n", `bike.toml:5:1: dirt: "11 m/s" has a unit that is no speed`, `write 40, "40 km/h" or "25 mph"`},
	{"speed without unit", least + "[speed]\ndirt = \"40\"\n", `bike.toml:5:1: dirt: "40" has no unit`, ""},
	{"no such ground", least + "[speed]\ndrit = 40\n", `bike.toml:5:1: unknown ground "drit"`, `did you mean "dirt"? ` + hintGrounds},
	{"behind weights of the same name", least + "[ground]\ndirt = 1.2\n[speed]\n\tdirt = 0\n", `bike.toml:7:2: dirt: "0" is no speed off the road`, hintSpeed},
	{"before weights of the same name", least + "[speed]\ndirt = 30\n[ground]\ndirt = 0\n", `bike.toml:7:1: dirt: "0" is no weight of a ground`, hintWeight},
	{"in braces", least + "ground = { dirt = 1.2 }\nspeed = { dirt = 0 }\n", `bike.toml:5:11: dirt: "0" is no speed off the road`, hintSpeed},
	{"twice", least + "[speed]\nsand = 20\nSand = 25\n", "", ""},
	{"no quotes", least + "[speed]\ndirt = 25 mph\n", "bike.toml:5:8: dirt: the value is not in quotes", `write dirt = "25 mph"`},
}

func TestReadRidingRefuses(t *testing.T) {
	for _, x := range badRiding {
		t.Run(x.name, func(t *testing.T) {
			_, err := fuel.ReadBike(strings.NewReader(x.text), "bike.toml", "")
			wantFault(t, err, x.want, x.hint)
		})
	}
}
