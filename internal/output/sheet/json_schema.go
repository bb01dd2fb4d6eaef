package sheet

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
)

// JSONSchema returns the JSON Schema (draft 2020-12) of what WriteJSON writes, made of the tags of the very types that are
// written.
func JSONSchema() []byte { return schemaText[jsonSheet]("drivewright sheet") }

// schemaText writes the schema of a type that is written as JSON.
func schemaText[T any](title string) []byte {
	root := schemaOf(reflect.TypeFor[T]())
	root.Schema = "https://json-schema.org/draft/2020-12/schema"
	root.Title = title
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(root); err != nil { // can't be: the type holds nothing that JSON lacks
		return nil
	}
	return b.Bytes()
}

// schema is as much of JSON Schema as a sheet needs.
type schema struct {
	Schema      string             `json:"$schema,omitempty"`
	Title       string             `json:"title,omitempty"`
	Description string             `json:"description,omitempty"`
	Type        string             `json:"type,omitempty"`
	Enum        []string           `json:"enum,omitempty"`
	Items       *schema            `json:"items,omitempty"`
	Properties  map[string]*schema `json:"properties,omitempty"`
	Required    []string           `json:"required,omitempty"`
	Additional  any                `json:"additionalProperties,omitempty"` // a schema, or false
}

func schemaOf(t reflect.Type) *schema {
	switch t.Kind() {
	case reflect.Pointer:
		return schemaOf(t.Elem())
	case reflect.Slice:
		return &schema{Type: "array", Items: schemaOf(t.Elem())}
	case reflect.Map:
		return &schema{Type: "object", Additional: schemaOf(t.Elem())}
	case reflect.Struct:
		s := &schema{Type: "object", Properties: map[string]*schema{}, Additional: no}
		for n := range t.NumField() {
			f := t.Field(n)
			name, option, _ := strings.Cut(f.Tag.Get("json"), ",")
			p := schemaOf(f.Type)
			p.Description = f.Tag.Get("help")
			if choices := f.Tag.Get("choices"); choices != "" {
				p.Enum = strings.Split(choices, ",")
			}
			s.Properties[name] = p
			if option != "omitempty" {
				s.Required = append(s.Required, name)
			}
		}
		return s
	case reflect.Bool:
		return &schema{Type: "boolean"}
	case reflect.Int:
		return &schema{Type: "integer"}
	case reflect.Float64:
		return &schema{Type: "number"}
	default:
		return &schema{Type: "string"}
	}
}

// no is the schema that nothing fits, written as JSON Schema does.
var no = json.RawMessage("false")
