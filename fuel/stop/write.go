package stop

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"time"
)

// WriteCSV writes a stop list as [ReadCSV] reads it, with all its columns.
func WriteCSV(w io.Writer, stops []Stop) error {
	out := csv.NewWriter(w)
	rows := [][]string{columns}
	for _, s := range stops {
		rows = append(rows, s.row())
	}
	return out.WriteAll(rows)
}

func (s Stop) row() []string {
	var grades, prices []string
	for _, g := range s.Grades {
		grades = append(grades, g.String())
	}
	for _, p := range s.Prices {
		prices = append(prices, strconv.FormatFloat(p.Amount, 'f', -1, 64)+" "+p.Currency+"/"+p.Per)
	}
	confirmed := ""
	if s.HasConfirmed {
		confirmed = s.Confirmed.Format(time.DateOnly)
	}
	return []string{s.Name, angleText(s.At[1]), angleText(s.At[0]), strings.Join(append(grades, s.Other...), "; "), s.Hours, s.Pay,
		string(s.Standing), confirmed, s.Phone, strings.Join(prices, "; "), s.Note}
}

func angleText(degrees float64) string { return strconv.FormatFloat(degrees, 'f', -1, 64) }
