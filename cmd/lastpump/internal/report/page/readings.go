package page

import (
	"math"
	"slices"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/shown"
	"lastpump/fuel"
	"lastpump/route"
)

// readings are the figures at each sample, in the units of the plan, for whoever points
// at a place of the picture.
type readings struct {
	Key    string         `json:"key"` // of what a browser keeps
	Says   shown.Patterns `json:"says"`
	Units  pageUnits      `json:"units"`
	Total  float64        `json:"total"`
	Legs   []legWords     `json:"legs"`
	Ground []string       `json:"grounds"`
	Ridden []float64      `json:"ridden"`
	Line   []float64      `json:"line"`
	Trip   []float64      `json:"trip"`
	Tank   []float64      `json:"tank"`
	Least  []float64      `json:"least"`
	Most   []float64      `json:"most"`
	Can    []float64      `json:"can"`
	Height []*float64     `json:"height"`
	Under  []int          `json:"ground"`
	Leg    []int          `json:"leg"`
}

type pageUnits struct {
	Distance string `json:"distance"`
	Volume   string `json:"volume"`
	Height   string `json:"height"`
	Digits   int    `json:"digits"` // of litres or gallons
}

// legWords say of a leg what is told when it is chosen.
type legWords struct {
	Title   string `json:"title"`
	Verdict string `json:"verdict"`
}

func (t *planned) readings() readings {
	r := readings{
		Says: shown.Places, Units: pageUnits{t.u.DistanceUnit(), t.u.VolumeUnit(), t.u.HeightUnit(), t.u.VolumeDigits()},
		Total: t.u.DistanceIn(t.trace.Ridden),
	}
	for i, l := range t.p.Legs {
		r.Legs = append(r.Legs, legWords{sheet.Isolated(t.say.Leg(i)), string(l.Verdict)})
	}
	for _, g := range route.AllGrounds() {
		r.Ground = append(r.Ground, string(g))
	}
	far := func(m route.Metres) float64 { return math.Round(t.u.DistanceIn(m)*100) / 100 }
	volume := func(l fuel.Litres) float64 { return math.Round(t.u.VolumeIn(l)*1000) / 1000 }
	for _, s := range t.trace.Samples {
		r.Ridden = append(r.Ridden, far(s.Ridden))
		r.Line = append(r.Line, far(s.At))
		r.Trip = append(r.Trip, far(s.Trip))
		r.Tank = append(r.Tank, volume(s.Tank))
		r.Least = append(r.Least, volume(s.Least))
		r.Most = append(r.Most, volume(s.Most))
		r.Can = append(r.Can, volume(s.Can))
		var height *float64
		if s.HasEle {
			h := math.Round(t.u.HeightIn(route.Metres(s.Ele)))
			height = &h
		}
		r.Height = append(r.Height, height)
		r.Under = append(r.Under, slices.Index(route.AllGrounds(), s.Ground))
		r.Leg = append(r.Leg, s.Leg)
	}
	return r
}
