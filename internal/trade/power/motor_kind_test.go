package power

import (
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// TestSmallAuxiliaryIsNoVerdict: a coolant pump of 1/8 hp decides nothing about the spindle's drive; a second motor of the same
// size as the first does.
func TestSmallAuxiliaryIsNoVerdict(t *testing.T) {
	const mill = "drivewright: 1\nmachine: {motors: 2}\nsupply: {voltage: 240 V, phases: 1}\nmotor: {power: 2 hp, phases: 3, voltage: 220/440 V, current: 6.0/3.0 A}\nloads:\n  - {name: second, kind: three-phase motor, power: "
	for power, verdict := range map[string]bool{"1/8 hp": false, "2 hp": true} {
		r := Size(motorJob(t, mill+power+"}\n"))
		if got := len(r.Wrong) > 0; got != verdict {
			t.Errorf("a second motor of %s: wrong answer %v, want %v", power, got, verdict)
		}
	}
}

// TestTwoSpeedMotorIsSizedForTheLargerCurrent: whichever of the speeds has it.
func TestTwoSpeedMotorIsSizedForTheLargerCurrent(t *testing.T) {
	for _, amps := range []string{"8.2/7.1 A", "7.1/8.2 A"} {
		r := Size(motorJob(t, "drivewright: 1\nsupply: {voltage: 240 V, phases: 1}\nmotor: {power: 2 hp, phases: 3, voltage: 230 V, current: 6 A, leads: 6, speeds: 2, speed switch: fixed on one winding, speed currents: "+amps+"}\n"))
		near(t, "current of a motor of "+amps, r.Motor.Nameplate, 8.2, 0)
		if r.Drive.Output.Value < 8.2 {
			t.Errorf("%s: a drive of %v", amps, r.Drive.Output.Value)
		}
	}
}

// TestCapacitorMotorIsSeen: NFPA 70 Table 430.248 gives a single-phase motor of 1 hp 8 A at 230 V and 16 A at 115 V. One finding decides,
// and no other blocks.
func TestCapacitorMotorIsSeen(t *testing.T) {
	for _, plate := range []string{"voltage: 230 V, current: 8 A, leads: 4", "voltage: 115/230 V, current: 16/8 A", "voltage: 230 V, current: 6.5 A, leads: 4"} {
		r := Size(motorJob(t, "drivewright: 1\nrules: us\nsupply: {voltage: 240 V, phases: 1, breaker: 20 A, conductor: 12 AWG, run: 20 ft}\nmotor: {power: 1 hp, speed: 1725 rpm, frequency: 60 Hz, "+plate+"}\n"))
		found := explain.Judge(Rules(), explain.US, r)
		for _, f := range found {
			if f.Severity.Blocks() && f.Rule != "motor-may-be-single-phase" {
				t.Errorf("%s: %s also blocks: %s", plate, f.Rule, f.Message.Show(quantity.InchUnits))
			}
		}
		explain.SortFindings(found)
		if found[0].Rule != "motor-may-be-single-phase" {
			t.Errorf("%s: the first finding is %s", plate, found[0].Rule)
		}
	}
	if r := Size(motorJob(t, "drivewright: 1\nsupply: {voltage: 240 V, phases: 1}\nmotor: {power: 1 hp, phases: 3, voltage: 230 V, current: 3.4 A}\n")); notThreePhase(&r) {
		t.Error("a motor marked with three phases is taken for a single-phase one")
	}
}
