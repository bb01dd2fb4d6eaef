package job

import (
	"bytes"
	"fmt"
	"strings"
)

// blockAt reads what begins at byte pos of the present line, in column col. Lines that are indented less than least end it.
func (r *reader) blockAt(pos, col, least int) *node {
	r.depth++
	defer func() { r.depth-- }()
	if r.depth > deepest {
		r.problem(notYAML, pos, r.lineEnd(), "too many levels of indentation", "")
		r.skip(least)
		return &node{shape: unread, start: pos, end: r.lineEnd()}
	}
	if r.dashAt(pos) {
		return r.sequence(pos, col, least, false)
	}
	if _, _, ok := r.keyAt(pos); ok {
		return r.mapping(pos, col, least)
	}
	if r.looseColon(pos) > 0 {
		return r.mapping(pos, col, least)
	}
	return r.value(pos, least)
}

// skip passes over the lines that are indented by least or more.
func (r *reader) skip(least int) {
	for {
		n, ok := r.peek()
		if !ok || r.lines[n].indent < least {
			return
		}
		r.at = n
	}
}

// dashAt reports whether the byte at pos is a dash that begins a list item.
func (r *reader) dashAt(pos int) bool {
	end := r.lineEnd()
	return pos < end && r.src[pos] == '-' && (pos+1 == end || isBlank(r.src[pos+1]))
}

// keyAt looks for a key at pos of the present line and returns its end and the place of its colon.
func (r *reader) keyAt(pos int) (keyEnd, colon int, ok bool) { return r.keyIn(pos, r.lineEnd()) }

func (r *reader) keyIn(pos, end int) (keyEnd, colon int, ok bool) {
	if pos >= end {
		return 0, 0, false
	}
	ends := func(p int) bool { return p+1 == end || isBlank(r.src[p+1]) }
	switch c := r.src[pos]; c {
	case '"', '\'':
		close := closingQuote(r.src[:end], pos)
		if close < 0 {
			return 0, 0, false
		}
		p := close + 1
		for p < end && isBlank(r.src[p]) {
			p++
		}
		return close + 1, p, p < end && r.src[p] == ':' && ends(p)
	case '[', '{', ']', '}', ',', '#', '&', '*', '!', '|', '>', '%', '@', '`':
		return 0, 0, false
	case '-', '?', ':':
		if ends(pos) {
			return 0, 0, false
		}
	}
	for p := pos; p < end; p++ {
		switch r.src[p] {
		case '#':
			if isBlank(r.src[p-1]) {
				return 0, 0, false
			}
		case ':':
			if ends(p) {
				return pos + len(bytes.TrimRight(r.src[pos:p], " \t")), p, true
			}
		}
	}
	return 0, 0, false
}

// closingQuote returns the place of the quote that closes the one at pos, on the same line; -1 if there is none.
func closingQuote(src []byte, pos int) int {
	quote := src[pos]
	for p := pos + 1; p < len(src); p++ {
		switch {
		case quote == '"' && src[p] == '\\':
			p++
		case src[p] == quote && quote == '\'' && p+1 < len(src) && src[p+1] == '\'':
			p++
		case src[p] == quote:
			return p
		}
	}
	return -1
}

// looseColon returns the place of a colon that lacks the space behind it, as in "voltage:240 V", if the line looks like
// that: words, a colon, no other sign before it.
func (r *reader) looseColon(pos int) int {
	for p := pos; p < r.lineEnd(); p++ {
		switch c := r.src[p]; {
		case c == ':' && p > pos:
			return p
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', p > pos && (c == ' ' || c == '-' || c == '_'):
		default:
			return 0
		}
	}
	return 0
}

// mapping reads keys and values from byte pos in column col on, as long as lines are indented by least or more.
func (r *reader) mapping(pos, col, least int) *node {
	m := &node{shape: mapping, start: pos, end: pos, column: col}
	indent := col // of the line at hand
	for {
		keyEnd, colon, ok := r.keyAt(pos)
		if !ok {
			if colon = r.looseColon(pos); colon > 0 {
				r.problem(missingSpace, pos, colon+1, fmt.Sprintf("%q needs a space behind the colon", r.src[pos:colon+1]), fmt.Sprintf("write %q", string(r.src[pos:colon])+": "+strings.TrimSpace(string(r.src[colon+1:r.lineEnd()]))))
				keyEnd, ok = colon, true
			}
		}
		if ok {
			e := r.entry(pos, keyEnd, colon, indent)
			m.entries = append(m.entries, e)
			m.end = e.end()
		} else {
			r.stray(pos, indent)
		}
		n, ok := r.peek()
		if !ok || r.lines[n].indent < least {
			return m
		}
		r.consume(n)
		l := r.lines[n]
		if l.indent != col && l.indent != indent && !l.tab {
			r.misaligned(l, col)
		}
		pos, indent = l.text, l.indent
	}
}

// misaligned reports a line that lines up with nothing above it.
func (r *reader) misaligned(l line, col int) {
	r.problem(wrongIndentation, l.text, l.end, fmt.Sprintf("the line is indented by %s, the ones it belongs to by %s", steps(l.indent), steps(col)),
		"line it up with its neighbours")
}

func steps(n int) string {
	if n == 1 {
		return "1 space"
	}
	return fmt.Sprintf("%d spaces", n)
}

// stray reports a line that is no key with a value, and skips what hangs below it.
func (r *reader) stray(pos, indent int) {
	end := r.contentEnd(pos)
	text := string(r.src[pos:end])
	switch {
	case r.dashAt(pos):
		r.problem(wrongShape, pos, end, "a list item can't stand among keys", "indent it below the key whose list it belongs to")
	case strings.HasPrefix(text, "? "):
		r.problem(yamlExtra, pos, pos+1, "keys that begin with ? are not used in job files", "write the key, a colon and its value")
	case strings.HasPrefix(text, "&"), strings.HasPrefix(text, "*"), strings.HasPrefix(text, "!"):
		r.value(pos, indent+1)
	default:
		r.problem(notYAML, pos, end, fmt.Sprintf("%q is not a key with a value", text), `write a key, a colon, a space and the value; begin a remark with #`)
	}
	r.skip(indent + 1)
}

// contentEnd returns the end of what stands on the present line from pos on, without a comment and trailing spaces.
func (r *reader) contentEnd(pos int) int {
	end := r.lineEnd()
	for p := pos + 1; p < end; p++ {
		if r.src[p] == '#' && isBlank(r.src[p-1]) {
			end = p
		}
	}
	return pos + len(bytes.TrimRight(r.src[pos:end], " \t"))
}

// entry reads one key, which stands in column col, with its value.
func (r *reader) entry(pos, keyEnd, colon, col int) entry {
	e := entry{colon: colon, key: node{shape: scalar, start: pos, end: keyEnd, text: string(r.src[pos:keyEnd])}}
	if keyEnd > pos && (r.src[pos] == '"' || r.src[pos] == '\'') {
		e.key = *r.quoted(pos, 0)
	}
	if p := r.afterBlanks(colon + 1); p < r.lineEnd() && (r.src[p] != '#' || p == colon+1) {
		e.value = r.value(p, col+1)
		return e
	}
	n, ok := r.peek()
	if !ok {
		return e
	}
	present := r.at
	switch l := r.lines[n]; {
	case l.indent > col:
		r.consume(n)
		e.value = r.blockAt(l.text, l.indent, col+1)
	case l.indent == col:
		r.at = n
		if r.dashAt(l.text) {
			r.consume(n)
			e.value = r.sequence(l.text, col, col, true)
		} else {
			r.at = present
		}
	}
	return e
}

// afterBlanks returns the first byte from p on that is neither space nor tab, or the line's end.
func (r *reader) afterBlanks(p int) int {
	for p < r.lineEnd() && isBlank(r.src[p]) {
		p++
	}
	return p
}

// sequence reads list items from the dash at pos in column col on. A list that stands as far left as its key ends at the
// next key there.
func (r *reader) sequence(pos, col, least int, besideKeys bool) *node {
	s := &node{shape: sequence, start: pos, end: pos, column: col}
	indent := col
	for {
		switch {
		case r.dashAt(pos):
			i := item{dash: pos}
			if p := r.afterBlanks(pos + 1); p < r.lineEnd() && r.src[p] != '#' {
				i.value = r.blockAt(p, indent+(p-pos), indent+1)
			} else if n, ok := r.peek(); ok && r.lines[n].indent > indent {
				r.consume(n)
				i.value = r.blockAt(r.lines[n].text, r.lines[n].indent, indent+1)
			}
			s.items = append(s.items, i)
			s.end = i.end()
		default:
			r.problem(wrongShape, pos, r.contentEnd(pos), "this line has no dash, the ones above it have", "begin each item of the list with a dash and a space, and line up what belongs to it")
			r.skip(indent + 1)
		}
		n, ok := r.peek()
		if !ok || r.lines[n].indent < least {
			return s
		}
		l := r.lines[n]
		present := r.at
		r.at = n
		if besideKeys && l.indent == col && !r.dashAt(l.text) {
			r.at = present
			return s
		}
		r.consume(n)
		if l.indent != col && l.indent != indent && !l.tab {
			r.misaligned(l, col)
		}
		pos, indent = l.text, l.indent
	}
}
