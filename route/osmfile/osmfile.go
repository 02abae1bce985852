// Package osmfile reads an extract of OpenStreetMap: nodes, ways and relations with
// their tags, whatever form the file has.
//
// Start with [Extract.Scan]. Blocks of a PBF file are unpacked and decoded by several
// goroutines at once, and only what a [Filter] wants is made of them.
//
// # Limits
//
// No history: of each object the file has one state, the newest. What is marked as
// deleted is left out. Nodes of a PBF file have to be dense, as every program writes
// them; blocks may be plain or packed with zlib, and no larger than the format allows.
//
// # Sources
//
//	[1] OpenStreetMap wiki, "PBF Format", with fileformat.proto and osmformat.proto.
//	[2] OpenStreetMap wiki, "OSM XML"; its "action" is that of editors.
package osmfile

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// A Kind is what an object of the map is.
type Kind uint8

// The kinds, in the order in which an extract has them, by their number in PBF.
const (
	IsNode Kind = iota
	IsWay
	IsRelation
)

// String gives the kind as OSM XML has it.
func (k Kind) String() string { return [...]string{"node", "way", "relation"}[k] }

// A Ref names an object of the map.
type Ref struct {
	Kind Kind
	ID   int64 // below zero for what somebody has drawn and not yet given to the map
}

func (r Ref) String() string { return fmt.Sprintf("%s %d", r.Kind, r.ID) }

// Compare orders by kind and number.
func (r Ref) Compare(o Ref) int {
	return cmp.Or(cmp.Compare(r.Kind, o.Kind), cmp.Compare(r.ID, o.ID))
}

// A Tag says one thing about an object.
type Tag struct{ Key, Value string }

// Tags are those of an object, each key once.
type Tags []Tag

// Find gives the value of a key, or "".
func (t Tags) Find(key string) string {
	for i := range t {
		if t[i].Key == key {
			return t[i].Value
		}
	}
	return ""
}

// An Edit is the last one of an object.
type Edit struct {
	Version int
	Time    time.Time // zero where the file does not tell
}

// A Node is a place.
type Node struct {
	ID       int64
	Lon, Lat float64 // degrees
	Tags     Tags
	Edit
}

// A Way is a polyline or an outline.
type Way struct {
	ID    int64
	Nodes []int64
	Tags  Tags
	Edit
}

// A Relation is what several objects make together.
type Relation struct {
	ID      int64
	Members []Member
	Tags    Tags
	Edit
}

// A Member is what an object is in a relation.
type Member struct {
	Ref
	Role string
}

// A Block is some objects of an extract that stand together. It is used again for
// others: who keeps an object keeps a copy, of its lists too. Texts may be parts of one
// large text: who keeps a few of them clones them.
type Block struct {
	Nodes     []Node
	Ways      []Way
	Relations []Relation
	tags      Tags    // room for those of the objects
	refs      []int64 // room for the nodes of ways
}

func (b *Block) len() int { return len(b.Nodes) + len(b.Ways) + len(b.Relations) }

// empty makes it one without objects, with room for as many as it had.
func (b *Block) empty() {
	b.Nodes, b.Ways, b.Relations = b.Nodes[:0], b.Ways[:0], b.Relations[:0]
	b.tags, b.refs = b.tags[:0], b.refs[:0]
}

// mostObjects is how many objects a block has at most. One of PBF has eight times as
// many, as a rule, and may have a thousand times as many.
const mostObjects = 1000

// An Index tells in which parts of a file ways stand.
type Index struct{ blobs []indexed }

// An indexed blob is one with ways.
type indexed struct {
	offset      int64 // in the file
	first, last int64 // the least number of a way and the greatest
}

// With gives those parts that may have one of some ways.
func (x *Index) With(ways map[int64]bool) *Index {
	if x == nil {
		return nil
	}
	return &Index{slices.DeleteFunc(slices.Clone(x.blobs), func(b indexed) bool {
		for id := range ways {
			if b.first <= id && id <= b.last {
				return false
			}
		}
		return true
	})}
}

// A Filter tells which objects are wanted; a nil function wants none of its kind. The
// functions are called by several goroutines at once, and keep nothing of the tags.
type Filter struct {
	Node     func(id int64, lon, lat float64) bool
	Way      func(id int64, tags Tags) bool
	Relation func(id int64, tags Tags) bool
}
