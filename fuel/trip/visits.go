package trip

import (
	"cmp"
	"slices"

	"lastpump/fuel/leg"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
)

// A pass is a sighting under a change: whether it is counted, or why not.
type pass struct {
	Sighting
	why WhyNot // "" where it is counted
}

func (p pass) counted() bool { return p.why == "" }

// passes lists what is passed along the line: the counted ones one by one still, before
// they are gathered into places.
func (t *Trip) passes(c Change) []pass {
	all := t.withExtra(slices.Concat(c.Extra, c.Chosen))
	out := make([]pass, len(all))
	passedBy := make(map[int]bool, len(c.PassBy))
	for _, i := range c.PassBy {
		passedBy[i] = true
	}
	for i, g := range all {
		out[i] = pass{g, t.unfit(g.Stop, c)}
		switch {
		case len(passedBy) > 0 && passedBy[g.Stop]:
			out[i].why = Skipped
		case out[i].counted() && t.longShut(g):
			out[i].why = LongShut
		case c.Chosen != nil && out[i].counted():
			out[i].why = NotNeeded
		}
	}
	mark := func(which []Sighting, from, to WhyNot) {
		for _, g := range which {
			for i := firstAt(all, g.At); i < len(all) && all[i].At == g.At; i++ {
				if all[i] == g && out[i].why == from {
					out[i].why = to
				}
			}
		}
	}
	mark(c.Chosen, NotNeeded, "")
	mark(c.Extra, NotNeeded, "")
	mark(c.Past, "", Skipped)
	mark(c.Past, NotNeeded, Skipped)
	return out
}

// withExtra gives the sightings in order along the line, with more that are not among them.
func (t *Trip) withExtra(extra []Sighting) []Sighting {
	if t.ordered == nil {
		t.ordered = slices.Clone(t.Sightings)
		InOrder(t.ordered)
	}
	all := t.ordered
	for _, g := range extra {
		i := firstAt(all, g.At)
		for ; i < len(all) && all[i].At == g.At && all[i] != g; i++ {
		}
		if i == len(all) || all[i] != g {
			all = slices.Insert(slices.Clip(all), i, g)
		}
	}
	return all
}

// firstAt gives the first of the sightings, which are in order, at a place or beyond.
func firstAt(all []Sighting, at route.Metres) int {
	i, _ := slices.BinarySearchFunc(all, at, func(g Sighting, at route.Metres) int { return cmp.Compare(g.At, at) })
	return i
}

// visit gives the visit of what is passed.
func (t *Trip) visit(p pass) Visit {
	v := t.VisitOf(p.Sighting)
	v.WhyNot, v.Counted = p.why, p.counted()
	if !v.Counted {
		v.Detour = 0
	}
	return v
}

// VisitOf gives the visit that a sighting would be, if it were counted.
func (t *Trip) VisitOf(g Sighting) Visit {
	return Visit{Stop: t.Stops[g.Stop], Number: g.Stop, At: g.At, Off: g.Off, Detour: g.Detour(), ByRoad: g.ByRoad,
		Hour: t.Hour(g)}
}

// A merit is what of a stop bears on whether it is counted and which of a place is best; it
// is the same under all changes.
type merit struct {
	unfit    WhyNot // why it is not counted, "" where it is
	doubted  bool   // only because of its standing
	meets    bool   // it has a grade that meets, for each bike of the group
	standing int    // its rank
}

func (t *Trip) meritOf(st stop.Stop) merit {
	m := merit{meets: t.meetsAll(st), standing: st.Standing.Rank()}
	switch {
	case t.Options.Skipped(st):
		m.unfit = Skipped
	case st.NoPetrol():
		m.unfit = NoPetrol
	case st.Standing == stop.Hearsay:
		m.unfit, m.doubted = ByHearsay, true
	case m.standing > t.Options.Trust.Rank():
		m.unfit, m.doubted = WhyNot("only "+st.Standing), true
	}
	return m
}

// Unfit tells why a stop is never counted under a change, "" where it may be.
func (t *Trip) Unfit(i int, c Change) WhyNot {
	if slices.Contains(c.PassBy, i) {
		return Skipped
	}
	return t.unfit(i, c)
}

// unfit is Unfit but for stops that a change passes by.
func (t *Trip) unfit(i int, c Change) WhyNot {
	m := &t.merits[i]
	if m.doubted && i+1 == c.Believe {
		return ""
	}
	return m.unfit
}

// Doubted tells whether a stop is left out only because of its standing.
func (t *Trip) Doubted(i int) bool {
	return t.merits[i].doubted
}

// better tells whether a stop is to be preferred to another of its place: that at which
// the rider stands, then a grade that meets, then the hours, then the surer standing, then the shorter
// detour. In a group, which fills together, a grade has to meet for each bike.
func (t *Trip) better(a, b Sighting) bool {
	if ha, hb := t.standsBy(a), t.standsBy(b); ha != hb {
		return ha
	}
	ma, mb := &t.merits[a.Stop], &t.merits[b.Stop]
	if ma.meets != mb.meets {
		return ma.meets
	}
	if ra, rb := t.hourRank(a), t.hourRank(b); ra != rb {
		return ra < rb
	}
	if ma.standing != mb.standing {
		return ma.standing < mb.standing
	}
	return a.Detour() < b.Detour()
}

// meetsAll tells whether a stop has a grade that meets for each bike of the group.
func (t *Trip) meetsAll(st stop.Stop) bool {
	return leg.SellsMeeting(st.Grades, t.Bike.Needs) && !slices.ContainsFunc(t.Alongside, func(need octane.Grade) bool {
		return !leg.SellsMeeting(st.Grades, need)
	})
}
