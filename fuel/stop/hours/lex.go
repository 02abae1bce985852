package hours

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A kind of token. Signs that mean themselves are their own kind.
type kind rune

const (
	end      kind = -iota // of the value
	clockAt               // 8:30, its number in minutes
	number                // 24, of a date
	weekday               // its number, 0 for Sunday
	month                 // its number, 1 for January
	holiday               // PH
	allTimes              // 24/7
	off                   // off, closed
	unknown               // unknown
	hour                  // the h after 24/7
	unread                // what cannot be read; its why is set
)

// A token is a word, a time or a sign of a value.
type token struct {
	kind   kind
	number int
	why    Why
	at     int // in bytes from the start of the value
}

var (
	weekdays = []string{"su", "mo", "tu", "we", "th", "fr", "sa"}
	months   = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}
)

// ofWord gives what a word means, in small letters.
func ofWord(w string) token {
	if i := slices.Index(weekdays, w); i >= 0 {
		return token{kind: weekday, number: i}
	}
	if i := slices.Index(months, w); i >= 0 {
		return token{kind: month, number: i + 1}
	}
	switch w {
	case "ph":
		return token{kind: holiday}
	case "off", "closed":
		return token{kind: off}
	case "unknown":
		return token{kind: unknown}
	case "h":
		return token{kind: hour, why: Words}
	case "sh":
		return token{kind: unread, why: School}
	case "week":
		return token{kind: unread, why: Week}
	case "sunrise", "sunset", "dawn", "dusk":
		return token{kind: unread, why: Sun}
	}
	return token{kind: unread, why: Words}
}

// lex takes a value apart. The last token is the end.
func lex(s string) []token {
	var out []token
	for at := 0; at < len(s); {
		r, size := utf8.DecodeRuneInString(s[at:])
		if unicode.IsSpace(r) {
			at += size
			continue
		}
		t, n := first(s[at:], r, size)
		t.at = at
		out = append(out, t)
		at += n
	}
	return append(out, token{kind: end, at: len(s)})
}

// first reads the token that a text begins with, and tells how many bytes it has. r is the
// text's first rune, size its bytes.
func first(s string, r rune, size int) (token, int) {
	switch {
	case unicode.IsLetter(r):
		n := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) })
		if n < 0 {
			n = len(s)
		}
		return ofWord(strings.ToLower(s[:n])), n
	case isDigit(s[0]):
		return ofDigits(s)
	case r == '"':
		return token{kind: unread, why: Comment}, size
	case r == '|':
		return token{kind: unread, why: Fallback}, size
	case r == '–': // as typed by word processors
		return token{kind: '-', why: Unwonted}, size
	}
	return token{kind: kind(r), why: Unwonted}, size
}

// ofDigits reads 24/7, a time or a number. Hours have one or two digits and minutes two,
// with a colon or a point between them.
func ofDigits(s string) (token, int) {
	n := digits(s)
	value, err := strconv.Atoi(s[:n])
	rest := s[n:]
	switch {
	case n == 4:
		return token{kind: unread, why: Year}, n
	case err != nil || n > 2:
		return token{kind: unread, why: Unwonted}, n
	case n == 2 && value == 24 && strings.HasPrefix(rest, "/7") && digits(rest[1:]) == 1:
		return token{kind: allTimes, why: Unwonted}, n + 2
	case rest != "" && (rest[0] == ':' || rest[0] == '.') && digits(rest[1:]) == 2:
		minutes, _ := strconv.Atoi(rest[1:3])
		if minutes > 59 || value > 24 || value == 24 && minutes > 0 {
			return token{kind: unread, why: BadTime}, n + 3
		}
		return token{kind: clockAt, number: 60*value + minutes, why: Unwonted}, n + 3
	}
	return token{kind: number, number: value, why: Unwonted}, n
}

// digits counts the digits that a text begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
