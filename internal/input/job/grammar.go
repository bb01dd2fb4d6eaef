package job

import (
	"fmt"
	"reflect"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// section is one level of the file format, made from a struct's tags.
type section struct {
	path   string // "" for the whole file, "supply", "loads[]"
	help   string
	fields []*field
	byKey  map[string]*field
}

// field is one key of a section.
type field struct {
	key, path, help, name string
	order                 int          // its place in the section
	goType                reflect.Type // of the struct field that holds it
	// sub is the section below the key; list says that there is a list of them. Both zero: the key has a value.
	sub  *section
	list bool

	sort     sort
	kind     quantity.Kind
	words    []string
	ranged   bool
	low      float64 // SI
	high     float64
	lowText  string // as the tag has it
	highText string
	// examples are what might stand there, for inch and for metric readers; empty where the tag says none.
	examples [2]string
}

// sort says how a value is read.
type sort int

const (
	oneQuantity sort = iota
	voltages
	currents
	conductor
	words    // of a closed list
	freeText // free
	count
	leadGroups
	severalWords // of a closed list, with commas between
)

// grammar returns the file format. It is made once from the tags of Job; a wrong tag is a mistake of ours, which the
// tests find, and shows here as an error.
var grammar = sync.OnceValues(func() (*section, error) {
	return describe(reflect.TypeFor[Job](), "", "")
})

// format is grammar for callers after the tests.
func format() *section {
	s, _ := grammar()
	return s
}

// taker is a *Given of any kind.
type taker interface {
	place(path, name string)
	path() string
	take(value quantity.Value, typed string, span explain.Span) bool
	refuse(span explain.Span)
	sort() (sort, quantity.Kind)
	given() (typed string, span explain.Span, set bool)
}

func (g *Given[V]) place(path, name string) { g.Path, g.Name = path, name }

func (g *Given[V]) path() string { return g.Path }

func (g *Given[V]) take(value quantity.Value, typed string, span explain.Span) bool {
	v, ok := value.(V)
	if ok {
		g.Value, g.Typed, g.Span, g.Set = v, typed, span, true
	}
	return ok
}

func (g *Given[V]) refuse(span explain.Span) { g.Wrong, g.Span = true, span }

func (g *Given[V]) given() (string, explain.Span, bool) { return g.Typed, g.Span, g.Set }

func (g *Given[V]) sort() (sort, quantity.Kind) {
	var v V
	switch any(v).(type) {
	case quantity.Voltages:
		return voltages, quantity.KindVoltage
	case quantity.Currents:
		return currents, quantity.KindCurrent
	case quantity.Conductor:
		return conductor, quantity.KindConductor
	case quantity.Text:
		return freeText, quantity.KindText
	case quantity.Count:
		return count, quantity.KindCount
	case LeadGroups:
		return leadGroups, quantity.KindText
	case Several:
		return severalWords, quantity.KindText
	}
	if q, ok := any(v).(quantity.Value); ok {
		return oneQuantity, q.Kind()
	}
	return freeText, quantity.KindText
}

// describe reads the tags of struct type t, which stands at path.
func describe(t reflect.Type, path, help string) (*section, error) {
	s := &section{path: path, help: help, byKey: map[string]*field{}}
	for n := range t.NumField() {
		structField := t.Field(n)
		key := structField.Tag.Get("job")
		if key == "" {
			continue
		}
		f := &field{key: key, path: join(path, key), help: structField.Tag.Get("help"), name: structField.Tag.Get("name"), order: n, goType: structField.Type}
		if f.name == "" {
			f.name = key
		}
		if s.byKey[key] != nil {
			return nil, fmt.Errorf("%s: two fields have this key", f.path)
		}
		var err error
		switch v := reflect.New(structField.Type).Interface().(type) {
		case taker:
			err = f.describe(v, structField.Tag)
		default:
			below := structField.Type
			subPath := f.path
			if below.Kind() == reflect.Slice {
				f.list, below, subPath = true, below.Elem(), f.path+"[]"
			}
			if below.Kind() != reflect.Struct {
				return nil, fmt.Errorf("%s: a %s is neither a value, a section nor a list of sections", f.path, structField.Type)
			}
			f.sub, err = describe(below, subPath, f.help)
		}
		if err != nil {
			return nil, err
		}
		s.fields = append(s.fields, f)
		s.byKey[key] = f
	}
	return s, nil
}

// describe reads what the tag says of a value.
func (f *field) describe(v taker, tag reflect.StructTag) error {
	f.sort, f.kind = v.sort()
	if inch, metric, both := strings.Cut(tag.Get("example"), " | "); both {
		f.examples = [2]string{inch, metric}
	} else {
		f.examples = [2]string{inch, inch}
	}
	if list := tag.Get("words"); list != "" {
		switch f.sort {
		case freeText:
			f.sort = words
		case severalWords:
		default:
			return fmt.Errorf("%s: words are for text", f.path)
		}
		for _, w := range strings.Split(list, ",") {
			f.words = append(f.words, strings.TrimSpace(w))
		}
	}
	limits := tag.Get("range")
	if limits == "" {
		return nil
	}
	var ok bool
	if f.lowText, f.highText, ok = strings.Cut(limits, ".."); !ok {
		return fmt.Errorf("%s: range %q lacks the two dots", f.path, limits)
	}
	for _, end := range []struct {
		text string
		si   *float64
	}{{f.lowText, &f.low}, {f.highText, &f.high}} {
		q, err := quantity.Parse(f.kind, end.text)
		if err != nil {
			return fmt.Errorf("%s: range: %w", f.path, err)
		}
		if *end.si, ok = quantity.SI(q); !ok {
			return fmt.Errorf("%s: a range is for numbers", f.path)
		}
	}
	if f.low > f.high {
		return fmt.Errorf("%s: range %q is upside down", f.path, limits)
	}
	f.ranged = true
	return nil
}

// join returns the path of key below path.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// keys returns the keys of the section in their order.
func (s *section) keys() []string {
	var list []string
	for _, f := range s.fields {
		list = append(list, f.key)
	}
	return list
}

// example returns a valid spelling of the field's value, in inch units where it has any.
func (f *field) example() string { return f.exampleIn(quantity.InchUnits) }

// exampleIn returns a valid spelling of the field's value for readers of the unit system.
func (f *field) exampleIn(s quantity.System) string {
	if text := f.examples[0]; text != "" {
		if s == quantity.MetricUnits {
			return f.examples[1]
		}
		return text
	}
	switch f.sort {
	case voltages:
		return "230/460 V"
	case currents:
		return "13.2/6.6 A"
	case words, severalWords:
		return f.words[0]
	case freeText:
		return "words"
	case leadGroups:
		return "[[1,4],[2,5],[3,6],[7,8,9]]"
	case count:
		return f.lowText
	case conductor, oneQuantity:
	}
	if f.ranged {
		if si, ok := exampleInRange(f); ok {
			return si
		}
	}
	return f.kind.Example()
}

// exampleInRange returns the kind's own example if it lies in the field's range, else a round value inside it.
func exampleInRange(f *field) (string, bool) {
	for _, alternative := range strings.Split(f.kind.Example(), " or ") {
		if q, err := quantity.Parse(f.kind, alternative); err == nil {
			if si, ok := quantity.SI(q); ok && si >= f.low && si <= f.high {
				return alternative, true
			}
		}
	}
	return f.highText, true
}

// walkSections calls visit for each section of the format, the whole file first.
func (s *section) walkSections(visit func(*section)) {
	visit(s)
	for _, f := range s.fields {
		if f.sub != nil {
			f.sub.walkSections(visit)
		}
	}
}
