package job

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
)

// decoder fills the typed job from the nodes of a file.
type decoder struct {
	*reader
}

// section fills the struct v from the entries of n. at is the path with list numbers, such as "loads[0]".
func (d *decoder) section(s *section, n *node, v reflect.Value, at string) {
	first := map[string]*entry{}
	for i := range n.entries {
		e := &n.entries[i]
		f := s.byKey[e.key.text]
		if f == nil {
			d.unknown(s, n, e, v, at)
			continue
		}
		if earlier := first[f.key]; earlier != nil {
			d.problem(repeatedKey, e.key.start, e.key.end, fmt.Sprintf("%q stands twice%s", f.key, in(at)), "delete one of the two; the first one counts until then",
				explain.Related{Span: d.span(earlier.key.start, earlier.key.end), Message: explain.Say("first written here")})
			d.about(join(at, f.key))
			d.field(f, e, reflect.New(v.Field(f.order).Type()).Elem(), join(at, f.key))
			continue
		}
		first[f.key] = e
		d.field(f, e, v.Field(f.order), join(at, f.key))
	}
}

// about names the path that the last problem belongs to.
func (d *decoder) about(path string) { d.problems[len(d.problems)-1].Path = path }

func in(at string) string {
	if at == "" {
		return ""
	}
	return " in " + at
}

// field fills v, the place of field f, from an entry.
func (d *decoder) field(f *field, e *entry, v reflect.Value, path string) {
	before := len(d.problems)
	switch {
	case f.sub == nil:
		taker, _ := v.Addr().Interface().(taker) // describe has made sure
		taker.place(path, f.name)
		d.value(f, e, taker)
	case f.list:
		d.list(f, e, v, path)
	case e.value == nil, e.value.shape == nothing, e.value.shape == unread:
	case e.value.shape != mapping:
		remedy := "write its keys on the lines below, indented: " + firstOf(f.sub.keys(), 3) + " …"
		if saysNone(e.value) {
			remedy = fmt.Sprintf("where there is none, leave %s out: delete the line", f.key)
		}
		d.problem(wrongShape, e.value.start, d.shown(e.value), fmt.Sprintf("%s is a section, its values stand below it", f.key), remedy)
	default:
		d.section(f.sub, e.value, v, path)
	}
	for n := before; n < len(d.problems); n++ {
		if d.problems[n].Path == "" {
			d.problems[n].Path = path
		}
	}
}

// list fills the slice v from a list of sections.
func (d *decoder) list(f *field, e *entry, v reflect.Value, path string) {
	if e.value == nil || e.value.shape == nothing || e.value.shape == unread {
		return
	}
	if e.value.shape != sequence {
		remedy := "begin each one on its own line with a dash, such as: - " + f.sub.fields[0].key + ": …"
		if saysNone(e.value) {
			remedy = fmt.Sprintf("where there are none, leave %s out: delete the line", f.key)
		}
		d.problem(wrongShape, e.value.start, d.shown(e.value), fmt.Sprintf("%s is a list", f.key), remedy)
		return
	}
	for n, i := range e.value.items {
		at := fmt.Sprintf("%s[%d]", path, n)
		element := reflect.New(v.Type().Elem()).Elem()
		placeAll(f.sub, element, at)
		switch {
		case i.value == nil, i.value.shape == nothing, i.value.shape == unread:
		case i.value.shape != mapping:
			d.problem(wrongShape, i.value.start, d.shown(i.value), fmt.Sprintf("each of %s is a group of keys with values", f.key), "write "+f.sub.fields[0].key+": and the value behind the dash")
			d.about(at)
		default:
			d.section(f.sub, i.value, element, at)
		}
		v.Set(reflect.Append(v, element))
	}
}

// saysNone reports whether the value is a word for nothing, where a section or list belongs.
func saysNone(n *node) bool {
	return n.shape == scalar && slices.Contains([]string{"none", "no", "nothing", "nil", "n/a", "-", "0", "false"}, strings.ToLower(strings.TrimSpace(n.text)))
}

// placeAll sets path and name of every value in the struct v.
func placeAll(s *section, v reflect.Value, at string) {
	for _, f := range s.fields {
		switch {
		case f.sub == nil:
			taker, _ := v.Field(f.order).Addr().Interface().(taker)
			path := f.path
			if at != s.path {
				path = join(at, f.key)
			}
			taker.place(path, f.name)
		case !f.list:
			placeAll(f.sub, v.Field(f.order), join(at, f.key))
		}
	}
}

// shown returns where a mark under the node should end: at the end of its first line.
func (d *decoder) shown(n *node) int { return min(n.end, d.lines[d.lineOf(n.start)].end) }

// unknown reports a key that the section doesn't have. If the key that was meant is clear, it still looks for mistakes in
// the value, and marks the place in v where the value belongs as wrong: it was written, so nothing is to be said of its
// lack.
func (d *decoder) unknown(s *section, n *node, e *entry, v reflect.Value, at string) {
	written := e.key.text
	message := fmt.Sprintf("there is no %q%s", written, in(at))
	if at == "" {
		message = fmt.Sprintf("there is no section %q", written)
	}
	if written == "<<" {
		d.problem(yamlExtra, e.key.start, e.key.end, "merging with << is not used in job files", "write the values themselves")
		return
	}
	near := explain.Near(spelled(written), s.keys())
	var meant *field
	if len(near) == 1 {
		meant = s.byKey[near[0]]
	}
	elsewhere := sectionsWith(written, s)
	switch {
	case len(elsewhere) > 0:
		d.problem(unknownKey, e.key.start, e.key.end, message, fmt.Sprintf("%q belongs %s", written, strings.Join(elsewhere, ", ")))
		meant = nil
	case len(near) > 0:
		d.problem(unknownKey, e.key.start, e.key.end, message, explain.DidYouMean(near))
	default:
		d.problem(unknownKey, e.key.start, e.key.end, message, "keys here: "+strings.Join(s.keys(), ", "))
	}
	d.about(at)
	if meant == nil {
		return
	}
	d.about(join(at, meant.key))
	if !slices.ContainsFunc(n.entries, func(other entry) bool { return other.key.text == meant.key }) {
		aside := reflect.New(meant.goType).Elem()
		d.field(meant, e, aside, join(at, meant.key))
		refuseWritten(meant, aside, v.Field(meant.order))
	}
}

// refuseWritten marks as wrong in v what stands in aside, the same field read from a misspelt key.
func refuseWritten(f *field, aside, v reflect.Value) {
	if f.list {
		return // a list of its own doesn't stand for the items of another
	}
	if f.sub != nil {
		for _, below := range f.sub.fields {
			refuseWritten(below, aside.Field(below.order), v.Field(below.order))
		}
		return
	}
	from, ok := aside.Addr().Interface().(taker)
	if to, both := v.Addr().Interface().(taker); ok && both {
		if _, span, _ := from.given(); span.Known() {
			to.refuse(span)
		}
	}
}

// spelled returns the key without the hyphens, underlines and capitals that other formats use.
func spelled(key string) string {
	return strings.ToLower(strings.NewReplacer("_", " ", "\u00a0", " ").Replace(key))
}

// sectionsWith returns where else than in section s the key belongs: "in motor".
func sectionsWith(key string, s *section) []string {
	var list []string
	format().walkSections(func(other *section) {
		if other == s || other.byKey[strings.ToLower(key)] == nil {
			return
		}
		name := strings.TrimSuffix(other.path, "[]")
		if name == "" {
			list = append(list, "at the left margin")
			return
		}
		list = append(list, "in "+name)
	})
	return list
}

func firstOf(list []string, n int) string { return strings.Join(list[:min(n, len(list))], ", ") }
