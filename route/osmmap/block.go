package osmmap

import (
	"errors"

	"google.golang.org/protobuf/encoding/protowire"
)

// fields goes through a message field by field until f has seen enough: v is the value
// of a number, data that of anything with a length, and not nil then. It tells whether
// the message is whole, as far as it was seen.
func fields(message []byte, f func(number protowire.Number, v uint64, data []byte) bool) bool {
	for len(message) > 0 {
		number, kind, n := protowire.ConsumeTag(message)
		if n < 0 {
			return false
		}
		message = message[n:]
		var v uint64
		var data []byte
		switch kind {
		case protowire.VarintType:
			v, n = protowire.ConsumeVarint(message)
		case protowire.BytesType:
			data, n = protowire.ConsumeBytes(message)
			if data == nil {
				data = []byte{}
			}
		default:
			n = protowire.ConsumeFieldValue(number, kind, message)
		}
		if n < 0 {
			return false
		}
		message = message[n:]
		if !f(number, v, data) {
			return true
		}
	}
	return true
}

// requires tells whether a header asks for something of its reader.
func requires(header []byte, feature string) (asked bool) {
	fields(header, func(number protowire.Number, _ uint64, data []byte) bool {
		asked = asked || number == 4 && string(data) == feature
		return true
	})
	return asked
}

var (
	errDamaged    = errors.New("the block is damaged")
	errPlainNodes = errors.New("the nodes are in the old form, one by one")
)

// A blockCheck looks whether all that a block of data refers to is there: its texts by
// their number, and as much of one list as of the other.
type blockCheck struct {
	wanted  func(way int64) bool // may be nil
	found   bool                 // one that is wanted
	ways    bool                 // there are any
	texts   uint64               // how many there are
	plain   bool                 // nodes in the old form
	damaged bool
}

func (c *blockCheck) check(raw []byte) error {
	tables := 0
	c.need(fields(raw, func(number protowire.Number, _ uint64, data []byte) bool {
		c.need(number > 2 || data != nil)
		if number == 1 {
			tables++
			c.need(tables == 1)
			c.need(fields(data, c.text))
		}
		return true
	}))
	c.need(fields(raw, func(number protowire.Number, _ uint64, data []byte) bool {
		if number == 2 {
			c.need(fields(data, c.object))
		}
		return true
	}))
	switch {
	case c.plain:
		return errPlainNodes
	case c.damaged:
		return errDamaged
	}
	return nil
}

func (c *blockCheck) text(number protowire.Number, _ uint64, data []byte) bool {
	c.need(number == 1 && data != nil)
	c.texts++
	return true
}

// object looks at one object of a group, or all of its nodes.
func (c *blockCheck) object(number protowire.Number, _ uint64, data []byte) bool {
	c.need(number > 4 || data != nil)
	switch number {
	case 1:
		c.plain = true
	case 2:
		c.nodes(data)
	case 3:
		c.ways = true
		c.lists(data, 8)
	case 4:
		c.lists(data, 10)
	}
	return !c.plain && !c.damaged
}

func (c *blockCheck) need(ok bool) { c.damaged = c.damaged || !ok }

// nodes looks at dense nodes: tags and, in their fifth list, who drew them.
func (c *blockCheck) nodes(data []byte) {
	c.need(fields(data, func(number protowire.Number, _ uint64, data []byte) bool {
		c.need(data != nil) // all are lists, or what is known of the objects
		switch number {
		case 5:
			c.need(fields(data, func(number protowire.Number, _ uint64, data []byte) bool {
				c.need(data != nil)
				if number == 5 {
					c.deltas(data)
				}
				return true
			}))
		case 10:
			c.numbers(data)
		}
		return true
	}))
}

// lists looks at a way or a relation, whose tags and members stand in lists side by
// side; the one that numbers them is the longest.
func (c *blockCheck) lists(data []byte, longest protowire.Number) {
	var seen, count [12]int
	c.need(fields(data, func(number protowire.Number, v uint64, data []byte) bool {
		if number < 1 || int(number) >= len(seen) {
			return true
		}
		seen[number]++
		c.need((data == nil) == (number == 1) || number > 4 && number < 8)
		switch number {
		case 1:
			c.found = c.found || longest == 8 && c.wanted != nil && c.wanted(int64(v))
		case 2, 3:
			count[number] = c.numbers(data)
		case 4:
			c.need(fields(data, func(number protowire.Number, v uint64, _ []byte) bool {
				c.need(number != 5 || v < c.texts)
				return true
			}))
		case 8:
			count[number] = values(data)
			if longest == 10 { // the roles of a relation
				count[number] = c.numbers(data)
			}
		case 9, 10:
			count[number] = values(data)
		}
		return true
	}))
	for _, n := range seen[8:11] {
		c.need(n <= 1)
	}
	c.need(count[2] == count[3])
	if longest == 8 { // places of a way's nodes, where they are given
		c.need(seen[9] == 0 || count[9] == count[8])
		c.need(seen[10] == 0 || count[10] == count[8])
	} else {
		c.need(count[8] == count[10] && count[9] == count[10])
	}
}

// values counts the numbers of a list.
func values(data []byte) (n int) {
	for _, b := range data {
		if b < 0x80 {
			n++
		}
	}
	return n
}

// numbers looks whether all numbers of a list are those of texts, and counts them.
func (c *blockCheck) numbers(data []byte) (count int) {
	for len(data) > 0 {
		v, n := protowire.ConsumeVarint(data)
		if n < 0 || v >= c.texts {
			c.damaged = true
			return count
		}
		data = data[n:]
		count++
	}
	return count
}

// deltas does the same with a list of differences.
func (c *blockCheck) deltas(data []byte) {
	at := int64(0)
	for len(data) > 0 {
		v, n := protowire.ConsumeVarint(data)
		if n < 0 {
			c.damaged = true
			return
		}
		if at += protowire.DecodeZigZag(v); at < 0 || at >= int64(c.texts) {
			c.damaged = true
			return
		}
		data = data[n:]
	}
}
