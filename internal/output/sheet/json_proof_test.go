package sheet

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/prove"
)

const proofSchemaFile = "../../../schema/proof.schema.json"

func proofJSON(t *testing.T, p plan.Plan) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteProofJSON(&b, p, Options{Version: "0"}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestTheCommittedProofSchemaIsFresh(t *testing.T) {
	if *update {
		if err := os.WriteFile(proofSchemaFile, ProofJSONSchema(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	committed, err := os.ReadFile(proofSchemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(committed, ProofJSONSchema()) {
		t.Errorf("%s is stale: run go test ./internal/output/sheet -update", proofSchemaFile)
	}
}

// An independent validator finds proofs in order, those worked out and one by hand with everything in it, and a spoilt one not.
func TestProofsKeepToTheSchema(t *testing.T) {
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(ProofJSONSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("proof.schema.json", parsed); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("proof.schema.json")
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
	none, worked, byHand := handmadePlan(t), handmadePlan(t), handmadePlan(t)
	worked.Prove()
	proof := handmadeProof()
	byHand.Proof = &proof
	for name, p := range map[string]plan.Plan{"none": none, "worked out": worked, "by hand": byHand} {
		if err := check(string(proofJSON(t, p))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	good := string(proofJSON(t, byHand))
	for what, spoilt := range map[string]string{
		"an unknown field":   strings.Replace(good, `"coverage"`, `"cover"`, 1),
		"an unknown word":    strings.Replace(good, `"kind": "beep"`, `"kind": "ring"`, 1),
		"a number as a text": strings.Replace(good, `"most_ohm": 500`, `"most_ohm": "500"`, 1),
	} {
		if spoilt == good {
			t.Errorf("%s: nothing was spoilt", what)
		} else if check(spoilt) == nil {
			t.Errorf("the schema lets %s pass", what)
		}
	}
}

// The figures of the data are those of the proof: counted once more here, from the other end.
func TestTheProofAsDataCounts(t *testing.T) {
	p := handmadePlan(t)
	p.Prove()
	var out struct {
		Coverage struct {
			Faults, Dangerous, Mistakes, Readings int
			Caught                                int `json:"mistakes_caught"`
		}
		Classes []struct {
			Class     string
			Faults    int
			Dangerous bool
		}
		Faults   []struct{ Class string }
		Readings []struct{ ID string }
		Mistakes []struct {
			CaughtBy []string `json:"caught_by"`
			Why      string   `json:"not_caught_because"`
		}
	}
	if err := json.Unmarshal(proofJSON(t, p), &out); err != nil {
		t.Fatal(err)
	}
	byClass, dangerous := map[string]int{}, 0
	for _, f := range out.Faults {
		byClass[f.Class]++
	}
	for _, c := range out.Classes {
		if byClass[c.Class] != c.Faults {
			t.Errorf("%s: got %d faults, want %d", c.Class, c.Faults, byClass[c.Class])
		}
		if c.Dangerous {
			dangerous += c.Faults
		}
	}
	caught := 0
	known := map[string]bool{}
	for _, r := range out.Readings {
		known[r.ID] = true
	}
	for _, m := range out.Mistakes {
		for _, id := range m.CaughtBy {
			if !known[id] {
				t.Errorf("a mistake is caught by %q, which is no reading", id)
			}
		}
		if len(m.CaughtBy) > 0 {
			caught++
		} else if m.Why == "" {
			t.Error("a mistake isn't caught, and nothing says why")
		}
	}
	c := out.Coverage
	if c.Faults != len(out.Faults) || c.Dangerous != dangerous || c.Mistakes != len(out.Mistakes) || c.Readings != len(out.Readings) || c.Caught != caught || c.Faults < 50 || c.Readings < 5 {
		t.Errorf("got %+v, want %d faults, %d dangerous, %d mistakes, %d caught, %d readings", c, len(out.Faults), dangerous, len(out.Mistakes), caught, len(out.Readings))
	}
}

// Every class has words of its own.
func TestEveryClassHasWords(t *testing.T) {
	seen := map[string]bool{}
	for c := prove.StartsByItself; c <= prove.Harmless; c++ {
		if words := classWords[c]; words == "" || seen[words] {
			t.Errorf("class %d is called %q", c, words)
		}
		seen[classWords[c]] = true
	}
}

// The simulation runs on all cores: whatever order its work is done in, the same job gives the same bytes.
func TestTheSameJobGivesTheSameProof(t *testing.T) {
	src, err := os.ReadFile("../../../examples/drum-sander.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	made := func() []byte {
		p := plan.Make(job.Read("drum-sander.job.yaml", src))
		p.ProvePairs()
		return proofJSON(t, p)
	}
	first := made()
	if len(first) < 100_000 {
		t.Errorf("only %d bytes: there is nothing to compare", len(first))
	}
	for range 2 {
		if !bytes.Equal(made(), first) {
			t.Fatal("two runs give two proofs")
		}
	}
}
