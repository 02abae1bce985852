package gpxfile

import (
	"bytes"
	"fmt"
	"io"
)

// maxDepth keeps the stack of open elements small; GPX needs about ten.
const maxDepth = 1000

// A token is what next has found. Text is no token: it is passed over, or
// gathered where it is wanted.
type token byte

const (
	tokStart token = iota + 1 // a start tag; an empty one is followed by tokEnd
	tokEnd                    // an end tag
	tokEOF                    // the end of a well-formed file
)

// A scanner reads XML [2] as a stream and checks that it is well-formed, as the
// strict decoder of encoding/xml does, with these differences on purpose: there
// must be exactly one outermost element and nothing but white space around it;
// names follow the fifth edition; any XML version is read as 1.0 (section 2.8);
// bytes that are not UTF-8 become U+FFFD; the limits of the package comment.
type scanner struct {
	source

	// The start tag in hand; good until next is called again.
	name, prefix, local []byte
	attrs               []attr
	values              []byte // attribute values that had to be rewritten
	empty               bool   // it was <a/>, and its end is still to come

	open   []byte // names of the open elements, one after the other
	starts []int  // where each starts in open
	spaces spaces

	want bool   // gather text
	text []byte // the text gathered, references resolved

	notes           notes
	rootSeen        bool
	badLine, badCol int // of the first byte that is no UTF-8; 0 if all is well
}

// An attr is an attribute with its references resolved.
type attr struct{ name, value []byte }

func newScanner(r io.Reader, file string) *scanner {
	return &scanner{source: source{r: r, file: file, line: 1}}
}

// depth is the number of open elements.
func (s *scanner) depth() int { return len(s.starts) }

// next gives the next tag.
func (s *scanner) next() (token, error) {
	if s.empty {
		s.empty = false
		s.pop()
		return tokEnd, nil
	}
	for {
		if err := s.passText(); err != nil {
			return 0, err
		}
		s.keep = s.pos
		if !s.need(2) {
			return s.end()
		}
		var err error
		switch s.buf[s.pos+1] {
		case '/':
			return s.endTag()
		case '?':
			err = s.instruction()
		case '!':
			err = s.declaration()
		default:
			return s.startTag()
		}
		if err != nil {
			return 0, err
		}
	}
}

// end is what there is to say where the file has no further tag.
func (s *scanner) end() (token, error) {
	switch {
	case s.pos < len(s.buf):
		return 0, s.ended("a tag")
	case s.depth() > 0:
		return 0, s.ended("<" + clip(s.top()) + ">")
	case s.err != io.EOF:
		return 0, s.unreadable()
	}
	return tokEOF, nil
}

// top is the name of the innermost open element.
func (s *scanner) top() []byte {
	if len(s.starts) == 0 {
		return nil
	}
	return s.open[s.starts[len(s.starts)-1]:]
}

// push opens the element whose start tag is in hand.
func (s *scanner) push() error {
	switch {
	case s.depth() == maxDepth:
		return s.fault(s.keep, fmt.Sprintf("elements nested over %d deep", maxDepth), hintDamaged)
	case s.depth() == 0 && s.rootSeen:
		return s.fault(s.keep, "a second outermost element, <"+clip(s.name)+">", hintOneRoot)
	}
	s.rootSeen = true
	s.starts = append(s.starts, len(s.open))
	s.open = append(s.open, s.name...)
	for i := range s.attrs {
		s.spaces.declare(s.depth(), s.attrs[i])
	}
	return nil
}

// pop closes the innermost element.
func (s *scanner) pop() {
	last := len(s.starts) - 1
	s.open = s.open[:s.starts[last]]
	s.starts = s.starts[:last]
	s.spaces.leave(last)
}

// child goes to the next child of the element whose start tag was the last
// thing not consumed whole; false at the element's end.
func (s *scanner) child() (bool, error) {
	t, err := s.next()
	return t == tokStart, err
}

// skip consumes the rest of the element whose start tag is in hand.
func (s *scanner) skip() error {
	for out := s.depth() - 1; ; {
		t, err := s.next()
		if err != nil || t == tokEnd && s.depth() == out {
			return err
		}
	}
}

// plainContents does what contents does where that is easy and quick, as it nearly
// always is: the rest of the element is short, stands in the buffer and is plain
// text. False, with nothing consumed, for any other. Indices into the buffer stay
// good.
func (s *scanner) plainContents() ([]byte, bool) {
	if s.empty {
		return nil, false
	}
	b, name := s.buf[s.pos:], s.top()
	n := bytes.IndexByte(b[:min(len(b), shortText)], '<')
	if n < 0 {
		return nil, false
	}
	end := n + len("</") + len(name)
	if end >= len(b) || b[n+1] != '/' || b[end] != '>' || string(b[n+2:end]) != string(name) {
		return nil, false
	}
	for _, c := range b[:n] {
		if !plainText[c] {
			return nil, false
		}
	}
	s.pos += end + 1
	s.pop()
	return trim(b[:n]), true
}

// shortText is as long as the text of a number or a date may be.
const shortText = 64

// contents consumes the element whose start tag is in hand, called tag in
// errors, and gives its own text, without that of elements in it and without the
// white space around it. It is good until the next call.
func (s *scanner) contents(tag string) ([]byte, error) {
	line, col := s.place(s.keep)
	s.text = s.text[:0]
	for {
		s.want = true
		inner, err := s.child()
		s.want = false
		if err != nil {
			return nil, err
		}
		if !inner {
			break
		}
		if err := s.skip(); err != nil {
			return nil, err
		}
	}
	if len(s.text) > maxToken {
		return nil, s.faultAt(line, col, tag+" "+errTooLong.Error(), hintDamaged)
	}
	return trim(s.text), nil
}
