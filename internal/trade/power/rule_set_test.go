package power

import (
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

const german = "drivewright: 1\nrules: iec\nsupply: {voltage: 230 V, phases: 1, frequency: 50 Hz, breaker: 16 A, run: 20 m, conductor: 4 mm2}\n" +
	"motor: {power: 1.1 kW, phases: 3, voltage: 230/400 V, current: 4.5/2.6 A, frequency: 50 Hz}\n"

// TestNoOtherSetsFigureStandsInAnIECJob: nothing that is shown of an IEC job is taken from NFPA 70, whose tables and horsepower ratings
// aren't its own; raceway and grounding figures that only NFPA 70 gives are missing.
func TestNoOtherSetsFigureStandsInAnIECJob(t *testing.T) {
	r := Size(motorJob(t, german+"loads:\n  - {name: pump, kind: single-phase motor, power: 0.2 kW, voltage: 230 V, fuse: 2 A}\n"))
	for what, k := range map[string]explain.Because{"other loads": r.Branch.Others, "horsepower of the disconnect": r.Disconnect.Horsepower, "kind of disconnect": r.Disconnect.Category,
		"resistance of the run": r.Drop.Resistance, "drop": r.Drop.Running} {
		if from := nfpaIn(k.Why()); from != "" {
			t.Errorf("%s rests on %s", what, from)
		}
	}
	if r.Disconnect.Horsepower.OK() || strings.Contains(string(r.Disconnect.Category.Value), "horsepower") {
		t.Errorf("the disconnect is asked for by horsepower: %v, %s", r.Disconnect.Horsepower.Value, r.Disconnect.Category.Value)
	}
	for _, w := range r.Ways {
		if w.Name == newMotorName && (w.Input != nil || !w.Feasible) {
			t.Errorf("the single-phase motor has an input current of %v, want none from another set's table", w.Input)
		}
	}
}

// nfpaIn returns the first source below the reason that is NFPA 70, "" if none is.
func nfpaIn(r *explain.Reason) string {
	if strings.HasPrefix(r.Source.Work, "NFPA 70") {
		return r.Name + ": " + r.Source.String()
	}
	for _, i := range r.Inputs {
		if from := nfpaIn(i.Reason); from != "" {
			return from
		}
	}
	return ""
}

// TestMetricConductorsAreAsResistiveAsTheirStandardAllows: IEC 60228 allows 4 mm² 4.61 Ω/km at 20 °C, which is 5.61 Ω/km at 75 °C.
func TestMetricConductorsAreAsResistiveAsTheirStandardAllows(t *testing.T) {
	got := explain.Derive[quantity.LinearResistance](conductorResistance, "resistance",
		explain.Constant("conductor", quantity.SquareMillimetres(4), explain.Source{}), explain.Constant[quantity.Text]("make", "stranded", explain.Source{}))
	near(t, "4 mm² at 75 °C", got, 5.61*quantity.OhmPerKilometre, 0.005*quantity.OhmPerKilometre)
}

// TestTypeLetters: in a US job the letter of a residual-current device stands only where one is written, since class A is something
// else there; the letter that the drive's maker asks for comes before the one that its rectifier asks for.
func TestTypeLetters(t *testing.T) {
	const us = "drivewright: 1\nrules: us\nsupply: {voltage: 240 V, phases: 1, ground-fault protection: class A 5 mA}\nmotor: {power: 1 hp, phases: 3, voltage: 230/460 V, current: 3.4/1.7 A}\n"
	if k := Size(motorJob(t, us)).Leakage.Type; k.OK() || k.Why().Origin != explain.NotNeeded {
		t.Errorf("a US job asks for type %s beside class A", k.Value)
	}
	if k := Size(motorJob(t, german)).Leakage.Type; k.Value != "A or F at least" {
		t.Errorf("an IEC job asks for type %s", k.Value)
	}
	for there, blind := range map[string]bool{"AC": true, "A": true, "F": true, "B": false} {
		f := job.Read("test", []byte(strings.Replace(german, "conductor: 4 mm2", "ground-fault protection: 30 mA, ground-fault type: "+there, 1)+
			"drive: {input phases: 1, output current: 6 A, input current: 12 A, ground-fault type asked for: B}\n"))
		if len(f.Problems) > 0 {
			t.Fatal(f.Problems[0].Message.Show(quantity.InchUnits))
		}
		found := explain.Judge([]explain.Rule[Result]{groundFaultBlind}, explain.IEC, Size(&f.Job))
		if (len(found) > 0) != blind {
			t.Errorf("type %s where the drive's maker asks for B: %d findings", there, len(found))
		}
	}
}
