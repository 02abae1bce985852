package gpxfile

import "strconv"

// powers are the powers of ten that a float64 holds exactly.
var powers = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// A decimal is a number as written: digits × 10^exp, but for its sign.
type decimal struct {
	digits   uint64
	exp      int
	negative bool
}

// parseNumber reads an xsd:decimal, with an exponent if need be, and gives the
// nearest float64, as strconv.ParseFloat does: infinite where it is too large.
// False for anything else; NaN, Inf, hexadecimals and underscores are anything
// else.
func parseNumber(b []byte) (float64, bool) {
	d, ok := scanDecimal(b)
	if !ok {
		return 0, false
	}
	if v, ok := d.float(); ok {
		return v, true
	}
	// The one error that is left is the range, with the value at its end.
	v, _ := strconv.ParseFloat(string(b), 64)
	return v, true
}

// float gives the value where one operation on two exact numbers makes it, and
// so rounds it correctly.
//
//	W. D. Clinger, How to Read Floating Point Numbers Accurately, PLDI 1990.
func (d *decimal) float() (float64, bool) {
	const exact = 1 << 53 // up to here a float64 holds every whole number
	if d.digits > exact || d.exp < -22 || d.exp > 22 {
		return 0, false
	}
	v := float64(d.digits)
	if d.exp < 0 {
		v /= powers[-d.exp]
	} else {
		v *= powers[d.exp]
	}
	if d.negative {
		v = -v
	}
	return v, true
}

// scanDecimal reads [+-] digits [. digits] [e [+-] digits], with at least one
// digit before the exponent.
func scanDecimal(b []byte) (decimal, bool) {
	var d decimal
	if len(b) > 0 && (b[0] == '+' || b[0] == '-') {
		d.negative = b[0] == '-'
		b = b[1:]
	}
	whole := d.take(b)
	b = b[whole:]
	part := 0
	if len(b) > 0 && b[0] == '.' {
		part = d.take(b[1:])
		b = b[1+part:]
		d.exp = -part
	}
	if whole+part == 0 {
		return d, false
	}
	if len(b) > 0 && b[0]|0x20 == 'e' {
		exp, ok := scanExponent(b[1:])
		d.exp += exp
		return d, ok
	}
	return d, len(b) == 0
}

// take adds the digits that b begins with and gives their number.
func (d *decimal) take(b []byte) int {
	const room = 1e18 // ten times less one digit fits into 64 bits
	i := 0
	for ; i < len(b) && '0' <= b[i] && b[i] <= '9'; i++ {
		if d.digits >= room {
			continue // what is left out is past the short way anyhow
		}
		d.digits = d.digits*10 + uint64(b[i]-'0')
	}
	return i
}

// scanExponent reads [+-] digits; an exponent beyond all floats stays one.
func scanExponent(b []byte) (int, bool) {
	sign := 1
	if len(b) > 0 && (b[0] == '+' || b[0] == '-') {
		if b[0] == '-' {
			sign = -1
		}
		b = b[1:]
	}
	exp := 0
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		exp = min(exp*10+int(c-'0'), 1e6)
	}
	return sign * exp, len(b) > 0
}
