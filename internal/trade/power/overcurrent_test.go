package power

import (
	"cmp"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// TestDeviceOfTheDrive holds the choice of the drive's device against cases worked by hand from NFPA 70: Table 430.250 gives
// 4.2 A for 1 hp, 6.8 A for 2 hp at 230 V; 430.52 allows an inverse time breaker of 250 %, next standard size up.
func TestDeviceOfTheDrive(t *testing.T) {
	for _, c := range []struct {
		name           string
		power, current string
		breaker        string
		drive          string
		loads          string
		chosen, inBox  string // "" for none
		atSource       string // "" for the chosen one
		must           bool   // whether an overcurrent rule blocks
		says           string // a rule that speaks
	}{
		// a drill press on a 20 A circuit: 9.2 × 1.25 = 11.5 A; 250 % of 4.2 A is 10.5 A, so 15 A
		{name: "1 hp behind 20 A", power: "1 hp", current: "3.4/1.7 A", breaker: "20 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 9.2 A, most overcurrent device: 20 A",
			chosen: "15 A", inBox: "15 A", atSource: "20 A", says: "box-needs-a-device"},
		// a mill on a 30 A circuit: 16 × 1.25 = 20 A; 250 % of 6.8 A is 17 A, so 20 A
		{name: "2 hp behind 30 A", power: "2 hp", current: "6.0/3.0 A", breaker: "30 A",
			drive:  "input phases: 1, output current: 7 A, input current: 16 A",
			chosen: "20 A", inBox: "20 A", atSource: "30 A", says: "box-needs-a-device"},
		{name: "1 hp behind 20 A, the maker allows 15 A", power: "1 hp", current: "3.4/1.7 A", breaker: "20 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 9.2 A, most overcurrent device: 15 A",
			chosen: "15 A", inBox: "15 A", atSource: "20 A", must: true, says: "device-above-maker-limit"},
		// 12.5 A of input on 1 hp: 15 A carries it, the usual margin of 15.6 A would ask 20 A
		{name: "12.5 A of input on 1 hp", power: "1 hp", current: "3.4/1.7 A", breaker: "20 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 12.5 A",
			chosen: "15 A", inBox: "15 A", atSource: "20 A", says: "device-limits-leave-a-thin-margin"},
		// with no breaker yet, one of 15 A at the source does for both
		{name: "12.5 A of input on 1 hp, no breaker yet", power: "1 hp", current: "3.4/1.7 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 12.5 A",
			chosen: "15 A", says: "device-limits-leave-a-thin-margin"},
		// 16 A on 1 hp: no standard rating carries it within 15 A
		{name: "16 A of input on 1 hp", power: "1 hp", current: "3.4/1.7 A", breaker: "20 A",
			drive: "input phases: 1, output current: 4.3 A, input current: 16 A", must: true, says: "device-limits-collide"},
		// a 3 kVA heater beside it: 12.5 + 9.2 × 1.25 = 24 A, and the shared device may be 15 + 12.5 = 27.5 A, so 25 A
		{name: "a heater on the circuit", power: "1 hp", current: "3.4/1.7 A", breaker: "25 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 9.2 A",
			loads:  "loads:\n  - {name: heater, kind: heater, volt-amperes: 3 kVA, voltage: 240 V, fed from: behind the main switch, fuse: 20 A}\n",
			chosen: "25 A"},
		{name: "a heater on a larger circuit", power: "1 hp", current: "3.4/1.7 A", breaker: "30 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 9.2 A",
			loads:  "loads:\n  - {name: heater, kind: heater, volt-amperes: 3 kVA, voltage: 240 V, fed from: behind the main switch, fuse: 20 A}\n",
			chosen: "15 A", inBox: "15 A", atSource: "30 A", says: "box-needs-a-device"},
		// no breaker yet: 5 kVA of heater and the drive need 20.8 + 11.5 A, 35 A, which is what a shared device may be: 15 + 20.8, so 35 A
		{name: "a large heater and no breaker yet", power: "1 hp", current: "3.4/1.7 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 9.2 A",
			loads:  "loads:\n  - {name: heater, kind: heater, volt-amperes: 5 kVA, voltage: 240 V, fed from: behind the main switch, fuse: 30 A}\n",
			chosen: "35 A"},
		// the maker's 15 A is for the drive alone: 35 A at the source for the wire, 15 A in the box
		{name: "a large heater, no breaker yet, and the maker's limit", power: "1 hp", current: "3.4/1.7 A",
			drive:  "input phases: 1, output current: 4.3 A, input current: 9.2 A, most overcurrent device: 15 A",
			loads:  "loads:\n  - {name: heater, kind: heater, volt-amperes: 5 kVA, voltage: 240 V, fed from: behind the main switch, fuse: 30 A}\n",
			chosen: "15 A", inBox: "15 A", atSource: "35 A", says: "box-needs-a-device"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := "drivewright: 1\nrules: us\nsupply:\n  voltage: 240 V\n  phases: 1\n"
			if c.breaker != "" {
				text += "  breaker: " + c.breaker + "\n"
			}
			text += "motor: {power: " + c.power + ", voltage: 230/460 V, current: " + c.current + "}\ndrive: {" + c.drive + "}\n" + c.loads
			f := job.Read("test", []byte(text))
			if len(f.Problems) > 0 {
				t.Fatalf("the job doesn't read: %v", f.Problems[0].Message.Show(quantity.InchUnits))
			}
			r := Size(&f.Job)
			for what, pair := range map[string]struct {
				got  explain.Known[quantity.Current]
				want string
			}{"device": {r.Protection.Chosen, c.chosen}, "device in the box": {r.Protection.InBox, c.inBox}, "device at the source": {r.Protection.AtSource, cmp.Or(c.atSource, c.chosen)}} {
				got := ""
				if pair.got.OK() {
					got = shown(pair.got.Value)
				}
				if got != pair.want {
					t.Errorf("%s: %q, want %q", what, got, pair.want)
				}
			}
			blocks, spoke := false, c.says == ""
			for _, found := range explain.Judge([]explain.Rule[Result]{deviceTooSmall, deviceMarginThin, deviceAboveMaker, deviceAboveMotorTable, boxNeedsDevice, limitsCollide, limitsLeaveThinMargin}, explain.US, r) {
				blocks = blocks || found.Severity.Blocks()
				spoke = spoke || found.Rule == c.says
			}
			if blocks != c.must || !spoke {
				t.Errorf("blocks: %v, want %v; %s spoke: %v", blocks, c.must, c.says, spoke)
			}
		})
	}
}

// TestUnknownRunCondemnsNoPart: with 10 kA given at the panel a drive of 5 kA is too weak behind a short run; with no run or no conductor
// written nobody knows, and the finding asks for them instead of blocking. An empty job has neither finding.
func TestUnknownRunCondemnsNoPart(t *testing.T) {
	const known = "drivewright: 1\nrules: us\nsupply: {voltage: 240 V, phases: 1, breaker: 20 A, fault current: 10 kA, run: 3 ft, conductor: 12 AWG}\n" +
		"motor: {power: 1 hp, phases: 3, voltage: 230/460 V, current: 3.4/1.7 A}\ndrive: {input phases: 1, output current: 4.3 A, input current: 9.2 A, short-circuit rating: 5 kA}\n"
	for text, want := range map[string]string{
		known: "short-circuit-rating-too-low",
		strings.Replace(known, ", run: 3 ft", "", 1):              "short-circuit-rating-not-proven",
		strings.Replace(known, "fault current: 10 kA, ", "", 1):   "short-circuit-rating-not-proven",
		strings.Replace(known, "run: 3 ft", "run: 300 ft", 1):     "",
		"drivewright: 1\nrules: us\nsupply: {phases: 1}\n":        "",
		"drivewright: 1\nrules: us\nmachine: {name: old lathe}\n": "",
	} {
		f := job.Read("test", []byte(text))
		got := ""
		for _, one := range explain.Judge([]explain.Rule[Result]{shortCircuitRatingLow, shortCircuitRatingUnproven}, explain.US, Size(&f.Job)) {
			got += one.Rule
		}
		if got != want {
			t.Errorf("%q for\n%s\nwant %q", got, text, want)
		}
	}
}
