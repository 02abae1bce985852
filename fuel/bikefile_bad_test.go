package fuel_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"unicode"

	"lastpump/route/input"

	"lastpump/fuel"
)

const (
	hintTemplate = "`lastpump bike` prints a bike file to fill in"
	hintKeys     = "the keys are tank, consumption, needs, name, unusable, loaded_mass, measured_on, ridden_on, odometer, can, consumption_tanks, lamp_at, reserve_tap, ground, ride, speed, learnt"
	hintQuotes   = `write it with its unit in quotes, like "14 L" or "4.5 L/100km"`
	hintGrade    = `write a grade with its scale: "95 RON", "91 AKI" or "95/85" (RON/MON)`
	hintScale    = hintGrade
	hintWeight   = "1 is paved road; low, likely and high rise from 0.5 to 20"
	hintThree    = "write sand = [1.6, 1.9, 2.6]: low, likely, high"
	hintGrounds  = "the grounds are paved, packed-gravel, loose-gravel, dirt, soft, rocky, mud, sand, deep-sand, snow, unknown"
	hintUnusable = "unusable is what stays in the tank when the engine stops, often 0.5 L"
	hintMassIs   = "count the bike ready to ride, the rider and the luggage"
	hintOdometer = "1.03 means: the bike shows 103 where 100 are ridden"
)

// A badFile is a bike file with one fault, and what is said of it.
type badFile struct{ name, text, want, hint string }

// with changes the value of one of the required keys.
func with(key, value string) string {
	lines := strings.Split(least, "\n")
	i := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, key+" ") })
	lines[i] = key + " = " + value
	return strings.Join(lines, "\n")
}

// without leaves one of the required keys out.
func without(key string) string {
	lines := strings.Split(least, "\n")
	return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return strings.HasPrefix(l, key+" ") }), "\n")
}

var badValues = []badFile{
	{"number without unit", with("tank", "14"), `bike.toml:1:1: tank: "14" is not a text in quotes`, hintQuotes},
	{"behind a byte order mark", "\ufeff  " + with("tank", "14"), `bike.toml:1:3: tank: "14" is not a text in quotes`, hintQuotes},
	{"text without unit", with("tank", `"14"`), `bike.toml:1:1: tank: "14" has no unit`, hintLitres},
	{"some gallon", with("tank", `"3.7 gal"`), `bike.toml:1:1: tank: "3.7 gal" could be US or imperial gallons`, hintLitres},
	{"negative tank", with("tank", `"-14 L"`), `bike.toml:1:1: tank: "-14 L" is not a volume`, hintLitres},
	{"NaN", with("tank", `"NaN L"`), `bike.toml:1:1: tank: "NaN L" is not a volume`, hintLitres},
	{"some mile per gallon", with("consumption", `"52 mpg"`), `bike.toml:2:1: consumption: "52 mpg" could be US or UK miles per gallon`, hintConsumption},
	{"no consumption", with("consumption", `"0 L/100km"`), `bike.toml:2:1: consumption: "0 L/100km" is not a consumption: it must be more than 0`, hintConsumption},
	{"bare consumption", with("consumption", "4.5"), `bike.toml:2:1: consumption: "4.5" is not a text in quotes`, hintQuotes},
	{"bare grade", with("needs", "95"), `bike.toml:3:1: needs: "95" has no scale: 91 RON and 91 AKI are different petrols`, hintScale},
	{"bare grade in quotes", with("needs", `"95"`), `bike.toml:3:1: needs: "95" has no scale: 91 RON and 91 AKI are different petrols`, hintScale},
	{"no grade", with("needs", `"premium"`), `bike.toml:3:1: needs: "premium" is not a grade of petrol`, hintGrade},
	{"truth for a grade", with("needs", "true"), `bike.toml:3:1: needs: "true" is not a grade of petrol`, hintGrade},
	{"list for a name", least + "name = [1]\n", `bike.toml:4:1: name: "[1]" is not a text in quotes`, hintQuotes},
	{"day for a can", least + "  can = 2026-05-31\n", "", hintQuotes},
	{"mass in litres", least + `loaded_mass = "260 L"`, `bike.toml:4:1: loaded_mass: "260 L" has a unit that is no mass`, hintMass},
	{"E85", least + `measured_on = "E85"`, `bike.toml:4:1: measured_on: "E85" is not a petrol with ethanol`, hintEthanol},
	{"E85 on the way", least + "\n\t" + `ridden_on = "E85"`, `bike.toml:5:2: ridden_on: "E85" is not a petrol with ethanol`, hintEthanol},
	{"odometer in quotes", least + `odometer = "1.03"`, `bike.toml:4:1: odometer: "1.03" is not a number`, ""},
	{"odometer NaN", least + "odometer = nan\n", `bike.toml:4:1: odometer: "NaN" is not a number`, ""},
	{"odometer without end", least + "odometer = inf\n", `bike.toml:4:1: odometer: "+Inf" is not a number`, ""},
}

var badGrounds = []badFile{
	{"unordered", least + "[ground]\nsand = [2.6, 1.9, 1.6]\n", `bike.toml:5:1: sand: "[2.6 1.9 1.6]" is no weight of a ground`, hintWeight},
	{"likely over high", least + "[ground]\nsand = [1, 3, 2]\n", `bike.toml:5:1: sand: "[1 3 2]" is no weight of a ground`, hintWeight},
	{"two", least + "[ground]\nsand = [1.6, 1.9]\n", `bike.toml:5:1: sand: "[1.6 1.9]" are not three weights`, hintThree},
	{"four", least + "[ground]\nsand = [1, 2, 3, 4]\n", `bike.toml:5:1: sand: "[1 2 3 4]" are not three weights`, hintThree},
	{"text", least + "[ground]\nsand = \"1.9\"\n", `bike.toml:5:1: sand: "1.9" is not a number`, "write it without quotes, like 1.05"},
	{"NaN", least + "[ground]\nsand = nan\n", `bike.toml:5:1: sand: "NaN" is not a number`, "write it without quotes, like 1.05"},
	{"NaN of three", least + "[ground]\nsand = [1, nan, 2]\n", `bike.toml:5:1: sand: "NaN" is not a number`, "write it without quotes, like 1.05"},
	{"text of three", least + "[ground]\nsand = [1, \"2\", 2]\n", `bike.toml:5:1: sand: "2" is not a number`, "write it without quotes, like 1.05"},
	{"zero", least + "[ground]\nsand = 0\n", `bike.toml:5:1: sand: "0" is no weight of a ground`, hintWeight},
	{"negative", least + "[ground]\nsand = -1.9\n", `bike.toml:5:1: sand: "-1.9" is no weight of a ground`, hintWeight},
	{"too large", least + "[ground]\nsand = 190\n", `bike.toml:5:1: sand: "190" is no weight of a ground`, hintWeight},
	{"unknown has none", least + "[ground]\nunknown = 1.5\n", `bike.toml:5:1: unknown: "unknown" has no weight of its own: it is planned as dirt`, "give dirt a weight"},
	{"no such ground", least + "[ground]\n  gravel = 1.9\n", `bike.toml:5:3: unknown ground "gravel"`, hintGrounds},
	{"twice", least + "[ground]\nsand = 1.9\nSand = 2.5\n", "", ""},
	{"no table", least + "ground = 1.9\n", `bike.toml:4:1: ground: "1.9" is not a table`, "write [ground] and below it lines like sand = 1.9"},
}

var badBikes = []badFile{
	{"empty tank", with("tank", `"0 L"`), "bike.toml:1:1: the tank holds nothing", `give it like tank = "14 L"`},
	{"larger than any", with("tank", `"130 L"`), "bike.toml:1:1: a tank of 130 L: no motorcycle has over 80",
		`is a point missing? give it like tank = "14 L"`},
	{"all unusable", least + `unusable = "14 L"`, "bike.toml:4:1: unusable 14 L of a tank of 14 L leaves nothing to ride on", hintUnusable},
	{"more than all unusable", least + `unusable = "15 L"`, "bike.toml:4:1: unusable 15 L of a tank of 14 L leaves nothing to ride on", hintUnusable},
	{"odometer too high", least + "odometer = 2\n", "bike.toml:4:1: odometer 2 is not between 0.8 and 1.25", hintOdometer},
	{"odometer too low", least + "odometer = 0.3\n", "bike.toml:4:1: odometer 0.3 is not between 0.8 and 1.25", hintOdometer},
	{"too light", least + `loaded_mass = "30 kg"`, "bike.toml:4:1: a loaded mass of 30 kg is not between 50 and 1000", hintMassIs},
	{"too large a can", least + `can = "99 L"`, "bike.toml:4:1: a can of 99 L is not between 0 and 60", `give it like can = "3 L"`},
}

var badKeys = []badFile{
	{"no tank", without("tank"), "bike.toml: no tank", hintTemplate},
	{"no consumption", without("consumption"), "bike.toml: no consumption", hintTemplate},
	{"no needs", without("needs"), "bike.toml: no needs", hintTemplate},
	{"misspelt", least + "odomter = 1.03\n", `bike.toml:4:1: unknown key "odomter"`, `did you mean "odometer"? ` + hintKeys},
	{"misspelt table", least + "[grounds]\nsand = 1.9\n", `bike.toml:4:2: unknown key "grounds"`, `did you mean "ground"? ` + hintKeys},
	{"far from any", least + "\n\nwheelbase = 3\n", `bike.toml:6:1: unknown key "wheelbase"`, hintKeys},
}

// The words of the last ones are those of the TOML reader; the place is ours.
var badTOML = []badFile{
	{"empty", "", "bike.toml:1:1: empty file", hintTemplate},
	{"a mark alone", "\ufeff", "bike.toml:1:1: empty file", hintTemplate},
	{"comments alone", "# tank = 14 L\n", "bike.toml:1:1: empty file", hintTemplate},
	{"too large", least + "#" + strings.Repeat(" ", 1<<20-len(least)), "bike.toml: too large for a bike file", hintTemplate},
	{"no value", least + "can = \n", "bike.toml:4:7:", hintTemplate},
	{"no value in the first line", "tank = \n" + without("tank"), "bike.toml:1:8:", hintTemplate},
	{"colon", "tank: 13 L\n" + without("tank"), "bike.toml:1:5: tank: a colon stands in place of the equals sign",
		`write tank = "13 L"`},
	{"colon before a number", least + "odometer: 1.03 # by the post\n",
		"bike.toml:4:9: odometer: a colon stands in place of the equals sign", "write odometer = 1.03"},
	{"curly quotes", with("tank", "“13 L”"), "bike.toml:1:8: tank: the quotes are curly, not straight", `write tank = "13 L"`},
	{"low quotes", "\ufeff# mine\n" + with("needs", "„95 RON“ # by the book"),
		"bike.toml:4:9: needs: the quotes are curly, not straight", `write needs = "95 RON"`},
	{"curly quotes in straight ones are a name", least + "name = \"the “mule”\"\ncan: 3 L\n",
		"bike.toml:5:4: can: a colon stands in place of the equals sign", `write can = "3 L"`},
	{"no quotes", with("tank", "13 L"), "bike.toml:1:8: tank: the value is not in quotes", `write tank = "13 L"`},
	{"no quotes behind a tab", with("consumption", "\t4.5 L/100km"),
		"bike.toml:2:16: consumption: the value is not in quotes", `write consumption = "4.5 L/100km"`},
	{"quote not closed", least + "can = \"3 L\n", "bike.toml:4:11:", hintTemplate},
	{"no equals sign", "tank 14 L\n", "bike.toml:1:6:", hintTemplate},
	{"value without key", least + "= 3\n", "bike.toml:4:1:", hintTemplate},
	{"key twice", least + "tank = \"15 L\"\n", "bike.toml:4:1:", hintTemplate},
	{"not UTF-8", least + "name = \"\xff\"\n", "bike.toml:4:", hintTemplate},
	{"UTF-16", "t\x00a\x00n\x00k\x00", "bike.toml:1:", hintTemplate},
}

func TestReadBikeRefuses(t *testing.T) {
	for kind, list := range map[string][]badFile{
		"value": badValues, "ground": badGrounds, "bike": badBikes, "key": badKeys, "TOML": badTOML,
	} {
		for _, x := range list {
			t.Run(kind+"/"+x.name, func(t *testing.T) {
				_, err := fuel.ReadBike(strings.NewReader(x.text), "bike.toml", "")
				wantFault(t, err, x.want, x.hint)
			})
		}
	}
}

// wantFault checks for one error with a place. A text that ends in a colon is
// only the beginning of the place; "" is any.
func wantFault(t *testing.T, err error, want, hint string) {
	t.Helper()
	var ie *input.Error
	if !errors.As(err, &ie) {
		t.Fatalf("error %v (%T), want a *input.Error: %s", err, err, want)
	}
	switch got := err.Error(); {
	case want == "" || strings.HasSuffix(want, ":"):
		if !strings.HasPrefix(got, want) || ie.Line < 1 || ie.Col < 1 {
			t.Errorf("error\n  %s\nwant its place\n  %s", got, want)
		}
	case got != want:
		t.Errorf("error\n  %s\nwant\n  %s", got, want)
	}
	if strings.HasSuffix(ie.What, ".") || unicode.IsUpper([]rune(ie.What)[0]) {
		t.Errorf("%q is not in lower case without a full stop", ie.What)
	}
	if ie.Hint == "" || hint != "" && ie.Hint != hint {
		t.Errorf("hint\n  %s\nwant\n  %s", ie.Hint, hint)
	}
}

// A fault in a table written on one line stands on that line.
func TestReadBikePlacesInlineGrounds(t *testing.T) {
	for _, x := range []string{"ground = { sandy = 1.9 }\n", "ground.sandy = 1.9\n", "[[ground]]\nsand = 1.9\n", "'ground' = 3\n"} {
		_, err := fuel.ReadBike(strings.NewReader(least+x), "bike.toml", "")
		wantFault(t, err, "bike.toml:4:", "")
	}
}

// All the faults of a file are told at once, up to ten.
func TestReadBikeTellsSeveralFaults(t *testing.T) {
	_, err := fuel.ReadBike(strings.NewReader("tank = 14\nconsumption = \"52 mpg\"\ncolour = \"blue\"\n[ground]\nsand = 0\nmoon = 1\n"), "bike.toml", "")
	got := strings.Split(err.Error(), "\n")
	want := []string{
		`bike.toml:1:1: tank: "14" is not a text in quotes`,
		`bike.toml:2:1: consumption: "52 mpg" could be US or UK miles per gallon`,
		`bike.toml:3:1: unknown key "colour"`,
		`bike.toml:5:1: sand: "0" is no weight of a ground`,
		`bike.toml:6:1: unknown ground "moon"`,
		`bike.toml: no needs`,
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("errors\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
	var many strings.Builder
	for range 13 {
		many.WriteString("x")
		many.WriteString(strings.Repeat("y", many.Len()) + " = 1\n")
	}
	_, err = fuel.ReadBike(strings.NewReader(least+many.String()), "bike.toml", "")
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 11 || lines[10] != "and 3 more" {
		t.Errorf("13 faults are told as\n%v", err)
	}
}

func TestReadBikePassesOnReadErrors(t *testing.T) {
	_, err := fuel.ReadBike(iotest.TimeoutReader(iotest.OneByteReader(strings.NewReader(least))), "bike.toml", "")
	if want := "bike.toml: timeout"; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
}
