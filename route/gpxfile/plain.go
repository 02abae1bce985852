package gpxfile

import (
	"errors"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"lastpump/route"
	"lastpump/route/gpxfile/internal/xmlscan"
)

// Nearly all points of nearly all files are written in one form:
//
//	<trkpt lat="43.123456" lon="77.123456"><ele>812.4</ele><time>2026-05-31T12:34:56Z</time></trkpt>
//
// with white space between the tags and ele and time there or not. What has that
// form is read here at three times the speed; for anything else, and where the
// buffer ends within a point, nothing is consumed and the scanner has its turn.
// Both read the same: the fuzz test has the second reader get one byte at a time,
// which is too little for this.

// plainPoints reads points as long as they have the form, and consumes them.
func (d *builder) plainPoints() {
	for {
		p, n := plainPoint(d.scan.Rest())
		if n == 0 {
			return
		}
		d.points.add(p)
		d.scan.Pass(n)
	}
}

// plainPoint reads the point that b begins with, after white space, and gives its
// length; 0 where it has another form.
func plainPoint(b []byte) (p route.Point, n int) {
	c := cursor{b: b}
	c.space()
	c.word(`<trkpt lat="`)
	lat := c.number()
	c.word(`" lon="`)
	lon := c.number()
	c.word(`"`)
	if c.off || math.Abs(lat) > 90 || lon < -180 || lon >= 180 {
		return p, 0
	}
	p.Point = orb.Point{lon, lat}
	if c.is(`/>`) {
		return p, c.i
	}
	for c.word(`>`); !c.off; {
		c.space()
		switch {
		case c.is(`</trkpt>`):
			return p, c.i
		case c.is(`<ele>`):
			v := c.number()
			c.word(`</ele>`)
			c.off = c.off || math.Abs(v) > highest
			p.Ele, p.HasEle = v, true
		case c.is(`<time>`):
			p.Time, p.HasTime = c.time(), true
			c.word(`</time>`)
		default:
			return p, 0
		}
	}
	return p, 0
}

// A cursor goes along bytes until they are not what is expected.
type cursor struct {
	b   []byte
	i   int
	off bool
}

func (c *cursor) space() { c.i = xmlscan.PassSpace(c.b, c.i) }

// is passes a word if it comes next.
func (c *cursor) is(word string) bool {
	if end := c.i + len(word); !c.off && end <= len(c.b) && string(c.b[c.i:end]) == word {
		c.i = end
		return true
	}
	return false
}

// word passes a word that has to come next.
func (c *cursor) word(word string) {
	if !c.is(word) {
		c.off = true
	}
}

// number passes a number of up to 15 digits without an exponent. Digits and power
// of ten are exact, so that the one division rounds correctly (W. D. Clinger, How to Read
// Floating Point Numbers Accurately, PLDI 1990).
func (c *cursor) number() float64 {
	b, i := c.b, c.i
	negative := i < len(b) && b[i] == '-'
	if negative {
		i++
	}
	digits, begin, point := int64(0), i, -1
	for ; i < len(b) && i-begin <= 15; i++ {
		if d := b[i] - '0'; d <= 9 {
			digits = 10*digits + int64(d)
		} else if b[i] == '.' && point < 0 {
			point = i
		} else {
			break
		}
	}
	count, part := i-begin, 0
	if point >= 0 {
		count, part = count-1, i-point-1
	}
	if count < 1 || count > 15 {
		c.off = true
		return 0
	}
	c.i = i
	v := float64(digits) / powers[part]
	if negative {
		v = -v
	}
	return v
}

// time passes a time in the plain form.
func (c *cursor) time() uint32 {
	const longest = 32
	rest := c.b[min(c.i, len(c.b)):]
	for n, ch := range rest[:min(len(rest), longest)] {
		if ch == '<' {
			seconds, ok := parsePlainTime(rest[:n])
			c.i += n
			c.off = c.off || !ok
			return seconds
		}
	}
	c.off = true
	return 0
}

// parseNumber reads an xsd:decimal, with an exponent if need be, and gives the
// nearest float64, as strconv.ParseFloat does: infinite where it is too large.
// False for anything else; NaN, Inf, hexadecimals and underscores are anything
// else.
func parseNumber(b []byte) (float64, bool) {
	c := cursor{b: b}
	if v := c.number(); !c.off && c.i == len(b) {
		return v, true
	}
	for _, c := range b {
		if c-'0' > 9 && c != '+' && c != '-' && c != '.' && c|0x20 != 'e' {
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(string(b), 64)
	return v, err == nil || errors.Is(err, strconv.ErrRange)
}

// powers are powers of ten; a float64 holds these exactly.
var powers = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}
