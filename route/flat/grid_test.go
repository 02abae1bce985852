package flat

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

func TestZoneRefusesWhatIsNoPlace(t *testing.T) {
	z := NewZone(1 << 15)
	z.Add(orb.Point{0, 0}, 1000)
	z.Add(orb.Point{0, 90}, 1000) // the pole has all longitudes
	for _, c := range []struct {
		lon, lat float64
		want     bool
	}{
		{0, 0, true}, {math.NaN(), 0, false}, {0, math.NaN(), false}, {math.Inf(1), 0, false}, {0, 1e9, false},
		{0, -1e9, false},
		{100, 89.999, true}, {-100, 89.999, true}, {100, 89.9, false},
	} {
		if got := z.Has(c.lon, c.lat); got != c.want {
			t.Errorf("%v, %v: %v", c.lon, c.lat, got)
		}
	}
}
