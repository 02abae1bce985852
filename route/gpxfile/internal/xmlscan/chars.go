package xmlscan

import "unicode/utf8"

// Classes of bytes, as tables: one look-up for each byte of the file.
var (
	plainText  = plainBytes("<&]\r") // text between tags
	plainCDATA = plainBytes("]\r")   // text in a CDATA section
	plainValue = plainBytes("<&\r")  // text of an attribute
	nameClass  = nameBytes()
)

// plainBytes marks the ASCII bytes that XML allows and that are not special.
func plainBytes(special string) (t [256]bool) {
	for c := range utf8.RuneSelf {
		t[c] = IsChar(rune(c))
	}
	for i := range len(special) {
		t[special[i]] = false
	}
	return t
}

// What a byte can be in a name.
const (
	nameRest  = 1 << iota // inside a name: digits, "-", "."
	nameStart             // anywhere in it: letters, "_"
	nameColon             // likewise, but between prefix and local name
	nameWide              // part of a rune that is looked at as a whole
)

func nameBytes() (t [256]byte) {
	for c := range t {
		switch b := byte(c); {
		case b == ':':
			t[c] = nameColon
		case b == '_' || 'a' <= b|0x20 && b|0x20 <= 'z' && b < utf8.RuneSelf:
			t[c] = nameStart
		case b == '-' || b == '.' || '0' <= b && b <= '9':
			t[c] = nameRest
		case b >= utf8.RuneSelf:
			t[c] = nameWide
		}
	}
	return t
}

// IsChar reports whether XML allows the rune in a file.
//
//	[2] section 2.2, production [2] Char.
func IsChar(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' ||
		0x20 <= r && r <= 0xD7FF || 0xE000 <= r && r <= 0xFFFD || 0x10000 <= r && r <= 0x10FFFF
}

// wideStart has the ranges of runes from U+0080 that may start a name.
//
//	[2] section 2.3, production [4] NameStartChar.
var wideStart = [][2]rune{
	{0xC0, 0xD6}, {0xD8, 0xF6}, {0xF8, 0x2FF}, {0x370, 0x37D}, {0x37F, 0x1FFF},
	{0x200C, 0x200D}, {0x2070, 0x218F}, {0x2C00, 0x2FEF}, {0x3001, 0xD7FF},
	{0xF900, 0xFDCF}, {0xFDF0, 0xFFFD}, {0x10000, 0xEFFFF},
}

// wideRest has those that may follow in one.
//
//	[2] section 2.3, production [4a] NameChar.
var wideRest = [][2]rune{{0xB7, 0xB7}, {0x300, 0x36F}, {0x203F, 0x2040}}

// isWideName checks the runes of a name that has some from U+0080 on; its
// ASCII bytes are known to be name bytes.
func isWideName(name []byte) bool {
	for i := 0; i < len(name); {
		r, size := utf8.DecodeRune(name[i:])
		if r == utf8.RuneError && size == 1 {
			return false
		}
		if r >= utf8.RuneSelf && !inRanges(wideStart, r) && (i == 0 || !inRanges(wideRest, r)) {
			return false
		}
		i += size
	}
	return true
}

func inRanges(ranges [][2]rune, r rune) bool {
	for _, in := range ranges {
		if in[0] <= r && r <= in[1] {
			return true
		}
	}
	return false
}

// IsSpace reports whether the byte is white space.
//
//	[2] section 2.3, production [3] S.
func IsSpace(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }

// Trim cuts the white space off both ends, and no other.
func Trim(b []byte) []byte {
	for len(b) > 0 && IsSpace(b[0]) {
		b = b[1:]
	}
	for len(b) > 0 && IsSpace(b[len(b)-1]) {
		b = b[:len(b)-1]
	}
	return b
}
