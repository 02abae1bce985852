package main

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"
)

// A chart is what a map knows of a scenario: less than the rider will find.
type chart struct {
	ways   map[string][2]string // tags of the road by its ground, with one that tells and without
	noWay  string               // the note of ground for which the map has no way
	stops  map[string]string    // tags of fuel stops by name; others the map does not know
	roof   string               // the stop that is drawn as an outline
	others []landmark           // besides towns and stops
	roads  []branch             // that leave the road for somewhere else
	help   []landmark           // for a rider in trouble, drawn last
	beyond country              // what is drawn far off
}

// A landmark is a thing that the map knows, besides roads and pumps.
type landmark struct {
	at   place
	tags string
}

// steppeChart leaves out the tracks of the plain behind Narsuk, knows the numbers of
// two pumps and the tractor yard's diesel, and one pump that is not for everybody.
var steppeChart = chart{
	ways: map[string][2]string{
		"paved":         {"highway=secondary surface=asphalt", "highway=primary"},
		"packed-gravel": {"highway=tertiary surface=compacted", "highway=unclassified"},
		"loose-gravel":  {"highway=unclassified surface=gravel", "highway=unclassified surface=gravel"},
		"dirt":          {"highway=track surface=dirt", "highway=track"},
		"soft":          {"highway=track surface=grass", "highway=track tracktype=grade5"},
		"sand":          {"highway=track surface=sand", "highway=track surface=sand"},
		"rocky":         {"highway=track surface=rock", "highway=track smoothness=horrible"},
	},
	noWay: "two tracks or ten",
	stops: map[string]string{
		"Ordvel": "name=Ordvel fuel:octane_95=yes fuel:octane_92=yes fuel:octane_80=yes opening_hours=24/7 " +
			"payment:cash=yes payment:credit_cards=yes phone=+999~555~0101 check_date=2026-04-11",
		"Belku Quarry":        "name=Belku~Quarry access=private",
		"Narsuk":              "name=Narsuk opening_hours=Mo-Sa~08:00-22:00;~Su~10:00-18:00",
		"Narsu Camp":          "payment:cash=yes",
		"Tomurga":             "name=Tomurga payment:cash=yes",
		"Yarsat Bridge":       "name=Yarsat~Bridge fuel:octane_92=yes fuel:octane_95=no",
		"Yarsat Depot":        "name=Depot",
		"Ershal Mine":         "name=Ershal~Mine opening_hours=Mo-Sa~07:00-19:00",
		"Ershal South":        "name=Ershal~South",
		"Sulmeg Tractor Yard": "name=Tractor~Yard fuel:diesel=yes",
		"Sulmeg":              "name=Sulmeg",
		"Doverak":             "name=Doverak",
		"Kembil":              "name=Kembil",
		"Red Well":            "",
		"Zhalmir":             "name=Zhalmir opening_hours=24/7",
		"Toldok":              "name=Toldok",
	},
	roof:   "Toldok",
	beyond: steppeCountry,
	others: []landmark{
		{place{town: "Yarsat Bridge", past: 41, left: 900}, "place=hamlet name=Ulbek"},
		{place{town: "Khoruv", past: 1, left: -150}, "shop=general name=Khoruv~Store"},
		{place{town: "Khoruv", past: 60, left: 1800}, "place=hamlet name=Dune~Foot"},
		{place{town: "Doverak", past: 40, left: -700}, "place=hamlet name=Three~Poplars"},
	},
	roads: []branch{
		{place{town: "Ershal"}, 24e3, 13e3, "highway=tertiary surface=compacted name=Siding~Road",
			"amenity=fuel name=Hark~Siding fuel:octane_92=yes opening_hours=24/7"},
		{place{town: "Ershal", past: 4}, 0, 0, "highway=track surface=compacted access=private name=Haul~Road", ""},
		{place{town: "Ershal", past: 30}, 19e3, 6e3, "highway=unclassified surface=dirt",
			"amenity=fuel name=Tolmak~Farm fuel:diesel=yes fuel:octane_80=yes"},
		{place{town: "Yarsat Bridge", past: 60}, -9e3, 21e3, "highway=track surface=sand",
			"amenity=fuel name=Dry~Lake~Works"},
		{place{town: "Khoruv", past: 47}, 14e3, 9e3, "highway=track winter_road=yes", "amenity=fuel name=Ice~Landing"},
		{place{town: "Doverak"}, 6e3, -26e3, "highway=secondary surface=asphalt ref=A~4", "amenity=fuel name=Ulgan"},
		{place{town: "Zhalmir"}, -11e3, -17e3, "highway=tertiary surface=gravel motor_vehicle=no", "amenity=fuel name=Game~Reserve"},
		{place{town: "Belku Pass", past: 20}, 14e3, 6e3, "highway=unclassified surface=gravel", "place=hamlet name=Irgul"},
		{place{town: "Yarsat Bridge", past: 30}, -4e3, 13e3, "highway=secondary surface=asphalt ref=B~7", "place=village name=Oskel"},
		{place{town: "Yarsat Bridge", past: 33}, 0, 0, "highway=track surface=dirt access=private", ""},
		{place{town: "Khoruv", past: 30}, 9e3, 7e3, "highway=track surface=sand", "tourism=wilderness_hut name=Dune~Hut"},
		{place{town: "Kembil Fork", past: 36}, 8e3, -9e3, "highway=unclassified surface=dirt", "place=hamlet name=Sarbel"},
	},
	help: []landmark{
		{place{town: "Ordvel", left: 700}, "amenity=hospital name=Ordvel~Hospital"},
		{place{town: "Ordvel", left: 500}, "amenity=pharmacy name=Ordvel~Pharmacy"},
		{place{town: "Narsuk", left: -600}, "amenity=doctors name=Doctor~of~Narsuk"},
		{place{town: "Belku Pass", left: 150}, "amenity=shelter shelter_type=weather_shelter"},
		{place{town: "Belku Pass", left: 200}, "amenity=drinking_water"},
		{place{town: "Ershal", left: 300}, "amenity=clinic name=Mine~Clinic access=private"},
		{place{town: "Sulmeg", left: 450}, "amenity=clinic name=Sulmeg~Clinic"},
		{place{town: "Sulmeg", left: 400}, "amenity=pharmacy"},
		{place{town: "Doverak", left: 300}, "amenity=drinking_water name=Doverak~Spring"},
		{place{town: "Khoruv", left: 200}, "amenity=drinking_water"},
		{place{town: "Zhalmir", left: -500}, "amenity=doctors"},
	},
}

// A sheet is a map that is being drawn, as OSM XML (OpenStreetMap wiki, "OSM XML").
type sheet struct {
	*loop
	nodes, ways  bytes.Buffer
	node, way    int
	nodeAtStride map[int]int // of the road, where ways begin and end
	last         int         // node of the road so far, 0 where it is not drawn
	drawn        []numbered  // nodes of the road
	lastEnd      int         // node at the end of the last branch
	endSpot      spot        // where that is
}

// A numbered place is a node.
type numbered struct {
	orb.Point
	node int
}

// chartXML draws the loop as a map: the road, a road to either side at each town, pumps,
// towns.
func (l *loop) chartXML() []byte {
	s := &sheet{loop: l, nodeAtStride: map[int]int{}}
	s.road()
	s.sideRoads()
	for _, stop := range l.stops {
		if tags, ok := l.chart.stops[stop.name]; ok {
			s.pump(stop, "amenity=fuel "+tags)
		}
	}
	seen := map[string]bool{}
	for _, t := range l.towns {
		if !seen[t.name] {
			s.point(l.spotAt(place{town: t.name, left: 250}), townTags(t))
		}
		seen[t.name] = true
	}
	for _, o := range l.chart.others {
		s.point(l.spotAt(o.at), o.tags)
	}
	for _, b := range l.chart.roads {
		s.branch(b)
	}
	// The loop ends where it begins, in one street.
	s.addWay([]int{s.drawn[len(s.drawn)-1].node, s.drawn[0].node}, "highway=residential")
	for _, o := range l.chart.help {
		s.point(l.spotAt(o.at), o.tags)
	}
	relations := s.country(l.chart.beyond)
	var b bytes.Buffer
	b.WriteString(xml.Header)
	fmt.Fprintf(&b, "<osm version=\"0.6\" generator=\"lastpump examples\">\n<!-- %s -->\n", text(l.about))
	b.Write(s.nodes.Bytes())
	b.Write(s.ways.Bytes())
	b.Write(relations)
	b.WriteString("</osm>\n")
	return b.Bytes()
}

func townTags(t town) string {
	kind := "hamlet"
	if t.night {
		kind = "village"
	}
	return "place=" + kind + " name=" + strings.ReplaceAll(t.name, " ", "~")
}

// road draws the road, a way for each ground and from town to town.
func (s *sheet) road() {
	const within = 12 // metres that the drawn road is off the ridden one
	cuts := s.cuts()
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1].stride, cuts[i].stride
		g := cuts[i-1].ground
		if s.chart.noWay != "" && s.ground[g].note == s.chart.noWay || from >= to {
			s.last = 0
			continue
		}
		var refs []int
		for k, f := range draw(&s.land, s.line, from, to, within) {
			if k == 0 && s.last != 0 {
				refs = append(refs, s.last)
				continue
			}
			refs = append(refs, s.put(f.Point, ""))
			s.drawn = append(s.drawn, numbered{f.Point, s.node})
		}
		s.nodeAtStride[from], s.nodeAtStride[to] = refs[0], refs[len(refs)-1]
		s.last = refs[len(refs)-1]
		s.addWay(refs, s.chart.ways[s.ground[g].kind][g%2])
	}
}

// A cut is where one way of the road ends and the next begins.
type cut struct{ stride, ground int }

// cuts gives where the ground changes and where towns are, in order.
func (s *sheet) cuts() []cut {
	end := len(s.line) - 1
	towns := map[int]bool{end: true}
	for _, i := range s.town {
		towns[i] = true
	}
	var out []cut
	g := -1
	for i := 0; i <= end; i++ {
		next := g
		for next+1 < len(s.ground) && int(s.rideAt(s.ground[next+1].from)/stride) <= i {
			next++
		}
		if next != g || towns[i] {
			out = append(out, cut{i, next})
		}
		g = next
	}
	return out
}

// sideRoads draws a road to either side of each town, four kilometres of it.
func (s *sheet) sideRoads() {
	const step, steps = 400.0, 10
	done := map[string]bool{}
	for _, t := range s.towns {
		from, ok := s.nodeAtStride[s.town[t.name]]
		if !ok || done[t.name] {
			continue
		}
		done[t.name] = true
		for side := -1.0; side <= 1; side += 2 {
			refs := []int{from}
			heading := s.headingAt(s.town[t.name]) + side*math.Pi/2
			at := s.spotAt(place{town: t.name})
			for k := range steps {
				at = at.ahead(heading+0.4*math.Sin(float64(k)), step)
				refs = append(refs, s.put(s.land.kept(at), ""))
			}
			s.addWay(refs, "highway=residential")
		}
	}
}

func (s *sheet) headingAt(i int) float64 {
	i = min(i, len(s.line)-2)
	heading, _ := s.line[i].to(s.line[i+1])
	return heading
}

// pump draws a pump as a point, or as the outline of its roof.
func (s *sheet) pump(stop fuelStop, tags string) {
	at := s.spotAt(stop.at)
	if stop.name != s.chart.roof {
		s.point(at, tags)
		return
	}
	var refs []int
	for _, d := range []spot{{-8, -5}, {8, -5}, {8, 5}, {-8, 5}} {
		refs = append(refs, s.put(s.land.kept(spot{at.x + d.x, at.y + d.y}), ""))
	}
	s.addWay(append(refs, refs[0]), tags+" building=roof")
}

func (s *sheet) point(at spot, tags string) { s.put(s.land.kept(at), tags) }

// lastEdit is when somebody last saw to what has tags.
const lastEdit = `version="2" timestamp="2026-02-03T04:05:06Z"`

// put draws a node and gives its number.
func (s *sheet) put(p orb.Point, tags string) int {
	s.node++
	fmt.Fprintf(&s.nodes, `<node id="%d" lat="%s" lon="%s"`, s.node, degrees(p.Lat()), degrees(p.Lon()))
	if tags == "" {
		s.nodes.WriteString("/>\n")
		return s.node
	}
	fmt.Fprintf(&s.nodes, " %s>%s</node>\n", lastEdit, tagsXML(tags))
	return s.node
}

func (s *sheet) addWay(refs []int, tags string) {
	s.way++
	fmt.Fprintf(&s.ways, `<way id="%d" %s>`, s.way, lastEdit)
	for _, r := range refs {
		fmt.Fprintf(&s.ways, `<nd ref="%d"/>`, r)
	}
	fmt.Fprintf(&s.ways, "%s</way>\n", tagsXML(tags))
}

// tagsXML writes "key=value key=value"; a tilde stands for a blank in a value.
func tagsXML(tags string) string {
	var b strings.Builder
	for _, tag := range strings.Fields(tags) {
		key, value, _ := strings.Cut(tag, "=")
		fmt.Fprintf(&b, `<tag k="%s" v="%s"/>`, key, text(strings.ReplaceAll(value, "~", " ")))
	}
	return b.String()
}

// steppeFar is the list of who has phoned beyond the line: the pump that the map has at the end of
// the siding road.
const steppeFar = `name,lat,lon,grades,hours,pay,standing,confirmed,phone,price,note
Hark Siding,47.56765,99.28135,92 RON,24/7,cash,phoned,2026-06-07,+999 555 0151,12.80 crown/L,"33 km by the siding road if the mine is dry"
`
