package osmfile

import (
	"google.golang.org/protobuf/encoding/protowire"
)

// fields goes through a message field by field until f has seen something wrong: v is
// the value of a number, data that of anything with a length, and not nil then. It
// tells whether the message is whole and nothing was wrong.
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
		if n < 0 || !f(number, v, data) {
			return false
		}
		message = message[n:]
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

// A list is numbers that stand one behind the other. It ends with a 0 for each number
// that is asked for beyond its end, and is bad then.
type list struct {
	data  []byte
	total int64 // of differences
	at    int   // how many have been asked for, by to and sumTo
	begun bool
	bad   bool
}

// begin takes the data of a list, which there is once, and packed.
func (l *list) begin(data []byte) bool {
	if data == nil || l.begun {
		return false
	}
	l.data, l.begun = data, len(data) > 0
	return true
}

// next gives the next number.
func (l *list) next() uint64 {
	if len(l.data) > 0 && l.data[0] < 0x80 {
		v := uint64(l.data[0])
		l.data = l.data[1:]
		return v
	}
	v, n := protowire.ConsumeVarint(l.data)
	if n < 0 {
		l.bad = true
		l.data = l.data[:0]
		return 0
	}
	l.data = l.data[n:]
	return v
}

// sum gives the next number of a list of differences.
func (l *list) sum() int64 {
	l.total += protowire.DecodeZigZag(l.next())
	return l.total
}

// to gives a number by where it stands in a list that need not be there, counted from
// 0, and always farther on than the last.
func (l *list) to(at int) (v uint64) {
	for l.begun && l.at <= at {
		v = l.next()
		l.at++
	}
	return v
}

// sumTo does the same with a list of differences.
func (l *list) sumTo(at int) int64 {
	for l.begun && l.at <= at {
		l.sum()
		l.at++
	}
	return l.total
}

// texts are those of a block, by number.
type texts struct {
	all string
	at  []uint32 // where each begins, with its length before it
}

func (t *texts) read(message []byte) error {
	if message == nil || t.all != "" {
		return errDamaged
	}
	t.all, t.at = string(message), t.at[:0]
	for at := 0; at < len(message); {
		number, kind, n := protowire.ConsumeTag(message[at:])
		if n < 0 || number != 1 || kind != protowire.BytesType {
			return errDamaged
		}
		at += n
		t.at = append(t.at, uint32(at))
		_, n = protowire.ConsumeBytes(message[at:])
		if n < 0 {
			return errDamaged
		}
		at += n
	}
	return nil
}

// has tells whether there is a text of a number.
func (t *texts) has(number uint64) bool { return number < uint64(len(t.at)) }

// text gives the text of a number, which there must be.
func (t *texts) text(number uint64) string {
	at := int(t.at[number])
	length := 0
	for shift := 0; ; shift += 7 {
		b := t.all[at]
		at++
		length |= int(b&0x7f) << shift
		if b < 0x80 {
			return t.all[at : at+length]
		}
	}
}
