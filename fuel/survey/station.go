package survey

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/route"
	"lastpump/route/flat"
	"lastpump/route/osmfile"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// ErrNoScale says that pumps have octane numbers and nobody has said on which scale
// they are. The map has what is written on the pump: RON in most of the world, AKI in
// North America.
var ErrNoScale = errors.New("octane numbers without a scale: 91 RON and 91 AKI are different petrols")

// findPumps makes stops of the pumps that lie within the corridor.
func (s *Survey) findPumps(c *collection) error {
	var near, refused []*station
	for _, o := range c.inOrder(isPump) {
		st, ok := newStation(s.Line, o, s.Options.Corridor)
		switch why := refusal(o.tags); {
		case !ok:
		case why.Why != "":
			why.Ref = o.ref
			refused = append(refused, st)
			s.Refused = append(s.Refused, why)
		default:
			near = append(near, st)
		}
	}
	near = slices.DeleteFunc(near, func(st *station) bool { return s.within(refused, st) })
	if s.Options.Scale == "" {
		if i := slices.IndexFunc(near, func(st *station) bool { return hasOctane(st.tags) }); i >= 0 {
			return fmt.Errorf("%s: %w", strings.Trim(nameOf(near[i].tags)+", OSM "+near[i].ref.String(), ", "), ErrNoScale)
		}
	}
	for _, st := range oneEach(near) {
		s.Pumps = append(s.Pumps, st.pump(s.Line, s.Options))
	}
	slices.SortStableFunc(s.Pumps, byPlace)
	return nil
}

// within refuses a pump that lies within the outline of one that is refused: it is one
// station, drawn twice.
func (s *Survey) within(refused []*station, st *station) bool {
	for _, r := range refused {
		if st.near(r) && r.covers(st) {
			s.Refused = append(s.Refused, Refused{Ref: st.ref, Why: WithinRefused, Within: r.ref})
			return true
		}
	}
	return false
}

// inOrder lists objects of a kind by number, so that the same map gives the same
// list whatever way it was read.
func (c *collection) inOrder(kind func(osmfile.Tags) bool) (out []*object) {
	for _, o := range c.objects {
		if kind(o.tags) {
			out = append(out, o)
		}
	}
	slices.SortFunc(out, func(a, b *object) int { return a.ref.Compare(b.ref) })
	for _, o := range out {
		c.placeMembers(o)
	}
	return out
}

// placeMembers adds to a relation the nodes that are its members.
func (c *collection) placeMembers(o *object) {
	for _, m := range o.members {
		if m.Kind != osmfile.IsNode {
			continue
		}
		if at, ok := c.findNode(m.ID); ok {
			o.outlines = append(o.outlines, outline{points: []orb.Point{at.point()}})
		}
	}
	if len(o.members) > 0 {
		o.outlines = rings(o.outlines)
	}
	o.members = nil
}

// rings joins outlines that go on where another ends, as the ways of a relation do.
func rings(parts []outline) (out []outline) {
	for len(parts) > 0 {
		o := parts[0]
		parts = parts[1:]
		for !o.closed && o.first != 0 {
			i := slices.IndexFunc(parts, func(p outline) bool {
				return !p.closed && p.first != 0 && (p.first == o.last || p.last == o.last)
			})
			if i < 0 {
				break
			}
			next := parts[i]
			parts = slices.Delete(slices.Clone(parts), i, i+1)
			points := slices.Clone(next.points)
			if next.first != o.last {
				slices.Reverse(points)
				next.last = next.first
			}
			o.points = append(slices.Clone(o.points), points[min(1, len(points)):]...)
			o.last = next.last
			o.closed = o.first == o.last
		}
		out = append(out, o)
	}
	return out
}

// A station is a pump near the line.
type station struct {
	*object
	at    orb.Point    // where it comes closest to the line
	along route.Metres // the line
	km    route.Metres // of the file there
	off   route.Metres
}

// newStation finds where an object comes closest to the line; ok is false where that
// is beyond the corridor, or where nothing is known of where it lies.
func newStation(line *route.Line, o *object, corridor route.Metres) (*station, bool) {
	s := &station{object: o, off: route.Metres(math.Inf(1))}
	meet := func(p orb.Point, from, to route.Metres) route.Passage {
		near, ok := line.Nearest(p, from, to)
		if ok && near.Off < s.off {
			s.at, s.along, s.off = p, near.At, near.Off
		}
		return near
	}
	for _, l := range o.outlines {
		var last route.Passage
		for i, p := range l.points {
			near := meet(p, 0, line.Length())
			if i > 0 {
				side := route.Distance(l.points[i-1], p)
				if from, to := near.At-side-nearby, near.At+side+nearby; (near.Off+last.Off-side)/2 < s.off {
					meet(closestOn(line, l.points[i-1], p, from, to), from, to)
				}
			}
			last = near
		}
	}
	s.km = line.FileAt(s.along)
	return s, s.off <= corridor
}

// nearby is how far along the line beyond the length of a side the closest place is
// looked for.
const nearby route.Metres = 200

// closestOn gives where a straight between two points comes closest to a stretch of
// the line, to within half a metre where there is one such place: the sides of a
// forecourt are short.
func closestOn(line *route.Line, a, b orb.Point, from, to route.Metres) orb.Point {
	off := func(share float64) route.Metres {
		near, _ := line.Nearest(route.Between(a, b, share), from, to)
		return near.Off
	}
	low, high := 0.0, 1.0
	for side := route.Distance(a, b); float64(side)*(high-low) > 0.5; {
		third := (high - low) / 3
		if off(low+third) <= off(high-third) {
			high -= third
		} else {
			low += third
		}
	}
	return route.Between(a, b, (low+high)/2)
}

// sameWithin is how near each other two objects of one name are one station.
const sameWithin route.Metres = 60

// oneEach joins the objects that are one station: one that lies within the outline of
// another, or two of one name close by. What the one does not say the other may.
func oneEach(all []*station) (out []*station) {
	joined := make([]int, len(all)) // to which station each belongs
	for i := range all {
		joined[i] = i
		for j := range i {
			if sameStation(all[i], all[j]) {
				joinSets(joined[:i+1], joined[i], joined[j])
			}
		}
	}
	for i := range all {
		if joined[i] != i {
			continue
		}
		var set []*station
		for j := range all {
			if joined[j] == i {
				set = append(set, all[j])
			}
		}
		out = append(out, merged(set))
	}
	return out
}

// joinSets gives all of two sets the lower of their numbers.
func joinSets(joined []int, a, b int) {
	for i := range joined {
		if joined[i] == max(a, b) {
			joined[i] = min(a, b)
		}
	}
}

// sameStation tells whether two objects are one.
func sameStation(a, b *station) bool {
	if !a.near(b) {
		return false
	}
	if a.covers(b) || b.covers(a) {
		return true
	}
	name := strings.ToLower(nameOf(a.tags))
	return name != "" && name == strings.ToLower(nameOf(b.tags)) && a.distance(b) <= sameWithin
}

// near tells whether two objects may be one at all, from one point of each: there may
// be thousands.
func (s *station) near(o *station) bool {
	const large = 3000 // metres: no station is larger
	return math.Abs(s.at[1]-o.at[1])*flat.MetresPerDegree < large && route.Distance(s.at, o.at) < large
}

// covers tells whether a point of another object lies within a closed outline of this
// one.
func (s *station) covers(o *station) bool {
	for _, l := range s.outlines {
		if !l.closed {
			continue
		}
		for _, in := range o.outlines {
			for _, p := range in.points {
				if planar.RingContains(flat.At(p).Ring(l.points), orb.Point{}) {
					return true
				}
			}
		}
	}
	return false
}

// distance gives how far two objects lie apart, from outline to outline.
func (s *station) distance(o *station) route.Metres {
	least := route.Metres(math.Inf(1))
	for _, a := range s.outlines {
		for _, b := range o.outlines {
			least = min(least, apart(a.points, b.points), apart(b.points, a.points))
		}
	}
	return least
}

// apart gives the least distance from points to a polyline.
func apart(points, line []orb.Point) route.Metres {
	least := route.Metres(math.Inf(1))
	for _, p := range points {
		f := flat.At(p)
		for i := range line {
			least = min(least, route.Metres(f.Foot(line[max(i-1, 0)], line[i]).Off))
		}
	}
	return least
}

// merged makes one of the objects of a station: that which says most, with what the
// others say where it is silent, at the point that comes closest to the line.
func merged(set []*station) *station {
	slices.SortStableFunc(set, func(a, b *station) int { return cmp.Compare(len(b.tags), len(a.tags)) })
	o := *set[0].object
	one := &station{object: &o, at: set[0].at, along: set[0].along, km: set[0].km, off: set[0].off}
	o.tags = slices.Clone(o.tags)
	for _, s := range set[1:] {
		for _, t := range s.tags {
			o.tags = withTag(o.tags, t)
		}
		if s.off < one.off {
			one.at, one.along, one.km, one.off = s.at, s.along, s.km, s.off
		}
		if s.state.Time.After(o.state.Time) {
			o.state.Time = s.state.Time
		}
	}
	return one
}

// disputed is the value of a tag of which the map says two things about one station.
const disputed = "disputed"

// withTag adds a tag to those of a station. What is said of a fuel in one place and
// denied in another is not known.
func withTag(tags osmfile.Tags, t osmfile.Tag) osmfile.Tags {
	for i, have := range tags {
		if have.Key != t.Key {
			continue
		}
		if strings.HasPrefix(t.Key, "fuel:") && have.Value != t.Value {
			tags[i].Value = disputed
		}
		return tags
	}
	return append(tags, t)
}

func (s *station) pump(line *route.Line, opt Options) Pump {
	p := pumpOf(s.tags, opt.Scale, s.state.Time)
	p.Ref, p.Along, p.Km, p.Off = s.ref, s.along, s.km, s.off
	p.Stop.At = rounded(s.at)
	for _, passage := range line.Passages(p.Stop.At, max(opt.reach(), s.off+1)) {
		p.Passes = append(p.Passes, line.FileAt(passage.At))
	}
	return p
}

// rounded is a place to the last digit that the map has.
func rounded(p orb.Point) orb.Point { return placeAt(p[0], p[1]).point() }

// nameApart gives every stop a name of its own: those that have none, or share it, are
// called by where they are as well, and numbered along the line where that is not
// enough.
func (s *Survey) nameApart(near settlements) {
	var all []*Pump
	for _, list := range [][]Pump{s.Pumps, s.Asks} {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	called := countNames(all)
	for _, p := range all {
		if p.Name != "" && called[p.Name] == 1 {
			continue
		}
		p.Name = fmt.Sprintf("%s (%s)", cmp.Or(p.Name, "pump"), near.where(p.Stop.At, p.Km))
	}
	called = countNames(all)
	number := map[string]int{}
	for _, p := range all {
		if name := p.Name; called[name] > 1 {
			for called[p.Name] > 0 { // until one is free
				number[name]++
				p.Name = fmt.Sprintf("%s %d", name, number[name])
			}
			called[p.Name] = 1
		}
	}
}

// freeName gives a name that is not taken yet, and takes it: by where it is as well, and
// numbered where that is not enough.
func freeName(name, where string, taken map[string]bool) string {
	out := name
	if taken[out] || name == "pump" {
		out = fmt.Sprintf("%s (%s)", name, where)
	}
	for n := 2; taken[out]; n++ {
		out = fmt.Sprintf("%s (%s) %d", name, where, n)
	}
	taken[out] = true
	return out
}

func countNames(pumps []*Pump) map[string]int {
	n := map[string]int{}
	for _, p := range pumps {
		n[p.Name]++
	}
	return n
}
