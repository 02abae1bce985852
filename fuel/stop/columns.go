package stop

import "lastpump/route/input"

// columns of a stop list, of which the first three are needed, and other words for them
// in English, German, French and Spanish.
var columns = []input.Column{
	{Name: "name", Words: []string{"stop", "stop name", "station", "station name", "place", "pump", "gas station",
		"fuel station", "petrol station", "filling station", "fuel stop",
		"ort", "tankstelle", "halt", "bezeichnung",
		"nom", "lieu", "arret", "station service", "station essence",
		"nombre", "lugar", "parada", "gasolinera", "estacion", "estacion de servicio", "surtidor"}},
	{Name: "lat", Words: []string{"latitude", "breite", "breitengrad", "geogr breite",
		"geographische breite", "latitud"}},
	{Name: "lon", Words: []string{"lng", "long", "longitude",
		"lange", "laenge", "langengrad", "laengengrad", "geogr lange", "geographische lange", "longitud"}},
	{Name: "grades", Words: []string{"grade", "octane", "octanes", "octane number", "fuel", "fuels", "fuel grade",
		"fuel grades", "fuel type", "fuel types", "gas", "petrol", "gasoline",
		"oktan", "oktanzahl", "sorte", "sorten", "kraftstoff", "kraftstoffe", "benzin",
		"indice d octane", "carburant", "carburants", "essence", "essences",
		"octanaje", "octanos", "grado", "grados", "combustible", "combustibles", "gasolina", "gasolinas"}},
	{Name: "hours", Words: []string{"opening hours", "open", "opening times", "open hours", "business hours",
		"zeiten", "offnungszeiten", "oeffnungszeiten", "geoffnet", "geoeffnet",
		"heures", "horaires", "horaire", "ouverture", "heures d ouverture",
		"horas", "horario", "horarios", "apertura", "horario de apertura"}},
	{Name: "pay", Words: []string{"payment", "payments", "payment methods", "payment method",
		"zahlung", "bezahlung", "zahlungsart", "zahlungsarten",
		"paiement", "paiements", "mode de paiement", "moyens de paiement", "reglement",
		"pago", "pagos", "forma de pago", "formas de pago", "medios de pago"}},
	{Name: "standing", Words: []string{"status", "certainty", "reliability", "confidence", "how sure",
		"stand", "gewissheit", "zuverlassigkeit", "zuverlaessigkeit",
		"statut", "fiabilite", "certitude", "estado", "fiabilidad", "certeza"}},
	{Name: "confirmed", Words: []string{"confirmed on", "last confirmed", "date confirmed", "checked", "last checked",
		"verified", "last verified", "confirmation",
		"bestatigt", "bestaetigt", "bestatigt am", "bestaetigt am", "gepruft", "geprueft", "gepruft am",
		"confirme", "confirme le", "verifie", "verifie le",
		"confirmado", "confirmado el", "verificado", "verificado el", "fecha de confirmacion"}},
	{Name: "phone", Words: []string{"telephone", "tel", "phone number", "telephone number", "mobile",
		"telefon", "telefonnummer", "handy", "numero de telephone", "telefono", "movil", "celular"}},
	{Name: "price", Words: []string{"prices", "cost", "preis", "preise", "prix", "tarif", "precio", "precios"}},
	{Name: "note", Words: []string{"notes", "comment", "comments", "remark", "remarks", "description",
		"notiz", "notizen", "bemerkung", "bemerkungen", "anmerkung", "anmerkungen", "kommentar", "hinweis", "hinweise",
		"remarque", "remarques", "commentaire", "commentaires",
		"nota", "notas", "comentario", "comentarios", "observacion", "observaciones"}},
	{Name: "alias", Words: []string{"also called", "latin name", "name in latin letters", "spelled", "spelt",
		"transliteration", "romanized", "romanised", "umschrift", "translitteration", "transliteracion"}},
}

// keys are the names of the columns.
var keys = func() (names []string) {
	for _, c := range columns {
		names = append(names, c.Name)
	}
	return names
}()
