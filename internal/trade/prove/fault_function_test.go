package prove

import (
	"slices"
	"strings"
	"testing"
)

// TestEverythingThatAFaultDoes reasons by hand what a fault does besides the worst, in the circuit with two contactors for two ways: the contacts
// carry the motor's current, and each contactor's closed contact keeps the other one out.
func TestEverythingThatAFaultDoes(t *testing.T) {
	r := wordless(circuits(t)["reversing-contactors"], false)
	for _, row := range []struct {
		fault     string
		does, not []Class
		why       string
	}{
		{"K1 stays pulled in", []Class{StartsByItself, StopLost, WrongWay}, []Class{EmergencyStopLost},
			"the motor has power from the main switch on, no button takes it away, and start reverse can't pull K2 in past K1's open contact"},
		{"contact 13-14 of K1 doesn't open", []Class{StartsByItself, WrongWay}, []Class{StopLost},
			"the hold feeds the coil of K1 as soon as the power is on; stop lies ahead of it and still takes the coil's feed away"},
		{"contact 13-14 of S3 doesn't open", []Class{StartsByItself, WrongWay}, []Class{StopLost}, "it feeds the coil of K2 behind stop"},
		{"the coil of K1 is open", []Class{CannotStart}, []Class{StartsByItself, StopLost, WrongWay}, "what isn't pulled in drives nothing"},
	} {
		f := fault(t, r, row.fault)
		for _, c := range row.does {
			if _, shown := f.Showing(c); !f.Reaches.Has(c) || c < HiddenDanger && !shown {
				t.Errorf("%s: doesn't reach class %d, or doesn't show it: %s", row.fault, c, row.why)
			}
		}
		for _, c := range row.not {
			if f.Reaches.Has(c) {
				t.Errorf("%s: reaches class %d: %s", row.fault, c, row.why)
			}
		}
	}
}

// TestFunctionsCountEveryFault: what is said of a function counts the faults of which something worse is said, and a function that the
// circuit doesn't have isn't there.
func TestFunctionsCountEveryFault(t *testing.T) {
	for name, c := range circuits(t) {
		r := Break(c, false)
		for _, f := range r.Functions {
			var want []int
			for n := range r.Faults {
				if r.Faults[n].Reaches.Has(f.Lost) || r.Faults[n].Class == f.Lost {
					want = append(want, n)
				}
			}
			if !slices.Equal(f.By, want) || f.Tried != len(r.Faults) {
				t.Errorf("%s: class %d: got %d faults of %d, want %d of %d", name, f.Lost, len(f.By), f.Tried, len(want), len(r.Faults))
			}
		}
	}
	lost := func(name string, c Class) *Function {
		r := Break(testCircuit(t, name), false)
		if n := slices.IndexFunc(r.Functions, func(f Function) bool { return f.Lost == c }); n >= 0 {
			return &r.Functions[n]
		}
		return nil
	}
	if lost("seal-in", EmergencyStopLost) != nil {
		t.Error("a circuit without an emergency stop says what takes it away")
	}
	// Two contacts into two inputs: only a head that jams takes both away. Source: NFPA 79 and IEC 60204-1, 9.4, redundancy (from memory).
	r := wordless(testCircuit(t, "two-channel-stop"), false)
	for _, f := range r.Functions {
		if f.Lost == EmergencyStopLost && (len(f.By) != 1 || !strings.HasSuffix(r.Faults[f.By[0]].Name, "is jammed at rest")) {
			t.Errorf("two channels: got %d faults that take the emergency stop away, want the jammed head alone", len(f.By))
		}
	}
	if f := lost("maintained-switch", StartsByItself); f == nil || !f.Whole {
		t.Error("the maintained switch restarts with nothing broken, and it isn't said of the function")
	}
}
