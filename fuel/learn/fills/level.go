package fills

import (
	"lastpump/fuel"
	"lastpump/route"
)

// A Level is a row that tells what is in the tank.
type Level struct {
	Event  Event
	At     route.Metres // along the line; meaningless unless HasAt
	HasAt  bool
	Litres fuel.Litres // usable ones that are in it there, or of a [Part] that went in; meaningless unless Known
	Known  bool        // false where a fill was not written down, or what went in
}

// Levels gives the rows that tell what is in the tank of a bike, in their order: a full tank, what
// was poured into another or into one that ran dry, and where the lamp came on or the tap was turned
// of a bike that has one.
func (l *Log) Levels(b fuel.Bike) (out []Level) {
	for _, r := range l.Rows {
		v := Level{Event: r.Event, At: r.To, HasAt: r.HasSpan, Litres: r.Litres, Known: r.HasLitres}
		switch r.Event {
		case Full:
			v.Litres, v.Known = b.Usable(), true
		case Lamp:
			v.Litres, v.Known = b.LampAt, true
		case Reserve:
			v.Litres, v.Known = b.ReserveTap, true
		case Missed:
			v.Known = false
		}
		if (r.Event == Lamp || r.Event == Reserve) && v.Litres == 0 {
			continue // the bike file does not say what is left then
		}
		out = append(out, v)
	}
	return out
}
