package prove

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/trade/circuit"
)

// tester gathers the tests that aren't ohmmeter readings of the control wiring, in the order in which they are made.
type tester struct {
	*deadBox
	circuit *circuit.Circuit
	list    []Test
}

// tests returns the bonding and insulation tests, the diode tests, what is measured at the first power where ohms can't tell,
// and the functional tests.
func (b *deadBox) tests() []Test {
	t := &tester{deadBox: b, circuit: b.wiring.Circuit}
	t.bonding()
	t.diodes()
	t.insulation()
	t.firstPower()
	t.functions()
	return t.list
}

// add takes a test over and names it by what it is, so that its name stays while the circuit does.
func (t *tester) add(letter, about string, test Test) {
	test.ID = letter + id(textMark(string(test.Kind)+"\n"+about), 4)[1:]
	t.list = append(t.list, test)
}

// bonding measures from the ground bar to everything that a hand can touch.
func (t *tester) bonding() {
	if t.ground < 0 {
		return
	}
	most, limit, current, method := catalogue.BondingTest()
	bar := t.wiring.Pins[t.ground]
	out := t.steps(nil, true)
	done := map[string]bool{bar.Device: true}
	how := fmt.Sprintf(", the leads' own taken off; better with a tester that drives %s or more", current.Show(quantity.InchUnits))
	for n := range t.wiring.Pins {
		p := t.wiring.Pins[n]
		d := t.circuit.Device(p.Device)
		if !t.grounded(p) || done[p.Device] {
			continue
		}
		done[p.Device] = true
		ohms := along(out, t.ground, n)
		test := Test{Kind: BondingTest, Source: limit, Text: fmt.Sprintf("%s to %s, %s", bar, p, bareMetal(d))}
		upTo := most
		switch known := !math.IsInf(ohms, 1); {
		case known && float64(most) < ohms*1.2:
			upTo = quantity.Resistance(ohms * 1.2)
			test.Expect = fmt.Sprintf("at the most %s: the wire is so long that it has %s by itself (%s)", upTo.Show(quantity.InchUnits), quantity.Resistance(ohms).Show(quantity.InchUnits), method)
		case known && t.allKnown():
			test.Expect = fmt.Sprintf("at the most %s; by its wires and joints about %s", most.Show(quantity.InchUnits), quantity.Resistance(ohms).Show(quantity.InchUnits))
		default:
			test.Expect = "at the most " + most.Show(quantity.InchUnits)
		}
		test.Expect += how
		test.Band = Band{Most: upTo}
		t.add("B", p.String(), test)
	}
}

// allKnown reports whether size and length of every protective conductor are known.
func (t *tester) allKnown() bool {
	for n := range t.circuit.Wires {
		if _, ok := wireOhms(&t.circuit.Wires[n]); !ok && t.protective(n) {
			return false
		}
	}
	return true
}

// bareMetal says in words what else is touched at a device.
func bareMetal(d *circuit.Device) string {
	switch {
	case d.Kind == circuit.Drive:
		return "then to the drive's bare heat sink"
	case d.Kind == circuit.MotorKind:
		return "then to bare metal of the motor's frame"
	case d.Kind == circuit.Incoming:
		return "the ground of the plug or feeder"
	case d.Place == "box" || d.Place == "":
		return "then to bare metal of the back plate and of the box"
	}
	return "then to bare metal of the " + d.Place
}

// diodes are tested with the meter's diode range.
func (t *tester) diodes() {
	for n := range t.circuit.Devices {
		d := &t.circuit.Devices[n]
		if d.Kind != circuit.Diode || len(d.Terminals) < 2 {
			continue
		}
		t.add("D", d.Tag, Test{Kind: DiodeTest, Source: explain.Practice("diode range of a hand meter"),
			Text:   fmt.Sprintf("diode range, one of the diode's leads off: red on %s:%s, black on %s:%s; then the other way round", d.Tag, d.Terminals[0], d.Tag, d.Terminals[1]),
			Expect: "0.4 to 0.8 V, then open; the ring is at " + d.Tag + ":" + d.Terminals[1] + ", and that goes to the coil's plus"})
	}
}

// insulation tests the power wiring, never through electronics.
func (t *tester) insulation() {
	set := t.circuit.Set
	if set == "" {
		set = explain.IEC
	}
	volts, least, source := catalogue.InsulationTest(set)
	expect := fmt.Sprintf("at least %s", least.Show(quantity.InchUnits))
	band := Band{OrOpen: true, Least: least, Most: quantity.Resistance(math.Inf(1))}
	electronic := t.tags(func(d *circuit.Device) bool { return d.Kind == circuit.PowerSupply || d.Kind == circuit.Readout })
	drives := t.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Drive })
	electronics := fmt.Sprintf("%s breaks electronics and is felt. Take the wires off first", volts.Show(quantity.InchUnits))
	for _, d := range drives {
		electronics += fmt.Sprintf(": off %s's supply and motor terminals", d)
	}
	if electronic != nil {
		electronics += ", and off the supply side of " + named(electronic)
	}
	electronics += ". Never test into a drive's output, its control terminals or any electronics; never the control wiring, which the readings above prove. Afterwards the tester discharges what it charged: wait until it shows nought."
	for n := range t.circuit.Devices {
		d := &t.circuit.Devices[n]
		switch d.Kind {
		case circuit.Incoming:
			var lives []string
			for _, x := range d.Terminals {
				if !t.grounded(d.Pin(x)) {
					lives = append(lives, d.Pin(x).String())
				}
			}
			t.add("I", d.Tag, Test{Kind: InsulationTest, Source: source, Expect: expect, Band: band, Caution: electronics,
				Text: fmt.Sprintf("%s direct current, plug out or feeder off: %s joined together, against the ground bar, with main switch and breakers on and fuses in; then the same behind every contactor that is open", volts.Show(quantity.InchUnits), named(lives))})
		case circuit.MotorKind:
			var leads []string
			for _, x := range d.Terminals {
				if !t.grounded(d.Pin(x)) {
					leads = append(leads, d.Pin(x).String())
				}
			}
			t.add("I", d.Tag, Test{Kind: InsulationTest, Source: source, Expect: expect, Band: band,
				Caution: "The motor's leads must be off the drive: look at the drive's terminals, not at the drawing.",
				Text:    fmt.Sprintf("%s direct current, the motor alone: %s joined together, against its bare frame", volts.Show(quantity.InchUnits), named(leads))})
		default:
		}
	}
}
