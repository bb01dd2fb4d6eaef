package job

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"

	"drivewright/internal/base/explain"
)

// eachValue calls visit for every value that is written.
func (f *File) eachValue(visit func(path, typed string, span explain.Span)) {
	var walk func(s *section, v reflect.Value)
	walk = func(s *section, v reflect.Value) {
		for _, below := range s.fields {
			value := v.Field(below.order)
			switch {
			case below.list:
				for n := range value.Len() {
					walk(below.sub, value.Index(n))
				}
			case below.sub != nil:
				walk(below.sub, value)
			default:
				g, _ := value.Addr().Interface().(taker)
				if typed, span, set := g.given(); set {
					visit(g.path(), typed, span)
				}
			}
		}
	}
	walk(format(), reflect.ValueOf(&f.Job).Elem())
}

// edges helps to find lines in a file that has been read.
func (f *File) edges() *reader { return newReader(f.Name, f.Bytes) }

// newline returns the line break that the file uses.
func (f *File) newline() string {
	if i := bytes.IndexByte(f.Bytes, '\n'); i > 0 && f.Bytes[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// step returns by how many spaces the file indents its sections.
func (f *File) step() int {
	if f.root != nil {
		for _, e := range f.root.entries {
			if e.value != nil && e.value.shape == mapping && !e.value.flow && e.value.column > 0 {
				return e.value.column
			}
		}
	}
	return 2
}

// setting returns the change that writes text at a place.
func (f *File) setting(at place, text string) (change, error) {
	if at.mapping == nil {
		return f.newSection(at, text)
	}
	if at.entry < 0 {
		return f.newKey(at, text)
	}
	e := at.mapping.entries[at.entry]
	if e.value == nil {
		return f.aroundRemark(change{e.colon + 1, e.colon + 1, " " + f.spelled(at, text, plain)}), nil
	}
	n := e.value
	switch n.shape {
	case unread:
		if c := f.Bytes[n.start]; c == '&' || c == '*' || c == '!' {
			return change{}, refuse(cannotEdit, at.path, "the value has an anchor, alias or tag, which can't be kept", "change it in a text editor")
		}
	case sequence:
		if at.field.sort != leadGroups {
			return change{}, refuse(cannotEdit, at.path, "a list stands where one value belongs", "correct it in a text editor first")
		}
		if !n.flow { // lines with dashes become one line in brackets, unless a remark would be lost
			if bytes.IndexByte(f.Bytes[e.colon:n.end], '#') >= 0 {
				return change{}, refuse(cannotEdit, at.path, "there are remarks among the lead groups", "change them in a text editor")
			}
			return change{e.colon + 1, n.end, " " + text}, nil
		}
	case mapping:
		return change{}, refuse(cannotEdit, at.path, "a section stands where one value belongs", "correct it in a text editor first")
	case scalar, nothing:
	}
	return f.aroundRemark(change{n.start, n.end, f.spelled(at, text, n.style)}), nil
}

// aroundRemark keeps the remark behind a value that becomes a block of lines: it stands behind the block's sign then.
func (f *File) aroundRemark(c change) change {
	sign, lines, isBlock := strings.Cut(c.text, f.newline())
	if end := f.lineEnd(c.end); isBlock && end > c.end {
		c.text = sign + string(f.Bytes[c.end:end]) + f.newline() + lines
		c.end = end
	}
	return c
}

// spelled returns text as it is written at a place, in the style that the old value has where that can hold it.
func (f *File) spelled(at place, text string, old style) string {
	inBrackets := at.mapping != nil && at.mapping.flow
	if at.field.sort == leadGroups {
		return text
	}
	lines := strings.Split(asTyped(at.field, text), "\n")
	switch {
	case len(lines) > 1 && inBrackets:
		return doubleQuote(strings.Join(lines, "\n"))
	case len(lines) > 1, old == literal, old == folded:
		indent := f.step()
		if at.mapping != nil {
			indent += at.mapping.column
		} else if at.section.path != "" {
			indent += f.step()
		}
		var b strings.Builder
		b.WriteByte('|')
		for _, l := range lines {
			b.WriteString(f.newline())
			if l != "" {
				b.WriteString(strings.Repeat(" ", indent) + l)
			}
		}
		return b.String()
	case old == doubleQuoted:
		return doubleQuote(text)
	case old == singleQuoted:
		return quote(text)
	}
	return spell(at.field, text, inBrackets)
}

// newSection returns the change that makes the section and its first key.
func (f *File) newSection(at place, text string) (change, error) {
	nl := f.newline()
	pair := at.field.key + ": " + f.spelled(at, text, plain)
	if at.item != nil { // an item of which nothing but the dash is written
		return change{at.item.dash + 1, at.item.dash + 1, " " + pair}, nil
	}
	if f.root == nil {
		if at.section.path != "" {
			pair = at.top.key + ":" + nl + strings.Repeat(" ", f.step()) + pair
		}
		return f.atEnd(pair + nl), nil
	}
	indented := strings.Repeat(" ", f.step()) + pair
	if n := f.root.find(at.top.key); n >= 0 { // the key of the section is there, with nothing below it
		e := f.root.entries[n]
		if f.root.flow {
			return change{e.colon + 1, e.colon + 1, " {" + at.field.key + ": " + spell(at.field, text, true) + "}"}, nil
		}
		end := f.lineEnd(e.colon)
		return change{end, end, nl + strings.Repeat(" ", e.column(f)) + indented}, nil
	}
	if f.root.flow {
		return f.intoBrackets(f.root, format(), at.top, at.top.key+": {"+at.field.key+": "+spell(at.field, text, true)+"}"), nil
	}
	return f.intoLines(f.root, format(), at.top, []string{at.top.key + ":", indented}), nil
}

// column returns how far the entry's key is indented.
func (e entry) column(f *File) int {
	r := f.edges()
	return e.key.start - r.lines[r.lineOf(e.key.start)].start
}

// atEnd returns the change that adds text at the end of the file.
func (f *File) atEnd(text string) change {
	end := len(f.Bytes)
	if end > 0 && f.Bytes[end-1] != '\n' && !bytes.Equal(f.Bytes, []byte("\ufeff")) {
		text = f.newline() + text
	}
	return change{end, end, text}
}

// lineEnd returns the end of the line that holds byte p.
func (f *File) lineEnd(p int) int {
	if i := bytes.IndexAny(f.Bytes[p:], "\r\n"); i >= 0 {
		return p + i
	}
	return len(f.Bytes)
}

// newKey returns the change that writes a key which the mapping doesn't have.
func (f *File) newKey(at place, text string) (change, error) {
	pair := at.field.key + ": " + f.spelled(at, text, plain)
	if at.mapping.flow {
		return f.intoBrackets(at.mapping, at.section, at.field, pair), nil
	}
	return f.intoLines(at.mapping, at.section, at.field, []string{pair}), nil
}

// before returns the number of the entry behind which the field belongs: of those that come before it in the format the
// last; -1 if there is none.
func (n *node) before(s *section, target *field) int {
	best, order := -1, -1
	for i, e := range n.entries {
		if known := s.byKey[e.key.text]; known != nil && known.order < target.order && known.order >= order {
			best, order = i, known.order
		}
	}
	return best
}

// intoBrackets returns the change that writes a pair into a mapping in brackets.
func (f *File) intoBrackets(n *node, s *section, target *field, pair string) change {
	previous := n.before(s, target)
	switch {
	case previous >= 0:
		end := n.entries[previous].end()
		return change{end, end, ", " + pair}
	case len(n.entries) > 0:
		start := n.entries[0].key.start
		return change{start, start, pair + ", "}
	}
	return change{n.start + 1, n.start + 1, pair}
}

// intoLines returns the change that writes lines into a block mapping: the first line is the key of target, the further
// ones are below it.
func (f *File) intoLines(n *node, s *section, target *field, lines []string) change {
	nl, indent := f.newline(), strings.Repeat(" ", n.column)
	gap := ""
	if s.path == "" && target.sub != nil && f.spaced() {
		gap = nl
	}
	previous := n.before(s, target)
	if previous >= 0 {
		end := f.lineEnd(max(n.entries[previous].end()-1, 0))
		if s.path == "" {
			end = f.pastRemarks(end)
		}
		return change{end, end, nl + gap + indent + strings.Join(lines, nl+indent)}
	}
	start := n.entries[0].key.start
	return change{start, start, strings.Join(lines, nl+indent) + nl + gap + indent}
}

// pastRemarks moves the end of a line past the indented remarks below it, which belong to the section above them.
func (f *File) pastRemarks(end int) int {
	r := f.edges()
	for n := r.lineOf(end) + 1; n < len(r.lines); n++ {
		l := r.lines[n]
		if !l.blank || !l.empty && l.indent == 0 {
			break
		}
		if !l.empty {
			end = l.end
		}
	}
	return end
}

// spaced reports whether the file sets its sections apart by empty lines.
func (f *File) spaced() bool {
	r := f.edges()
	for _, e := range f.root.entries[min(1, len(f.root.entries)):] {
		n := r.lineOf(e.key.start) - 1
		for n > 0 && r.lines[n].blank && !r.lines[n].empty {
			n--
		}
		if n >= 0 && r.lines[n].empty {
			return true
		}
	}
	return false
}

// cut returns the change that removes entry number i of the mapping.
func (f *File) cut(n *node, i int) (change, error) {
	e := n.entries[i]
	if n.flow {
		var bounds []int
		for _, other := range n.entries {
			bounds = append(bounds, other.key.start, other.end())
		}
		return f.cutBrackets(bounds, i, n)
	}
	r := f.edges()
	l := r.lines[r.lineOf(e.key.start)]
	if l.text == e.key.start {
		return f.cutLines(l.start, e.end()), nil
	}
	// The first key behind a dash: the next one takes its place.
	if i+1 < len(n.entries) {
		return change{e.key.start, n.entries[i+1].key.start, ""}, nil
	}
	return change{e.key.start, e.end(), ""}, nil
}

// cutLines returns the change that removes the lines from start to the one that holds the byte before end.
func (f *File) cutLines(start, end int) change {
	stop := f.lineEnd(max(end-1, start))
	switch {
	case bytes.HasPrefix(f.Bytes[stop:], []byte("\r\n")):
		stop += 2
	case stop < len(f.Bytes):
		stop++
	}
	return change{start, stop, ""}
}

// cutBrackets returns the change that removes element i of a collection in brackets, with one comma. bounds holds start and
// end of each element.
func (f *File) cutBrackets(bounds []int, i int, n *node) (change, error) {
	c := change{start: bounds[2*i], end: bounds[2*i+1]}
	switch {
	case 2*i+2 < len(bounds):
		c.end = bounds[2*i+2]
	case i > 0:
		c.start = bounds[2*i-1]
	default:
		c.end = n.end - 1
	}
	between := append(bytes.Clone(f.Bytes[c.start:max(bounds[2*i], c.start)]), f.Bytes[bounds[2*i+1]:c.end]...)
	if bytes.IndexByte(between, '#') >= 0 {
		return change{}, refuse(cannotEdit, "", "there is a remark beside it that would be lost", "change it in a text editor")
	}
	return c, nil
}

// appending returns the change that adds an item with the pairs to the list.
func (f *File) appending(list *field, pairs []string) (change, error) {
	nl := f.newline()
	item := func(indent int) string {
		return strings.Repeat(" ", indent) + "- " + strings.Join(pairs, nl+strings.Repeat(" ", indent+2))
	}
	inBrackets := "{" + strings.Join(pairs, ", ") + "}"
	if f.root == nil {
		return f.atEnd(list.key + ":" + nl + item(f.step()) + nl), nil
	}
	if f.root.shape != mapping {
		return change{}, refuse(cannotEdit, list.key, "the file has a mistake", "correct it in a text editor first")
	}
	n := f.root.find(list.key)
	if n < 0 {
		if f.root.flow {
			return f.intoBrackets(f.root, format(), list, list.key+": ["+inBrackets+"]"), nil
		}
		return f.intoLines(f.root, format(), list, []string{list.key + ":", item(f.step())}), nil
	}
	e := f.root.entries[n]
	switch {
	case e.value == nil && f.root.flow:
		return change{e.colon + 1, e.colon + 1, " [" + inBrackets + "]"}, nil
	case e.value == nil:
		end := f.lineEnd(e.colon)
		return change{end, end, nl + item(e.column(f)+f.step())}, nil
	case e.value.shape != sequence:
		return change{}, refuse(cannotEdit, list.key, fmt.Sprintf("%s is not written as a list", list.key), "correct it in a text editor first")
	case e.value.flow && len(e.value.items) == 0:
		return change{e.value.start + 1, e.value.start + 1, inBrackets}, nil
	case e.value.flow:
		end := e.value.items[len(e.value.items)-1].end()
		return change{end, end, ", " + inBrackets}, nil
	}
	end := f.lineEnd(max(e.value.end-1, 0))
	return change{end, end, nl + item(e.value.column)}, nil
}

// removeItem removes a whole list item, and the list with its last one.
func (f *File) removeItem(path, list string) ([]byte, error) {
	top := format().byKey[list]
	steps, err := parsePath(path)
	items := f.items(list)
	if err != nil || top == nil || !top.list || len(steps) != 1 {
		return nil, refuse(unknownKey, path, fmt.Sprintf("there is no list item %q", path), "")
	}
	n := steps[0].index
	if n >= len(items) {
		return nil, refuse(cannotEdit, path, fmt.Sprintf("%s has no item %d", list, n), "")
	}
	whole := f.root.find(list)
	value := f.root.entries[whole].value
	var c change
	switch r := f.edges(); {
	case len(items) == 1 && !f.root.flow:
		c, err = f.cut(f.root, whole)
	case value.flow:
		var bounds []int
		for _, i := range items {
			bounds = append(bounds, i.dash, i.end())
		}
		c, err = f.cutBrackets(bounds, n, value)
	case r.lines[r.lineOf(items[n].dash)].text != items[n].dash:
		err = refuse(cannotEdit, path, "the item doesn't begin its line", "change it in a text editor")
	default:
		c = f.cutLines(r.lines[r.lineOf(items[n].dash)].start, items[n].end())
	}
	if err != nil {
		return nil, err
	}
	want := map[string]string{}
	for path, typed := range f.written() {
		steps, _ := parsePath(path)
		switch {
		case steps[0].key != list || steps[0].index < n:
			want[path] = typed
		case steps[0].index > n:
			want[join(fmt.Sprintf("%s[%d]", list, steps[0].index-1), steps[1].key)] = typed
		}
	}
	return f.apply(c, path, want)
}
