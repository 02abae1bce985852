package route

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
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

// AllGrounds lists what a ground file may say, Unknown last.
var AllGrounds = []Ground{Paved, PackedGravel, LooseGravel, Dirt, Soft, Rocky, Mud, Sand, DeepSand, Snow, Unknown}

// ParseGround reads the name of a ground. The error names those there are.
func ParseGround(s string) (Ground, error) {
	g := Ground(strings.ToLower(strings.TrimSpace(s)))
	if slices.Contains(AllGrounds, g) {
		return g, nil
	}
	return "", &InputError{What: fmt.Sprintf("unknown ground %q", s), Hint: "the grounds are " + groundNames()}
}

func groundNames() string {
	names := make([]string, len(AllGrounds))
	for i, g := range AllGrounds {
		names[i] = string(g)
	}
	return strings.Join(names, ", ")
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

// Grounds is what lies under a line: sections that do not overlap, in order,
// and what lies elsewhere. The zero value is unknown ground throughout.
type Grounds struct {
	Sections []Section // by kilometres of the line, see [Line.Lay]
	Default  Ground
	Measure  Measure // how the sections' kilometres were counted in the file
	End      Metres  // of the last section, by the kilometres as they were counted
}

// overrun is how far a section may reach past the end of the line: lengths
// differ a little from one program to the next.
const overrun Metres = 100

// Fit tells whether the sections lie on a line of that length. The error is an
// [*InputError] without a file.
func (g Grounds) Fit(length Metres) error { return fit(g.Sections, length) }

func km(m Metres) string { return strconv.FormatFloat(m.Kilometres(), 'f', -1, 64) }

// ReadGround reads sections as CSV with the header from_km,to_km,ground and
// perhaps note, in any order of columns and rows. Kilometres are along the line
// in the file. The error joins up to ten [*InputError], one for each bad row:
// not a number, to_km not after from_km, an unknown ground, sections that
// overlap.
func ReadGround(r io.Reader, name string) ([]Section, error) {
	t, err := NewTable(r, name, groundColumns, 3)
	if err != nil {
		return nil, err
	}
	var out []Section
	var faults []error
	for t.Next() {
		s, err := section(t)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		out = append(out, s)
	}
	faults = append(faults, t.Faults()...)
	slices.SortStableFunc(out, func(a, b Section) int { return cmp.Compare(a.From, b.From) })
	for i := 1; i < len(out); i++ {
		if a, b := out[i-1], out[i]; b.From < a.To {
			faults = append(faults, &InputError{File: name, Line: b.Row, Col: 1,
				What: fmt.Sprintf("the section from km %s overlaps the one of row %d, which ends at km %s", km(b.From), a.Row, km(a.To)),
				Hint: "let each kilometre have one ground"})
		}
	}
	return out, JoinFaults(faults)
}

var groundColumns = []string{"from_km", "to_km", "ground", "note"}

func section(t *Table) (Section, error) {
	s := Section{Row: t.Row(), Note: t.Get("note")}
	var err error
	if s.From, err = kmField(t, "from_km"); err != nil {
		return s, err
	}
	if s.To, err = kmField(t, "to_km"); err != nil {
		return s, err
	}
	if s.To <= s.From {
		return s, t.Fault("to_km", "to_km is not after from_km", "")
	}
	if s.Ground, err = ParseGround(t.Get("ground")); err != nil {
		var ie *InputError
		errors.As(err, &ie)
		return s, t.Fault("ground", ie.What, ie.Hint)
	}
	return s, nil
}

// farthest is more kilometres than any line has: 2.5 times around the earth.
const farthest = 100000

func kmField(t *Table, column string) (Metres, error) {
	v, ok := t.Number(column)
	if !ok || v < 0 || v > farthest {
		return 0, t.Fault(column, fmt.Sprintf("%s is %q, not a distance in kilometres", column, t.Get(column)), "write 12.5")
	}
	return Kilometres(v), nil
}
