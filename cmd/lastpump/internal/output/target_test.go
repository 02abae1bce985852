//go:build unix

package output

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What is no regular file is written through, by the kinds that stat(2) knows: a report
// renamed over a device would leave a file where the device was. Nothing is written to a
// device here.
func TestWrittenThrough(t *testing.T) {
	for mode, want := range map[fs.FileMode]bool{
		0o644:              false,
		fs.ModeDir | 0o755: false, // refused with a word of its own
		fs.ModeDevice | fs.ModeCharDevice | 0o666:         true,
		fs.ModeDevice | 0o660:                             true,
		fs.ModeNamedPipe | 0o600:                          true,
		fs.ModeSocket | 0o600:                             true,
		fs.ModeIrregular:                                  true,
		fs.ModeSetuid | 0o755:                             false,
		fs.ModeDevice | fs.ModeCharDevice | fs.ModeSetgid: true,
	} {
		if got := writtenThrough(mode); got != want {
			t.Errorf("%v: %v, want %v", mode, got, want)
		}
	}
}

// saying is a report with a text.
func saying(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

// has fails unless a file is a regular one with a text.
func has(t *testing.T, name, want string) {
	t.Helper()
	info, err := os.Lstat(name)
	if err != nil {
		t.Error(err)
		return
	}
	if got, err := os.ReadFile(name); err != nil || string(got) != want || !info.Mode().IsRegular() {
		t.Errorf("%s is %v and says %q (%v), want %q", name, info.Mode(), got, err, want)
	}
}

// only fails if anything else lies in a folder.
func only(t *testing.T, folder string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if got, want := strings.Join(names, " "), strings.Join(want, " "); got != want {
		t.Errorf("in %s: %s, want %s", folder, got, want)
	}
}

// A pipe is still one when a report has gone into it.
func TestReportIntoPipe(t *testing.T) {
	folder := t.TempDir()
	pipe, file := filepath.Join(folder, "pipe"), filepath.Join(folder, "file")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	read := make(chan string)
	go func() {
		got, err := os.ReadFile(pipe)
		if err != nil {
			t.Error(err)
		}
		read <- string(got)
	}()
	var stdout bytes.Buffer
	out := Outputs{Stdout: &stdout}
	out.Add(pipe, saying("into the pipe"))
	out.Add(file, saying("into the file"))
	if err := out.Write(); err != nil {
		t.Fatal(err)
	}
	if got := <-read; got != "into the pipe" {
		t.Errorf("%q came out of the pipe", got)
	}
	if info, err := os.Lstat(pipe); err != nil || info.Mode().Type() != fs.ModeNamedPipe {
		t.Errorf("the pipe is %v now (%v)", info.Mode(), err)
	}
	has(t, file, "into the file")
	only(t, folder, "file", "pipe")
}

// A report that cannot be made keeps all others from being written: nothing goes into a
// pipe, where it would wait for a reader, and no file is there.
func TestNoReportWhereOneFails(t *testing.T) {
	folder := t.TempDir()
	pipe := filepath.Join(folder, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	for name, failing := range map[string]output{
		"no folder": {filepath.Join(folder, "not", "there"), saying("lost")},
		"no report": {filepath.Join(folder, "b"), func(io.Writer) error { return fs.ErrInvalid }},
	} {
		out := Outputs{Stdout: new(bytes.Buffer)}
		out.Add(pipe, saying("never read"))
		out.Add(filepath.Join(folder, "a"), saying("first"))
		out.Add(failing.name, failing.write)
		if err := out.Write(); err == nil {
			t.Errorf("%s: no error", name)
		}
		only(t, folder, "pipe")
	}
}

// A link stays one, and what it points to is written, with the temporary file beside that.
func TestReportThroughLinks(t *testing.T) {
	folder := t.TempDir()
	far := filepath.Join(folder, "far")
	if err := os.Mkdir(far, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(far, "old"), []byte("before"), 0o600); err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{
		"whole": filepath.Join(far, "old"), "twice": "whole", "new": filepath.Join("far", "fresh"), "around": "around",
	} {
		if err := os.Symlink(to, filepath.Join(folder, link)); err != nil {
			t.Fatal(err)
		}
	}
	out := Outputs{Stdout: new(bytes.Buffer)}
	out.Add(filepath.Join(folder, "twice"), saying("after"))
	out.Add(filepath.Join(folder, "new"), saying("made"))
	if err := out.Write(); err != nil {
		t.Fatal(err)
	}
	has(t, filepath.Join(far, "old"), "after")
	has(t, filepath.Join(far, "fresh"), "made")
	if info, err := os.Stat(filepath.Join(far, "old")); err != nil || info.Mode() != 0o600 {
		t.Errorf("a file of mode 0600 has %v now (%v)", info.Mode(), err)
	}
	for _, link := range []string{"whole", "twice", "new"} {
		if info, err := os.Lstat(filepath.Join(folder, link)); err != nil || info.Mode().Type() != fs.ModeSymlink {
			t.Errorf("%s is a link no more: %v (%v)", link, info.Mode(), err)
		}
	}
	only(t, far, "fresh", "old")

	around := Outputs{Stdout: new(bytes.Buffer)}
	around.Add(filepath.Join(folder, "around"), saying("lost"))
	if err := around.Write(); err == nil {
		t.Error("a link to itself: no error")
	}
	if place(filepath.Join(folder, "twice")) != place(filepath.Join(far, "old")) {
		t.Error("a link and what it points to are two places")
	}
}

// What a rider has written into a list is kept beside the list, not beside a link to it.
func TestKeptBesideTheFile(t *testing.T) {
	folder := t.TempDir()
	far := filepath.Join(folder, "far")
	if err := os.Mkdir(far, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(far, "stops.csv"), []byte("heard"), 0o644); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(folder, "stops.csv")
	if err := os.Symlink(filepath.Join(far, "stops.csv"), link); err != nil {
		t.Fatal(err)
	}
	out := Outputs{Stdout: new(bytes.Buffer), Keep: true}
	out.Add(link, saying("found"))
	if err := out.Write(); err != nil {
		t.Fatal(err)
	}
	has(t, filepath.Join(far, "stops.csv"), "found")
	has(t, filepath.Join(far, "stops.csv.old"), "heard")
	only(t, folder, "far", "stops.csv")
}
