package osmfile

import (
	"context"
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"time"

	"lastpump/route/input"
)

// scanXML scans OSM XML. An object that says visible="false", or that an editor has
// marked with action="delete", is not there.
func (e Extract) scanXML(ctx context.Context, r io.Reader, want Filter, take func(*Block)) error {
	d := xml.NewDecoder(r)
	block := new(Block)
	for ctx.Err() == nil {
		t, err := d.Token()
		if err == io.EOF {
			take(block)
			return nil
		}
		if start, ok := t.(xml.StartElement); ok && err == nil {
			err = want.decode(d, start, block)
		}
		if _, syntax := err.(*xml.SyntaxError); syntax || errors.Is(err, io.ErrUnexpectedEOF) {
			return e.fault(err)
		}
		if err != nil {
			line, _ := d.InputPos()
			return &input.Error{File: e.Name, Line: line, What: err.Error(), Hint: hintAgain}
		}
		if block.len() == mostObjects {
			take(block)
			block = new(Block)
		}
	}
	return ctx.Err()
}

// An element is an object in XML.
type element struct {
	ID        int64     `xml:"id,attr"`
	Lat       float64   `xml:"lat,attr"`
	Lon       float64   `xml:"lon,attr"`
	Version   int       `xml:"version,attr"`
	Timestamp time.Time `xml:"timestamp,attr"`
	Visible   string    `xml:"visible,attr"`
	Action    string    `xml:"action,attr"`
	Tags      []struct {
		Key   string `xml:"k,attr"`
		Value string `xml:"v,attr"`
	} `xml:"tag"`
	Nodes []struct {
		Ref int64 `xml:"ref,attr"`
	} `xml:"nd"`
	Members []struct {
		Type string `xml:"type,attr"`
		Ref  int64  `xml:"ref,attr"`
		Role string `xml:"role,attr"`
	} `xml:"member"`
}

// decode reads an object into a block if it is wanted. Most nodes are passed over by
// their place alone, before anything is made of them.
func (f Filter) decode(d *xml.Decoder, start xml.StartElement, into *Block) error {
	wanted := false
	switch start.Name.Local {
	case "node":
		id, lon, lat, err := placeOf(start)
		if err != nil {
			return err
		}
		wanted = f.Node != nil && f.Node(id, lon, lat)
	case "way":
		wanted = f.Way != nil
	case "relation":
		wanted = f.Relation != nil
	default:
		return nil
	}
	if !wanted {
		return d.Skip()
	}
	var e element
	if err := d.DecodeElement(&e, &start); err != nil || e.Visible == "false" || e.Action == "delete" {
		return err
	}
	var tags Tags
	for _, t := range e.Tags {
		tags = append(tags, Tag(t))
	}
	edit := Edit{e.Version, e.Timestamp}
	switch kind := start.Name.Local; {
	case kind == "node":
		into.Nodes = append(into.Nodes, Node{e.ID, e.Lon, e.Lat, tags, edit})
	case kind == "way" && f.Way(e.ID, tags):
		into.Ways = append(into.Ways, Way{e.ID, e.refs(), tags, edit})
	case kind == "relation" && f.Relation(e.ID, tags):
		into.Relations = append(into.Relations, Relation{e.ID, e.members(), tags, edit})
	}
	return nil
}

func (e *element) refs() (out []int64) {
	for _, n := range e.Nodes {
		out = append(out, n.Ref)
	}
	return out
}

func (e *element) members() (out []Member) {
	kinds := map[string]Kind{"way": IsWay, "relation": IsRelation}
	for _, m := range e.Members {
		out = append(out, Member{Ref{kinds[m.Type], m.Ref}, m.Role})
	}
	return out
}

// placeOf reads where a node is.
func placeOf(start xml.StartElement) (id int64, lon, lat float64, err error) {
	for _, a := range start.Attr {
		switch a.Name.Local {
		case "id":
			id, err = strconv.ParseInt(a.Value, 10, 64)
		case "lat":
			lat, err = strconv.ParseFloat(a.Value, 64)
		case "lon":
			lon, err = strconv.ParseFloat(a.Value, 64)
		}
		if err != nil {
			return 0, 0, 0, &input.ValueError{Text: a.Value, What: "is no " + a.Name.Local, Hint: hintAgain}
		}
	}
	return id, lon, lat, nil
}
