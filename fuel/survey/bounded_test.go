package survey

import (
	"bytes"
	"io"
	"runtime"
	"strings"
	"testing"

	"lastpump/route/osmfile"
	"lastpump/route/osmfile/osmtest"
	"lastpump/testdata/kit"
)

// A large is an extract made up while it is read: so many blocks of nodes far from the
// line, numbered up to 13 milliards, and of ways between them, with the hamlet among
// them. Every now and then it looks at how much the reader holds.
type large struct {
	blocks int // of nodes, and a tenth as many of ways
	next   int
	buf    bytes.Buffer
	w      *osmtest.Writer
	most   *uint64
}

const highestNode = 13_000_000_000

func (l *large) Read(p []byte) (int, error) {
	for l.buf.Len() == 0 {
		if l.next > l.blocks+l.blocks/10+1 {
			return 0, io.EOF
		}
		l.make()
		l.next++
	}
	return l.buf.Read(p)
}

func (l *large) Close() error { return nil }

func (l *large) make() {
	if l.w == nil {
		l.w = &osmtest.Writer{Out: &l.buf, Block: 8000}
		l.w.Header()
	}
	if l.next%25 == 0 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		*l.most = max(*l.most, m.HeapAlloc)
	}
	const each = 8000
	step := int64(highestNode) / int64(l.blocks*each)
	number := func(i int) int64 { return 1000 + int64(i)*step }
	var objects []any
	near := hamlet()
	switch {
	case l.next == 0:
		objects = near[:7] // nodes
	case l.next <= l.blocks:
		for i := range each {
			k := (l.next-1)*each + i
			objects = append(objects, &osmfile.Node{ID: number(k), Edit: osmtest.First,
				Lon: -100 + float64(k%3600)/100, Lat: float64(k%1700)/100 - 50, Tags: osmtest.Tags("natural=tree")})
		}
	case l.next == l.blocks+1:
		objects = near[7:10] // ways
	default:
		for i := range each {
			k := (l.next-l.blocks-2)*each + i
			objects = append(objects, &osmfile.Way{ID: int64(1000 + k), Edit: osmtest.First,
				Tags:  osmtest.Tags("highway=track surface=dirt"),
				Nodes: []int64{number(10 * k), number(10*k + 1), number(10*k + 2)}})
		}
	}
	l.w.Write(objects)
}

// What is held grows with the corridor and not with the extract: one ten times as
// large takes no more.
func TestMemoryIsThatOfTheCorridor(t *testing.T) {
	line := hamletLine(t)
	held := func(blocks int) uint64 {
		var most uint64
		var before runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before) // other tests have whole maps in memory
		open := func() (io.ReadCloser, error) { return &large{blocks: blocks, most: &most}, nil }
		e := osmfile.Extract{Name: "large", Open: open}
		opt := DefaultOptions()
		opt.Cores = 2
		got := resultOf(t, line, opt, e)
		if !strings.Contains(got.Stops, "Ash Creek") || !strings.Contains(got.Ground, "sand") {
			t.Errorf("%+v", got)
		}
		return most - min(most, before.HeapAlloc)
	}
	blocks := 10
	if kit.Long() {
		blocks = 30
	}
	one, ten := held(blocks), held(10*blocks)
	t.Logf("%d MB are held of %d nodes, %d MB of ten times as many", one>>20, blocks*8000, ten>>20)
	if ten > one+20<<20 || ten > 100<<20 { // what is on its way varies
		t.Errorf("%d MB are held of %d nodes, %d MB of ten times as many", one>>20, blocks*8000, ten>>20)
	}
}

// A node takes twelve bytes and a little, its tags none.
func TestNodeTableIsSmall(t *testing.T) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	table := &nodeTable{}
	const n = 1 << 20
	r := newRand(1)
	id := int64(highestNode) / 2
	for range n {
		id += 1 + r.Int64N(20)
		table.add(node{id, place{r.Int32(), r.Int32()}})
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	if each := float64(after.HeapAlloc-before.HeapAlloc) / n; each > 16 {
		t.Errorf("%.1f bytes a node", each)
	}
	runtime.KeepAlive(table)
}

// The table finds what a map of Go holds, in whatever order it was filled.
func TestNodeTableAgainstAMap(t *testing.T) {
	r := newRand(2)
	for round := range 40 {
		table, want := &nodeTable{}, map[int64]place{}
		id := int64(0)
		for range 1 + r.IntN(500) {
			switch r.IntN(10) {
			case 0:
				id = r.Int64N(highestNode) // anywhere
			case 1:
				id += 1 << 33 // too far for one block
			default:
				id += r.Int64N(4)
			}
			p := place{r.Int32(), r.Int32()}
			table.add(node{id, p})
			if _, twice := want[id]; !twice {
				want[id] = p
			}
		}
		table.sort()
		if table.n != len(want) {
			t.Fatalf("round %d: %d nodes, want %d", round, table.n, len(want))
		}
		for id, p := range want {
			if got, ok := table.find(id); !ok || got != p {
				t.Fatalf("round %d: node %d is at %v, %v; want %v", round, id, got, ok, p)
			}
			for _, other := range []int64{id - 1, id + 1, id + 1<<32, -id, 0} {
				_, there := want[other]
				if _, ok := table.find(other); ok != there {
					t.Fatalf("round %d: node %d is found: %v", round, other, ok)
				}
			}
		}
	}
}
