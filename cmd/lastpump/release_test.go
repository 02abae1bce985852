package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"lastpump/testdata/kit"
)

// A release for the system that the test runs on: the program runs, twice it is the same to the byte, and so is
// all else; every file has its checksum.
func TestRelease(t *testing.T) {
	long(t)
	bash := kit.Tool(t, "bash", "bash")
	kit.Tool(t, "sha256sum", "sha256sum")
	var made [2]map[string][]byte
	for i := range made {
		dir := t.TempDir()
		c := exec.Command(bash, filepath.Join("..", "..", ".ci", "release"), dir, runtime.GOOS+"/"+runtime.GOARCH)
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		made[i] = released(t, dir)
	}
	program := "lastpump-" + runtime.GOOS + "-" + runtime.GOARCH
	for _, name := range []string{program, "planner.html", "lastpump.1", "lastpump.bash", "lastpump.zsh", "lastpump.fish", "lastpump.powershell", "SHA256SUMS"} {
		if len(made[0][name]) == 0 || !bytes.Equal(made[0][name], made[1][name]) {
			t.Errorf("%s: %d and %d bytes, not the same", name, len(made[0][name]), len(made[1][name]))
		}
	}
	for name, text := range made[0] {
		line := fmt.Sprintf("%x  %s\n", sha256.Sum256(text), name)
		if name != "SHA256SUMS" && !strings.Contains(string(made[0]["SHA256SUMS"]), line) {
			t.Errorf("%s has no checksum, or a wrong one", name)
		}
	}
	for _, c := range commandNames {
		if _, err := os.Stat(filepath.Join("help", c+".txt")); err == nil && !bytes.Contains(made[0]["lastpump.1"], []byte("\n.SH \"lastpump "+c+"\"\n")) {
			t.Errorf("the manual does not tell of %s", c)
		}
	}
	file := filepath.Join(t.TempDir(), "lastpump")
	if err := os.WriteFile(file, made[0][program], 0o755); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(file, "version").Output(); err != nil || !strings.HasPrefix(string(out), "lastpump ") {
		t.Errorf("%q, %v", out, err)
	}
}

// released reads a folder.
func released(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]byte{}
	for _, f := range files {
		if all[f.Name()], err = os.ReadFile(filepath.Join(dir, f.Name())); err != nil {
			t.Fatal(err)
		}
	}
	return all
}
