package sheet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// handmadePlan is the plan of the hand-written relay circuit.
func handmadePlan(t testing.TB) plan.Plan {
	t.Helper()
	const name = "three-wire-relay.job.yaml"
	text, err := os.ReadFile(filepath.Join("..", "..", "trade", "circuit", "testdata", "circuits", name))
	if err != nil {
		t.Fatal(err)
	}
	return plan.Make(job.Read(name, text))
}

// handmadeProof is a proof written by hand: every kind of thing that a proof can hold, so that each is seen to be printed.
func handmadeProof() prove.Proof {
	remedy := explain.Say("fit a second stop contact in series, from {} up", 24*quantity.Volt)
	return prove.Proof{
		Report: prove.Report{
			Script: []prove.Step{{Action: "switch the main switch (Q1) on"}, {Action: "press Start (S2)", State: prove.State{Torque: true, Speed: 1, Lamps: []string{"P1"}, PulledIn: []string{"K1"}}},
				{Action: "turn to reverse", State: prove.State{Torque: true, Reverse: true, Speed: 0.5, Overload: "G1"}}, {Action: "push the emergency stop", State: prove.State{SafeOff: true}}},
			Whole: []prove.Fault{{Name: "the run switch stays on", Class: prove.StartsByItself, Sequence: []string{"switch off", "switch on"}, Seen: "the motor starts", Expected: "it stays at rest", Remedy: remedy}},
			Faults: []prove.Fault{
				{Name: "K1 contact 21-24 welded", Class: prove.StopLost, Sequence: []string{"press Start", "press Stop"}, Seen: "the motor keeps running", Expected: "the motor stops", Remedy: remedy},
				{Name: "S1:12 touches S1:11", Class: prove.HiddenDanger, With: "wire 2a bridged", Sequence: []string{"press Stop"}, Seen: "it stops"},
				{Name: "wire 1 is off S1:11", Class: prove.CannotStart}, {Name: "wire 2a is off S2:13", Class: prove.CannotStart}, {Name: "wire 0b is off P1:X2", Class: prove.IndicationLies}},
			Pairs:      []prove.Fault{{Name: "wire 2a bridged, and K1 stuck", Class: prove.RunsAway, Sequence: []string{"press Stop"}, Seen: "it runs on", Expected: "it stops"}},
			PairsTried: 120,
		},
		Meter: prove.MeterSheet{
			Before: []string{"pull the plug of the drive's control terminals", "lift wire L3b off G1:L"},
			Readings: []prove.Reading{
				{ID: "R1", From: circuit.Pin{Device: "G1", Terminal: "+"}, To: circuit.Pin{Device: "K1", Terminal: "11"}, Expect: prove.Band{Continuity: true, Most: 2}, Proves: "the stop button closes and wires 1, 2a, 2b are whole"},
				{ID: "R2", From: circuit.Pin{Device: "G1", Terminal: "+"}, To: circuit.Pin{Device: "G1", Terminal: "-"}, Settings: []prove.Setting{{Device: "S2", Position: "pressed"}},
					Expect: prove.Band{Least: 400, Most: 500, Nominal: 480}, Proves: "the start button reaches the coil"},
				{ID: "R3", From: circuit.Pin{Device: "S1", Terminal: "11"}, To: circuit.Pin{Device: "K1", Terminal: "24"}, Expect: prove.Band{Open: true, Least: 1e6}, Proves: "nothing is bridged"},
			},
			Mistakes: []prove.Mistake{{Name: "wire 1 is missing", CaughtBy: []int{0}}, {Name: "wires 2a and 2b swapped", Why: "they are one potential"}, {Name: "wires 3a and 3b swapped", Why: "they are one potential"}},
			Caught:   1, Bound: 2,
			Tests: []prove.Test{{ID: "B1", Kind: prove.BondingTest, Text: "ground bar to the bare plate", Expect: "below 0.1 Ω", Source: explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "18.2.2"}},
				{ID: "I1", Kind: prove.InsulationTest, Text: "motor leads to frame at 500 V", Expect: "above 1 MΩ", Caution: "The leads are off the drive: the test voltage destroys it."}},
		},
	}
}

// provedFixture is the sheet of the relay circuit with the proof by hand and readings taken.
func provedFixture(t testing.TB) Document {
	t.Helper()
	p := handmadePlan(t)
	proof := handmadeProof()
	p.Proof = &proof
	p.Taken = []prove.Taken{{Reading: "R1", Value: "beep", By: "A. B.", At: "2026-11-25 10:00", Meter: "the yellow one"}, {Reading: "R2", Value: "open"}}
	return Build(p, Options{Version: "0", Date: "2026-11-25"})
}

// TestTheProofIsOnTheSheet: whatever can hurt stands there in full, with what shows it and what removes it, and the rest by name.
func TestTheProofIsOnTheSheet(t *testing.T) {
	text := bare(writtenText(t, provedFixture(t), 2000, false))
	for _, want := range []string{
		"This circuit is dangerous with nothing broken: the run switch stays on.",
		"K1 contact 21-24 welded", "Stop lost: ", "press Start, then press Stop", "the motor keeps running, where the motor stops is right", "fit a second stop contact in series, from 24 V up",
		"nothing shows it, until this comes to it: wire 2a bridged", "doesn't start (2)", "wire 1 is off S1:11; wire 2a is off S2:13",
		"120 were tried; 1 is worse together than each by itself, of which 1 is dangerous", "wire 2a bridged, and K1 stuck",
		"R1: G1:+ to K1:11. The stop button closes and wires 1, 2a, 2b are whole", "beeps: below 2 Ω", "With S2 pressed", "R2: G1:+ to G1:-", "Nothing touched, every switch at rest", "480 Ω (400 Ω to 500 Ω)", "open: above 1 MΩ",
		"3 readings on the wired box with no power on it catch 1 of 3", "Fewer than 2 can't", "wires 2a and 2b swapped; wires 3a and 3b swapped", "pull the plug of the drive's control terminals",
		"the leads are off the drive: the test voltage destroys it", "ground bar to the bare plate", "IEC 60204-1, 2016, 18.2.2", "switch the main switch (Q1) on", "runs in reverse at 50 %; G1 is overloaded", "has no torque, and none can come",
	} {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(bare(want))) {
			t.Errorf("the sheet doesn't say %q", want)
		}
	}
}

// TestASheetWithoutAProofSaysSo, and how to come by it.
func TestASheetWithoutAProofSaysSo(t *testing.T) {
	p := handmadePlan(t)
	if text := writtenText(t, Build(p, Options{}), 200, false); !strings.Contains(text, "This part isn't worked out here") || !strings.Contains(text, "drivewright prove") {
		t.Error("a sheet without a proof doesn't say how to get one")
	}
	if text := writtenText(t, Build(p, Options{Proving: true}), 200, false); !strings.Contains(text, "Being worked out") {
		t.Error("a sheet whose proof is being worked out doesn't say so")
	}
}

// TestWhatIsWrittenByHandStandsOnPaper: the sections that only a screen needs hold nothing of the circuit that paper lacks.
func TestWhatIsWrittenByHandStandsOnPaper(t *testing.T) {
	p := handmadePlan(t)
	d := Build(p, Options{})
	paper := bare(writtenText(t, d, 2000, false))
	looked := 0
	for _, s := range d.Sections {
		if !s.OnScreen {
			continue
		}
		looked++
		if strings.Contains(writtenText(t, d, 2000, false), "\n"+s.Title+"\n") {
			t.Errorf("%q stands on paper", s.Title)
		}
	}
	for _, w := range p.Circuit.Circuit.Wires {
		for _, text := range []string{w.Name, w.From.String(), w.To.String()} {
			if !strings.Contains(paper, bare(text)) {
				t.Errorf("paper lacks %q of wire %s", text, w.Name)
			}
		}
	}
	for _, device := range p.Circuit.Circuit.Devices {
		if !strings.Contains(paper, bare(device.Tag+" "+device.Words)) {
			t.Errorf("paper lacks device %s", device.Tag)
		}
	}
	if looked < 4 {
		t.Errorf("got %d sections for the screen alone, want 4 at least", looked)
	}
}
