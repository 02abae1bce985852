package main

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const gpxSpace = "http://www.topografix.com/GPX/1/1"

// gpxChildren are the children that the schema of GPX 1.1 allows in each element, in the
// order in which they have to stand (xsd:sequence); those with a star may come again.
var gpxChildren = map[string][]string{
	"gpx":      {"metadata", "wpt*", "rte*", "trk*", "extensions"},
	"metadata": {"name", "desc", "author", "copyright", "link*", "time", "keywords", "bounds", "extensions"},
	"wpt":      gpxPoint,
	"rtept":    gpxPoint,
	"trkpt":    gpxPoint,
	"trk":      {"name", "cmt", "desc", "src", "link*", "number", "type", "extensions", "trkseg*"},
	"rte":      {"name", "cmt", "desc", "src", "link*", "number", "type", "extensions", "rtept*"},
	"trkseg":   {"trkpt*", "extensions"},
	"author":   {"name", "email", "link"},
	"link":     {"text", "type"},
}

var gpxPoint = []string{"ele", "time", "magvar", "geoidheight", "name", "cmt", "desc", "src", "link*", "sym", "type", "fix", "sat",
	"hdop", "vdop", "pdop", "ageofdgpsdata", "dgpsid", "extensions"}

// Lexical forms of XML Schema Part 2, 3.2.3 (decimal, without an exponent) and 3.2.7
// (dateTime, here in UTC).
var (
	xsdDecimal  = regexp.MustCompile(`^[+-]?(\d+(\.\d*)?|\.\d+)$`)
	xsdDateTime = regexp.MustCompile(`^-?\d{4,}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)?$`)
)

// gpxForms are the forms of elements that are no plain texts.
var gpxForms = map[string]*regexp.Regexp{"ele": xsdDecimal, "geoidheight": xsdDecimal, "hdop": xsdDecimal, "vdop": xsdDecimal, "pdop": xsdDecimal,
	"ageofdgpsdata": xsdDecimal, "time": xsdDateTime, "sat": regexp.MustCompile(`^\d+$`), "number": regexp.MustCompile(`^\d+$`)}

// An element is one that is not closed yet.
type element struct {
	name  string
	next  int // into the children allowed: which may come now
	texts strings.Builder
}

// checkGPX holds a file to the schema of GPX 1.1: elements and their order, attributes
// and their ranges, forms of numbers and times; foreign elements in extensions alone.
func checkGPX(text string) error {
	d := xml.NewDecoder(strings.NewReader(text))
	var stack []*element
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			if len(stack) > 0 && stack[len(stack)-1].name == "extensions" {
				if tok.Name.Space == gpxSpace || tok.Name.Space == "" { // ##other
					return fmt.Errorf("%s in extensions is of GPX's own namespace or of none", tok.Name.Local)
				}
				if err := d.Skip(); err != nil {
					return err
				}
				continue
			}
			o, err := openGPX(stack, tok)
			if err != nil {
				return err
			}
			stack = append(stack, o)
		case xml.EndElement:
			o := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if err := closeGPX(o); err != nil {
				return err
			}
		case xml.CharData:
			if len(stack) > 0 {
				stack[len(stack)-1].texts.Write(tok)
			}
		}
	}
}

func openGPX(stack []*element, e xml.StartElement) (*element, error) {
	name := e.Name.Local
	if e.Name.Space != gpxSpace {
		return nil, fmt.Errorf("<%s> is of the namespace %q", name, e.Name.Space)
	}
	if len(stack) == 0 {
		if name != "gpx" || attr(e, "version") != "1.1" || attr(e, "creator") == "" {
			return nil, fmt.Errorf("<%s version=%q creator=%q>", name, attr(e, "version"), attr(e, "creator"))
		}
		return &element{name: name}, onlyAttrs(e, "version", "creator")
	}
	in := stack[len(stack)-1]
	allowed := gpxChildren[in.name]
	i := slices.IndexFunc(allowed, func(c string) bool { return strings.TrimSuffix(c, "*") == name })
	if i < in.next {
		return nil, fmt.Errorf("<%s> in <%s>, where it is unknown, stands too late or twice", name, in.name)
	}
	if in.next = i; !strings.HasSuffix(allowed[i], "*") {
		in.next++
	}
	if slices.Contains([]string{"wpt", "rtept", "trkpt"}, name) {
		if err := inRange(attr(e, "lat"), -90, 90, true); err != nil {
			return nil, err
		}
		if err := inRange(attr(e, "lon"), -180, 180, false); err != nil {
			return nil, err
		}
		return &element{name: name}, onlyAttrs(e, "lat", "lon")
	}
	return &element{name: name}, onlyAttrs(e)
}

func closeGPX(o *element) error {
	text := o.texts.String()
	if _, holds := gpxChildren[o.name]; holds && strings.TrimSpace(text) != "" {
		return fmt.Errorf("text in <%s>: %q", o.name, text)
	}
	if form := gpxForms[o.name]; form != nil && !form.MatchString(text) {
		return fmt.Errorf("<%s>%s</%s>", o.name, text, o.name)
	}
	return nil
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Space == "" && a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// onlyAttrs refuses attributes that are not declared; declarations of namespaces are none.
func onlyAttrs(e xml.StartElement, names ...string) error {
	for _, a := range e.Attr {
		if a.Name.Space != "xmlns" && a.Name.Local != "xmlns" && !slices.Contains(names, a.Name.Local) {
			return fmt.Errorf("<%s %s=%q>", e.Name.Local, a.Name.Local, a.Value)
		}
	}
	return nil
}

func inRange(text string, from, to float64, inclusive bool) error {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !xsdDecimal.MatchString(text) || v < from || v > to || v == to && !inclusive {
		return fmt.Errorf("%q is no decimal from %v to %v", text, from, to)
	}
	return nil
}

// The checker finds what is wrong.
func TestCheckGPX(t *testing.T) {
	wrap := func(inner string) string {
		return `<gpx version="1.1" creator="x" xmlns="` + gpxSpace + `" xmlns:o="urn:o">` + inner + `</gpx>`
	}
	for _, good := range []string{
		`<metadata><name>a</name><extensions><o:a>x<o:b/></o:a></extensions></metadata><wpt lat="-90" lon="-180"><ele>-.5</ele><name/></wpt><wpt lat="90.0" lon="179.9"/><trk/><trk><trkseg/></trk>`,
		``,
	} {
		if err := checkGPX(wrap(good)); err != nil {
			t.Errorf("%s: %v", good, err)
		}
	}
	for _, bad := range []string{
		`<wpt lon="1"/>`, `<wpt lat="1"/>`, `<wpt lat="90.1" lon="1"/>`, `<wpt lat="1" lon="180"/>`, `<wpt lat="1e1" lon="1"/>`,
		`<wpt lat="1" lon="1"><name/><ele>1</ele></wpt>`, `<wpt lat="1" lon="1"><ele>1e3</ele></wpt>`, `<wpt lat="1" lon="1"><ele/></wpt>`,
		`<wpt lat="1" lon="1"><name/><name/></wpt>`, `<trk/><wpt lat="1" lon="1"/>`, `<metadata/><metadata/>`, `<extensions><a/></extensions>`,
		`<o:a/>`, `<b/>`, `<trk id="1"/>`, `<trk>text</trk>`, `<metadata><time>yesterday</time></metadata>`, `<trk><trkpt lat="1" lon="1"/></trk>`,
	} {
		if checkGPX(wrap(bad)) == nil {
			t.Errorf("%s passes", bad)
		}
	}
	if checkGPX(`<gpx version="1.1" xmlns="`+gpxSpace+`"/>`) == nil || checkGPX(`<gpx version="1.1" creator="x"/>`) == nil {
		t.Error("no creator, or no namespace, passes")
	}
}
