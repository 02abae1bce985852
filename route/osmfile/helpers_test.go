package osmfile_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"lastpump/route/osmfile"
)

// The maps to prove things on are those that come with the module paulmach/osm:
// Andorra as XML in bzip2 and Delaware as PBF, © OpenStreetMap contributors, under the
// Open Database Licence. They are read where the module cache has them.
const (
	andorra  = "andorra-latest.osm.bz2"
	delaware = "delaware-latest.osm.pbf"
)

var moduleDir = sync.OnceValues(func() (string, error) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/paulmach/osm").Output()
	return strings.TrimSpace(string(out)), err
})

func extractPath(t testing.TB, name string) string {
	t.Helper()
	dir, err := moduleDir()
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(dir, "testdata", name)
}

// inMemory is an extract that cannot seek.
func inMemory(data []byte) osmfile.Extract {
	return osmfile.Extract{Name: "map", Open: func() (io.ReadCloser, error) {
		return io.NopCloser(bytes.NewReader(data)),
			nil
	}}
}

func gzipped(data []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write(data)
	z.Close()
	return b.Bytes()
}

// all wants everything.
var all = osmfile.Filter{
	Node:     func(int64, float64, float64) bool { return true },
	Way:      func(int64, osmfile.Tags) bool { return true },
	Relation: func(int64, osmfile.Tags) bool { return true },
}

// objectsOf reads all of an extract.
func objectsOf(e osmfile.Extract) (b osmfile.Block, err error) {
	_, err = e.Scan(context.Background(), 2, nil, all, func(more *osmfile.Block) {
		for _, n := range more.Nodes {
			n.Tags = slices.Clone(n.Tags)
			b.Nodes = append(b.Nodes, n)
		}
		for _, w := range more.Ways {
			w.Tags, w.Nodes = slices.Clone(w.Tags), slices.Clone(w.Nodes)
			b.Ways = append(b.Ways, w)
		}
		for _, r := range more.Relations {
			r.Tags = slices.Clone(r.Tags)
			b.Relations = append(b.Relations, r)
		}
	})
	return b, err
}
