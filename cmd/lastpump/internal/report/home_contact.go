package report

import (
	"strings"

	"lastpump/route"
)

// A Contact is something that the rider says of himself on the sheet left at home. It is
// text that nobody has checked.
type Contact struct{ Key, Text string }

// contactKeys are what may be said, with the words that stand on the sheet.
var contactKeys = []struct{ key, label string }{
	{"rider", "Rider, phone"},
	{"with", "Rides along"},
	{"bike", "Colour, plate"},
	{"leave", "Sets out"},
	{"back", "Expected back"},
	{"worry", "Worry from"},
	{"call", "Call for help from"},
	{"who", "Whom to call"},
	{"carries", "Carries"},
	{"note", "Note"},
}

// ParseContact reads "KEY: TEXT". The error is a [*route.ValueError] that names the keys.
func ParseContact(s string) (Contact, error) {
	keys := make([]string, len(contactKeys))
	for i, k := range contactKeys {
		keys[i] = k.key
	}
	hint := "write KEY: TEXT, with one of the keys " + strings.Join(keys, ", ")
	key, text, found := strings.Cut(s, ":")
	key, text = strings.ToLower(strings.TrimSpace(key)), strings.Join(strings.Fields(text), " ")
	if !found {
		return Contact{}, route.BadValue(s, "has no key", hint)
	}
	for _, k := range keys {
		switch {
		case k == key && text == "":
			return Contact{}, route.BadValue(s, "says nothing", hint+"; leave it out for a line to fill in by hand")
		case k == key:
			return Contact{key, text}, nil
		}
	}
	return Contact{}, route.BadValue(key, "is no key of a contact", route.Nearest(key, keys)+hint)
}

// fields gives what is said under keys, in the order of the keys; what is not said is a
// line to fill in.
func fields(contacts []Contact, keys ...string) []homeField {
	var out []homeField
	for _, k := range contactKeys {
		for _, key := range keys {
			if k.key != key {
				continue
			}
			f := homeField{Label: k.label, Wide: key == "who" || key == "carries" || key == "note"}
			for _, c := range contacts {
				if c.Key == key {
					f.Values = append(f.Values, c.Text)
				}
			}
			out = append(out, f)
		}
	}
	return out
}
