package job

import (
	"bytes"
	"fmt"
)

// bracketed reads a collection in brackets that begins at pos; its lines are indented by least or more.
func (r *reader) bracketed(pos, least int) *node {
	first := r.at
	f := flowReader{reader: r, least: least, p: pos}
	n, ok := f.node()
	if ok {
		r.follow(n.end - 1)
		return n
	}
	// The mistake has been reported. Find the bracket that closes this one, to go on behind it.
	end := f.closing(pos)
	r.at = first
	if end < 0 {
		end = r.lineEnd()
		r.skip(least)
	} else {
		r.follow(end - 1)
	}
	return &node{shape: unread, flow: true, start: pos, end: end}
}

// flowReader reads inside brackets, where lines don't count.
type flowReader struct {
	*reader
	least int
	p     int
}

// blanks moves to the next byte that isn't a space, a line break or a comment; false at the end of the collection's lines.
func (f *flowReader) blanks() bool {
	for {
		for f.p < f.lineEnd() && isBlank(f.src[f.p]) {
			f.p++
		}
		if f.p < f.lineEnd() && (f.src[f.p] != '#' || f.p > 0 && !isBlank(f.src[f.p-1]) && f.p > f.lines[f.at].start) {
			return true
		}
		n, ok := f.peek()
		if !ok || f.lines[n].indent < f.least {
			return false
		}
		f.at = n
		f.p = f.lines[n].text
	}
}

// node reads one value inside brackets.
func (f *flowReader) node() (*node, bool) {
	f.depth++
	defer func() { f.depth-- }()
	if f.depth > deepest {
		f.problem(notYAML, f.p, f.p+1, "too many brackets in one another", "")
		return nil, false
	}
	switch c := f.src[f.p]; c {
	case '[', '{':
		return f.collection(c)
	case '"', '\'':
		n := f.quoted(f.p, f.least)
		f.p = n.end
		return n, n.shape != unread
	case '&', '*', '!', '|', '>', '%', '@', '`', '#', ':':
		f.problem(needsQuotes, f.p, f.p+1, fmt.Sprintf("a value can't begin with %c", c), "put the value in quotes")
		return nil, false
	}
	if c := f.src[f.p]; (c == '-' || c == '?') && (f.p+1 >= f.lineEnd() || bytes.IndexByte([]byte(" \t,[]{}"), f.src[f.p+1]) >= 0) {
		f.problem(needsQuotes, f.p, f.p+1, fmt.Sprintf("a value in brackets can't begin with %c and a space", c), "put the value in quotes")
		return nil, false
	}
	return f.plainInside(), true
}

// plainInside reads a scalar without quotes inside brackets: it ends at a comma, a bracket, a colon or the line's end.
func (f *flowReader) plainInside() *node {
	start, end := f.p, f.lineEnd()
scan:
	for ; f.p < end; f.p++ {
		switch f.src[f.p] {
		case ',', '[', ']', '{', '}':
			break scan
		case ':':
			if f.p+1 == end || isBlank(f.src[f.p+1]) || bytes.IndexByte([]byte(",[]{}"), f.src[f.p+1]) >= 0 {
				break scan
			}
		case '#':
			if f.p > start && isBlank(f.src[f.p-1]) {
				break scan
			}
		}
	}
	text := bytes.TrimRight(f.src[start:f.p], " \t")
	n := &node{shape: scalar, start: start, end: start + len(text), text: string(text)}
	switch n.text {
	case "~", "null", "Null", "NULL":
		n.shape = nothing
	}
	return n
}

// collection reads a list or mapping from its opening bracket to its closing one.
func (f *flowReader) collection(open byte) (*node, bool) {
	n := &node{shape: sequence, flow: true, start: f.p}
	closing := byte(']')
	if open == '{' {
		n.shape, closing = mapping, '}'
	}
	f.p++
	unfinished := func() (*node, bool) {
		f.problem(unclosed, n.start, n.start+1, fmt.Sprintf("the bracket %c is never closed", open), fmt.Sprintf("close it with %c", closing))
		return nil, false
	}
	for {
		if !f.blanks() {
			return unfinished()
		}
		if f.src[f.p] == closing {
			f.p++
			n.end = f.p
			return n, true
		}
		if c := f.src[f.p]; c == ',' || c == ']' || c == '}' {
			f.problem(notYAML, f.p, f.p+1, fmt.Sprintf("a value is missing before %c", c), "write one, or delete the comma")
			return nil, false
		}
		start := f.p
		v, ok := f.node()
		if !ok {
			return nil, false
		}
		if f.p == start {
			f.problem(needsQuotes, f.p, f.p+1, fmt.Sprintf("a value can't begin with %c", f.src[f.p]), "put the value in quotes")
			return nil, false
		}
		if !f.blanks() {
			return unfinished()
		}
		colon := f.src[f.p] == ':'
		switch {
		case open == '[' && colon:
			f.problem(yamlExtra, f.p, f.p+1, "a key with a value inside a list needs its own { }", "write [{key: value}, …]")
			return nil, false
		case open == '[':
			n.items = append(n.items, item{dash: v.start, value: v})
		case !colon:
			end := min(v.end, f.lineEnd())
			if i := bytes.IndexByte(f.src[start:max(start, end)], ':'); i > 0 && v.style == plain && v.shape == scalar {
				f.problem(missingSpace, start, start+i+1, fmt.Sprintf("%q needs a space behind the colon", f.src[start:start+i+1]), fmt.Sprintf("write %q", string(f.src[start:start+i])+": "+string(f.src[start+i+1:v.end])))
			} else {
				f.problem(notYAML, v.start, v.end, fmt.Sprintf("%q has no value", f.src[v.start:v.end]), "write a key, a colon, a space and the value")
			}
			return nil, false
		case v.shape != scalar && v.shape != nothing:
			f.problem(yamlExtra, v.start, v.end, "a key must be words", "write a key, a colon, a space and the value")
			return nil, false
		default:
			v.shape = scalar
			e := entry{key: *v, colon: f.p}
			f.p++
			if !f.blanks() {
				return unfinished()
			}
			if c := f.src[f.p]; c != ',' && c != '}' {
				if e.value, ok = f.node(); !ok {
					return nil, false
				}
			}
			n.entries = append(n.entries, e)
		}
		if !f.blanks() {
			return unfinished()
		}
		switch c := f.src[f.p]; c {
		case ',':
			f.p++
		case closing:
		default:
			f.problem(notYAML, f.p, f.p+1, fmt.Sprintf("expected a comma or %c here", closing), "separate the values by commas")
			return nil, false
		}
	}
}

// closing returns the byte behind the bracket that closes the one at pos, whatever stands between them; -1 if none does
// on lines that belong to the value.
func (f *flowReader) closing(pos int) int {
	open := 0
	for f.at, f.p = f.lineOf(pos), pos; f.blanks(); f.p++ {
		switch f.src[f.p] {
		case '[', '{':
			open++
		case ']', '}':
			if open--; open == 0 {
				return f.p + 1
			}
		}
	}
	return -1
}
