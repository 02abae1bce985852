package gpxfile

import (
	"bytes"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// sniff looks at the first bytes of the text that are not white space, so that a
// file of another kind is called by its name and not a badly made GPX file.
func (s *scanner) sniff() error {
	for s.need(1) && isSpace(s.buf[s.pos]) {
		s.pos++
	}
	s.need(14)
	head := s.buf[s.pos:]
	if len(head) == 0 && s.err == io.EOF {
		return s.faultAt(1, 1, "empty file", "nothing was saved in it: download or export it again")
	}
	if len(head) == 0 || head[0] == '<' && !isHTML(head) {
		return nil
	}
	what, hint := "it does not begin with <", hintExport
	switch {
	case isHTML(head):
		what, hint = "it is a web page", "save the GPX file itself, not the page that offers it"
	case head[0] == '{' || head[0] == '[':
		what = "it looks like JSON"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		what, hint = "it is a ZIP archive", "unpack it and take the .gpx file from it"
	case len(head) > 12 && string(head[8:12]) == ".FIT":
		what = "it is a FIT recording"
	}
	return s.fault(s.pos, "this is not GPX: "+what, hint)
}

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
