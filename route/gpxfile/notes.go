package gpxfile

import "fmt"

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
