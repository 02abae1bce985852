package gpxfile

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lastpump/route"
	"lastpump/route/gpxfile/internal/xmlscan"
)

// A Document is a GPX file to be written.
type Document struct {
	Name, Desc string
	Waypoints  []Waypoint // written with their position, height and texts
	Routes     []Route
	Tracks     []Track // without their times
	Record     string  // see [Record]; "" for none
	Cut        string  // the same
}

// A Route is one to be written: the places over which somebody is to be led, not the way between
// them.
type Route struct {
	Name, Desc string
	Points     []Waypoint
}

// A Record is what a plan that was written as GPX says of its line beside the points:
// a text for [route.Recorded]. It stands in the extensions of the first track, in a
// namespace of its own, cut into elements that each hold part of it: there a program that
// lays out a file anew keeps what it does not know (tried with one of them), and in those
// of the metadata, where it stood first and is still read, it does not.
type Record struct {
	Text      string // "" where there is none
	Cut       string // what is known of a cut in the file that the line is from; "" for none
	File      string
	Line, Col int // of the first element, from 1
}

// Where a record stands. GPX 1.1 allows elements of any other namespace in extensions.
const (
	recordSpace   = "urn:lastpump:plan"
	recordPrefix  = "lp"
	recordElement = "line"
	cutElement    = "cut"
	recordChunk   = 256 << 10 // bytes; a reader takes up to 1 MiB of text in one element
)

// Write writes a file as the schema of GPX 1.1 [1] has it: UTF-8, positions and heights
// to the last bit without an exponent, longitude 180 as -180. What XML does not allow in
// a text is left out of it. The same document gives the same bytes. The error is that of
// the writer, or says which point lies nowhere on the Earth.
func Write(w io.Writer, d Document) error {
	if err := d.check(); err != nil {
		return err
	}
	out := writer{bufio.NewWriter(w)}
	out.head(d)
	for _, wpt := range d.Waypoints {
		out.waypoint(wpt)
	}
	for _, r := range d.Routes {
		out.route(r)
	}
	for i, t := range d.Tracks {
		out.track(t, func() {
			if i == 0 {
				out.record("\t\t", d)
			}
		})
	}
	out.put("</gpx>\n")
	return out.Flush()
}

// check refuses points that the schema does not allow.
func (d Document) check() error {
	for _, w := range d.Waypoints {
		if err := check(w.Point); err != nil {
			return err
		}
	}
	for _, r := range d.Routes {
		for _, w := range r.Points {
			if err := check(w.Point); err != nil {
				return err
			}
		}
	}
	for _, t := range d.Tracks {
		for _, s := range t.Segments {
			for _, p := range s {
				if err := check(p); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// check refuses a point that the schema does not allow.
func check(p route.Point) error {
	if !(math.Abs(p.Lat()) <= 90 && math.Abs(p.Lon()) <= 180) ||
		p.HasEle && (math.IsNaN(p.Ele) || math.IsInf(p.Ele, 0)) {
		return fmt.Errorf("a point that lies nowhere: %v, %v, height %v", p.Lat(), p.Lon(), p.Ele)
	}
	return nil
}

// A writer writes one element after the other. Its first error stays, and Flush gives it.
type writer struct{ *bufio.Writer }

func (w writer) put(texts ...string) {
	for _, t := range texts {
		w.WriteString(t)
	}
}

// element writes an element with a text in it; nothing for an empty one.
func (w writer) element(indent, tag, text string) {
	if text = xmlText(text); text == "" {
		return
	}
	w.put(indent, "<", tag, ">")
	xml.EscapeText(w, []byte(text)) // the writer keeps its error
	w.put("</", tag, ">\n")
}

// head writes what comes before the waypoints.
func (w writer) head(d Document) {
	w.put(xml.Header, "<gpx")
	if d.Record != "" {
		w.put(" xmlns:", recordPrefix, `="`, recordSpace, `"`)
	}
	w.put(` xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="lastpump">`, "\n\t<metadata>\n")
	w.element("\t\t", "name", d.Name)
	w.element("\t\t", "desc", d.Desc)
	if len(d.Tracks) == 0 {
		w.record("\t\t", d)
	}
	w.put("\t</metadata>\n")
}

// record writes what a plan has recorded, if it has.
func (w writer) record(indent string, d Document) {
	if d.Record == "" {
		return
	}
	w.put(indent, "<extensions>\n")
	w.element(indent+"\t", recordPrefix+":"+cutElement, d.Cut)
	for chunk := range slices.Chunk([]byte(d.Record), recordChunk) {
		w.element(indent+"\t", recordPrefix+":"+recordElement, string(chunk))
	}
	w.put(indent, "</extensions>\n")
}

func (w writer) waypoint(p Waypoint) { w.place("\t", "wpt", p) }

// place writes a waypoint, or a place of a route.
func (w writer) place(in, element string, p Waypoint) {
	w.put(in)
	w.position(element, p.Point)
	w.put(">")
	w.elevation(p.Point)
	w.put("\n")
	w.element(in+"\t", "name", p.Name)
	w.element(in+"\t", "cmt", p.Cmt)
	w.element(in+"\t", "desc", p.Desc)
	w.element(in+"\t", "sym", p.Sym)
	w.element(in+"\t", "type", p.Type)
	w.put(in + "</" + element + ">\n")
}

// route writes a route.
func (w writer) route(r Route) {
	w.put("\t<rte>\n")
	w.element("\t\t", "name", r.Name)
	w.element("\t\t", "desc", r.Desc)
	for _, p := range r.Points {
		w.place("\t\t", "rtept", p)
	}
	w.put("\t</rte>\n")
}

// track writes a track, and between its name and its segments what more there is of it.
func (w writer) track(t Track, more func()) {
	w.put("\t<trk>\n")
	w.element("\t\t", "name", t.Name)
	more()
	for _, s := range t.Segments {
		w.put("\t\t<trkseg>\n")
		for _, p := range s {
			w.position("trkpt", p)
			if p.HasEle {
				w.put(">")
				w.elevation(p)
				w.put("</trkpt>\n")
			} else {
				w.put("/>\n")
			}
		}
		w.put("</trkseg>\n")
	}
	w.put("\t</trk>\n")
}

// position writes a start tag but for its end.
func (w writer) position(tag string, p route.Point) {
	lon := p.Lon()
	if lon == 180 {
		lon = -180
	}
	w.put("<", tag, ` lat="`)
	w.decimal(p.Lat())
	w.put(`" lon="`)
	w.decimal(lon)
	w.put(`"`)
}

func (w writer) elevation(p route.Point) {
	if p.HasEle {
		w.put("<ele>")
		w.decimal(p.Ele)
		w.put("</ele>")
	}
}

// decimal writes a number as xsd:decimal: without an exponent.
func (w writer) decimal(v float64) {
	w.Write(strconv.AppendFloat(w.AvailableBuffer(), v, 'f', -1, 64))
}

// xmlText leaves out of a text what XML does not allow.
func xmlText(text string) string {
	return strings.Map(func(r rune) rune {
		if !xmlscan.IsChar(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}
