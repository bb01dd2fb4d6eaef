package prove

import (
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// wallJob is a lathe on a wall's line and neutral, hard-wired or on a plug.
const wallJob = `drivewright: 1
rules: iec
machine: {start and stop: buttons at the drive terminals}
supply: {voltage: 230 V, phases: 1, system: line and neutral, neutral: yes, run: 20 m, CONNECTION}
motor: {power: 1.5 kW, cable: 3 m}
controls: {emergency stop: safe torque off, supply: a power supply}
stations:
  - {name: apron, kind: box on the machine, has: "HAS", cable: 4 m, metal box: yes, bonded: yes}
`

func wall(t *testing.T, connection, has string) MeterSheet {
	t.Helper()
	text := strings.NewReplacer("CONNECTION", connection, "HAS", has).Replace(wallJob)
	if !strings.Contains(has, "stop,") {
		text = strings.Replace(text, "buttons at the drive terminals", "maintained switch at the drive terminals", 1)
	}
	file := job.Read("wall", []byte(text))
	for _, p := range file.Problems {
		t.Fatal(p.Message.Show(quantity.MetricUnits))
	}
	r := circuit.Make(circuit.Brief{Job: &file.Job, Set: explain.IEC, Supply: job.Known(file.Job.Supply.Voltage)})
	return Meter(&r.Circuit)
}

func testsSaid(sheet MeterSheet, kind TestKind) string {
	var lines []string
	for _, test := range sheet.Tests {
		if test.Kind == kind {
			lines = append(lines, test.Text+" -> "+test.Expect)
		}
	}
	return strings.Join(lines, "\n")
}

// inOrder reports the first text that doesn't come behind those before it; "" where all do.
func inOrder(text string, wanted ...string) string {
	at := 0
	for _, w := range wanted {
		next := strings.Index(text[at:], w)
		if next < 0 {
			return w
		}
		at += next
	}
	return ""
}

// TestNoProbeAtTheOtherEndOfTheFeeder: in a house neutral and ground are one at the service (NFPA 70, 250.24; IEC 60364-1, TN systems), so
// a feeder that is joined makes neutral to ground read 0; and its source end is in another room. So no reading and no test of the dead box
// probes it, none counts on it, the box's ends of it are still tried to ground and against each other, and the sheet says so first. A plug is in
// the hand.
func TestNoProbeAtTheOtherEndOfTheFeeder(t *testing.T) {
	sheet := wall(t, "connection: hard-wired", "start, stop, emergency stop")
	ahead := false
	for _, r := range sheet.Readings {
		if r.From.Device == "XS1" || r.To.Device == "XS1" || strings.Contains(r.Proves, "wires L,") || strings.Contains(r.Proves, "wire L ") {
			t.Errorf("%s: %s to %s counts on the feeder: %s", r.ID, r.From, r.To, r.Proves)
		}
		ahead = ahead || r.From.String() == "Q1:1" || r.To.String() == "Q1:1"
	}
	if !ahead {
		t.Error("nothing is measured at Q1:1, where the feeder will be joined")
	}
	if before := strings.Join(sheet.Before, "\n"); !strings.Contains(before, "nothing from it on Q1:1, Q1:3 and XPE1:1") {
		t.Errorf("the sheet doesn't say that the feeder is off:\n%s", before)
	}
	if insulation := testsSaid(sheet, InsulationTest); !strings.Contains(insulation, "Q1:1 and Q1:3 joined") || strings.Contains(insulation, "XS1") {
		t.Errorf("500 V may go up the feeder: %s", insulation)
	}
	if bonds := testsSaid(sheet, BondingTest); !strings.Contains(bonds, "when the supply is joined") || !strings.Contains(bonds[strings.LastIndex(bonds, "\n"):], "nobody said its size") {
		t.Errorf("20 m of wire are held against 0.1 ohm: %s", bonds)
	}
	plugged := wall(t, "connection: cord and plug, cord length: 3 m", "start, stop, emergency stop")
	proved := ""
	for _, r := range plugged.Readings {
		proved += r.From.String() + " " + r.To.String() + " "
	}
	if !strings.Contains(proved, "XS1:L ") || !strings.Contains(testsSaid(plugged, InsulationTest), "XS1:L and XS1:N joined") {
		t.Errorf("the cord isn't proved through its plug: %s", proved)
	}
}

// TestFirstPowerComesByWholeSteps: the supply before the drive, the drive before anything hangs on it, the settings before the terminals.
// Source: common practice; drive booklets. A direct-current link stands at √2 times the volts of its supply.
func TestFirstPowerComesByWholeSteps(t *testing.T) {
	power := testsSaid(wall(t, "connection: hard-wired", "start, stop, emergency stop, speed"), PowerTest)
	if missing := inOrder(power, "motor leads off T1", "main switch off", "Q1:1 to Q1:3 about 230 V; Q1:1 to the ground bar about 230 V; Q1:3 to the ground bar some volts",
		"T2:+", "T1:L1 and T1:L2", "1.4 times", "control terminals of T1 still off", "settings entered and read back", "run on power-up", "control terminals on",
		"motor leads still off, no start"); missing != "" {
		t.Errorf("%q doesn't come where it should in\n%s", missing, power)
	}
}

// TestFunctionsTryWhatTheyMust: a switch that stays isn't pressed and is left on through the emergency stop (IEC 60204-1, 9.2.3.2 and 10.7: no restart
// by the reset alone, from memory); start held while stop is let go shows a drive whose start is a level; each channel of an emergency stop
// is tried by itself.
func TestFunctionsTryWhatTheyMust(t *testing.T) {
	pressed := testsSaid(wall(t, "connection: hard-wired", "start, stop, emergency stop"), FunctionTest)
	for _, want := range []string{"press S2 and hold it; press stop button, apron (S1), let it go while S2 is still held", "off T1:S1, insulated", "off T1:S2, insulated"} {
		if !strings.Contains(pressed, want) {
			t.Errorf("no %q in\n%s", want, pressed)
		}
	}
	turned := testsSaid(wall(t, "connection: hard-wired", "start, emergency stop"), FunctionTest)
	if strings.Contains(turned, "press S1") || !strings.Contains(turned, "stops when it is turned off") || !strings.Contains(turned, "leave S1 on and put it back to rest") {
		t.Errorf("a switch that stays is tried as a button:\n%s", turned)
	}
}
