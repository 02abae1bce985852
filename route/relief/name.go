package relief

import (
	"fmt"
	"math"
	"path"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// A corner is the south-west corner of a tile in whole degrees, south from -90
// to 89, west from -180 to 179.
type corner struct{ south, west int }

// String gives the name of the tile: N43E077.
func (c corner) String() string {
	ns, ew, south, west := 'N', 'E', c.south, c.west
	if south < 0 {
		ns, south = 'S', -south
	}
	if west < 0 {
		ew, west = 'W', -west
	}
	return fmt.Sprintf("%c%02d%c%03d", ns, south, ew, west)
}

// cornerLen is the length of a tile's name.
const cornerLen = len("N43E077")

// parseCorner reads the name of a tile, seven bytes in small letters. S00 and W000
// are no tile's name: the one north of the equator is N00.
func parseCorner(s string) (corner, bool) {
	south, ok := signed(s[:3], 'n', 's', 90)
	west, ok2 := signed(s[3:], 'e', 'w', 180)
	return corner{south, west}, ok && ok2
}

// signed reads degrees behind the letter of a hemisphere: from 0 to below the
// limit behind one, from 1 to the limit behind the other, which counts down.
func signed(s string, up, down byte, limit int) (int, bool) {
	n, err := strconv.ParseUint(s[1:], 10, 16) // no sign is allowed
	d := int(n)
	switch {
	case err != nil:
		return 0, false
	case s[0] == up && d < limit:
		return d, true
	case s[0] == down && d >= 1 && d <= limit:
		return -d, true
	}
	return 0, false
}

// How a name says that its file is packed, first choice first.
const (
	saysPlain = iota
	saysGzip
	saysZip
)

// parseName tells which tile a file is by its name, and how it is packed.
func parseName(name string) (c corner, says int, ok bool) {
	base := strings.ToLower(path.Base(name))
	if len(base) < cornerLen {
		return c, 0, false
	}
	if c, ok = parseCorner(base[:cornerLen]); !ok {
		return c, 0, false
	}
	rest := base[cornerLen:]
	if rest == ".zip" {
		return c, saysZip, true
	}
	if s, found := strings.CutSuffix(rest, ".gz"); found {
		rest, says = s, saysGzip
	} else if s, found := strings.CutSuffix(rest, ".zip"); found {
		rest, says = s, saysZip
	}
	return c, says, rest[:min(1, len(rest))] == "." && strings.HasSuffix(rest, ".hgt")
}

// A spot is a place in a tile, from its corner: 0 to 1 of the tile's width to
// the east and of its height to the north.
type spot struct {
	corner
	east, north float64
}

// appendSpots adds the tiles a place lies in: one, and where it lies on an edge
// the one that begins there first, then its neighbours, up to four. The meridian
// of 180° is that of -180°, and no tile begins at the north pole.
func appendSpots(spots []spot, p orb.Point) []spot {
	south, north := split(p.Lat())
	west, east := split(p.Lon())
	for _, row := range [2]spot{{corner{south, 0}, 0, north}, {corner{south - 1, 0}, 0, 1}} {
		if row.south < -90 || row.south >= 90 || row.south < south && north > 0 {
			continue
		}
		spots = append(spots, spot{corner{row.south, around(west)}, east, row.north})
		if east == 0 {
			spots = append(spots, spot{corner{row.south, around(west - 1)}, 1, row.north})
		}
	}
	return spots
}

// split gives whole degrees, rounded down, and the rest.
func split(degrees float64) (int, float64) {
	whole := math.Floor(degrees)
	return int(whole), degrees - whole
}

// around brings the west of a tile into -180 to 179.
func around(west int) int { return (west+540)%360 - 180 }

// onEarth tells whether a place has coordinates that there are.
func onEarth(p orb.Point) bool { // false for NaN
	return math.Abs(p.Lat()) <= 90 && math.Abs(p.Lon()) <= 180
}
