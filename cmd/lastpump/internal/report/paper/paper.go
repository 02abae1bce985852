// Package paper writes what a rider prints: the strip for the tank bag with [WriteStrip],
// and the sheet left at home with [WriteHomePDF], or as a page with [WriteHomeHTML].
package paper

import (
	_ "embed"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/fuel/plan"
	"lastpump/fuel/stop"

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

// A pdf is one in the making.
type pdf struct {
	*fpdf.Fpdf
	letters letters
}

// newPDF begins a PDF of a page size in points. The bytes of a PDF depend on the plan
// alone: its date is the day that the plan is counted from.
func newPDF(p *plan.Plan, width, height float64, title string) (*pdf, error) {
	doc := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: fpdf.SizeType{Wd: width, Ht: height}})
	doc.SetMargins(0, 0, 0)
	doc.SetCellMargin(0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetCatalogSort(true)
	day := p.Options.Today.UTC().Truncate(24 * time.Hour)
	if day.IsZero() {
		day = time.Unix(0, 0).UTC() // without a date the library would take the clock
	}
	doc.SetCreationDate(day)
	doc.SetModificationDate(day)
	doc.SetProducer("lastpump", true)
	doc.SetAuthor("lastpump", true)
	doc.SetCreator("lastpump", true)
	doc.SetLang("en")
	doc.AddUTF8FontFromBytes("face", "", slices.Clone(regularFace))
	doc.AddUTF8FontFromBytes("face", "B", slices.Clone(boldFace))
	faces, err := printed()
	if err != nil {
		return nil, err
	}
	w := &pdf{doc, letters{faces: faces}}
	name, _ := w.letters.of(title)
	doc.SetTitle(name, true)
	return w, doc.Error()
}

// width gives the width of a text as it is set.
func (w *pdf) width(s string, f face) float64 {
	w.SetFont("face", f.style(), f.size)
	return w.GetStringWidth(s)
}

// wrap sets text in lines of a width. Letters that cannot be printed are replaced; a
// word that is wider than the line is broken.
func (w *pdf) wrap(text string, f face, width float64) []string {
	text, _ = w.letters.of(text)
	return sheet.Lines(glued(strings.Fields(text)), width,
		func(s string) float64 { return w.width(s, f) },
		func(word string) int { return w.fits(word, f, width) })
}

// unitWords are the words that stay on the line of the number before them.
var unitWords = []string{"L", "km", "mi", "m", "US", "gal", "RON", "AKI"}

// glued joins numbers with their units, and a number at the end with the word before it.
func glued(all []string) []string {
	var out []string
	for i, word := range all {
		unit := slices.Contains(unitWords, strings.TrimRight(word, ",.;:()"))
		if i > 1 && digits(word) && (digits(all[i-1]) || strings.HasPrefix(all[i-1], "+")) { // of a telephone
			out[len(out)-1] += " " + word
			continue
		}
		last := i > 0 && i == len(all)-1 && digits(word)
		if last || unit && i > 0 && (all[i-1] == "US" && len(out) > 0 || endsInDigit(all[i-1])) {
			out[len(out)-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

func digits(s string) bool { return strings.Trim(s, "0123456789") == "" }

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// fits gives how many bytes of a word fit a width, one letter with its accents at least.
func (w *pdf) fits(word string, f face, width float64) int {
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

// names gives how places are named on paper. Where letters of the name cannot be printed,
// it is by the alias that the list has, or with its coordinates.
func (w *pdf) names(p *plan.Plan) func(string) string {
	called := map[string]stop.Stop{}
	for _, v := range slices.Backward(p.Visits) {
		called[v.Stop.Name] = v.Stop
	}
	for _, s := range slices.Backward(p.Stops) {
		called[s.Name] = s
	}
	return func(name string) string {
		before := w.letters.missing
		text, whole := w.letters.of(sheet.Visible(name))
		if whole {
			return text
		}
		place, known := called[name]
		if alias, whole := w.letters.of(sheet.Visible(place.Alias)); whole && alias != "" {
			w.letters.missing = before // nothing of it is printed
			return alias
		}
		switch nothing := strings.Trim(text, string(substitute)+" ") == ""; {
		case known && nothing:
			return "pump at " + trail.Coordinates(place.At)
		case known:
			return text + " (" + trail.Coordinates(place.At) + ")"
		case nothing: // of a part or a ride: its number says more than boxes
			w.letters.missing = before
			return ""
		}
		return text
	}
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

// page begins a page of a size in points.
func (w *pdf) page(width, height float64) {
	w.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
}
