package call

import (
	"cmp"
	"slices"

	"lastpump/fuel"
	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/fuel/trip"
	"lastpump/octane"
	"lastpump/route"
)

// questions gives what there is to ask of each stop on which the ride leans and that is not sure:
// where it fills, where it goes if a pump is dry, and what it does not count for nobody knows it.
// The longer the way between the fills around a stop the sooner it is tried.
func questions(d *trip.Draft) []Call {
	var out []Call
	asked := map[int]bool{}
	ask := func(i int, at route.Metres) {
		c, ok := question(d, i, at)
		if ok && !asked[i] {
			out = append(out, c)
		}
		asked[i] = true
	}
	rescues := map[int]bool{}
	for _, v := range d.Visits {
		if v.IfDry != nil && v.IfDry.Outcome != leg.Stranded && v.IfDry.To.HasStop() {
			rescues[v.IfDry.To.Stop] = true
		}
	}
	for _, g := range within(d) {
		n := d.Trip.Doubted(g.Stop) || rescues[g.Stop] || slices.ContainsFunc(d.Visits, func(v trip.Visit) bool {
			return v.Number == g.Stop && v.Fill != nil
		})
		if n {
			ask(g.Stop, g.At)
		}
	}
	for _, o := range unsureOuts(d) {
		ask(o.Stop, o.At)
	}
	slices.SortStableFunc(out, func(a, b Call) int { return -cmp.Compare(around(d, a.At), around(d, b.At)) })
	return out
}

// unsureOuts gives the pumps to which an open road leads from where the ride fills and which only
// nobody is sure of: told of, each may be leaned on if the one there is dry.
func unsureOuts(d *trip.Draft) (out []trip.Sighting) {
	t := d.Trip
	for _, n := range d.Nodes {
		if !n.HasStop() {
			continue
		}
		for _, way := range t.Ways.From(n.Stop) {
			w := &t.Ways.All[way]
			if w.ToStop >= 0 && !w.Doubtful() && !t.Stops[w.ToStop].Sure(t.Options.Today) {
				out = append(out, trip.Sighting{Stop: w.ToStop, Passage: route.Passage{At: n.On.At}})
			}
		}
	}
	return out
}

// within gives the passings ahead of all stops that the ride may fill at, in order.
func within(d *trip.Draft) []trip.Sighting {
	t := d.Trip
	all := slices.Clone(t.Sightings)
	if d.Change.Chosen != nil {
		all = append(all, t.Beside...)
	}
	all = slices.DeleteFunc(all, func(g trip.Sighting) bool { return g.At < t.StartAt() || g.Off > trip.Reach })
	trip.InOrder(all)
	return all
}

// around gives the likely litres between the fills before and behind a place along the line.
func around(d *trip.Draft, at route.Metres) (l fuel.Litres) {
	for _, leg := range d.Legs {
		if leg.FromAt <= at && at <= leg.ToAt {
			l += leg.Drink.Fuel.Likely
		}
	}
	return l
}

// question gives what to ask of a stop; not ok where it is sure, and its grades are known.
func question(d *trip.Draft, i int, at route.Metres) (c Call, ok bool) {
	t := d.Trip
	s, today := t.Stops[i], t.Options.Today
	if s.NoPetrol() || t.Options.Skipped(s) {
		return c, false
	}
	if stands := t.Stands(); stands != nil && stands.AtStop && stands.Stop == i {
		return c, false // nobody phones where he stands
	}
	c = Call{Stop: i, At: at, AskAt: -1, Ask: Whether}
	c.Visit = slices.IndexFunc(d.Visits, func(v trip.Visit) bool { return v.Number == i })
	if s.Phone == "" {
		c.AskAt = askAt(d, i, at)
	}
	sure := s.Sure(today)
	answer := func(k stop.AnswerKind, grades ...octane.Grade) {
		c.If = append(c.If, If{Answer: stop.Answer{Kind: k, Grades: grades}})
	}
	meeting := slices.DeleteFunc(leg.LowestFirst(s.Grades, t.Bike.Needs), func(g octane.Grade) bool {
		return g.Against(t.Bike.Needs) != octane.Meets
	})
	switch {
	case len(s.Grades) == 0:
		c.Ask, c.Grade = ForGrade, t.Bike.Needs
		answer(stop.Sells, c.Grade)
		answer(stop.Lacks, c.Grade)
	case sure:
		return c, false
	case len(meeting) > 0:
		c.Ask, c.Grade = ForGrade, meeting[0]
		answer(stop.Sells)
		answer(stop.Lacks, c.Grade)
	default:
		answer(stop.Sells)
	}
	if !sure {
		answer(stop.Dry)
	}
	return c, true
}

// askAt gives the visit of the last sure stop before a place that has a number.
func askAt(d *trip.Draft, i int, at route.Metres) int {
	best := -1
	for k, v := range d.Visits {
		if v.At <= at && v.Number != i && v.Stop.Phone != "" && v.Stop.Sure(d.Trip.Options.Today) {
			best = k
		}
	}
	return best
}
