package osmmap

import (
	"compress/bzip2"
	"context"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"
	"github.com/paulmach/osm/osmxml"
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
func onDisk(path string) Extract {
	return Extract{Name: filepath.Base(path), Open: func() (io.ReadCloser, error) { return os.Open(path) }}
}

func extractOf(t testing.TB, name string) Extract { return onDisk(extractPath(t, name)) }

var copies sync.Map

// copyOf is the same map as PBF in memory, which is read ten times as fast as XML.
func copyOf(t testing.TB, name string) Extract {
	t.Helper()
	data, ok := copies.Load(name)
	if !ok {
		data = asPBF(worldOf(t, name).objects, 8000, false)
		copies.Store(name, data)
	}
	return seekable(name, data.([]byte))
}

// A world is all of an extract, read by the library alone: what tests compare with.
type world struct {
	nodes     map[osm.NodeID]*osm.Node
	ways      map[osm.WayID]*osm.Way
	relations map[osm.RelationID]*osm.Relation
	objects   []osm.Object // in the order of the file
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
	f, err := os.Open(filepath.Join(dir, "testdata", name))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var s osm.Scanner = osmpbf.New(context.Background(), f, 2)
	if strings.HasSuffix(name, ".bz2") {
		s = osmxml.New(context.Background(), bzip2.NewReader(f))
	}
	defer s.Close()
	w := &world{nodes: map[osm.NodeID]*osm.Node{}, ways: map[osm.WayID]*osm.Way{}, relations: map[osm.RelationID]*osm.Relation{}}
	for s.Scan() {
		switch o := s.Object().(type) {
		case *osm.Node:
			w.nodes[o.ID] = o
		case *osm.Way:
			w.ways[o.ID] = o
		case *osm.Relation:
			w.relations[o.ID] = o
		}
		w.objects = append(w.objects, s.Object())
	}
	return w, s.Err()
}

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }
