package plan_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"lastpump/fuel/plan"
	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route"
	"lastpump/route/gpxfile"
)

const (
	benchPoints = 1_000_000
	benchStops  = 2000
)

// longRide writes a GPX file of a million points ten metres apart, winding and
// hilly, and stops up to 3 km off it.
func longRide() ([]byte, []stop.Stop) {
	rnd := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	var stops []stop.Stop
	b.WriteString(`<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>` + "\n")
	lat, lon, heading, ele := 0.0, 20.0, 0.3, 1500.0
	for i := range benchPoints {
		heading += 0.05 * rnd.NormFloat64()
		heading -= 0.01 * (heading - 0.5*math.Sin(float64(i)/20000))
		lat += 10 / 111195.0 * math.Cos(heading)
		lon += 10 / 111195.0 * math.Sin(heading) / math.Cos(lat*math.Pi/180)
		if lat > 60 || lat < 0 { // another lap beside it
			heading += math.Pi
		}
		ele += 0.5 * rnd.NormFloat64()
		fmt.Fprintf(&b, "<trkpt lat=\"%.6f\" lon=\"%.6f\"><ele>%.1f</ele><time>2026-05-01T10:00:00Z</time></trkpt>\n", lat, lon, ele)
		if i%(benchPoints/benchStops) == 0 {
			stops = append(stops, stop.Stop{Name: fmt.Sprint("S", i), Standing: stop.Seen,
				Grades: []octane.Grade{octane.FromRON(95)}, At: [2]float64{lon + 0.03*rnd.Float64(), lat}})
		}
	}
	b.WriteString("</trkseg></trk></gpx>\n")
	return b.Bytes(), stops
}

// BenchmarkMake plans a ride of a million points with 2000 stops. The ratio is the
// time that planning takes (the line and the plan) over that of reading the file,
// in one run; the memory is the peak of the heap while reading and planning.
func BenchmarkMake(b *testing.B) {
	data, stops := longRide()
	b.SetBytes(int64(len(data)))
	var reading, planning time.Duration
	var peak float64
	for range b.N {
		b.StopTimer()
		runtime.GC()
		stopWatching := watchHeap()
		b.StartTimer()
		t0 := time.Now()
		f, err := gpxfile.Read(bytes.NewReader(data), "long.gpx")
		if err != nil {
			b.Fatal(err)
		}
		t1 := time.Now()
		l, err := route.NewLine(f.Tracks, route.LineOptions{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := plan.Make(ride(l, stops...)); err != nil {
			b.Fatal(err)
		}
		planning += time.Since(t1)
		reading += t1.Sub(t0)
		peak = max(peak, stopWatching())
		runtime.KeepAlive(f)
	}
	b.ReportMetric(float64(planning)/float64(reading), "plan/read")
	b.ReportMetric(peak/benchPoints, "heapB/point")
	b.ReportAllocs()
}

// watchHeap gives a function that ends the watch and gives by how much the heap
// has grown at the most.
func watchHeap() func() float64 {
	var before, now runtime.MemStats
	runtime.ReadMemStats(&before)
	done, peak := make(chan bool), make(chan uint64)
	go func() {
		highest := uint64(0)
		for {
			select {
			case <-done:
				peak <- highest
				return
			case <-time.After(5 * time.Millisecond):
				runtime.ReadMemStats(&now)
				highest = max(highest, now.HeapInuse)
			}
		}
	}()
	return func() float64 {
		close(done)
		return float64(<-peak) - float64(before.HeapInuse)
	}
}
