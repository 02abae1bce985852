package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"lastpump/cmd/lastpump/internal/app"

	"github.com/google/go-cmp/cmp"
)

// How long a text may be, so that it is read.
const (
	readmeLines  = 250
	topicLines   = 80
	topicColumns = 100
)

// TestREADME runs what README.md shows and compares; -update writes what is printed into it. Its links
// lead to files that are there.
func TestREADME(t *testing.T) {
	const name = "../../README.md"
	text := contents(t, name)
	if n := strings.Count(text, "\n"); n > readmeLines {
		t.Errorf("README.md has %d lines, at most %d are wanted", n, readmeLines)
	}
	for _, command := range []string{"go run ./cmd/lastpump plan examples/", "go test ./..."} {
		if !strings.Contains(text, "\n"+command) {
			t.Errorf("README.md does not have %q", command)
		}
	}
	for _, link := range regexp.MustCompile(`\]\(([^):#]+)\)`).FindAllStringSubmatch(text, -1) {
		if _, err := os.Stat(filepath.Join("../..", link[1])); err != nil {
			t.Errorf("README.md links to %s: %v", link[1], err)
		}
	}
	blocks := regexp.MustCompile("(?ms)^```\n(.*?)^```$").FindAllStringSubmatchIndex(text, -1)
	holds(t, name, text, blocks, 3)
}

// TestTopics does the same with each text of lastpump help, in which what is shown follows the word
// Example, and holds it to a screen or two.
func TestTopics(t *testing.T) {
	files, err := filepath.Glob("help/topics/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatal("no topics", err)
	}
	list, _ := lastpump(t, "help")
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			text := contents(t, name)
			topic := strings.TrimSuffix(filepath.Base(name), ".txt")
			first, _, _ := strings.Cut(text, "\n")
			title, ok := strings.CutPrefix(first, topic+": ")
			if !ok || !strings.Contains(list, fmt.Sprintf("\n  %-11s%s\n", topic, title)) {
				t.Errorf("begins with %q, which lastpump help does not list", first)
			}
			if got, _ := lastpump(t, "help", topic); !strings.HasSuffix(got, text) {
				t.Errorf("lastpump help %s does not print it", topic)
			}
			lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
			if len(lines) > topicLines {
				t.Errorf("has %d lines, at most %d are wanted", len(lines), topicLines)
			}
			for i, l := range lines {
				if utf8.RuneCountInString(l) > topicColumns {
					t.Errorf("line %d has more than %d columns", i+1, topicColumns)
				}
			}
			holds(t, name, text, regexp.MustCompile(`(?s)\nExample:\n(.*)$`).FindAllStringSubmatchIndex(text, -1), 1)
		})
	}
}

// holds runs the blocks of a text, each in a folder that has the examples, and wants them to show what
// is printed.
func holds(t *testing.T, name, text string, blocks [][]int, least int) {
	t.Helper()
	file, err := filepath.Abs(name)
	if err != nil {
		t.Fatal(err)
	}
	root := t.TempDir()
	for _, example := range []string{"examples/steppe", "examples/canyon"} {
		if err := os.CopyFS(filepath.Join(root, example), os.DirFS(filepath.Join("../..", example))); err != nil {
			t.Fatal(err)
		}
	}
	var b strings.Builder
	at, sessions := 0, 0
	for _, block := range blocks {
		t.Chdir(root)
		shown, n := runBlock(t, text[block[2]:block[3]])
		b.WriteString(text[at:block[2]] + shown)
		at, sessions = block[3], sessions+n
	}
	b.WriteString(text[at:])
	if sessions < least {
		t.Errorf("%s shows %d runs, at least %d are wanted", name, sessions, least)
	}
	if *update {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if diff := cmp.Diff(strings.Split(text, "\n"), strings.Split(b.String(), "\n")); diff != "" {
		t.Errorf("%s does not show what is printed (-shown +printed); after reading it, -update writes it:\n%s", name, diff)
	}
}

// runBlock runs the lines of a block that begin with "$ lastpump " or "$ cd ", and gives the block with
// what they print below them. A command may go on in the next line after a \.
func runBlock(t *testing.T, block string) (shown string, sessions int) {
	t.Helper()
	parts := strings.Split("\n"+block, "\n$ ")
	if len(parts) == 1 {
		return block, 0
	}
	var b strings.Builder
	if parts[0] != "" {
		b.WriteString(parts[0][1:] + "\n")
	}
	for _, part := range parts[1:] {
		command := regexp.MustCompile(`^(.*\\\n)*.*`).FindString(part)
		words := fields(strings.ReplaceAll(command, "\\\n", " "))
		b.WriteString("$ " + command + "\n")
		switch words[0] {
		case "cd":
			t.Chdir(words[1])
		case "lastpump":
			sessions++
			printed := runPiped(t, words[1:])
			if printed == "" {
				t.Errorf("$ %s: prints nothing", command)
			}
			b.WriteString(printed)
		default:
			t.Errorf("$ %s: neither lastpump nor cd", command)
		}
	}
	return b.String(), sessions
}

// runPiped runs lastpump and what its output is piped through: head -N, or grep of lines or of what
// follows them with -A N.
func runPiped(t *testing.T, words []string) string {
	t.Helper()
	stages := [][]string{nil}
	for _, w := range words {
		if w == "|" {
			stages = append(stages, nil)
		} else {
			stages[len(stages)-1] = append(stages[len(stages)-1], w)
		}
	}
	var out, errs bytes.Buffer
	run(stages[0], strings.NewReader(""), &out, &errs)
	lines := strings.SplitAfter(out.String(), "\n")
	for _, s := range stages[1:] {
		switch {
		case s[0] == "head" && len(s) == 2:
			lines = lines[:min(-number(t, s[1]), len(lines))]
		case s[0] == "grep" && len(s) == 2:
			lines = grep(lines, s[1], 0)
		case s[0] == "grep" && len(s) == 4 && s[1] == "-A":
			lines = grep(lines, s[3], number(t, s[2]))
		default:
			t.Errorf("%q is no filter that the test knows", s)
		}
	}
	return strings.Join(lines, "") + errs.String()
}

func number(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// grep gives the lines that match, and so many after each; as the command does, it puts -- where lines
// are left out between those.
func grep(lines []string, pattern string, after int) (out []string) {
	re := regexp.MustCompile(pattern)
	last, left := -1, 0
	for i, l := range lines {
		if l != "" && re.MatchString(strings.TrimSuffix(l, "\n")) {
			left = after + 1
		}
		if left == 0 || l == "" {
			continue
		}
		if after > 0 && last >= 0 && last < i-1 {
			out = append(out, "--\n")
		}
		out, last, left = append(out, l), i, left-1
	}
	return out
}

// fields splits a command at white space, quoted words kept whole.
func fields(s string) []string {
	var out []string
	for _, w := range regexp.MustCompile(`"[^"]*"|'[^']*'|\S+`).FindAllString(s, -1) {
		out = append(out, strings.Trim(w, `"'`))
	}
	return out
}

func contents(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What POSIX says of grep, and the GNU manual of -A and its separator.
func TestGrep(t *testing.T) {
	lines := strings.SplitAfter("a1\nb\nc\na2\na3\nd\ne\n", "\n")
	for _, c := range []struct {
		after int
		want  string
	}{{0, "a1\na2\na3\n"}, {1, "a1\nb\n--\na2\na3\nd\n"}, {2, "a1\nb\nc\na2\na3\nd\ne\n"}} {
		if got := strings.Join(grep(slices.Clone(lines), "^a", c.after), ""); got != c.want {
			t.Errorf("grep -A %d gives %q, want %q", c.after, got, c.want)
		}
	}
}

// A topic that is not there is a wrong argument.
func TestNoTopic(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"help", "stosp"}, strings.NewReader(""), &out, &errs); code != app.ExitNoPlan {
		t.Errorf("lastpump help stosp ends with %d, not %d", code, app.ExitNoPlan)
	}
}
