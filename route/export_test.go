package route

import (
	"lastpump/route/internal/climb"
	"lastpump/route/internal/stretch"
)

// StretchFromTable reads the table of the stretch, of which a line reaches only
// the part beyond 500 m from point to point.
var StretchFromTable = stretch.Tabled

// ClimbOver gives the climb of points between turning points so many metres apart.
func ClimbOver(least float64, points []Point) (up Metres) {
	var hs []climb.Height
	at := make([]Metres, len(points))
	for i, p := range points {
		if i > 0 {
			at[i] = at[i-1] + Distance(points[i-1].Point, p.Point)
		}
		if p.HasEle {
			hs = append(hs, climb.Height{Point: i, Ele: p.Ele})
		}
	}
	for _, chain := range climb.Over(least, hs, at, nil).Chains {
		for i := 1; i < len(chain); i++ {
			up += max(Metres(chain[i].Ele-chain[i-1].Ele), 0)
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
