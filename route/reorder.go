package route

import (
	"slices"

	"lastpump/route/internal/order"

	"github.com/paulmach/orb"
)

// A Reorder is an order in which the parts of a file meet much better than in the
// file's own.
type Reorder struct {
	Parts    []PartRef
	Gaps     Metres // between the parts, in all
	FileGaps Metres // the same in the file's order
	Taken    bool   // false where it is only offered
	Refused  bool   // it leaves a gap of over 100 km, with which a line is refused
}

// A PartRef is a part by its number in the file, from 1.
type PartRef struct {
	Number    int
	Backwards bool
}

// reorderBelow is how much better an order must be to be worth a word: our
// estimate.
const reorderBelow = 0.1

// MostParts is up to how many parts another order is looked for: more are pieces of
// a recording, not days.
const MostParts = 100

// reorder looks for an order in which the parts meet, and gives the strands in it
// if that is asked for.
func (b *builder) reorder(nearest bool, strands []strand) []strand {
	parts := partsOf(strands)
	if len(parts) < 2 || len(parts) > MostParts {
		return strands
	}
	between := order.NewGaps(b.endsOf(parts))
	gaps := between.Length(between.AsGiven())
	if gaps <= b.join()*Metres(len(parts)-1) {
		return strands
	}
	best := between.Best(gaps * reorderBelow)
	enough := gaps * reorderBelow // for a word about it
	if nearest {
		enough = gaps
	}
	length := between.Length(best)
	if length >= enough {
		return strands
	}
	r := &Reorder{Gaps: length, FileGaps: gaps, Taken: nearest}
	for _, v := range best {
		r.Parts = append(r.Parts, PartRef{b.numbers[parts[v.Index][0].part], v.Backwards})
	}
	b.line.Reorder = r
	var out []strand
	for _, v := range best {
		p := slices.Clone(parts[v.Index])
		if v.Backwards {
			turnRound(p)
		}
		out = append(out, p...)
	}
	for i := 1; i < len(out); i++ {
		r.Refused = r.Refused || b.between(out[i-1], out[i]) > maxGap
	}
	if !r.Taken {
		return strands
	}
	return out
}

// partsOf gathers the strands of each part.
func partsOf(strands []strand) [][]strand {
	var out [][]strand
	for _, s := range strands {
		if n := len(out); n > 0 && out[n-1][0].part == s.part {
			out[n-1] = append(out[n-1], s)
		} else {
			out = append(out, []strand{s})
		}
	}
	return out
}

// endsOf gives the first and the last point of each part.
func (b *builder) endsOf(parts [][]strand) (ends []orb.Point) {
	for _, p := range parts {
		ends = append(ends, b.line.pts[p[0].first()], b.line.pts[p[len(p)-1].last()])
	}
	return ends
}
