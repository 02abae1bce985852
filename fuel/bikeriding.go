package fuel

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lastpump/route"
	"lastpump/route/input"
)

// rideKeys lists what the table ride of a bike file may say, and how each is read.
var rideKeys = []struct {
	key  string
	read func(*Riding, any) error
}{
	{"hours", readRideHours},
	{"pace", readPace},
	{"pauses_min", func(r *Riding, v any) error { return readMinutes(&r.Pauses, v, "pauses_min = [15, 35, 60]") }},
	{"fill_min", func(r *Riding, v any) error { return readMinutes(&r.Fill, v, "fill_min = [10, 15, 30]") }},
}

// What is beyond these is a slip of the keys: our estimates.
const (
	leastRideHours, mostRideHours = 1, 18
	leastPace, mostPace           = 0.33, 4
	mostMinutes                   = 240
	leastSpeed, mostSpeed         = 1, 160 // km/h
)

// readRide reads how the bike is ridden by the clock.
func (f *bikeFile) readRide(v any) error {
	table, ok := v.(map[string]any)
	if !ok {
		return input.BadValue(fmt.Sprint(v), "is not a table", "write [ride] and below it lines like hours = 6")
	}
	known := make([]string, len(rideKeys))
	for i, k := range rideKeys {
		known[i] = k.key
		if v, there := table[k.key]; there {
			if err := k.read(&f.bike.Riding, v); err != nil {
				f.faultIn("ride", k.key, err)
			}
		}
	}
	for _, k := range sortedKeys(table) {
		if !slices.Contains(known, k) {
			f.faultIn("ride", k, &input.Error{What: fmt.Sprintf("unknown key %q", k),
				Hint: input.Suggest(k, known) + "the keys of ride are " + strings.Join(known, ", ")})
		}
	}
	return nil
}

func readRideHours(r *Riding, v any) error {
	n, err := tomlNumber(v)
	if err != nil {
		return err
	}
	if !(n >= leastRideHours && n <= mostRideHours) {
		return input.BadValue(fmt.Sprint(v), "are no hours of riding a day",
			fmt.Sprintf("in the saddle, without pauses: from %d to %d (our estimate)", leastRideHours, mostRideHours))
	}
	r.Hours = time.Duration(n * float64(time.Hour))
	return nil
}

func readPace(r *Riding, v any) error {
	n, err := tomlNumber(v)
	if err != nil {
		return err
	}
	if !(n >= leastPace && n <= mostPace) {
		return input.BadValue(fmt.Sprint(v), "is no pace", fmt.Sprintf("1 is as planned, 1.2 takes a fifth longer: from %v to %d "+
			"(our estimate)", leastPace, mostPace))
	}
	r.Pace = n
	return nil
}

// readMinutes reads three rising numbers of minutes.
func readMinutes(into *[3]time.Duration, v any, like string) error {
	n, err := threeOf(v, tomlNumber, "minutes", like)
	if err != nil {
		return err
	}
	if !(n[0] >= 0 && n[0] <= n[1] && n[1] <= n[2] && n[2] > 0 && n[2] <= mostMinutes) {
		return input.BadValue(fmt.Sprint(v), "are no minutes that rise",
			fmt.Sprintf("write %s: at the least, likely and at the most, up to %d (our estimate)", like, mostMinutes))
	}
	for i := range n {
		into[i] = time.Duration(n[i] * float64(time.Minute))
	}
	return nil
}

// threeOf reads a list of three numbers.
func threeOf(v any, read func(any) (float64, error), what, like string) (n [3]float64, err error) {
	list, ok := v.([]any)
	if !ok || len(list) != len(n) {
		return n, input.BadValue(fmt.Sprint(v), "are not three "+what, "write "+like+": low, likely, high")
	}
	for i, x := range list {
		if n[i], err = read(x); err != nil {
			return n, err
		}
	}
	return n, nil
}

// readSpeeds reads how fast the bike is ridden on some grounds: one figure, with which the general
// low and high go, or three.
func (f *bikeFile) readSpeeds(v any) error {
	table, ok := v.(map[string]any)
	if !ok {
		return input.BadValue(fmt.Sprint(v), "is not a table", "write [speed] and below it lines like dirt = 40")
	}
	own := map[route.Ground]Speeds{}
	for _, k := range sortedKeys(table) {
		g, err := route.ParseGround(k)
		if _, twice := own[g]; twice && err == nil {
			err = input.BadValue(k, "stands twice", "give each ground one speed")
		}
		if err == nil {
			own[g], err = ownSpeed(table[k])
		}
		if err != nil {
			f.faultIn("speed", k, err)
		}
	}
	f.bike.Riding.Speeds = own
	return nil
}

// ownSpeed reads the speeds of one ground.
func ownSpeed(v any) (s Speeds, err error) {
	if _, three := v.([]any); !three {
		s.Likely, err = tomlSpeed(v)
		return s, err
	}
	n, err := threeOf(v, tomlSpeed, "speeds", "dirt = [30, 40, 50]")
	if err != nil {
		return s, err
	}
	if !(n[0] <= n[1] && n[1] <= n[2]) {
		return s, input.BadValue(fmt.Sprint(v), "are no speeds that rise", "write dirt = [30, 40, 50]: low, likely, high")
	}
	return Speeds{n[0], n[1], n[2]}, nil
}

// tomlSpeed reads one speed, in km/h: a number of them, or a text with its unit.
func tomlSpeed(v any) (kmh float64, err error) {
	if s, ok := v.(string); ok {
		kmh, err = parseSpeed(s)
	} else {
		kmh, err = tomlNumber(v)
	}
	if err == nil && !(kmh >= leastSpeed && kmh <= mostSpeed) {
		err = input.BadValue(fmt.Sprint(v), "is no speed off the road",
			fmt.Sprintf("while moving, from %d to %d km/h (our estimate): 40, or \"25 mph\"", leastSpeed, mostSpeed))
	}
	return kmh, err
}

// parseSpeed reads a speed with its unit: "40 km/h" or "25 mph".
func parseSpeed(s string) (kmh float64, err error) {
	const want = `40, "40 km/h" or "25 mph"`
	n, unit, err := split(s, "speed", want)
	if err != nil {
		return 0, err
	}
	switch unit {
	case "km/h", "kmh", "kph":
		return n, nil
	case "mph", "mi/h":
		return n * Mile.Kilometres(), nil
	}
	return 0, input.BadValue(s, "has a unit that is no speed", "write "+want)
}
