package gpxfile

import (
	"bytes"
	"strings"

	"lastpump/route/gpxfile/internal/xmlscan"

	"github.com/gabriel-vasile/mimetype"
)

// sniffed is how much of a file of another kind is looked at.
const sniffed = 3072

// sniff looks at the first bytes of the text that are not white space, so that a
// file of another kind is called by its name and not a badly made GPX file.
func (d *builder) sniff() error {
	s := d.scan
	head := s.Peek(len("<!doctype html"))
	if len(head) == 0 && s.Ended() {
		return s.FaultAt(1, 1, "empty file", "nothing was saved in it: download or export it again")
	}
	if len(head) == 0 || head[0] == '<' && !isHTML(head) {
		return nil
	}
	head = s.Peek(sniffed)
	head = head[:min(len(head), sniffed)]
	if head[0] == 0 && len(bytes.Trim(head, "\x00")) == 0 {
		return s.Fault("nothing but zero bytes",
			"the recorder lost its power before it wrote the ride: there is nothing to read")
	}
	return s.Fault(kindOf(head))
}

// Likely tells by the first bytes of a file whether to read it as GPX, packed or
// not, rather than as a list in plain text.
func Likely(head []byte) bool {
	head = bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))
	for _, magic := range []string{"\x1f\x8b", zipMagic, zipEmpty, "\xff\xfe<", "\xfe\xff\x00<"} {
		if bytes.HasPrefix(head, []byte(magic)) {
			return true
		}
	}
	head = xmlscan.Trim(head)
	return len(head) > 0 && head[0] == '<'
}

// kindOf tells what a file looks like that does not begin as XML does, and what
// to do about it.
func kindOf(head []byte) (what, hint string) {
	if len(head) > 12 && string(head[8:12]) == ".FIT" {
		return looks("a FIT recording")
	}
	kind := mimetype.Detect(head)
	switch mime := kind.String(); {
	case kind.Is("text/html"), isHTML(head):
		return "this looks like a web page, not GPX", "save the GPX file itself, not the page that offers it"
	case kind.Is("application/geo+json"), bytes.Contains(head, []byte(`"FeatureCollection"`)):
		return looks("GeoJSON")
	case kind.Is("application/json"), head[0] == '{' || head[0] == '[':
		return looks("JSON")
	case strings.HasPrefix(mime, "image/"):
		return looks("an image (" + strings.ToUpper(strings.TrimPrefix(kind.Extension(), ".")) + ")")
	case strings.HasPrefix(mime, "text/"):
		return "this is not GPX: it does not begin with <", hintExport
	case kind.Extension() == "":
		return "this is not GPX: it does not begin with <", hintExport
	}
	return looks("a " + kind.Extension() + " file")
}

func looks(like string) (what, hint string) {
	return "this looks like " + like + ", not GPX", hintExport
}

// otherRoots are the outermost elements of other kinds of XML.
var otherRoots = map[string]string{"kml": "KML", "svg": "an image (SVG)", "html": "a web page", "osm": "map data"}

func isHTML(head []byte) bool {
	start := strings.ToLower(string(head[:min(len(head), 14)]))
	return strings.HasPrefix(start, "<!doctype html") || strings.HasPrefix(start, "<html")
}

// What to do next, for the faults that have it in common.
const (
	hintExport = "export the track as GPX"
	hintPoint  = "every point needs lat and lon in decimal degrees: mend this point or delete it"
	hintComma  = "write a decimal point, not a comma"
)
