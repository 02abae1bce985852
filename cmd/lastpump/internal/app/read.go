package app

import (
	"errors"
	"io"
	"os"
	"path/filepath"

	"lastpump/route/input"
)

// Read opens a file, or standard input for "-", and reads it.
func Read[T any](a *App, name string, parse func(io.Reader, string) (T, error)) (T, error) {
	var none T
	step := a.Progress.Begin("reading " + name)
	if name == "-" {
		in, err := a.through(name, step.Through(a.Stdin))
		if err != nil {
			return none, FileError(name, err)
		}
		return parse(in, "standard input")
	}
	f, err := os.Open(name)
	if err != nil {
		return none, FileError(name, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil {
		step.All = info.Size()
	}
	if err == nil && info.IsDir() {
		return none, &input.Error{File: name, What: "this is a folder, not a file",
			Hint: "name the file in it, or several in the order of the ride"}
	}
	in, err := a.through(name, step.Through(f))
	if err != nil {
		return none, FileError(name, err)
	}
	return parse(in, input.OneLine(name))
}

// through puts what is read through what goes between.
func (a *App) through(name string, r io.Reader) (io.Reader, error) {
	if a.Through == nil {
		return r, nil
	}
	return a.Through(name, r)
}

// FileError is the error of a file that cannot be opened or read.
func FileError(name string, err error) error {
	var pe *os.PathError
	if errors.Is(err, os.ErrNotExist) {
		return &input.Error{File: name, What: "no such file", Hint: "is the name right, and the folder?"}
	}
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return &input.Error{File: name, What: err.Error()}
}

// InFile names the file in an error that comes from what was read of it.
func InFile(err error, name string) error {
	var ie *input.Error
	if errors.As(err, &ie) && ie.File == "" {
		named := *ie
		named.File = name
		return &named
	}
	return err
}

// InFolder puts the folder before the name of the file in an error.
func InFolder(err error, folder string) error {
	var ie *input.Error
	if errors.As(err, &ie) {
		named := *ie
		named.File = filepath.Join(folder, ie.File)
		return &named
	}
	return err
}

// OneLines makes names of files and notes fit to be printed.
func OneLines(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = input.OneLine(t)
	}
	return out
}
