package osmtest

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"time"

	"lastpump/route/osmfile"
)

// XML writes objects as OSM XML (OpenStreetMap wiki, "OSM XML").
func XML(objects []any) []byte {
	var b bytes.Buffer
	b.WriteString("<?xml version=\"1.0\"?>\n<osm version=\"0.6\">\n")
	for _, o := range objects {
		switch o := o.(type) {
		case *osmfile.Node:
			fmt.Fprintf(&b, "<node id=\"%d\" lat=\"%v\" lon=\"%v\"", o.ID, o.Lat, o.Lon)
			end(&b, "node", o.Edit, o.Tags, nil)
		case *osmfile.Way:
			fmt.Fprintf(&b, "<way id=\"%d\"", o.ID)
			end(&b, "way", o.Edit, o.Tags, func() {
				for _, id := range o.Nodes {
					fmt.Fprintf(&b, "<nd ref=\"%d\"/>", id)
				}
			})
		case *osmfile.Relation:
			fmt.Fprintf(&b, "<relation id=\"%d\"", o.ID)
			end(&b, "relation", o.Edit, o.Tags, func() {
				for _, m := range o.Members {
					fmt.Fprintf(&b, "<member type=\"%s\" ref=\"%d\" role=\"%s\"/>", m.Kind, m.ID, escaped(m.Role))
				}
			})
		}
	}
	b.WriteString("</osm>\n")
	return b.Bytes()
}

// end writes what all objects have.
func end(b *bytes.Buffer, name string, e osmfile.Edit, tags osmfile.Tags, more func()) {
	fmt.Fprintf(b, " visible=\"true\" version=\"%d\"", e.Version)
	if !e.Time.IsZero() {
		fmt.Fprintf(b, " timestamp=\"%s\"", e.Time.Format(time.RFC3339))
	}
	b.WriteString(">")
	if more != nil {
		more()
	}
	for _, t := range tags {
		fmt.Fprintf(b, "<tag k=\"%s\" v=\"%s\"/>", escaped(t.Key), escaped(t.Value))
	}
	fmt.Fprintf(b, "</%s>\n", name)
}

func escaped(s string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s))
	return b.String()
}
