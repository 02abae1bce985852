package paper

import (
	"slices"
	"strings"

	"lastpump/route/input"
)

// A Contact is something that the rider says of himself on the sheet left at home. It is
// text that nobody has checked.
type Contact struct{ Key, Text string }

// contactKeys are what may be said, with the words that stand on the sheet.
var contactKeys = []struct{ key, label string }{
	{"rider", "Rider, phone"},
	{"with", "Rides along"},
	{"looks", "Looks, clothing"},
	{"medical", "Medical"},
	{"bike", "Colour, plate, bags"},
	{"leave", "Sets out"},
	{"back", "Expected back"},
	{"worry", "Worry from"},
	{"call", "Call for help from"},
	{"zone", "By the clock of"},
	{"checks", "Checks in"},
	{"who", "Whom to call"},
	{"beacon", "Beacon, its number"},
	{"messenger", "Messenger, its page"},
	{"supplies", "Food, water (days)"},
	{"insurance", "Insurance, hotline"},
	{"embassy", "Embassy"},
	{"carries", "Carries"},
	{"note", "Note"},
}

// wideContacts have all the width of the sheet.
var wideContacts = []string{"who", "looks", "medical", "note"}

// ParseContact reads "KEY: TEXT". The error is a [*input.ValueError] that names the keys.
func ParseContact(s string) (Contact, error) {
	keys := make([]string, len(contactKeys))
	for i, k := range contactKeys {
		keys[i] = k.key
	}
	hint := "write KEY: TEXT, with one of the keys " + strings.Join(keys, ", ")
	key, text, found := strings.Cut(s, ":")
	key, text = strings.ToLower(strings.TrimSpace(key)), strings.Join(strings.Fields(input.Clean(text)), " ")
	if !found {
		return Contact{}, input.BadValue(s, "has no key", hint)
	}
	for _, k := range keys {
		switch {
		case k == key && text == "":
			return Contact{}, input.BadValue(s, "says nothing", hint+"; leave it out for a line to fill in by hand")
		case k == key:
			return Contact{key, text}, nil
		}
	}
	return Contact{}, input.BadValue(key, "is no key of a contact", input.Suggest(key, keys)+hint)
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
			f := homeField{Label: k.label, Wide: slices.Contains(wideContacts, key)}
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
