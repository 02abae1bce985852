package gpxfile

import (
	"bytes"
	"math"

	"github.com/paulmach/orb"

	"lastpump/route"
	"lastpump/route/gpxfile/internal/xmlscan"
)

// highest is the largest plausible elevation either way, in metres; what lies
// beyond is a device's way to say that it does not know. Our estimate: twice
// what any ground or airliner reaches.
const highest = 20000

// point reads a point of a track or a route.
func (d *builder) point(tag string) error {
	p, err := d.position(tag)
	if err != nil {
		return err
	}
	err = d.each(func(tag string) error {
		switch tag {
		case "ele":
			return d.elevation(&p)
		case "time":
			return d.time(&p)
		}
		return d.scan.Skip()
	})
	if err == nil {
		d.points.add(p)
	}
	return err
}

func (d *builder) waypoint() (w Waypoint, err error) {
	w.File = d.name
	w.Line, w.Col = d.scan.Here()
	if w.Point, err = d.position("wpt"); err != nil {
		return w, err
	}
	return w, d.each(func(tag string) error {
		switch tag {
		case "ele":
			return d.elevation(&w.Point)
		case "name":
			return d.words(&w.Name, tag)
		case "desc":
			return d.words(&w.Desc, tag)
		case "cmt":
			return d.words(&w.Cmt, tag)
		case "sym":
			return d.words(&w.Sym, tag)
		case "type":
			return d.words(&w.Type, tag)
		}
		return d.scan.Skip()
	})
}

// position reads lat and lon from the start tag in hand. A point that lacks
// either is an error: taken for 0 it would make the line thousands of
// kilometres longer.
//
//	[1] latitudeType, -90 to 90; longitudeType, -180 to under 180.
func (d *builder) position(tag string) (route.Point, error) {
	var lat, lon []byte
	for _, a := range d.scan.Attrs {
		var to *[]byte
		switch string(a.Name) {
		case "lat":
			to = &lat
		case "lon":
			to = &lon
		default:
			continue
		}
		if *to != nil {
			return route.Point{}, d.badPoint(tag + " with two " + string(a.Name))
		}
		*to = a.Value
	}
	if lat == nil || lon == nil {
		return route.Point{}, d.badPoint(tag + missing(lat == nil, lon == nil))
	}
	y, err := d.degrees(tag, "lat", lat)
	if err != nil {
		return route.Point{}, err
	}
	x, err := d.degrees(tag, "lon", lon)
	if err != nil {
		return route.Point{}, err
	}
	if x == 180 {
		d.note("lon 180 is outside the schema, which has -180 for it; read as 180")
	}
	return route.Point{Point: orb.Point{x, y}}, nil
}

func missing(lat, lon bool) string {
	switch {
	case lat && lon:
		return " without lat and lon"
	case lat:
		return " without lat"
	}
	return " without lon"
}

// degrees reads one coordinate of a point.
func (d *builder) degrees(tag, axis string, text []byte) (float64, error) {
	limit, span := 180.0, " is not from -180 to 180"
	if axis == "lat" {
		limit, span = 90, " is not from -90 to 90"
	}
	v, ok := parseNumber(xmlscan.Trim(text))
	switch {
	case !ok && bytes.IndexByte(text, ',') >= 0:
		return 0, d.scan.Fault(tag+" "+axis+" "+xmlscan.Quote(text)+" is not a number", hintComma)
	case !ok:
		return 0, d.badPoint(tag + " " + axis + " " + xmlscan.Quote(text) + " is not a number")
	case !(-limit <= v && v <= limit):
		return 0, d.badPoint(tag + " " + axis + " " + xmlscan.Quote(text) + span)
	}
	return v, nil
}

// badPoint makes the error for a point at the start of its tag.
func (d *builder) badPoint(what string) error {
	return d.scan.Fault(what, hintPoint)
}

// elevation reads <ele>.
func (d *builder) elevation(p *route.Point) error {
	text, err := d.scan.Contents("ele")
	if err != nil || len(text) == 0 {
		return err
	}
	v, ok := parseNumber(text)
	switch {
	case !ok && bytes.IndexByte(text, ',') >= 0:
		return d.scan.Fault("ele "+xmlscan.Quote(text)+" is not a number", hintComma)
	case !ok || math.IsInf(v, 0):
		return d.scan.Fault("ele "+xmlscan.Quote(text)+" is not a finite number",
			"an elevation is in metres, like 1234.5: mend it or delete the <ele>")
	case math.Abs(v) > highest:
		d.note("elevation beyond 20000 m, taken as not known")
		return nil
	}
	p.Ele, p.HasEle = v, true
	return nil
}

// note remembers what is odd about the element whose start tag is in hand.
func (d *builder) note(what string) {
	line, col := d.scan.Here()
	d.scan.Note(line, col, what)
}
