package route

import (
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lastpump/route/input"
)

// A Ground is what the wheels roll on.
type Ground string

// The grounds, hardest first. Unknown is planned as [Dirt].
const (
	Paved        Ground = "paved"
	PackedGravel Ground = "packed-gravel"
	LooseGravel  Ground = "loose-gravel"
	Dirt         Ground = "dirt"
	Soft         Ground = "soft"
	Rocky        Ground = "rocky"
	Mud          Ground = "mud"
	Sand         Ground = "sand"
	DeepSand     Ground = "deep-sand"
	Snow         Ground = "snow"
	Unknown      Ground = "unknown"
)

// AllGrounds gives what a ground file may say, Unknown last.
func AllGrounds() []Ground {
	return []Ground{Paved, PackedGravel, LooseGravel, Dirt, Soft, Rocky, Mud, Sand, DeepSand, Snow, Unknown}
}

// ParseGround reads the name of a ground, or another word for it that leaves no doubt. The
// error names those there are.
func ParseGround(s string) (Ground, error) {
	word := strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(s)))
	if g, ok := sameGround[word]; ok {
		return g, nil
	}
	if g := Ground(word); slices.Contains(AllGrounds(), g) {
		return g, nil
	}
	var names []string
	for _, g := range AllGrounds() {
		names = append(names, string(g))
	}
	return "", &input.Error{What: fmt.Sprintf("unknown ground %q", s),
		Hint: input.Suggest(word, names) + "the grounds are " + strings.Join(names, ", ")}
}

// sameGround are other words for grounds.
var sameGround = map[string]Ground{
	"asphalt": Paved, "tarmac": Paved, "tar": Paved, "bitumen": Paved, "blacktop": Paved, "concrete": Paved,
}

// LikelyGround reads a ground as [ParseGround] does, and guesses what a word means that
// leaves a doubt: gravel is taken for loose, on which a bike drinks more. guessed tells
// whether it did.
func LikelyGround(s string) (g Ground, guessed bool, err error) {
	if strings.EqualFold(strings.TrimSpace(s), "gravel") {
		return LooseGravel, true, nil
	}
	g, err = ParseGround(s)
	return g, false, err
}

// planned gives what a ground is planned as, and whether that is a guess.
func (g Ground) planned() (Ground, bool) {
	if g == Unknown || g == "" {
		return Dirt, true
	}
	return g, false
}

// A Section is a stretch of line with one ground.
type Section struct {
	From, To Metres // along the line in the file
	Ground   Ground
	Note     string
	Row      int // in its file, for messages
}

// GuessedFrom is how the note of a section begins whose ground is guessed and not known:
// a part of the format of ground files.
const GuessedFrom = "guessed from "

// Guessed tells whether the ground of a section is guessed, as its note says.
func (s Section) Guessed() bool { return strings.HasPrefix(s.Note, GuessedFrom) }

// Grounds is what lies under a line: sections that do not overlap, in order,
// and what lies elsewhere. The zero value is unknown ground throughout.
type Grounds struct {
	Sections []Section // by kilometres of the line, see [Line.Lay]
	Default  Ground
	Measure  Measure // how the sections' kilometres were counted in the file
	End      Metres  // of the last section, by the kilometres as they were counted
}

// overrun is by how much the end of a list tells on which of two lines it was measured.
const overrun Metres = 100

// Overrun is how far a list of ground may reach past the end of a line of that length:
// 1 %, for lengths differ from one program to the next, or 100 m. What is beyond the end
// is left out.
func Overrun(length Metres) Metres { return max(overrun, length/100) }

// Fit tells whether the sections lie on a line of that length. The error is an
// [*input.Error] without a file.
func (g Grounds) Fit(length Metres) error { return fit(g.Sections, length) }

func km(m Metres) string { return strconv.FormatFloat(m.Kilometres(), 'f', -1, 64) }

// ReadGround reads sections as CSV with the header from_km,to_km,ground and
// perhaps note, in any order of columns and rows, or with other words for these.
// Kilometres are along the line in the file. The notes say what was guessed. The error
// joins up to ten [*input.Error], one for each bad row: not a number, to_km not after
// from_km, an unknown ground, sections that overlap.
func ReadGround(r io.Reader, name string) (sections []Section, notes []string, err error) {
	t, err := input.NewTable(r, name, groundColumns, 3)
	if err != nil {
		return nil, nil, err
	}
	var out []Section
	var faults []error
	guessed := map[string]bool{}
	for t.Next() {
		s, guess, err := section(t)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		if word := strings.ToLower(t.Get("ground")); guess && !guessed[word] {
			guessed[word] = true
			t.Note("ground", fmt.Sprintf("%q is read as %s: is it %s?", word, s.Ground, PackedGravel))
		}
		out = append(out, s)
	}
	faults = append(faults, t.Faults()...)
	slices.SortStableFunc(out, func(a, b Section) int { return cmp.Compare(a.From, b.From) })
	for i := 1; i < len(out); i++ {
		if a, b := out[i-1], out[i]; b.From < a.To {
			faults = append(faults, &input.Error{File: name, Line: b.Row, Col: 1,
				What: fmt.Sprintf("the section from km %s overlaps the one of row %d, which ends at km %s",
					km(b.From), a.Row, km(a.To)),
				Hint: "let each kilometre have one ground"})
		}
	}
	return out, t.Notes(), input.JoinFaults(faults)
}

// groundColumns are the columns of a list of ground, and other words for them in English,
// German, French and Spanish.
var groundColumns = []input.Column{
	{Name: "from_km", Words: []string{"from", "km from", "start", "start km", "begin", "begins",
		"von", "von km", "km von", "ab", "ab km", "anfang", "beginn",
		"de", "de km", "du km", "debut", "km debut", "desde", "desde km", "inicio", "km inicial"}},
	{Name: "to_km", Words: []string{"to", "km to", "until", "end", "end km", "ends",
		"bis", "bis km", "km bis", "ende",
		"a", "a km", "au km", "jusqu a", "fin", "km fin", "hasta", "hasta km", "km final"}},
	{Name: "ground", Words: []string{"surface", "terrain", "road surface", "track surface",
		"untergrund", "boden", "belag", "oberflache", "oberflaeche",
		"sol", "revetement", "suelo", "terreno", "superficie", "firme"}},
	{Name: "note", Words: []string{"notes", "comment", "comments", "remark", "remarks",
		"notiz", "notizen", "bemerkung", "bemerkungen", "anmerkung", "kommentar",
		"remarque", "remarques", "commentaire", "nota", "notas", "comentario", "observaciones"}},
}

func section(t *input.Table) (s Section, guessed bool, err error) {
	s = Section{Row: t.Row(), Note: t.Get("note")}
	if s.From, err = kmField(t, "from_km"); err != nil {
		return s, false, err
	}
	if s.To, err = kmField(t, "to_km"); err != nil {
		return s, false, err
	}
	if s.To <= s.From {
		return s, false, t.Fault("to_km", "to_km is not after from_km", "")
	}
	if s.Ground, guessed, err = LikelyGround(t.Get("ground")); err != nil {
		var ie *input.Error
		errors.As(err, &ie)
		return s, false, t.Fault("ground", ie.What, ie.Hint)
	}
	return s, guessed, nil
}

// farthest is more kilometres than any line has: 2.5 times around the earth.
const farthest = 100000

func kmField(t *input.Table, column string) (Metres, error) {
	v, ok := t.Number(column)
	if !ok || v < 0 || v > farthest {
		what := fmt.Sprintf("%s is %q, not a distance in kilometres", column, t.Get(column))
		return 0, t.Fault(column, what, "write 12.5")
	}
	return Kilometres(v), nil
}

// WriteGround writes sections as [ReadGround] reads them, kilometres to the metre,
// the last one rounded up. A section that has no length then is left out.
func WriteGround(w io.Writer, sections []Section) error {
	out := csv.NewWriter(w)
	var header []string
	for _, c := range groundColumns {
		header = append(header, c.Name)
	}
	rows := [][]string{header}
	for i, s := range sections {
		from, to := toMetre(s.From), toMetre(s.To)
		if i == len(sections)-1 { // nothing is to be left over behind the last
			to = toMetre(Metres(math.Ceil(float64(s.To))))
		}
		if from != to {
			rows = append(rows, []string{from, to, string(s.Ground), s.Note})
		}
	}
	return out.WriteAll(rows)
}

func toMetre(m Metres) string { return strconv.FormatFloat(m.Kilometres(), 'f', 3, 64) }
