package samples

import (
	"bytes"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/net/html"
)

// Squeezed gives a text without white space, which lines are broken at.
func Squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			return -1
		}
		return r
	}, s)
}

func Number(t T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A Page is what the HTML parser of the Go project makes of the bytes.
type Page struct {
	Elements []*html.Node
	Text     string // without what the head holds
}

func Parse(t T, b []byte) Page {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	var p Page
	var text strings.Builder
	var walk func(n *html.Node, shown bool)
	walk = func(n *html.Node, shown bool) {
		switch n.Type {
		case html.ElementNode:
			p.Elements = append(p.Elements, n)
			shown = shown || n.Data == "body"
		case html.TextNode:
			if shown {
				text.WriteString(n.Data + " ")
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, shown)
		}
	}
	walk(root, false)
	p.Text = text.String()
	return p
}

func (p Page) All(name string) (out []*html.Node) {
	for _, n := range p.Elements {
		if n.Data == name {
			out = append(out, n)
		}
	}
	return out
}

func Attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}
