package outward

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"testing"

	"lastpump/fuel/bailout"
	"lastpump/fuel/survey"
	"lastpump/fuel/survey/refuge"
	"lastpump/fuel/wayout"
	"lastpump/route"
	"lastpump/route/osmfile"
	"lastpump/route/roads"
	"lastpump/route/roads/net"
	"lastpump/testdata/kit"

	"github.com/paulmach/orb"
)

// BenchmarkFind finds the ways out of a line of 1,500 km with 100 pumps, 40 km far, on
// nets of so many streets about it, each of five points. The line crosses them where it
// comes to them, which makes more places than any real one has. Read "MB", the memory
// that the system has given, and "×plain": the processor time of it all, laying the net too,
// beside that of one search as the textbook has it, from one node to all.
func BenchmarkFind(b *testing.B) {
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(930 << 20)) // as the command does
	for _, edges := range []int{300_000, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(edges), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				s, builder := country(b, edges)
				runtime.GC()
				b.StartTimer()
				start := kit.Processor()
				s.Roads.Net = builder.Net()
				builder = nil
				f := Find(s)
				took := kit.Processor() - start
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64((m.Sys-m.HeapReleased)>>20), "MB")
				b.ReportMetric(float64(len(f.Ways)), "ways")
				b.ReportMetric(float64(f.Places), "places")
				b.StopTimer()
				start = kit.Processor()
				plain(s.Roads.Net, int32(s.Roads.Net.Nodes()/2), newFinder(s).weights, wayout.Doubtful)
				b.ReportMetric(took.Seconds()/(kit.Processor()-start).Seconds(), "×plain")
				b.ReportMetric(took.Seconds(), "s/processor")
				b.StartTimer()
			}
		})
	}
}

// country makes a line from west to east and streets in a band of 90 km about it.
func country(t testing.TB, edges int) (*survey.Survey, *net.Builder) {
	const west, south, length, depth, high = 90.0, 45.0, 19.0, 0.81, 300
	var points []orb.Point
	for k := range 30_001 {
		lat := south + depth/2 + 0.2*math.Sin(float64(k)/1000)
		points = append(points, orb.Point{west + length*float64(k)/30_000, lat})
	}
	line := lineOf(t, points...)
	r := rand.New(rand.NewPCG(9, 1))
	opt := survey.DefaultOptions()
	opt.WaysOut = 40_000
	s := &survey.Survey{Line: line, Options: opt, Roads: &survey.RoadMap{Names: []string{"street"}},
		Matches: []survey.Match{{Match: roads.Match{Span: roads.Span{To: line.Length()}}}}}
	for i := range 100 {
		p := survey.Pump{}
		p.Name, p.Stop.At = fmt.Sprint("pump ", i), orb.Point{west + length*r.Float64(), south + depth*r.Float64()}
		s.Roads.Pumps = append(s.Roads.Pumps, p)
		if near, _ := line.Nearest(p.Stop.At, 0, line.Length()); near.Off < opt.Corridor {
			p.Along = near.At
			s.Pumps = append(s.Pumps, p)
		}
	}
	wide := edges / 2 / high
	places := make([]net.Place, wide*high)
	for i := range places {
		places[i] = net.PlaceOf(orb.Point{west + length*(float64(i/high)+0.6*r.Float64())/float64(wide),
			south + depth*(float64(i%high)+0.6*r.Float64())/high})
	}
	builder := &net.Builder{}
	way, bend := int64(0), int64(1)<<40
	add := func(i, k int) {
		nodes := []net.Node{{ID: int64(i + 1), Place: places[i]}}
		for q := 1.0; q < 4; q++ {
			bend++
			nodes = append(nodes, net.Node{ID: bend, Place: net.PlaceOf(route.Between(places[i].Point(), places[k].Point(), q/4))})
		}
		way++
		builder.Add(way, append(nodes, net.Node{ID: int64(k + 1), Place: places[k]}),
			net.Facts{Ground: uint8(r.IntN(4)), Main: r.IntN(20) == 0, Oneway: int8(r.IntN(8) / 7)})
	}
	for i := range places {
		if i+high < len(places) {
			add(i, i+high)
		}
		if i%high < high-1 {
			add(i, i+1)
		}
	}
	return s, builder
}

// BenchmarkHelp finds help along such a line, of which each kind has as many places as there are
// pumps, and every twentieth road is a major one.
func BenchmarkHelp(b *testing.B) {
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(930 << 20)) // as the command does
	for _, edges := range []int{300_000, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(edges), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				s, builder := country(b, edges)
				s.Roads.Major = map[int64]refuge.Class{}
				for way := range edges {
					if way%20 == 0 {
						s.Roads.Major[int64(way)] = refuge.Major(osmfile.Tags{{Key: "highway", Value: "secondary"}})
					}
				}
				for _, p := range s.Roads.Pumps {
					for _, k := range bailout.Kinds() {
						s.Roads.Refuges = append(s.Roads.Refuges, refuge.Place{Kind: k, Name: p.Name, At: p.Stop.At})
					}
				}
				runtime.GC()
				s.Roads.Net = builder.Net()
				builder = nil
				b.StartTimer()
				help := Help(s)
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64((m.Sys-m.HeapReleased)>>20), "MB")
				b.ReportMetric(float64(len(help)), "ways")
			}
		})
	}
}
