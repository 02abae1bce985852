package paper

import (
	"strings"

	"lastpump/route/input"
)

// A Format is what the strip for the tank bag is printed on.
type Format string

// The formats. The width of a roll is that of the paper of adding machines, which holders
// of route sheets take (common practice, no source); A4, A5 and A6 are ISO 216.
const (
	Roll Format = "57mm" // a strip, as long as it needs, in pieces where that is over 3 m
	A6   Format = "a6"   // cards
	A5   Format = "a5"
	A4   Format = "a4" // four cards of A6 on a sheet, to be cut
)

// ParseFormat reads the name of a format; "" is the roll. The error is a
// [*input.ValueError].
func ParseFormat(s string) (Format, error) {
	switch f := Format(strings.ToLower(s)); f {
	case "", "58mm": // the rolls of printers of receipts are sold by either figure
		return Roll, nil
	case Roll, A6, A5, A4:
		return f, nil
	}
	return "", input.BadValue(s, "is no paper for a strip", "write 57mm for a roll, a6 or a5 for cards, "+
		"or a4 for four cards on a sheet")
}

// A stripSize is how a paper is set, in points.
type stripSize struct {
	width, height                       float64 // of a card; height 0: as long as it needs
	margin                              float64
	columns                             int  // on a card
	sheet                               bool // four cards on each
	figure, place, action, strong, text face
}

const (
	// printWidth is what the heads of printers for rolls of 57 and 58 mm reach: 384 dots of
	// 1/8 mm (common practice, no source).
	printWidth = 48 * mm
	// rollMost is how long a piece of a roll is at most: longer ones are not wound by hand
	// (our choice), and a page of PDF ends at 14400 points: ISO 32000-1, annex C.2, table C.1.
	rollMost = 3000 * mm
	// columnGap lies between two columns.
	columnGap = 5 * mm
)

func (f Format) size() stripSize {
	bold := func(size float64) face { return face{size, true} }
	card := stripSize{width: 105 * mm, height: 148 * mm, margin: 5 * mm, columns: 1,
		figure: bold(30), place: bold(18), action: bold(16), strong: bold(13), text: face{12, false}}
	switch f {
	case A6:
		return card
	case A4:
		card.sheet, card.height = true, 297*mm/2
		return card
	case A5:
		card.width, card.height, card.margin, card.columns = 148*mm, 210*mm, 7*mm, 2
		return card
	}
	return stripSize{width: 57 * mm, margin: (57*mm - printWidth) / 2, columns: 1,
		figure: bold(30), place: bold(17), action: bold(16), strong: bold(13), text: face{12, false}}
}

// room is the width of a column.
func (z stripSize) room() float64 {
	n := float64(z.columns)
	return (z.width - 2*z.margin - (n-1)*columnGap) / n
}
