package job

import (
	"bytes"
	"fmt"
	"slices"
	"unicode"
	"unicode/utf8"

	"drivewright/internal/base/explain"
)

// shape says what a piece of the file is.
type shape int

const (
	nothing  shape = iota // no value: nothing written, or ~ or null
	scalar                // one value
	mapping               // keys with values
	sequence              // a list
	unread                // something that had to be skipped; a problem has been reported
)

// style says how a scalar is written.
type style int

const (
	plain style = iota
	singleQuoted
	doubleQuoted
	literal // the block that begins with |
	folded  // the block that begins with >
)

// node is a piece of the file with its exact place: src[start:end] is the whole of it, quotes and brackets included, and
// nothing around it. The bytes between the nodes (comments, spaces, line breaks) are in no node and so survive edits.
type node struct {
	shape      shape
	style      style
	flow       bool // a collection written with brackets
	start, end int
	text       string  // a scalar's text, quotes and escapes resolved
	entries    []entry // of a mapping
	items      []item  // of a sequence
	column     int     // of a block collection: how far its keys or dashes are indented
}

// entry is a key with its value.
type entry struct {
	key   node
	colon int   // the byte of the colon
	value *node // nil when nothing is written
}

// end returns the byte after the entry.
func (e entry) end() int {
	if e.value == nil {
		return e.colon + 1
	}
	return e.value.end
}

// item is one element of a list.
type item struct {
	dash  int // the byte of the dash; in brackets the start of the value
	value *node
}

// end returns the byte after the item.
func (i item) end() int {
	if i.value == nil {
		return i.dash + 1
	}
	return i.value.end
}

// line is one line of the file.
type line struct {
	start, end int // without the line break
	text       int // the first byte that is neither space nor tab
	indent     int // how far text is indented; a tab counts as two, so that what follows a complaint makes sense
	tab        bool
	blank      bool // empty, or only a comment
	empty      bool // no character but spaces and tabs
}

// reader turns the text of a file into nodes and goes on after each mistake.
//
// It reads the part of YAML 1.2 that people write by hand: block and bracket mappings and lists, plain, quoted and block
// scalars, comments. Anchors, aliases, tags, directives, explicit keys and further documents are refused by name. Every
// file that it reads without a problem means the same to any other YAML reader, except that here all scalars are text: a
// field's kind decides what they mean.
type reader struct {
	file     string
	src      []byte
	lines    []line
	at       int // the line last read from
	stop     int // the line before which the document ends
	depth    int
	problems []explain.Finding
	counted  struct{ at, column int } // the byte whose column was counted last
}

// deepest is how many collections may stand in one another; a job file needs four.
const deepest = 40

// newReader splits the source into lines.
func newReader(file string, src []byte) *reader {
	r := &reader{file: file, src: src, at: -1}
	start := 0
	if bytes.HasPrefix(src, []byte("\ufeff")) {
		start = len("\ufeff")
	}
	for start <= len(src) {
		end, next := len(src), len(src)+1
		if i := bytes.IndexAny(src[start:], "\r\n"); i >= 0 {
			end, next = start+i, start+i+1
			if src[end] == '\r' && next < len(src) && src[next] == '\n' {
				next++
			}
		}
		r.lines = append(r.lines, r.newLine(start, end))
		start = next
	}
	r.stop = len(r.lines)
	return r
}

func (r *reader) newLine(start, end int) line {
	l := line{start: start, end: end, text: start}
	for l.text < end && isBlank(r.src[l.text]) {
		if r.src[l.text] == '\t' {
			l.tab = true
			l.indent++
		}
		l.indent++
		l.text++
	}
	l.empty = l.text == end
	l.blank = l.empty || r.src[l.text] == '#'
	return l
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' }

// read returns the root of the file, nil if there is nothing in it.
func (r *reader) read() *node {
	if !r.checkText() {
		return nil
	}
	r.frame()
	n, ok := r.peek()
	if !ok {
		return nil
	}
	r.consume(n)
	root := r.blockAt(r.lines[n].text, r.lines[n].indent, 0)
	if n, ok := r.peek(); ok { // cannot happen with min 0, but nothing may be passed over in silence
		l := r.lines[n]
		r.problem(notYAML, l.text, l.end, "this part of the file can't be read", "")
	}
	return root
}

// checkText reports characters that don't belong in a text file; false means that reading on makes no sense.
func (r *reader) checkText() bool {
	if bytes.HasPrefix(r.src, []byte("\xff\xfe")) || bytes.HasPrefix(r.src, []byte("\xfe\xff")) {
		r.problem(notUTF8, 0, 2, "the file is saved as UTF-16", "save it as UTF-8 text")
		return false
	}
	for n := 0; n < len(r.src); {
		c, size := rune(r.src[n]), 1
		if c >= utf8.RuneSelf {
			c, size = utf8.DecodeRune(r.src[n:])
		}
		switch {
		case c == utf8.RuneError && size == 1:
			r.problem(notUTF8, n, n+1, fmt.Sprintf("the byte %02X is not UTF-8 text", r.src[n]), "save the file as UTF-8 text")
		case c < ' ' && c != '\t' && c != '\n' && c != '\r', c >= 0x7f && c < 0xa0, c == '\ufeff' && n > 0, c == '\u2028', c == '\u2029':
			r.problem(notUTF8, n, n+size, fmt.Sprintf("there is an invisible character (U+%04X) here", c), "delete it")
		}
		n += size
	}
	return true
}

// frame finds the marks that open and close a document.
func (r *reader) frame() {
	opened := false
	for n, l := range r.lines {
		if l.blank {
			continue
		}
		switch text := r.src[l.start:l.end]; {
		case text[0] == '%' && !opened:
			r.problem(yamlExtra, l.text, l.end, "lines that begin with % are not used in job files", "delete the line")
			r.lines[n].blank = true
		case isMark(text, "---") && !opened:
			r.lines[n].blank = true
			if rest := bytes.TrimLeft(text[3:], " \t"); len(rest) > 0 && rest[0] != '#' {
				r.problem(yamlExtra, l.text, l.end, "a value can't stand behind ---", "begin a new line after ---")
			}
			opened = true
		case isMark(text, "---"), isMark(text, "..."):
			r.stop = n
			for _, after := range r.lines[n+1:] {
				if !after.blank {
					r.problem(yamlExtra, l.text, l.text+3, "a job file holds one job; what follows this line is not read", "delete the line, or put the rest in a file of its own")
					return
				}
			}
			return
		default:
			opened = true
		}
	}
}

func isMark(text []byte, mark string) bool {
	return bytes.HasPrefix(text, []byte(mark)) && (len(text) == 3 || isBlank(text[3]))
}

// peek returns the next line that holds something.
func (r *reader) peek() (n int, ok bool) {
	for n := r.at + 1; n < r.stop; n++ {
		if !r.lines[n].blank {
			return n, true
		}
	}
	return 0, false
}

// consume moves to line n, which is about to be read as keys or list items.
func (r *reader) consume(n int) {
	r.at = n
	if l := r.lines[n]; l.tab {
		r.problem(tabIndentation, l.start, l.text, "the line is indented with a tab", "use spaces: two for each step")
	}
}

// follow moves to the line that holds byte p.
func (r *reader) follow(p int) {
	for r.at+1 < len(r.lines) && p >= r.lines[r.at+1].start {
		r.at++
	}
}

// lineEnd returns the end of the line last read from.
func (r *reader) lineEnd() int { return r.lines[r.at].end }

// problem reports a mistake at the bytes start to end.
func (r *reader) problem(kind mistake, start, end int, message, remedy string, related ...explain.Related) {
	r.problems = append(r.problems, explain.Finding{Rule: string(kind), Severity: explain.Must, Span: r.span(start, end),
		Message: explain.Say(message), Remedy: explain.Say(remedy), Related: related})
}

// span returns the place of the bytes start to end.
func (r *reader) span(start, end int) explain.Span {
	n := r.lineOf(start)
	from, column := min(r.lines[n].start, start), 1
	if r.counted.column > 0 && r.counted.at >= from && r.counted.at <= start { // long lines are counted once, not for each value
		from, column = r.counted.at, r.counted.column
	}
	column += characters(r.src[from:start])
	r.counted.at, r.counted.column = start, column
	return explain.Span{File: r.file, Line: n + 1, Column: column, Start: start, End: end}
}

// lineOf returns the number of the line that holds byte p, counted from 0.
func (r *reader) lineOf(p int) int {
	n, found := slices.BinarySearchFunc(r.lines, p, func(l line, at int) int { return l.start - at })
	if !found {
		n = max(n-1, 0)
	}
	return n
}

// characters counts what the eye sees as characters: marks that combine with the one before don't count.
func characters(text []byte) int {
	count := 0
	for len(text) > 0 {
		if text[0] < utf8.RuneSelf {
			count++
			text = text[1:]
			continue
		}
		c, size := utf8.DecodeRune(text)
		if !unicode.In(c, unicode.Mn, unicode.Me, unicode.Cf) {
			count++
		}
		text = text[size:]
	}
	return count
}
