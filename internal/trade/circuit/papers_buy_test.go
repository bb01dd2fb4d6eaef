package circuit_test

import (
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// TestTheBoxHasItsOwnPlateAndWarnings: NFPA 79, 16.4, and IEC 60204-1, 16.4 (from memory), ask a name plate for volts, phases, hertz, full-load
// current and short-circuit rating; NFPA 79, 5.3.5 and 16.2 (from memory) ask a warning where more than one supply must be switched off.
func TestTheBoxHasItsOwnPlateAndWarnings(t *testing.T) {
	file := job.Read("two.job.yaml", []byte(`drivewright: 1
rules: us
supply: {voltage: 240 V, phases: 1, frequency: 60 Hz, system: split-phase, breaker: 30 A}
motor: {power: 3 hp}
loads: [{name: dust collector, voltage: 240 V, fed from: another circuit, runs: with the motor, power: 1 hp, kind: single-phase motor}]
`))
	for _, p := range file.Problems {
		t.Fatal(p.Message.Show(quantity.InchUnits))
	}
	r := circuit.Make(circuit.Brief{Job: &file.Job, Set: explain.US, Supply: job.Known(file.Job.Supply.Voltage), Input: explain.Constant("input", 18*quantity.Ampere, explain.Practice("test"))})
	p := circuit.MakePapers(&r.Circuit, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
	p.NamePlate(r.Brief)
	text := cells(p.List("labels", quantity.InchUnits))
	for _, want := range []string{"Supply: 240 V, 1 phase, 60 Hz", "Full-load current, drive: 18 A. Largest motor: 3 hp", "Short-circuit rating: ______ kA", "Fed from 2 places: XS1, XS2"} {
		if !strings.Contains(text, want) {
			t.Errorf("no label says %q:\n%s", want, text)
		}
	}
}

// unsizedJob is a European machine of which Power can't size the wires; where is what stands written of them.
func unsizedJob(t *testing.T, supply, motor string) circuit.Papers {
	t.Helper()
	file := job.Read("unsized.job.yaml", []byte(`drivewright: 1
rules: iec
machine: {start and stop: buttons at the drive terminals}
supply: {voltage: 230 V, phases: 1, system: line and neutral, neutral: yes, run: 20 m`+supply+`}
motor: {power: 1.5 kW, cable: 3 m, cable screened: yes`+motor+`}
controls: {supply: a power supply, reverse by: selector switch}
stations:
  - {name: apron, kind: box on the machine, has: "start, stop, emergency stop, reverse", cable: 4 m, metal box: yes, bonded: yes}
`))
	for _, p := range file.Problems {
		t.Fatal(p.Message.Show(quantity.MetricUnits))
	}
	r := circuit.Make(circuit.Brief{Job: &file.Job, Set: explain.IEC, Supply: job.Known(file.Job.Supply.Voltage)})
	return circuit.MakePapers(&r.Circuit, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
}

// cells returns a list's note and rows as one text.
func cells(l circuit.List) string {
	text := l.Note
	for _, row := range l.Rows {
		text += "\n" + strings.Join(row, "|")
	}
	return text
}

// TestNothingToBuyWithoutASize: where nobody knows a size, the wire list, the parts list and the order of work say so, with why; a size
// that stands in the job is taken, and the ground wire is as thick as the conductors beside it (IEC 60204-1, 5.2, Table 1, from memory: up to
// 16 mm² the same).
func TestNothingToBuyWithoutASize(t *testing.T) {
	p := unsizedJob(t, "", "")
	for _, name := range []string{"wires", "parts", "order"} {
		text := cells(p.List(name, quantity.MetricUnits))
		if strings.Contains(text, "|—|") || !strings.Contains(text, "not known") {
			t.Errorf("%s: a size that nobody knows isn't told:\n%s", name, text)
		}
	}
	if note := p.List("wires", quantity.MetricUnits).Note; !strings.Contains(note, "Size not known of ") || !strings.Contains(note, "PEb") {
		t.Errorf("the wire list doesn't say which sizes are wanting: %q", note)
	}
	p = unsizedJob(t, ", conductor: 2.5 mm²", ", cable conductor: 1.5 mm²")
	wires, parts := cells(p.List("wires", quantity.MetricUnits)), cells(p.List("parts", quantity.MetricUnits))
	if strings.Contains(wires+parts, "not known") {
		t.Errorf("the sizes of the job aren't taken:\n%s\n%s", wires, parts)
	}
	for _, want := range []string{"|2.5 mm²|green-and-yellow|20 m", "|2.5 mm²|black|20 m"} {
		if !strings.Contains(wires, want) {
			t.Errorf("no wire %q in\n%s", want, wires)
		}
	}
}

// TestPartsSayWhatToAskFor: a numbered cable is sold with a green-and-yellow core or without (IEC 60445); a fuse on direct current
// must break direct current (IEC 60127 and UL 248 rate the two apart); a selector's contacts are of two kinds. Common practice.
func TestPartsSayWhatToAskFor(t *testing.T) {
	p := unsizedJob(t, "", "")
	parts := cells(p.List("parts", quantity.MetricUnits))
	for _, want := range []string{"one of them green-and-yellow", "1 A, for 24 V DC or more, with its holder", "which fuse behind it blows on a short", "2 A, for 230 V AC or more, with its holder",
		"2 positions that stay, 1 normally closed, 1 normally open", "gland or conduit fitting|to suit the cable or conduit of the supply|1|XS1"} {
		if !strings.Contains(parts, want) {
			t.Errorf("the parts list doesn't say %q:\n%s", want, parts)
		}
	}
}
