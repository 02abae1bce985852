package rides_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/route"
	"lastpump/route/gpxfile"
)

// exampleDraft reads one of the two loops that come with the program. Its stretch is
// given: how it is estimated is no matter here.
func exampleDraft(name string) (d draft, err error) {
	dir := filepath.Join("..", "..", "..", "examples", name)
	open := func(file string) *os.File {
		f, ferr := os.Open(filepath.Join(dir, file))
		err = errors.Join(err, ferr)
		return f
	}
	loop, bike, ground := open("loop.gpx"), open("bike.toml"), open("ground.csv")
	defer loop.Close()
	defer bike.Close()
	defer ground.Close()
	if err != nil {
		return d, err
	}
	gpx, gerr := gpxfile.Read(loop, "loop.gpx")
	b, berr := fuel.ReadBike(bike, "bike.toml", "")
	sections, _, serr := route.ReadGround(ground, "ground.csv")
	if err = errors.Join(gerr, berr, serr); err != nil {
		return d, err
	}
	o := plan.DefaultOptions()
	o.Today = time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	d = draft{name: name, tracks: gpx.Tracks, stretch: 1.01, in: plan.Inputs{Bike: b, Options: o, Grounds: route.Grounds{Sections: sections}}}
	if d.in.Stops, _, err = stop.FromWaypoints(gpx.Waypoints, ""); err != nil || len(d.in.Stops) > 0 {
		return d, err
	}
	list := open("stops.csv")
	if err != nil {
		return d, err
	}
	defer list.Close()
	d.in.Stops, _, err = stop.ReadCSV(list, "stops.csv", "")
	return d, err
}

// exampleLoop plans an example. Neither holds as it is given; where no can is big
// enough it is ridden with a larger tank.
func exampleLoop(name string, at plan.FillAt) (*loop, error) {
	d, err := exampleDraft(name)
	if err != nil {
		return nil, err
	}
	d.in.Options.FillAt = at
	for {
		l, err := d.make()
		if err != nil {
			return nil, err
		}
		if l.holds || d.in.Bike.Tank > 40 {
			l.name = fmt.Sprintf("%s with a tank of %.0f L and a can of %.0f L", name, d.in.Bike.Tank, l.plan.Bike.Can)
			return l, nil
		}
		d.in.Bike.Tank += 2
	}
}
