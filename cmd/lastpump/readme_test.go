package main

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"
)

// skipped is a line of a shown session that stands for any number of lines.
const skipped = "…"

// TestREADME runs every "$ lastpump" line of the README from the root of the
// project and compares what it prints with what is shown below it.
func TestREADME(t *testing.T) {
	t.Chdir("../..")
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	sessions := 0
	for _, block := range regexp.MustCompile("(?ms)^```\n(.*?)^```$").FindAllStringSubmatch(string(text), -1) {
		for _, s := range strings.Split("\n"+block[1], "\n$ lastpump ")[1:] {
			sessions++
			command, shown, _ := strings.Cut(s, "\n")
			var out, errs bytes.Buffer
			run(words(command), strings.NewReader(""), &out, &errs)
			if got := out.String() + errs.String(); !matches(got, strings.TrimSuffix(shown, "\n")) {
				t.Errorf("lastpump %s\nprints\n%s\nthe README shows\n%s", command, got, shown)
			}
		}
	}
	if sessions < 4 {
		t.Errorf("the README shows %d sessions, at least 4 are wanted", sessions)
	}
	for _, command := range []string{"go run ./cmd/lastpump plan examples/", "go test ./..."} {
		if !strings.Contains(string(text), "\n"+command) {
			t.Errorf("the README does not begin with %q", command)
		}
	}
}

// words splits a command at white space, quoted words kept whole.
func words(s string) []string {
	var out []string
	for _, w := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(s, -1) {
		out = append(out, strings.Trim(w, `"`))
	}
	return out
}

// matches compares line by line; a line of "…" in want skips lines of got up to
// the next shown one.
func matches(got, want string) bool {
	g := strings.Split(strings.TrimRight(got, "\n"), "\n")
	w := strings.Split(strings.TrimRight(want, "\n"), "\n")
	for len(w) > 0 {
		if w[0] == skipped {
			w = w[1:]
			for len(w) > 0 && len(g) > 0 && g[0] != w[0] {
				g = g[1:]
			}
			if len(w) == 0 {
				return true
			}
		}
		if len(g) == 0 || g[0] != w[0] {
			return false
		}
		g, w = g[1:], w[1:]
	}
	return len(g) == 0
}

func TestMatches(t *testing.T) {
	for _, c := range []struct {
		got, want string
		ok        bool
	}{
		{"a\nb\n", "a\nb", true},
		{"a\nb\n", "a", false},
		{"a\nb\nc\n", "a\n…\nc", true},
		{"a\nb\nc\n", "a\n…", true},
		{"a\nb\nc\n", "a\n…\nd", false},
		{"a\n", "b\n…", false},
	} {
		if matches(c.got, c.want) != c.ok {
			t.Errorf("matches(%q, %q) is not %v", c.got, c.want, c.ok)
		}
	}
}
