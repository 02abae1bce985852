package main

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
)

// TestFilesAreThoseCheckedIn makes every file again and wants the same bytes.
func TestFilesAreThoseCheckedIn(t *testing.T) {
	for _, f := range generate() {
		have, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(f.name)))
		if err != nil {
			t.Error(err)
			continue
		}
		if !bytes.Equal(have, f.data) {
			t.Errorf("%s is not what the generator makes; go run ./examples/generate", f.name)
		}
	}
}

// TestWrite writes to a new folder and reads back.
func TestWrite(t *testing.T) {
	dir := t.TempDir()
	if err := write(dir, []file{{"a/b.txt", []byte("b")}, {"c.txt", []byte("c")}}); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"a/b.txt": "b", "c.txt": "c"} {
		got, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil || string(got) != want {
			t.Errorf("%s: %q, %v; want %q", name, got, err, want)
		}
	}
}

// TestNoise wants heights within ±1, none where the lattice is, and no cliffs.
// A corner gives at most √2, so two differ by 2√2 at most; the fade is 15/8 steep
// at most; so the slope is at most √2·(1 + 15/8·2√2), under 9.
func TestNoise(t *testing.T) {
	n := newNoise(rand.New(rand.NewPCG(1, 2)))
	const step = 0.01
	for y := -3.0; y < 3; y += 0.37 {
		last := n.at(-300, y)
		for x := -300 + step; x < -290; x += step {
			v := n.at(x, y)
			if math.Abs(v) > 1 || math.Abs(v-last) > 9*step {
				t.Fatalf("at %.2f, %.2f: %v after %v", x, y, v, last)
			}
			last = v
		}
	}
	if v := n.at(-7, 12); v != 0 {
		t.Errorf("on the lattice: %v, want 0", v)
	}
}

// TestDrift wants what the doc comment says: a standard deviation of 1, and of
// a value no more than 1/e left after its memory.
func TestDrift(t *testing.T) {
	const n, steps = 200000, 10
	r := rand.New(rand.NewPCG(3, 4))
	var d drift
	var values []float64
	for range n {
		values = append(values, d.next(1.0/steps, r))
	}
	square, product := 0.0, 0.0
	for i := steps; i < n; i++ {
		square += values[i] * values[i]
		product += values[i] * values[i-steps]
	}
	// 20 000 memories long: the mean square is good to about 1 %.
	if v := square / (n - steps); math.Abs(v-1) > 0.04 {
		t.Errorf("variance %.3f, want 1", v)
	}
	if v := product / square; math.Abs(v-1/math.E) > 0.03 {
		t.Errorf("after one memory %.3f is left, want 1/e", v)
	}
}

// TestWay wants a straight way over a plain, as straight as sixteen directions
// allow, and a way that leaves a mountain aside.
func TestWay(t *testing.T) {
	g := &grid{cols: 60, rows: 60, height: make([]float64, 60*60)}
	from, to := spot{5e3, 5e3}, spot{55e3, 30e3}
	// Between two of sixteen directions, at worst 1/cos(13.3°) longer.
	if d, straight := wayLength(g.way(from, to)), math.Hypot(50e3, 25e3); d > 1.028*straight {
		t.Errorf("over a plain %.0f m, straight %.0f m", d, straight)
	}
	for i := range g.height {
		p := g.spot(i)
		g.height[i] = max(0, 2000-0.2*math.Hypot(p.x-30e3, p.y-30e3))
	}
	for _, p := range g.way(spot{5e3, 30e3}, spot{55e3, 30e3}) {
		if h := g.height[g.cell(p)]; h > 1000 {
			t.Errorf("over the mountain, at %.0f m", h)
		}
	}
}

func wayLength(way []spot) float64 {
	total := 0.0
	for i := 1; i < len(way); i++ {
		_, d := way[i-1].to(way[i])
		total += d
	}
	return total
}

// TestDraw wants both ends, rising distances along the ride, and every stride
// within the tolerance of its chord, but for the metre that the files round off.
func TestDraw(t *testing.T) {
	const within = 25
	l := canyon.land
	l.noise = newNoise(rand.New(rand.NewPCG(5, 6)))
	r := &rider{land: &l, Rand: rand.New(rand.NewPCG(7, 8)), line: []spot{{}}}
	r.follow([]spot{{20e3, 5e3}})
	fixes := draw(&l, r.line, 0, len(r.line)-1, within)
	if first, last := fixes[0], fixes[len(fixes)-1]; first.along != 0 || last.along != float64(len(r.line)-1)*stride {
		t.Errorf("drawn from %.0f to %.0f m of %d strides", first.along, last.along, len(r.line)-1)
	}
	for k := 1; k < len(fixes); k++ {
		i, j := int(fixes[k-1].along/stride), int(fixes[k].along/stride)
		if i >= j {
			t.Fatalf("fix %d is not ahead of the one before", k)
		}
		for _, p := range r.line[i : j+1] {
			if d := aside(p, r.line[i], r.line[j]); d > within+1 {
				t.Errorf("%.0f m beside the drawn line", d)
			}
		}
	}
}

// aside is how far p is from the straight line through a and b.
func aside(p, a, b spot) float64 {
	bearing, _ := a.to(b)
	to, d := a.to(p)
	return math.Abs(d * math.Sin(to-bearing))
}

// TestHaversine: one degree of latitude is 111 195.0802 m on a sphere of the
// mean radius (6 371 008.8 m × π/180).
func TestHaversine(t *testing.T) {
	got := haversine(orb.Point{10, 45}, orb.Point{10, 46})
	if math.Abs(got-111195.0802) > 1e-3 {
		t.Errorf("a degree is %.4f m", got)
	}
}
