package plan

import (
	"fmt"
	"math"
	"strings"

	"lastpump/fuel/stop"
	"lastpump/route"
)

// check refuses what cannot be planned, before anything is computed.
func (in Inputs) check() error {
	if err := in.Bike.Check(); err != nil {
		return err
	}
	if err := in.Grounds.Fit(in.Line.Length()); err != nil {
		return err
	}
	if err := in.Options.check(in); err != nil {
		return err
	}
	return in.checkSkip()
}

func (o Options) check(in Inputs) error {
	bad := func(what, hint string) error { return &route.InputError{What: what, Hint: hint} }
	usable := in.Bike.Usable()
	switch {
	case !(o.Reserve.Share >= 0 && o.Reserve.Share < 1):
		return bad(fmt.Sprintf("a reserve of %.4g %% leaves nothing to ride on", o.Reserve.Share*100),
			"write it like --reserve 15%,30km")
	case !(o.Reserve.Distance >= 0) || math.IsInf(float64(o.Reserve.Distance), 0):
		return bad("the reserve is no distance", "write it like --reserve 15%,30km")
	case !(o.Corridor > 0 && o.Corridor <= maxCorridor):
		return bad(fmt.Sprintf("a corridor of %.4g km is not between 0 and %.0f", o.Corridor.Kilometres(), maxCorridor.Kilometres()),
			"it is how far off the line a stop is still visited: --corridor 2km")
	case !thirstFits(o.Thirst):
		return bad(fmt.Sprintf("a thirst of %v is not between 0.5 and 3", o.Thirst), "1 is the bike as measured, 1.15 a head wind")
	case o.Used != nil && !o.fromHere():
		return bad("what was used on the way is given, but not where you are", `say it: --from 212, or --from "the name of a stop"`)
	case o.HasStartFuel && o.SinceFill > 0:
		return bad("both the fuel at the start and the distance since the last fill are given", "give one of --start-fuel and --since-fill")
	case o.HasStartFuel && !(o.StartFuel >= 0 && o.StartFuel <= usable):
		return bad(fmt.Sprintf("%.4g L at the start do not go into a tank of %.4g usable litres", o.StartFuel, usable),
			"--start-fuel counts usable litres")
	case o.LowGrade != "" && o.LowGrade != LowGradeLeast && o.LowGrade != LowGradeFull:
		return bad(fmt.Sprintf("%q is no rule for low grade", o.LowGrade), "write --low-grade least or full")
	case o.Detours != DetoursNone && o.Detours != DetoursAuto:
		return bad(fmt.Sprintf("%q is no rule for detours", o.Detours), "write --detours auto, or leave it out")
	case o.Trust == stop.Hearsay || o.Trust.Rank() > stop.Map.Rank():
		return bad(fmt.Sprintf("%q is not a standing to trust", o.Trust), "write --trust seen, phoned or map; hearsay is never counted")
	}
	return nil
}

func thirstFits(t float64) bool { return t >= 0.5 && t <= 3 }

const maxCorridor route.Metres = 50000

func (in Inputs) checkSkip() error {
	for _, name := range in.Options.Skip {
		if !in.hasStop(name) {
			names := make([]string, len(in.Stops))
			for i, s := range in.Stops {
				names[i] = s.Name
			}
			return &route.InputError{What: fmt.Sprintf("no stop is called %q", name),
				Hint: route.Nearest(name, names) + "--skip takes the name as the list has it"}
		}
	}
	return nil
}

func (in Inputs) hasStop(name string) bool {
	for _, s := range in.Stops {
		if strings.EqualFold(s.Name, name) {
			return true
		}
	}
	return false
}

func (in Inputs) skipped(s stop.Stop) bool {
	for _, name := range in.Options.Skip {
		if strings.EqualFold(s.Name, name) {
			return true
		}
	}
	return false
}
