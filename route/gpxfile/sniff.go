package gpxfile

import (
	"bytes"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/gabriel-vasile/mimetype"
)

// sniffed is how much of a file of another kind is looked at.
const sniffed = 3072

// sniff looks at the first bytes of the text that are not white space, so that a
// file of another kind is called by its name and not a badly made GPX file.
func (s *scanner) sniff() error {
	for s.need(1) && isSpace(s.buf[s.pos]) {
		s.pos++
	}
	s.need(len("<!doctype html"))
	head := s.buf[s.pos:]
	if len(head) == 0 && s.err == io.EOF {
		return s.faultAt(1, 1, "empty file", "nothing was saved in it: download or export it again")
	}
	if len(head) == 0 || head[0] == '<' && !isHTML(head) {
		return nil
	}
	s.need(sniffed)
	head = s.buf[s.pos:min(len(s.buf), s.pos+sniffed)]
	if head[0] == 0 && len(bytes.Trim(head, "\x00")) == 0 {
		return s.fault(s.pos, "nothing but zero bytes", "the recorder lost its power before it wrote the ride: there is nothing to read")
	}
	what, hint := kindOf(head)
	return s.fault(s.pos, what, hint)
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
	head = trim(head)
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

// shown is how much of a file's own words an error repeats, in bytes.
const shown = 40

// clip shortens a name for an error.
func clip(b []byte) string {
	if len(b) <= shown {
		return string(b)
	}
	n := shown
	for n > 0 && !utf8.RuneStart(b[n]) {
		n--
	}
	return string(b[:n]) + "…"
}

// quote shortens a text for an error and puts it in quotes.
func quote(b []byte) string { return strconv.Quote(clip(b)) }

// firstRune gives the first character of b in quotes.
func firstRune(b []byte) string {
	_, size := utf8.DecodeRune(b)
	return strconv.Quote(string(b[:size]))
}
