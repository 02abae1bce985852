// Package sun tells day from dark: how high the sun stands at an instant, and when it
// rises and sets at a place on a day.
//
// Start with [At] for an instant, [On] for a day, [Next] for the next time that the sun
// rises or sets.
//
// The idea that surprises: nothing is solved for the hour angle. The altitude is a function
// of the instant, and a rise is where it passes a threshold; so polar days, days on which
// the sun only sets, and the poles themselves need no case of their own.
//
// # Accuracy
//
// Within one minute of 240 rows of the Naval Observatory, ordinary and polar, which are
// given to the minute; the tests log by how much. Meant for 1900 to 2100.
//
// # Limits
//
// The horizon is flat and at the height of the place: behind a mountain the sun sets
// earlier, on one it sets later. Refraction is that of a mean air, as almanacs have it.
//
// # Sources
//
//	[1] NOAA Global Monitoring Laboratory, "Solar Calculation Details" and the
//	    spreadsheet NOAA_Solar_Calculations_day: the formulas, after [2].
//	[2] Jean Meeus, Astronomical Algorithms, 2nd edition 1998, chapters 25 (the sun at
//	    lower accuracy) and 28 (equation of time).
//	[3] US Naval Observatory, "Rise, Set, and Twilight Definitions": the centre of the
//	    sun 50' under the horizon, civil twilight to 6° under it.
package sun
