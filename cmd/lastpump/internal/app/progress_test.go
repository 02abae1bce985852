package app

import (
	"bytes"
	"io"
	"strings"
	"sync"
	"testing"
	"time"
)

// A screen may be written to and looked at from two sides.
type screen struct {
	sync.Mutex
	text bytes.Buffer
	told chan bool
}

func (s *screen) Write(p []byte) (int, error) {
	s.Lock()
	defer s.Unlock()
	select {
	case s.told <- true:
	default:
	}
	return s.text.Write(p)
}

// What is done is shown after a while, with what has been read, and wiped at the
// end; quick work and work that nobody watches show nothing.
func TestProgress(t *testing.T) {
	s := &screen{told: make(chan bool, 1)}
	var p Progress
	step := p.Begin("reading loop.gpx")
	step.All = 3_000_000
	if _, err := io.Copy(io.Discard, step.Through(strings.NewReader(strings.Repeat("x", 1_200_000)))); err != nil {
		t.Fatal(err)
	}
	stop := p.Watch(s, true, time.Nanosecond, time.Hour)
	<-s.told
	stop()
	if got, want := s.text.String(), "\r\x1b[Kreading loop.gpx: [########            ] 1 of 3 MB\r\x1b[K"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for what, stop := range map[string]func(){
		"quick": p.Watch(io.Writer(s), true, time.Hour, time.Hour), "no terminal": p.Watch(s, false, 0, 0),
	} {
		s.text.Reset()
		stop()
		if s.text.Len() > 0 {
			t.Errorf("%s: %q", what, s.text.String())
		}
	}
}

func TestStagesAreWorded(t *testing.T) {
	var p Progress
	s := p.Begin("planning")
	if s.String() != "planning" {
		t.Error(s)
	}
	s.Done.Store(2_600_000)
	if s.String() != "planning: 3 MB" {
		t.Error(s)
	}
}
