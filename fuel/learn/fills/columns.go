package fills

import (
	"lastpump/fuel"
	"lastpump/route"
	"lastpump/route/input"
)

// A unit is what a column counts in, and the words that may stand behind its numbers.
type unit struct {
	column string
	times  float64 // metres or litres
	words  []string
}

var (
	kilometres = []string{"km", "kms", "kilometres", "kilometers"}
	miles      = []string{"mi", "mile", "miles"}
)

// distances are the columns that a distance may stand in, of which a file has one.
var distances = []unit{
	{"trip_km", 1000, kilometres},
	{"trip_mi", float64(fuel.Mile), miles},
	{"odometer_km", 1000, kilometres},
	{"odometer_mi", float64(fuel.Mile), miles},
}

// isOdometer tells which of them go on from fill to fill.
func (u unit) isOdometer() bool { return u.column[0] == 'o' }

// volumes are the columns that an amount may stand in, of which a file has one.
var volumes = []unit{
	{"litres", 1, []string{"l", "litre", "litres", "liter", "liters"}},
	{"gal_us", float64(fuel.USGallon), []string{"gal", "usgal", "galus"}},
	{"gal_uk", float64(fuel.ImperialGallon), []string{"gal", "impgal", "ukgal", "galuk"}},
}

// columns of a file of fills, of which the first is needed, and other words for them in
// English, German, French and Spanish. Distances and volumes without their unit are not
// among them: it would be guessed.
var columns = append([]input.Column{
	{Name: "date", Words: []string{"day", "datum", "tag", "jour", "fecha", "dia"}},
	{Name: "trip_km", Words: []string{"km trip", "trip kilometres", "trip kilometers", "trip meter km", "tageskilometer",
		"km tageszahler", "kilometres partiels", "km parciales"}},
	{Name: "trip_mi", Words: []string{"mi trip", "trip miles", "trip meter mi"}},
	{Name: "odometer_km", Words: []string{"odo km", "km odometer", "kilometerstand", "km stand",
		"kilometrage", "kilometraje"}},
	{Name: "odometer_mi", Words: []string{"odo mi", "odo miles", "odometer miles", "mi odometer"}},
	{Name: "litres", Words: []string{"liters", "litre", "liter", "l", "volume l", "fuel l", "getankt l", "litros"}},
	{Name: "gal_us", Words: []string{"us gal", "usgal", "us gallons", "gallons us"}},
	{Name: "gal_uk", Words: []string{"uk gal", "ukgal", "uk gallons", "gallons uk", "imp gal", "imperial gallons"}},
	{Name: "event", Words: []string{"kind", "fill", "art", "ereignis", "evenement", "evento"}},
	{Name: "grade", Words: []string{"octane", "fuel", "sorte", "kraftstoff", "carburant", "octanaje", "gasolina"}},
	{Name: "from_km", Words: []string{"from", "km from", "von km", "de km", "desde km"}},
	{Name: "to_km", Words: []string{"to", "km to", "bis km", "a km", "hasta km"}},
	{Name: "note", Words: []string{"notes", "comment", "comments", "remark", "remarks", "notiz", "bemerkung",
		"remarque", "nota", "notas"}},
}, groundColumns()...)

// groundColumns are named after the grounds.
func groundColumns() (out []input.Column) {
	for _, g := range route.AllGrounds() {
		out = append(out, input.Column{Name: string(g)})
	}
	return out
}

// An Event is what a row tells of.
type Event string

// The events. A row that does not say is [Full].
const (
	Full    Event = "full"    // to the brim
	Part    Event = "part"    // not to the brim
	Missed  Event = "missed"  // a fill of which not all is known
	Lamp    Event = "lamp"    // the lamp came on
	Reserve Event = "reserve" // the tap had to be turned
	Dry     Event = "dry"     // it ran dry
)

// Events gives all of them.
func Events() []Event { return []Event{Full, Part, Missed, Lamp, Reserve, Dry} }

// fills tells whether something went in, and the trip was zeroed.
func (e Event) fills() bool { return e == Full || e == Part || e == Missed }

// sameEvent are other words for events.
var sameEvent = map[string]Event{
	"": Full, "brim": Full, "filled": Full, "fill": Full, "fill-up": Full, "fillup": Full, "full tank": Full, "voll": Full,
	"partial": Part, "part-fill": Part, "part fill": Part, "teil": Part,
	"missed fill": Missed, "light": Lamp, "fuel light": Lamp, "warning light": Lamp,
	"tap": Reserve, "on reserve": Reserve, "ran dry": Dry, "empty": Dry,
}

// service are words for rows that have nothing to do with fuel.
var service = []string{"service", "oil", "oil change", "oil filter", "tyre", "tyres", "tire", "tires", "chain",
	"brakes", "repair", "maintenance", "inspection", "insurance", "tax", "toll", "wash", "parking", "wartung", "reparatur"}

// unknown are the ways in which people write that they do not know.
var unknown = []string{"", "na", "n/a", "?", "-", "--", "unknown", "null", "none", "nan"}
