package learn

import (
	"math"
	"strings"

	"lastpump/fuel"
)

// A ChangedError says that what the bike file has learnt was learnt with other figures than
// the file has now.
type ChangedError struct {
	Keys []string // of the bike file, in its order
}

// Error names the keys.
func (e *ChangedError) Error() string {
	return "what was learnt was learnt with other figures: " + strings.Join(e.Keys, ", ")
}

// Resume gives what is known of a bike by its file: what was learnt, or where nothing was
// the same as [New]. The error is a [*ChangedError].
func Resume(b fuel.Bike) (State, error) {
	l := b.Learnt
	if l == nil {
		return New(b), nil
	}
	if keys := changed(b, *l); len(keys) > 0 {
		return State{}, &ChangedError{keys}
	}
	return from(b, b.Known()).withTaps(b), nil
}

// changed names the figures of a bike that are not those it was learnt with.
func changed(b fuel.Bike, l fuel.Learnt) (keys []string) {
	differ := func(key string, now, then float64) {
		const rounding = 1e-9 // of units that were converted
		if !(math.Abs(now-then) <= rounding*math.Abs(then)) {
			keys = append(keys, key)
		}
	}
	differ("consumption", float64(b.Consumption), float64(l.Consumption))
	differ("loaded_mass", float64(b.LoadedMass), float64(l.LoadedMass))
	differ("measured_on", float64(b.MeasuredOn), float64(l.MeasuredOn))
	differ("ridden_on", float64(b.RiddenOn), float64(l.RiddenOn))
	differ("odometer", b.Odometer, l.Odometer)
	for i, g := range fuel.WeighedGrounds() {
		now, then, n := b.Weight(g), l.Weights[i], len(keys)
		differ(string(g), now.Low, then.Low)
		differ(string(g), now.Likely, then.Likely)
		differ(string(g), now.High, then.High)
		keys = keys[:min(n+1, len(keys))]
	}
	return keys
}

// Keep gives what the bike file keeps of a state: last is the row that ended its last tank.
func (s State) Keep(b fuel.Bike, last fuel.LastFill) fuel.Learnt {
	l := fuel.Learnt{
		Until: last.Date, Tanks: s.tanks, Last: last,
		Consumption: b.Consumption, Odometer: b.Odometer, LoadedMass: b.LoadedMass,
		MeasuredOn: b.MeasuredOn, RiddenOn: b.RiddenOn, Weights: s.weights, SSQ: s.ssq, DoF: s.dof,
	}
	k := s.known()
	l.X = k.X
	l.SetCovariance(k.P)
	return l
}
