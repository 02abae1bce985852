package xmlscan

import (
	"bytes"
	"unicode/utf8"
)

// Tags are parsed in one piece of the buffer. Where the buffer ends within the
// tag, the parser gives 0, more is read in and the tag is started over; so the
// parsers need not look for the end of the buffer at every byte.

// startTag consumes the start tag at pos.
func (s *Scanner) startTag() (Token, error) {
	for {
		n, err := s.parseStart(s.buf[s.keep:])
		if err != nil {
			return 0, err
		}
		if n > 0 && n <= maxToken {
			s.pos = s.keep + n
			return Start, s.push()
		}
		if n > 0 {
			s.err = errTooLong
		}
		if !s.more() {
			return 0, s.ended(s.cutTag(1))
		}
	}
}

// endTag consumes the end tag at pos.
func (s *Scanner) endTag() (Token, error) {
	// Nearly all of them are exactly "</", the name, ">".
	top, b := s.top(), s.buf[s.keep+2:]
	if n := len(top); n > 0 && n < len(b) && b[n] == '>' && string(b[:n]) == string(top) {
		s.pos += n + 3
		s.pop()
		return End, nil
	}
	for {
		n, err := s.parseEnd(s.buf[s.keep:])
		if err != nil {
			return 0, err
		}
		if n > 0 && n <= maxToken {
			s.pos = s.keep + n
			s.pop()
			return End, nil
		}
		if n > 0 {
			s.err = errTooLong
		}
		if !s.more() {
			return 0, s.ended(s.cutTag(2))
		}
	}
}

// cutTag names the tag at keep that the file has only the beginning of.
func (s *Scanner) cutTag(from int) string {
	b := s.buf[s.keep:]
	end := from
	for end < len(b) && nameClass[b[end]] != 0 {
		end++
	}
	if end == from {
		return "a tag"
	}
	return string(b[:from]) + Clip(b[from:end]) + ">"
}

// parseStart parses the start tag that b begins with and gives its length.
func (s *Scanner) parseStart(b []byte) (int, error) {
	i, colon, err := s.parseName(b, 1)
	if i == 0 || err != nil {
		return 0, err
	}
	if i == 1 {
		return 0, s.fault(s.keep, `"<" that starts no tag`, hintEscape)
	}
	if i, err = s.setName(b[1:i], colon); err != nil {
		return 0, err
	}
	s.Attrs, s.values = s.Attrs[:0], s.values[:0]
	for i++; ; {
		i = PassSpace(b, i)
		if i == len(b) {
			return 0, nil
		}
		if b[i] == '>' {
			return i + 1, nil
		}
		if b[i] == '/' {
			return s.parseEmpty(b, i)
		}
		if i, err = s.parseAttr(b, i); i == 0 || err != nil {
			return 0, err
		}
	}
}

// setName takes the name of a start tag apart and gives its length. A colon at
// either end is part of the local name, as in encoding/xml.
func (s *Scanner) setName(name []byte, colon bool) (int, error) {
	s.Name, s.Prefix, s.Local = name, nil, name
	if colon {
		cut := bytes.IndexByte(name, ':')
		if bytes.IndexByte(name[cut+1:], ':') >= 0 {
			return 0, s.fault(s.keep, "two colons in the name "+Quote(name), hintDamaged)
		}
		if cut > 0 && cut < len(name)-1 {
			s.Prefix, s.Local = name[:cut], name[cut+1:]
		}
	}
	return len(name), nil
}

// parseEmpty parses the "/>" at b[i:].
func (s *Scanner) parseEmpty(b []byte, i int) (int, error) {
	if i+1 == len(b) {
		return 0, nil
	}
	if b[i+1] != '>' {
		return 0, s.fault(s.keep+i, `"/" without ">" in <`+Clip(s.Name)+">", hintDamaged)
	}
	s.empty = true
	return i + 2, nil
}

// parseEnd parses the end tag that b begins with and gives its length.
func (s *Scanner) parseEnd(b []byte) (int, error) {
	i, _, err := s.parseName(b, 2)
	if i == 0 || err != nil {
		return 0, err
	}
	name := b[2:i]
	if len(name) == 0 {
		return 0, s.fault(s.keep, `"</" without a name`, hintDamaged)
	}
	if i = PassSpace(b, i); !utf8.FullRune(b[i:]) { // of which a fault would show the first
		return 0, nil
	}
	switch top := s.top(); {
	case b[i] != '>':
		return 0, s.fault(s.keep+i, "unexpected "+firstRune(b[i:])+" in </"+Clip(name)+">", hintDamaged)
	case len(top) == 0:
		return 0, s.fault(s.keep, "</"+Clip(name)+"> closes nothing", hintDamaged)
	case !bytes.Equal(name, top):
		return 0, s.fault(s.keep, "</"+Clip(name)+"> where </"+Clip(top)+"> is due", hintDamaged)
	}
	return i + 1, nil
}

// parseName finds the end of the name at b[i:], i itself if there is none, and
// whether it has a colon.
func (s *Scanner) parseName(b []byte, i int) (end int, colon bool, err error) {
	start, seen := i, byte(0)
	for i < len(b) && nameClass[b[i]] != 0 {
		seen |= nameClass[b[i]]
		i++
	}
	switch {
	case i == len(b):
		return 0, false, nil
	case i == start:
		return i, false, nil
	case nameClass[b[start]] == nameRest,
		seen&nameWide != 0 && !isWideName(b[start:i]):
		return 0, false, s.fault(s.keep+start, Quote(b[start:i])+" is not a name in XML", hintDamaged)
	}
	return i, seen&nameColon != 0, nil
}

// parseAttr parses the attribute at b[i:] and gives the index after it.
func (s *Scanner) parseAttr(b []byte, i int) (int, error) {
	end, colon, err := s.parseName(b, i)
	if end == 0 || err != nil {
		return 0, err
	}
	name := b[i:end]
	if end == i && !utf8.FullRune(b[i:]) {
		return 0, nil
	}
	if end == i {
		return 0, s.fault(s.keep+i, "unexpected "+firstRune(b[i:])+" in <"+Clip(s.Name)+">", hintDamaged)
	}
	if colon && bytes.Count(name, []byte(":")) > 1 {
		return 0, s.fault(s.keep+i, "two colons in the name "+Quote(name), hintDamaged)
	}
	if i = PassSpace(b, end); i == len(b) {
		return 0, nil
	}
	if b[i] != '=' {
		return 0, s.fault(s.keep+i, "attribute "+Clip(name)+` without "="`, hintDamaged)
	}
	if i = PassSpace(b, i+1); i == len(b) {
		return 0, nil
	}
	if b[i] != '"' && b[i] != '\'' {
		return 0, s.fault(s.keep+i, "attribute "+Clip(name)+" without quotes", hintDamaged)
	}
	value, n, err := s.parseValue(b, i)
	s.Attrs = append(s.Attrs, Attr{name, value})
	return n, err
}

// parseValue parses the quoted value at b[i:] and gives the index after it.
func (s *Scanner) parseValue(b []byte, i int) ([]byte, int, error) {
	value := b[i+1:]
	n := bytes.IndexByte(value, b[i])
	if n >= 0 {
		value = value[:n]
	}
	if lt := bytes.IndexByte(value, '<'); lt >= 0 {
		return nil, 0, s.fault(s.keep+i+1+lt, `"<" in an attribute of <`+Clip(s.Name)+">",
			"write &lt;, or mend the quotes before it")
	}
	if n < 0 {
		return nil, 0, nil
	}
	for _, c := range value {
		if !plainValue[c] {
			resolved, err := s.resolve(value, s.keep+i+1)
			return resolved, i + n + 2, err
		}
	}
	return value, i + n + 2, nil
}

// resolve rewrites an attribute value that is not plain; at is its index.
func (s *Scanner) resolve(value []byte, at int) ([]byte, error) {
	start := len(s.values)
	for i := 0; i < len(value); {
		r, size := utf8.DecodeRune(value[i:])
		switch {
		case r == '&':
			if r, size = parseReference(value[i:]); size <= 0 {
				s.oddReference(s.keep, value[i:]) // the tag's own place, which may be asked for next
				r, size = '&', 1
			}
		case r == '\r': // line ends as in text
			r = '\n'
			if i+1 < len(value) && value[i+1] == '\n' {
				size = 2
			}
		case r == utf8.RuneError && size == 1:
			s.notUTF8(s.keep) // the tag's own place, which may be asked for next
		case !IsChar(r):
			return nil, s.badChar(at+i, r)
		}
		s.values = utf8.AppendRune(s.values, r)
		i += size
	}
	return s.values[start:], nil
}

// PassSpace gives the index of the first byte from b[i] on that is no white
// space.
func PassSpace(b []byte, i int) int {
	for i < len(b) && IsSpace(b[i]) {
		i++
	}
	return i
}
