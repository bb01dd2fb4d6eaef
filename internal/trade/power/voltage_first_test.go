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

// TestStepUpFiguresAgree: transformer and drive of the way by a step-up transformer are sized from the same current. By hand: a
// typical 480 V drive of 8.8 A takes 11.4 A of three-phase input, on one phase at half its output 11.4 × 2 × ½ A; at 480 V that is
// 5.47 kVA, so 7.5 kVA, of which the primary takes 22.8 A at 240 V. NFPA 70 Table 450.3(B): 125 % of 7.5 kVA ÷ 240 V is 39 A, so 40 A.
func TestStepUpFiguresAgree(t *testing.T) {
	r := Size(motorJob(t, grinder))
	if shown(r.Voltage.StepUp.Value) != "7.5 kVA" {
		t.Errorf("transformer of %s, want 7.5 kVA", shown(r.Voltage.StepUp.Value))
	}
	for _, w := range r.Ways {
		if strings.HasPrefix(w.Name, "step-up") {
			if got := quantity.Apparent(240, w.Current.Value); got > r.Voltage.StepUp.Value {
				t.Errorf("the drive draws %s through a transformer of %s", shown(got), shown(r.Voltage.StepUp.Value))
			}
		}
	}
	way := ""
	for _, w := range r.Voltage.WaysOut {
		if text := w.Show(quantity.InchUnits); strings.HasPrefix(text, "a step-up") {
			way = text
		}
	}
	for _, said := range []string{"protect its primary by 40 A", "ground it at the transformer", "inrush"} {
		if !strings.Contains(way, said) {
			t.Errorf("the way out doesn't say %q: %s", said, way)
		}
	}
}

// TestWaysThatCannotWorkHaveNoFigures: 240 V across the line give a 460 V motor (240 ÷ 460)² = 27.2 % of its torque.
func TestWaysThatCannotWorkHaveNoFigures(t *testing.T) {
	for _, w := range Size(motorJob(t, grinder)).Ways {
		if w.Name != "rotary converter" && w.Name != "static converter" {
			continue
		}
		if w.Feasible || w.Size != nil || w.Input != nil || w.Device != nil || w.FullTorque != nil || w.LowSpeed != nil || w.Current.OK() {
			t.Errorf("%s can't make 460 V, yet has figures: %+v", w.Name, w)
		}
		if why := w.Why.Show(quantity.InchUnits); w.Name == "rotary converter" && !strings.Contains(why, "27.2 % of its torque") {
			t.Errorf("rotary converter: %s", why)
		}
	}
}

// TestStarPointConsequences: in delta a 460 V star motor takes 460 ÷ √3 = 265.6 V and 4.4 × √3 = 7.62 A; 240 V then give full
// torque up to 60 × 240 ÷ 265.6 = 54.2 Hz and 90.4 % of the power.
func TestStarPointConsequences(t *testing.T) {
	for _, w := range Size(motorJob(t, grinder)).Voltage.WaysOut {
		text := w.Show(quantity.InchUnits)
		if strings.Contains(text, "star point") {
			for _, said := range []string{"266 V", "7.62 A", "54.2 Hz", "90.4 %", "10.5 A"} {
				if !strings.Contains(text, said) && !strings.Contains(text, strings.Replace(said, "266", "265.6", 1)) {
					t.Errorf("the way by the star point doesn't say %s: %s", said, text)
				}
			}
			return
		}
	}
	t.Error("no way out by the star point")
}

// TestConverterOfOneFixedMotor: NFPA 70 455.6(A)(2) asks 250 % of a fixed load's full-load current: 15.2 × 2.5 = 38 A for 5 hp at
// 230 V, which 8 AWG carries. For changing loads 455.6(A)(1) asks 125 % of the converter's own input: 62 × 1.25 = 77.5 A, 4 AWG.
func TestConverterOfOneFixedMotor(t *testing.T) {
	const lathe = "drivewright: 1\nrules: us\nmachine: {motors: 1, start: loaded}\nsupply: {voltage: 240 V, phases: 1, terminals: 75 °C, insulation: THHN}\nmotor: {power: 5 hp, voltage: 230/460 V, current: 13.4/6.7 A}\n"
	for motors, want := range map[string]string{"motors: 1": "8 AWG", "motors: 2": "4 AWG"} {
		for _, w := range Size(motorJob(t, strings.Replace(lathe, "motors: 1", motors, 1))).Ways {
			if w.Name == "rotary converter" && (w.Conductor == nil || shown(w.Conductor) != want) {
				t.Errorf("%s: conductor %v, want %s", motors, w.Conductor, want)
			}
		}
	}
}

// TestNoStarterForVoltsOutOfReach: on a three-phase supply of 240 V a 380 V motor gets no advice to use a starter, and the transformer
// of the way out has three phases, with a drive that isn't derated.
func TestNoStarterForVoltsOutOfReach(t *testing.T) {
	r := Size(motorJob(t, "drivewright: 1\nmachine: {load: 90 %}\nsupply: {voltage: 240 V, phases: 3}\nmotor: {power: 1 hp, phases: 3, voltage: 380-415 V, current: 1.8 A, leads: 3}\n"))
	if found := explain.Judge([]explain.Rule[Result]{threePhaseSupply}, explain.US, r); len(found) > 0 {
		t.Errorf("the voltage is out of reach, yet: %s", found[0].Remedy.Show(quantity.InchUnits))
	}
	transformer := ""
	for _, w := range r.Voltage.WaysOut {
		if text := w.Show(quantity.InchUnits); strings.Contains(text, "step-up transformer to 480 V") {
			transformer = text
		}
	}
	if !strings.HasPrefix(transformer, "a three-phase") || strings.Contains(transformer, "half") {
		t.Errorf("the way out by a transformer is %q", transformer)
	}
}
