// Package testfiles finds files that tests are made with in other modules.
package testfiles

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Modules whose test files are our corpus. They are required by go.mod, so that go test
// has them in the module cache.
const (
	Gpxgo        = "github.com/tkrajina/gpxgo"
	XMLTokenizer = "github.com/muktihari/xmltokenizer"
)

// Dir finds a folder of a required module in the module cache.
func Dir(tb testing.TB, module, folder string) string {
	tb.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", module).Output()
	dir := strings.TrimSpace(string(out))
	if err != nil || dir == "" {
		tb.Fatalf("%s is not in the module cache (go mod download brings it): %v", module, err)
	}
	return filepath.Join(dir, folder)
}
