package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// TestCircuitFormatIsDocumented holds CIRCUITS.md to the program: its table names every kind of device with the terminals and
// positions that it really has, its list every role, and its circuit runs as it says.
func TestCircuitFormatIsDocumented(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "CIRCUITS.md"))
	if err != nil {
		t.Fatal(err)
	}
	words := map[string][]string{}
	for _, f := range job.Fields() {
		words[f.Path] = f.Words
	}
	row := regexp.MustCompile(`(?m)^\| ([a-z ]+) \| ([^|]*?) ?\| ?([^|]*?) ?\| ?([^|]*?) ?\|$`)
	shown := map[string][]string{}
	for _, m := range row.FindAllStringSubmatch(string(text), -1) {
		shown[m[1]] = m
	}
	for _, kind := range words["devices[].kind"] {
		m := shown[kind]
		if m == nil {
			t.Errorf("the table has no row for the kind %q", kind)
			continue
		}
		spec := circuit.Spec{Tag: "X", Ohms: 1}
		if kind == string(circuit.TerminalBlock) {
			spec.Terminals = []string{"1"}
		}
		d, err := circuit.NewDevice(circuit.Kind(kind), spec)
		if err != nil {
			continue // a drive is made of its own sections
		}
		if want := strings.Join(d.Terminals, ", "); kind != string(circuit.TerminalBlock) && !strings.HasPrefix(m[2], want) {
			t.Errorf("%s: the table says terminals %q, it has %q", kind, m[2], want)
		}
		if want := strings.Join(d.Positions, ", "); m[4] != want {
			t.Errorf("%s: the table says positions %q, it has %q", kind, m[4], want)
		}
	}
	list := strings.Join(strings.Fields(string(text[strings.Index(string(text), "`does` is one of:"):])), " ")
	for _, role := range words["devices[].does"] {
		if !strings.Contains(list, role) {
			t.Errorf("the list of what a device does lacks %q", role)
		}
	}
	example := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindSubmatch(text)
	if example == nil {
		t.Fatal("no circuit is shown")
	}
	file := job.Read("circuit.job.yaml", example[1])
	for _, p := range file.Problems {
		t.Errorf("line %d of the circuit: %s", p.Span.Line, p.Message.Show(quantity.InchUnits))
	}
	p := plan.Make(file)
	for _, m := range p.Circuit.Mistakes {
		t.Error(m.Message.Show(quantity.InchUnits))
	}
	p.Prove()
	for _, f := range p.Findings {
		if f.Severity.Blocks() {
			t.Errorf("the circuit that is shown isn't one to copy: %s", f.Message.Show(quantity.InchUnits))
		}
	}
	for _, want := range []struct {
		action string
		in     bool
	}{{"let go of start", true}, {"press stop", false}} {
		n := slices.IndexFunc(p.Proof.Report.Script, func(s prove.Step) bool { return strings.HasPrefix(s.Action, want.action) })
		if n < 0 {
			t.Fatalf("the script has no step %q", want.action)
		}
		if got := slices.Contains(p.Proof.Report.Script[n].State.PulledIn, "K1"); got != want.in {
			t.Errorf("%s: got the relay in: %v, want %v", want.action, got, want.in)
		}
	}
}
