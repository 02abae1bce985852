package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"lastpump/route"
)

// outputs are the reports to write. They are written whole or not at all: each
// to a temporary file beside its own, and only when all are there are they
// renamed.
type outputs struct {
	stdout io.Writer
	files  []output
	keep   bool     // what is there already and says something else
	kept   []string // under these names
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
	if err := o.mayTake(); err != nil {
		return err
	}
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
		if err := o.rename(w); err != nil {
			err := outputError(w.name, err)
			if len(o.kept) > 0 {
				err = errors.Join(err, fmt.Errorf("what was there before is kept as %s", strings.Join(o.kept, ", ")))
			}
			return err
		}
	}
	_, err := text.WriteTo(o.stdout)
	return err
}

// mayTake looks whether anything but a file stands where one is to be written: it
// would be found when others are in their place already.
func (o *outputs) mayTake() error {
	for _, f := range o.files {
		if info, err := os.Stat(f.name); f.name != "-" && err == nil && info.IsDir() {
			return &route.InputError{File: f.name, What: "a folder is in the way", Hint: "nothing was written; name another file, or another folder to write into"}
		}
	}
	return nil
}

// canWrite looks whether files can be written into a folder, or where it is to be.
func canWrite(folder string) error {
	at := folder
	for {
		info, err := os.Stat(at)
		if err == nil && !info.IsDir() {
			return &route.InputError{File: at, What: "this is a file, not a folder", Hint: "name a folder to write into"}
		}
		if err == nil {
			break
		}
		if up := filepath.Dir(at); up != at && errors.Is(err, os.ErrNotExist) {
			at = up
			continue
		}
		return outputError(folder, err)
	}
	f, err := os.CreateTemp(at, ".lastpump-*")
	if err != nil {
		return outputError(folder, err)
	}
	return errors.Join(f.Close(), os.Remove(f.Name()))
}

type written struct{ temporary, name string }

// rename puts a file in its place.
func (o *outputs) rename(w written) error {
	if o.keep {
		kept, err := putAside(w.name, w.temporary)
		if err != nil {
			return err
		}
		if kept != "" {
			o.kept = append(o.kept, kept)
		}
	}
	return os.Rename(w.temporary, w.name)
}

// putAside gives a file another name if it says something else than the one that is
// to take its place, and tells which; "" if there was nothing to keep.
func putAside(name, next string) (kept string, err error) {
	old, err := os.ReadFile(name)
	if errors.Is(err, os.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	if fresh, err := os.ReadFile(next); err != nil || bytes.Equal(old, fresh) {
		return "", err
	}
	kept = name + ".old"
	for n := 2; ; n++ {
		if _, err := os.Lstat(kept); errors.Is(err, os.ErrNotExist) {
			return kept, os.Rename(name, kept)
		}
		kept = fmt.Sprintf("%s.old%d", name, n)
	}
}

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
