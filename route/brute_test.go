package route_test

import (
	"math"

	"github.com/paulmach/orb"

	"lastpump/route"
)

// A sample is a place on a line, seen from a stop.
type sample struct {
	at, off float64 // along the line, and to the stop
	gap     bool
}

// sampleStep is how closely lines are sampled. What lies nearest may fall between
// two samples: then they are up to 5 m farther off.
const sampleStep, sampleMiss = 10.0, 5.0

// sampled walks along segments, gaps between them included, on great circles
// found by vectors, and looks at the stop every few metres. It shares nothing with
// the package.
func sampled(segments [][]route.Point, stop orb.Point) []sample {
	var out []sample
	at := 0.0
	var last orb.Point
	for k, segment := range segments {
		for i, p := range segment {
			if k+i > 0 {
				d := angle(last, p.Point) * earth
				n := math.Ceil(d / sampleStep)
				for j := range int(n) {
					s := float64(j) / n
					out = append(out, sample{at + s*d, angle(along(last, p.Point, s), stop) * earth, i == 0 && j > 0})
				}
				at += d
			}
			last = p.Point
		}
	}
	return append(out, sample{at, angle(last, stop) * earth, false})
}

// along gives the place a share of the way on the great circle.
func along(a, b orb.Point, share float64) orb.Point {
	d := angle(a, b)
	if d == 0 {
		return a
	}
	u, v := vector(a), vector(b)
	s, r := math.Sin((1-share)*d)/math.Sin(d), math.Sin(share*d)/math.Sin(d)
	x, y, z := s*u[0]+r*v[0], s*u[1]+r*v[1], s*u[2]+r*v[2]
	return orb.Point{math.Atan2(y, x) / rad, math.Atan2(z, math.Hypot(x, y)) / rad}
}

// A passing is a passage found by brute force: from and to along the line, and
// where it comes closest.
type passing struct {
	from, to float64
	best     sample
}

// passings applies the rule of passages to samples: stretches within the corridor
// are one passing unless between them the line goes beyond wide and they lie apart
// along it. Nobody knows where a gap was ridden, so it passes nothing.
func passings(samples []sample, corridor, wide, apart float64) []passing {
	var out []passing
	beyond, inside := false, false
	for _, s := range samples {
		beyond = beyond || s.off > wide
		if s.gap || s.off > corridor {
			inside = false
			continue
		}
		k := len(out) - 1
		if k < 0 || !inside && beyond && s.at-out[k].to >= apart {
			out = append(out, passing{s.at, s.at, s})
			k++
		}
		out[k].to = s.at
		if s.off < out[k].best.off {
			out[k].best = s
		}
		beyond, inside = false, true
	}
	return out
}

// certain gives the passings if they do not hang on what falls between samples.
func certain(samples []sample, corridor float64) ([]passing, bool) {
	found := passings(samples, corridor, 2*corridor, 5000)
	const miss = sampleMiss + 0.1
	for _, c := range []float64{-miss, miss} {
		for _, w := range []float64{-miss, miss} {
			for _, a := range []float64{-2.5 * sampleStep, 2.5 * sampleStep} {
				if len(passings(samples, corridor+c, 2*corridor+w, 5000+a)) != len(found) {
					return nil, false
				}
			}
		}
	}
	return found, true
}
