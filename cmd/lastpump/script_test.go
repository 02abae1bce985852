package main

import (
	"flag"
	"os"
	"testing"

	"lastpump/testdata/kit"

	"github.com/rogpeppe/go-internal/testscript"
)

// update writes what the scripts and reports print into their golden files. Read
// them line by line before committing them.
var update = flag.Bool("update", false, "write golden files anew")

func init() { kit.Draws(20) }

func TestMain(m *testing.M) {
	testscript.Main(tests{m}, map[string]func(){"lastpump": main})
}

// tests are all tests; what they share ends with them.
type tests struct{ *testing.M }

func (t tests) Run() int {
	defer stopBrowser()
	return t.M.Run()
}

// TestScripts runs testdata/script: each is one idea, as a user types it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			root, err := os.Getwd()
			e.Setenv("EXAMPLES", root+"/../../examples")
			return err
		}})
}
