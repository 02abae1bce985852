package xmlscan

// instruction consumes the processing instruction at pos, the XML declaration
// among them: openContent has looked at that.
func (s *Scanner) instruction() error {
	for {
		i, _, err := s.parseName(s.buf[s.keep:], 2)
		if err != nil {
			return err
		}
		if i == 2 {
			return s.fault(s.keep, `"<?" without a name`, hintDamaged)
		}
		if i > 0 {
			s.pos = s.keep + i
			break
		}
		if !s.more() {
			return s.ended("a processing instruction")
		}
	}
	if !s.seek("?>") {
		return s.ended("a processing instruction")
	}
	s.pos += 2
	return nil
}

// declaration consumes what starts with "<!" at pos: a comment, a CDATA section
// or a DOCTYPE.
func (s *Scanner) declaration() error {
	if !s.need(3) {
		return s.ended("a tag")
	}
	switch s.buf[s.pos+2] {
	case '-':
		if !s.need(4) {
			return s.ended("a comment")
		}
		if s.buf[s.pos+3] != '-' {
			return s.fault(s.keep, `"<!-" that starts no comment`, hintDamaged)
		}
		s.pos += len("<!--")
		return s.comment()
	case '[':
		if !s.need(len("<![CDATA[")) {
			return s.ended("a CDATA section")
		}
		if string(s.buf[s.pos:s.pos+9]) != "<![CDATA[" {
			return s.fault(s.keep, `"<![" that starts no CDATA section`, hintDamaged)
		}
		return s.cdata()
	}
	s.pos += 3
	return s.doctype()
}

// comment consumes the rest of a comment.
//
//	[2] section 2.5: "--" must not occur within comments.
func (s *Scanner) comment() error {
	if !s.seek("--") || !s.need(3) {
		return s.ended("a comment")
	}
	if s.buf[s.pos+2] != '>' {
		return s.fault(s.pos, `"--" within a comment`, hintDamaged)
	}
	s.pos += 3
	return nil
}

// doctype consumes the rest of a DOCTYPE up to the ">" that matches its "<",
// not counting those in quotes and comments.
func (s *Scanner) doctype() error {
	depth, quoted := 0, byte(0)
	for {
		c, ok := s.nextByte()
		switch {
		case !ok:
			return s.ended("a DOCTYPE")
		case quoted != 0:
			if c == quoted {
				quoted = 0
			}
		case c == '"' || c == '\'':
			quoted = c
		case c == '>' && depth == 0:
			return nil
		case c == '>':
			depth--
		case c == '<' && s.need(3) && string(s.buf[s.pos:s.pos+3]) == "!--":
			s.pos += 3
			if !s.seek("-->") {
				return s.ended("a comment")
			}
			s.pos += 3
		case c == '<':
			depth++
		}
	}
}
