package main

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// files are the files of one example folder.
func (l *loop) files() []file {
	files := []file{
		{l.name + "/loop.gpx", l.gpx()},
		{l.name + "/ground.csv", l.groundCSV()},
		{l.name + "/bike.toml", []byte(l.bike)},
	}
	if !l.stopsInGPX {
		files = append(files, file{l.name + "/stops.csv", l.stopsCSV()})
	}
	if l.chart != nil {
		files = append(files, file{l.name + "/map.osm", l.chartXML()}, file{l.name + "/far.csv", []byte(steppeFar)})
	}
	return files
}

// gpx is the loop as GPX 1.1, a point to a line.
func (l *loop) gpx() []byte {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	b.WriteString(`<gpx version="1.1" creator="lastpump examples" xmlns="http://www.topografix.com/GPX/1/1">` + "\n")
	fmt.Fprintf(&b, "<metadata><name>%s</name><desc>%s</desc></metadata>\n", text(l.title), text(l.about))
	if l.stopsInGPX {
		for _, s := range l.stops {
			l.waypoint(&b, s.name, s.at, s.keys(), "Fuel", "fuel")
		}
	}
	for _, s := range l.sights {
		l.waypoint(&b, s.name, s.at, "", "", s.kind)
	}
	for i, d := range l.days {
		fmt.Fprintf(&b, "<trk><name>Day %d: %s</name><trkseg>\n", i+1, text(d.name))
		for _, f := range d.fixes {
			l.trackpoint(&b, f)
		}
		b.WriteString("</trkseg></trk>\n")
	}
	b.WriteString("</gpx>\n")
	return b.Bytes()
}

// waypoint writes a wpt; the schema fixes the order of what is in it.
func (l *loop) waypoint(b *bytes.Buffer, name string, at place, desc, sym, kind string) {
	p := l.land.kept(l.spotAt(at))
	fmt.Fprintf(b, `<wpt lat="%s" lon="%s"><name>%s</name>`, degrees(p.Lat()), degrees(p.Lon()), text(name))
	if desc != "" {
		fmt.Fprintf(b, "<desc>%s</desc>", text(desc))
	}
	if sym != "" {
		fmt.Fprintf(b, "<sym>%s</sym>", text(sym))
	}
	fmt.Fprintf(b, "<type>%s</type></wpt>\n", text(kind))
}

// trackpoint writes a trkpt, with its height if there was a recorder.
func (l *loop) trackpoint(b *bytes.Buffer, f fix) {
	fmt.Fprintf(b, `<trkpt lat="%s" lon="%s">`, degrees(f.Lat()), degrees(f.Lon()))
	if l.every > 0 {
		fmt.Fprintf(b, "<ele>%.1f</ele>", f.ele)
	}
	b.WriteString("</trkpt>\n")
}

// columns are what a stop may say of itself beyond its name and place, in order.
func (s fuelStop) columns() [][2]string {
	return [][2]string{
		{"grades", s.grades}, {"hours", s.hours}, {"pay", s.pay},
		{"standing", s.standing}, {"confirmed", s.confirmed},
		{"phone", s.phone}, {"price", s.price}, {"note", s.note},
	}
}

// keys are the same as lines of a waypoint's description.
func (s fuelStop) keys() string {
	var b bytes.Buffer
	for _, c := range s.columns() {
		if c[1] != "" {
			fmt.Fprintf(&b, "%s: %s\n", c[0], c[1])
		}
	}
	return string(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
}

func (l *loop) stopsCSV() []byte {
	rows := [][]string{{"name", "lat", "lon"}}
	for _, c := range (fuelStop{}).columns() {
		rows[0] = append(rows[0], c[0])
	}
	for _, s := range l.stops {
		p := l.land.kept(l.spotAt(s.at))
		row := []string{s.name, degrees(p.Lat()), degrees(p.Lon())}
		for _, c := range s.columns() {
			row = append(row, c[1])
		}
		rows = append(rows, row)
	}
	return table(rows)
}

// groundCSV lists the ground, to a tenth of a km, the last as far as the line
// goes.
func (l *loop) groundCSV() []byte {
	rows := [][]string{{"from_km", "to_km", "ground", "note"}}
	for i, g := range l.ground {
		to := l.metres[len(l.metres)-1] / 1000
		if i+1 < len(l.ground) {
			to = l.fileKM(l.rideAt(l.ground[i+1].from))
		}
		rows = append(rows, []string{km(l.fileKM(l.rideAt(g.from))), km(to), g.kind, g.note})
	}
	return table(rows)
}

func table(rows [][]string) []byte {
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		panic(err) // a buffer takes everything
	}
	return b.Bytes()
}

// text is s as XML text, its line ends kept as they are.
var text = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace

func degrees(v float64) string { return strconv.FormatFloat(v, 'f', 5, 64) }
func km(v float64) string      { return strconv.FormatFloat(v, 'f', 1, 64) }
