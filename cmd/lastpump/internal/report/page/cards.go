package page

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"

	"lastpump/cmd/lastpump/internal/report/sheet"
	"lastpump/cmd/lastpump/internal/words/daily"
	"lastpump/cmd/lastpump/internal/words/first"
	"lastpump/cmd/lastpump/internal/words/trail"
	"lastpump/fuel/clock"
)

// A pageDay is the stops of a day under its head; without a departure all stops, under none.
type pageDay struct {
	*daily.Head
	Cards []pageCard
}

// days puts cards under the days on which their stops are reached.
func (t *planned) days(cards []pageCard) (out []pageDay) {
	heads := daily.Of(t.say).Heads()
	if heads == nil {
		return []pageDay{{Cards: cards}}
	}
	for i := range heads {
		d := pageDay{Head: &heads[i]}
		for _, c := range cards {
			if c.Day == i {
				d.Cards = append(d.Cards, c)
			}
		}
		out = append(out, d)
	}
	return out
}

// hoursLook gives how it looks what a pump is when one gets there.
func hoursLook(is clock.State) string {
	switch is {
	case clock.Shut:
		return sheet.Bad
	case clock.Doubtful, clock.NotKnown:
		return sheet.Doubt
	}
	return sheet.Good
}

// A pageCard is a stop on the page: a line of it, and what is unfolded.
type pageCard struct {
	first.Card
	Number int
	Open   bool   // before a script says which is the next
	Look   string // of what its hours are
	Rows   []cardRow
}

type cardRow struct {
	first.CardRow
	Dials []dial
	Geo   string // of a link to a map
	Place string // the same to be read
}

// A dial is a number to ring, or what stands between two.
type dial struct {
	Text, Number string
}

func (t *planned) cards() []pageCard {
	var out []pageCard
	for i, c := range first.Of(t.say).Cards() {
		p := pageCard{Card: c, Number: i + 1, Open: i == 0, Look: hoursLook(c.Is)}
		for _, r := range c.Rows {
			row := cardRow{CardRow: r}
			if r.Phone {
				row.Dials = dials(r.Text)
			}
			if r.At != nil {
				row.Geo = fmt.Sprintf("%.5f,%.5f", r.At.Lat(), r.At.Lon())
				row.Place = trail.Coordinates(*r.At)
			}
			p.Rows = append(p.Rows, row)
		}
		out = append(out, p)
	}
	return out
}

// cardsKey is under what a browser keeps which cards are ticked: those of another plan are others.
func cardsKey(name string, cards []pageCard) string {
	said, err := json.Marshal(cards)
	if err != nil {
		return name
	}
	sum := sha256.Sum256(append([]byte(name), said...))
	return hex.EncodeToString(sum[:8])
}

// numbers are what can be rung in what a list says of a phone: five digits at the least.
var numbers = regexp.MustCompile(`\+?\(?[0-9](?:[ ()./-]*[0-9]){4,}`)

// dials finds the numbers in what a list says of a phone.
//
//	RFC 3966, section 5.1.1: what stands between the digits is for the eye.
func dials(text string) (out []dial) {
	from := 0
	for _, at := range numbers.FindAllStringIndex(text, -1) {
		if at[0] > from {
			out = append(out, dial{Text: text[from:at[0]]})
		}
		number := strings.Map(func(r rune) rune {
			if r == '+' || r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, text[at[0]:at[1]])
		out = append(out, dial{text[at[0]:at[1]], number})
		from = at[1]
	}
	if from < len(text) {
		out = append(out, dial{Text: text[from:]})
	}
	return out
}
