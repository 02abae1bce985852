// Package xmlscan reads XML as a stream, with the line and column of each fault. It knows
// of GPX only what a rider may do about a damaged file. Start with [New].
//
// # Sources
//
//	[2] Extensible Markup Language (XML) 1.0 (Fifth Edition), W3C.
//	[3] Namespaces in XML 1.0, W3C.
package xmlscan

import (
	"bytes"
	"fmt"
	"io"

	"lastpump/route/input"
)

// maxDepth keeps the stack of open elements small; GPX needs about ten.
const maxDepth = 1000

// A Token is what Next has found. Text is none: it is passed over, or
// gathered where it is wanted.
type Token byte

const (
	Start Token = iota + 1 // a start tag; an empty one is followed by End
	End                    // an end tag
	EOF                    // the end of a well-formed file
)

// A Scanner reads XML [2] as a stream and checks that it is well-formed, as the
// strict decoder of encoding/xml does, with these differences on purpose: there
// must be exactly one outermost element and nothing but white space around it;
// names follow the fifth edition; any XML version is read as 1.0 (section 2.8);
// bytes that are not UTF-8 become U+FFFD; the limits of the package comment.
type Scanner struct {
	source

	// The start tag in hand; good until Next is called again.
	Name, Prefix, Local []byte
	Attrs               []Attr
	values              []byte // attribute values that had to be rewritten
	empty               bool   // it was <a/>, and its end is still to come
	line0, col0         int    // its place, where its contents are read already; else 0

	open   []byte // names of the open elements, one after the other
	starts []int  // where each starts in open
	spaces spaces

	want bool   // gather text
	text []byte // the text gathered, references resolved

	notes           notes
	rootSeen        bool
	badLine, badCol int // of the first byte that is no UTF-8; 0 if all is well
}

// An Attr is an attribute with its references resolved.
type Attr struct{ Name, Value []byte }

// New makes a scanner of a file in UTF-8. explain says what is wrong where reading stops
// with an error, yet without the place.
func New(r io.Reader, file string, explain func(error) *input.Error) *Scanner {
	return &Scanner{source: source{r: r, file: file, line: 1, explain: explain}}
}

// Peek passes white space and gives what follows it: n bytes or more, if the file has as
// many. It is for the beginning of a file, before anything else is asked for.
func (s *Scanner) Peek(n int) []byte {
	for s.need(1) && IsSpace(s.buf[s.pos]) {
		s.pos++
	}
	s.need(n)
	s.keep = s.pos
	return s.buf[s.pos:]
}

// Ended tells whether all of the file has been read in.
func (s *Scanner) Ended() bool { return s.err == io.EOF }

// Rest gives what has been read in and follows the tag in hand; nothing after an empty one,
// whose end is still to come. Pass goes on behind the first n bytes of it.
func (s *Scanner) Rest() []byte {
	if s.empty {
		return nil
	}
	return s.buf[s.pos:]
}

// Pass goes on behind the first n bytes of what Rest gives.
func (s *Scanner) Pass(n int) { s.pos += n }

// Here gives the place of the tag in hand.
func (s *Scanner) Here() (line, col int) {
	if s.line0 > 0 {
		return s.line0, s.col0
	}
	return s.place(s.keep)
}

// Place gives an error the place of the tag in hand.
func (s *Scanner) Place(e *input.Error) error {
	e.File = s.file
	e.Line, e.Col = s.Here()
	return e
}

// Fault makes an error at the tag in hand.
func (s *Scanner) Fault(what, hint string) error {
	return s.Place(&input.Error{What: what, Hint: hint})
}

// FaultAt makes an error at a place.
func (s *Scanner) FaultAt(line, col int, what, hint string) error {
	return &input.Error{File: s.file, Line: line, Col: col, What: what, Hint: hint}
}

// Note remembers what is odd but read all the same.
func (s *Scanner) Note(line, col int, what string) { s.notes.add(line, col, what) }

// Notes gives what was odd, as file:line:col: what.
func (s *Scanner) Notes() []string { return s.notes.lines(s.file) }

// Space gives the namespace that a prefix stands for at the tag in hand; declared is false
// where nothing says.
func (s *Scanner) Space(prefix []byte) (name []byte, declared bool) {
	if i := s.spaces.find(prefix); i >= 0 {
		return s.spaces.name(i), true
	}
	return nil, false
}

// depth is the number of open elements.
func (s *Scanner) depth() int { return len(s.starts) }

// Next gives the next tag.
func (s *Scanner) Next() (Token, error) {
	s.line0 = 0
	if s.empty {
		s.empty = false
		s.pop()
		return End, nil
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
func (s *Scanner) end() (Token, error) {
	switch {
	case s.pos < len(s.buf):
		return 0, s.ended("a tag")
	case s.depth() > 0:
		return 0, s.ended("<" + Clip(s.top()) + ">")
	case s.err != io.EOF:
		return 0, s.unreadable()
	}
	if s.badLine > 0 {
		s.notes.add(s.badLine, s.badCol, "bytes that are not UTF-8, read as \uFFFD")
	}
	return EOF, nil
}

// top is the name of the innermost open element.
func (s *Scanner) top() []byte {
	if len(s.starts) == 0 {
		return nil
	}
	return s.open[s.starts[len(s.starts)-1]:]
}

// push opens the element whose start tag is in hand.
func (s *Scanner) push() error {
	switch {
	case s.depth() == maxDepth:
		return s.fault(s.keep, fmt.Sprintf("elements nested over %d deep", maxDepth), hintDamaged)
	case s.depth() == 0 && s.rootSeen:
		return s.fault(s.keep, "a second outermost element, <"+Clip(s.Name)+">", hintOneRoot)
	}
	s.rootSeen = true
	s.starts = append(s.starts, len(s.open))
	s.open = append(s.open, s.Name...)
	for i := range s.Attrs {
		s.spaces.declare(s.depth(), s.Attrs[i])
	}
	return nil
}

// pop closes the innermost element.
func (s *Scanner) pop() {
	last := len(s.starts) - 1
	s.open = s.open[:s.starts[last]]
	s.starts = s.starts[:last]
	s.spaces.leave(last)
}

// Child goes to the next child of the element whose start tag was the last
// thing not consumed whole; false at the element's end.
func (s *Scanner) Child() (bool, error) {
	t, err := s.Next()
	return t == Start, err
}

// Skip consumes the rest of the element whose start tag is in hand.
func (s *Scanner) Skip() error {
	for out := s.depth() - 1; ; {
		t, err := s.Next()
		if err != nil || t == End && s.depth() == out {
			return err
		}
	}
}

// Contents consumes the element whose start tag is in hand, called tag in
// errors, and gives its own text, without that of elements in it and without the
// white space around it. It is good until the next call. Here gives the place of its start
// tag until then.
func (s *Scanner) Contents(tag string) ([]byte, error) {
	if text, ok := s.plainContents(); ok {
		return text, nil
	}
	line, col := s.Here()
	s.text = s.text[:0]
	for {
		s.want = true
		inner, err := s.Child()
		s.want = false
		if err != nil {
			return nil, err
		}
		if !inner {
			break
		}
		if err := s.Skip(); err != nil {
			return nil, err
		}
	}
	s.line0, s.col0 = line, col
	if len(s.text) > maxToken {
		return nil, s.FaultAt(line, col, tag+" "+errTooLong.Error(), hintDamaged)
	}
	return Trim(s.text), nil
}

// PlainContents does what contents does where that is easy and quick, as it nearly
// always is: the rest of the element is short, stands in the buffer and is plain
// text. False, with nothing consumed, for any other. Indices into the buffer stay
// good.
func (s *Scanner) plainContents() ([]byte, bool) {
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
	return Trim(b[:n]), true
}

// shortText is as long as the text of a number or a date may be.
const shortText = 64
