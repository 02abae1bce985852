package main

import (
	"compress/bzip2"
	"container/heap"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"lastpump/route"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmxml"
)

// The map for the README's session comes with the module paulmach/osm and is used
// where the module cache has it: Andorra, © OpenStreetMap contributors, ODbL.
const andorraMap = "andorra-latest.osm.bz2"

func andorraPath(t testing.TB) string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/paulmach/osm").Output()
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(strings.TrimSpace(string(out)), "testdata", andorraMap)
}

// A net is the ways of a map that are no footways, node by node.
type net struct {
	at   map[osm.NodeID]orb.Point
	next map[osm.NodeID][]osm.NodeID
}

func readNet(t testing.TB, path string) net {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	n := net{map[osm.NodeID]orb.Point{}, map[osm.NodeID][]osm.NodeID{}}
	s := osmxml.New(context.Background(), bzip2.NewReader(f))
	defer s.Close()
	for s.Scan() {
		switch o := s.Object().(type) {
		case *osm.Node:
			n.at[o.ID] = orb.Point{o.Lon, o.Lat}
		case *osm.Way:
			switch o.Tags.Find("highway") {
			case "primary", "secondary", "tertiary", "residential", "unclassified", "service", "track":
				for i := 1; i < len(o.Nodes); i++ {
					a, b := o.Nodes[i-1].ID, o.Nodes[i].ID
					n.next[a], n.next[b] = append(n.next[a], b), append(n.next[b], a)
				}
			}
		}
	}
	if s.Err() != nil {
		t.Fatal(s.Err())
	}
	return n
}

// nearest gives the node of the net nearest to a place.
func (n net) nearest(p orb.Point) (best osm.NodeID) {
	least := route.Metres(1e9)
	for id := range n.next {
		if d := route.Distance(p, n.at[id]); d < least || d == least && id < best {
			least, best = d, id
		}
	}
	return best
}

type open struct {
	node osm.NodeID
	far  route.Metres
}

type queue []open

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].far < q[j].far }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(open)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// way gives the shortest way between two nodes.
func (n net) way(from, to osm.NodeID) (points []orb.Point) {
	far, via := map[osm.NodeID]route.Metres{from: 0}, map[osm.NodeID]osm.NodeID{}
	q := &queue{{from, 0}}
	for q.Len() > 0 {
		o := heap.Pop(q).(open)
		if o.node == to {
			break
		}
		for _, next := range n.next[o.node] {
			d := o.far + route.Distance(n.at[o.node], n.at[next])
			if known, ok := far[next]; !ok || d < known {
				far[next], via[next] = d, o.node
				heap.Push(q, open{next, d})
			}
		}
	}
	for id := to; id != from; id = via[id] {
		points = append([]orb.Point{n.at[id]}, points...)
	}
	return points
}

// andorraLoop draws a loop over the ways of the map, from valley to valley.
func andorraLoop(t testing.TB) string {
	n := readNet(t, andorraPath(t))
	places := []orb.Point{{1.5218, 42.5075}, {1.4912, 42.4645}, {1.5290, 42.4370}, {1.5560, 42.5000}, {1.5830, 42.5360}, {1.7330, 42.5420}, {1.6010, 42.5670}, {1.5330, 42.5560}, {1.5218, 42.5075}}
	points := []orb.Point{n.at[n.nearest(places[0])]}
	for i := 1; i < len(places); i++ {
		points = append(points, n.way(n.nearest(places[i-1]), n.nearest(places[i]))...)
	}
	var b strings.Builder
	b.WriteString("<?xml version=\"1.0\"?>\n<gpx version=\"1.1\" creator=\"test\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n<trk><name>Seven valleys</name><trkseg>\n")
	for _, p := range points {
		fmt.Fprintf(&b, "<trkpt lat=\"%.6f\" lon=\"%.6f\"/>\n", p[1], p[0])
	}
	b.WriteString("</trkseg></trk></gpx>\n")
	return b.String()
}

// inAndorra makes a folder with the loop, the map and a bike, and goes there.
func inAndorra(t *testing.T) {
	t.Helper()
	bike, err := os.ReadFile("../../examples/steppe/bike.toml")
	if err != nil {
		t.Fatal(err)
	}
	loop, extract := andorraLoop(t), andorraPath(t)
	t.Chdir(t.TempDir())
	if err := os.WriteFile("loop.gpx", []byte(loop), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("bike.toml", bike, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(extract, andorraMap); err != nil {
		t.Fatal(err)
	}
}
