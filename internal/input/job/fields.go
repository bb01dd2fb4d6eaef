package job

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Field describes one key of the file format that has a value.
type Field struct {
	Path    string // as in Given.Path; "loads[].power" stands for the power of each load
	Section string // "" at the top level, "supply", "loads[]"
	Key     string
	Kind    quantity.Kind
	Words   []string // what may stand there; nil for numbers and free text
	Range   string   // "1 A..400 A"; "" if there is no limit
	Help    string
	Name    string // in the words of the sheet
	Example string
	Metric  string // the example for metric readers
	List    bool   // several values in one line, as a nameplate has them, or lead groups
	Lines   bool   // free text that may have several lines
}

// Fields returns every key that has a value, in the order of the format.
func Fields() []Field {
	var list []Field
	var add func(s *section)
	add = func(s *section) {
		for _, f := range s.fields {
			if f.sub != nil {
				add(f.sub)
				continue
			}
			list = append(list, f.field(s))
		}
	}
	add(format())
	return list
}

// field is what f says of itself as a key of section s.
func (f *field) field(s *section) Field {
	limits := ""
	if f.ranged {
		limits = f.lowText + ".." + f.highText
	}
	return Field{Path: f.path, Section: s.path, Key: f.key, Kind: f.kind, Words: f.words, Range: limits, Help: f.help, Name: f.name,
		Example: f.example(), Metric: f.exampleIn(quantity.MetricUnits), List: f.sort == voltages || f.sort == currents || f.sort == leadGroups || f.sort == severalWords, Lines: f.sort == freeText}
}

// Section describes one section of the file format.
type Section struct {
	Path string // "supply", "loads[]"
	Key  string
	Help string
	List bool
}

// Sections returns the sections in the order of the format, the whole file left out.
func Sections() []Section {
	var list []Section
	for _, f := range format().fields {
		if f.sub != nil {
			list = append(list, Section{Path: f.sub.path, Key: f.key, Help: f.help, List: f.list})
		}
	}
	return list
}

// Value returns the value at a path such as "supply.breaker" or "loads[1].power"; nil if none is written there or there is
// no such path.
func (f *File) Value(path string) quantity.Value {
	g := f.taker(path)
	if g == nil {
		return nil
	}
	because, ok := g.(explain.Because)
	if !ok {
		return nil
	}
	return because.Why().Value
}

// Typed returns what is written at the path, in the user's own spelling; "" if nothing is.
func (f *File) Typed(path string) string {
	g := f.taker(path)
	if g == nil {
		return ""
	}
	typed, _, _ := g.given()
	return typed
}

// SectionAt returns the place of the key of the section that a path such as "supply.breaker" leads through, so that what is
// said of a value that isn't written can stand there; the zero Span if the file has no such section.
func (f *File) SectionAt(path string) explain.Span {
	steps, err := parsePath(path)
	if err != nil || f.root == nil || len(steps) < 2 {
		return explain.Span{}
	}
	n := f.root.find(steps[0].key)
	if n < 0 {
		return explain.Span{}
	}
	key := f.root.entries[n].key
	return f.edges().span(key.start, key.end)
}

// taker returns the value at path in the typed job, written or not; nil if the path leads nowhere.
func (f *File) taker(path string) taker {
	steps, err := parsePath(path)
	if err != nil {
		return nil
	}
	v := reflect.ValueOf(&f.Job).Elem()
	s := format()
	for n, step := range steps {
		at := s.byKey[step.key]
		if at == nil {
			return nil
		}
		v = v.Field(at.order)
		if at.list {
			if step.index < 0 || step.index >= v.Len() {
				return nil
			}
			v = v.Index(step.index)
		} else if step.index >= 0 {
			return nil
		}
		if at.sub == nil {
			g, _ := v.Addr().Interface().(taker)
			if n < len(steps)-1 {
				return nil
			}
			return g
		}
		s = at.sub
	}
	return nil
}

// step is one part of a path: a key, and the list number behind it or -1.
type step struct {
	key   string
	index int
}

// parsePath takes "loads[2].power" apart.
func parsePath(path string) ([]step, error) {
	var steps []step
	for _, part := range strings.Split(path, ".") {
		s := step{key: part, index: -1}
		if key, rest, ok := strings.Cut(part, "["); ok {
			number, closed := strings.CutSuffix(rest, "]")
			n, err := strconv.Atoi(number)
			if !closed || err != nil || n < 0 {
				return nil, fmt.Errorf("%q is not a path", path)
			}
			s = step{key, n}
		}
		steps = append(steps, s)
	}
	return steps, nil
}
