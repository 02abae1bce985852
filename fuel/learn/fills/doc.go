// Package fills reads the file in which a rider writes down his fills, and makes of it the
// tanks that fuel/learn learns from.
//
// Start with [Read]; [Log.Tanks] lays its rows beside a bike and, where the log tells on
// which kilometres of a line each tank was ridden, beside that line.
//
// The file is CSV, written by hand, by a spreadsheet or on a phone:
//
//	date,trip_km,litres,event,grade,from_km,to_km,note
//	2026-07-01,,,full,95 RON,,,brim at the start
//	2026-07-01,146.9,8.4,full,95 RON,0,142.4,
//	2026-07-02,74.0,3.0,part,80 RON,142.4,212,
//
// The idea that surprises: a tank is measured from brim to brim. A part-fill in between is
// litres and kilometres that join the next brim; a fill that was not written down spoils
// both tanks that it ends and begins, and they are left out as one.
//
// # Limits
//
// A trip is zeroed at every fill, and at nothing else: not where the tank ran dry or the
// lamp came on. Litres written in a row "dry" are what had been poured in since the last
// fill. A log that can be read may still be wrong in ways that only its rider knows.
package fills
