package gpxfile_test

import (
	"strings"
	"testing"

	"lastpump/testdata/kit"
)

// A small archive can hold millions of segments of a point each, which would take ten times
// the memory of a ride with as many points. 200,000 pieces are read, one more is refused;
// it stands behind the 31 bytes of the first tag and 200,000 times <rte/>, or the track and
// 199,999 segments.
func TestPieces(t *testing.T) {
	const gpx = `<gpx version="1.1" creator="t">`
	const hint = "join them where the points were drawn or recorded, and export the ride again"
	segments := func(n int) string { return gpx + "<trk>\n" + strings.Repeat("<trkseg/>\n", n) + "</trk></gpx>" }
	if _, err := read(segments(199_999)); err != nil {
		t.Error(err)
	}
	_, err := read(segments(200_000))
	kit.WantFault(t, err, "f.gpx:200001:1: over 200000 tracks and segments: no ride is in so many pieces", hint)
	_, err = read(gpx + strings.Repeat(`<rte/>`, 200_001) + `</gpx>`)
	kit.WantFault(t, err, "f.gpx:1:1200032: over 200000 tracks and segments: no ride is in so many pieces", hint)
}
