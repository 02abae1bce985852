package gpx_test

import (
	"bytes"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/gpx"
	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/fuel/stop"
	"lastpump/route/gpxfile"

	"github.com/google/go-cmp/cmp"
)

// The waypoint of a pump says when it is reached and whether it is open then, as reckoned by hand
// (see [samples.ByHand]), and is read again as the stop that it is of.
func TestHoursOnWaypoints(t *testing.T) {
	p := samples.ByHand(t)
	var b bytes.Buffer
	if err := gpx.Write(&b, p.Plan, p.Units); err != nil {
		t.Fatal(err)
	}
	f, err := gpxfile.Read(&b, "plan.gpx")
	if err != nil {
		t.Fatal(err)
	}
	const want = "day 1, Wed 09:35 (09:03–10:18): doubtful till 10:00, wait 25 min; be there by 20:00"
	if len(f.Waypoints) == 0 || !strings.Contains(f.Waypoints[0].Desc, want) {
		t.Errorf("no %q in %+v", want, f.Waypoints)
	}
	stops, _, err := stop.FromWaypoints(f.Waypoints, "")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p.Stops, stops); diff != "" {
		t.Errorf("stops read again (-want +got):\n%s", diff)
	}
}
