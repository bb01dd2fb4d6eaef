package circuit

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// lathe is a job whose circuit the program makes: two stations, jog, reverse by a selector, foot brake, knob, run lamp.
const lathe = `drivewright: 1
rules: us
supply: {voltage: 240 V, phases: 1, system: split-phase}
controls:
  jog: yes
  reverse by: selector switch
  foot brake: stops the run
  run lamp: yes
  power lamp: yes
stations:
  - {name: apron, kind: box on the machine, has: "start, stop, emergency stop, jog, reverse, speed, run lamp, power lamp", cable: 9 ft}
  - {name: foot, kind: foot switch, has: "foot brake, stop", cable: 6 ft}
`

func made(t *testing.T, text string) Result {
	t.Helper()
	f := job.Read("lathe.job.yaml", []byte(text))
	for _, p := range f.Problems {
		t.Fatalf("line %d: %s", p.Span.Line, p.Message.Show(quantity.InchUnits))
	}
	return Make(Brief{Job: &f.Job, Set: explain.US, Supply: job.Known(f.Job.Supply.Voltage)})
}

func rulesThatSpeak(r Result) []string {
	var names []string
	for _, f := range explain.Judge(Rules(), explain.US, r) {
		if !slices.Contains(names, f.Rule) {
			names = append(names, f.Rule)
		}
	}
	return names
}

// tagOf is the tag of the first device with the role at a place.
func tagOf(t *testing.T, r Result, role Role, place string) string {
	t.Helper()
	for _, d := range r.Circuit.ByRole(role) {
		if d.Place == place {
			return d.Tag
		}
	}
	t.Fatalf("no %s at the %s", role, place)
	return ""
}

// TestMadeCircuitsAreJudgedLikeHandMadeOnes: the made circuit passes every rule, and a mistake put into it by hand is told by
// the rule that is about it. What is a mistake is known from the practice behind each rule (NFPA 79 and IEC 60204-1, 9.2: stops
// open, in series, and win over a start; drive booklets for knob, inputs and motor leads).
func TestMadeCircuitsAreJudgedLikeHandMadeOnes(t *testing.T) {
	sound := made(t, lathe)
	if names := rulesThatSpeak(sound); len(names) > 0 {
		t.Errorf("the made circuit itself: got %v, want silence", names)
	}
	stop, start, jog := tagOf(t, sound, Stop, "apron"), tagOf(t, sound, Start, "apron"), tagOf(t, sound, Jog, "apron")
	emergency, knob, brake := tagOf(t, sound, EmergencyRole, "apron"), tagOf(t, sound, SpeedKnob, "apron"), tagOf(t, sound, FootBrake, "foot")
	drive := sound.Circuit.Drive.Tag
	device := func(tag, kind, rest string) string {
		return "devices:\n  - {tag: " + tag + ", kind: " + kind + ", " + rest + "}\n"
	}
	bridge := func(from, to string) string {
		return "wires:\n  - {name: 99, from: \"" + from + "\", to: \"" + to + "\"}\n"
	}
	for _, c := range []struct{ what, text, rule string }{
		{"a stop that makes", device(stop, "push button", "contacts: 11-12 open"), "stop-contact-normally-open"},
		{"a stop bridged at its screws", bridge(stop+":11", stop+":12"), "stop-does-not-stop"},
		{"the stop input fed from 24 V", bridge(drive+":24V", drive+":DI3"), "stop-does-not-stop"},
		{"a start that stays", device(start, "selector switch", "does: start, at: apron, contacts: 13-14 when on"), "start-contact-maintained"},
		{"a start bridged", bridge(start+":13", start+":14"), "run-input-bridged"},
		{"a jog on the run input", bridge(jog+":14", start+":14"), "jog-holds-itself"},
		{"an emergency stop that makes", device(emergency, "emergency stop", `contacts: "11-12 open, 21-22 open"`), "emergency-stop-contact-normally-open"},
		{"an emergency stop that springs back", device(emergency, "push button", `does: emergency stop, contacts: "11-12 closed, 21-22 closed"`), "emergency-stop-not-latching"},
		{"both channels bridged past it", "wires:\n  - {name: 98, from: \"" + drive + ":24V\", to: \"" + drive + ":S1\"}\n  - {name: 99, from: \"" + drive + ":24V\", to: \"" + drive + ":S2\"}\n", "emergency-stop-does-not-stop"},
		{"one channel bridged past it", bridge(drive+":24V", drive+":S2"), "safe-off-channel-left-on"},
		{"the channels joined", bridge(drive+":S1", drive+":S2"), "safe-off-channels-joined"},
		{"a foot brake that makes", device(brake, "foot switch", "contacts: 11-12 open"), "foot-brake-contact-normally-open"},
		{"a foot brake bridged", bridge(brake+":11", brake+":12"), "guard-or-foot-brake-does-not-stop"},
		{"a knob of 500 ohm", device(knob, "knob", "resistance: 500 ohm"), "knob-too-small"},
		{"a wire from the knob's wiper to its supply", bridge(knob+":2", knob+":3"), "knob-shorts-its-supply"},
		{"a lamp on the motor leads", "devices:\n  - {tag: LT9, kind: lamp, voltage: 240 V}\nwires:\n  - {name: 98, from: \"" + drive + ":U\", to: \"LT9:X1\"}\n  - {name: 99, from: \"" + drive + ":V\", to: \"LT9:X2\"}\n", "device-on-the-drive-output"},
		{"two inputs bridged", bridge(drive+":DI1", drive+":DI2"), "two-inputs-on-one-wire"},
		{"24 V bridged to 0 V", bridge(drive+":24V", drive+":0V"), "supply-shorted-by-a-contact"},
		{"the stop left out", "", "start-does-nothing"},
	} {
		text := lathe + c.text
		if c.text == "" {
			text = strings.Replace(lathe, "controls:\n", "controls:\n  without: "+stop+"\n", 1)
		}
		if names := rulesThatSpeak(made(t, text)); !slices.Contains(names, c.rule) {
			t.Errorf("%s: got %v, want %s among them", c.what, names, c.rule)
		}
	}
}

// TestRulesBearAnyCircuit throws wires and devices at the rules at random: none panics, none says two things on two runs, and
// every finding has a remedy.
func TestRulesBearAnyCircuit(t *testing.T) {
	text, err := os.ReadFile("testdata/circuits/three-wire-relay.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	f := job.Read("three-wire-relay.job.yaml", text)
	random := rand.New(rand.NewPCG(11, 3))
	spoke := map[string]bool{}
	for range 300 {
		r := Make(Brief{Job: &f.Job, Set: explain.US})
		c := &r.Circuit
		for range 1 + random.IntN(4) {
			w := &c.Wires[random.IntN(len(c.Wires))]
			d := &c.Devices[random.IntN(len(c.Devices))]
			pin := Pin{"nowhere", "1"}
			if len(d.Terminals) > 0 && random.IntN(20) > 0 {
				pin = d.Pin(d.Terminals[random.IntN(len(d.Terminals))])
			}
			switch random.IntN(4) {
			case 0:
				w.From = pin
			case 1:
				w.To = pin
			case 2:
				c.Wires = slices.Delete(c.Wires, 0, 1)
			case 3:
				if len(d.Elements) > 0 {
					d.Elements[random.IntN(len(d.Elements))].In = uint8(random.IntN(4))
				}
			}
		}
		r.Figures = Figures{}
		workOut(&r)
		found := explain.Judge(Rules(), explain.US, r)
		again := explain.Judge(Rules(), explain.US, r)
		for n, x := range found {
			spoke[x.Rule] = true
			if x.Remedy.Empty() {
				t.Errorf("%s has no remedy", x.Rule)
			}
			if n >= len(again) || again[n].Rule != x.Rule || again[n].Message.Show(quantity.InchUnits) != x.Message.Show(quantity.InchUnits) {
				t.Fatalf("%s: two runs differ", x.Rule)
			}
		}
	}
	if len(spoke) < 25 {
		t.Errorf("got %d rules that spoke, want at least 25: the mistakes are too tame", len(spoke))
	}
}

var mistakeName = regexp.MustCompile(`\.mistake\("([a-z-]+)"`)

// TestEveryMistakeHasItsRule: a mistake whose rule isn't registered would never be told. The names stand in the package's own
// source.
func TestEveryMistakeHasItsRule(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string]bool{}
	for _, r := range mistakeRules {
		rules[r.Name] = true
	}
	told := map[string]bool{}
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range mistakeName.FindAllStringSubmatch(string(source), -1) {
			told[m[1]] = true
			if !rules[m[1]] {
				t.Errorf("%s: the mistake %s has no rule", file, m[1])
			}
		}
	}
	for name := range rules {
		if !told[name] {
			t.Errorf("the rule %s is about a mistake that nobody makes", name)
		}
	}
}
