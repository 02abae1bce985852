// Package extracts has the maps of real regions that tests prove things on: those that come
// with the module paulmach/osm, © OpenStreetMap contributors, under the Open Database
// Licence. They are read where the module cache has them.
//
// Start with [Of], an extract as the command opens it, or [WorldOf], all that is in it.
package extracts

import (
	"bytes"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
)

// The maps: Andorra as XML in bzip2 and Delaware as PBF.
const (
	Andorra  = "andorra-latest.osm.bz2"
	Delaware = "delaware-latest.osm.pbf"
)

var moduleDir = sync.OnceValues(func() (string, error) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/paulmach/osm").Output()
	return strings.TrimSpace(string(out)), err
})

// Path gives where a map lies.
func Path(t testing.TB, name string) string {
	t.Helper()
	dir, err := moduleDir()
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(dir, "testdata", name)
}

// Of is a map as the command opens it.
func Of(t testing.TB, name string) osmfile.Extract { return OnDisk(Path(t, name)) }

// OnDisk is an extract as the command opens it.
func OnDisk(path string) osmfile.Extract {
	return osmfile.Extract{Name: filepath.Base(path), Open: func() (io.ReadCloser, error) { return os.Open(path) }}
}

// Seekable is an extract in memory.
func Seekable(name string, data []byte) osmfile.Extract {
	return osmfile.Extract{Name: name, Open: func() (io.ReadCloser, error) { return seeker{bytes.NewReader(data)}, nil }}
}

type seeker struct{ *bytes.Reader }

func (seeker) Close() error { return nil }

// Stream is an extract in memory that cannot seek.
func Stream(name string, data []byte) osmfile.Extract {
	return osmfile.Extract{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(data)), nil }}
}

// All wants everything.
var All = osmfile.Filter{
	Node:     func(int64, float64, float64) bool { return true },
	Way:      func(int64, osmfile.Tags) bool { return true },
	Relation: func(int64, osmfile.Tags) bool { return true },
}

// Objects reads all of an extract. What is given are copies, for a block is used again.
func Objects(e osmfile.Extract) (b osmfile.Block, err error) {
	_, err = e.Scan(context.Background(), 2, nil, All, func(more *osmfile.Block) {
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

// A World is all of a map, read once: what tests compare with. That every object in it is
// as others read it, the tests of package osmfile hold.
type World struct {
	Nodes     map[int64]*osmfile.Node
	Ways      map[int64]*osmfile.Way
	Relations map[int64]*osmfile.Relation
	Objects   []any // nodes, ways, relations, as the file has them
	PBF       []byte
}

var worlds = map[string]func() (*World, error){
	Andorra:  sync.OnceValues(func() (*World, error) { return readWorld(Andorra) }),
	Delaware: sync.OnceValues(func() (*World, error) { return readWorld(Delaware) }),
}

// WorldOf gives all of a map.
func WorldOf(t testing.TB, name string) *World {
	t.Helper()
	w, err := worlds[name]()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// CopyOf is a map as PBF, which is read ten times as fast as XML.
func CopyOf(t testing.TB, name string) osmfile.Extract {
	t.Helper()
	if name == Delaware {
		return Of(t, name)
	}
	return Seekable(name, WorldOf(t, name).PBF)
}

func readWorld(name string) (*World, error) {
	dir, err := moduleDir()
	if err != nil {
		return nil, err
	}
	path := filepath.Join(dir, "testdata", name)
	all, err := Objects(OnDisk(path))
	if err != nil {
		return nil, err
	}
	w := &World{Nodes: map[int64]*osmfile.Node{}, Ways: map[int64]*osmfile.Way{}, Relations: map[int64]*osmfile.Relation{}}
	for i := range all.Nodes {
		n := &all.Nodes[i]
		w.Nodes[n.ID], w.Objects = n, append(w.Objects, n)
	}
	for i := range all.Ways {
		o := &all.Ways[i]
		w.Ways[o.ID], w.Objects = o, append(w.Objects, o)
	}
	for i := range all.Relations {
		r := &all.Relations[i]
		w.Relations[r.ID], w.Objects = r, append(w.Objects, r)
	}
	if name != Delaware {
		w.PBF = osmtest.PBF(w.Objects, 8000, false)
		return w, nil
	}
	w.PBF, err = os.ReadFile(path)
	return w, err
}
