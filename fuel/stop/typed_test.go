package stop_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lastpump/fuel/stop"
	"lastpump/route/gpxfile"

	"github.com/paulmach/orb"
)

// A minute is a sixtieth of a degree and a second of that: 48°03'37" is 48.060277…
func TestAngles(t *testing.T) {
	const minute, second = 1 / 60.0, 1 / 3600.0
	for text, want := range map[string]float64{
		"48.0603": 48.0603, "-48.0603": -48.0603, "+48.0603": 48.0603, "48.0603 N": 48.0603, "N48.0603": 48.0603,
		"48.0603S": -48.0603, "48.0603°": 48.0603, "48.0603° S": -48.0603, "−48.0603": -48.0603,
		"48 30": 48.5, "48°30'": 48.5, "48° 30′ N": 48.5, "s 48 30.6": -(48 + 30.6*minute), "-48 30": -48.5,
		"48°03.618'N":  48 + 3.618*minute,
		`48°03'37"`:    48 + 3*minute + 37*second,
		"48º 3’ 37.5”": 48 + 3*minute + 37.5*second,
		"48:03:37 S":   -(48 + 3*minute + 37*second),
		"N48 03 37":    48 + 3*minute + 37*second,
		"48°03'37''N":  48 + 3*minute + 37*second,
		"-0°30'":       -0.5, "0 30 S": -0.5,
	} {
		got, err := stop.ParseAngle(text, stop.Latitude)
		if err != nil || math.Abs(got-want) > 1e-12 {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "N", "48 60", "48 30 60", "48.5 30", "48 30.5 10", "4830 N", "48 30 10 5", "N 48 S",
		"90 0.1", "90.0001 N", "48..3", "0x30", "48_0", "48°N30'", "48'30°", "nan", "1e400", "48,06"} {
		if got, err := stop.ParseAngle(text, stop.Latitude); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
	if got, err := stop.ParseAngle("106°55' W", stop.Longitude); err != nil || math.Abs(got+106+55*minute) > 1e-12 {
		t.Errorf("a longitude: %v, %v", got, err)
	}
}

// The same stop under the headers of four languages, and with columns of the rider's own.
func TestOtherWordsForColumns(t *testing.T) {
	const values = "Mill,47.5,8.1,95 RON,24/7,cash,seen,2026-05-31,+999 555 0100,1.62 EUR/L,ring\n"
	want := read(t, "name,lat,lon,grades,hours,pay,standing,confirmed,phone,price,note\n"+values)
	for _, header := range []string{
		"Station,Latitude,Longitude,Octane,Opening hours,Payment,Status,Last confirmed,Telephone,Cost,Comments",
		"NAME,LAT,LNG,Fuel type,opening_hours,payment methods,certainty,checked,phone-number,prices,Remarks",
		"Tankstelle,Breite,Länge,Oktanzahl,Öffnungszeiten,Zahlung,Stand,Bestätigt am,Telefon,Preis,Bemerkung",
		"Ort,Breitengrad,Laengengrad,Sorten,Oeffnungszeiten,Zahlungsart,Zuverlässigkeit,geprüft,Telefonnummer,Preise,Hinweise",
		"Nom,Latitude,Longitude,Carburants,Horaires,Paiement,Fiabilité,Vérifié le,Téléphone,Prix,Remarques",
		"Station-service,lat,long,Indice d'octane,Heures d’ouverture,Moyens de paiement,certitude,confirmé,tél,tarif,commentaire",
		"Nombre,Latitud,Longitud,Octanaje,Horario,Forma de pago,Fiabilidad,Verificado,Teléfono,Precio,Observaciones",
		"Gasolinera,latitud,longitud,Gasolinas,Apertura,Pago,Estado,Fecha de confirmación,móvil,precios,nota",
	} {
		got, notes, err := stop.ReadCSV(strings.NewReader(header+"\n"+values), "s.csv", "")
		if err != nil {
			t.Errorf("%s: %v", header, err)
			continue
		}
		same(t, got, want)
		if len(notes) != 1 || !strings.HasPrefix(notes[0], "s.csv:1:1: read ") {
			t.Errorf("%s: notes %q", header, notes)
		}
	}
}

// Columns that a rider keeps for himself are named once and left out. Each of these has
// nothing to do with ours, whatever language it looks like.
func TestColumnsThatAreNotUsed(t *testing.T) {
	for _, own := range []string{"brand", "operator", "country", "region", "address", "city", "id", "type", "website", "url",
		"elevation", "ele", "distance", "km", "date", "day", "source", "state", "street", "zip", "water", "food", "camp",
		"hotel", "wifi", "amenity", "water source", "#", "Marke", "Land", "Adresse", "pays", "ville", "país", "dirección"} {
		got, notes, err := stop.ReadCSV(strings.NewReader("name,lat,lon,"+own+"\nA,1,1,x\nB,2,2,y\n"), "s.csv", "")
		want := []string{`s.csv:1:1: columns that are not used: "` + own + `"`}
		if err != nil || len(got) != 2 || !slices.Equal(notes, want) {
			t.Errorf("%s: %v, %q, %v", own, got, notes, err)
		}
	}
}

// The name of each column with one slip of the keys: a letter left out, doubled, or
// swapped with its neighbour. None may be overlooked in silence; three letters are too
// few to tell, and no verdict hangs on how one pays.
func TestMisspeltColumns(t *testing.T) {
	for _, name := range []string{"grades", "hours", "standing", "confirmed", "phone", "price", "note"} {
		for i := range len(name) {
			slips := []string{name[:i] + name[i+1:], name[:i] + name[i:i+1] + name[i:]}
			if i > 0 && name[i] != name[i-1] {
				slips = append(slips, name[:i-1]+name[i:i+1]+name[i-1:i]+name[i+1:])
			}
			for _, slip := range slips {
				_, notes, err := stop.ReadCSV(strings.NewReader("name,lat,lon,"+slip+"\nA,1,1,\n"), "s.csv", "")
				// A word for the column that is right in itself is read, and said to be.
				read := len(notes) == 1 && strings.Contains(notes[0], `" as `+name)
				if err == nil && !read || err != nil && !strings.Contains(err.Error(), "unknown column") {
					t.Errorf("%s for %s: %q, %v", slip, name, notes, err)
				}
			}
		}
	}
}

// Where semicolons stand between the columns a comma between digits is a decimal one;
// where commas do, it is refused.
func TestDecimalCommas(t *testing.T) {
	got := one(t, "name;lat;lon;price;grades;note\nA;47,25;-106,5;\"1,62 EUR/L; 1,48 EUR/L\";95 RON, 92 RON;ring, twice\n")
	if got.At != (orb.Point{-106.5, 47.25}) || got.Prices[0].Amount != 1.62 || got.Prices[1].Amount != 1.48 ||
		!slices.Equal(got.Grades, grades(95, 92)) || got.Note != "ring, twice" {
		t.Errorf("%+v", got)
	}
	for _, bad := range []string{"1.047,25", "47,25,1", "47 ,25", ",25", "47,"} {
		if got, _, err := stop.ReadCSV(strings.NewReader("name;lat;lon\nA;"+bad+";1\n"), "s.csv", ""); err == nil {
			t.Errorf("%q is read as %v", bad, got)
		}
	}
}

// Two numbers that stand together are a guess, which is told; so is one in a waypoint.
func TestGuessedGradesAreTold(t *testing.T) {
	_, notes, err := stop.ReadCSV(strings.NewReader("name,lat,lon,grades\nA,1,1,95/92 RON\nB,1,1,95/85\n"), "s.csv", "")
	if want := []string{`s.csv:2:7: grades: "95/92 RON" is read as 2 grades`}; err != nil || !slices.Equal(notes, want) {
		t.Errorf("%q, %v; want %q", notes, err, want)
	}
	w := pump("A")
	w.Desc, w.File, w.Line, w.Col = "grades: 95/92 RON", "a.gpx", 3, 1
	_, got, err := stop.FromWaypoints([]gpxfile.Waypoint{w}, "")
	if want := []string{`a.gpx:3:1: waypoint "A": grades: "95/92 RON" is read as 2 grades`}; err != nil || !slices.Equal(got, want) {
		t.Errorf("%q, %v; want %q", got, err, want)
	}
}
