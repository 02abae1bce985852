package plan_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"runtime/metrics"
	"sync"
	"testing"
	"time"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"

	"github.com/tkrajina/gpxgo/gpx"
)

const (
	benchPoints = 1_000_000
	benchStops  = 2000
)

// longRide is a GPX file of a million points ten metres apart, winding and hilly,
// and stops up to some 3 km off it.
var longRide = sync.OnceValues(func() ([]byte, []stop.Stop) {
	rnd := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	var stops []stop.Stop
	b.WriteString(`<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>` + "\n")
	lat, lon, heading, ele := 0.0, 20.0, 0.3, 1500.0
	start := time.Date(2026, 5, 1, 10, 0, 0, 0, time.UTC)
	for i := range benchPoints {
		heading += 0.05 * rnd.NormFloat64()
		heading -= 0.01 * (heading - 0.5*math.Sin(float64(i)/20000))
		lat += 10 / 111195.0 * math.Cos(heading)
		lon += 10 / 111195.0 * math.Sin(heading) / math.Cos(lat*math.Pi/180)
		if lat > 60 || lat < 0 { // another lap beside it
			heading += math.Pi
		}
		ele += 0.5 * rnd.NormFloat64()
		fmt.Fprintf(&b, "<trkpt lat=\"%.6f\" lon=\"%.6f\"><ele>%.1f</ele><time>%s</time></trkpt>\n",
			lat, lon, ele, start.Add(time.Duration(i)*time.Second).Format(time.RFC3339))
		if i%(benchPoints/benchStops) == 0 {
			stops = append(stops, stop.Stop{Name: fmt.Sprint("S", i), Standing: stop.Seen,
				Grades: []octane.Grade{octane.FromRON(95)}, At: [2]float64{lon + 0.03*rnd.Float64(), lat}})
		}
	}
	b.WriteString("</trkseg></trk></gpx>\n")
	return b.Bytes(), stops
})

func benchRead(b *testing.B) *gpxfile.File {
	b.Helper()
	data, _ := longRide()
	f, err := gpxfile.Read(bytes.NewReader(data), "long.gpx")
	if err != nil {
		b.Fatal(err)
	}
	return f
}

func benchLine(b *testing.B, f *gpxfile.File) *route.Line {
	b.Helper()
	l, err := route.NewLine(f.Tracks, route.LineOptions{})
	if err != nil {
		b.Fatal(err)
	}
	return l
}

func benchPlan(b *testing.B, l *route.Line) *plan.Plan {
	b.Helper()
	_, stops := longRide()
	p := make1(b, ride(l, stops...))
	traceOf(p)
	sketchOf(p)
	return p
}

// BenchmarkMake plans a ride of a million points with 2000 stops near it. ratio is
// the time of planning (line and plan) over that of reading the file, both in one
// run; memory is by how much the heap grows at the most while reading and planning.
func BenchmarkMake(b *testing.B) {
	data, _ := longRide()
	file := benchRead(b)
	line := benchLine(b, file)
	b.Run("read", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		b.ReportAllocs()
		for b.Loop() {
			benchRead(b)
		}
	})
	b.Run("newline", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			benchLine(b, file)
		}
	})
	b.Run("make", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			benchPlan(b, line)
		}
	})
	file, line = nil, nil
	b.Run("ratio", benchRatio)
	b.Run("gpxgo", benchGpxgo)
	b.Run("memory", benchMemory)
}

func benchRatio(b *testing.B) {
	var reading, planning time.Duration
	for b.Loop() {
		runtime.GC()
		start := time.Now()
		f := benchRead(b)
		mid := time.Now()
		benchPlan(b, benchLine(b, f))
		reading += mid.Sub(start)
		planning += time.Since(mid)
	}
	b.ReportMetric(planning.Seconds()/reading.Seconds(), "plan/read")
}

// benchGpxgo compares all of it, from the bytes of the file to the plan, with what
// gpxgo takes to read the file alone, both in one run.
func benchGpxgo(b *testing.B) {
	data, _ := longRide()
	var whole, theirs time.Duration
	for b.Loop() {
		runtime.GC()
		start := time.Now()
		benchPlan(b, benchLine(b, benchRead(b)))
		whole += time.Since(start)
		runtime.GC()
		start = time.Now()
		if _, err := gpx.ParseBytes(data); err != nil {
			b.Fatal(err)
		}
		theirs += time.Since(start)
	}
	b.ReportMetric(theirs.Seconds()/whole.Seconds(), "x-gpxgo")
}

func benchMemory(b *testing.B) {
	var peak float64
	for b.Loop() {
		runtime.GC()
		grown := watchHeap()
		p := benchPlan(b, benchLine(b, benchRead(b)))
		peak = max(peak, grown())
		runtime.KeepAlive(p)
	}
	b.ReportMetric(peak/benchPoints, "bytes/point")
	data, _ := longRide()
	b.ReportMetric(peak/float64(len(data)), "x-file")
}

// watchHeap looks at the heap in use once a millisecond. The function it gives ends
// that and tells by how much it has grown at the most.
func watchHeap() (grown func() float64) {
	before := heapInUse()
	done, peak := make(chan bool), make(chan float64)
	go func() {
		highest := before
		for tick := time.NewTicker(time.Millisecond); ; {
			highest = max(highest, heapInUse())
			select {
			case <-done:
				tick.Stop()
				peak <- highest
				return
			case <-tick.C:
			}
		}
	}()
	return func() float64 {
		close(done)
		return <-peak - before
	}
}

func heapInUse() float64 {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/unused:bytes"}}
	metrics.Read(s)
	return float64(s[0].Value.Uint64() + s[1].Value.Uint64())
}
