package job

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// value reads the value that begins at byte pos of the present line. Further lines of it are indented by least or more.
func (r *reader) value(pos, least int) *node {
	end := r.contentEnd(pos)
	refuse := func(kind mistake, last int, message, remedy string) *node {
		r.problem(kind, pos, last, message, remedy)
		r.skip(least)
		return &node{shape: unread, start: pos, end: end}
	}
	quoted := "put the value in single quotes: " + quote(string(r.src[pos:end]))
	switch c := r.src[pos]; c {
	case '"', '\'':
		return r.alone(r.quoted(pos, least))
	case '[', '{':
		return r.alone(r.bracketed(pos, least))
	case '|', '>':
		return r.blockScalar(pos, least)
	case '&', '*', '!':
		what := map[byte]string{'&': "an anchor", '*': "an alias", '!': "a tag"}[c]
		return refuse(yamlExtra, end, fmt.Sprintf("%q is read as %s, which job files don't use", r.src[pos:end], what), quoted)
	case '@', '`', '%', ',', ']', '}', '#':
		return refuse(needsQuotes, pos+1, fmt.Sprintf("a value can't begin with %c", c), quoted)
	case '-', '?', ':':
		if pos+1 < r.lineEnd() && !isBlank(r.src[pos+1]) {
			break
		}
		if c == '-' {
			return refuse(wrongShape, end, "a list can't begin behind its key", "put each item on a line of its own, indented, with a dash")
		}
		return refuse(needsQuotes, pos+1, fmt.Sprintf("a value can't begin with %c and a space", c), quoted)
	}
	return r.plain(pos, least)
}

// alone reports anything but a comment behind a quoted or bracketed value.
func (r *reader) alone(n *node) *node {
	if n.shape == unread {
		return n
	}
	p := r.afterBlanks(n.end)
	if p == r.lineEnd() || r.src[p] == '#' && p > n.end {
		return n
	}
	end := r.contentEnd(p)
	switch {
	case r.src[p] == '#':
		r.problem(notYAML, p, end, "a comment needs a space before its #", "")
	case n.flow:
		r.problem(notYAML, p, end, fmt.Sprintf("%q stands behind the closing bracket", r.src[p:end]), "delete it, or put it inside")
	default:
		r.problem(notYAML, p, end, fmt.Sprintf("%q stands behind the closing quote", r.src[p:end]), "put the whole value inside the quotes")
	}
	return &node{shape: unread, start: n.start, end: end}
}

// plain reads a scalar without quotes.
func (r *reader) plain(pos, least int) *node {
	n := &node{shape: scalar, start: pos}
	var b strings.Builder
	breaks := 0 // line breaks since the last text
	p := pos
	for {
		end, commented := r.contentEnd(p), false
		commented = r.afterBlanks(end) < r.lineEnd()
		for c := p; c < end; c++ {
			if r.src[c] == ':' && (c+1 == end || isBlank(r.src[c+1])) {
				r.problem(needsQuotes, c, c+1, "a colon inside a value makes it look like another key", "put the value in single quotes: "+quote(string(r.src[pos:end])))
				r.skip(least)
				return &node{shape: unread, start: pos, end: end}
			}
		}
		switch {
		case breaks == 1:
			b.WriteByte(' ')
		case breaks > 1:
			b.WriteString(strings.Repeat("\n", breaks-1))
		}
		b.Write(r.src[p:end])
		n.end = end
		if commented {
			break
		}
		next := r.at + 1
		for next < r.stop && r.lines[next].empty {
			next++
		}
		if next >= r.stop || r.lines[next].blank || r.lines[next].indent < least || !r.continues(next) {
			break
		}
		breaks = next - r.at
		r.at = next
		p = r.lines[next].text
	}
	n.text = b.String()
	switch n.text {
	case "~", "null", "Null", "NULL":
		n.shape = nothing
	}
	return n
}

// continues reports whether line n can carry on the plain scalar above it: it is neither a key nor a list item.
func (r *reader) continues(n int) bool {
	l := r.lines[n]
	if l.tab {
		return false
	}
	if _, _, key := r.keyIn(l.text, l.end); key {
		return false
	}
	return r.src[l.text] != '-' || l.text+1 < l.end && !isBlank(r.src[l.text+1])
}

// quoted reads a scalar in quotes, over several lines if need be.
func (r *reader) quoted(pos, least int) *node {
	mark := r.src[pos]
	n := &node{shape: scalar, style: singleQuoted, start: pos}
	if mark == '"' {
		n.style = doubleQuoted
	}
	first := r.at
	var text []byte
	solid := 0 // text up to here may not lose its spaces
	for p := pos + 1; ; {
		if p >= r.lineEnd() {
			next := r.at + 1
			for next < r.stop && r.lines[next].empty {
				next++
			}
			if next >= r.stop || r.lines[next].indent < least {
				r.at = first
				r.problem(unclosed, pos, r.lineEnd(), fmt.Sprintf("the quote %c is never closed", mark), "close it at the end of the value; for inches write in, or put the value in the other kind of quotes")
				return &node{shape: unread, start: pos, end: r.lineEnd()}
			}
			for len(text) > solid && isBlank(text[len(text)-1]) {
				text = text[:len(text)-1]
			}
			if breaks := next - r.at; breaks == 1 {
				text = append(text, ' ')
			} else {
				text = append(text, strings.Repeat("\n", breaks-1)...)
			}
			solid = len(text)
			r.at = next
			p = r.lines[next].text
			continue
		}
		c := r.src[p]
		switch {
		case c == mark && mark == '\'' && p+1 < r.lineEnd() && r.src[p+1] == '\'':
			text = append(text, '\'')
			p += 2
		case c == mark:
			n.text, n.end = string(text), p+1
			return n
		case c == '\\' && mark == '"':
			if p+1 == r.lineEnd() && r.at+1 < r.stop { // the line goes on without a space
				r.at++
				p = r.lines[r.at].text
				solid = len(text)
				continue
			}
			c, size, ok := escape(r.src[p:r.lineEnd()])
			if !ok {
				r.problem(notYAML, p, min(p+2, r.lineEnd()), "a backslash in double quotes begins a code, and this is none", "use single quotes, in which a backslash is a backslash")
				size = 1
			} else {
				text = append(text, string(c)...)
				solid = len(text)
			}
			p += size
		default:
			text = append(text, c)
			p++
		}
	}
}

// escape reads a code that begins with a backslash.
func escape(text []byte) (c rune, size int, ok bool) {
	if len(text) < 2 {
		return 0, 1, false
	}
	digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[text[1]]
	if digits > 0 {
		if len(text) < 2+digits {
			return 0, 1, false
		}
		code, err := strconv.ParseUint(string(text[2:2+digits]), 16, 32)
		if err != nil || code > 0x10ffff || code >= 0xd800 && code < 0xe000 {
			return 0, 1, false
		}
		return rune(code), 2 + digits, true
	}
	plainCodes := map[byte]rune{'0': 0, 'a': 7, 'b': 8, 't': 9, '\t': 9, 'n': 10, 'v': 11, 'f': 12, 'r': 13, 'e': 27, ' ': ' ', '"': '"', '/': '/',
		'\\': '\\', 'N': 0x85, '_': 0xa0, 'L': 0x2028, 'P': 0x2029}
	c, ok = plainCodes[text[1]]
	return c, 2, ok
}

// blockScalar reads the lines below | or >.
func (r *reader) blockScalar(pos, least int) *node {
	n := &node{shape: scalar, style: literal, start: pos, end: r.contentEnd(pos)}
	if r.src[pos] == '>' {
		n.style = folded
	}
	keep, strip, indent := false, false, 0
	for _, c := range r.src[pos+1 : n.end] {
		switch {
		case c == '+' && !strip && !keep:
			keep = true
		case c == '-' && !strip && !keep:
			strip = true
		case c >= '1' && c <= '9' && indent == 0:
			indent = max(least-1, 0) + int(c-'0')
		default:
			r.problem(needsQuotes, pos, n.end, fmt.Sprintf("a value that begins with %c is a block of lines below it", r.src[pos]), "put the value in single quotes: "+quote(string(r.src[pos:n.end])))
			r.skip(least)
			return &node{shape: unread, start: pos, end: n.end}
		}
	}
	var lines []string
	last := 0
	for next := r.at + 1; next < r.stop; next++ {
		l := r.lines[next]
		if l.start == len(r.src) { // behind the last line break there is no line
			break
		}
		spaces := 0
		for l.start+spaces < l.end && r.src[l.start+spaces] == ' ' {
			spaces++
		}
		if l.start+spaces == l.end && (indent == 0 || spaces <= indent) {
			lines = append(lines, "")
			continue
		}
		if indent == 0 {
			if spaces < max(least, 1) {
				break
			}
			indent = spaces
		}
		if spaces < indent {
			break
		}
		lines = append(lines, string(r.src[l.start+indent:l.end]))
		last = len(lines)
		n.end, r.at = l.end, next
	}
	trailing := len(lines) - last
	lines = lines[:last]
	if n.style == folded {
		n.text = fold(lines)
	} else {
		n.text = strings.Join(lines, "\n")
	}
	switch {
	case last == 0 && !keep, strip:
	case keep:
		n.text += strings.Repeat("\n", trailing)
		if last > 0 && n.end < len(r.src) {
			n.text += "\n"
		}
	case n.end < len(r.src): // the last line's own break, if it has one
		n.text += "\n"
	}
	return n
}

// fold joins the lines of a > block: single breaks become spaces, except around lines that are indented further.
func fold(lines []string) string {
	var b strings.Builder
	blanks, begun, further := 0, false, false
	for _, l := range lines {
		if l == "" {
			blanks++
			continue
		}
		indented := isBlank(l[0])
		switch {
		case !begun:
			b.WriteString(strings.Repeat("\n", blanks))
		case further || indented:
			b.WriteString(strings.Repeat("\n", blanks+1))
		case blanks == 0:
			b.WriteByte(' ')
		default:
			b.WriteString(strings.Repeat("\n", blanks))
		}
		b.WriteString(l)
		blanks, begun, further = 0, true, indented
	}
	return b.String()
}

// quote returns the text in single quotes.
func quote(text string) string { return "'" + strings.ReplaceAll(text, "'", "''") + "'" }

// rest returns the bytes from p to the end of its line, without a comment's sign or surrounding spaces, and whether they
// are a comment.
func (r *reader) rest(p int) (comment []byte, start int, ok bool) {
	end := r.lines[r.lineOf(p)].end
	for p < end && isBlank(r.src[p]) {
		p++
	}
	if p >= end || r.src[p] != '#' {
		return nil, 0, false
	}
	return bytes.TrimRight(r.src[p:end], " \t"), p, true
}
