package samples

import (
	"fmt"

	"lastpump/route"
	"lastpump/route/land"

	"github.com/paulmach/orb"
)

// Land draws what may lie beside the line of a plan: roads along it and across it, a river, a lake with
// an island, a shore, and towns, one of them with a name that no face has.
func Land(p Plan) *land.Land {
	l := &land.Land{Attribution: "map data © their makers, by some licence", Within: 60_000, Tolerance: 50}
	add := func(k land.Kind, class, name string, g orb.Geometry) {
		l.Features = append(l.Features, land.Feature{Kind: k, Class: class, Name: name, Geometry: g})
	}
	const along = 60
	var road, river orb.LineString
	at := func(k int) orb.Point { return p.Line.At(p.Line.Length() * route.Metres(k) / along) }
	for k := range along + 1 {
		q := at(k)
		road, river = append(road, orb.Point{q[0] + 0.04, q[1] + 0.02}), append(river, orb.Point{q[0] - 0.06, q[1] + 0.03})
		if k%10 == 5 {
			add(land.Road, "secondary", fmt.Sprint("B ", k), orb.LineString{{q[0] - 0.3, q[1] - 0.1}, {q[0] + 0.3, q[1] + 0.1}})
			name := []string{"Somewhere", "東京", "Nowhere Like It", "Ort", "A", "B"}[k/10]
			add(land.Town, land.TownClasses[k%4], name, orb.Point{q[0] + 0.09, q[1] - 0.03})
		}
	}
	add(land.Road, "primary", "A 1", road)
	add(land.River, "river", "Long River", river)
	m := at(along / 2)
	square := func(half float64) orb.Ring {
		x, y := m[0]+0.2, m[1]
		return orb.Ring{{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}, {x - half, y - half}}
	}
	island := square(0.02)
	island.Reverse()
	add(land.Lake, "water", "Square Lake", orb.Polygon{square(0.1), island})
	add(land.Shore, "coastline", "", orb.LineString{{m[0] - 0.4, m[1] - 0.2}, {m[0] - 0.3, m[1]}, {m[0] - 0.35, m[1] + 0.2}})
	return l
}
