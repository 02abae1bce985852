package osmtest

import (
	"strings"

	"lastpump/route/osmfile"
)

// Tags reads "highway=track surface=sand"; a tilde stands for a blank in a value.
func Tags(text string) (t osmfile.Tags) {
	for _, word := range strings.Fields(text) {
		key, value, _ := strings.Cut(word, "=")
		t = append(t, osmfile.Tag{Key: key, Value: strings.ReplaceAll(value, "~", " ")})
	}
	return t
}

// First is the edit of an object that was drawn once.
var First = osmfile.Edit{Version: 1}

// Node makes a node, drawn once.
func Node(id int64, lon, lat float64, tags string) *osmfile.Node {
	return &osmfile.Node{ID: id, Lon: lon, Lat: lat, Tags: Tags(tags), Edit: First}
}

// Way makes a way, drawn once.
func Way(id int64, tags string, nodes ...int64) *osmfile.Way {
	return &osmfile.Way{ID: id, Nodes: nodes, Tags: Tags(tags), Edit: First}
}

// Relation makes a relation, drawn once.
func Relation(id int64, tags string, members ...osmfile.Member) *osmfile.Relation {
	return &osmfile.Relation{ID: id, Members: members, Tags: Tags(tags), Edit: First}
}

// Member makes a member with a role.
func Member(kind osmfile.Kind, id int64, role string) osmfile.Member {
	return osmfile.Member{Ref: osmfile.Ref{Kind: kind, ID: id}, Role: role}
}

// Hamlet is a small map about 10.02° E, 45° N: seven nodes, of which the fourth is a
// pump; two roads with a surface; a pump as a way, and one as a relation of it.
func Hamlet() []any {
	return []any{
		Node(1, 10.00, 45, ""), Node(2, 10.02, 45, ""), Node(3, 10.04, 45, ""),
		Node(4, 10.021, 45.001, "amenity=fuel name=Ash~Creek"),
		Node(5, 10.0301, 45.0002, ""), Node(6, 10.0303, 45.0002, ""), Node(7, 10.0303, 45.0004, ""),
		Way(1, "highway=unclassified surface=gravel", 1, 2), Way(2, "highway=track surface=sand", 2, 3),
		Way(3, "amenity=fuel name=Far~Well", 5, 6, 7, 5),
		Relation(1, "amenity=fuel name=Far~Well",
			Member(osmfile.IsWay, 3, ""), Member(osmfile.IsWay, 99, ""), Member(osmfile.IsNode, 98, "")),
	}
}
