package survey

import (
	"strings"
	"testing"
	"time"

	"lastpump/fuel/stop"
	"lastpump/octane"
	"lastpump/route/osmfile/osmtest"
)

var tagsOf = osmtest.Tags

// listed is a pump as the list has it.
func listed(p Pump) stop.Stop {
	p.Stop.Note = p.note()
	return p.Stop
}

func stopFrom(tags string, scale octane.Scale) stop.Stop {
	return listed(pumpOf(tagsOf(tags), scale, time.Time{}))
}

// The keys are those of the presets of the iD editor (fuel:octane_95, fuel:diesel …); a
// key that is there with "no" is known, one that is not there is not. Tags of pumps in
// the extract of Delaware are among them.
func TestGradesOfTags(t *testing.T) {
	for _, c := range []struct {
		tags   string
		scale  octane.Scale
		grades string // as a list has them
		note   string // has to have that in it
	}{
		{"amenity=fuel", "RON", "", ""},
		{"amenity=fuel fuel:octane_95=yes", "RON", "95 RON", ""},
		{"amenity=fuel fuel:octane_95=yes fuel:octane_98=no", "RON", "95 RON", "not sold: 98 RON"},
		{"amenity=fuel fuel:octane_98=yes fuel:octane_95=yes fuel:diesel=yes", "RON", "98 RON; 95 RON", ""},
		{"amenity=fuel fuel:octane_91=yes fuel:octane_95=no fuel:octane_98=no fuel:octane_100=no", "AKI", "91 AKI",
			"not sold: 100 AKI, 95 AKI, 98 AKI"},
		{"amenity=fuel fuel:octane_95=no fuel:octane_98=no", "", "", "not sold: 95, 98"},
		{"amenity=fuel fuel:diesel=yes", "", "diesel", "ask for petrol"},
		{"amenity=fuel fuel:HGV_diesel=yes fuel:diesel=yes fuel:lpg=yes", "", "diesel; lpg", "ask for petrol"},
		{"amenity=fuel fuel:diesel=yes fuel:octane_95=no", "RON", "diesel", "not sold: 95 RON"},
		{"amenity=fuel fuel:diesel=yes fuel:e10=yes", "", "", "petrol, its number not tagged"},
		{"amenity=fuel fuel:diesel=no", "", "", ""},
		{"amenity=fuel fuel:e85=yes fuel:octane_95=yes", "RON", "95 RON", ""},
		{"amenity=fuel fuel:octane_95=maybe", "RON", "", ""},
		{"amenity=fuel fuel:octane_10=yes", "RON", "", ""}, // no octane number
	} {
		s := stopFrom(c.tags, c.scale)
		var got []string
		for _, g := range s.Grades {
			got = append(got, g.String())
		}
		if text := strings.Join(append(got, s.Other...), "; "); text != c.grades || !strings.Contains(s.Note, c.note) {
			t.Errorf("%s sells %q, note %q; want %q, %q", c.tags, text, s.Note, c.grades, c.note)
		}
		if s.Standing != stop.Map {
			t.Errorf("%s has the standing %s", c.tags, s.Standing)
		}
	}
}

func TestRefusals(t *testing.T) {
	for tags, refused := range map[string]bool{
		"amenity=fuel":                                                           false,
		"amenity=fuel access=private":                                            true,
		"amenity=fuel access=no":                                                 true,
		"amenity=fuel access=customers":                                          false,
		"amenity=fuel disused=yes":                                               true,
		"amenity=fuel disused:amenity=fuel":                                      true,
		"amenity=fuel abandoned:amenity=fuel":                                    true,
		"amenity=fuel demolished:amenity=fuel":                                   true,
		"amenity=fuel disused:shop=kiosk":                                        false, // the shop is closed, not the pump
		"amenity=fuel waterway=fuel":                                             true,
		"amenity=fuel waterway=fuel motor_vehicle=yes":                           false,
		"amenity=fuel boat=yes motor_vehicle=no":                                 true,
		"amenity=fuel boat=yes":                                                  false, // boats too
		"amenity=fuel aeroway=fuel":                                              true,
		"amenity=fuel fuel:avgas=yes fuel:JetA1=yes":                             true,
		"amenity=fuel fuel:avgas=yes fuel:octane_95=yes":                         false,
		"amenity=fuel fuel:100LL=no fuel:diesel=yes":                             false,
		"amenity=fuel opening_hours=closed":                                      true,
		"amenity=fuel operational_status=closed":                                 true,
		"amenity=fuel motorcycle=no":                                             true,
		"amenity=fuel hgv=designated":                                            false, // noted
		"amenity=fuel motor_vehicle=private":                                     true,
		"amenity=fuel seamark:type=small_craft_facility fuel:octane_95=yes":      true,
		"amenity=fuel seamark:type=small_craft_facility motorcar=yes hgv=yes":    false,
		"amenity=fuel fuel:electricity=yes fuel:octane_95=yes access=permissive": false,
	} {
		if why := refusal(tagsOf(tags)).Why; (why != "") != refused {
			t.Errorf("%s: refused because of %q, want %v", tags, why, refused)
		}
	}
	for _, tags := range []string{"disused:amenity=fuel", "abandoned:amenity=fuel", "shop=gas", "amenity=bbq fuel=wood"} {
		if isPump(tagsOf(tags)) {
			t.Errorf("%s is taken for a pump", tags)
		}
	}
	if !isPump(tagsOf("amenity=car_wash;fuel")) {
		t.Error("a pump with a car wash is not taken for one")
	}
}

func TestStopOfTags(t *testing.T) {
	edited := time.Date(2014, 5, 6, 23, 30, 0, 0, time.FixedZone("", -4*3600))
	day := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		tags string
		want stop.Stop
	}{
		{"name=Ash~Creek opening_hours=Mo-Fr~08:00-18:00;~PH~off phone=+99~555 check_date=2023-04-05",
			stop.Stop{Name: "Ash Creek", Hours: "Mo-Fr 08:00-18:00; PH off", Phone: "+99 555", Confirmed: day(2023, 4, 5)}},
		{"brand=Northpump contact:phone=12 survey:date=2021-07", stop.Stop{Name: "Northpump", Phone: "12",
			Confirmed: day(2021, 7, 1)}},
		{"operator=Co-op ref=17 check_date=2020", stop.Stop{Name: "Co-op", Confirmed: day(2020, 1, 1)}},
		{"ref=17 check_date=last~summer", stop.Stop{Name: "pump 17", Confirmed: day(2014, 5, 7),
			Note: "confirmed: last edit of the map"}},
		{"name=Заправка int_name=Zapravka check_date=2020-01-02", stop.Stop{Name: "Заправка (Zapravka)",
			Confirmed: day(2020, 1, 2)}},
		{"name=A self_service=yes automated=yes seasonal=summer check_date=2020-01-02",
			stop.Stop{Name: "A", Confirmed: day(2020, 1, 2), Note: "self-service; automatic, nobody there; season: summer"}},
		{"name=A seasonal=yes access=customers check_date=2020-01-02",
			stop.Stop{Name: "A", Confirmed: day(2020, 1, 2), Note: "not open all year; access=customers"}},
		{"name=A hgv=designated fuel:octane_95=disputed check_date=2020-01-02",
			stop.Stop{Name: "A", Confirmed: day(2020, 1, 2), Note: "hgv=designated; fuel:octane_95: the map says yes and no"}},
		{"name=A boat=yes check_date=2020-01-02",
			stop.Stop{Name: "A", Confirmed: day(2020, 1, 2), Note: "boat=yes: ask whether it is for boats alone"}},
		{"name=A payment:cash=yes payment:credit_cards=yes payment:visa=no check_date=2020-01-02",
			stop.Stop{Name: "A", Pay: "cash, cards", Confirmed: day(2020, 1, 2)}},
		{"name=A payment:cash=no payment:mastercard=yes check_date=2020-01-02",
			stop.Stop{Name: "A", Pay: "no cash, cards", Confirmed: day(2020, 1, 2)}},
		{"name=A payment:cash=yes payment:cards=no payment:fuel_cards=yes check_date=2020-01-02",
			stop.Stop{Name: "A", Pay: "cash, no cards", Confirmed: day(2020, 1, 2)}},
	} {
		c.want.Standing, c.want.HasConfirmed = stop.Map, true
		got := listed(pumpOf(tagsOf("amenity=fuel "+c.tags), "RON", edited))
		if got.Name != c.want.Name || got.Hours != c.want.Hours || got.Phone != c.want.Phone || got.Pay != c.want.Pay ||
			got.Note != c.want.Note || got.HasConfirmed != true || !got.Confirmed.Equal(c.want.Confirmed) {
			t.Errorf("%s is\n%+v, want\n%+v", c.tags, got, c.want)
		}
	}
	if s := stopFrom("amenity=fuel name=A", "RON"); s.HasConfirmed {
		t.Errorf("confirmed on %v, which nobody says", s.Confirmed)
	}
	// What cannot be seen, or is no text at all, is left out.
	if s := stopFrom("amenity=fuel name=Sh\xe9ll~\u200b~A\x00B brand=X", "RON"); s.Name != "Shll AB" {
		t.Errorf("the name is %q", s.Name)
	}
	if s := stopFrom("amenity=fuel name=\u200b brand=X", "RON"); s.Name != "X" {
		t.Errorf("the name is %q", s.Name)
	}
}
