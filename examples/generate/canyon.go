package main

import "github.com/paulmach/orb"

// canyon is five days in dry mountains: a line drawn on a map, without heights,
// with its stops as waypoints, pumps by AKI and a bike in US units.
//
// What it is there to show: a need in RON where pumps give AKI, a pump that
// sells only 85 (Bellows Gap), two stops in one place (Tin Kettle), a leg that
// eats into the reserve (Windlass to Slate Cradle), a hearsay pump in the middle
// of it (Dry Lantern).
var canyon = scenario{
	name:       "canyon",
	title:      "Five Tanks loop, five days in an invented country",
	about:      "An invented country: no road, place or pump in this file exists.",
	seed:       40,
	within:     25,
	stopsInGPX: true,
	land: land{
		middle: orb.Point{-111.3, 39.2}, base: 1300, relief: 1700, wave: 36e3,
	},
	towns: []town{
		{name: "Cinder Ford", x: -111, y: -60},
		{name: "Bellows Gap", x: -91, y: 19},
		{name: "Tin Kettle", x: -75, y: 75, night: true},
		{name: "Ocher Bend", x: 15, y: 96},
		{name: "Windlass", x: 96, y: 70, night: true},
		{name: "Dry Lantern", x: 125, y: -15},
		{name: "Slate Cradle", x: 60, y: -75, night: true},
		{name: "Hobnail", x: -24, y: -106, night: true},
		{name: "Cinder Ford", x: -111, y: -60, night: true},
	},
	ground: []ground{
		{place{town: "Cinder Ford"}, "paved", ""},
		{place{town: "Cinder Ford", past: 26}, "packed-gravel", "county road"},
		{place{town: "Bellows Gap", past: -38}, "loose-gravel", ""},
		{place{town: "Bellows Gap", past: -9}, "rocky", "the gap"},
		{place{town: "Bellows Gap", past: -1}, "dirt", ""},
		{place{town: "Tin Kettle", past: -19}, "paved", ""},
		{place{town: "Tin Kettle", past: 6}, "packed-gravel", ""},
		{place{town: "Ocher Bend", past: -44}, "dirt", ""},
		{place{town: "Ocher Bend", past: -12}, "packed-gravel", ""},
		{place{town: "Ocher Bend", past: 33}, "sand", "the wash"},
		{place{town: "Ocher Bend", past: 41}, "packed-gravel", ""},
		{place{town: "Windlass", past: -15}, "paved", ""},
		{place{town: "Windlass", past: 22}, "packed-gravel", ""},
		{place{town: "Dry Lantern", past: -12}, "dirt", ""},
		{place{town: "Dry Lantern", past: 31}, "packed-gravel", ""},
		{place{town: "Slate Cradle", past: -10}, "paved", ""},
		{place{town: "Slate Cradle", past: 14}, "loose-gravel", ""},
		{place{town: "Slate Cradle", past: 50}, "packed-gravel", ""},
		{place{town: "Hobnail", past: 4}, "dirt", ""},
		{place{town: "Hobnail", past: 48}, "rocky", "ledges"},
		{place{town: "Hobnail", past: 57}, "packed-gravel", ""},
		{place{town: "Hobnail", past: 118}, "paved", ""},
	},
	stops: canyonStops,
	sights: []sight{
		{"Rim camp", "campsite", place{town: "Dry Lantern", past: 8, left: 120}},
		{"Five Tanks overlook", "viewpoint", place{town: "Ocher Bend", past: -30, left: -60}},
	},
	bike: canyonBike,
}

var canyonStops = []fuelStop{
	{
		name: "Cinder Ford", at: place{town: "Cinder Ford", past: 0.1, left: -15},
		grades: "85 AKI; 87 AKI; 91 AKI", hours: "24/7", pay: "card",
		price:    "3.69 USD/USgal; 3.89 USD/USgal; 4.29 USD/USgal",
		standing: "seen", confirmed: "2026-04-26", phone: "+999 555 0160",
	},
	{
		name: "Bellows Gap Store", at: place{town: "Bellows Gap", past: 0.3, left: 40},
		grades: "85 AKI", hours: "Mo-Sa 08:00-18:00", pay: "cash",
		price:    "4.79 USD/USgal",
		standing: "phoned", confirmed: "2026-05-09", phone: "+999 555 0163",
		note: "one pump, ring the bell",
	},
	{
		name: "Tin Kettle Landing", at: place{town: "Tin Kettle", past: -0.8, left: 30},
		grades: "87 AKI", hours: "Mo-Su 06:00-22:00", pay: "card", standing: "map",
	},
	{
		name: "Tin Kettle", at: place{town: "Tin Kettle", past: 0.9, left: -70},
		grades: "85 AKI; 87 AKI; 91 AKI", hours: "Mo-Su 06:00-21:00", pay: "cash, card",
		price:    "3.99 USD/USgal; 4.19 USD/USgal; 4.59 USD/USgal",
		standing: "seen", confirmed: "2025-10-04", phone: "+999 555 0166",
	},
	{
		name: "Ocher Bend", at: place{town: "Ocher Bend", past: 0.2, left: 900},
		grades: "85 AKI; 91 AKI", hours: "Mo-Fr 07:00-19:00; Sa,Su 08:00-17:00", pay: "cash, card",
		price:    "4.09 USD/USgal; 4.69 USD/USgal",
		standing: "phoned", confirmed: "2026-05-09", phone: "+999 555 0171",
	},
	{
		name: "Windlass", at: place{town: "Windlass", past: -0.5, left: 25},
		grades: "87 AKI; 91 AKI", hours: "24/7", pay: "card",
		price:    "3.95 USD/USgal; 4.35 USD/USgal",
		standing: "seen", confirmed: "2025-10-05", phone: "+999 555 0174",
		note: "unmanned at night",
	},
	{
		name: "Dry Lantern", at: place{town: "Dry Lantern", past: 1, left: -200},
		grades: "85 AKI", standing: "hearsay", note: "a rancher may sell a jug",
	},
	{
		name: "Slate Cradle", at: place{town: "Slate Cradle", past: -0.2, left: 50},
		grades: "85 AKI; 87 AKI; 91 AKI", hours: "Mo-Su 07:00-20:00", pay: "cash, card",
		price:    "3.89 USD/USgal; 4.09 USD/USgal; 4.49 USD/USgal",
		standing: "phoned", confirmed: "2026-05-10", phone: "+999 555 0178",
	},
	{
		name: "Hobnail", at: place{town: "Hobnail", past: 0.1, left: -35},
		grades: "85 AKI; 87 AKI", hours: "Mo-Sa 07:00-19:00", pay: "cash, card", standing: "map",
		confirmed: "2025-06-21",
	},
}

const canyonBike = `# A bike of the same size in the units of the pumps there. The handbook asks for
# 95 RON; the pumps say AKI. The consumption is from three tanks of the rider's own.
name = "400 twin-sport"
tank = "3.7 USgal"
consumption = "52 mpg US"
consumption_tanks = 3
needs = "95 RON"
measured_on = "E10"
ridden_on = "E10"
`
