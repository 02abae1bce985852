package osmmap

import (
	"context"
	"encoding/xml"
	"io"
	"strconv"

	"lastpump/route"

	"github.com/paulmach/osm"
)

// scanXML goes through OSM XML. The library's own scanner would do, but it takes an
// object that says visible="false", or that an editor has marked with action="delete",
// for one that is there, and it makes an object of every node on the way: most can be
// passed over by their place alone.
func (e Extract) scanXML(ctx context.Context, r io.Reader, s sieve, take func(osm.Object)) error {
	d := xml.NewDecoder(r)
	for ctx.Err() == nil {
		t, err := d.Token()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return e.fault(err)
		}
		start, ok := t.(xml.StartElement)
		if !ok {
			continue
		}
		o, err := decoded(d, start, s)
		if err != nil {
			return e.at(d, err)
		}
		if o != nil && s.wants(o) {
			take(o)
		}
	}
	return ctx.Err()
}

// decoded reads an object; nil where it is none, not there any more or not wanted at
// first sight.
func decoded(d *xml.Decoder, start xml.StartElement, s sieve) (osm.Object, error) {
	var o osm.Object
	wanted := false
	switch start.Name.Local {
	case "node":
		n, err := nodeAt(start)
		if err != nil {
			return nil, err
		}
		o, wanted = &osm.Node{}, s.node != nil && s.node(n)
	case "way":
		o, wanted = &osm.Way{}, s.way != nil
	case "relation":
		o, wanted = &osm.Relation{}, s.relation != nil
	default:
		return nil, nil
	}
	if !wanted || attribute(start, "visible") == "false" || attribute(start, "action") == "delete" {
		return nil, d.Skip()
	}
	return o, d.DecodeElement(o, &start)
}

// nodeAt reads what a node says of itself in its own tag: enough for a first look.
func nodeAt(start xml.StartElement) (*osm.Node, error) {
	var n osm.Node
	for _, a := range start.Attr {
		var err error
		switch a.Name.Local {
		case "id":
			var id int64
			id, err = strconv.ParseInt(a.Value, 10, 64)
			n.ID = osm.NodeID(id)
		case "lat":
			n.Lat, err = strconv.ParseFloat(a.Value, 64)
		case "lon":
			n.Lon, err = strconv.ParseFloat(a.Value, 64)
		}
		if err != nil {
			return nil, &route.ValueError{Text: a.Value, What: "is no " + a.Name.Local, Hint: hintAgain}
		}
	}
	return &n, nil
}

func attribute(start xml.StartElement, name string) string {
	for _, a := range start.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// at says at which line an error was found.
func (e Extract) at(d *xml.Decoder, err error) error {
	if _, syntax := err.(*xml.SyntaxError); syntax {
		return e.fault(err)
	}
	line, _ := d.InputPos()
	return &route.InputError{File: e.Name, Line: line, What: err.Error(), Hint: hintAgain}
}
