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

// onMap is the section of the README whose session needs a map.
const onMap = "## Pumps and ground from a map"

// readme gives the README, the section of the map apart.
func readme(t *testing.T) (text, section string) {
	t.Helper()
	all, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(all), onMap+"\n")
	section, after, ends := strings.Cut(rest, "\n## ")
	if !found || !ends {
		t.Fatalf("the README has no section %q", onMap)
	}
	return before + after, section
}

// TestREADME runs every "$ lastpump" line of the README from the root of the
// project and compares what it prints with what is shown below it.
func TestREADME(t *testing.T) {
	text, _ := readme(t)
	t.Chdir("../..")
	if sessions := runSessions(t, text); sessions < 4 {
		t.Errorf("the README shows %d sessions, at least 4 are wanted", sessions)
	}
	for _, command := range []string{"go run ./cmd/lastpump plan examples/", "go test ./..."} {
		if !strings.Contains(text, "\n"+command) {
			t.Errorf("the README does not begin with %q", command)
		}
	}
}

// TestREADMEOnAMap does the same with the section that goes from a track and a map to a
// plan, on a loop through Andorra.
func TestREADMEOnAMap(t *testing.T) {
	_, section := readme(t)
	inAndorra(t)
	if sessions := runSessions(t, section); sessions != 2 {
		t.Errorf("the section of the map shows %d sessions, 2 are wanted", sessions)
	}
}

// runSessions runs the sessions shown in a text where it stands.
func runSessions(t *testing.T, text string) (sessions int) {
	t.Helper()
	for _, block := range regexp.MustCompile("(?ms)^```\n(.*?)^```$").FindAllStringSubmatch(text, -1) {
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
	return sessions
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
// the next shown one, at the end of a line the rest of it.
func matches(got, want string) bool {
	g := strings.Split(strings.TrimRight(strings.ReplaceAll(got, "\r\n", "\n"), "\n"), "\n")
	w := strings.Split(strings.TrimRight(want, "\n"), "\n")
	for len(w) > 0 {
		if w[0] == skipped {
			w = w[1:]
			for len(w) > 0 && len(g) > 0 && !shows(w[0], g[0]) {
				g = g[1:]
			}
			if len(w) == 0 {
				return true
			}
		}
		if len(g) == 0 || !shows(w[0], g[0]) {
			return false
		}
		g, w = g[1:], w[1:]
	}
	return len(g) == 0
}

func shows(want, got string) bool {
	if begin, cut := strings.CutSuffix(want, skipped); cut {
		return strings.HasPrefix(got, begin)
	}
	return got == want
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
		{"abc\r\nd\r\n", "ab…\nd", true},
		{"abc\n", "abd…", false},
	} {
		if matches(c.got, c.want) != c.ok {
			t.Errorf("matches(%q, %q) is not %v", c.got, c.want, c.ok)
		}
	}
}
