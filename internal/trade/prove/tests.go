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
	var later []func()
	how := fmt.Sprintf(", the leads' own taken off; better with a tester that drives %s or more", current.Show(quantity.InchUnits))
	for n := range t.wiring.Pins {
		p := t.wiring.Pins[n]
		d := t.circuit.Device(p.Device)
		if !t.grounded(p) || done[p.Device] {
			continue
		}
		done[p.Device] = true
		if feeder := t.feeder(n); feeder != nil {
			later = append(later, func() { t.feederGround(bar, p, feeder, most, limit) }) // it isn't there yet
			continue
		}
		ohms := along(out, t.ground, n)
		test := Test{Kind: BondingTest, Source: limit, Text: fmt.Sprintf("%s to %s, %s", bar, p, bareMetal(d))}
		upTo := most
		switch known := !math.IsInf(ohms, 1); {
		case known && float64(most) < ohms*1.2:
			upTo = quantity.Resistance(ohms * 1.2)
			test.Expect = fmt.Sprintf("at the most %s: the wire is so long that it has %s by itself (%s)", upTo.Show(quantity.InchUnits), quantity.Resistance(ohms).Show(quantity.InchUnits), method)
		case known && t.allKnown():
			test.Expect = fmt.Sprintf("at the most %s; by its wires and joints about %s", most.Show(quantity.InchUnits), quantity.Resistance(ohms).Show(quantity.InchUnits))
		case known:
			test.Expect = fmt.Sprintf("at the most %s, and with a wire of unknown size what its own resistance comes to on top", most.Show(quantity.InchUnits))
		default:
			test.Expect = "at the most " + most.Show(quantity.InchUnits)
		}
		test.Expect += how
		test.Band = Band{Most: upTo}
		t.add("B", p.String(), test)
	}
	for _, test := range later {
		test()
	}
}

// feeder returns the wire by which a node of a hard-wired source is joined to the box later; nil where there is none.
func (t *tester) feeder(node int) *circuit.Wire {
	pin := t.wiring.Pins[node]
	for n := range t.circuit.Wires {
		if w := &t.circuit.Wires[n]; (w.From == pin || w.To == pin) && t.circuit.HardWired(w) && t.circuit.Device(pin.Device).Kind == circuit.Incoming {
			return w
		}
	}
	return nil
}

// feederGround measures the ground of a hard-wired supply, once it is joined. Its far end is at the source, and its own resistance counts:
// what is right depends on its size and length, not on a figure for the bonds of a box.
func (t *tester) feederGround(bar, p circuit.Pin, w *circuit.Wire, most quantity.Resistance, limit explain.Source) {
	test := Test{Kind: BondingTest, Source: limit, Band: Band{Most: quantity.Resistance(math.Inf(1))},
		Text: fmt.Sprintf("when the supply is joined, its breaker off and locked: %s to the ground bar at the source (%s), with a long lead or by a loop tester in a licensed hand", bar, p)}
	if ohms, ok := wireOhms(w); ok {
		upTo := quantity.Resistance(ohms*1.2 + float64(most)/2)
		test.Band = Band{Most: upTo}
		test.Expect = fmt.Sprintf("at the most %s: the wire has %s by itself, the rest are joints; the leads' own taken off", upTo.Show(quantity.InchUnits), quantity.Resistance(ohms).Show(quantity.InchUnits))
	} else {
		test.Band = Band{}
		test.Expect = "what a wire of its length and size has, and little more; nobody said its size, so no figure stands here"
	}
	t.add("B", p.String(), test)
}

// allKnown reports whether size and length of every protective conductor are known.
func (t *tester) allKnown() bool {
	for n := range t.circuit.Wires {
		if _, ok := wireOhms(&t.circuit.Wires[n]); !ok && t.protective(n) && !t.circuit.HardWired(&t.circuit.Wires[n]) {
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
			lives := t.arrives(d)
			if lives == nil {
				continue
			}
			t.add("I", d.Tag, Test{Kind: InsulationTest, Source: source, Expect: expect, Band: band, Caution: electronics,
				Text: fmt.Sprintf("%s direct current, plug out or feeder not joined: %s joined together, against the ground bar, with main switch and breakers on and fuses in; then the same behind every contactor that is open", volts.Show(quantity.InchUnits), named(lives))})
		case circuit.MotorKind:
			var leads []string
			for _, x := range d.Terminals {
				if !t.grounded(d.Pin(x)) {
					leads = append(leads, d.Pin(x).String())
				}
			}
			const good = 5 * quantity.Megohm // IEEE 43, random-wound motors, from memory
			motor := fmt.Sprintf("%s or more is wanted on a drive; below %s the motor isn't switched on", good.Show(quantity.InchUnits), least.Show(quantity.InchUnits))
			t.add("I", d.Tag, Test{Kind: InsulationTest, Source: source, Expect: motor, Band: band,
				Caution: "The motor's leads must be off the drive: look at the drive's terminals, not at the drawing.",
				Text:    fmt.Sprintf("%s direct current, the motor alone: %s joined together, against its bare frame", volts.Show(quantity.InchUnits), named(leads))})
		default:
		}
	}
}

// arrives names the terminals at which the live conductors of a source are measured: in the box where they come hard-wired, else on the
// plug.
func (t *tester) arrives(source *circuit.Device) []string {
	var pins []string
	for _, x := range source.Terminals {
		if pin, ok := t.arrival(source.Pin(x)); ok {
			pins = append(pins, pin.String())
		}
	}
	return pins
}

// arrival returns the terminal at which a live conductor of a source is measured; ok is false for its ground and for one that goes
// nowhere.
func (t *tester) arrival(from circuit.Pin) (at circuit.Pin, ok bool) {
	if t.grounded(from) {
		return from, false
	}
	for n := range t.circuit.Wires {
		w := &t.circuit.Wires[n]
		switch {
		case w.From != from && w.To != from:
		case !t.circuit.HardWired(w):
			return from, true
		case w.From == from:
			return w.To, true
		default:
			return w.From, true
		}
	}
	return from, false
}
