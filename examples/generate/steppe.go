package main

import "github.com/paulmach/orb"

// steppe is nine days on a high steppe: recorded tracks with heights, and pumps
// by RON, most of which sell less than the engine asks for.
//
// What it is there to show: a leg that no full tank covers (Yarsat Bridge to
// Ershal Mine), a grade that is not to be had for days (Tomurga), a stop off the
// road that the loop passes twice and that is alone in its country (Kembil), a
// pump known from hearsay (Khoruv), one whose grades nobody wrote down (Doverak),
// one that sells no petrol (Sulmeg), one too far from the road (Belku Quarry).
// The country pays in crowns.
var steppe = scenario{
	name:  "steppe",
	title: "Narsu steppe loop, nine days in an invented country",
	about: "An invented country: no road, place or pump in this file exists.",
	seed:  47,
	every: 3,
	land: land{
		middle: orb.Point{96.5, 47}, base: 1250, relief: 1250, wave: 42e3,
	},
	towns: []town{
		{name: "Ordvel", x: -206, y: -21},
		{name: "Belku Pass", x: -175, y: 31},
		{name: "Narsuk", x: -134, y: 74, night: true},
		{name: "Tomurga", x: -46, y: 118, night: true},
		{name: "Yarsat Bridge", x: 39, y: 101, night: true},
		{name: "Khoruv", x: 116, y: 117},
		{name: "Ershal", x: 187, y: 50, night: true},
		{name: "Sulmeg", x: 175, y: -43},
		{name: "Doverak", x: 105, y: -96, night: true},
		{name: "Kembil Fork", x: 18, y: -80},
		{name: "Urtaz Lake", x: 25, y: -8, night: true},
		{name: "Mazgul", x: -27, y: -31},
		{name: "Kembil Fork", x: 18, y: -80, night: true},
		{name: "Zhalmir", x: -80, y: -115, night: true},
		{name: "Toldok", x: -148, y: -87},
		{name: "Ordvel", x: -206, y: -21, night: true},
	},
	ground: []ground{
		{place{town: "Ordvel"}, "paved", "town road"},
		{place{town: "Ordvel", past: 31}, "packed-gravel", ""},
		{place{town: "Belku Pass", past: -6}, "rocky", "the pass"},
		{place{town: "Belku Pass", past: 5}, "dirt", ""},
		{place{town: "Narsuk", past: -3}, "paved", ""},
		{place{town: "Narsuk", past: 4}, "packed-gravel", "graded"},
		{place{town: "Narsuk", past: 58}, "dirt", "two tracks or ten"},
		{place{town: "Tomurga", past: 1}, "loose-gravel", ""},
		{place{town: "Tomurga", past: 66}, "packed-gravel", ""},
		{place{town: "Yarsat Bridge", past: 60}, "dirt", ""},
		{place{town: "Khoruv", past: -31}, "soft", "river flats"},
		{place{town: "Khoruv", past: -13}, "dirt", ""},
		{place{town: "Khoruv", past: 47}, "sand", "the dune belt"},
		{place{town: "Khoruv", past: 55}, "dirt", ""},
		{place{town: "Ershal"}, "packed-gravel", "mine road"},
		{place{town: "Sulmeg", past: -22}, "dirt", ""},
		{place{town: "Sulmeg", past: 38}, "loose-gravel", ""},
		{place{town: "Doverak", past: -9}, "paved", ""},
		{place{town: "Doverak", past: 12}, "packed-gravel", ""},
		{place{town: "Kembil Fork"}, "packed-gravel", ""},
		{place{town: "Urtaz Lake", past: -24}, "dirt", ""},
		{place{town: "Urtaz Lake", past: 3}, "soft", "lake shore"},
		{place{town: "Urtaz Lake", past: 15}, "dirt", ""},
		{place{town: "Mazgul", past: 9}, "packed-gravel", ""},
		{place{town: "Zhalmir", past: -71}, "loose-gravel", ""},
		{place{town: "Zhalmir", past: -2}, "paved", ""},
		{place{town: "Zhalmir", past: 9}, "packed-gravel", ""},
		{place{town: "Toldok", past: -17}, "dirt", ""},
		{place{town: "Toldok", past: 40}, "packed-gravel", ""},
		{place{town: "Toldok", past: 77}, "paved", ""},
	},
	stops: steppeStops,
	chart: &steppeChart,
	bike:  steppeBike,
}

var steppeStops = []fuelStop{
	{
		name: "Ordvel", at: place{town: "Ordvel", past: 0.1, left: 20},
		grades: "95 RON; 92 RON; 80 RON", hours: "24/7", pay: "cash, card",
		price:    "12.40 crown/L; 11.60 crown/L; 9.90 crown/L",
		standing: "seen", confirmed: "2026-05-30", phone: "+999 555 0101",
		note: "two pumps, the right one for 95",
	},
	{
		name: "Belku Quarry", at: place{town: "Belku Pass", past: 3, left: 5200},
		grades: "92 RON", standing: "map", note: "up a side valley",
	},
	{
		name: "Narsuk", at: place{town: "Narsuk", past: -0.4, left: -35},
		grades: "95 RON; 92 RON; 80 RON", hours: "Mo-Sa 08:00-22:00; Su 10:00-18:00", pay: "cash, card",
		price:    "12.60 crown/L; 11.80 crown/L; 10.10 crown/L",
		standing: "phoned", confirmed: "2026-06-03", phone: "+999 555 0104",
	},
	{
		name: "Narsu Camp", at: place{town: "Narsuk", past: 71, left: 180},
		grades: "80 RON", hours: "Mo-Su 09:00-20:00", pay: "cash", standing: "map",
		confirmed: "2025-08-14", note: "tank on a lorry bed beside the bridge",
	},
	{
		name: "Tomurga", at: place{town: "Tomurga", past: 0.2, left: 25},
		grades: "80 RON", hours: "Mo-Su 08:00-21:00", pay: "cash",
		price:    "10.80 crown/L",
		standing: "seen", confirmed: "2025-09-02", phone: "+999 555 0112",
		note: "92 sold out by midsummer",
	},
	{
		name: "Yarsat Bridge", at: place{town: "Yarsat Bridge", past: -0.3, left: 60},
		grades: "92 RON; 80 RON", hours: "Mo-Su 07:00-23:00", pay: "cash",
		price:    "12.20 crown/L; 10.50 crown/L",
		standing: "phoned", confirmed: "2026-06-05", phone: "+999 555 0117",
		note: "ask at the tea house if nobody comes",
	},
	{
		name: "Yarsat Depot", at: place{town: "Yarsat Bridge", past: 1.6, left: -240},
		grades: "80 RON", hours: "Mo-Fr 09:00-17:00", pay: "cash", standing: "map",
	},
	{
		name: "Khoruv", at: place{town: "Khoruv", past: 0.5, left: 90},
		grades: "80 RON", pay: "cash", standing: "hearsay", confirmed: "2025-07-20",
		note: "a drum behind the school, a lorry driver says",
	},
	{
		name: "Ershal Mine", at: place{town: "Ershal", past: 4, left: -150},
		grades: "95 RON; 92 RON", hours: "Mo-Sa 07:00-19:00", pay: "card",
		price:    "13.50 crown/L; 12.90 crown/L",
		standing: "seen", confirmed: "2026-05-18", phone: "+999 555 0123",
		note: "at the gate; foreign cards work",
	},
	{
		name: "Ershal South", at: place{town: "Ershal", past: 55, left: 40},
		grades: "AI-92", hours: "Mo-Su 08:00-20:00", pay: "cash",
		price:    "12.30 crown/L",
		standing: "phoned", confirmed: "2026-06-02", phone: "+999 555 0126",
	},
	{
		name: "Sulmeg Tractor Yard", at: place{town: "Sulmeg", past: 0.3, left: -60},
		grades: "diesel", hours: "Mo-Fr 08:00-17:00", pay: "cash", standing: "seen",
		confirmed: "2026-05-19",
	},
	{
		name: "Sulmeg", at: place{town: "Sulmeg", past: 5.5, left: 45},
		grades: "92 RON; 80 RON", hours: "Mo-Su 08:00-22:00", pay: "cash",
		price:    "12 crown/L; 10.20 crown/L",
		standing: "seen", confirmed: "2026-05-19", phone: "+999 555 0131",
	},
	{
		name: "Doverak", at: place{town: "Doverak", past: 0.6, left: 30},
		hours: "Mo-Sa 08:00-20:00", pay: "cash", standing: "map",
		note: "on the map without grades",
	},
	{
		name: "Kembil", at: place{town: "Kembil Fork", left: 1500},
		grades: "95 RON; 92 RON", hours: "Mo-Su 08:00-12:00,14:00-20:00", pay: "cash",
		price:    "13 crown/L; 12.20 crown/L",
		standing: "phoned", confirmed: "2026-06-06", phone: "+999 555 0138",
		note: "down in the village; the only pump for 70 km around",
	},
	{
		name: "Mazgul Herders", at: place{town: "Mazgul", past: -2, left: 400},
		standing: "hearsay", note: "bottles in a bad year",
	},
	{
		name: "Red Well", at: place{town: "Zhalmir", past: -58, left: 110},
		grades: "80 RON", hours: "Mo-Su 09:00-18:00", pay: "cash", standing: "map",
		confirmed: "2025-06-11",
	},
	{
		name: "Zhalmir", at: place{town: "Zhalmir", past: 0.4, left: -20},
		grades: "AI-92; AI-80", hours: "24/7", pay: "cash, card",
		price:    "12.10 crown/L; 10.40 crown/L",
		standing: "seen", confirmed: "2025-09-28", phone: "+999 555 0142",
	},
	{
		name: "Toldok", at: place{town: "Toldok", past: -0.2, left: 55},
		grades: "95 RON; 92 RON; 80 RON", hours: "Mo-Su 07:00-22:00", pay: "cash, card",
		price:    "12.50 crown/L; 11.70 crown/L; 10 crown/L",
		standing: "phoned", confirmed: "2026-06-06", phone: "+999 555 0149",
	},
}

const steppeBike = `# A middle-sized single with luggage. The figures are measured: two tanks full on
# the road, by the bike's own odometer, which shows 103 where 100 are ridden.
name = "450 single, loaded"
tank = "14 L"
unusable = "0.5 L"
consumption = "4.5 L/100km"
consumption_tanks = 2
needs = "95 RON"
loaded_mass = "260 kg"
odometer = 1.03
`
