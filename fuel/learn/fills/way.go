package fills

import (
	"math"

	"lastpump/fuel"
	"lastpump/route"
)

// A way is what was ridden since a brim, as the bike drinks it.
type way struct {
	needs  fuel.Needs
	known  bool // how far it was
	ground Ground
	remark RemarkKind
	ratio  float64
}

// How far the kilometres of a tank may be off those of its trip: our estimate. Up to OffSaid nothing is
// said of it, for no two trip meters and tracks agree.
const (
	OffSaid   = 0.10
	offRefuse = 0.25
)

// way gives what the rows since a brim take. Its ground is known where each row has one;
// the kilometres are then scaled to those ridden, the climb is not.
func (m *maker) way(rows []Row, shown route.Metres, known bool) way {
	ridden := shown / route.Metres(m.bike.Odometer)
	if needs, along, ok := m.spans(rows); ok {
		if !known {
			return way{needs: needs, known: along > 0, ground: OfLine}
		}
		w := way{known: true, ground: OfLine, ratio: float64(ridden / along)}
		off := math.Abs(w.ratio - 1)
		if w.needs = needs.Measured(w.ratio); off <= OffSaid {
			return w
		}
		if w.remark = SpanOff; off <= offRefuse {
			return w
		}
		return m.paved(ridden, GroundOff, w.ratio)
	}
	if needs, on, ok := m.columns(rows); ok && known {
		ratio := float64(shown / on)
		if math.Abs(ratio-1) > OffSaid {
			return m.paved(ridden, GroundOff, ratio)
		}
		return way{needs: needs.Measured(ratio), known: true, ground: OfColumns, ratio: ratio}
	}
	if !known {
		return way{}
	}
	return m.paved(ridden, "", 0)
}

// paved gives a way of which no ground is known.
func (m *maker) paved(ridden route.Metres, remark RemarkKind, ratio float64) way {
	return way{needs: m.bike.FlatNeeds(route.Paved, fuel.Distances{Low: ridden, Likely: ridden, High: ridden}),
		known: true, remark: remark, ratio: ratio}
}

// spans adds up what the line takes over the spans of rows, with half the detours at the
// ends and whole ones within; ok is false where one that should has none. Of a lamp or a tap
// the span may be left out.
func (m *maker) spans(rows []Row) (needs fuel.Needs, ridden route.Metres, ok bool) {
	if m.ride == nil {
		return needs, 0, false
	}
	for i, r := range rows {
		if !r.HasSpan && (r.Event.fills() || i == len(rows)-1) {
			return needs, 0, false
		}
		if !r.HasSpan || !r.Event.fills() && i < len(rows)-1 {
			continue
		}
		end := m.ride.Course.Length()
		from, to := min(r.From, end), min(r.To, end)
		ahead, _ := m.ride.Course.Needs(from, to)
		needs = needs.Plus(ahead)
		ridden += m.ride.Course.Between(from, to).Ridden
		for _, at := range []route.Metres{from, to} {
			if m.ride.Half == nil || at == to && !r.Event.fills() {
				continue
			}
			half := m.ride.Half(at)
			needs, ridden = needs.Plus(m.ride.Course.DetourNeeds(at, half)), ridden+half
		}
	}
	return needs, ridden, ridden > 0
}

// columns adds up the kilometres on each ground of rows.
func (m *maker) columns(rows []Row) (needs fuel.Needs, shown route.Metres, ok bool) {
	for i, r := range rows {
		if !r.HasGrounds && (r.Event.fills() || i == len(rows)-1) {
			return needs, 0, false
		}
		if !r.Event.fills() && i < len(rows)-1 {
			continue
		}
		for k, g := range fuel.WeighedGrounds() {
			d := r.Shown[k] / route.Metres(m.bike.Odometer)
			needs = needs.Plus(m.bike.FlatNeeds(g, fuel.Distances{Low: d, Likely: d, High: d}))
			shown += r.Shown[k]
		}
	}
	return needs, shown, shown > 0
}
