package refused_test

import "lastpump/testdata/kit/drawn"

// The rides of these tests are those of the kit, under short names.
var (
	at, straight, lineThrough = drawn.At, drawn.Straight, drawn.LineThrough
	lineOf, newPen            = drawn.LineOf, drawn.NewPen
	pump, ride, from, used    = drawn.Pump, drawn.Ride, drawn.From, drawn.Used
)
