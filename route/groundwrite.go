package route

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
)

// WriteGround writes sections as [ReadGround] reads them, kilometres to the metre,
// the last one rounded up. A section that has no length then is left out.
func WriteGround(w io.Writer, sections []Section) error {
	out := csv.NewWriter(w)
	rows := [][]string{groundColumns}
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
