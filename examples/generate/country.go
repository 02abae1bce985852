package main

import (
	"bytes"
	"fmt"
	"math"
)

// A country is what the map has far off the line: main roads, a river, a lake, towns. None of it
// meets a road that can be ridden to from the line, so no way out changes.
type country struct {
	lines []drawnLine
	lake  drawnLake
	towns []drawnTown
}

// A drawnLine goes through places on the flat map, in kilometres, winding between them.
type drawnLine struct {
	tags string
	at   [][2]float64
}

// A drawnLake is a relation of two ways without tags, and an island.
type drawnLake struct {
	tags         string
	middle       [2]float64
	wide, high   float64 // kilometres, half of them
	island       [2]float64
	islandRadius float64
}

type drawnTown struct {
	tags string
	at   [2]float64
}

var steppeCountry = country{
	lines: []drawnLine{
		{"highway=primary surface=asphalt ref=A~1", [][2]float64{{-270, -72}, {-205, -78}, {-150, -134}, {-95, -139}, {-40, -152}, {60, -140}, {150, -139}, {235, -95}}},
		{"highway=trunk surface=asphalt ref=A~3", [][2]float64{{-265, 78}, {-205, 68}, {-160, 106}, {-60, 147}, {45, 137}, {120, 148}, {240, 112}}},
		{"waterway=river name=Yarsat", [][2]float64{{8, 172}, {30, 131}, {38.5, 99}, {49, 70}, {40, 42}, {38, 12}}},
	},
	lake: drawnLake{tags: "type=multipolygon natural=water name=Urtaz~Lake", middle: [2]float64{37, 2}, wide: 6.5, high: 10,
		island: [2]float64{38.5, 4}, islandRadius: 1.2},
	towns: []drawnTown{
		{"place=town name=Tarvuk", [2]float64{-95, -138}}, {"place=village name=Sarpuk", [2]float64{-151, -132}},
		{"place=village name=Oldash", [2]float64{121, 147}}, {"place=town name=Velikar", [2]float64{-160, 105}},
		{"place=village name=Ortazan", [2]float64{46.5, 11}},
	},
}

// country draws it behind all else, so that what is there keeps its numbers; it gives the relations.
func (s *sheet) country(c country) []byte {
	for _, l := range c.lines {
		var refs []int
		for i := 1; i < len(l.at); i++ {
			refs = append(refs, s.winding(l.at[i-1], l.at[i], i == 1)...)
		}
		s.addWay(refs, l.tags)
	}
	var relations bytes.Buffer
	if c.lake.tags != "" {
		s.lake(&relations, c.lake)
	}
	for _, t := range c.towns {
		s.point(spot{t.at[0] * 1000, t.at[1] * 1000}, t.tags)
	}
	return relations.Bytes()
}

// winding gives the nodes from one place to another, the first of them only where it is asked for.
func (s *sheet) winding(a, b [2]float64, first bool) (refs []int) {
	const step, sway = 1.5, 1.2 // kilometres
	east, north := b[0]-a[0], b[1]-a[1]
	length := math.Hypot(east, north)
	steps := int(length / step)
	for k := range steps + 1 {
		if k == 0 && !first {
			continue
		}
		share := float64(k) / float64(steps)
		off := sway * math.Sin(math.Pi*share) * (math.Sin(11*share+a[0]) + 0.5*math.Sin(29*share+b[1])) / length
		refs = append(refs, s.put(s.land.kept(spot{(a[0] + east*share - north*off) * 1000, (a[1] + north*share + east*off) * 1000}), ""))
	}
	return refs
}

// lake draws a lake of two shores that meet, and its island.
func (s *sheet) lake(relations *bytes.Buffer, l drawnLake) {
	const corners = 60
	around := func(middle [2]float64, wide, high float64) (refs []int) {
		for k := range corners {
			angle := 2 * math.Pi * float64(k) / corners
			r := 1 + 0.13*math.Sin(3*angle) + 0.06*math.Sin(7*angle+1)
			refs = append(refs, s.put(s.land.kept(spot{(middle[0] + wide*r*math.Cos(angle)) * 1000, (middle[1] + high*r*math.Sin(angle)) * 1000}), ""))
		}
		return append(refs, refs[0])
	}
	shore := around(l.middle, l.wide, l.high)
	s.addWay(shore[:corners/2+1], "")
	s.addWay(shore[corners/2:], "")
	s.addWay(around(l.island, l.islandRadius, l.islandRadius), "")
	fmt.Fprintf(relations, `<relation id="1" %s>`, lastEdit)
	for k, role := range []string{"outer", "outer", "inner"} {
		fmt.Fprintf(relations, `<member type="way" ref="%d" role="%s"/>`, s.way-2+k, role)
	}
	fmt.Fprintf(relations, "%s</relation>\n", tagsXML(l.tags))
}
