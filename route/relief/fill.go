package relief

import (
	"iter"

	"lastpump/route"
)

// bridged is the length up to which a hole in the heights is left: a line is
// interpolated over a kilometre without heights, as [route.Line] does, and that
// goes better with the heights on both sides than those of another source would.
const bridged route.Metres = 1000

// Filled counts the points that were asked for: Points is the sum of the others.
type Filled struct {
	Points  int // whose height was asked for
	From    int // that have it from the relief
	Voids   int // that lie on a void
	Missing int // that lie where there is no tile
}

// Fill sets the heights of points in place.
//
// Everywhere, each point gets the height of the relief. Where that is not known
// the point has none afterwards, whatever it had: two sources differ by some
// metres, and each change from one to the other would be a climb that is not
// there.
//
// Else only holes are filled: points without a height, over all segments and
// tracks one after the other, if the line from the point before to the one after
// is longer than a kilometre. At an end of the whole it is measured from the
// first or to the last point. Shorter holes are interpolated later.
//
// The error is that of [Tiles.Height], at the first damaged file; the points up
// to there are then changed.
func (t *Tiles) Fill(tracks []route.Track, everywhere bool) (Filled, error) {
	var f Filled
	if everywhere {
		for p := range points(tracks) {
			if err := t.set(p, &f); err != nil {
				return f, err
			}
		}
		return f, nil
	}
	for hole := range holes(tracks) {
		for _, p := range hole {
			if err := t.set(p, &f); err != nil {
				return f, err
			}
		}
	}
	return f, nil
}

// set gives a point the height of the relief, or none.
func (t *Tiles) set(p *route.Point, f *Filled) error {
	h, kind, err := t.look(p.Point)
	if err != nil {
		return err
	}
	p.Ele, p.HasEle = h, kind == ground
	f.Points++
	switch kind {
	case ground:
		f.From++
	case void:
		f.Voids++
	case nothing:
		f.Missing++
	}
	return nil
}

// points gives the points of all segments of all tracks.
func points(tracks []route.Track) iter.Seq[*route.Point] {
	return func(yield func(*route.Point) bool) {
		for _, t := range tracks {
			for _, s := range t.Segments {
				for i := range s {
					if !yield(&s[i]) {
						return
					}
				}
			}
		}
	}
}

// holes gives the runs of points without a height that are not bridged. A hole
// is valid until the next.
func holes(tracks []route.Track) iter.Seq[[]*route.Point] {
	return func(yield func([]*route.Point) bool) {
		var hole []*route.Point
		var last *route.Point
		var length route.Metres // from the last point with a height
		for p := range points(tracks) {
			if last != nil && (len(hole) > 0 || !p.HasEle) {
				length += route.Distance(last.Point, p.Point)
			}
			last = p
			if !p.HasEle {
				hole = append(hole, p)
				continue
			}
			if len(hole) > 0 && length > bridged && !yield(hole) {
				return
			}
			hole, length = hole[:0], 0
		}
		if len(hole) > 0 && length > bridged {
			yield(hole)
		}
	}
}
