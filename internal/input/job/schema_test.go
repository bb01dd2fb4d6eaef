package job

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

const schemaFile = "../../../schema/job.schema.json"

// TestSchemaIsFresh fails when the committed schema is not what the struct tags say.
func TestSchemaIsFresh(t *testing.T) {
	if *update {
		if err := os.MkdirAll("../../../schema", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(schemaFile, Schema(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	committed, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(committed, Schema()) {
		t.Errorf("%s is stale: run go test ./internal/input/job -update", schemaFile)
	}
}

// compiled returns the schema in an independent validator.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("job.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// validate reads the job as an editor would, with another YAML reader, and validates it with another's validator.
func validate(t *testing.T, s *jsonschema.Schema, src string) error {
	t.Helper()
	var value any
	if err := yaml.Unmarshal([]byte(src), &value); err != nil {
		t.Fatalf("%q: %v", src, err)
	}
	return s.Validate(value)
}

func TestSchemaAccepts(t *testing.T) {
	s := compiled(t)
	for _, path := range wellFormed(t) {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := validate(t, s, string(src)); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
	for _, src := range []string{
		"motor:\n  enclosure: tefc\n", "motor:\n", "motor:\n  leads:\n", "supply:\n  raceway size: 1\n", "supply:\n  raceway size: 1-1/4\n", "box:\n  depth: 8-1/2\"\n",
		"machine:\n  duty: 0.4\n  load: 80%\n", "motor:\n  lead groups:\n    - [T1, T4]\n    - [2, 5]\n", "motor:\n  lead groups: [[U1, u2], [V1, V2]]\n", "drive:\n  input voltage: 200-240 V\n", "supply:\n  conductor: '#14'\n  cord: 2.5 mm²\n  service conductor: 4/0 AWG\n",
		"supply:\n  run: 35 ft 6 in\n", "supply:\n  run: 35'\n", "shop:\n  warmest: 95°F\n", "motor:\n  power: 1 1/2 hp\n", "motor:\n  power: ¾ hp\n", "motor:\n  frame: 184\n", "motor:\n  current: 13.2 A / 6.6 A\n",
		"costs:\n  rewind: 350\n", "motor:\n  winding resistance: 0.8 ohm\n", "supply:\n  receptacle: 6-30\n",
	} {
		if f := Read("x", []byte(src)); len(f.Problems) > 0 {
			t.Errorf("%q is no good example: %v", src, f.Problems[0].Message)
		}
		if err := validate(t, s, src); err != nil {
			t.Errorf("%q: %v", src, err)
		}
	}
}

func TestSchemaRejects(t *testing.T) {
	s := compiled(t)
	for _, c := range []struct{ name, src string }{
		{"misspelt key", "supply:\n  breakr: 30 A\n"},
		{"misspelt section", "suply:\n  breaker: 30 A\n"},
		{"no unit", "supply:\n  voltage: 240\n"},
		{"wrong unit", "supply:\n  voltage: 240 A\n"},
		{"wrong word", "machine:\n  kind: lathee\n"},
		{"section where a value belongs", "supply:\n  voltage:\n    size: 3 V\n"},
		{"value where a section belongs", "supply: 240 V\n"},
		{"list item that is no section", "loads:\n  - pump\n"},
		{"misspelt key in an item", "loads:\n  - nam: pump\n"},
		{"count out of range", "motor:\n  leads: 99\n"},
		{"half a motor", "machine:\n  motors: 1.5\n"},
		{"bad gauge", "supply:\n  conductor: 10\n"},
		{"lead thirteen", "motor:\n  lead groups: [[1,13]]\n"},
	} {
		if len(Read("x", []byte(c.src)).Problems) == 0 {
			t.Errorf("%s: the reader itself accepts %q", c.name, c.src)
		}
		if err := validate(t, s, c.src); err == nil {
			t.Errorf("%s: the schema accepts %q", c.name, c.src)
		}
	}
}

// TestPatternsAreAsLooseAsTheParser writes each field's example with every unit spelling of its kind.
func TestPatternsAreAsLooseAsTheParser(t *testing.T) {
	tried := 0
	format().walkSections(func(s *section) {
		for _, f := range s.fields {
			if f.sub != nil || f.sort != oneQuantity && f.sort != conductor && f.sort != voltages && f.sort != currents {
				continue
			}
			pattern, err := regexp.Compile(f.pattern())
			if err != nil {
				t.Fatalf("%s: %v", f.path, err)
			}
			if !pattern.MatchString(f.example()) {
				t.Errorf("%s: its pattern doesn't match its example %q", f.path, f.example())
			}
			for _, n := range []string{"3", "3 ", "1.5 ", "1e3", "1/2 ", "10-1/2 ", "10 1/2 ", "10½ ", "½", "-4 ", "−4 ", "+4 ", "4. "} {
				for _, u := range f.units() {
					if len(parseUnranged(f, n+u)) > 0 {
						continue
					}
					tried++
					if !pattern.MatchString(n + u) {
						t.Errorf("%s: its pattern doesn't match %q, which is read", f.path, n+u)
					}
				}
			}
		}
	})
	if tried < 1000 {
		t.Errorf("only %d spellings tried", tried)
	}
	if strings.Count(string(Schema()), `"pattern"`) < 50 {
		t.Error("the schema has hardly any patterns")
	}
}

// units lists the spellings to try behind a number.
func (f *field) units() []string {
	if f.sort == conductor {
		return []string{"AWG", "awg", "ga", "kcmil", "MCM", "mm²", "mm2", "mm^2", "sq mm", "qmm"}
	}
	list := quantity.UnitSpellings(f.kind)
	if quantity.Bare(f.kind) {
		list = append(list, "")
	}
	return list
}

// parseUnranged returns the mistakes in text as a value of f, whatever its range.
func parseUnranged(f *field, text string) []explain.Finding {
	free := *f
	free.ranged = false
	return parseAlone(&free, text)
}
