package prove

import (
	"fmt"
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
	for n := range t.circuit.Devices {
		d := &t.circuit.Devices[n]
		for k := range d.Elements {
			e := &d.Elements[k]
			if e.Kind != circuit.Source {
				continue
			}
			volts := e.Volts.Show(quantity.InchUnits)
			switch d.Kind {
			case circuit.Incoming:
				add(d.Tag, fmt.Sprintf("everything behind it off or its fuses out, then switch on: %s to %s, each of them to ground", d.Pin(e.A), d.Pin(e.B)), "about "+volts+" between them; to ground what your supply has, and the same each day")
			case circuit.Transformer:
				add(d.Tag, fmt.Sprintf("what it feeds disconnected, its fuse out: %s to %s", d.Pin(e.A), d.Pin(e.B)), volts+", 10 % more without load")
			case circuit.PowerSupply:
				add(d.Tag, fmt.Sprintf("the wire or fuse behind %s out: red on %s, black on %s", d.Pin(e.A), d.Pin(e.A), d.Pin(e.B)), "+"+volts+", and plus where it is marked: a minus sign means that it is the wrong way round")
			case circuit.Drive:
				add(d.Tag+":"+e.A, fmt.Sprintf("the control terminals of %s still off: red on %s, black on %s, on the drive's pins", d.Tag, d.Pin(e.A), d.Pin(e.B)), "+"+volts)
			default:
			}
		}
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

// knob watches the reference while the knob is turned.
func (t *tester) knob(d *circuit.Device, add func(about, text, expect string)) {
	for n := range t.circuit.Devices {
		drive := &t.circuit.Devices[n]
		for _, e := range drive.Elements {
			if e.Kind == circuit.Reference {
				add(d.Tag, fmt.Sprintf("control terminals on again, no start: red on %s, black on %s, while %s is turned from end to end", drive.Pin(e.A), drive.Pin(e.B), d.Tag), "from 0 V up to "+e.Volts.Show(quantity.InchUnits)+" when it is turned up, without a jump")
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
	start := "start it"
	if starts != nil {
		start = "press " + starts[0].Tag
	}
	add("power on", "switch the supply on and touch nothing", "nothing turns")
	for _, d := range starts {
		add(d.Tag, said(d)+": start, let it come to speed", "it turns the right way, and goes on after a button is let go")
	}
	for _, d := range t.roles(circuit.Stop, circuit.FootBrake) {
		add(d.Tag, start+", then "+said(d)+"; hold it and "+start+" again; let it go", "it stops; it doesn't start while it is held, nor when it is let go")
	}
	for _, d := range t.roles(circuit.EmergencyRole, circuit.Guard) {
		add(d.Tag, start+", then "+said(d)+"; "+start+" again; put it back to rest", "it stops as planned; it doesn't start, nor when it is put back: only a fresh start does")
	}
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
