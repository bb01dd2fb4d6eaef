package plan_test

import (
	"os"
	"strings"
	"testing"

	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/prove"
)

// relayJob is the hand-written three-wire circuit of trade/circuit.
func relayJob(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../trade/circuit/testdata/circuits/three-wire-relay.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func made(text string) plan.Plan { return plan.Make(job.Read("relay.job.yaml", []byte(text))) }

// A circuit's mark changes with whatever the proof depends on, and with nothing else.
func TestCircuitMark(t *testing.T) {
	text := relayJob(t)
	first := made(text)
	mark := first.CircuitMark()
	if len(first.Circuit.Circuit.Wires) < 15 {
		t.Fatalf("only %d wires were read", len(first.Circuit.Circuit.Wires))
	}
	for what, change := range map[string][2]string{
		"a line above all":        {"drivewright: 1\n", "\n\ndrivewright: 1\n"},
		"the machine's name":      {"controls:\n", "machine: {name: the lathe by the window}\ncontrols:\n"},
		"a comment behind a wire": {`"S1:11"}`, `"S1:11"} # blue`},
	} {
		other := made(strings.Replace(text, change[0], change[1], 1))
		if got := other.CircuitMark(); got != mark {
			t.Errorf("%s changes the mark", what)
		}
	}
	seen := map[string]string{mark: "nothing"}
	for what, change := range map[string][2]string{
		"another contact":         {"11-12 closed", "11-12 open"},
		"a wire one terminal off": {`to: "K1:11"`, `to: "K1:21"`},
		"a wire's name":           {"name: 2a", "name: 2x"},
		"a coil's power":          {"power: 0.7 W", "power: 0.8 W"},
		"a place":                 {"tag: S2, kind: push button, does: start, at: door", "tag: S2, kind: push button, does: start, at: box"},
		"the drive's start logic": {"start logic: two-wire", "start logic: three-wire"},
		"a restart on power-up":   {"run on power-up: no", "run on power-up: yes"},
		"a wire left out":         {`  - {name: 0b, from: "P1:X2", to: "K1:A2"}` + "\n", ""},
		"the motor's resistance":  {"resistance: 1.2 ohm", "resistance: 1.3 ohm"},
	} {
		changed := strings.Replace(text, change[0], change[1], 1)
		if changed == text {
			t.Fatalf("%s: nothing to change", what)
		}
		other := made(changed)
		if before, same := seen[other.CircuitMark()]; same {
			t.Errorf("%s gives the mark of %s", what, before)
		}
		seen[other.CircuitMark()] = what
	}
}

// A proof that is taken over points at the lines where things stand now, and is itself left as it was.
func TestTakeProofMovesThePlaces(t *testing.T) {
	text := relayJob(t)
	first := made(text)
	wire := first.Circuit.Circuit.Wire("2a")
	if wire == nil || !first.Circuit.Circuit.Wires[0].Why.OK() {
		t.Fatal("the wires have no reason")
	}
	proof := prove.Proof{Report: prove.Report{Faults: []prove.Fault{{Name: "wire 2a is off", Place: wire.Why.Why()}, {Name: "somewhere"}}}}
	line := func(f prove.Fault) int {
		why := f.Place.Inputs
		for _, i := range why {
			if i.Span.Known() {
				return i.Span.Line
			}
		}
		return f.Place.Span.Line
	}
	before := line(proof.Report.Faults[0])
	later := made("# one\n# two\n# three\n" + text)
	later.TakeProof(proof)
	if got := line(later.Proof.Report.Faults[0]); before == 0 || got != before+3 {
		t.Errorf("the fault is at line %d, was at %d, want 3 further", got, before)
	}
	if later.Proof.Report.Faults[1].Place != nil || line(proof.Report.Faults[0]) != before {
		t.Error("a fault without a place got one, or the proof was changed")
	}
	// The wire has gone: its old place would be another thing's.
	gone := made(strings.Replace(text, "name: 2a", "name: 2x", 1))
	gone.TakeProof(proof)
	if got := line(gone.Proof.Report.Faults[0]); got != 0 {
		t.Errorf("a fault of a wire that has gone is at line %d", got)
	}
}
