package plan_test

import (
	"lastpump/testdata/kit"
	"lastpump/testdata/kit/drawn"

	"pgregory.net/rapid"
)

// The rides of these tests are those of the kit, under short names.
var (
	at, straight, lineOf, lineThrough = drawn.At, drawn.Straight, drawn.LineOf, drawn.LineThrough
	lineWith, stretched, newPen       = drawn.LineWith, drawn.Stretched, drawn.NewPen
	square, eight, narrower           = drawn.Square, drawn.Eight, drawn.Narrower
	rising, track, section            = drawn.Rising, drawn.Hills, drawn.Section
	pump, ron, ride, make1, makeRide  = drawn.Pump, drawn.RON, drawn.Ride, drawn.Cured, drawn.Plan
	changed, changedStop, keep        = drawn.Changed, drawn.ChangedStop, drawn.Keep
	ownCan, from, used                = drawn.OwnCan, drawn.From, drawn.Used
	drawRide, drawLoop                = drawn.AnyRide, drawn.AnyLoop
	traceOf, sketchOf, casesOf        = drawn.Trace, drawn.Sketch, drawn.Cases
	key, visit, warningOf, kinds      = drawn.Key, drawn.Visit, drawn.WarningOf, drawn.Kinds
	near, border                      = drawn.Near, kit.Border
	standing, hearsay                 = drawn.Standing, drawn.Hearsay
)

var lowKm, mostKm = drawn.LowKm, drawn.MostKm

const (
	likelyKm, highKm          = drawn.LikelyKm, drawn.HighKm
	sandKm, climbL, perDegree = drawn.SandKm, drawn.ClimbL, drawn.PerDegree
)

func wantNear[T ~float64](t rapid.TB, what string, got T, want float64) {
	t.Helper()
	drawn.WantNear(t, what, got, want)
}
