package fuel

import (
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lastpump/route/input"

	"lastpump/octane"
	"lastpump/route"

	"github.com/BurntSushi/toml"
)

// A bikeFile is a bike file being read: its keys, and where they stand.
type bikeFile struct {
	name   string
	text   string
	keys   map[string]any
	posted octane.Scale
	bike   Bike
	faults []error
}

// bikeKeys lists what a bike file may say, and how each is read. The first three
// are required.
var bikeKeys = []struct {
	key  string
	read func(*bikeFile, any) error
}{
	{"tank", text(ParseLitres, func(b *Bike) *Litres { return &b.Tank })},
	{"consumption", text(ParseConsumption, func(b *Bike) *Consumption { return &b.Consumption })},
	{"needs", (*bikeFile).readNeeds},
	{"name", text(anyText, func(b *Bike) *string { return &b.Name })},
	{"unusable", text(ParseLitres, func(b *Bike) *Litres { return &b.Unusable })},
	{"loaded_mass", text(ParseMass, func(b *Bike) *Kilograms { return &b.LoadedMass })},
	{"measured_on", text(ParseEthanol, func(b *Bike) *Ethanol { return &b.MeasuredOn })},
	{"ridden_on", text(ParseEthanol, func(b *Bike) *Ethanol { return &b.RiddenOn })},
	{"odometer", (*bikeFile).readOdometer},
	{"can", text(ParseLitres, func(b *Bike) *Litres { return &b.Can })},
	{"consumption_tanks", func(f *bikeFile, v any) error { return readCount(&f.bike.ConsumptionTanks, v) }},
	{"lamp_at", text(ParseLitres, func(b *Bike) *Litres { return &b.LampAt })},
	{"reserve_tap", text(ParseLitres, func(b *Bike) *Litres { return &b.ReserveTap })},
	{"ground", (*bikeFile).readGrounds},
	{"ride", (*bikeFile).readRide},
	{"speed", (*bikeFile).readSpeeds},
	{"learnt", (*bikeFile).readLearnt},
}

const requiredKeys = 3

// ReadBike reads a bike file (TOML). The keys tank, consumption and needs are
// required; quantities are texts with their unit. posted is the scale of a bare
// number in needs, or "". The error joins up to ten [*input.Error]: unknown
// keys, with the nearest known one, values without a unit, and a bike that
// cannot be, see [Bike.Check].
func ReadBike(r io.Reader, name string, posted octane.Scale) (Bike, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBikeFile+1))
	if err != nil {
		return Bike{}, &input.Error{File: name, What: err.Error()}
	}
	if len(data) > maxBikeFile {
		return Bike{}, &input.Error{File: name, What: "too large for a bike file", Hint: bikeHint}
	}
	f := &bikeFile{name: name, text: strings.TrimPrefix(string(data), "\ufeff"), posted: posted, bike: DefaultBike()}
	f.bike.Name = ""
	if err := f.decode(); err != nil {
		return Bike{}, err
	}
	f.read()
	if len(f.faults) == 0 {
		if key, what, hint := f.bike.wrong(); what != "" {
			f.fault(key, &input.Error{What: what, Hint: hint})
		}
	}
	if err := input.JoinFaults(f.faults); err != nil {
		return Bike{}, err
	}
	return f.bike, nil
}

const (
	maxBikeFile = 1 << 20
	bikeHint    = "`lastpump bike` prints a bike file to fill in"
)

func (f *bikeFile) decode() error {
	_, err := toml.Decode(f.text, &f.keys)
	var pe toml.ParseError
	if errors.As(err, &pe) {
		if typed := f.typed(); typed != nil {
			return typed
		}
		line, col := f.lineOf(min(max(pe.Position.Start, 0), len(f.text)))
		return &input.Error{File: f.name, Line: line, Col: col, What: ourWay(pe.Message), Hint: bikeHint}
	}
	if err != nil {
		return &input.Error{File: f.name, What: err.Error(), Hint: bikeHint}
	}
	if len(f.keys) == 0 {
		return &input.Error{File: f.name, Line: 1, Col: 1, What: "empty file", Hint: bikeHint}
	}
	return nil
}

// ourWay sets a message of the decoder as ours are: one line, lower case, no full
// stop.
func ourWay(s string) string {
	s = strings.TrimRight(strings.ReplaceAll(s, "\n", " "), ".")
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(first)) + s[size:]
}

func (f *bikeFile) read() {
	known := make([]string, len(bikeKeys))
	for i, k := range bikeKeys {
		known[i] = k.key
		v, there := f.keys[k.key]
		switch {
		case there:
			if err := k.read(f, v); err != nil {
				f.fault(k.key, err)
			}
		case i < requiredKeys:
			f.faults = append(f.faults, &input.Error{File: f.name, What: "no " + k.key, Hint: bikeHint})
		}
	}
	for _, k := range sortedKeys(f.keys) {
		if !slices.Contains(known, k) {
			f.fault(k, &input.Error{What: fmt.Sprintf("unknown key %q", k),
				Hint: input.Suggest(k, known) + "the keys are " + strings.Join(known, ", ")})
		}
	}
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// fault notes an error at the place of a key; what has a hint keeps it.
func (f *bikeFile) fault(key string, err error) { f.faultIn("", key, err) }

// faultIn does so for a key of a table.
func (f *bikeFile) faultIn(table, key string, err error) {
	line, col := 1, 1
	if len(f.faults) < input.MaxFaults { // no more are shown, and looking takes time
		line, col = f.place(table, key)
	}
	before := key + ": "
	var plain *input.Error
	if errors.As(err, &plain) {
		before = ""
	}
	ie := input.Wrap(before, err)
	ie.File, ie.Line, ie.Col = f.name, line, col
	f.faults = append(f.faults, ie)
}

// place finds where a key stands: at the beginning of a line, or in a table set
// in braces, or behind the dot after another key. One of a table stands behind its name.
func (f *bikeFile) place(table, key string) (line, col int) {
	begin := 0
	if table != "" {
		begin = strings.LastIndexByte(f.text[:max(0, f.find(0, table))], '\n') + 1
	}
	if at := f.find(begin, key); at >= 0 {
		return f.lineOf(at)
	}
	return 1, 1
}

// find gives where in the text a key stands, from the beginning of a line on; -1 for nowhere.
func (f *bikeFile) find(begin int, key string) int {
	k := regexp.QuoteMeta(key)
	at := regexp.MustCompile(`(?m)(?:^|^[^#"']*[{,.])[ \t]*\[*[ \t]*(["']?` + k + `["']?)[ \t]*[=.\]]`).
		FindStringSubmatchIndex(f.text[begin:])
	if at == nil {
		return -1
	}
	return begin + at[2]
}

// lineOf gives the line and the column of a byte of the text.
func (f *bikeFile) lineOf(i int) (line, col int) {
	before := f.text[:i]
	return strings.Count(before, "\n") + 1, len(before) - strings.LastIndexByte(before, '\n')
}

// text makes the reader of a key whose value is a text with a unit.
func text[T any](parse func(string) (T, error), field func(*Bike) *T) func(*bikeFile, any) error {
	return func(f *bikeFile, v any) error {
		s, ok := v.(string)
		if !ok {
			return input.BadValue(fmt.Sprint(v), "is not a text in quotes",
				`write it with its unit in quotes, like "14 L" or "4.5 L/100km"`)
		}
		got, err := parse(s)
		if err == nil {
			*field(&f.bike) = got
		}
		return err
	}
}

func anyText(s string) (string, error) { return input.OneLine(s), nil }

func (f *bikeFile) readNeeds(v any) error {
	s, ok := v.(string)
	if !ok {
		s = fmt.Sprint(v)
	}
	g, err := octane.ParsePosted(s, f.posted)
	f.bike.Needs = g
	return err
}

func (f *bikeFile) readOdometer(v any) (err error) {
	f.bike.Odometer, err = tomlNumber(v)
	return err
}

// readGrounds reads the weights of the bike's own: one number, with which the
// general low and high go, or three.
func (f *bikeFile) readGrounds(v any) error {
	table, ok := v.(map[string]any)
	if !ok {
		return input.BadValue(fmt.Sprint(v), "is not a table", "write [ground] and below it lines like sand = 1.9")
	}
	f.bike.Own = map[route.Ground]Weight{}
	for _, k := range sortedKeys(table) {
		g, err := route.ParseGround(k)
		if err == nil && g == route.Unknown {
			err = input.BadValue(k, "has no weight of its own: it is planned as dirt", "give dirt a weight")
		}
		if _, twice := f.bike.Own[g]; twice {
			err = input.BadValue(k, "stands twice", "give each ground one weight")
		}
		if err == nil {
			f.bike.Own[g], err = ownWeight(g, table[k])
		}
		if err != nil {
			f.faultIn("ground", k, err)
		}
	}
	return nil
}

func ownWeight(g route.Ground, v any) (Weight, error) {
	if _, three := v.([]any); !three {
		n, err := tomlNumber(v)
		if err != nil {
			return Weight{}, err
		}
		return weightOf(v, scaled(g, n))
	}
	n, err := threeOf(v, tomlNumber, "weights", "sand = [1.6, 1.9, 2.6]")
	if err != nil {
		return Weight{}, err
	}
	return weightOf(v, Weight{n[0], n[1], n[2]})
}

func weightOf(v any, w Weight) (Weight, error) {
	if !(w.Low >= 0.5 && w.Low <= w.Likely && w.Likely <= w.High && w.High <= 20) {
		return w, input.BadValue(fmt.Sprint(v), "is no weight of a ground",
			"1 is paved road; low, likely and high rise from 0.5 to 20")
	}
	return w, nil
}

func tomlNumber(v any) (float64, error) {
	n, ok := v.(float64)
	if i, whole := v.(int64); whole {
		n, ok = float64(i), true
	}
	if !ok || math.IsNaN(n) || math.IsInf(n, 0) {
		return 0, input.BadValue(fmt.Sprint(v), "is not a number", "write it without quotes, like 1.05")
	}
	return n, nil
}
