// Package kit is what the tests of several packages share: how long a run is to be, what
// is skipped where a program to look with is not installed, and checks of one kind.
package kit

import (
	"flag"
	"os"
	"os/exec"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"

	_ "pgregory.net/rapid" // so that its flags are there before they are set
)

// Long tells whether everything is to be run: all damaged files, all rides, a hundred
// draws of each law. Without LASTPUMP_LONG=1 it is a share of each, as anyone has time for.
func Long() bool { return os.Getenv("LASTPUMP_LONG") != "" }

// Share gives how many of all there are to be tried: all in a long run, else one in so many.
func Share(all, oneIn int) int {
	if Long() {
		return all
	}
	return all / oneIn
}

// Draws sets how often rapid draws for each law in a short run; in a long one it is 100,
// which is what rapid does by itself. The flag -rapid.checks comes before both. What is
// drawn and planned makes much garbage from little that is held: it is swept up less often
// than usual, which takes a quarter less time.
func Draws(short int) {
	debug.SetGCPercent(400)
	if Long() {
		return
	}
	if err := flag.Set("rapid.checks", strconv.Itoa(short)); err != nil {
		panic(err)
	}
}

// Tool finds a program, by the first of its names that is there. Without it the test is
// skipped; it fails where LASTPUMP_NEED_TOOLS=1 says that all programs have to be there.
func Tool(t testing.TB, what string, names ...string) (path string) {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	said := what + " is not installed (" + strings.Join(names, ", ") + "): what it would look at is not tested"
	if os.Getenv("LASTPUMP_NEED_TOOLS") != "" {
		t.Fatal(said)
	}
	t.Skip(said)
	return ""
}
