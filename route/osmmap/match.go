package osmmap

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"lastpump/route"

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
	leastSpread   = 4.0   // metres, of fixes about their way
	mostSpread    = 10.0  // more is no noise, but another way
	usualSpread   = 10.0  // where too few fixes lie near any way
	reachOfSpread = 5     // a way farther off than so many spreads is none
	besideFrom    = 20.0  // metres off a way, from which on it is doubtful whether it is that one
	lookFor       = 100.0 // metres about a fix for measuring the spread
	atMostSpots   = 12
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
	spots  []spot
	off    []float64 // metres, of each spot
	onward []float64 // cost from each spot to each of the next fix, row by row
}

// A matcher lays a line on the net.
type matcher struct {
	roads  *roads
	spread float64
	cores  int
}

// match gives what lies under the line.
func match(line *route.Line, r *roads, cores int) []Match {
	chains := fixesOf(line)
	m := &matcher{roads: r, spread: spreadOf(chains, r), cores: cores}
	m.spotAll(chains)
	var out []Match
	s := newSearch(r)
	for i, c := range chains {
		if i > 0 {
			before := chains[i-1]
			out = extend(out, Match{Stretch: Stretch{before[len(before)-1].at, c[0].at}, Ground: route.Unknown, Note: noteGap})
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
func spreadOf(chains [][]fix, r *roads) float64 {
	n := 0
	for _, c := range chains {
		n += len(c)
	}
	every := n/2000 + 1
	var offs []float64
	i := 0
	for _, c := range chains {
		for _, f := range c {
			if i++; i%every != 0 {
				continue
			}
			least := math.Inf(1)
			plane := flatAt(f.point)
			r.near(f.point, lookFor, func(s segment) {
				e := &r.edges[s.edge]
				least = min(least, plane.toSegment(e.points[s.step], e.points[s.step+1]).off)
			})
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

// spotAll finds the spots of all fixes and what it costs from one to the next. No fix
// depends on another there, so all cores share the work.
func (m *matcher) spotAll(chains [][]fix) {
	for _, c := range chains {
		share(len(c), m.cores, func() func(int) {
			return func(i int) { m.spot(&c[i]) }
		})
		share(len(c)-1, m.cores, func() func(int) {
			s := newSearch(m.roads)
			return func(i int) { m.link(&c[i], &c[i+1], s) }
		})
	}
}

// share calls a worker with every number below n, in goroutines that each make one.
func share(n, cores int, worker func() func(int)) {
	const batch = 64
	var next int
	var lock sync.Mutex
	var wg sync.WaitGroup
	for range min(max(cores, 1), (n+batch-1)/batch) {
		wg.Go(func() {
			work := worker()
			for {
				lock.Lock()
				from := next
				next += batch
				lock.Unlock()
				if from >= n {
					return
				}
				for i := from; i < min(from+batch, n); i++ {
					work(i)
				}
			}
		})
	}
	wg.Wait()
}

// spot finds where on the net a fix may lie: on each edge within reach, where it comes
// close, on both arms of a hairpin.
func (m *matcher) spot(f *fix) {
	reach := reachOfSpread * m.spread
	plane := flatAt(f.point)
	var steps []segment
	m.roads.near(f.point, reach, func(s segment) { steps = append(steps, s) })
	slices.SortFunc(steps, func(a, b segment) int { return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.step, b.step)) })
	steps = slices.Compact(steps)
	type candidate struct {
		spot
		off float64
	}
	var found []candidate
	foots := make([]foot, len(steps))
	for i, s := range steps {
		e := &m.roads.edges[s.edge]
		foots[i] = plane.toSegment(e.points[s.step], e.points[s.step+1])
	}
	beside := func(i, k int) bool {
		return k >= 0 && k < len(steps) && steps[k].edge == steps[i].edge && steps[k].step-steps[i].step == int32(k-i)
	}
	for i, s := range steps {
		switch here := foots[i].off; {
		case here > reach, beside(i, i-1) && foots[i-1].off <= here, beside(i, i+1) && foots[i+1].off < here:
			continue
		}
		e := &m.roads.edges[s.edge]
		along := e.at[s.step] + foots[i].share*(e.at[s.step+1]-e.at[s.step])
		found = append(found, candidate{spot{s.edge, along}, foots[i].off})
	}
	slices.SortStableFunc(found, func(a, b candidate) int { return cmp.Compare(a.off, b.off) })
	for _, c := range found[:min(len(found), atMostSpots)] {
		f.spots = append(f.spots, c.spot)
		f.off = append(f.off, c.off)
	}
}

// link finds what it costs to come from each spot of a fix to each of the next.
func (m *matcher) link(f, next *fix, s *search) {
	straight, along := metres(f.point, next.point), float64(next.at-f.at)
	f.onward = make([]float64, 0, len(f.spots)*len(next.spots))
	for _, from := range f.spots {
		s.run(from, next.spots, bound(along))
		for _, to := range next.spots {
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

// viterbi gives the likeliest spot for each fix; -1 is on no way.
func (m *matcher) viterbi(c []fix) []int {
	back := make([][]int16, len(c))
	var scores []float64 // of the spots of a fix, and last of being on none
	for i := range c {
		f := &c[i]
		now := make([]float64, len(f.spots)+1)
		back[i] = make([]int16, len(now))
		for k := range now {
			now[k], back[i][k] = m.arrive(c, i, k, scores)
			if k < len(f.spots) {
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
		if k == len(c[i].spots) {
			path[i] = -1
		}
		k = int(back[i][k])
	}
	return path
}

// arrive gives the least cost of coming to spot k of fix i, and from where.
func (m *matcher) arrive(c []fix, i, k int, scores []float64) (float64, int16) {
	if i == 0 {
		return 0, 0
	}
	before, here := &c[i-1], &c[i]
	best, from := math.Inf(1), 0
	for j, score := range scores {
		switch off, wasOff := k == len(here.spots), j == len(before.spots); {
		case off != wasOff:
			score += leaveCost
		case !off:
			score += before.onward[j*len(here.spots)+k]
		}
		if score < best {
			best, from = score, j
		}
	}
	return best, int16(from)
}

// trace gives the stretches under a chain of fixes along the spots chosen.
func (m *matcher) trace(out []Match, c []fix, path []int, s *search) []Match {
	for i := 1; i < len(c); i++ {
		a, b := &c[i-1], &c[i]
		var legs []leg
		beside := false
		if path[i-1] >= 0 && path[i] >= 0 {
			if k := path[i-1]*len(b.spots) + path[i]; a.onward[k] < jumpCost {
				to := b.spots[path[i]]
				s.run(a.spots[path[i-1]], []spot{to}, bound(float64(b.at-a.at)))
				legs = s.legsTo(to)
				beside = a.off[path[i-1]] > besideFrom && b.off[path[i]] > besideFrom
			}
		}
		out = m.lay(out, a.at, b.at, legs, beside)
	}
	return out
}

// What is noted where there is no way.
const (
	noteGap   = "a gap in the line"
	noteNoWay = "no way of the map lies under the line"
)

// lay lays legs on a stretch of line, each with its share of the length. Where the line
// runs beside its way all along, the ground is a guess: a track beside a road looks the
// same as a road that is drawn askew.
func (m *matcher) lay(out []Match, from, to route.Metres, legs []leg, beside bool) []Match {
	whole := 0.0
	for _, l := range legs {
		whole += l.length
	}
	if len(legs) == 0 || whole == 0 && len(legs) > 1 {
		legs = legs[:min(len(legs), 1)]
	}
	if len(legs) == 0 {
		return extend(out, Match{Stretch: Stretch{from, to}, Ground: route.Unknown, Note: noteNoWay})
	}
	done := 0.0
	at := from
	for i, l := range legs {
		done += l.length
		end := to
		if i < len(legs)-1 {
			end = from + (to-from)*route.Metres(done/whole)
		}
		w := m.roads.edges[l.edge].way
		found := Match{Stretch: Stretch{at, end}, Way: w.id, Ground: w.footing.ground, Guessed: w.footing.guessed, Note: w.footing.note}
		if beside {
			found.Guessed, found.Note = true, "20 m and more beside "+found.Note
		}
		out = extend(out, found)
		at = end
	}
	return out
}

// extend adds a stretch, or makes the last one longer where it is the same way.
func extend(out []Match, m Match) []Match {
	if m.From >= m.To {
		return out
	}
	if k := len(out) - 1; k >= 0 && out[k].Way == m.Way && out[k].Note == m.Note {
		out[k].To = m.To
		return out
	}
	return append(out, m)
}
