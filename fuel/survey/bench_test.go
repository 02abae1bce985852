package survey

import (
	"bytes"
	"compress/bzip2"
	"compress/zlib"
	"context"
	"encoding/binary"
	"io"
	"os"
	"sync"
	"testing"
	"time"

	"github.com/paulmach/osm/osmxml"
	"google.golang.org/protobuf/encoding/protowire"

	"lastpump/route/osmfile"
	"lastpump/testdata/kit/extracts"
)

// BenchmarkSurvey surveys a ride of 60 km on each map and, in turn, has the same file
// read by others that do nothing with it: of PBF the blocks are unpacked and no more,
// which no reader can do without; XML goes through the scanner of paulmach/osm. Read
// "ratio".
func BenchmarkSurvey(b *testing.B) {
	for name, nothing := range map[string]func(testing.TB, []byte){extracts.Delaware: unpackAll, extracts.Andorra: scanAll} {
		b.Run(name, func(b *testing.B) {
			points, _ := rideOf(b, name, 60_000).recorded(5, 20, newRand(1))
			line := lineOf(b, points)
			data, err := os.ReadFile(extracts.Path(b, name))
			if err != nil {
				b.Fatal(err)
			}
			opt := DefaultOptions()
			opt.Scale, opt.Cores = "RON", 2
			var mine, others time.Duration
			b.ReportAllocs()
			for b.Loop() {
				start := time.Now()
				if _, err := Read(context.Background(), line, []osmfile.Extract{extracts.Seekable(name, data)}, opt); err != nil {
					b.Fatal(err)
				}
				half := time.Now()
				nothing(b, data)
				mine, others = mine+half.Sub(start), others+time.Since(half)
			}
			b.ReportMetric(float64(mine)/float64(others), "ratio")
			b.ReportMetric(mine.Seconds()*1000/float64(b.N), "ms/survey")
		})
	}
}

// unpackAll unpacks the blocks of a PBF file on two cores.
func unpackAll(t testing.TB, data []byte) {
	work := make(chan []byte, 4)
	var running sync.WaitGroup
	for range 2 {
		running.Go(func() {
			for packed := range work {
				z, err := zlib.NewReader(bytes.NewReader(packed))
				if err == nil {
					_, err = io.Copy(io.Discard, z)
				}
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	field := func(message []byte, want protowire.Number) (v uint64, data []byte) {
		for len(message) > 0 {
			number, kind, n := protowire.ConsumeTag(message)
			size := protowire.ConsumeFieldValue(number, kind, message[n:])
			if number == want {
				v, _ = protowire.ConsumeVarint(message[n:])
				data, _ = protowire.ConsumeBytes(message[n:])
			}
			message = message[n+size:]
		}
		return v, data
	}
	for len(data) > 0 {
		length := 4 + binary.BigEndian.Uint32(data)
		size, _ := field(data[4:length], 3)
		_, packed := field(data[length:][:size], 3)
		work <- packed
		data = data[length:][size:]
	}
	close(work)
	running.Wait()
}

// scanAll reads XML in bzip2.
func scanAll(t testing.TB, data []byte) {
	s := osmxml.New(context.Background(), bzip2.NewReader(bytes.NewReader(data)))
	defer s.Close()
	for s.Scan() {
	}
	if s.Err() != nil {
		t.Fatal(s.Err())
	}
}

func rideOf(t testing.TB, name string, length float64) *ride {
	w := extracts.WorldOf(t, name)
	c := newChain(w, 5)
	for {
		for id := range c.links {
			if d := c.ride(id, length, func(int64) bool { return false }); d.length >= length {
				return d
			}
		}
	}
}

// BenchmarkMatch lays a ride of 60 km on the ways near it.
func BenchmarkMatch(b *testing.B) {
	points, _ := rideOf(b, extracts.Delaware, 60_000).recorded(5, 20, newRand(1))
	line := lineOf(b, points)
	h := newCollection(line, DefaultOptions())
	if err := h.read(context.Background(), []osmfile.Extract{extracts.Of(b, extracts.Delaware)}); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		h.match(line, 2)
	}
}
