package osmmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lastpump/fuel/stop"
	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
)

// askedAt are places where somebody may sell petrol by the can: common practice, no
// source.
var askedAt = []string{"city", "town", "village", "hamlet"}

// sellingShops are shops that often sell petrol where there is no pump, or know who
// does: common practice, no source.
var sellingShops = []string{"general", "convenience", "country_store", "kiosk", "supermarket", "hardware", "agrarian", "farm",
	"trade", "car_repair", "motorcycle", "motorcycle_repair", "car_parts", "gas", "fuel"}

func isPlace(t osm.Tags) bool {
	return slices.Contains(askedAt, t.Find("place")) && nameOf(t) != ""
}

// shopThatSells gives the kind of shop, or "".
func shopThatSells(t osm.Tags) string {
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

func (h *haul) settlements() (out settlements) {
	for _, o := range h.inOrder(isPlace) {
		if p, ok := o.middle(); ok {
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
		if math.Abs(t.at[1]-p[1])*metresPerDegree > float64(least) {
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
	return cmp.Or(s.name(p), fmt.Sprintf("km %.0f", km.Kilometres()))
}

// findAsks adds places to ask at where it is far from one pump to the next.
func (s *Survey) findAsks(line *route.Line, h *haul, near settlements, opt Options) {
	for _, o := range h.inOrder(func(t osm.Tags) bool { return isPlace(t) || shopThatSells(t) != "" && !isPump(t) }) {
		st, ok := newStation(line, o, opt.Corridor)
		if !ok || !s.far(line, st, opt.Corridor) || s.besidePump(st) {
			continue
		}
		s.Asks = append(s.Asks, st.ask(near))
	}
	slices.SortStableFunc(s.Asks, byPlace)
}

// between finds the stretches without a counted pump: the longest, and all that are
// longer than the gap.
func (s *Survey) between(line *route.Line, opt Options) {
	at := []route.Metres{0, line.Length()}
	for _, p := range s.Pumps {
		if p.NoPetrol() {
			continue
		}
		for _, passage := range line.Passages(p.Stop.At, min(opt.Counted, opt.Corridor)) {
			at = append(at, passage.At)
		}
	}
	slices.Sort(at)
	for i := 1; i < len(at); i++ {
		stretch := Stretch{at[i-1], at[i]}
		if stretch.Length() > opt.Gap {
			s.Long = append(s.Long, stretch)
		}
		if stretch.Length() > s.Longest.Length() {
			s.Longest = stretch
		}
	}
}

// far tells whether the line passes a place on a stretch without a pump: where it comes
// closest, not where it only comes near.
func (s *Survey) far(line *route.Line, st *station, corridor route.Metres) bool {
	return slices.ContainsFunc(line.Passages(st.at, corridor), func(p route.Passage) bool {
		return slices.ContainsFunc(s.Long, func(l Stretch) bool { return l.From <= p.At && p.At <= l.To })
	})
}

// besidePump tells whether a place has a pump: nobody asks there.
func (s *Survey) besidePump(st *station) bool {
	return slices.ContainsFunc(s.Pumps, func(p Pump) bool { return !p.NoPetrol() && route.Distance(p.Stop.At, st.at) < pumpBeside })
}

// pumpBeside is how near a pump has to be for that.
const pumpBeside route.Metres = 2000

// ask makes a stop of a place to ask at.
func (s *station) ask(near settlements) Pump {
	p := Pump{Ref: s.ref, Along: s.along, Km: s.km, Off: s.off}
	p.Stop = stop.Stop{Name: nameOf(s.tags), At: rounded(s.at), Standing: stop.Hearsay,
		Phone: oneLine(s.tags.Find("phone"))}
	what := s.tags.Find("place")
	if !isPlace(s.tags) {
		kind := shopThatSells(s.tags)
		what = "shop=" + kind
		if p.Name == "" {
			p.Name = fmt.Sprintf("%s shop (%s)", strings.ReplaceAll(kind, "_", " "), near.where(s.at, s.km))
		}
	}
	p.Note = "ask here: " + what
	return p
}
