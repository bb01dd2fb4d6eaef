package sheet

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

const schemaFile = "../../../schema/sheet.schema.json"

func TestTheCommittedSchemaIsFresh(t *testing.T) {
	if *update {
		if err := os.WriteFile(schemaFile, JSONSchema(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	committed, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(committed, JSONSchema()) {
		t.Errorf("%s is stale: run go test ./internal/output/sheet -update", schemaFile)
	}
}

// An independent validator finds every sheet in order, and a spoilt one not.
func TestSheetsKeepToTheSchema(t *testing.T) {
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(JSONSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("sheet.schema.json", parsed); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("sheet.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	check := func(text string) error {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return compiled.Validate(value)
	}
	all := documents(t)
	all["empty"] = Document{}
	for name, d := range all {
		if err := check(string(writtenJSON(t, d))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	good := string(writtenJSON(t, binderFixture(A4)))
	for what, spoilt := range map[string]string{
		"an unknown field":   strings.Replace(good, `"title"`, `"heading"`, 1),
		"an unknown word":    strings.Replace(good, `"severity": "danger"`, `"severity": "grave"`, 1),
		"a number as a text": strings.Replace(good, `"si": 40`, `"si": "40"`, 1),
	} {
		if spoilt == good {
			t.Errorf("%s: nothing was spoilt", what)
		} else if check(spoilt) == nil {
			t.Errorf("the schema lets %s pass", what)
		}
	}
}
