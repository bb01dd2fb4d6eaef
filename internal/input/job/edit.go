package job

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Refused is the error of an edit that was not made. Nothing has changed.
type Refused struct {
	Finding explain.Finding // of the kinds that Mistakes lists, or cannot-edit
}

// cannotEdit is the name of the finding that refuses an edit for the way in which the file is written.
const cannotEdit mistake = "cannot-edit"

// Error returns what was wrong and what to do, in one line.
func (r *Refused) Error() string {
	text := r.Finding.Path + ": " + r.Finding.Message.Show(quantity.InchUnits)
	if remedy := r.Finding.Remedy.Show(quantity.InchUnits); remedy != "" {
		text += "; " + remedy
	}
	return text
}

func refuse(kind mistake, path, message, remedy string) error {
	return &Refused{explain.Finding{Rule: string(kind), Severity: explain.Must, Path: path, Message: explain.Say(message), Remedy: explain.Say(remedy)}}
}

// change is one splice: the bytes start to end of the file become text.
type change struct {
	start, end int
	text       string
}

// Set returns the file with the value at path written as text, in the words that a user would type. Only the value's own
// bytes change; a key that isn't there is put in its section behind the one that comes before it in the format, and a
// section that isn't there is made. Text that the format would misread is put in quotes. Empty text removes the value.
//
// The result has been read back: the value is there and every other value is what it was. A value with a mistake, and a
// place that can't be edited faithfully, give a *Refused.
func (f *File) Set(path, text string) ([]byte, error) {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
	if text == "" {
		return f.Remove(path)
	}
	at, err := f.find(path)
	if err != nil {
		return nil, err
	}
	if err := check(at.field, path, text); err != nil {
		return nil, err
	}
	c, err := f.setting(at, text)
	if err != nil {
		return nil, err
	}
	want := f.written()
	want[path] = asTyped(at.field, text)
	return f.apply(c, path, want)
}

// check refuses text that is no value for the field.
func check(f *field, path, text string) error {
	if problems := parseAlone(f, text); len(problems) > 0 {
		p := problems[0]
		p.Path, p.Span = path, explain.Span{}
		return &Refused{p}
	}
	return nil
}

// parseAlone returns the mistakes in text as a value of field f.
func parseAlone(f *field, text string) []explain.Finding {
	r := newReader("", []byte(text))
	d := decoder{r}
	n := &node{shape: scalar, style: doubleQuoted, end: len(text), text: text}
	if f.sort == leadGroups {
		if n = r.read(); n == nil || n.shape == unread {
			if len(r.problems) == 0 {
				r.problem(notALeadGroup, 0, len(text), "lead groups are a list of groups", "write them such as "+f.example())
			}
			return r.problems
		}
	}
	if f.sort != freeText && strings.Contains(text, "\n") && f.sort != leadGroups {
		r.problem(wrongShape, 0, len(text), fmt.Sprintf("%s is one value in one line", f.name), "")
		return r.problems
	}
	g, _ := newTaker(f)
	d.value(f, &entry{value: n}, g)
	return r.problems
}

// asTyped returns what reading gives back for text, as Given.Typed has it.
func asTyped(f *field, text string) string {
	if f.sort != freeText {
		return text
	}
	lines := strings.Split(text, "\n")
	for n, l := range lines {
		lines[n] = strings.TrimRight(l, " \t\r")
	}
	return strings.Join(lines, "\n")
}

// Remove returns the file without the value at path: its key goes too, with what stands behind it in the same line. A path
// such as "loads[1]" removes the whole list item. Nothing changes if nothing is written there.
func (f *File) Remove(path string) ([]byte, error) {
	if i := strings.LastIndex(path, "["); i > 0 && strings.HasSuffix(path, "]") {
		return f.removeItem(path, path[:i])
	}
	at, err := f.find(path)
	if err != nil {
		return nil, err
	}
	if at.entry < 0 {
		return bytes.Clone(f.Bytes), nil
	}
	c, err := f.cut(at.mapping, at.entry)
	if err != nil {
		return nil, err
	}
	want := f.written()
	delete(want, path)
	return f.apply(c, path, want)
}

// Append returns the file with one more item at the end of the list (such as "loads"), with the values given by key.
func (f *File) Append(list string, values map[string]string) ([]byte, error) {
	top := format().byKey[list]
	if top == nil || !top.list {
		return nil, refuse(unknownKey, list, fmt.Sprintf("there is no list %q", list), "")
	}
	n := len(f.items(list))
	at := fmt.Sprintf("%s[%d]", list, n)
	want := f.written()
	var lines []string
	for _, below := range top.sub.fields {
		text, ok := values[below.key]
		if text = strings.TrimSpace(text); !ok || text == "" {
			continue
		}
		path := join(at, below.key)
		if err := check(below, path, text); err != nil {
			return nil, err
		}
		if strings.Contains(text, "\n") {
			return nil, refuse(cannotEdit, path, "a new list item takes values of one line", "write it without line breaks")
		}
		want[path] = asTyped(below, text)
		lines = append(lines, below.key+": "+spell(below, text, true))
	}
	for _, key := range slices.Sorted(maps.Keys(values)) {
		if top.sub.byKey[key] == nil {
			return nil, refuse(unknownKey, at, fmt.Sprintf("there is no %q in %s", key, list), "keys here: "+strings.Join(top.sub.keys(), ", "))
		}
	}
	if len(lines) == 0 {
		return nil, refuse(cannotEdit, at, "the new item has no values", "give it at least a "+top.sub.fields[0].key)
	}
	c, err := f.appending(top, lines)
	if err != nil {
		return nil, err
	}
	return f.apply(c, at, want)
}

// items returns the list's items as they stand in the file.
func (f *File) items(list string) []item {
	if f.root == nil || f.root.shape != mapping {
		return nil
	}
	if n := f.root.find(list); n >= 0 && f.root.entries[n].value != nil {
		return f.root.entries[n].value.items
	}
	return nil
}

// find returns the number of the entry with the key, -1 if there is none.
func (n *node) find(key string) int {
	return slices.IndexFunc(n.entries, func(e entry) bool { return e.key.text == key })
}

// apply makes the change and reads the result: want is what must be written in it, by path.
func (f *File) apply(c change, path string, want map[string]string) ([]byte, error) {
	changed := slices.Concat(f.Bytes[:c.start], []byte(c.text), f.Bytes[c.end:])
	after := Read(f.Name, changed)
	if after.mistakes() > f.mistakes() || !maps.Equal(after.written(), want) {
		return nil, refuse(cannotEdit, path, "this place of the file can't be edited without changing something else", "change it in a text editor")
	}
	return changed, nil
}

// mistakes counts the problems; that there is nothing in the file is none after an edit.
func (f *File) mistakes() int {
	if f.root == nil && len(f.Problems) == 1 && f.Problems[0].Rule == string(emptyFile) {
		return 0
	}
	return len(f.Problems)
}

// written returns every value that is written, by path, as typed.
func (f *File) written() map[string]string {
	values := map[string]string{}
	f.eachValue(func(path, typed string, _ explain.Span) { values[path] = typed })
	return values
}

// place is where an edit goes: the mapping that has or should have the key.
type place struct {
	path    string
	field   *field
	section *section
	// mapping is nil if the section isn't there; then top is the root's field of it.
	mapping *node
	entry   int // the key's number in mapping, -1 if it isn't there
	top     *field
	item    *item // the list item that holds mapping
}

// find looks up a path to a value.
func (f *File) find(path string) (place, error) {
	at := place{path: path, section: format(), entry: -1, mapping: f.root}
	steps, err := parsePath(path)
	if err != nil {
		return at, refuse(unknownKey, path, err.Error(), "")
	}
	for n, s := range steps {
		below := at.section.byKey[s.key]
		last := n == len(steps)-1
		if below == nil || last != (below.sub == nil) || below.list != (s.index >= 0) {
			return at, refuse(unknownKey, path, fmt.Sprintf("there is no value %q", path), "")
		}
		if at.mapping != nil && at.mapping.shape != mapping {
			return at, refuse(cannotEdit, path, "the section has a mistake", "correct it in a text editor first")
		}
		at.entry = -1
		if at.mapping != nil {
			at.entry = at.mapping.find(s.key)
		}
		if last {
			at.field = below
			return at, nil
		}
		at.top, at.section = below, below.sub
		var value *node
		if at.entry >= 0 {
			value = at.mapping.entries[at.entry].value
		}
		if below.list {
			if value == nil || s.index >= len(value.items) {
				return at, refuse(cannotEdit, path, fmt.Sprintf("%s has no item %d", s.key, s.index), "append an item first")
			}
			at.item = &value.items[s.index]
			value = at.item.value
		}
		if value != nil && value.shape == nothing {
			return at, refuse(cannotEdit, path, "the section is written as ~ or null", "delete that in a text editor first")
		}
		at.mapping = value
	}
	return at, refuse(unknownKey, path, fmt.Sprintf("%q is not a value", path), "")
}
