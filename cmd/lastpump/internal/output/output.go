// Package output writes files: all that a command writes, or none of it ([Outputs]), and never over what it was
// made from ([KeepFiles]).
package output

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"lastpump/route/input"
)

// Outputs are the reports to write. Files are written whole or not at all: each to a
// temporary file beside its own; then what is no regular file is written through, and
// only when all that is done are the temporary files renamed.
type Outputs struct {
	Stdout io.Writer
	files  []output
	Keep   bool     // whether a file that is there and says something else keeps its words, under another name
	Keeps  string   // the one file that does so where not all do
	Kept   []string // the names given to such files
}

type output struct {
	name  string // "-" for standard output
	write func(io.Writer) error
}

// Add adds a report; an empty name is none.
func (o *Outputs) Add(name string, write func(io.Writer) error) {
	if name != "" {
		o.files = append(o.files, output{name, write})
	}
}

// Write makes the reports, puts the files in their places and prints what is to be printed.
func (o *Outputs) Write() error {
	if err := o.nothingInTheWay(); err != nil {
		return err
	}
	var p prepared
	defer p.clean()
	for _, f := range o.files {
		if err := p.add(f); err != nil {
			return err
		}
	}
	for _, t := range p.through {
		if err := t.write(); err != nil {
			return outputFault(t.name, err, "no file was written; what takes the report has to take all of it")
		}
	}
	for i, w := range p.beside {
		if err := o.rename(w); err != nil {
			return o.renameError(p.beside[:i], w, err)
		}
	}
	_, err := p.printed.WriteTo(o.Stdout)
	return err
}

// renameError says what is in place already, and what is kept, where a file cannot be put
// in its place.
func (o *Outputs) renameError(done []written, failed written, err error) error {
	fault := Error(failed.name, err)
	if len(done) > 0 {
		var names []string
		for _, w := range done {
			names = append(names, w.name)
		}
		fault = outputFault(failed.name, err, strings.Join(names, ", ")+" are written, the others are not")
	}
	if len(o.Kept) > 0 {
		fault = errors.Join(fault, fmt.Errorf("what was there before is kept as %s", strings.Join(o.Kept, ", ")))
	}
	return fault
}

// prepared are reports that are made and not yet in their places.
type prepared struct {
	printed bytes.Buffer // to standard output
	through []through
	beside  []written
}

// add makes a report.
func (p *prepared) add(f output) error {
	if f.name == "-" {
		return f.write(&p.printed)
	}
	t, err := aim(f.name)
	if err != nil {
		return Error(f.name, err)
	}
	if t.through {
		var text bytes.Buffer
		err := f.write(&text)
		p.through = append(p.through, through{f.name, text.Bytes()})
		return err
	}
	temporary, err := writeBeside(f, t)
	if temporary != "" {
		p.beside = append(p.beside, written{temporary, f.name, t.path})
	}
	if err != nil {
		return Error(f.name, err)
	}
	return nil
}

// clean removes the temporary files of what is not in its place; what is has none any more.
func (p *prepared) clean() {
	for _, w := range p.beside {
		os.Remove(w.temporary)
	}
}

// A through is a report that goes into what is there: a device, a pipe.
type through struct {
	name string
	text []byte
}

func (t through) write() error {
	f, err := os.OpenFile(t.name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(t.text)
	return errors.Join(err, f.Close())
}

// nothingInTheWay refuses to write where a folder has the name of a file that is to be
// written. It is asked first: renaming would fail when other files are in place already.
func (o *Outputs) nothingInTheWay() error {
	for _, f := range o.files {
		if info, err := os.Stat(f.name); f.name != "-" && err == nil && info.IsDir() {
			return &input.Error{File: f.name, What: "a folder is in the way",
				Hint: "nothing was written; name another file, or another folder to write into"}
		}
	}
	return nil
}

// CanWrite looks whether files can be written into a folder; where it is not there yet,
// into the one that it would be made in.
func CanWrite(folder string) error {
	at := folder
	for {
		info, err := os.Stat(at)
		if err == nil && !info.IsDir() {
			return &input.Error{File: at, What: "this is a file, not a folder", Hint: "name a folder to write into"}
		}
		if err == nil {
			break
		}
		if up := filepath.Dir(at); up != at && errors.Is(err, os.ErrNotExist) {
			at = up
			continue
		}
		return Error(folder, err)
	}
	f, err := os.CreateTemp(at, ".lastpump-*")
	if err != nil {
		return Error(folder, err)
	}
	return errors.Join(f.Close(), os.Remove(f.Name()))
}

// A written file has its text under a temporary name, and waits to be renamed to its path.
type written struct{ temporary, name, path string }

// rename puts a file in its place.
func (o *Outputs) rename(w written) error {
	if o.Keep || w.name == o.Keeps {
		kept, err := putAside(w.path, w.temporary)
		if err != nil {
			return err
		}
		if kept != "" {
			o.Kept = append(o.Kept, kept)
		}
	}
	return os.Rename(w.temporary, w.path)
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

// writeBeside writes to a temporary file in the folder of the one that is meant.
func writeBeside(f output, t target) (temporary string, err error) {
	beside, err := os.CreateTemp(filepath.Dir(t.path), ".lastpump-*")
	if err != nil {
		return "", err
	}
	err = errors.Join(f.write(beside), beside.Chmod(t.mode), beside.Close())
	return beside.Name(), err
}

// Error is the error of a file that cannot be written.
func Error(name string, err error) error {
	return outputFault(name, err, "nothing was written; name a file in a folder that you can write to")
}

func outputFault(name string, err error, hint string) error {
	what := err.Error()
	var pe *os.PathError
	if errors.As(err, &pe) {
		what = pe.Err.Error()
	}
	if errors.Is(err, os.ErrNotExist) {
		what = "the folder to write into is not there"
	}
	return &input.Error{File: name, What: what, Hint: hint}
}
