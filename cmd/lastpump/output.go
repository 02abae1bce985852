package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"

	"lastpump/route"
)

// outputs are the reports to write. They are written whole or not at all: each
// to a temporary file beside its own, and only when all are there are they
// renamed.
type outputs struct {
	stdout io.Writer
	files  []output
}

type output struct {
	name  string // "-" for standard output
	write func(io.Writer) error
}

// add adds a report; an empty name is none.
func (o *outputs) add(name string, write func(io.Writer) error) {
	if name != "" {
		o.files = append(o.files, output{name, write})
	}
}

func (o *outputs) write() error {
	var text bytes.Buffer
	var done []written
	defer func() {
		for _, w := range done {
			os.Remove(w.temporary) // of those renamed there is none left
		}
	}()
	for _, f := range o.files {
		if f.name == "-" {
			if err := f.write(&text); err != nil {
				return err
			}
			continue
		}
		temporary, err := writeBeside(f)
		if temporary != "" {
			done = append(done, written{temporary, f.name})
		}
		if err != nil {
			return outputError(f.name, err)
		}
	}
	for _, w := range done {
		if err := os.Rename(w.temporary, w.name); err != nil {
			return outputError(w.name, err)
		}
	}
	_, err := text.WriteTo(o.stdout)
	return err
}

type written struct{ temporary, name string }

// writeBeside writes to a temporary file in the folder of the one asked for.
func writeBeside(f output) (temporary string, err error) {
	t, err := os.CreateTemp(filepath.Dir(f.name), ".lastpump-*")
	if err != nil {
		return "", err
	}
	err = errors.Join(f.write(t), t.Chmod(0o644), t.Close())
	return t.Name(), err
}

func outputError(name string, err error) error {
	what := err.Error()
	var pe *os.PathError
	if errors.As(err, &pe) {
		what = pe.Err.Error()
	}
	if errors.Is(err, os.ErrNotExist) {
		what = "the folder to write into is not there"
	}
	return &route.InputError{File: name, What: what, Hint: "nothing was written; name a file in a folder that you can write to"}
}

// wantsColour tells whether a person looks at the output and has not asked for
// none (no-color.org).
func wantsColour(w io.Writer) bool {
	return isTerminal(w) && os.Getenv("NO_COLOR") == ""
}
