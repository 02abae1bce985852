package xmlscan

// spaces are the namespace declarations in force [3]. The names stand in one buffer, for
// some writers declare a namespace at every point.
type spaces struct {
	list []space
	text []byte
}

type space struct {
	depth  int // of the element that declares it
	prefix int // where its prefix starts in text
	start  int // where its name starts; it ends where the next begins
}

// declare takes note of an attribute if it declares a namespace.
func (n *spaces) declare(depth int, a Attr) {
	const xmlns = "xmlns"
	if len(a.Name) < len(xmlns) || string(a.Name[:len(xmlns)]) != xmlns {
		return
	}
	prefix := a.Name[len(xmlns):]
	if len(prefix) == 1 || len(prefix) > 0 && prefix[0] != ':' {
		return // "xmlns:" or another name that begins so
	}
	if len(prefix) > 0 {
		prefix = prefix[1:]
	}
	start := len(n.text)
	n.text = append(n.text, prefix...)
	uri := len(n.text)
	n.text = append(n.text, a.Value...)
	n.list = append(n.list, space{depth, start, uri})
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
		if string(n.text[n.list[i].prefix:n.list[i].start]) == string(prefix) {
			return i
		}
	}
	return -1
}

// name gives the namespace of a declaration.
func (n *spaces) name(i int) []byte {
	end := len(n.text)
	if i+1 < len(n.list) {
		end = n.list[i+1].prefix
	}
	return n.text[n.list[i].start:end]
}
