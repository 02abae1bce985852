package plan

import (
	"cmp"
	"fmt"
	"slices"

	"lastpump/fuel/stop"
	"lastpump/route"
)

// onLine is how far off the line a stop lies that costs no detour.
const onLine route.Metres = 300

// detourOverStraight is how much longer the way to a stop is than the straight:
// our estimate.
const detourOverStraight = 1.3

// look finds every passing of every stop, and the stops that are not passed.
func (s *survey) look() {
	s.off = make([]route.Metres, len(s.in.Stops))
	for i, st := range s.in.Stops {
		passages := s.in.Line.Passages(st.At, s.in.Options.Corridor)
		for _, p := range passages {
			s.sightings = append(s.sightings, sighting{i, p})
		}
		if len(passages) == 0 {
			near, _ := s.in.Line.Nearest(st.At, 0, s.in.Line.Length())
			s.off[i] = near.Off
			s.beside = append(s.beside, sighting{i, near})
			s.notUsed = append(s.notUsed, NotUsed{st.Name, near.Off})
		}
	}
}

// nothingPassed refuses a stop list of which not one lies near the line: it is the
// list of another ride.
func (s *survey) nothingPassed() error {
	if len(s.in.Stops) == 0 || len(s.sightings) > 0 {
		return nil
	}
	if s.in.Options.Detours == DetoursAuto && slices.ContainsFunc(s.off, func(off route.Metres) bool { return off <= cureReach }) {
		return nil
	}
	near := slices.MinFunc(s.notUsed, func(a, b NotUsed) int { return cmp.Compare(a.Off, b.Off) })
	u := s.in.Options.Units
	return &route.InputError{
		What: fmt.Sprintf("no stop of %d lies within %s of the line; the nearest, %s, is %s off",
			len(s.in.Stops), u.Distance(s.in.Options.Corridor), near.Stop, u.Distance(near.Off)),
		Hint: "is it the list of another loop? else look farther: --corridor 5km",
	}
}

// visits lists the visits along the line: the counted ones one by one still,
// before they are gathered into places.
func (d *draft) visits() {
	all := slices.Clone(d.sightings)
	for _, g := range slices.Concat(d.change.extra, d.change.chosen) {
		if !slices.Contains(all, g) {
			all = append(all, g)
		}
	}
	slices.SortStableFunc(all, func(a, b sighting) int { return cmp.Compare(a.At, b.At) })
	for _, g := range all {
		st := d.in.Stops[g.stop]
		v := Visit{Stop: st, At: g.At, Off: g.Off}
		if v.WhyNot = d.whyNot(g); v.WhyNot == "" {
			v.Counted = true
			v.Detour = detour(g.Off)
		}
		d.plan.Visits = append(d.plan.Visits, v)
		d.places = append(d.places, place{stops: []int{g.stop}})
	}
}

// detour gives the way there and back to a stop off the line.
func detour(off route.Metres) route.Metres {
	if off <= onLine {
		return 0
	}
	return 2 * detourOverStraight * off
}

// whyNot tells why a stop is shown but not counted, "" where it is counted.
func (d *draft) whyNot(g sighting) string {
	if why := d.unfit(g.stop); why != "" {
		return why
	}
	if slices.Contains(d.change.past, g) {
		return "skipped"
	}
	if c := d.change; c.chosen != nil && !slices.Contains(c.chosen, g) && !slices.Contains(c.extra, g) {
		return "not needed"
	}
	return ""
}

// unfit tells why a stop is never counted, "" where it may be.
func (d *draft) unfit(i int) string {
	st := d.in.Stops[i]
	switch {
	case d.in.skipped(st) || slices.Contains(d.change.passBy, i):
		return "skipped"
	case st.NoPetrol():
		return "no petrol"
	case i+1 == d.change.believe:
		return ""
	case st.Standing == stop.Hearsay:
		return "hearsay"
	case st.Standing.Rank() > d.in.Options.Trust.Rank():
		return "only " + string(st.Standing)
	}
	return ""
}
