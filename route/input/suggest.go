package input

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Suggest gives the start of a hint that names the known word nearest to one
// that is not known, or "" if none is near: see [Nearest].
func Suggest(word string, known []string) string {
	at := Nearest(word, known)
	if at == "" {
		return ""
	}
	return fmt.Sprintf("did you mean %q? ", at)
}

// Nearest gives the known word nearest to one that is not known, whatever its capitals; "" if
// none is near: one letter is wrong, two of a word of six, three of one of twelve. In words of
// fewer than four letters one wrong letter makes another word.
func Nearest(word string, known []string) string {
	least, at := 0, ""
	for _, k := range known {
		d := edits(strings.ToLower(word), strings.ToLower(k))
		if strings.HasPrefix(k, word+"_") { // the name of a column without its unit
			d = 0
		}
		if d <= mostSlips(k) && (at == "" || d < least) {
			least, at = d, k
		}
	}
	return at
}

// mostSlips is how many letters of a word may be wrong before it is another word.
func mostSlips(known string) int {
	switch n := utf8.RuneCountInString(known); {
	case n >= 12:
		return 3
	case n >= 6:
		return 2
	case n >= 4:
		return 1
	}
	return 0
}

// Misspelt tells whether a word is so near to a known one that it is likely a slip of
// the keys: one letter, or two of a long word. Words of three letters are too short to
// tell.
func Misspelt(word, known string) bool {
	n := utf8.RuneCountInString(known)
	most := 0
	switch {
	case n >= 8:
		most = 2
	case n >= 4:
		most = 1
	}
	return word != known && edits(word, known) <= most
}

// edits is the distance between two words: letters put in, left out, changed, or two
// neighbours swapped (optimal string alignment).
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	var before, row, next []int
	for j := range len(t) + 1 {
		row = append(row, j)
	}
	for i := range s {
		next = []int{i + 1}
		for j := range t {
			change := row[j]
			if s[i] != t[j] {
				change++
			}
			d := min(change, row[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				d = min(d, before[j-1]+1)
			}
			next = append(next, d)
		}
		before, row = row, next
	}
	return row[len(t)]
}
