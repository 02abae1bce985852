package route

import "github.com/paulmach/orb"

// StretchFromTable reads the table of the stretch, of which a line reaches only
// the part beyond 500 m from point to point.
var StretchFromTable = fromTable

// BoxBounds gives what the index takes for the least and the most that a place
// can lie off points which follow each other.
func BoxBounds(pts []orb.Point, p orb.Point) (distance, least, most Metres) {
	b := boxAround(pts)
	least, most = b.between(p)
	return b.distance(p), least, most
}
