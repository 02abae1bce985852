package osmfile

import (
	"errors"
	"io"
	"math"
	"time"

	"google.golang.org/protobuf/encoding/protowire"
)

var (
	errDamaged    = errors.New("the block is damaged")
	errPlainNodes = errors.New("the nodes are in the old form, one by one")
	errStopped    = errors.New("nobody takes what is decoded any more")
)

// A decoder makes objects of blocks of data. It checks what they refer to: texts by
// their number, and that of lists that stand side by side one is as long as the other.
type decoder struct {
	want Filter
	done <-chan struct{}
	z    io.ReadCloser
	data []byte // of a block, unpacked

	texts                texts
	granularity          int64 // of places, in 1e-9 degrees
	latOffset, lonOffset int64 // in 1e-9 degrees
	timeGranularity      int64 // milliseconds
	first, last          int64 // numbers of its ways, the least and the greatest
	block                *Block
	out                  chan<- *Block
	used                 <-chan *Block // to be used again
}

// decode hands on what is wanted of a block of data.
func (d *decoder) decode(raw []byte, out chan<- *Block) (err error) {
	d.out, d.first, d.last = out, math.MaxInt64, math.MinInt64
	d.begin()
	d.granularity, d.timeGranularity, d.latOffset, d.lonOffset = 100, 1000, 0, 0
	d.texts.all, d.texts.at = "", d.texts.at[:0]
	whole := fields(raw, func(number protowire.Number, v uint64, data []byte) bool {
		switch number {
		case 1:
			err = errors.Join(err, d.texts.read(data))
		case 17:
			d.granularity = int64(int32(v))
		case 18:
			d.timeGranularity = int64(int32(v))
		case 19:
			d.latOffset = int64(v)
		case 20:
			d.lonOffset = int64(v)
		}
		return err == nil
	})
	if !whole || err != nil {
		return errDamaged
	}
	whole = fields(raw, func(number protowire.Number, _ uint64, data []byte) bool {
		if number == 2 {
			err = d.group(data)
		}
		return err == nil
	})
	switch {
	case err != nil:
		return err
	case !whole:
		return errDamaged
	}
	return d.flush(1)
}

// flush hands on what has been made if it is at least so much.
func (d *decoder) flush(least int) error {
	if d.block.len() < least {
		return nil
	}
	select {
	case d.out <- d.block:
		d.block = nil
		d.begin()
		return nil
	case <-d.done:
		return errStopped
	}
}

// begin begins a block, if the last one has been handed on.
func (d *decoder) begin() {
	if d.block != nil {
		return
	}
	select {
	case d.block = <-d.used:
	default:
		d.block = new(Block)
	}
}

// group decodes objects of one kind.
func (d *decoder) group(message []byte) (err error) {
	whole := message != nil && fields(message, func(number protowire.Number, _ uint64, data []byte) bool {
		switch number {
		case 1:
			err = errPlainNodes
		case 2:
			err = d.dense(data)
		case 3:
			err = d.way(data)
		case 4:
			err = d.relation(data)
		}
		if err == nil {
			err = d.flush(mostObjects)
		}
		return err == nil
	})
	if err == nil && !whole {
		return errDamaged
	}
	return err
}

// denseNodes are the lists of nodes, which stand side by side.
type denseNodes struct{ ids, lats, lons, tags, versions, times, visible list }

func (n *denseNodes) read(message []byte) bool {
	return fields(message, func(number protowire.Number, _ uint64, data []byte) bool {
		switch number {
		case 1:
			return n.ids.begin(data)
		case 5:
			return fields(data, n.info)
		case 8:
			return n.lats.begin(data)
		case 9:
			return n.lons.begin(data)
		case 10:
			return n.tags.begin(data)
		}
		return true
	})
}

// info takes the lists of when nodes were last edited, and whether they are still there.
func (n *denseNodes) info(number protowire.Number, _ uint64, data []byte) bool {
	switch number {
	case 1:
		return n.versions.begin(data)
	case 2:
		return n.times.begin(data)
	case 6:
		return n.visible.begin(data)
	}
	return true
}

func (d *decoder) dense(message []byte) error {
	if d.want.Node == nil {
		return nil
	}
	var l denseNodes
	ok := l.read(message)
	for at := 0; ok && len(l.ids.data) > 0; at++ {
		id, lat, lon := l.ids.sum(), l.lats.sum(), l.lons.sum()
		there := !l.visible.begun || l.visible.next() != 0
		n := Node{ID: id, Lat: d.degrees(d.latOffset, lat), Lon: d.degrees(d.lonOffset, lon)}
		wanted := there && d.want.Node(n.ID, n.Lon, n.Lat)
		if n.Tags, ok = d.denseTags(&l.tags, wanted); !ok || l.ids.bad || l.lats.bad || l.lons.bad || l.visible.bad {
			return errDamaged
		}
		if !wanted {
			continue
		}
		n.Edit = d.edit(l.versions.to(at), l.times.sumTo(at))
		if l.versions.bad || l.times.bad {
			return errDamaged
		}
		d.block.Nodes = append(d.block.Nodes, n)
		if err := d.flush(mostObjects); err != nil {
			return err
		}
	}
	if !ok || len(l.lats.data)+len(l.lons.data)+len(l.tags.data) > 0 {
		return errDamaged
	}
	return nil
}

func (d *decoder) degrees(offset, v int64) float64 { return 1e-9 * float64(offset+d.granularity*v) }

func (d *decoder) edit(version uint64, edited int64) Edit {
	e := Edit{Version: int(int32(version))}
	if edited != 0 {
		e.Time = time.UnixMilli(edited * d.timeGranularity).UTC()
	}
	return e
}

// denseTags reads the tags of one node: numbers of texts in pairs, up to a 0. A list
// that is not there at all has none.
func (d *decoder) denseTags(l *list, wanted bool) (tags Tags, ok bool) {
	if !l.begun {
		return nil, true
	}
	from := len(d.block.tags)
	for {
		key := l.next()
		if key == 0 || l.bad {
			return d.tagsFrom(from), !l.bad
		}
		value := l.next()
		if !d.texts.has(key) || !d.texts.has(value) {
			return nil, false
		}
		if wanted {
			d.block.tags = append(d.block.tags, Tag{d.texts.text(key), d.texts.text(value)})
		}
	}
}

// tagsFrom gives the tags that were read last.
func (d *decoder) tagsFrom(from int) Tags {
	tags := d.block.tags
	if from == len(tags) {
		return nil
	}
	return tags[from:len(tags):len(tags)]
}

// A thing is what ways and relations have both.
type thing struct {
	id           int64
	tags         Tags
	info         []byte
	keys, values list
	lists        [3]list // 8 to 10: of a way its nodes; of a relation roles, numbers and kinds
}

// thing decodes a way or a relation, and tells whether it is wanted.
func (d *decoder) thing(message []byte, wanted func(int64, Tags) bool) (t thing, e Edit, take bool, err error) {
	whole := message != nil && fields(message, func(number protowire.Number, v uint64, data []byte) bool {
		switch number {
		case 1:
			t.id = int64(v)
			return data == nil
		case 2:
			return t.keys.begin(data)
		case 3:
			return t.values.begin(data)
		case 4:
			t.info = data
			return data != nil
		case 8, 9, 10:
			return t.lists[number-8].begin(data)
		}
		return true
	})
	from := len(d.block.tags)
	for len(t.keys.data) > 0 {
		key, value := t.keys.next(), t.values.next()
		if t.keys.bad || t.values.bad || !d.texts.has(key) || !d.texts.has(value) {
			return t, e, false, errDamaged
		}
		d.block.tags = append(d.block.tags, Tag{d.texts.text(key), d.texts.text(value)})
	}
	if !whole || len(t.values.data) > 0 {
		return t, e, false, errDamaged
	}
	if t.tags = d.tagsFrom(from); wanted(t.id, t.tags) {
		e, take, err = d.info(t.info)
	}
	if !take {
		d.block.tags = d.block.tags[:from]
	}
	return t, e, take, err
}

// info reads when an object was last edited, and whether it is still there.
func (d *decoder) info(message []byte) (e Edit, there bool, err error) {
	var version uint64
	var edited int64
	there = true
	whole := fields(message, func(number protowire.Number, v uint64, data []byte) bool {
		switch number {
		case 1:
			version = v
		case 2:
			edited = int64(v)
		case 6:
			there = v != 0
		}
		return true
	})
	if !whole {
		return e, false, errDamaged
	}
	return d.edit(version, edited), there, nil
}

func (d *decoder) way(message []byte) error {
	if d.want.Way == nil {
		return nil
	}
	t, edit, wanted, err := d.thing(message, d.want.Way)
	d.first, d.last = min(d.first, t.id), max(d.last, t.id)
	if err != nil || !wanted {
		return err
	}
	b, refs := d.block, &t.lists[0]
	from := len(b.refs)
	for len(refs.data) > 0 {
		b.refs = append(b.refs, refs.sum())
	}
	if refs.bad {
		return errDamaged
	}
	to := len(b.refs)
	b.Ways = append(b.Ways, Way{t.id, b.refs[from:to:to], t.tags, edit})
	return nil
}

func (d *decoder) relation(message []byte) error {
	if d.want.Relation == nil {
		return nil
	}
	t, edit, wanted, err := d.thing(message, d.want.Relation)
	if err != nil || !wanted {
		return err
	}
	roles, refs, kinds := &t.lists[0], &t.lists[1], &t.lists[2]
	var members []Member
	for len(roles.data) > 0 {
		role, id, kind := roles.next(), refs.sum(), kinds.next()
		if roles.bad || refs.bad || kinds.bad || !d.texts.has(role) || kind > uint64(IsRelation) {
			return errDamaged
		}
		members = append(members, Member{Ref{Kind(kind), id}, d.texts.text(role)})
	}
	if len(refs.data)+len(kinds.data) > 0 {
		return errDamaged
	}
	d.block.Relations = append(d.block.Relations, Relation{t.id, members, t.tags, edit})
	return nil
}
