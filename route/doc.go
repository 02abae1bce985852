// Package route holds a line on the ground: its points, the distance along it,
// how much longer the ride is than the line, the climb, the ground under it, and
// which places lie near it.
//
// Start with [NewLine], which joins the tracks of a file into a [Line];
// [Line.Runs] then cuts it into stretches of one ground and one slope, and
// [Line.Passages] tells when it passes a place.
//
// The idea that surprises: the line in a file is not the ride. A drawn or thinned
// line cuts every bend and is short by a few per cent to a fifth, and how much can
// be told from the line itself, see [Stretch]. Kilometres along the line are
// those of the file all the same, so that sections of ground stay where they are.
//
// # How a line is made
//
// [NewLine] goes through a file once: each segment is cleaned (internal/clean) and cut at
// the gaps inside it into strands (build.go); each strand gets its stretch (stretch.go,
// internal/stretch); strands are left out, put in order (reorder.go, internal/order),
// turned round or begun elsewhere (arrange.go), and kilometres.go keeps where each
// kilometre of the file has come to lie. Then the line is finished: its gaps, its climb
// (internal/climb), and an index for what lies near it (internal/near). What stands on
// the ground, lengths and places, is in internal/earth.
//
// # Limits
//
// Distances are on a sphere, within 0.56 % of the ellipsoid; at 65° N they read
// 0.3 to 0.4 % short. Heights are those of the file: nothing is smoothed but ups
// and downs of under 10 m. Nobody knows what happened in a gap.
//
// # Sources
//
//	[1] R. W. Sinnott, "Virtues of the Haversine", Sky and Telescope 68 (1984),
//	    as in the GIS FAQ, Q5.1.
//	[2] H. Moritz, "Geodetic Reference System 1980", Journal of Geodesy 74
//	    (2000), p. 131: mean radius.
//	[3] GPX 1.1 schema: a new track segment where reception was lost.
package route
