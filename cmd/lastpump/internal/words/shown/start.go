package shown

// Start are the words of the page that begins without a ride.
type Start struct {
	Title, Lead, NoScript, Head, Files, FilesHint string
	Bike, Row, Options, Plan, Survey              string
	Keys                                          []BikeKey
	Tables                                        []TypedTable
	Fields                                        []Field
	Grounds                                       []string
}

// A BikeKey is a line of a bike file that can be typed.
type BikeKey struct {
	Key, Says      string
	Needed, Number bool
}

// A TypedTable is a list that can be typed, as the columns of its file.
type TypedTable struct {
	ID, Label, Flag, File, Columns string
	Heads                          []string
}

// StartSays are those words. What is said of a line of the bike is what the template of a bike file says.
var StartSays = Start{
	Title:    "Fuel planner",
	Lead:     "Give it the track of your ride, the pumps and your bike; it plans where to fill how much. Nothing leaves this page.",
	NoScript: "This page plans with a script. Without one, the command lastpump does the same.",
	Head:     "Your ride", Files: "Files of the ride", FilesHint: "the GPX, lists of stops and of ground, the bike file: all at once, or drop them here",
	Bike: "The bike", Row: "One more row", Options: "How careful, and when", Plan: "Plan",
	Survey: "Pumps and ground out of an extract of a map: lastpump survey. It is not in this page, as such a map asks for more memory than a page has.",
	Keys: []BikeKey{
		{Key: "tank", Says: "all that goes in, like 14 L, 3.7 USgal or 3 impgal", Needed: true},
		{Key: "consumption", Says: "on paved road, easy riding, like 4.5 L/100km, 52 mpg US, 62 mpg UK or 22 km/L", Needed: true},
		{Key: "needs", Says: "what the maker's manual asks for, like 95 RON or 91 AKI", Needed: true},
		{Key: "name", Says: "what you call it"},
		{Key: "unusable", Says: "what stays in the tank when the engine stops; 0.5 L"},
		{Key: "loaded_mass", Says: "bike, rider and luggage; 260 kg"},
		{Key: "measured_on", Says: "the petrol the consumption was measured on; E10"},
		{Key: "ridden_on", Says: "the petrol on the way; E10"},
		{Key: "odometer", Says: "1.03: the bike shows 103 where 100 are ridden", Number: true},
		{Key: "can", Says: "spare fuel you can carry, at the mark on the can, like 3 L"},
	},
	Tables: []TypedTable{
		{"type-stops", "Type stops", "stops", "typed-stops.csv", "name,lat,lon,grades,hours,standing,phone",
			[]string{"name", "lat", "lon", "grades", "hours", "standing", "phone"}},
		{"type-ground", "Type ground", "ground", "typed-ground.csv", "from_km,to_km,ground", []string{"from_km", "to_km", "ground"}},
	},
	Fields: []Field{
		{ID: "everywhere", Flag: "ground", Label: "Ground where no list says", Hint: "like dirt or packed-gravel"},
		{ID: "reserve", Flag: "reserve", Label: "Reserve", Hint: "15%,30km where nothing is said"},
		{ID: "can", Flag: "can", Label: "Cans to carry", Hint: "auto, none, or like 5L or 2x3L"},
		{ID: "thirst", Flag: "thirst", Label: "Thirst", Hint: "times the consumption, like 1.15"},
		{ID: "units", Flag: "units", Label: "Units", Hint: "metric, us or uk"},
		{ID: "date", Flag: "date", Label: "The day you leave", Hint: "like 2026-07-04; empty: today"},
		{ID: "depart", Flag: "depart", Label: "Leaving in the morning", Hint: "like 08:00: then the hours of pumps are checked"},
		{ID: "timezone", Flag: "timezone", Label: "Time zone of the ride", Hint: "this device's, unless you say another"},
	},
}
