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

// ClimbOver gives the climb of points between turning points so many metres apart.
func ClimbOver(least float64, points []Point) (up Metres) {
	var hs []height
	at := make([]Metres, len(points))
	for i, p := range points {
		if i > 0 {
			at[i] = at[i-1] + Distance(points[i-1].Point, p.Point)
		}
		if p.HasEle {
			hs = append(hs, height{i, p.Ele})
		}
	}
	for _, chain := range climbOver(least, hs, at, nil).chains {
		for i := 1; i < len(chain); i++ {
			up += max(Metres(chain[i].ele-chain[i-1].ele), 0)
		}
	}
	return up
}

// DecodeRecord makes a line of a record without its checksum.
func DecodeRecord(plain string, tracks []Track) (*Line, error) {
	r, err := decodeRecord(plain)
	if err != nil {
		return nil, err
	}
	return r.line(tracks, LineOptions{})
}
