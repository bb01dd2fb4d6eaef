package prove

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

const (
	liveCaution    = "The box is live and open: one hand, insulated probes, nobody else at the machine. Switch off and lock before you change anything."
	motorCaution   = "Belt off or tool out, nothing clamped, guards on: the motor may start at any of these, that is what they are to find."
	functionClause = "18.6" // functional tests, in both standards
)

// firstPower measures what ohms can't tell: voltages and polarity, each before what it feeds.
func (t *tester) firstPower() {
	source := explain.Practice("first power of a panel")
	add := func(about, text, expect string) {
		t.add("P", about, Test{Kind: PowerTest, Text: text, Expect: expect, Caution: liveCaution, Source: source})
	}
	drives := t.circuit.ByKind(circuit.Drive)
	sources := t.circuit.ByKind(circuit.Incoming)
	if len(sources) > 0 {
		for _, d := range drives {
			add("apart "+d.Tag, fmt.Sprintf("with nothing live: motor leads off %s, each under a cap of its own, and its control terminals off", d.Tag), "nothing on its output, nothing on its control terminals")
		}
	}
	for _, d := range sources {
		t.supply(d, add)
	}
	for n := range t.circuit.Devices {
		d := &t.circuit.Devices[n]
		for k := range d.Elements {
			e := &d.Elements[k]
			if e.Kind != circuit.Source {
				continue
			}
			volts := e.Volts.Show(quantity.InchUnits)
			switch d.Kind {
			case circuit.Transformer:
				add(d.Tag, fmt.Sprintf("what it feeds disconnected, its fuse out: %s to %s", d.Pin(e.A), d.Pin(e.B)), volts+", 10 % more without load")
			case circuit.PowerSupply:
				add(d.Tag, fmt.Sprintf("the wire or fuse behind %s out: red on %s, black on %s", d.Pin(e.A), d.Pin(e.A), d.Pin(e.B)), "+"+volts+", and plus where it is marked: a minus sign means that it is the wrong way round")
			default:
			}
		}
	}
	for _, d := range drives {
		t.drive(d, len(sources) > 0, add)
	}
	for n := range t.circuit.Devices {
		if d := &t.circuit.Devices[n]; d.Kind == circuit.Knob && d.Role == circuit.SpeedKnob {
			t.knob(d, add)
		}
	}
	if lamps := t.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Lamp }); lamps != nil {
		add("lamps", plural(lamps, "lamp", "lamps")+": see each light when its circuit is on, and go out when it is off", "each lights and goes out")
	}
}

// supply measures what arrives from a source, ahead of the main switch and of everything else.
func (t *tester) supply(d *circuit.Device, add func(about, text, expect string)) {
	var between, toGround []string
	ground := make(map[string]string)
	lines := slices.DeleteFunc(slices.Clone(d.Terminals), func(x string) bool { return t.grounded(d.Pin(x)) })
	for _, e := range d.Elements {
		if e.Kind != circuit.Source {
			continue
		}
		a, _ := t.arrival(d.Pin(e.A))
		b, _ := t.arrival(d.Pin(e.B))
		volts := e.Volts.Show(quantity.InchUnits)
		between = append(between, fmt.Sprintf("%s to %s about %s", a, b, volts))
		switch { // a neutral is at ground, and what is measured against it stands to ground as well
		case strings.HasSuffix(e.B, "N"):
			ground[e.A], ground[e.B] = "about "+volts, "some volts at the most"
		case strings.HasSuffix(e.A, "N"):
			ground[e.B], ground[e.A] = "about "+volts, "some volts at the most"
		}
	}
	for _, x := range lines {
		if pin, ok := t.arrival(d.Pin(x)); ok && ground[x] != "" {
			toGround = append(toGround, fmt.Sprintf("%s to the ground bar %s", pin, ground[x]))
		}
	}
	if toGround == nil {
		toGround = []string{"each of them to the ground bar what your supply has: half of it on both of a split-phase supply"}
	}
	what := "main switch off, everything behind it off or its fuses out"
	if len(t.circuit.ByKind(circuit.MainSwitch)) == 0 {
		what = "everything behind it off or its fuses out"
	}
	add(d.Tag, fmt.Sprintf("%s; then the breaker that feeds %s on: measure where it arrives", what, d.Tag), strings.Join(append(between, toGround...), "; "))
}

// drive measures a drive with nothing on its output and its control terminals, and ends with the power off again.
func (t *tester) drive(d *circuit.Device, fed bool, add func(about, text, expect string)) {
	if fed && len(t.circuit.Drive.Supply) > 1 {
		var in []string
		for _, x := range t.circuit.Drive.Supply {
			in = append(in, d.Pin(x).String())
		}
		add(d.Tag+" supply", fmt.Sprintf("main switch and everything ahead of the drive on: %s", named(in)), "the same volts as where the supply arrives")
		add(d.Tag+" link", fmt.Sprintf("where %s has terminals for its link: DC+ to DC−", d.Tag), "about 1.4 times the volts of its supply; never a zero while its display is lit")
	}
	for k := range d.Elements {
		if e := &d.Elements[k]; e.Kind == circuit.Source {
			add(d.Tag+":"+e.A, fmt.Sprintf("the control terminals of %s still off: red on %s, black on %s, on the drive's pins", d.Tag, d.Pin(e.A), d.Pin(e.B)), "+"+e.Volts.Show(quantity.InchUnits))
		}
	}
	if !fed {
		return
	}
	logic := "two-wire: it runs while the run contact is closed"
	if t.circuit.Drive.ThreeWire {
		logic = "three-wire: it starts on a press, and stops when the stop contact opens"
	}
	add(d.Tag+" settings", fmt.Sprintf("settings entered and read back on %s, motor leads still off: the motor's plate, start logic, run on power-up, start after a reset", d.Tag), logic+"; no to the other two")
	add(d.Tag+" off", "main switch off and locked, waited, the link measured; control terminals on", "below what the warning label says")
}

// knob watches the reference while the knob is turned.
func (t *tester) knob(d *circuit.Device, add func(about, text, expect string)) {
	for n := range t.circuit.Devices {
		drive := &t.circuit.Devices[n]
		for _, e := range drive.Elements {
			if e.Kind == circuit.Reference {
				add(d.Tag, fmt.Sprintf("control terminals on, main switch on, motor leads still off, no start: red on %s, black on %s, while %s is turned from end to end", drive.Pin(e.A), drive.Pin(e.B), d.Tag), "from 0 V up to "+e.Volts.Show(quantity.InchUnits)+" when it is turned up, without a jump")
			}
		}
	}
}

// functions tries what every control does, first without anything that could be hurt.
func (t *tester) functions() {
	source := explain.Source{Work: "IEC 60204-1", Place: functionClause}
	if t.circuit.Set == explain.US {
		source.Work = "NFPA 79"
	}
	source = source.Remembered()
	add := func(about, text, expect string) {
		t.add("F", about, Test{Kind: FunctionTest, Text: text, Expect: expect, Caution: motorCaution, Source: source})
	}
	starts := t.roles(circuit.Start, circuit.StartReverse, circuit.RunSwitch)
	start, startIt := "start it", "start it again"
	if starts != nil {
		start, startIt = t.start(starts[0])
	}
	add("power on", "motor leads on again; switch the supply on and touch nothing", "nothing turns")
	for _, d := range starts {
		if d.Role == circuit.RunSwitch {
			add(d.Tag, "turn "+said(d)+" on, let it come to speed; then off", "it turns the right way while the switch is on, and stops when it is turned off")
			continue
		}
		add(d.Tag, said(d)+": start, let it come to speed", "it turns the right way, and goes on after the button is let go")
	}
	for _, d := range t.roles(circuit.Stop, circuit.FootBrake) {
		add(d.Tag, start+", then "+said(d)+"; hold it and "+startIt+"; let it go", "it stops; it doesn't start while it is held, nor when it is let go")
		if starts != nil && starts[0].Springs {
			add(d.Tag+" both", start+" and hold it; press "+said(d)+", let it go while "+starts[0].Tag+" is still held", "it stops, and stays stopped until "+starts[0].Tag+" is let go and pressed again: if it starts, a start contact that sticks restarts it by itself")
		}
	}
	for _, d := range t.roles(circuit.EmergencyRole, circuit.Guard) {
		if starts != nil && starts[0].Role == circuit.RunSwitch {
			add(d.Tag, start+", then "+said(d)+"; leave "+starts[0].Tag+" on and put it back to rest; then "+starts[0].Tag+" off and on", "it stops as planned; it doesn't start when it is put back with the switch left on: only turning the switch off and on starts it")
			continue
		}
		add(d.Tag, start+", then "+said(d)+"; "+startIt+"; put it back to rest", "it stops as planned; it doesn't start, nor when it is put back: only a fresh start does")
	}
	t.channels(start, add)
	for _, d := range t.roles(circuit.Jog) {
		add(d.Tag, said(d)+": hold it, let it go", "it turns only while it is held")
	}
	for _, d := range t.roles(circuit.Direction, circuit.StartReverse) {
		add(d.Tag+" direction", said(d)+": the other direction, from standstill and while it turns", "it turns back from standstill; while it turns it does what the booklet says and no more")
	}
	for _, d := range t.roles(circuit.SpeedKnob, circuit.SpeedStep) {
		add(d.Tag, said(d)+": from end to end while it runs", "the speed follows, up when it is turned up")
	}
	for _, d := range t.roles(circuit.LoadContactor) {
		add(d.Tag, start+", then stop: "+said(d), "its load comes and goes with the run, and never by itself")
	}
	add("supply returns", start+", switch the supply off while it runs, wait until it stands, switch on again", "nothing turns until somebody starts it")
}

// start says how the machine is started by a device, and how again while it should stay stopped.
func (t *tester) start(d *circuit.Device) (start, again string) {
	if d.Role == circuit.RunSwitch {
		return "turn " + d.Tag + " on", "turn " + d.Tag + " off and on again"
	}
	return "press " + d.Tag, "press " + d.Tag + " again"
}

// channels tries each of the two ways of an emergency stop by itself: together one of them hides that the other is dead. Source: common
// practice of proof tests; ISO 13849-1 asks that a fault of one channel is found.
func (t *tester) channels(start string, add func(about, text, expect string)) {
	for _, d := range t.circuit.ByKind(circuit.Drive) {
		var wires []string
		for _, e := range d.Elements {
			if e.Kind != circuit.Input || e.Does != circuit.SafeOff1 && e.Does != circuit.SafeOff2 {
				continue
			}
			for n := range t.circuit.Wires {
				if w := &t.circuit.Wires[n]; w.From == d.Pin(e.A) || w.To == d.Pin(e.A) {
					wires = append(wires, fmt.Sprintf("wire %s off %s", w.Name, d.Pin(e.A)))
				}
			}
		}
		if len(wires) < 2 || t.roles(circuit.EmergencyRole) == nil {
			continue
		}
		for n, w := range wires {
			add(fmt.Sprint(d.Tag, " channel ", n+1), "now and at the yearly check, power off and locked: "+w+", insulated; power on, "+start+"; power off and locked, the wire on again", "it doesn't start with that channel open: each of the two stops it by itself")
		}
	}
	for _, d := range t.roles(circuit.SupplyContactor) {
		add(d.Tag, "now and at the yearly check: "+start+", push an emergency stop, watch "+said(d), "it drops out, by sight and by ear, and the drive's display goes dark: a contactor that stays in is found only here")
	}
}

// roles returns the devices of the roles.
func (t *tester) roles(roles ...circuit.Role) []*circuit.Device {
	var list []*circuit.Device
	for _, r := range roles {
		list = append(list, t.circuit.ByRole(r)...)
	}
	return list
}

// said names a device for a person.
func said(d *circuit.Device) string {
	if d.Words == "" || strings.EqualFold(d.Words, string(d.Kind)) {
		return d.Tag
	}
	return d.Words + " (" + d.Tag + ")"
}
