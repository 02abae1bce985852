package survey

import (
	"context"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
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

// onDisk is an extract as the command opens it.
func onDisk(path string) osmfile.Extract {
	return osmfile.Extract{Name: filepath.Base(path), Open: func() (io.ReadCloser, error) { return os.Open(path) }}
}

func extractOf(t testing.TB, name string) osmfile.Extract { return onDisk(extractPath(t, name)) }

// copyOf is the same map as PBF in memory, which is read ten times as fast as XML.
func copyOf(t testing.TB, name string) osmfile.Extract { return seekable(name, worldOf(t, name).pbf) }

// A world is all of an extract, read once: what tests compare with. That every object
// in it is as others read it, the tests of package osmfile hold.
type world struct {
	nodes     map[int64]*osmfile.Node
	ways      map[int64]*osmfile.Way
	relations map[int64]*osmfile.Relation
	objects   []any // in the order of the file
	pbf       []byte
}

var worlds = map[string]func() (*world, error){
	andorra:  sync.OnceValues(func() (*world, error) { return readWorld(andorra) }),
	delaware: sync.OnceValues(func() (*world, error) { return readWorld(delaware) }),
}

func worldOf(t testing.TB, name string) *world {
	t.Helper()
	w, err := worlds[name]()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func readWorld(name string) (*world, error) {
	dir, err := moduleDir()
	if err != nil {
		return nil, err
	}
	w := &world{nodes: map[int64]*osmfile.Node{}, ways: map[int64]*osmfile.Way{}, relations: map[int64]*osmfile.Relation{}}
	all := osmfile.Filter{
		Node:     func(int64, float64, float64) bool { return true },
		Way:      func(int64, osmfile.Tags) bool { return true },
		Relation: func(int64, osmfile.Tags) bool { return true },
	}
	path := filepath.Join(dir, "testdata", name)
	_, err = onDisk(path).Scan(context.Background(), 2, nil, all, w.take)
	if name != delaware {
		w.pbf = osmtest.PBF(w.objects, 8000, false)
	} else if err == nil {
		w.pbf, err = os.ReadFile(path)
	}
	return w, err
}

// take keeps copies of all, for a block is used again.
func (w *world) take(b *osmfile.Block) {
	for _, n := range b.Nodes {
		n.Tags = slices.Clone(n.Tags)
		w.nodes[n.ID], w.objects = &n, append(w.objects, &n)
	}
	for _, o := range b.Ways {
		o.Tags, o.Nodes = slices.Clone(o.Tags), slices.Clone(o.Nodes)
		w.ways[o.ID], w.objects = &o, append(w.objects, &o)
	}
	for _, r := range b.Relations {
		r.Tags = slices.Clone(r.Tags)
		w.relations[r.ID], w.objects = &r, append(w.objects, &r)
	}
}

// long tells whether the long runs are asked for.
func long() bool { return os.Getenv("LASTPUMP_LONG") != "" }

// surveyOf surveys a line.
func surveyOf(t testing.TB, line *route.Line, opt Options, extracts ...osmfile.Extract) *Survey {
	t.Helper()
	s, err := Read(context.Background(), line, extracts, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// small is an extract of a few objects.
func small(objects ...any) osmfile.Extract { return named("a", objects) }

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }

func lineOf(t testing.TB, segments ...[]route.Point) *route.Line {
	t.Helper()
	line, err := route.NewLine([]route.Track{{Segments: segments}}, route.LineOptions{Stretch: 1, Gaps: route.GapsRide})
	if err != nil {
		t.Fatal(err)
	}
	return line
}
