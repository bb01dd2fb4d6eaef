package power

import (
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

const grinder = "drivewright: 1\nrules: us\nmachine: {load: 80 %}\nsupply: {voltage: 240 V, phases: 1, breaker: 30 A, conductor: 10 AWG, run: 28 ft}\n" +
	"motor: {power: 3 hp, voltage: 460 V, current: 4.4 A, leads: 3, frequency: 60 Hz}\n"

// TestNothingIsSizedForVoltsOutOfReach: a motor that only exists at 460 V on 240 V has no drive chosen and nothing sized for one,
// and each missing figure says that the voltage comes first.
func TestNothingIsSizedForVoltsOutOfReach(t *testing.T) {
	r := Size(motorJob(t, grinder))
	for what, k := range map[string]explain.Because{"drive": r.Drive.Name, "input current": r.Drive.Input, "branch current": r.Branch.Current, "device": r.Protection.Chosen, "disconnect": r.Disconnect.Size} {
		why := k.Why()
		if why.There() || !strings.Contains(why.Note.Show(quantity.InchUnits), "until the voltage is settled") && !strings.Contains(why.Note.Show(quantity.InchUnits), "needs") {
			t.Errorf("%s: %s (%s), want nothing until the voltage is settled", what, why.Show(quantity.InchUnits), why.Note.Show(quantity.InchUnits))
		}
	}
	if note := r.Drive.Name.Why().Note.Show(quantity.InchUnits); !strings.Contains(note, "until the voltage is settled") {
		t.Errorf("the drive is missing because %q", note)
	}
	light := Size(motorJob(t, strings.Replace(grinder, "load: 80 %", "load: 40 %", 1)))
	if !light.Drive.Name.OK() || !light.Branch.Least.OK() {
		t.Error("work that the power left does for has no drive sized")
	}
}

// TestVoltageComesFirst: with a drive of the user's own, whose wire and breaker can be judged whatever the voltage does, the
// finding about the voltage stands before those of its severity, and the motor's table current isn't scaled to the supply.
func TestVoltageComesFirst(t *testing.T) {
	f := job.Read("test", []byte(grinder+"drive: {input phases: 1, input voltage: 200-240 V, output current: 10 A, input current: 35 A, most overcurrent device: 20 A}\nbox: {overcurrent device: 30 A}\n"))
	r := Size(&f.Job)
	found := explain.Judge(Rules(), explain.US, r)
	explain.SortFindings(found)
	musts := 0
	for _, one := range found {
		if one.Severity == explain.Must {
			musts++
		}
	}
	if musts < 2 || found[0].Rule != "voltage-out-of-reach" {
		t.Errorf("%d musts, the first finding is %s: want the voltage before the others", musts, found[0].Rule)
	}
	if r.Protection.MotorCurrent.Value != 4.8 { // NFPA 70 Table 430.250, 3 hp at 460 V
		t.Errorf("the device's limit is taken from %v, want the table's 4.8 A", r.Protection.MotorCurrent.Value)
	}
}
