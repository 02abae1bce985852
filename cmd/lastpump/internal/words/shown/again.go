package shown

// A Field is one thing that a rider may say on the page: what the flag of its name takes.
type Field struct {
	ID, Flag    string
	Label, Hint string
	Many        bool   // one a line
	Tick        bool   // it is said or not
	More        bool   // not of every plan on the way
	Pick        string // of the list below it
	Here        string // of the button that asks the device
}

// Again are the words of the planner in a page.
type Again struct {
	Head, Lead, More, Plan, Undo, Save string
	Bike, BikeHint                     string
	Fields                             []Field
	Saves                              []Saved
}

// A Saved is something that a page can write as a file.
type Saved struct{ ID, Label, File, Flag string }

// AgainSays are those words.
var AgainSays = Again{
	Head: "Plan again from here",
	Lead: "Say what is so now; all that is empty is as if it were not said. Nothing leaves this page.",
	More: "Bike, reserve, cans, start", Plan: "Plan again", Undo: "Undo", Save: "Save as files",
	Bike: "The bike", BikeHint: "as its file has it",
	Fields: []Field{
		{ID: "at", Flag: "from", Label: "Where you are", Hint: "a stop, or a kilometre of the whole line like 212km, or a latitude, longitude", Pick: "pick a stop", Here: "Where this device is"},
		{ID: "used", Flag: "used", Label: "Used up to there", Hint: "by the trip meter, like 7.5 L over 134 km"},
		{ID: "tank", Flag: "start-fuel", Label: "In the tank on arriving there", Hint: "usable, like 4L; empty: full, at a pump"},
		{ID: "can", Flag: "can-now", Label: "In the can now", Hint: "like 3 L of 95 RON"},
		{ID: "dry", Flag: "skip", Label: "Pumps that are dry or shut", Hint: "one a line", Many: true, Pick: "add a stop"},
		{ID: "told", Flag: "answer", Label: "What stops said on the phone", Hint: "one a line: Doverak: no 95 RON", Many: true},
		{ID: "now", Flag: "now", Label: "The hour where you are", Hint: "like 13:40"},
		{ID: "date", Flag: "date", Label: "The day it is", Hint: "like 2026-07-04; empty: today"},
		{ID: "since", Flag: "since-fill", Label: "Ridden since the tank was full", Hint: "in place of what is in it, like 60km", More: true},
		{ID: "reserve", Flag: "reserve", Label: "Reserve", Hint: "15%,30km where nothing is said", More: true},
		{ID: "cans", Flag: "can", Label: "Cans to carry", Hint: "auto, none, or like 5L or 2x3L", More: true},
		{ID: "thirst", Flag: "thirst", Label: "Thirst", Hint: "times the consumption, like 1.15", More: true},
		{ID: "depart", Flag: "depart", Label: "Leaving in the morning", Hint: "one a line: 08:00; 5 07:15 for the fifth day", Many: true, More: true},
		{ID: "timezone", Flag: "timezone", Label: "Time zone", Hint: "like Asia/Bishkek or +6; empty: that of each place", More: true},
		{ID: "begin", Flag: "begin-at", Label: "Begin the loop at", Hint: "a stop, or a kilometre", More: true},
		{ID: "reverse", Flag: "reverse", Label: "Ride it the other way round", Tick: true, More: true},
	},
	Saves: []Saved{
		{"page", "This page", "plan.html", "html"}, {"gpx", "GPX for the GPS", "plan.gpx", "gpx"},
		{"strip", "Strip as PDF", "strip.pdf", "strip"}, {"stops", "Stops with answers", "stops-answered.csv", "write-stops"},
	},
}

// Changes are what a page says of a plan that was made again: what stands in braces is put in there.
type Changes struct {
	Planning string            `json:"planning"`
	Failed   string            `json:"failed"`
	Now      string            `json:"now"`
	Said     string            `json:"said"`
	Unsaid   string            `json:"unsaid"`
	Answer   string            `json:"answer"`
	Fill     string            `json:"fill"`
	Pass     string            `json:"pass"`
	Same     string            `json:"same"`
	Undone   string            `json:"undone"`
	Saved    string            `json:"saved"`
	NotHere  string            `json:"notHere"`
	Bike     string            `json:"bike"`
	Unread   string            `json:"unread"`
	Where    string            `json:"where"`
	NoLoop   string            `json:"noLoop"`
	Remove   string            `json:"remove"`
	Kinds    map[string]string `json:"kinds"`
}

// WhatChanged gives the patterns.
var WhatChanged = Changes{
	Planning: "Planning …",
	Failed:   "Not planned; the page is as it was.",
	Now:      "Planned again.",
	Said:     "{label}: {value}",
	Unsaid:   "{label}: no longer said",
	Answer:   "Before: {before}",
	Fill:     "Now also filled at: {stops}",
	Pass:     "No longer filled at: {stops}",
	Same:     "Stops and the answer are as they were.",
	Undone:   "Undone: the page is as it was before.",
	Saved:    "Saved: {file}",
	NotHere:  "The device does not say where it is.",
	Bike:     "The bike was changed",
	Unread:   "{file} is no GPX, no list of stops, ground or roads, and no bike file: left out.",
	Where:    "--from: stops are ticked as done: say where you are.",
	NoLoop:   "A loop is missing: give the GPX file of the ride.",
	Remove:   "leave out",
	Kinds: map[string]string{"loop": "the ride", "stops": "stops", "ground": "ground", "bike": "bike", "roads": "ways out by road",
		"bail-outs": "help by road", "land": "what lies beside the line"},
}
