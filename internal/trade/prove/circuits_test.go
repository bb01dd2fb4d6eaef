package prove

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// circuitOf reads a circuit from the text of a job file.
func circuitOf(t testing.TB, name, text string) *circuit.Circuit {
	t.Helper()
	file := job.Read(name, []byte(text))
	for _, p := range file.Problems {
		t.Fatalf("%s:%d: %s", name, p.Span.Line, p.Message.Show(quantity.InchUnits))
	}
	r := circuit.Make(circuit.Brief{Job: &file.Job})
	for _, m := range r.Mistakes {
		t.Fatalf("%s: %s: %s", name, m.Rule, m.Message.Show(quantity.InchUnits))
	}
	return &r.Circuit
}

// circuits returns the circuits of the example jobs and of the circuits that are written by hand for tests, by name.
func circuits(t testing.TB) map[string]*circuit.Circuit {
	t.Helper()
	all := map[string]*circuit.Circuit{}
	for _, pattern := range []string{"../../../examples/*.job.yaml", "../circuit/testdata/circuits/*.job.yaml", "testdata/circuits/*.job.yaml"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			all[strings.TrimSuffix(filepath.Base(name), ".job.yaml")] = circuitOf(t, name, string(text))
		}
	}
	if len(all) < 4 {
		t.Fatalf("got %d circuits, want the examples and at least one by hand", len(all))
	}
	return all
}
