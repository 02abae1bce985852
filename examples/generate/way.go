package main

import (
	"container/heap"
	"math"
	"slices"
)

// cell is the width of the grid that a way is sought on, in metres: wide enough
// to be quick, narrow enough to find a pass.
const cell = 1000.0

// A grid holds the heights of a land at every cell, row by row from the south.
type grid struct {
	corner     spot // its south-west cell
	cols, rows int
	height     []float64
}

// survey lays a grid over the towns with 30 km of room around them.
func survey(l *land, towns []town) *grid {
	const room = 30e3
	lo, hi := towns[0].spot(), towns[0].spot()
	for _, t := range towns {
		p := t.spot()
		lo = spot{min(lo.x, p.x), min(lo.y, p.y)}
		hi = spot{max(hi.x, p.x), max(hi.y, p.y)}
	}
	g := &grid{corner: spot{lo.x - room, lo.y - room}}
	g.cols = int((hi.x-lo.x+2*room)/cell) + 1
	g.rows = int((hi.y-lo.y+2*room)/cell) + 1
	for i := range g.cols * g.rows {
		g.height = append(g.height, l.height(g.spot(i)))
	}
	return g
}

func (g *grid) spot(i int) spot {
	return spot{g.corner.x + cell*float64(i%g.cols), g.corner.y + cell*float64(i/g.cols)}
}

func (g *grid) cell(p spot) int {
	return int(math.Round((p.y-g.corner.y)/cell))*g.cols + int(math.Round((p.x-g.corner.x)/cell))
}

// moves are the sixteen directions in which a way may leave a cell.
var moves = [][2]int{
	{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 1}, {-1, 1}, {-1, -1}, {1, -1},
	{2, 1}, {1, 2}, {-1, 2}, {-2, 1}, {-2, -1}, {-1, -2}, {1, -2}, {2, -1},
}

// neighbours calls f with each cell that a way may go to from i and what that
// costs: its length, and more where it is steep. A road builder pays for 2 m of
// climb per 100 m about what he pays for going twice as far.
func (g *grid) neighbours(i int, f func(j int, cost float64)) {
	const dear = 0.02
	x, y := i%g.cols, i/g.cols
	for _, m := range moves {
		nx, ny := x+m[0], y+m[1]
		if nx < 0 || ny < 0 || nx >= g.cols || ny >= g.rows {
			continue
		}
		j := ny*g.cols + nx
		d := cell * math.Hypot(float64(m[0]), float64(m[1]))
		grade := (g.height[j] - g.height[i]) / d
		f(j, d*(1+grade*grade/(dear*dear)))
	}
}

// way is the cheapest way from one spot to another, cell by cell.
//
//	E. W. Dijkstra, "A note on two problems in connexion with graphs",
//	Numerische Mathematik 1 (1959), problem 2.
func (g *grid) way(from, to spot) []spot {
	cost := slices.Repeat([]float64{math.Inf(1)}, len(g.height))
	prev := make([]int, len(g.height))
	start, end := g.cell(from), g.cell(to)
	cost[start] = 0
	q := &queue{{start, 0}}
	for q.Len() > 0 {
		h := heap.Pop(q).(head)
		if h.cell == end {
			break
		}
		if h.cost > cost[h.cell] {
			continue
		}
		g.neighbours(h.cell, func(j int, c float64) {
			if c += h.cost; c < cost[j] {
				cost[j], prev[j] = c, h.cell
				heap.Push(q, head{j, c})
			}
		})
	}
	way := []spot{to}
	for i := end; i != start; i = prev[i] {
		way = append(way, g.spot(i))
	}
	slices.Reverse(way)
	return way
}

// A head is a cell that the search has come to and what it cost to get there.
type head struct {
	cell int
	cost float64
}

// A queue is a heap of heads, the cheapest first.
type queue []head

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].cost < q[j].cost }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(head)) }
func (q *queue) Pop() any {
	last := len(*q) - 1
	h := (*q)[last]
	*q = (*q)[:last]
	return h
}
