package page_test

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/internal/words/first"
	"lastpump/fuel/plan"

	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

// rowsOf reads a card as a rider does: its line, and what stands behind each label.
func rowsOf(card *html.Node) (line string, rows map[string]string) {
	rows = map[string]string{}
	for _, div := range within(within(card, "dl")[0], "div") {
		rows[textIn(within(div, "dt")[0])] = textIn(within(div, "dd")[0])
	}
	return textIn(within(card, "summary")[0]), rows
}

func cardsOf(p samples.Page) []*html.Node { return classed(p.All("details"), "card") }

// The cards say of each stop what the first screen says of it, whatever the plan: the same figures
// of the trip, the fill, the can, the mixture, where to pour and to turn back, and that a dry pump
// strands. The first stands open; hours, a number and the place are what the list of stops has.
func TestCardsSayWhatTheFirstScreenSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		cards := cardsOf(samples.Parse(t, pageHTML(t, p)))
		todo := first.Of(p.Say()).Do()
		if len(cards) != len(todo) {
			t.Fatalf("%d cards for %d lines", len(cards), len(todo))
		}
		for i, d := range todo {
			line, rows := rowsOf(cards[i])
			has := func(where, label, want string) {
				if !strings.Contains(samples.Squeezed(where), samples.Squeezed(want)) {
					t.Fatalf("card %d: %s %q, want %q", i+1, label, where, want)
				}
			}
			has(line, "line", d.Trip)
			has(line, "line", d.When)
			has(line, "line", d.Stop)
			has(rows["fill"], "fill", d.Fill)
			has(rows["can"], "can", d.Can)
			has(rows["tank"], "tank", d.Tank)
			has(rows["pour"], "pour", d.Pour)
			has(strings.ReplaceAll(rows["turn"], "no turning", "none"), "turn", d.Turn)
			if strings.Contains(d.IfDry, "STRANDS") {
				has(rows["if dry"], "if dry", d.IfDry)
				has(line, "line", d.IfDry)
			}
			if _, open := attribute(cards[i], "open"); open != (i == 0) {
				t.Fatalf("card %d: open: %v", i+1, open)
			}
			if i == 0 || p.Legs[i-1].ToVisit < 0 {
				continue
			}
			at := p.Visits[p.Legs[i-1].ToVisit]
			has(rows["hours"], "hours", at.Stop.Hours)
			has(rows["where"], "where", fmt.Sprintf("%.4f, %.4f", at.Stop.At.Lat(), at.Stop.At.Lon()))
		}
	})
}

func attribute(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

// A number is rung as it stands, without what is for the eye (RFC 3966); two numbers are two links,
// and what is no number is none. Coordinates are a link by RFC 5870.
func TestCardsRingAndShowThePlace(t *testing.T) {
	for phone, want := range map[string]string{
		"+999 555 0104":                       "tel:+9995550104",
		"(0999) 555-01.04":                    "tel:09995550104",
		"+999 555 0104; ask +999 555 0105 ev": "tel:+9995550104 tel:+9995550105",
		"ask at no. 12":                       "",
		`"><script>alert(1)</script>`:         "",
		"javascript:alert(123456)":            "tel:123456",
	} {
		p := samples.ExampleWith(t, "steppe", func(in *plan.Inputs) {
			for i := range in.Stops {
				in.Stops[i].Phone = phone
			}
		})
		card := cardsOf(samples.Parse(t, pageHTML(t, p)))[1]
		var got []string
		for _, a := range within(card, "a") {
			got = append(got, samples.Attribute(a, "href"))
		}
		geo := got[len(got)-1]
		if strings.Join(got[:len(got)-1], " ") != want || geo != "geo:47.66817,94.72700" { // of Narsuk in stops.csv
			t.Errorf("%q: %v", phone, got)
		}
		if _, rows := rowsOf(card); rows["phone"] != phone {
			t.Errorf("%q reads %q", phone, rows["phone"])
		}
	}
}

var policy = regexp.MustCompile(`(?s)Content-Security-Policy" content="([^"]*)"`)

// The policy allows the page's own script by its hash and no other (Content Security Policy Level
// 3, sections 2.3.1 and 6), no base and no form.
func TestPolicyOfThePage(t *testing.T) {
	b := pageHTML(t, samples.Example(t, "canyon"))
	seen := samples.Parse(t, b)
	var scripts []string
	for _, s := range seen.All("script") {
		if samples.Attribute(s, "type") == "" {
			scripts = append(scripts, textIn(s))
		}
	}
	if len(scripts) != 1 {
		t.Fatalf("%d scripts", len(scripts))
	}
	sum := sha256.Sum256([]byte(scripts[0]))
	want := []string{"default-src 'none'", "script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'", "base-uri 'none'", "form-action 'none'"}
	m := policy.FindSubmatch(b)
	if m == nil {
		t.Fatal("no policy")
	}
	got := strings.Split(html.UnescapeString(string(m[1])), "; ")
	for _, w := range want {
		if !slices.Contains(got, w) {
			t.Errorf("%q has no %q", got, w)
		}
	}
}

// The narrow pictures are complete however many pumps there are: over each all its stops are
// named, each leg of the ride has its number once, under or in its box, and none has over 40 legs.
func TestNarrowPicturesAreComplete(t *testing.T) {
	for _, n := range []int{1, 12, 19, 45} {
		var names []string
		for i := range n {
			names = append(names, fmt.Sprintf("Pump %d", i+1))
		}
		p := samples.NamedWith(t, func(in *plan.Inputs) { in.Options.FillAt = plan.FillEverywhere }, names...)
		for _, form := range []string{"narrow", "middle"} {
			var numbers, named []string
			for _, svg := range classed(pictures(samples.Parse(t, pageHTML(t, p)), "chart"), form) {
				texts := within(svg, "text")
				of := append(classed(texts, "number"), classed(texts, "under")...)
				if len(of) > 40 {
					t.Errorf("%d legs in one picture", len(of))
				}
				for _, e := range of {
					numbers = append(numbers, strings.Fields(textIn(e))[0])
				}
				for _, e := range classed(texts, "stop") {
					named = append(named, textIn(within(e, "tspan")[0]))
				}
			}
			for i := range p.Legs {
				if k := strconv.Itoa(i + 1); !slices.Contains(numbers, k) {
					t.Errorf("%d pumps, %s: leg %s has no number", n, form, k)
				}
			}
			if len(numbers) != len(p.Legs) {
				t.Errorf("%d pumps, %s: %d numbers for %d legs", n, form, len(numbers), len(p.Legs))
			}
			for _, name := range names {
				if !slices.Contains(named, name) {
					t.Errorf("%d pumps, %s: %s is not named", n, form, name)
				}
			}
		}
	}
}
