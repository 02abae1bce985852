package xmlscan

import (
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"

	"lastpump/route/input"
)

// ErrCut is the cause of an error where a file ends too early.
var ErrCut = errors.New("the file was cut off")

// CutOff makes the error for a file that ends too early, yet without its place.
func CutOff(what string) *input.Error {
	return &input.Error{What: what, Hint: "the file was cut off: download or export it again", Cause: ErrCut}
}

// What to do next, for the faults that have it in common.
const (
	hintDamaged = "the file is damaged or was edited by hand: look at this place, or export the file again"
	hintOneRoot = "a GPX file is one <gpx> element: were two files put one after the other?"
	hintEscape  = "in XML write < as &lt;"
)

// shown is how much of a file's own words an error repeats, in bytes.
const shown = 40

// Clip shortens a name for an error.
func Clip(b []byte) string {
	if len(b) <= shown {
		return string(b)
	}
	n := shown
	for n > 0 && !utf8.RuneStart(b[n]) {
		n--
	}
	return string(b[:n]) + "…"
}

// Quote shortens a text for an error and puts it in quotes.
func Quote(b []byte) string { return strconv.Quote(Clip(b)) }

// firstRune gives the first character of b in quotes.
func firstRune(b []byte) string {
	_, size := utf8.DecodeRune(b)
	return strconv.Quote(string(b[:size]))
}

// notes are what was odd but read all the same: one line for each kind, with the
// place of the first and the number of the rest, so that a file in which every
// point is odd does not bury the reader.
type notes []note

// maxNotes is how many kinds are told apart: a file can be odd in any number of
// ways.
const maxNotes = 20

type note struct {
	line, col int
	what      string
	more      int
}

func (n *notes) add(line, col int, what string) {
	for i := range *n {
		if (*n)[i].what == what {
			(*n)[i].more++
			return
		}
	}
	if len(*n) == maxNotes {
		(*n)[maxNotes-1].more++
		return
	}
	*n = append(*n, note{line, col, what, 0})
}

// lines gives the notes as text.
func (n notes) lines(file string) []string {
	var out []string
	for _, x := range n {
		text := fmt.Sprintf("%s:%d:%d: %s", file, x.line, x.col, x.what)
		if x.more > 0 {
			text += fmt.Sprintf(" (and %d more like it)", x.more)
		}
		out = append(out, text)
	}
	return out
}
