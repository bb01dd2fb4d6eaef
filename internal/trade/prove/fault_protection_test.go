package prove

import "testing"

// TestWhatTheEmergencyStopLeavesOn reasons by hand on the drum sander: its emergency stop ramps by contact 11-12 and cuts the power of drive
// and feed belt by 21-22 and the contactor. What keeps that power on leaves the feed belt running while the motor stops: the
// emergency stop is lost for a load (ISO 13850, 4.1.1: every dangerous movement stops, from memory). With 11-12 welded
// the motor is driven until the delay has run out.
func TestWhatTheEmergencyStopLeavesOn(t *testing.T) {
	r := wordless(circuits(t)["drum-sander"], false)
	for _, name := range []string{"contact 21-22 of PB2 doesn't open", "CON1 stays pulled in", "TR1 stays pulled in", "CON2 stays pulled in"} {
		if f := fault(t, r, name); f.Class != EmergencyStopLost || !f.LoadOnly {
			t.Errorf("%s: got class %d, for a load only %v, want %d, true: %s", name, f.Class, f.LoadOnly, EmergencyStopLost, f.Seen)
		}
	}
	if f := fault(t, r, "contact 11-12 of PB2 doesn't open"); f.Class != StopsLate || f.LoadOnly {
		t.Errorf("11-12 of PB2: got class %d, want %d: %s", f.Class, StopsLate, f.Seen)
	}
	if f := fault(t, r, "PB2 is jammed"); f.Class != EmergencyStopLost || f.LoadOnly {
		t.Errorf("a jammed head: got class %d, for a load only %v: the motor runs on as well", f.Class, f.LoadOnly)
	}
	for _, f := range r.Functions {
		if f.Lost == EmergencyStopLost && (f.LoadsOnly == 0 || f.LoadsOnly >= len(f.By)) {
			t.Errorf("of %d faults that take the emergency stop away %d leave only a load on", len(f.By), f.LoadsOnly)
		}
	}
}

// TestProtectionLost: a bridged fuse changes nothing until the next short, and a second bond of the neutral in the machine nothing
// until the neutral comes loose. Source: IEC 60204-1, 5.1 and 7.2, from memory.
func TestProtectionLost(t *testing.T) {
	r := wordless(circuits(t)["drum-sander"], false)
	if f := fault(t, r, "FU3 is bridged"); f.Class != ProtectionLost || f.With == "" || f.Remedy.Empty() || !f.Class.Dangerous() {
		t.Errorf("a bridged fuse: got class %d with %q", f.Class, f.With)
	}
	r = wordless(circuitOf(t, "iec", `drivewright: 1
rules: iec
machine: {start and stop: buttons at the drive terminals}
supply: {voltage: 230 V, system: line and neutral}
controls: {emergency stop: safe torque off, power lamp: yes, supply: a power supply}
`), false)
	if f := fault(t, r, "terminals N and PE of XS1 touch"); f.Class != ProtectionLost || f.With == "" {
		t.Errorf("neutral on ground: got class %d with %q", f.Class, f.With)
	}
	// A lamp that is dark on a dead machine says the truth.
	for _, name := range []string{"terminals L and N of XS1 touch", "XS1 gives no", "wire U"} {
		if f := fault(t, r, name); f.Class != StopsByItself && f.Class != CannotStart {
			t.Errorf("%s: got class %d: %s, %v", name, f.Class, f.Seen, f.Sequence)
		}
	}
}
