package main

import (
	"math"
	"math/rand/v2"
)

// A noise is gradient noise: a smooth random field over the plane, about 0, with
// hills and hollows as wide as 1 and heights within ±1.
//
//	K. Perlin, "Improving Noise", ACM SIGGRAPH 2002 (the fade curve).
type noise struct {
	perm [256]int        // a shuffle of 0-255: hashes a lattice point
	grad [256][2]float64 // unit vectors: the slope at a lattice point
}

func newNoise(r *rand.Rand) *noise {
	var n noise
	copy(n.perm[:], r.Perm(len(n.perm)))
	for i := range n.grad {
		n.grad[i][1], n.grad[i][0] = math.Sincos(2 * math.Pi * r.Float64())
	}
	return &n
}

func (n *noise) at(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	x, y = x-fx, y-fy
	i, j := int(fx), int(fy)
	corner := func(di, dj int) float64 {
		g := n.grad[n.perm[(n.perm[(i+di)&255]+j+dj)&255]]
		return g[0]*(x-float64(di)) + g[1]*(y-float64(dj))
	}
	u, v := fade(x), fade(y)
	low := mix(corner(0, 0), corner(1, 0), u)
	high := mix(corner(0, 1), corner(1, 1), u)
	return math.Sqrt2 * mix(low, high, v)
}

// fade goes from 0 to 1 with no slope and no curvature at either end.
func fade(t float64) float64 { return t * t * t * (t*(6*t-15) + 10) }

func mix(a, b, t float64) float64 { return a + t*(b-a) }

// A drift is a random value with a memory: it wanders about 0 with a standard
// deviation of 1 and forgets itself over a length (or a time) of 1.
type drift struct{ v float64 }

// next lets the drift go on by d of its memory.
func (f *drift) next(d float64, r *rand.Rand) float64 {
	keep := math.Exp(-d)
	f.v = keep*f.v + math.Sqrt(1-keep*keep)*r.NormFloat64()
	return f.v
}
