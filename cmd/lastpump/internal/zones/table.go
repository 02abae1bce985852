package zones

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"
)

// TableFile is where the zones of a ride lie that is planned in a page: the boundaries of the world are
// too large for one.
const TableFile = "/lastpump/zones.csv"

// A Table holds the zones of places that were looked up. The zero value is empty and ready to use.
type Table struct{ rows []row }

type row struct {
	at   orb.Point
	zone string // "" where none is known
}

// Through gives a lookup that keeps what another one tells.
func (t *Table) Through(of func(orb.Point) *time.Location) func(orb.Point) *time.Location {
	return func(p orb.Point) *time.Location {
		z := of(p)
		r := row{at: p}
		if z != nil {
			r.zone = z.String()
		}
		t.rows = append(t.rows, r)
		return z
	}
}

// Text gives the table as CSV: lat, lon and zone; one row where all places have the same.
func (t *Table) Text() string {
	rows, one := t.rows, true
	for _, r := range rows {
		one = one && r.zone == rows[0].zone
	}
	if one {
		rows = rows[:min(1, len(rows))]
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	for _, r := range rows {
		if w.Write([]string{degrees(r.at.Lat()), degrees(r.at.Lon()), r.zone}) != nil {
			return "" // a strings.Builder takes all
		}
	}
	w.Flush()
	return b.String()
}

// degrees gives an angle to all its digits, so that a place that was looked up is found again.
func degrees(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// ReadTable reads what [Table.Text] gives. Rows that are none are passed over.
func ReadTable(text string) *Table {
	t := &Table{}
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return t
	}
	for _, r := range all {
		if len(r) != 3 {
			continue
		}
		lat, noLat := strconv.ParseFloat(r[0], 64)
		lon, noLon := strconv.ParseFloat(r[1], 64)
		if noLat == nil && noLon == nil {
			t.rows = append(t.rows, row{orb.Point{lon, lat}, r[2]})
		}
	}
	return t
}

// Nearest gives a lookup that tells of each place the zone of the nearest one in the table: nil where
// that has none, or the table is empty.
func (t *Table) Nearest() func(orb.Point) *time.Location {
	zones := map[string]*time.Location{}
	return func(p orb.Point) *time.Location {
		name, ok := t.nearest(p)
		if !ok || name == "" {
			return nil
		}
		z, met := zones[name]
		if !met {
			var err error
			if z, err = time.LoadLocation(name); err != nil {
				z = nil // a name that is newer than the rules
			}
			zones[name] = z
		}
		return z
	}
}

// nearest compares places as on a plane, which is right where the nearest is near.
func (t *Table) nearest(p orb.Point) (zone string, ok bool) {
	best, narrow := math.Inf(1), math.Cos(p.Lat()*math.Pi/180)
	for _, r := range t.rows {
		north, east := r.at.Lat()-p.Lat(), math.Remainder(r.at.Lon()-p.Lon(), 360)*narrow
		if d := north*north + east*east; d < best {
			best, zone, ok = d, r.zone, true
		}
	}
	return zone, ok
}
