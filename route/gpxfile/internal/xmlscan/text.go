package xmlscan

import (
	"bytes"
	"fmt"
	"unicode"
	"unicode/utf8"
)

// passText goes to the next "<" or to the end of the file. What it passes is
// gathered if it is wanted, and checked in any case.
func (s *Scanner) passText() error {
	if s.depth() == 0 {
		return s.outside()
	}
	for {
		c, ok := s.run(&plainText)
		if !ok || c == '<' {
			return nil // Next finds out whether the file may end here
		}
		if err := s.odd(c); err != nil {
			return err
		}
	}
}

// outside goes to the next "<" where no element is open and nothing but white
// space may stand.
func (s *Scanner) outside() error {
	for s.need(1) {
		c := s.buf[s.pos]
		if c == '<' {
			return nil
		}
		if !IsSpace(c) {
			if s.rootSeen {
				return s.fault(s.pos, "text after the end of the outermost element", hintOneRoot)
			}
			return s.fault(s.pos, "text before the outermost element", hintDamaged)
		}
		s.pos++
	}
	return nil
}

// cdata consumes a CDATA section. Its text is text like any other, but for "<"
// and "&".
func (s *Scanner) cdata() error {
	if s.depth() == 0 {
		return s.fault(s.keep, "CDATA outside the outermost element", hintOneRoot)
	}
	s.pos += len("<![CDATA[")
	for {
		c, ok := s.run(&plainCDATA)
		if !ok {
			return s.ended("a CDATA section")
		}
		if c == ']' && s.need(3) && string(s.buf[s.pos:s.pos+3]) == "]]>" {
			s.pos += 3
			return nil
		}
		if c == ']' {
			s.gather(s.buf[s.pos : s.pos+1])
			s.pos++
		} else if err := s.odd(c); err != nil {
			return err
		}
	}
}

// run passes the bytes that are plain in the table and gives the first that is
// not, without consuming it; false at the end of the file.
func (s *Scanner) run(plain *[256]bool) (byte, bool) {
	for {
		b := s.buf[s.pos:]
		n := 0
		for n < len(b) && plain[b[n]] {
			n++
		}
		if s.want {
			s.gather(b[:n])
		}
		s.pos += n
		if n < len(b) {
			return b[n], true
		}
		s.keep = s.pos
		if !s.more() {
			return 0, false
		}
	}
}

// gather keeps text that is wanted. It stops once there is too much of it;
// Contents makes that an error.
func (s *Scanner) gather(b []byte) {
	if s.want && len(s.text) <= maxToken {
		s.text = append(s.text, b...)
	}
}

// odd consumes a byte of text that is not plain: a reference, a carriage return,
// "]", the start of a wide rune, or what must not be there.
func (s *Scanner) odd(c byte) error {
	switch {
	case c == '&':
		return s.reference()
	case c == '\r':
		s.carriageReturn()
		return nil
	case c >= utf8.RuneSelf:
		return s.wideRune()
	case c == ']':
		if s.need(3) && string(s.buf[s.pos:s.pos+3]) == "]]>" {
			return s.fault(s.pos, `"]]>" outside a CDATA section`, "write ]]&gt;")
		}
		s.gather(s.buf[s.pos : s.pos+1])
		s.pos++
		return nil
	}
	return s.badChar(s.pos, rune(c))
}

// carriageReturn makes one line feed of "\r" and of "\r\n".
//
//	[2] section 2.11, End-of-Line Handling.
func (s *Scanner) carriageReturn() {
	if !s.need(2) || s.buf[s.pos+1] != '\n' {
		s.gather(newline)
	}
	s.pos++ // the line feed itself is plain
}

// wideRune consumes a rune from U+0080 on, or one byte that is no UTF-8.
func (s *Scanner) wideRune() error {
	for !utf8.FullRune(s.buf[s.pos:]) && s.need(len(s.buf)-s.pos+1) {
	}
	r, size := utf8.DecodeRune(s.buf[s.pos:])
	switch {
	case r == utf8.RuneError && size == 1:
		s.notUTF8(s.pos)
		s.gather(replacement)
	case !IsChar(r):
		return s.badChar(s.pos, r)
	default:
		s.gather(s.buf[s.pos : s.pos+size])
	}
	s.pos += size
	return nil
}

var replacement = []byte("\uFFFD")

// notUTF8 notes where the first byte is that is no UTF-8.
func (s *Scanner) notUTF8(i int) {
	if s.badLine == 0 {
		s.badLine, s.badCol = s.place(i)
	}
}

func (s *Scanner) badChar(i int, r rune) error {
	return s.fault(i, fmt.Sprintf("character %U is not allowed in XML", r), hintDamaged)
}

// reference consumes a reference in text.
func (s *Scanner) reference() error {
	for {
		r, n := parseReference(s.buf[s.pos:])
		if n > 0 {
			var utf [utf8.UTFMax]byte
			s.gather(utf8.AppendRune(utf[:0], r))
			s.pos += n
			return nil
		}
		if n < 0 {
			s.need(maxReference + 1)
			s.oddReference(s.pos, s.buf[s.pos:])
			s.gather(s.buf[s.pos : s.pos+1])
			s.pos++
			return nil
		}
		s.keep = s.pos
		if !s.more() {
			return s.ended("<" + Clip(s.top()) + ">")
		}
	}
}

// maxReference is how far from "&" a ";" is looked for to word a note.
const maxReference = 20

// oddReference notes what looks like a reference at index i and is none that XML
// knows: &nbsp; from a web page, or a bare "&". It is kept as text, for nothing
// that matters to a line is written with it.
func (s *Scanner) oddReference(i int, b []byte) {
	end := 1
	for end < min(len(b), maxReference) && (nameClass[b[end]] != 0 || b[end] == '#') {
		end++
	}
	what := `"&" that starts no reference`
	if 1 < end && end < len(b) && b[end] == ';' {
		what = "unknown reference " + Quote(b[:end+1])
	}
	line, col := s.place(i)
	s.notes.add(line, col, what+", kept as text")
}

var entities = []struct {
	ref  string
	char rune
}{{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&apos;", '\''}}

// parseReference reads the reference at the start of b, which starts with "&":
// its character and its length, 0 where b ends too early, -1 for no reference or
// a character that must not be in a file. A half of a surrogate pair, which some
// writers put out, is no character; it becomes U+FFFD as in encoding/xml.
//
//	[2] section 4.1, production [66] CharRef, and section 4.6, Predefined Entities.
func parseReference(b []byte) (rune, int) {
	if len(b) > 1 && b[1] == '#' {
		return parseCharRef(b)
	}
	for _, e := range entities {
		if bytes.HasPrefix(b, []byte(e.ref)) {
			return e.char, len(e.ref)
		}
		if len(b) < len(e.ref) && string(b) == e.ref[:len(b)] {
			return 0, 0
		}
	}
	return 0, -1
}

func parseCharRef(b []byte) (rune, int) {
	i, base := 2, rune(10)
	if i < len(b) && b[i] == 'x' {
		i, base = 3, 16
	}
	r, first := rune(0), i
	for ; i < len(b) && b[i] != ';'; i++ {
		d := digit(b[i])
		if d >= base {
			return 0, -1
		}
		if r = r*base + d; r > unicode.MaxRune {
			return 0, -1
		}
	}
	switch {
	case i == len(b):
		return 0, 0
	case i == first:
		return 0, -1
	case 0xD800 <= r && r <= 0xDFFF:
		r = utf8.RuneError
	case !IsChar(r):
		return 0, -1
	}
	return r, i + 1
}

// digit gives the value of a hexadecimal digit, or 16.
func digit(c byte) rune {
	switch {
	case '0' <= c && c <= '9':
		return rune(c - '0')
	case 'a' <= c|0x20 && c|0x20 <= 'f':
		return rune(c|0x20-'a') + 10
	}
	return 16
}
