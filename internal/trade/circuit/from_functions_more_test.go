package circuit_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// randomRow writes a drive's terminals: some of all that there are, in any order, as on drives that nobody here has seen.
func randomRow(r *rand.Rand) string {
	does := []string{"run forward", "run reverse", "reverse direction", "stop", "jog", "step 1", "step 2", "reset", "external fault", "safe off 1", "safe off 2", "24 V", "0 V",
		"reference supply", "reference input", "reference common", "run relay common", "run relay open contact", "serial A", "serial B", "serial common", "nothing"}
	var b strings.Builder
	b.WriteString("drive terminals:\n")
	for n, k := range r.Perm(len(does)) {
		if r.IntN(4) > 0 || n == 0 {
			fmt.Fprintf(&b, "  - {name: %c%d, does: %s}\n", 'A'+rune(n), n, does[k])
		}
	}
	return b.String()
}

// TestAnyDriveMakesACircuit: a drive that lacks terminals makes mistakes that say so, and never a circuit that falls apart.
func TestAnyDriveMakesACircuit(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	lacking := 0
	for n := range 1000 {
		text := randomJob(r) + randomRow(r)
		_, result := made(t, "mixture.job.yaml", text)
		for _, m := range result.Mistakes {
			if !slices.Contains(askedTooMuch, m.Rule) {
				t.Errorf("mistake %s: %s", m.Rule, m.Message.Show(quantity.InchUnits))
			}
			if m.Rule == "drive-terminal-missing" {
				lacking++
			}
		}
		checkCircuit(t, &result.Circuit, true)
		if t.Failed() {
			t.Fatalf("mixture %d:\n%s", n, text)
		}
	}
	if lacking < 200 {
		t.Errorf("only %d terminals were missed in all", lacking)
	}
}

// TestReasonsOfAnyMixture: every value of a made circuit has a reason that ends somewhere, and no name stands for two values:
// what the plan's own tests ask of the examples.
func TestReasonsOfAnyMixture(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	values := 0
	for n := range 300 {
		text := randomJob(r)
		_, result := made(t, "mixture.job.yaml", text)
		byID := map[string]*explain.Reason{}
		var walk func(why *explain.Reason)
		walk = func(why *explain.Reason) {
			if why == nil || why.Name == "" && why.Origin == explain.Missing {
				return
			}
			if first := byID[why.ID()]; first != nil {
				if !reflect.DeepEqual(first.Value, why.Value) {
					t.Errorf("%q stands for %s and for %s", why.Name, first.Show(quantity.InchUnits), why.Show(quantity.InchUnits))
				}
				return
			}
			byID[why.ID()] = why
			values++
			switch why.Origin {
			case explain.Given:
				if !why.Span.Known() || why.Path == "" {
					t.Errorf("%s is given, but not where", why.Name)
				}
			case explain.Derived:
				if why.Words == "" || len(why.Inputs) == 0 && why.Source == (explain.Source{}) {
					t.Errorf("%s is derived from nothing", why.Name)
				}
			case explain.Assumed, explain.Missing, explain.NotNeeded:
				if why.Note.Empty() {
					t.Errorf("%s is %s without a word why", why.Name, why.Origin)
				}
			case explain.Looked, explain.Catalogue:
			}
			for _, i := range why.Inputs {
				walk(i.Reason)
			}
		}
		for _, d := range result.Circuit.Devices {
			walk(d.Why.Why())
		}
		for _, w := range result.Circuit.Wires {
			for _, b := range []explain.Because{w.Why, w.Size, w.Length, w.Voltage} {
				walk(b.Why())
			}
		}
		for _, c := range result.Circuit.Cables {
			for _, b := range []explain.Because{c.Why, c.Size, c.Length, c.Rating} {
				walk(b.Why())
			}
		}
		choices := reflect.ValueOf(result.Choices)
		for i := range choices.NumField() {
			b, ok := choices.Field(i).Interface().(explain.Because)
			if !ok {
				t.Fatalf("the choice %s has no reason", choices.Type().Field(i).Name)
			}
			walk(b.Why())
		}
		if t.Failed() {
			t.Fatalf("mixture %d:\n%s", n, text)
		}
	}
	if values < 20000 {
		t.Errorf("only %d values were looked at", values)
	}
}

const changed = `drivewright: 1
rules: us
machine:
  start and stop: buttons at the drive terminals
  start: heavy wheel
supply:
  voltage: 240 V
`

// TestOwnWordsChangeTheMadeCircuit: a device by hand with the tag of a made one changes what it says and keeps the rest; a wire with
// the name of a made one is led elsewhere; what is left out is gone with its wires.
func TestOwnWordsChangeTheMadeCircuit(t *testing.T) {
	_, plain := made(t, "plain.job.yaml", changed)
	relay := plain.Circuit.ByRole(circuit.DelaysPowerOff)[0]
	knob := plain.Circuit.ByRole(circuit.SpeedKnob)[0]
	wire := plain.Circuit.Wires[slices.IndexFunc(plain.Circuit.Wires, func(w circuit.Wire) bool { return w.To.Device == relay.Tag || w.From.Device == relay.Tag })]
	_, r := made(t, "own.job.yaml", changed+fmt.Sprintf(`controls:
  without: %s
devices:
  - {tag: %s, delay: 12 s, contacts: "17-18 open, 27-28 open"}
  - {tag: LT9, kind: lamp, does: power lamp, name: lamp over the bench, at: bench, voltage: 24 V, power: 1 W}
wires:
  - {name: %s, conductor: 14 AWG, colour: purple}
  - {name: 99, from: "LT9:X1", to: "%s:28"}
`, knob.Tag, relay.Tag, wire.Name, relay.Tag))
	for _, m := range r.Mistakes {
		t.Errorf("mistake %s: %s", m.Rule, m.Message.Show(quantity.InchUnits))
	}
	c := &r.Circuit
	d := c.Device(relay.Tag)
	if d == nil || d.Kind != circuit.DelayRelay || d.Role != circuit.DelaysPowerOff || d.Elements[0].Delay != 12 || len(d.Terminals) != 6 {
		t.Errorf("the delay relay became %+v", d)
	}
	if d.Elements[0].Volts != 24 || d.Elements[0].Ohms != relay.Elements[0].Ohms {
		t.Errorf("its coil became %v, %v ohm, want %v, %v ohm as made", d.Elements[0].Volts, d.Elements[0].Ohms, relay.Elements[0].Volts, relay.Elements[0].Ohms)
	}
	if c.Device(knob.Tag) != nil {
		t.Errorf("%s is still there", knob.Tag)
	}
	for _, w := range c.Wires {
		if w.From.Device == knob.Tag || w.To.Device == knob.Tag {
			t.Errorf("wire %s still leads to %s", w.Name, knob.Tag)
		}
	}
	w := c.Wire(wire.Name)
	if w == nil || w.Colour != "purple" || w.Size.Value != quantity.AWG(14) || w.From != wire.From || w.To != wire.To {
		t.Errorf("wire %s became %+v", wire.Name, w)
	}
	if w := c.Wire("99"); w == nil || w.Number != "99" || w.Duty != circuit.ControlDC || w.Colour != "blue" || !w.Length.OK() {
		t.Errorf("the new wire is %+v", w)
	}
	if lamp := c.Device("LT9"); lamp == nil || lamp.Words != "lamp over the bench" || c.Place("bench") == nil {
		t.Errorf("the new lamp is %+v", lamp)
	}
}

// TestTagsByRuleSet: NFPA 79 (device designations: PB push button, LS limit switch, CON contactor, FU fuse, TB terminal block) and
// IEC 81346-2 (S switch by hand, B sensor, Q power switching, F protection, X terminals), from memory.
func TestTagsByRuleSet(t *testing.T) {
	for set, want := range map[string]map[circuit.Kind]string{
		"us":  {circuit.PushButton: "PB", circuit.PositionSwitch: "LS", circuit.Contactor: "CON", circuit.Fuse: "FU", circuit.TerminalBlock: "TB", circuit.MotorKind: "MTR"},
		"iec": {circuit.PushButton: "S", circuit.PositionSwitch: "B", circuit.Contactor: "Q", circuit.Fuse: "F", circuit.TerminalBlock: "X", circuit.MotorKind: "M"},
	} {
		_, r := made(t, "tags.job.yaml", strings.Replace(changed, "rules: us", "rules: "+set, 1)+"controls:\n  guard switch: stops the run\n")
		for kind, letters := range want {
			list := r.Circuit.ByKind(kind)
			if len(list) == 0 {
				t.Errorf("%s: there is no %s", set, kind)
				continue
			}
			if tag := strings.TrimRight(list[0].Tag, "0123456789"); tag != letters {
				t.Errorf("%s: a %s is tagged %s, want %s", set, kind, list[0].Tag, letters)
			}
		}
	}
}

// TestOwnWireLeadsElsewhere: a wire by hand with the name of a made one changes its end; the rest of it stays.
func TestOwnWireLeadsElsewhere(t *testing.T) {
	_, plain := made(t, "plain.job.yaml", changed)
	start := plain.Circuit.ByRole(circuit.Start)[0]
	n := slices.IndexFunc(plain.Circuit.Wires, func(w circuit.Wire) bool { return w.To == start.Pin("13") })
	if n < 0 {
		t.Fatal("no wire ends at the start button")
	}
	was := plain.Circuit.Wires[n]
	_, r := made(t, "own.job.yaml", changed+fmt.Sprintf("devices:\n  - {tag: %s, contacts: \"13-14 open, 23-24 open\"}\nwires:\n  - {name: %s, to: \"%s:23\"}\n", start.Tag, was.Name, start.Tag))
	w := r.Circuit.Wire(was.Name)
	if len(r.Mistakes) > 0 || w == nil || w.From != was.From || w.To != start.Pin("23") || w.Number != was.Number || w.Duty != was.Duty {
		t.Errorf("the wire became %+v, with %d mistakes; it was %+v", w, len(r.Mistakes), was)
	}
}

// TestHoldingRelayIsWiredAsInTheBooks: the topology of the worked example CT1 of three-wire control: the normally closed stop in
// series, the normally open start in parallel with the relay's own contact, then the coil to the common.
func TestHoldingRelayIsWiredAsInTheBooks(t *testing.T) {
	_, r := made(t, "relay.job.yaml", `drivewright: 1
rules: us
machine: {start and stop: buttons at the drive terminals}
supply: {voltage: 240 V}
controls: {run held by: a relay, emergency stop: none, supply: a power supply}
`)
	c := &r.Circuit
	of := func(p circuit.Pin) string { // the number of the potential that a pin lies on
		for _, w := range c.Wires {
			if w.From == p || w.To == p {
				return w.Number
			}
		}
		t.Errorf("no wire ends at %s", p)
		return ""
	}
	stop, start, relay, supply := c.ByRole(circuit.Stop)[0], c.ByRole(circuit.Start)[0], c.ByRole(circuit.HoldsRun)[0], c.ByKind(circuit.PowerSupply)[0]
	if e := stop.Elements[0]; e.In != 1 {
		t.Errorf("the stop contact rests open")
	}
	if e := start.Elements[0]; e.In != 2 {
		t.Errorf("the start contact rests closed")
	}
	for _, pair := range [][2]circuit.Pin{
		{stop.Pin("12"), start.Pin("13")}, {start.Pin("13"), relay.Pin("11")}, // start and seal-in begin where stop ends
		{start.Pin("14"), relay.Pin("14")}, {start.Pin("14"), relay.Pin("A1")}, // and end at the coil
		{relay.Pin("A2"), supply.Pin("-")},
	} {
		if a, b := of(pair[0]), of(pair[1]); a != b {
			t.Errorf("%s lies on %s and %s on %s, want one potential", pair[0], a, pair[1], b)
		}
	}
	if a, b := of(stop.Pin("11")), of(stop.Pin("12")); a == b {
		t.Errorf("both sides of the stop contact lie on %s", a)
	}
}
