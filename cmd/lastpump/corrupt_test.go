package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/app"
	"lastpump/testdata/kit"
)

// How often each file is spoilt.
var (
	byteChanges = kit.Share(2000, 250)
	truncations = kit.Share(200, 100)
)

// A damaged file gives a plan whose figures are all finite, or an error that says
// where and what to do, and nothing else. Every file of both examples is spoilt in
// one byte, and cut off, at random places; JSON has no way to write a figure that
// is not finite.
func TestDamagedFiles(t *testing.T) {
	for name, args := range examples {
		for i, arg := range args {
			if !strings.HasPrefix(arg, "../../examples/") {
				continue
			}
			what := name + arg[strings.LastIndexByte(arg, '/'):]
			t.Run(what, func(t *testing.T) {
				t.Parallel()
				data, err := os.ReadFile(arg)
				if err != nil {
					t.Fatal(err)
				}
				args := append(slices.Clone(args), "--json", "-")
				args[i] = "-"
				damage(t, what, args, data)
			})
		}
	}
}

func damage(t *testing.T, what string, args []string, data []byte) {
	seed := fnv.New64a()
	fmt.Fprint(seed, what)
	rnd := rand.New(rand.NewPCG(seed.Sum64(), 1))
	plans := 0
	for range byteChanges {
		at, c := rnd.IntN(len(data)), byte(rnd.IntN(256))
		spoilt := bytes.Clone(data)
		spoilt[at] = c
		plans += survives(t, fmt.Sprintf("byte %d is %q", at, c), args, spoilt)
	}
	for range truncations {
		at := rnd.IntN(len(data))
		plans += survives(t, fmt.Sprintf("cut off at byte %d", at), args, data[:at])
	}
	t.Logf("%d of %d damaged files still give a plan", plans, byteChanges+truncations)
}

// survives plans from a file on standard input and gives 1 for a plan, 0 for an
// error.
func survives(t *testing.T, what string, args []string, data []byte) int {
	var out, errs bytes.Buffer
	switch code := run(args, bytes.NewReader(data), &out, &errs); code {
	case app.ExitNoPlan:
		if out.Len() > 0 || errs.Len() == 0 || strings.Contains(errs.String(), "json:") {
			t.Errorf("%s: exit 2, %q and on standard error %q", what, clip(out.String()), errs.String())
		}
		return 0
	default:
		if errs.Len() > 0 || !json.Valid(out.Bytes()) {
			t.Errorf("%s: exit %d, %q and on standard error %q", what, code, clip(out.String()), errs.String())
		}
		return 1
	}
}

func clip(s string) string { return s[:min(len(s), 200)] }
