package net_test

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"lastpump/route"
	"lastpump/route/roads/net"

	"github.com/paulmach/orb"
)

// streets makes a net of so many streets in a band of 1,500 km by 90 km, each of five
// points, an eighth of them closed the one way.
func streets(edges int) (*net.Builder, func(*rand.Rand) orb.Point) {
	const high = 300
	wide := edges / 2 / high
	r := rand.New(rand.NewPCG(9, 1))
	const west, south, length, depth = 90.0, 45.0, 19.0, 0.81
	at := func(x, y float64) net.Place {
		return net.PlaceOf(orb.Point{west + length*(x+0.6*r.Float64())/float64(wide), south + depth*(y+0.6*r.Float64())/high})
	}
	places := make([]net.Place, wide*high)
	for i := range places {
		places[i] = at(float64(i/high), float64(i%high))
	}
	b := &net.Builder{}
	way, bend := int64(0), int64(1)<<40
	add := func(i, k int) {
		nodes := []net.Node{{ID: int64(i + 1), Place: places[i]}}
		for s := 1.0; s < 4; s++ {
			bend++
			p := route.Between(places[i].Point(), places[k].Point(), s/4)
			nodes = append(nodes, net.Node{ID: bend, Place: net.PlaceOf(p)})
		}
		way++
		b.Add(way, append(nodes, net.Node{ID: int64(k + 1), Place: places[k]}),
			net.Facts{Ground: uint8(r.IntN(4)), Oneway: int8(r.IntN(8) / 7)})
	}
	for i := range places {
		if i+high < len(places) {
			add(i, i+high)
		}
		if i%high < high-1 {
			add(i, i+1)
		}
	}
	return b, func(r *rand.Rand) orb.Point {
		return orb.Point{west + length*r.Float64(), south + depth*r.Float64()}
	}
}

// BenchmarkSearch makes a net of so many streets, searches from 100 pumps within 40 km
// and asks for the ways from 1,500 nodes. Read "MB", which is what is held at the end.
func BenchmarkSearch(b *testing.B) {
	for _, edges := range []int{300_000, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(edges), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				builder, anywhere := streets(edges)
				r := rand.New(rand.NewPCG(9, 2))
				var pumps []orb.Point
				for range 100 {
					pumps = append(pumps, anywhere(r))
				}
				b.StartTimer()
				start := time.Now()
				n := builder.Net()
				made := time.Now()
				spots := n.Snap(pumps, 200, 2000)
				nodes := n.Split(spots)
				snapped := time.Now()
				q := net.Query{Weights: testWeights, Keep: 8, Bound: 72_000}
				for i, node := range nodes {
					q.Sources = append(q.Sources, net.Source{Node: node, Off: spots[max(i, 0)].Off})
				}
				w := n.Search(q)
				searched := time.Now()
				found := 0
				for range 1500 {
					found += len(fewOf(w.Best(int32(r.IntN(n.Nodes())))))
				}
				b.ReportMetric(made.Sub(start).Seconds(), "s/made")
				b.ReportMetric(snapped.Sub(made).Seconds(), "s/snapped")
				b.ReportMetric(searched.Sub(snapped).Seconds(), "s/searched")
				b.ReportMetric(time.Since(searched).Seconds(), "s/asked")
				b.ReportMetric(float64(w.Labels())/float64(n.Nodes()), "labels/node")
				b.ReportMetric(float64(found), "ways")
				b.StopTimer()
				var m runtime.MemStats
				runtime.GC()
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64(m.HeapAlloc>>20), "MB")
				runtime.KeepAlive(w)
				b.StartTimer()
			}
		})
	}
}
