package input

import "regexp"

// commaNumber is a number with one comma in it and one or two digits behind that.
var commaNumber = regexp.MustCompile(`(^|[^\d.,])(\d+),(\d{1,2})($|[^\d.,])`)

// DecimalPoint gives what a rider types with a decimal point for a decimal comma: "14,5 L" is "14.5 L".
// Behind a decimal comma stand one or two digits, as on pumps and trip meters; with three it may stand
// between thousands, so that stays as it is, and so does a number with more than one comma or point.
// It is for one quantity: in a list of numbers a comma may stand between two of them.
func DecimalPoint(s string) string { return commaNumber.ReplaceAllString(s, "$1$2.$3$4") }
