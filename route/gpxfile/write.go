package gpxfile

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/tkrajina/gpxgo/gpx"

	"lastpump/route"
)

// A Document is a GPX file to be written.
type Document struct {
	Name, Desc string
	Waypoints  []Waypoint // written with their position, height and texts
	Tracks     []Track    // without their times
	Record     string     // see [Record]; "" for none
	Cut        string     // the same
}

// A Record is what a plan that was written as GPX says of its line beside the points:
// a text for [route.Recorded]. It stands in the extensions of the metadata, in a
// namespace of its own, cut into elements that each hold part of it.
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
	recordPiece   = 256 << 10 // bytes; a reader takes up to 1 MiB of text in one element
)

// Write writes a file as the schema of GPX 1.1 [1] has it: UTF-8, positions and heights
// to the last bit without an exponent, longitude 180 as -180. What XML does not allow in
// a text is left out of it. The same document gives the same bytes. The error is that of
// the writer, or says which point lies nowhere on the Earth.
func Write(w io.Writer, d Document) error {
	if err := d.check(); err != nil {
		return err
	}
	text, err := skeleton(d).ToXml(gpx.ToXmlParams{Version: "1.1", Indent: true})
	if err != nil {
		return err
	}
	text = bytes.Replace(text, []byte("\t\t<author></author>\n"), nil, 1) // the library's, and says nothing
	out := &fleshing{w: bufio.NewWriter(w), text: text}
	for _, wpt := range d.Waypoints {
		out.upTo("<wpt ")
		out.point("wpt", wpt.Point, ">")
		out.pass(">")
	}
	for _, t := range d.Tracks {
		for _, s := range t.Segments {
			out.upTo("<trkseg></trkseg>")
			out.segment(s)
		}
	}
	out.write(out.text)
	out.write([]byte("\n"))
	return errors.Join(out.err, out.w.Flush())
}

// check refuses points that the schema does not allow.
func (d Document) check() error {
	for _, w := range d.Waypoints {
		if err := check(w.Point); err != nil {
			return err
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
	if !(math.Abs(p.Lat()) <= 90 && math.Abs(p.Lon()) <= 180) || p.HasEle && (math.IsNaN(p.Ele) || math.IsInf(p.Ele, 0)) {
		return fmt.Errorf("a point that lies nowhere: %v, %v, height %v", p.Lat(), p.Lon(), p.Ele)
	}
	return nil
}

// skeleton makes the document for the library, without numbers: it rounds positions to
// 1e-10 degrees and writes heights with exponents, which the schema forbids, and of a
// million points it would hold three copies.
func skeleton(d Document) *gpx.GPX {
	g := &gpx.GPX{Creator: "lastpump", Name: xmlText(d.Name), Description: xmlText(d.Desc)}
	if d.Record != "" {
		g.RegisterNamespace(recordPrefix, recordSpace)
		add := func(element, text string) {
			node := gpx.ExtensionNode{Data: text}
			node.XMLName.Space, node.XMLName.Local = recordSpace, element
			g.MetadataExtensions.Nodes = append(g.MetadataExtensions.Nodes, node)
		}
		if d.Cut != "" {
			add(cutElement, xmlText(d.Cut))
		}
		for piece := range slices.Chunk([]byte(xmlText(d.Record)), recordPiece) {
			add(recordElement, string(piece))
		}
	}
	for _, w := range d.Waypoints {
		g.Waypoints = append(g.Waypoints, gpx.GPXPoint{Name: xmlText(w.Name), Comment: xmlText(w.Cmt), Description: xmlText(w.Desc),
			Symbol: xmlText(w.Sym), Type: xmlText(w.Type)})
	}
	for _, t := range d.Tracks {
		g.Tracks = append(g.Tracks, gpx.GPXTrack{Name: xmlText(t.Name), Segments: make([]gpx.GPXTrackSegment, len(t.Segments))})
	}
	return g
}

// xmlText leaves out of a text what XML does not allow.
func xmlText(text string) string {
	return strings.Map(func(r rune) rune {
		if !isChar(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}

// A fleshing puts the points into a skeleton. In its text "<" begins a tag and nothing
// else.
type fleshing struct {
	w    *bufio.Writer
	text []byte // not yet written
	line []byte
	err  error
}

func (f *fleshing) write(b []byte) {
	if f.err == nil {
		_, f.err = f.w.Write(b)
	}
}

// upTo writes what stands before a tag, and passes the tag.
func (f *fleshing) upTo(tag string) {
	before, after, found := bytes.Cut(f.text, []byte(tag))
	if !found {
		f.err = errors.Join(f.err, fmt.Errorf("no %s where one was to be", tag))
		return
	}
	f.write(before)
	f.text = after
}

// pass leaves out what stands up to a mark.
func (f *fleshing) pass(mark string) {
	_, f.text, _ = bytes.Cut(f.text, []byte(mark))
}

// point writes a start tag with the position, and the height.
func (f *fleshing) point(tag string, p route.Point, empty string) {
	lon := p.Lon()
	if lon == 180 {
		lon = -180
	}
	b := append(f.line[:0], "<"+tag+` lat="`...)
	b = append(appendDecimal(b, p.Lat()), `" lon="`...)
	b = append(appendDecimal(b, lon), '"')
	if !p.HasEle {
		b = append(b, empty...)
	} else {
		b = append(appendDecimal(append(b, "><ele>"...), p.Ele), "</ele>"...)
	}
	f.write(b)
	f.line = b
}

// appendDecimal writes a number as xsd:decimal: without an exponent.
func appendDecimal(b []byte, v float64) []byte { return strconv.AppendFloat(b, v, 'f', -1, 64) }

func (f *fleshing) segment(points []route.Point) {
	f.write([]byte("<trkseg>\n"))
	for _, p := range points {
		f.point("trkpt", p, "/>\n")
		if p.HasEle {
			f.write([]byte("</trkpt>\n"))
		}
	}
	f.write([]byte("</trkseg>"))
}
