package circuit_test

import (
	"os"
	"testing"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// TestCircuitByHand reads a circuit that was written by hand: every device and wire of it comes out, none is a mistake.
func TestCircuitByHand(t *testing.T) {
	text, err := os.ReadFile("testdata/circuits/three-wire-relay.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	file := job.Read("three-wire-relay.job.yaml", text)
	for _, p := range file.Problems {
		t.Errorf("line %d: %s", p.Span.Line, p.Message.Show(quantity.InchUnits))
	}
	r := circuit.Make(circuit.Brief{Job: &file.Job})
	for _, m := range r.Mistakes {
		t.Errorf("%s: %s", m.Rule, m.Message.Show(quantity.InchUnits))
	}
	if got, want := len(r.Circuit.Devices), len(file.Job.Devices); got != want {
		t.Errorf("got %d devices, want %d", got, want)
	}
	if got, want := len(r.Circuit.Wires), len(file.Job.Wires); got != want {
		t.Errorf("got %d wires, want %d", got, want)
	}
	if got := r.Circuit.Device("K1").Elements[0].Ohms; got < 822 || got > 824 {
		t.Errorf("got a relay coil of %v ohm, want 24² ÷ 0.7", got)
	}
}
