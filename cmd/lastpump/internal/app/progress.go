package app

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync/atomic"
	"time"

	"lastpump/cmd/lastpump/internal/words"
	"lastpump/fuel/plan"
	"lastpump/route/input"

	"github.com/mattn/go-isatty"
)

// A Progress tells somebody who waits what is being done. It says nothing of work
// that takes less than a second, nor where nobody looks.
type Progress struct {
	stage atomic.Pointer[Stage]
}

// A Stage is a step of the work; of what is read, how much has been.
type Stage struct {
	what string
	Done atomic.Int64 // bytes
	All  int64        // 0 where it is not known
}

func (s *Stage) String() string {
	done := float64(s.Done.Load()) / 1e6
	switch {
	case done == 0:
		return s.what
	case s.All == 0:
		return fmt.Sprintf("%s: %.0f MB", s.what, done)
	}
	all := float64(s.All) / 1e6
	return fmt.Sprintf("%s: %s %.0f of %.0f MB", s.what, bar(done/all), done, all)
}

// bar draws a share, in a box that is full when all is done.
func bar(share float64) string {
	const width = 20
	full := int(width*min(max(share, 0), 1) + 1e-9)
	return "[" + strings.Repeat("#", full) + strings.Repeat(" ", width-full) + "]"
}

// Begin names what is done from now on.
func (p *Progress) Begin(what string) *Stage {
	s := &Stage{what: input.OneLine(what)}
	p.stage.Store(s)
	return s
}

// Tell shows how far the planner is.
func (p *Progress) Tell(s plan.Step, done, of int) {
	p.Begin(fmt.Sprintf("%s: %s", words.Step(s), bar(float64(done)/float64(of))))
}

// Through counts what is read.
func (s *Stage) Through(r io.Reader) io.Reader { return countingReader{r, &s.Done} }

type countingReader struct {
	r io.Reader
	n *atomic.Int64
}

func (c countingReader) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n.Add(int64(n))
	return n, err
}

// Watch shows the stage on a terminal once the work takes longer than a while, and
// again and again until it is told to stop; the line is wiped then.
func (p *Progress) Watch(w io.Writer, terminal bool, after, every time.Duration) (stop func()) {
	if !terminal {
		return func() {}
	}
	done, gone := make(chan bool), make(chan bool)
	go func() {
		defer close(gone)
		const wipe = "\r\x1b[K" // ECMA-48: to the start of the line, erase it
		shown := false
		for wait := after; ; wait = every {
			select {
			case <-done:
				if shown {
					fmt.Fprint(w, wipe)
				}
				return
			case <-time.After(wait):
				if s := p.stage.Load(); s != nil {
					fmt.Fprint(w, wipe, s)
					shown = true
				}
			}
		}
	}()
	return func() {
		close(done)
		<-gone
	}
}

// IsTerminal tells whether a person looks at an output.
func IsTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd()) && os.Getenv("TERM") != "dumb"
}

// WantsColour tells whether a person looks at the output and has not asked for
// none (no-color.org).
func WantsColour(w io.Writer) bool {
	return IsTerminal(w) && os.Getenv("NO_COLOR") == ""
}
