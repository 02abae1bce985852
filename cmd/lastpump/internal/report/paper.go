package report

import (
	_ "embed"
	"io"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"

	"lastpump/fuel/plan"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// The faces of what is printed: Latin with all accents, Vietnamese, Greek, Cyrillic with
// the letters of Kazakh, Mongolian and the Turkic languages. font/DejaVu-LICENSE.txt has their
// terms.
var (
	//go:embed font/DejaVuSansCondensed.ttf
	regularFace []byte
	//go:embed font/DejaVuSansCondensed-Bold.ttf
	boldFace []byte
)

// substitute stands for a letter that the faces do not have, or that has to be shaped
// or set from the right.
const substitute = '□'

// mm is a millimetre in points of 1/72 inch; everything on paper is in points.
const mm = 72 / 25.4

// A face is how text is set.
type face struct {
	size float64
	bold bool
}

func (f face) style() string {
	if f.bold {
		return "B"
	}
	return ""
}

// leading is the distance between lines over the size of the letters: that of the faces,
// whose ascent and descent are 0.93 and 0.24, so that no line touches another.
const leading = 1.18

// ascent is the height of the letters with their accents, over their size, capital that
// of a capital.
const (
	ascent  = 0.93
	capital = 0.73
)

func (f face) line() float64 { return f.size * leading }

// A paper is a PDF in the making.
type paper struct {
	pdf     *fpdf.Fpdf
	letters letters
}

// newPaper begins a PDF of a page size in points. The bytes of a PDF depend on the plan
// alone: its date is the day that the plan is counted from.
func newPaper(p *plan.Plan, width, height float64, title string) (*paper, error) {
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: fpdf.SizeType{Wd: width, Ht: height}})
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCatalogSort(true)
	day := p.Options.Today.UTC().Truncate(24 * time.Hour)
	if day.IsZero() {
		day = time.Unix(0, 0).UTC() // without a date the library would take the clock
	}
	pdf.SetCreationDate(day)
	pdf.SetModificationDate(day)
	pdf.SetProducer("lastpump", true)
	pdf.SetAuthor("lastpump", true)
	pdf.SetCreator("lastpump", true)
	pdf.SetLang("en")
	pdf.AddUTF8FontFromBytes("face", "", slices.Clone(regularFace))
	pdf.AddUTF8FontFromBytes("face", "B", slices.Clone(boldFace))
	faces, err := printed()
	if err != nil {
		return nil, err
	}
	w := &paper{pdf: pdf, letters: letters{faces: faces}}
	name, _ := w.letters.of(title)
	pdf.SetTitle(name, true)
	return w, pdf.Error()
}

// width gives the width of a text as it is set.
func (w *paper) width(s string, f face) float64 {
	w.pdf.SetFont("face", f.style(), f.size)
	return w.pdf.GetStringWidth(s)
}

// output writes what was drawn.
func (w *paper) output(to io.Writer) error { return w.pdf.Output(to) }

// wrap sets text in lines of a width. Letters that cannot be printed are replaced; a
// word that is wider than the line is broken.
func (w *paper) wrap(text string, f face, width float64) []string {
	text, _ = w.letters.of(text)
	var out []string
	line := ""
	for _, word := range glued(strings.Fields(text)) {
		if line != "" && w.width(line+" "+word, f) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		line = word
		for w.width(line, f) > width {
			head := w.fits(line, f, width)
			out, line = append(out, line[:head]), line[head:]
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// units are the words that stay on the line of the number before them.
var units = []string{"L", "km", "mi", "m", "US", "gal", "RON", "AKI"}

// glued joins numbers with their units.
func glued(words []string) []string {
	var out []string
	for i, word := range words {
		unit := slices.Contains(units, strings.TrimRight(word, ",.;:()"))
		if unit && i > 0 && (words[i-1] == "US" && len(out) > 0 || endsInDigit(words[i-1])) {
			out[len(out)-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// fits gives how many bytes of a word fit a width, one letter with its accents at least.
func (w *paper) fits(word string, f face, width float64) int {
	n := 0
	for i, r := range word {
		if i > 0 && !unicode.Is(unicode.Mn, r) {
			if w.width(word[:i], f) > width && n > 0 {
				return n
			}
			n = i
		}
	}
	if n == 0 || w.width(word, f) <= width {
		return len(word)
	}
	return n
}

// letters knows what the faces can print.
type letters struct {
	faces   []*sfnt.Font
	buf     sfnt.Buffer
	missing bool // something was replaced
}

// printed gives the faces to look letters up in.
var printed = sync.OnceValues(func() ([]*sfnt.Font, error) {
	var out []*sfnt.Font
	for _, b := range [][]byte{regularFace, boldFace} {
		f, err := sfnt.Parse(b)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
})

// of gives a text as it can be printed, white space as single blanks, and whether all of
// it is there.
func (l *letters) of(s string) (text string, whole bool) {
	var out strings.Builder
	whole = true
	for _, r := range norm.NFC.String(strings.ToValidUTF8(s, string(unicode.ReplacementChar))) {
		switch {
		case unicode.IsSpace(r), unicode.IsControl(r):
			out.WriteByte(' ')
		case unicode.Is(unicode.Cf, r), unicode.Is(unicode.Variation_Selector, r): // has no shape of its own
		case l.has(r):
			out.WriteRune(r)
		default:
			out.WriteRune(substitute)
			whole, l.missing = false, true
		}
	}
	return strings.Join(strings.Fields(out.String()), " "), whole
}

// has tells whether all faces have a letter, and it stands where it is read: from the
// left, in the plane that the library can embed.
func (l *letters) has(r rune) bool {
	if r > 0xFFFF || unicode.Is(unicode.Co, r) {
		return false
	}
	if p, _ := bidi.LookupRune(r); p.Class() == bidi.R || p.Class() == bidi.AL || p.Class() == bidi.AN {
		return false
	}
	for _, f := range l.faces {
		if g, err := f.GlyphIndex(&l.buf, r); err != nil || g == 0 {
			return false
		}
	}
	return true
}

func pageSize(width, height float64) fpdf.SizeType { return fpdf.SizeType{Wd: width, Ht: height} }
