// Command build makes the program that pages carry: the command for WebAssembly, packed with gzip. It is
// run by go generate, and the same code and the same Go make the same bytes.
package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

func main() {
	out := flag.String("o", "lastpump.wasm.gz", "the file to write")
	glue := flag.Bool("glue", true, "also copy what runs it from the Go that is used")
	flag.Parse()
	if err := build(*out, *glue); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// build writes the packed program and, beside it, Go's own wasm_exec.js, which has to be of the same release.
func build(out string, glue bool) error {
	dir, err := os.MkdirTemp("", "lastpump-wasm-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "lastpump.wasm")
	c := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-o", program, "lastpump/cmd/lastpump")
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=", "GOEXPERIMENT=", "GOWASM=")
	if said, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, said)
	}
	text, err := os.ReadFile(program)
	if err != nil {
		return err
	}
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return err
	}
	w.Comment = runtime.Version() // by which a test knows whether it can make the same
	if _, err := w.Write(text); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	if err := os.WriteFile(out, packed.Bytes(), 0o644); err != nil || !glue {
		return err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	runs, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(filepath.Dir(out), "js", "wasm_exec.js"), runs, 0o644)
}
