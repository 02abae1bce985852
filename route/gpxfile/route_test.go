package gpxfile_test

import (
	"bytes"
	"testing"

	"lastpump/route"
	"lastpump/route/gpxfile"

	"github.com/paulmach/orb"
	"github.com/tkrajina/gpxgo/gpx"
)

// Routes are read by another program as they were written, and by this one not as the line where
// there is a track.
func TestRoutesForAnotherProgram(t *testing.T) {
	at := func(lon, lat float64, name string) (w gpxfile.Waypoint) {
		w.Point.Point, w.Name = orb.Point{lon, lat}, name
		return w
	}
	d := gpxfile.Document{
		Routes: []gpxfile.Route{{Name: "out <to> Far", Desc: "29 km by road", Points: []gpxfile.Waypoint{at(20, 45, "turn off"), at(20.25, 45.5, "Far")}}},
		Tracks: []gpxfile.Track{{Segments: [][]route.Point{{{Point: orb.Point{20, 45}}, {Point: orb.Point{20, 45.1}}}}}},
	}
	var b bytes.Buffer
	if err := gpxfile.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	theirs, err := gpx.ParseBytes(b.Bytes())
	if err != nil || len(theirs.Routes) != 1 {
		t.Fatalf("%v\n%s", err, b.String())
	}
	r := theirs.Routes[0]
	if r.Name != "out <to> Far" || r.Description != "29 km by road" || len(r.Points) != 2 || r.Points[1].Longitude != 20.25 ||
		r.Points[1].Latitude != 45.5 || r.Points[1].Name != "Far" {
		t.Errorf("%+v", r)
	}
	ours, err := gpxfile.Read(bytes.NewReader(b.Bytes()), "plan.gpx")
	if err != nil || len(ours.Tracks) != 1 || len(ours.Waypoints) != 0 {
		t.Errorf("%+v, %v", ours, err)
	}
	d.Routes[0].Points[0].Point.Point[1] = 91
	if err := gpxfile.Write(&b, d); err == nil {
		t.Error("a route beyond the pole is written")
	}
}
