package circuit

import (
	"cmp"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// finish tells of every wire, made or written by hand, what it carries, and gives it the colour, size, length and voltage that
// nobody wrote.
func finish(r *Result) {
	c := &r.Circuit
	p := newPotentials(c)
	p.carry()
	for n := range c.Wires {
		w := &c.Wires[n]
		w.Duty = p.duty(w)
		cable := c.Cable(w.Cable)
		if w.Colour == "" {
			w.Colour = colourOf(c.Set, w, cable)
		}
		if !w.Size.OK() {
			w.Size = r.sizeOf(w, cable)
		}
		if !w.Length.OK() {
			w.Length = r.lengthOf(w, cable)
		}
		w.Voltage = r.voltageOf(w)
	}
	for n := range c.Cables {
		k := &c.Cables[n]
		for i := range k.Cores {
			k.Cores[i].Grounded = k.Cores[i].Wire == "" && r.Choices.SpareEnds.Value == "grounded at the box"
		}
		if !k.Size.OK() {
			for _, core := range k.Cores {
				if w := c.Wire(core.Wire); w != nil && w.Size.OK() && w.Duty != GroundDuty {
					k.Size = w.Size
					break
				}
			}
		}
	}
	for n := range c.Devices {
		d := &c.Devices[n]
		if d.Rating == "" {
			d.Rating = strings.Join(slices.DeleteFunc([]string{rating(d, c.Set), r.powerRating(d)}, func(part string) bool { return part == "" }), ", ")
		}
	}
}

// powerRating is what the Power stage asks of a device.
func (r *Result) powerRating(d *Device) string {
	switch b := &r.Brief; {
	case d.Kind == Drive && b.Drive.OK():
		text := string(b.Drive.Value)
		if n := r.Side.channels(); n > 0 {
			text += ", safe torque off, " + many(n, "channel", "channels")
		}
		return text
	case d.Kind == MainSwitch && b.Switch.OK():
		return b.Switch.Value.Show(quantity.MetricUnits) + ", can be locked off"
	case d.Kind == Fuse || d.Kind == Breaker:
		return r.breaks(d)
	case d.Role == SupplyContactor && b.Input.OK():
		return b.Input.Value.Show(quantity.MetricUnits) + " or more by category AC-1"
	case d.Kind == PowerSupply: // common practice: many electronic supplies fold back, and the fuse behind them never blows
		return "one whose data sheet says which fuse behind it blows on a short"
	case d.Kind == Diode:
		return "1 A, 200 V or more" // for the coil of a small contactor or relay at 24 V; common practice
	case d.Kind == MotorKind:
		return "the machine's own"
	case d.Kind == Readout:
		return "for the drive's serial line, fed with " + d.Elements[0].Volts.Show(quantity.MetricUnits) + " DC"
	}
	return ""
}

// sizeOf is the size of a wire that has none: the core's of its cable, else by what it carries.
func (r *Result) sizeOf(w *Wire, cable *Cable) explain.Known[quantity.Conductor] {
	if cable != nil && cable.Size.OK() {
		return cable.Size
	}
	b, p := &r.Brief, &r.Choices
	switch w.Duty {
	case SupplyDuty, ForeignDuty:
		return b.Branch
	case MotorDuty:
		return b.Lead
	case GroundDuty:
		return b.Ground
	case ControlAC, ControlDC, CommonAC, CommonDC, ReferenceDuty, DataDuty, ScreenDuty, DriveSafeDuty:
	}
	if cable != nil {
		return p.CableWire
	}
	return p.Wire
}

// lengthOf is the length of a wire that nobody wrote: its cable's, its run's, or what is usual in the box and to its door.
func (r *Result) lengthOf(w *Wire, cable *Cable) explain.Known[quantity.Length] {
	if cable != nil && cable.Length.OK() {
		return cable.Length
	}
	p := &r.Choices
	length := p.InBox
	for _, pin := range []Pin{w.From, w.To} {
		d := r.Circuit.Device(pin.Device)
		if d == nil {
			continue
		}
		at := r.Circuit.Place(d.Place)
		switch {
		case at == nil || at.Kind == Box:
		case !r.apart(w) && (at.Kind == Door || at.Kind == Station):
			return p.Jumper
		case at.Kind == Door:
			length = p.ToDoor
		case at.Run.OK() && r.apart(w):
			return at.Run
		}
	}
	return length
}

// apart reports whether the ends of a wire are in two places.
func (r *Result) apart(w *Wire) bool {
	a, b := r.Circuit.Device(w.From.Device), r.Circuit.Device(w.To.Device)
	return a != nil && b != nil && a.Place != b.Place
}

// voltageOf is the most that stands on a wire against its neighbours.
func (r *Result) voltageOf(w *Wire) explain.Known[quantity.Voltage] {
	switch w.Duty {
	case SupplyDuty, ForeignDuty:
		return job.Or(r.Job.Supply.Voltage, 240, usual, explain.Say("not measured yet"))
	case MotorDuty:
		return job.Or(r.Job.Supply.Voltage, 240, usual, explain.Say("not measured yet"))
	case ReferenceDuty:
		return r.Side.Reference
	case DriveSafeDuty, DataDuty:
		return r.Side.InputVoltage
	case ControlAC, ControlDC, CommonAC, CommonDC, ScreenDuty, GroundDuty:
	}
	return r.Choices.Voltage
}

// potentials are the circuit's potentials by number: pins that wires and jumpers join. What lies between two by a contact or
// a fuse carries on what the one carries.
type potentials struct {
	c      *Circuit
	of     map[Pin]int
	duties []Duty
	ahead  []bool  // live with the main switch off
	next   [][]int // what contacts join to it
}

func newPotentials(c *Circuit) *potentials {
	p := &potentials{c: c, of: map[Pin]int{}}
	parent := []int{}
	id := func(pin Pin) int {
		n, ok := p.of[pin]
		if !ok {
			n = len(parent)
			p.of[pin] = n
			parent = append(parent, n)
		}
		return n
	}
	root := func(n int) int {
		for parent[n] != n {
			parent[n] = parent[parent[n]]
			n = parent[n]
		}
		return n
	}
	for n := range c.Wires {
		a, b := root(id(c.Wires[n].From)), root(id(c.Wires[n].To))
		if c.bond(&c.Wires[n]) {
			continue // the bond of a control common joins two potentials with two names and colours
		}
		parent[a] = b
	}
	for n := range c.Devices {
		d := &c.Devices[n]
		for _, t := range d.Terminals {
			id(d.Pin(t))
		}
		for _, e := range d.Elements {
			if e.Kind == Link && d.Kind != Drive {
				parent[root(id(d.Pin(e.A)))] = root(id(d.Pin(e.B)))
			}
		}
	}
	for pin, n := range p.of {
		p.of[pin] = root(n)
	}
	p.duties, p.ahead, p.next = make([]Duty, len(parent)), make([]bool, len(parent)), make([][]int, len(parent))
	for n := range c.Devices {
		d := &c.Devices[n]
		for _, e := range d.Elements {
			if e.Kind == Contact && d.Kind != MainSwitch {
				a, b := p.of[d.Pin(e.A)], p.of[d.Pin(e.B)]
				p.next[a], p.next[b] = append(p.next[a], b), append(p.next[b], a)
			}
		}
	}
	return p
}

// bond reports whether a wire joins the ground bar to a supply's common: one potential with two names.
func (c *Circuit) bond(w *Wire) bool {
	a, b := c.Device(w.From.Device), c.Device(w.To.Device)
	if a == nil || b == nil {
		return false
	}
	if b.Kind == GroundBar {
		a, b = b, a
		return a.Kind == GroundBar && isCommon(b, w.From.Terminal)
	}
	return a.Kind == GroundBar && isCommon(b, w.To.Terminal)
}

// isCommon reports whether a terminal is the grounded side of a supply.
func isCommon(d *Device, terminal string) bool {
	switch d.Kind {
	case PowerSupply:
		return terminal == "-"
	case Transformer:
		return terminal == "X2"
	case Drive:
		return slices.ContainsFunc(d.Elements, func(e Element) bool { return e.Kind == Source && e.B == terminal })
	}
	return false
}

// strength orders duties where two terminals of different kinds meet on one potential, the one that counts first: what gives a
// potential its voltage counts before what only takes it.
var strength = map[Duty]int{GroundDuty: 1, MotorDuty: 2, SupplyDuty: 3, DataDuty: 4, ReferenceDuty: 5, CommonAC: 6, CommonDC: 7, ControlAC: 8, ControlDC: 9, DriveSafeDuty: 10}

// spreads orders duties by which goes on first through contacts: a safe-off line is one from its input back to the 24 V.
var spreads = map[Duty]int{GroundDuty: 1, MotorDuty: 2, SupplyDuty: 3, DriveSafeDuty: 4, DataDuty: 5, ReferenceDuty: 6, CommonAC: 7, CommonDC: 8, ControlAC: 9, ControlDC: 10}

// carry settles what each potential carries: first by the terminals on it, then through contacts and fuses.
func (p *potentials) carry() {
	seed := func(pin Pin, duty Duty) {
		n, ok := p.of[pin]
		if ok && (p.duties[n] == "" || strength[duty] < strength[p.duties[n]]) {
			p.duties[n] = duty
		}
	}
	control := Duty("")
	for n := range p.c.Devices {
		d := &p.c.Devices[n]
		for _, t := range d.Terminals {
			if t == "PE" || t == "PEM" || d.Kind == GroundBar {
				seed(d.Pin(t), GroundDuty)
			} else if duty := terminalDuty(d, t); duty != "" {
				seed(d.Pin(t), duty)
				if duty == ControlAC || duty == ControlDC {
					control = cmp.Or(control, duty)
				}
			}
			if d.Kind == Incoming {
				p.ahead[p.of[d.Pin(t)]] = true
			}
		}
	}
	p.spread()
	// A transformer's secondary is a load's supply if a load hangs on it, else the control circuit's.
	for n := range p.c.Devices {
		d := &p.c.Devices[n]
		if d.Kind != Transformer {
			continue
		}
		hot, common := p.of[d.Pin("X1")], p.of[d.Pin("X2")]
		switch {
		case p.duties[hot] == SupplyDuty:
			p.duties[common] = SupplyDuty
		case p.duties[hot] == "":
			p.duties[hot], control = ControlAC, cmp.Or(control, ControlAC)
			fallthrough
		default:
			if p.duties[common] == "" {
				p.duties[common] = CommonAC
			}
		}
	}
	p.spread()
	// a potential between two resistors or coils: the control circuit's
	for n := range p.duties {
		if p.duties[n] == "" {
			p.duties[n] = cmp.Or(control, ControlDC)
		}
	}
}

// spread leads what the potentials carry on through contacts and fuses to those that have nothing of their own.
func (p *potentials) spread() {
	var order []int
	for n, duty := range p.duties {
		if duty != "" {
			order = append(order, n)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(spreads[p.duties[a]], spreads[p.duties[b]]) })
	for len(order) > 0 {
		var later []int
		for _, n := range order {
			for _, m := range p.next[n] {
				if p.duties[m] == "" {
					p.duties[m] = p.duties[n]
					later = append(later, m)
				}
				p.ahead[m] = p.ahead[m] || p.ahead[n]
			}
		}
		order = later
	}
}

// terminalDuty is what a terminal carries by its own nature; "" where that hangs on the circuit.
func terminalDuty(d *Device, t string) Duty {
	switch d.Kind {
	case Incoming, Load:
		return SupplyDuty
	case MotorKind:
		return MotorDuty
	case PowerSupply:
		return map[string]Duty{"L": SupplyDuty, "N": SupplyDuty, "+": ControlDC, "-": CommonDC}[t]
	case Transformer:
		return map[string]Duty{"H1": SupplyDuty, "H4": SupplyDuty}[t] // its secondary feeds controls or a load: see carry
	case Knob:
		return ReferenceDuty
	case Readout:
		return map[string]Duty{"A": DataDuty, "B": DataDuty}[t]
	case Drive:
		return driveDuty(d, t)
	}
	return ""
}

// driveDuty is what a terminal of the drive carries.
func driveDuty(d *Device, t string) Duty {
	switch t {
	case "L1", "L2", "L3":
		return SupplyDuty
	case "U", "V", "W":
		return MotorDuty
	case "D+", "D-":
		return DataDuty
	}
	for _, e := range d.Elements {
		switch {
		case e.Kind == Source && e.A == t && e.Volts > 15, e.Kind == Input && e.A == t && e.Does != SafeOff1 && e.Does != SafeOff2:
			return ControlDC
		case e.Kind == Source && e.B == t && e.Volts > 15:
			return CommonDC
		case e.Kind == Input && e.A == t:
			return DriveSafeDuty
		case e.Kind == Source && (e.A == t || e.B == t), e.Kind == Reference && (e.A == t || e.B == t):
			return ReferenceDuty
		}
	}
	return ""
}

// duty says what a wire carries.
func (p *potentials) duty(w *Wire) Duty {
	if p.c.bond(w) {
		return GroundDuty
	}
	n, ok := p.of[w.From]
	if !ok {
		return ControlDC
	}
	duty := p.duties[n]
	if duty == SupplyDuty && p.ahead[n] && !p.ownSupply(w) {
		return ForeignDuty
	}
	return duty
}

// ownSupply reports whether a wire ahead of the main switch leads only from the supply to that switch.
func (p *potentials) ownSupply(w *Wire) bool {
	for _, pin := range []Pin{w.From, w.To} {
		if d := p.c.Device(pin.Device); d == nil || d.Kind != Incoming && d.Kind != MainSwitch {
			return false
		}
	}
	return true
}
