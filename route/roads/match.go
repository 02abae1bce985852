package roads

import (
	"cmp"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"lastpump/route"
	"lastpump/route/flat"

	"github.com/paulmach/orb"
)

// How the line is laid on the ways: a hidden Markov model [1]. What is seen are points
// of the line, fixes; what is hidden is where on the net each of them truly lies.
//
//   - A fix lies off its way by as much as a normal distribution says, of a spread that
//     is measured on the line itself, as the authors do, within limits.
//   - From one fix to the next the way along the net is about as long as the line. The
//     difference has an exponential distribution.
//   - Beside the ways there is a state of being on none of them: a line that leaves the
//     map is not forced on it. Ours; the authors cut the line where nothing fits.
//
// The most likely sequence is found by Viterbi's algorithm. Costs are logarithms of
// odds: the lower, the likelier.
const fixesApart route.Metres = 30

const (
	leastSpread    = 4.0   // metres, of fixes about their way
	mostSpread     = 10.0  // more is no noise, but another way
	usualSpread    = 10.0  // where too few fixes lie near any way
	reachOfSpread  = 5     // a way farther off than so many spreads is none
	besideFrom     = 20.0  // metres off a way, from which on it is doubtful whether it is that one
	lookFor        = 100.0 // metres about a fix for measuring the spread
	mostCandidates = 12
)

// Tuned on chained ways of two maps, see the test of what is given back.
const (
	bendShare = 0.12 // of the line between two fixes, by how much bends make the way longer
	mostBend  = 60.0 // metres of that: of points far apart nobody knows the way
	offCost   = 6.0  // of a fix on no way: that of one three and a half spreads off
	leaveCost = 5.0  // of leaving the ways, and of coming back
	jumpCost  = 12.0 // of going on where the net has no way
)

// A fix is a point of the line that is to be laid on the net.
type fix struct {
	at     route.Metres
	point  orb.Point
	near   []candidate
	off    []float64 // metres, of each candidate
	onward []float64 // cost from each candidate to each of the next fix, row by row
}

// A matcher lays a line on the net.
type matcher struct {
	net    *Net
	spread float64
	cores  int
}

// A Span is a part of a line, in metres along it.
type Span struct{ From, To route.Metres }

// Length is how much line it is.
func (s Span) Length() route.Metres { return s.To - s.From }

// A Match is a span of a line with the way under it.
type Match struct {
	Span
	Way    *Way // nil where it lies on none
	Gap    bool // it is a gap of the line, and lies on no way
	Beside bool // the line runs 20 m and more beside the way all along: it may be another
}

// Match tells what lies under a line, in order and without holes. It works in as many
// goroutines as there are cores.
func (n *Net) Match(line *route.Line, cores int) []Match {
	chains := fixesOf(line)
	m := &matcher{net: n, spread: n.spreadOf(chains), cores: cores}
	m.findAll(chains)
	var out []Match
	s := newSearch(n)
	for i, c := range chains {
		if i > 0 {
			before := chains[i-1]
			out = extend(out, Match{Span: Span{before[len(before)-1].at, c[0].at}, Gap: true})
		}
		out = m.trace(out, c, m.viterbi(c), s)
	}
	return out
}

// fixesOf picks the points of a line that are laid on the net, in chains without gaps.
func fixesOf(line *route.Line) (chains [][]fix) {
	var c []fix
	var last route.Vertex
	for v := range line.Vertices() {
		if v.AfterGap {
			if c[len(c)-1].at < last.At {
				c = append(c, fix{at: last.At, point: last.Point})
			}
			chains = append(chains, c)
			c = nil
		}
		if len(c) == 0 || v.At-c[len(c)-1].at >= fixesApart {
			c = append(c, fix{at: v.At, point: v.Point})
		}
		last = v
	}
	if c[len(c)-1].at < last.At {
		c = append(c, fix{at: last.At, point: last.Point})
	}
	return append(chains, c)
}

// spreadOf measures how far the fixes lie off the ways: 1.4826 times the median is the
// standard deviation of a normal distribution [1].
func (n *Net) spreadOf(chains [][]fix) float64 {
	fixes := 0
	for _, c := range chains {
		fixes += len(c)
	}
	every := fixes/2000 + 1
	var offs []float64
	i := 0
	for _, c := range chains {
		for _, f := range c {
			if i++; i%every != 0 {
				continue
			}
			least := math.Inf(1)
			plane := flat.At(f.point)
			n.near(f.point, lookFor, func(s segment) { least = min(least, plane.Foot(n.ends(s)).Off) })
			if least <= lookFor {
				offs = append(offs, least)
			}
		}
	}
	if len(offs) < 10 {
		return usualSpread
	}
	slices.Sort(offs)
	return min(max(1.4826*offs[len(offs)/2], leastSpread), mostSpread)
}

// findAll finds the candidates of all fixes and what it costs from one to the next. No fix
// depends on another there, so all cores share the work.
func (m *matcher) findAll(chains [][]fix) {
	for _, c := range chains {
		share(len(c), m.cores, func() func(int) {
			return func(i int) { m.find(&c[i]) }
		})
		share(len(c)-1, m.cores, func() func(int) {
			s := newSearch(m.net)
			return func(i int) { m.link(&c[i], &c[i+1], s) }
		})
	}
}

// share calls a worker with every number below n, in goroutines that each make one.
func share(n, cores int, worker func() func(int)) {
	var taken atomic.Int64
	var running sync.WaitGroup
	for range max(cores, 1) {
		running.Go(func() {
			work := worker()
			for i := int(taken.Add(1)) - 1; i < n; i = int(taken.Add(1)) - 1 {
				work(i)
			}
		})
	}
	running.Wait()
}

// find finds where on the net a fix may lie: on each edge within reach, where it comes
// close, on both arms of a hairpin.
func (m *matcher) find(f *fix) {
	reach := reachOfSpread * m.spread
	plane := flat.At(f.point)
	var segments []segment
	m.net.near(f.point, reach, func(s segment) { segments = append(segments, s) })
	slices.SortFunc(segments, func(a, b segment) int {
		return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.from, b.from))
	})
	segments = slices.Compact(segments)
	feet := make([]flat.Foot, len(segments))
	for i, s := range segments {
		feet[i] = plane.Foot(m.net.ends(s))
	}
	// beside gives how far off the segment before or behind on the same edge is.
	beside := func(i, k int) float64 {
		if k < 0 || k >= len(segments) || segments[k] != (segment{segments[i].edge, segments[i].from + int32(k-i)}) {
			return math.Inf(1)
		}
		return feet[k].Off
	}
	type found struct {
		candidate
		off float64
	}
	var all []found
	for i, s := range segments {
		here := feet[i].Off
		if here > reach || beside(i, i-1) <= here || beside(i, i+1) < here {
			continue
		}
		e := &m.net.edges[s.edge]
		along := e.at[s.from] + feet[i].Share*(e.at[s.from+1]-e.at[s.from])
		all = append(all, found{candidate{s.edge, along}, here})
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.off, b.off) })
	for _, c := range all[:min(len(all), mostCandidates)] {
		f.near = append(f.near, c.candidate)
		f.off = append(f.off, c.off)
	}
}

// link finds what it costs to come from each candidate of a fix to each of the next.
func (m *matcher) link(f, next *fix, s *search) {
	straight, along := metres(f.point, next.point), float64(next.at-f.at)
	f.onward = make([]float64, 0, len(f.near)*len(next.near))
	for _, from := range f.near {
		s.run(from, next.near, bound(along))
		for _, to := range next.near {
			length, _ := s.lengthTo(to)
			f.onward = append(f.onward, m.onwardCost(length, straight, along))
		}
	}
}

// bound is how far a way is looked for between two fixes.
func bound(along float64) float64 { return 3*along + 200 }

// onwardCost is that of a way of some length between two fixes. What is drawn between
// them is no measure where it zigzags about the way, nor is the straight where it cuts
// corners: a length between the two is as good as any.
func (m *matcher) onwardCost(length, straight, along float64) float64 {
	scale := m.spread + min(bendShare*along, mostBend)
	cost := max(straight-length, length-along, 0) / scale
	if !(cost < jumpCost) {
		return jumpCost // as if there were no way: the map may lack a junction
	}
	return cost
}

// viterbi gives the likeliest candidate for each fix; -1 is on no way.
func (m *matcher) viterbi(c []fix) []int {
	back := make([][]int16, len(c))
	var scores []float64 // of the candidates of a fix, and last of being on none
	for i := range c {
		f := &c[i]
		now := make([]float64, len(f.near)+1)
		back[i] = make([]int16, len(now))
		for k := range now {
			now[k], back[i][k] = m.arrive(c, i, k, scores)
			if k < len(f.near) {
				x := f.off[k] / m.spread
				now[k] += x * x / 2
			} else {
				now[k] += offCost
			}
		}
		scores = now
	}
	path := make([]int, len(c))
	k := slices.Index(scores, slices.Min(scores))
	for i := len(c) - 1; i >= 0; i-- {
		path[i] = k
		if k == len(c[i].near) {
			path[i] = -1
		}
		k = int(back[i][k])
	}
	return path
}

// arrive gives the least cost of coming to candidate k of fix i, and from where.
func (m *matcher) arrive(c []fix, i, k int, scores []float64) (float64, int16) {
	if i == 0 {
		return 0, 0
	}
	before, here := &c[i-1], &c[i]
	best, from := math.Inf(1), 0
	for j, score := range scores {
		switch off, wasOff := k == len(here.near), j == len(before.near); {
		case off != wasOff:
			score += leaveCost
		case !off:
			score += before.onward[j*len(here.near)+k]
		}
		if score < best {
			best, from = score, j
		}
	}
	return best, int16(from)
}

// trace gives what lies under a chain of fixes along the candidates chosen.
func (m *matcher) trace(out []Match, c []fix, path []int, s *search) []Match {
	for i := 1; i < len(c); i++ {
		a, b := &c[i-1], &c[i]
		var hops []hop
		beside := false
		if path[i-1] >= 0 && path[i] >= 0 {
			if k := path[i-1]*len(b.near) + path[i]; a.onward[k] < jumpCost {
				to := b.near[path[i]]
				s.run(a.near[path[i-1]], []candidate{to}, bound(float64(b.at-a.at)))
				hops = s.hopsTo(to)
				beside = a.off[path[i-1]] > besideFrom && b.off[path[i]] > besideFrom
			}
		}
		out = m.lay(out, Span{a.at, b.at}, hops, beside)
	}
	return out
}

// lay lays hops on a span of line, each with its share of the length. Where the line
// runs beside its way all along it says so: a track beside a road looks the same as a
// road that is drawn askew.
func (m *matcher) lay(out []Match, on Span, hops []hop, beside bool) []Match {
	whole := 0.0
	for _, h := range hops {
		whole += h.length
	}
	if whole == 0 {
		hops = hops[:min(len(hops), 1)]
	}
	if len(hops) == 0 {
		return extend(out, Match{Span: on})
	}
	done, at := 0.0, on.From
	for i, h := range hops {
		done += h.length
		end := on.To
		if i < len(hops)-1 {
			end = on.From + (on.To-on.From)*route.Metres(done/whole)
		}
		out = extend(out, Match{Span: Span{at, end}, Way: m.net.edges[h.edge].way, Beside: beside})
		at = end
	}
	return out
}

// extend adds a match, or makes the last one longer where it is the same.
func extend(out []Match, m Match) []Match {
	if m.From >= m.To {
		return out
	}
	if k := len(out) - 1; k >= 0 && out[k].Way == m.Way && out[k].Gap == m.Gap && out[k].Beside == m.Beside {
		out[k].To = m.To
		return out
	}
	return append(out, m)
}
