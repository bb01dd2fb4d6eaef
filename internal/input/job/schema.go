package job

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"

	"drivewright/internal/base/quantity"
)

// Schema returns the JSON Schema (draft 2020-12) of the file format, so that an editor completes keys, shows what each one
// means and marks what is wrong while one types. It is as loose as Read about spellings: what a pattern can't tell, such
// as whether a value lies in its range, only Read tells. Always the same bytes.
func Schema() []byte {
	root := format().schema()
	root = append(ordered{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", "drivewright job file"},
		{"description", "a machine, its motor and the supply, from which the sheet is made"},
	}, root...)
	var b bytes.Buffer
	root.write(&b, "")
	b.WriteByte('\n')
	return b.Bytes()
}

// ordered is a JSON object whose keys keep their order.
type ordered []pair

type pair struct {
	key   string
	value any
}

// write writes the object with its keys indented.
func (o ordered) write(b *bytes.Buffer, indent string) {
	b.WriteString("{")
	for n, p := range o {
		if n > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n" + indent + "  " + text(p.key) + ": ")
		write(b, p.value, indent+"  ")
	}
	b.WriteString("\n" + indent + "}")
}

func write(b *bytes.Buffer, value any, indent string) {
	switch v := value.(type) {
	case ordered:
		v.write(b, indent)
	case []ordered:
		b.WriteString("[")
		for n, o := range v {
			if n > 0 {
				b.WriteString(", ")
			}
			o.write(b, indent)
		}
		b.WriteString("]")
	case []string:
		var quoted []string
		for _, s := range v {
			quoted = append(quoted, text(s))
		}
		b.WriteString("[" + strings.Join(quoted, ", ") + "]")
	case string:
		b.WriteString(text(v))
	case bool:
		b.WriteString(map[bool]string{true: "true", false: "false"}[v])
	case json.Number:
		b.WriteString(v.String())
	}
}

// text returns s as a JSON string, with < and & as they are.
func text(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		return `""` // a string can always be encoded
	}
	return strings.TrimRight(b.String(), "\n")
}

// schema describes a section.
func (s *section) schema() ordered {
	var properties ordered
	for _, f := range s.fields {
		properties = append(properties, pair{f.key, f.schema()})
	}
	return ordered{{"type", []string{"object", "null"}}, {"additionalProperties", false}, {"properties", properties}}
}

// schema describes a key.
func (f *field) schema() ordered {
	switch {
	case f.list:
		return ordered{{"description", f.help}, {"type", []string{"array", "null"}}, {"items", f.sub.schema()}}
	case f.sub != nil:
		return append(ordered{{"description", f.help}}, f.sub.schema()...)
	}
	about := f.help
	if f.ranged {
		about += " (" + f.lowText + " to " + f.highText + ")"
	}
	o := ordered{{"description", about}}
	empty := ordered{{"type", "null"}}
	switch f.sort {
	case words:
		return append(o, pair{"anyOf", f.wordSchema(empty)})
	case freeText, severalWords:
		return append(o, pair{"type", []string{"string", "number", "boolean", "null"}})
	case leadGroups:
		lead := ordered{{"anyOf", []ordered{{{"type", "integer"}, {"minimum", json.Number("1")}, {"maximum", json.Number("12")}}, {{"type", "string"}, {"pattern", "^([Tt]?(0?[1-9]|1[0-2])|[UVWuvw][12])$"}}}}}
		return append(o, pair{"type", []string{"array", "null"}}, pair{"items", ordered{{"type", []string{"array", "null"}}, {"items", lead}}})
	case count:
		return append(o, pair{"anyOf", []ordered{
			{{"type", "integer"}, {"minimum", json.Number(f.lowText)}, {"maximum", json.Number(f.highText)}},
			{{"type", "string"}, {"pattern", `^\s*\+?[0-9]+\s*$`}}, empty}})
	case voltages, currents, conductor, oneQuantity:
	}
	o = append(o, pair{"examples", []string{f.example()}})
	forms := []ordered{{{"type", "string"}, {"pattern", f.pattern()}}}
	if f.sort == oneQuantity && quantity.Bare(f.kind) {
		forms = append(forms, ordered{{"type", "number"}})
	}
	return append(o, pair{"anyOf", append(forms, empty)})
}

// wordSchema lists the words as an editor offers them, and takes them in any capitals and spaces. A word made of digits may come as a
// number.
func (f *field) wordSchema(empty ordered) []ordered {
	var alternatives []string
	numbers := false
	for _, w := range f.words {
		if w[0] >= '0' && w[0] <= '9' && !strings.ContainsAny(w, "/- ") {
			numbers = true
		}
		var b strings.Builder
		for _, c := range w {
			upper, lower := strings.ToUpper(string(c)), strings.ToLower(string(c))
			switch {
			case c == ' ':
				b.WriteString(`\s*`)
			case upper != lower:
				b.WriteString("[" + upper + lower + "]")
			default:
				b.WriteString(regexp.QuoteMeta(string(c)))
			}
		}
		alternatives = append(alternatives, b.String())
	}
	forms := []ordered{{{"enum", f.words}}, {{"type", "string"}, {"pattern", `^\s*(` + strings.Join(alternatives, "|") + `)\s*$`}}}
	if numbers {
		forms = append(forms, ordered{{"type", "number"}})
	}
	return append(forms, empty)
}

// number is the pattern of a number as the parser reads it: 10, -40, 1.5, 1e3, 1/2, 10-1/2, 10 1/2, 10½.
const number = `[-+−]?([0-9]+\.?[0-9]*([eE][-+]?[0-9]+)?|\.[0-9]+|[½¼¾⅛⅜⅝⅞⅓⅔])([- ]*[0-9]*/[0-9]+|[- ]*[½¼¾⅛⅜⅝⅞⅓⅔])?`

// pattern returns a regular expression that every valid spelling of the field matches.
func (f *field) pattern() string {
	if f.sort == conductor {
		return `^\s*(#\s*([0-9]+|[1-4]/0)|(#\s*)?([0-9]+|[1-4]/0)\s*([Aa][Ww][Gg]|[Gg][Aa])|[0-9.]+\s*([Kk][Cc][Mm][Ii][Ll]|[Mm][Cc][Mm]|[Mm][Mm]²|[Mm][Mm]2|[Mm][Mm]\^2|[Ss][Qq] [Mm][Mm]|[Qq][Mm][Mm]))\s*$`
	}
	var units []string
	for _, u := range quantity.UnitSpellings(f.kind) {
		units = append(units, regexp.QuoteMeta(u))
	}
	unit := `\s*(` + strings.Join(units, "|") + `)`
	if quantity.Bare(f.kind) {
		unit += "?"
	}
	one := number + unit
	switch {
	case f.sort == voltages || f.sort == currents:
		each := number + `(` + unit + `)?`
		return `^\s*(` + each + `\s*[-/]\s*)*` + one + `\s*$`
	case f.kind == quantity.KindLength || f.kind == quantity.KindDuration || f.kind == quantity.KindMass:
		return `^\s*` + one + `(\s*` + one + `)*\s*$`
	}
	return `^\s*` + one + `\s*$`
}
