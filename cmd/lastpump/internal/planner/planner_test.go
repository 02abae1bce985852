package planner_test

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/planner"
	"lastpump/testdata/kit"
)

// The program that pages carry is what this code makes, to the byte, with the Go that it was made with:
// go generate ./cmd/lastpump/internal/planner makes it anew. What runs it is of the same release.
func TestProgramIsOfThisCode(t *testing.T) {
	if !kit.Long() {
		t.Skip("only in the long run")
	}
	kept, err := os.ReadFile("lastpump.wasm.gz")
	if err != nil {
		t.Fatal(err)
	}
	head, err := gzip.NewReader(bytes.NewReader(kept))
	if err != nil {
		t.Fatal(err)
	}
	if head.Comment != runtime.Version() {
		t.Skipf("it was made with %s, this is %s", head.Comment, runtime.Version())
	}
	made := filepath.Join(t.TempDir(), "lastpump.wasm.gz")
	if out, err := exec.Command("go", "run", "./build", "-glue=false", "-o", made).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if fresh, err := os.ReadFile(made); err != nil || !bytes.Equal(fresh, kept) {
		t.Errorf("the code makes another program (%v): go generate ./cmd/lastpump/internal/planner", err)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	theirs, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	ours, err2 := os.ReadFile(filepath.Join("js", "wasm_exec.js"))
	if err != nil || err2 != nil || !bytes.Equal(ours, theirs) {
		t.Errorf("what runs it is not that of this Go: %v %v", err, err2)
	}
}

// A ride is packed so that its files can be cut out again by their sizes.
func TestPack(t *testing.T) {
	given := planner.Ride{Loops: []string{"-"}, Said: [][2]string{{"skip", "</script>"}},
		Files: []planner.File{{Name: "-", Text: []byte("<gpx>")}, {Name: "empty.csv"}, {Name: "b.toml", Text: []byte("tank\n")}}}
	packed, err := planner.Pack(given)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(packed.Ride, "</script") {
		t.Error("a script could be ended by what a rider says")
	}
	var back planner.Ride
	if err := json.Unmarshal([]byte(packed.Ride), &back); err != nil {
		t.Fatal(err)
	}
	r, err := gzip.NewReader(base64.NewDecoder(base64.StdEncoding, strings.NewReader(packed.Files)))
	if err != nil {
		t.Fatal(err)
	}
	all, err := io.ReadAll(r)
	if err != nil || string(all) != "<gpx>tank\n" {
		t.Errorf("%q, %v", all, err)
	}
	if len(back.Files) != 3 || back.Files[0].Size != 5 || back.Files[1].Size != 0 || back.Files[2].Size != 5 || back.Said[0][1] != "</script>" {
		t.Errorf("%+v", back)
	}
	if none, err := planner.Pack(planner.Ride{}); err != nil || strings.Contains(none.Ride, "null") {
		t.Errorf("of no ride: %s, %v", none.Ride, err)
	}
}

// Each page has a version of its own in what keeps it, so that a new one takes the place of the old.
func TestSiteKeepsOneVersion(t *testing.T) {
	a, err := planner.Site([]byte("one"))
	b, err2 := planner.Site([]byte("two"))
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	if bytes.Equal(a["worker.js"], b["worker.js"]) || bytes.Contains(a["worker.js"], []byte("@version@")) || string(a["index.html"]) != "one" {
		t.Error("two pages have one version")
	}
	var m struct {
		Name, Display string
		Start         string `json:"start_url"`
		Icons         []struct{ Src string }
	}
	if err := json.Unmarshal(a["manifest.webmanifest"], &m); err != nil || m.Name == "" || m.Start == "" || len(m.Icons) == 0 || a[m.Icons[0].Src] == nil {
		t.Errorf("%+v, %v", m, err)
	}
}
