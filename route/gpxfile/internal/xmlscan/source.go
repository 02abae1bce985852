package xmlscan

import (
	"bytes"
	"errors"
	"io"

	"lastpump/route/input"
)

const (
	firstBuffer = 64 << 10 // enough for any sane tag, small enough for the cache
	maxToken    = 1 << 20  // bytes of a tag, or of a text that is read
	maxEmpty    = 100      // reads in a row that bring neither bytes nor an error
)

var (
	errTooLong = errors.New("longer than 1 MiB")
	errZeros   = errors.New("zero bytes where the file should go on")
)

// A source is a window that slides over the file. What lies before keep may be
// dropped when more is read in; indices into buf are good until then.
type source struct {
	r       io.Reader
	file    string                   // for errors
	buf     []byte                   // read and not dropped
	pos     int                      // Next byte to look at
	keep    int                      // first byte still needed, at most pos
	err     error                    // what ended the reading: io.EOF, errTooLong, or the reader's own
	text    bool                     // what is read is text: a zero byte ends it
	explain func(error) *input.Error // what is wrong where reading stops

	// Lines are counted only where a place is asked for and where bytes are
	// dropped: the lines before counted are in line, and lineStart is the index
	// (negative once dropped) at which the line of counted starts.
	line, lineStart, counted int
}

// more brings in at least one byte; false if there are none, and err says why.
// It reads at least as much again as is held, so that a tag which is started
// over at every call costs twice its length and not its square.
func (s *source) more() bool {
	if s.err != nil {
		return false
	}
	s.drop()
	held := len(s.buf)
	if held > maxToken {
		s.err = errTooLong
		return false
	}
	if held == cap(s.buf) {
		s.buf = append(make([]byte, 0, max(firstBuffer, 2*held)), s.buf...)
	}
	empty := 0
	for s.err == nil && len(s.buf) < cap(s.buf) && len(s.buf) <= 2*held {
		n, err := s.r.Read(s.buf[len(s.buf):cap(s.buf)])
		s.buf, s.err = s.buf[:len(s.buf)+n], err
		s.endAtZeros(len(s.buf) - n)
		if n > 0 {
			empty = 0
		} else if empty++; empty == maxEmpty && err == nil {
			s.err = io.ErrNoProgress
		}
	}
	return len(s.buf) > held
}

// endAtZeros ends the text at its first zero byte from an index on: a recorder
// that loses its power leaves them behind.
func (s *source) endAtZeros(from int) {
	if !s.text {
		return
	}
	if i := bytes.IndexByte(s.buf[from:], 0); i >= 0 {
		s.buf, s.err = s.buf[:from+i], errZeros
	}
}

// Text says that what is read is text from here on.
func (s *source) Text() {
	s.text = true
	s.endAtZeros(s.pos)
}

// drop moves what is still needed to the front of the buffer.
func (s *source) drop() {
	n := s.keep
	s.count(n)
	s.buf = s.buf[:copy(s.buf, s.buf[n:])]
	s.pos -= n
	s.lineStart -= n
	s.counted -= n
	s.keep = 0
}

// need tries to have n bytes from pos on.
func (s *source) need(n int) bool {
	for len(s.buf)-s.pos < n {
		s.keep = s.pos
		if !s.more() {
			return false
		}
	}
	return true
}

// nextByte gives the byte at pos and goes beyond it.
func (s *source) nextByte() (byte, bool) {
	if s.pos == len(s.buf) && !s.need(1) {
		return 0, false
	}
	s.pos++
	return s.buf[s.pos-1], true
}

// seek goes to the next pattern, forgetting what lies before it.
func (s *source) seek(pattern string) bool {
	for {
		if i := bytes.Index(s.buf[s.pos:], []byte(pattern)); i >= 0 {
			s.pos += i
			return true
		}
		// The pattern may have begun in the last bytes.
		s.pos = max(s.pos, len(s.buf)-len(pattern)+1)
		s.keep = s.pos
		if !s.more() {
			return false
		}
	}
}

// count moves the line count on to index i.
func (s *source) count(i int) {
	if i <= s.counted {
		return
	}
	passed := s.buf[s.counted:i]
	if n := bytes.Count(passed, newline); n > 0 {
		s.line += n
		s.lineStart = s.counted + bytes.LastIndexByte(passed, '\n') + 1
	}
	s.counted = i
}

var newline = []byte{'\n'}

// place gives the line and column of index i, which must not lie before an
// index asked for earlier.
func (s *source) place(i int) (line, col int) {
	s.count(i)
	return s.line, i - s.lineStart + 1
}

// at gives an error the place of index i.
func (s *source) at(i int, e *input.Error) error {
	e.File = s.file
	e.Line, e.Col = s.place(i)
	return e
}

// fault makes the error for what is wrong at index i.
func (s *source) fault(i int, what, hint string) error {
	return s.at(i, &input.Error{What: what, Hint: hint})
}

// ended makes the error for a file that gives no more bytes in the middle of
// something.
func (s *source) ended(middleOf string) error {
	switch {
	case s.err == errTooLong:
		return s.fault(s.keep, middleOf+" is "+errTooLong.Error(), hintDamaged)
	case s.err != io.EOF:
		return s.unreadable()
	}
	return s.at(len(s.buf), CutOff("the file ends in the middle of "+middleOf))
}

// unreadable makes the error for a reader that failed.
func (s *source) unreadable() error {
	if s.err == errZeros {
		return s.at(len(s.buf), CutOff(errZeros.Error()))
	}
	return s.at(len(s.buf), s.explain(s.err))
}
