package stop

import (
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
)

// WriteCSV writes a stop list as [ReadCSV] reads it, with all its columns; that of an
// alias, which few lists need, only where a stop has one.
func WriteCSV(w io.Writer, stops []Stop) error {
	out := csv.NewWriter(w)
	columns := len(keys)
	if !slices.ContainsFunc(stops, func(s Stop) bool { return s.Alias != "" }) {
		columns--
	}
	rows := [][]string{keys[:columns]}
	for _, s := range stops {
		rows = append(rows, s.row()[:columns])
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
	at := s.At
	if s.Swapped != nil { // as it was written
		at[0], at[1] = at[1], at[0]
	}
	return []string{s.Name, angleText(at[1]), angleText(at[0]), strings.Join(append(grades, s.Other...), "; "),
		s.Hours, s.Pay,
		string(s.Standing), confirmed, s.Phone, strings.Join(prices, "; "), s.Note, s.Alias}
}

func angleText(degrees float64) string { return strconv.FormatFloat(degrees, 'f', -1, 64) }
