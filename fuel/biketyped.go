package fuel

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"lastpump/route/input"

	"github.com/BurntSushi/toml"
)

// keyed is a line as people type it: a key, a colon or an equals sign, a value and perhaps
// a remark.
var keyed = regexp.MustCompile(`^([ \t]*)([A-Za-z_][A-Za-z_-]*)([ \t]*)([:=])[ \t]*([^\s#][^#]*?)?[ \t]*(#.*)?$`)

// curly are quotes that TOML does not know, as word processors and telephones set them.
const curly = "“”„‟‘’‚‛«»″"

// typed finds the lines that are no TOML but plain in what they mean, in a file that could
// not be read, and says how each is written. It is nil where there is none.
func (f *bikeFile) typed() error {
	var faults []error
	line := 0
	for text := range strings.Lines(f.text) {
		line++
		text = strings.TrimRight(text, "\r\n")
		var keys map[string]any
		m := keyed.FindStringSubmatch(text)
		if _, err := toml.Decode(text, &keys); err == nil || m == nil {
			continue
		}
		what, col := wrongMark(text, m)
		if what == "" {
			continue
		}
		faults = append(faults, &input.Error{File: f.name, Line: line, Col: col, What: m[2] + ": " + what,
			Hint: "write " + m[2] + " = " + asTOML(m[5])})
	}
	return input.JoinFaults(faults)
}

// wrongMark says what a line has that TOML does not, and at which column: a quote or a
// colon, or no quotes. m is the line taken apart by keyed.
func wrongMark(text string, m []string) (what string, col int) {
	value := len(m[1]) + len(m[2]) + len(m[3]) + 1 // where it may begin
	switch at := strings.IndexAny(text[value:], curly); {
	case at >= 0:
		return "the quotes are curly, not straight", value + at + 1
	case m[4] == ":":
		return "a colon stands in place of the equals sign", value
	case m[5] != "" && !strings.ContainsAny(m[5], "\"'[{"):
		return "the value is not in quotes", strings.Index(text[value:], m[5]) + value + 1
	}
	return "", 0
}

// asTOML writes a value as it is meant: a number, a list or a switch as it is, all else in
// straight quotes.
func asTOML(value string) string {
	value = strings.Trim(value, curly+"\"' \t")
	var keys map[string]any
	if _, err := toml.Decode("v = "+value, &keys); err == nil && value != "" {
		return value
	}
	if value == "" {
		return `"…"`
	}
	return fmt.Sprintf(`"%s"`, strings.Trim(strconv.Quote(value), `"`))
}
