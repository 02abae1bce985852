package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/flat"
	"lastpump/route/osmfile"
	"lastpump/route/roads"

	"github.com/paulmach/orb"
)

// askedAt are places where somebody may sell petrol by the can: common practice, no
// source.
var askedAt = []string{"city", "town", "village", "hamlet"}

// sellingShops are shops that often sell petrol where there is no pump, or know who
// does: common practice, no source.
var sellingShops = []string{"general", "convenience", "country_store", "kiosk", "supermarket", "hardware", "agrarian",
	"farm", "trade", "car_repair", "motorcycle", "motorcycle_repair", "car_parts", "gas", "fuel"}

func isPlace(t osmfile.Tags) bool {
	return slices.Contains(askedAt, t.Find("place")) && nameOf(t) != ""
}

// shopThatSells gives the kind of shop, or "".
func shopThatSells(t osmfile.Tags) string {
	for _, kind := range sellingShops {
		if hasValue(t.Find("shop"), kind) {
			return kind
		}
	}
	return ""
}

// settlements are the named places near the line.
type settlements []settlement

type settlement struct {
	name string
	at   orb.Point
}

// settlements lists those that lie in a zone.
func (c *collection) settlements(in *flat.Zone) (out settlements) {
	for _, o := range c.inOrder(isPlace) {
		if p, ok := o.middle(); ok && in.Has(p[0], p[1]) {
			out = append(out, settlement{nameOf(o.tags), p})
		}
	}
	return out
}

// middle gives a point for an object that is as good as any.
func (o *object) middle() (orb.Point, bool) {
	for _, l := range o.outlines {
		if len(l.points) > 0 {
			return orb.LineString(l.points).Bound().Center(), true
		}
	}
	return orb.Point{}, false
}

// name gives the place that a point belongs to as far as one can tell: the nearest
// within 10 km.
func (s settlements) name(p orb.Point) (name string) {
	least := route.Metres(10_000)
	for _, t := range s {
		if math.Abs(t.at[1]-p[1])*flat.MetresPerDegree > float64(least) {
			continue
		}
		if d := route.Distance(t.at, p); d < least {
			least, name = d, t.name
		}
	}
	return name
}

// where says where a stop without a name of its own is.
func (s settlements) where(p orb.Point, km route.Metres) string {
	return cmp.Or(s.name(p), fmt.Sprintf("km %.0f", math.Floor(km.Kilometres()+1e-3)))
}

// findAsks adds places to ask at where it is far from one pump to the next.
func (s *Survey) findAsks(c *collection, near settlements) {
	for _, o := range c.inOrder(func(t osmfile.Tags) bool { return isPlace(t) || shopThatSells(t) != "" && !isPump(t) }) {
		st, ok := newStation(s.Line, o, s.Options.Corridor)
		if !ok || !s.far(st) || s.besidePump(st) {
			continue
		}
		s.Asks = append(s.Asks, st.ask(near))
	}
	slices.SortStableFunc(s.Asks, byPlace)
}

// between finds the stretches without a counted pump: the longest, and all that are
// longer than the gap.
func (s *Survey) between() {
	line, opt := s.Line, s.Options
	at := []route.Metres{0, line.Length()}
	for _, p := range s.Pumps {
		if p.NoPetrol() {
			continue
		}
		for _, passage := range line.Passages(p.Stop.At, opt.reach()) {
			at = append(at, passage.At)
		}
	}
	slices.Sort(at)
	for i := 1; i < len(at); i++ {
		l := lack(line, roads.Span{From: at[i-1], To: at[i]})
		if l.Length() > opt.Gap {
			s.Long = append(s.Long, l)
		}
		if l.Length() > s.Longest.Length() {
			s.Longest = l
		}
	}
}

// far tells whether the line passes a place on a stretch without a pump: where it comes
// closest, not where it only comes near.
func (s *Survey) far(st *station) bool {
	return slices.ContainsFunc(s.Line.Passages(st.at, s.Options.Corridor), func(p route.Passage) bool {
		return slices.ContainsFunc(s.Long, func(l Lack) bool { return l.From <= p.At && p.At <= l.To })
	})
}

// besidePump tells whether a place has a pump: nobody asks there.
func (s *Survey) besidePump(st *station) bool {
	return slices.ContainsFunc(s.Pumps, func(p Pump) bool {
		return !p.NoPetrol() && route.Distance(p.Stop.At, st.at) < pumpBeside
	})
}

// pumpBeside is how near a pump has to be for that.
const pumpBeside route.Metres = 2000

// ask makes a stop of a place to ask at.
func (s *station) ask(near settlements) Pump {
	p := Pump{Ref: s.ref, Along: s.along, Km: s.km, Off: s.off}
	p.Stop = stop.Stop{Name: nameOf(s.tags), At: rounded(s.at), Standing: stop.Hearsay,
		Phone: oneLine(s.tags.Find("phone"))}
	p.AskAt = s.tags.Find("place")
	if !isPlace(s.tags) {
		kind := shopThatSells(s.tags)
		p.AskAt = "shop=" + kind
		if p.Name == "" {
			p.Name = fmt.Sprintf("%s shop (%s)", strings.ReplaceAll(kind, "_", " "), near.where(s.at, s.km))
		}
	}
	return p
}
