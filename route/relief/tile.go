package relief

import "encoding/binary"

// Samples along an edge, and the size of such a tile in bytes [1].
const (
	coarseSide = 1201 // 3″
	fineSide   = 3601 // 1″
	coarseSize = 2 * coarseSide * coarseSide
	fineSize   = 2 * fineSide * fineSide
)

// Heights that are taken for ground, in metres: the lowest and the highest there
// is are -430 m (the shore of the Dead Sea) and 8849 m (Mount Everest), and
// samples err by some metres. What lies beyond is a void, like -32768: our
// estimate.
const (
	lowest  = -500
	highest = 9000
)

// noWeight is the weight up to which a sample does not count if it is a void. A
// sample's place in degrees is no binary fraction: at 180° the nearest float64
// is up to 1.4e-14° off, which is 5e-11 of the step between 1″ samples.
const noWeight = 1e-9

// A tile is one file, unpacked. It is kept as the bytes of the file: as numbers
// it would be there twice for a while.
type tile struct {
	corner corner
	side   int // samples along each edge
	data   []byte
}

// sideOf gives the samples along an edge of a tile of that many bytes.
func sideOf(size int) int {
	if size == fineSize {
		return fineSide
	}
	return coarseSide
}

// height gives the height at a spot, bilinear between the four samples around
// it. It is not known if one of them is a void, unless that has no weight.
func (t *tile) height(east, north float64) (float64, bool) {
	col, u := t.split(east)
	row, v := t.split(1 - north)
	var sum, weights float64
	for _, corner := range [4]struct {
		at     int
		weight float64
	}{
		{row*t.side + col, (1 - u) * (1 - v)},
		{row*t.side + col + 1, u * (1 - v)},
		{(row+1)*t.side + col, (1 - u) * v},
		{(row+1)*t.side + col + 1, u * v},
	} {
		h := int16(binary.BigEndian.Uint16(t.data[2*corner.at:]))
		if h >= lowest && h <= highest {
			sum += corner.weight * float64(h)
			weights += corner.weight
		} else if corner.weight > noWeight {
			return 0, false
		}
	}
	return sum / weights, true
}

// split gives the sample at or before a share of the tile's edge and how far
// behind it that lies. The last sample is behind the last but one, so that there
// is always a next.
func (t *tile) split(share float64) (int, float64) {
	x := share * float64(t.side-1)
	i := min(int(x), t.side-2)
	return i, x - float64(i)
}
