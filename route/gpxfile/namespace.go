package gpxfile

import "bytes"

// spaces are the namespace declarations in force [3], and whether each is ours:
// the namespace of the outermost element, or GPX of any version. The names stand
// in one buffer, for some writers declare a namespace at every point.
type spaces struct {
	list []space
	text []byte
	root []byte // namespace of the outermost element; nil if it has none
}

type space struct {
	depth  int // of the element that declares it
	prefix int // where its prefix starts in text
	uri    int // where its name starts; it ends where the next begins
	ours   bool
}

// gpxSpaces is what the namespaces of GPX 1.0 and 1.1 begin with.
var gpxSpaces = []byte("http://www.topografix.com/GPX/")

// declare takes note of an attribute if it declares a namespace.
func (n *spaces) declare(depth int, a attr) {
	const xmlns = "xmlns"
	if len(a.name) < len(xmlns) || string(a.name[:len(xmlns)]) != xmlns {
		return
	}
	prefix := a.name[len(xmlns):]
	if len(prefix) == 1 || len(prefix) > 0 && prefix[0] != ':' {
		return // "xmlns:" or another name that begins so
	}
	if len(prefix) > 0 {
		prefix = prefix[1:]
	}
	start := len(n.text)
	n.text = append(n.text, prefix...)
	uri := len(n.text)
	n.text = append(n.text, a.value...)
	n.list = append(n.list, space{depth, start, uri, n.isOurs(a.value)})
}

// isOurs reports whether elements in a namespace may be GPX. The empty name
// takes them out of any namespace ([3] section 6.2); some writers put it at
// elements of GPX by mistake.
func (n *spaces) isOurs(uri []byte) bool {
	return len(uri) == 0 || bytes.HasPrefix(uri, gpxSpaces) || n.root != nil && bytes.Equal(uri, n.root)
}

// adopt makes the namespace of the outermost element, whatever it is, ours.
func (n *spaces) adopt(prefix []byte) {
	i := n.find(prefix)
	if i < 0 {
		return
	}
	n.root = bytes.Clone(n.uri(i))
	for i := range n.list {
		n.list[i].ours = n.isOurs(n.uri(i))
	}
}

// leave forgets what elements deeper than depth have declared.
func (n *spaces) leave(depth int) {
	last := len(n.list)
	for last > 0 && n.list[last-1].depth > depth {
		last--
		n.text = n.text[:n.list[last].prefix]
	}
	n.list = n.list[:last]
}

// find gives the index of the declaration in force for a prefix, or -1.
func (n *spaces) find(prefix []byte) int {
	for i := len(n.list) - 1; i >= 0; i-- {
		if string(n.text[n.list[i].prefix:n.list[i].uri]) == string(prefix) {
			return i
		}
	}
	return -1
}

// uri gives the namespace of a declaration.
func (n *spaces) uri(i int) []byte {
	end := len(n.text)
	if i+1 < len(n.list) {
		end = n.list[i+1].prefix
	}
	return n.text[n.list[i].uri:end]
}
