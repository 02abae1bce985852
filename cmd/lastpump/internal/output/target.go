package output

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// A target is what the name of a report means: a file, that is there or is to be made, or
// something that is written through.
type target struct {
	path    string      // of the file itself, with symbolic links followed
	mode    fs.FileMode // for the file
	through bool
}

// NewFile is the mode of a file that is made.
const NewFile fs.FileMode = 0o644

// writtenThrough tells whether what is there is written through: a device, a pipe or a
// socket would be gone if a file took its place.
func writtenThrough(m fs.FileMode) bool { return !m.IsRegular() && !m.IsDir() }

// aim finds out what a name means.
func aim(name string) (target, error) {
	info, err := os.Stat(name)
	switch {
	case err == nil && writtenThrough(info.Mode()):
		return target{path: name, through: true}, nil
	case err == nil:
		path, err := filepath.EvalSymlinks(name)
		return target{path: path, mode: info.Mode().Perm()}, err
	case !errors.Is(err, fs.ErrNotExist):
		return target{}, err
	}
	path, err := pointedAt(name)
	return target{path: path, mode: NewFile}, err
}

// pointedAt follows symbolic links to a file that is not there yet.
func pointedAt(name string) (string, error) {
	for {
		to, err := os.Readlink(name)
		if err != nil { // it is no link
			return name, nil
		}
		if !filepath.IsAbs(to) {
			folder, err := filepath.EvalSymlinks(filepath.Dir(name))
			if err != nil {
				return "", err
			}
			to = filepath.Join(folder, to)
		}
		name = to
	}
}

// place gives a name by which two reports to one file are told: the path of what is meant,
// as far as it can be found.
func place(name string) string {
	t, err := aim(name)
	if err != nil || t.through {
		return filepath.Clean(name)
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(t.path))
	if err != nil {
		return filepath.Clean(name)
	}
	if whole, err := filepath.Abs(folder); err == nil {
		folder = whole
	}
	return filepath.Join(folder, filepath.Base(t.path))
}

// IsPrintedTo tells whether a name means the very file that standard output goes to.
func IsPrintedTo(stdout io.Writer, name string) bool {
	f, ok := stdout.(*os.File)
	if !ok {
		return false
	}
	printed, err := f.Stat()
	if err != nil || writtenThrough(printed.Mode()) {
		return false
	}
	there, err := os.Stat(name)
	return err == nil && os.SameFile(there, printed)
}
