package circuit

import (
	"slices"

	"drivewright/internal/base/quantity"
)

// nets is the circuit as potentials: which pins stand together whatever the switches do, and which contacts can join two
// potentials. The rules ask it what can reach what. It knows no currents: that is prove's.
type nets struct {
	circuit  *Circuit
	number   map[Pin]int // of the potential, from 0
	pins     [][]Pin     // of each potential
	wires    []int       // how many wires end on each potential
	contacts []tracedContact
	sources  []tracedSource
	coils    []tracedPair
	inputs   []tracedPair

	all   pulled // what can be pulled in when every hand may be anywhere
	large poles  // what the sources can then reach
	outs  [][]bool
}

// tracedContact is a contact between two potentials.
type tracedContact struct {
	device  *Device
	element *Element
	a, b    int
}

// tracedPair is an element between two potentials: a coil, or a drive's input with the end of its own resistor.
type tracedPair struct {
	device  *Device
	element *Element
	a, b    int
}

// tracedSource is a source between two potentials, with those that feed it.
type tracedSource struct {
	tracedPair
	fed      bool // it has an input of its own
	in1, in2 int
}

// trace joins the circuit's pins by wires and links.
func trace(c *Circuit) *nets {
	n := &nets{circuit: c, number: map[Pin]int{}}
	var order []Pin
	parent := map[Pin]Pin{}
	root := func(p Pin) Pin {
		for parent[p] != p {
			parent[p] = parent[parent[p]]
			p = parent[p]
		}
		return p
	}
	add := func(p Pin) {
		if _, there := parent[p]; !there {
			parent[p] = p
			order = append(order, p)
		}
	}
	join := func(p, q Pin) {
		add(p)
		add(q)
		parent[root(q)] = root(p)
	}
	for d := range c.Devices {
		for _, t := range c.Devices[d].Terminals {
			add(c.Devices[d].Pin(t))
		}
		for _, e := range c.Devices[d].Elements {
			if e.Kind == Link {
				join(c.Devices[d].Pin(e.A), c.Devices[d].Pin(e.B))
			}
		}
	}
	for _, w := range c.Wires {
		join(w.From, w.To)
	}
	numbers := map[Pin]int{}
	for _, p := range order {
		r := root(p)
		k, there := numbers[r]
		if !there {
			k = len(n.pins)
			numbers[r] = k
			n.pins = append(n.pins, nil)
		}
		n.number[p] = k
		n.pins[k] = append(n.pins[k], p)
	}
	n.wires = make([]int, len(n.pins))
	for _, w := range c.Wires {
		n.wires[n.number[w.From]]++
	}
	n.elements()
	n.all = n.settle(stand{}, pulled{})
	n.large = n.poles(stand{}, n.all)
	n.outs = n.behindDrive()
	return n
}

// elements sorts the devices' elements by what the rules ask of them.
func (n *nets) elements() {
	for i := range n.circuit.Devices {
		d := &n.circuit.Devices[i]
		for j := range d.Elements {
			e := &d.Elements[j]
			a, b := n.at(d, e.A), n.at(d, e.B)
			switch e.Kind {
			case Contact:
				n.contacts = append(n.contacts, tracedContact{d, e, a, b})
			case Coil:
				n.coils = append(n.coils, tracedPair{d, e, a, b})
			case Input:
				n.inputs = append(n.inputs, tracedPair{d, e, a, n.at(d, e.W)})
			case Source:
				s := tracedSource{tracedPair: tracedPair{d, e, a, b}}
				if e.FedBy[0] != "" {
					s.fed, s.in1, s.in2 = true, n.at(d, e.FedBy[0]), n.at(d, e.FedBy[1])
				}
				n.sources = append(n.sources, s)
			case Link, LampElement, Resistance, KnobElement, DiodeElement, Reference, Winding, Electronics:
			}
		}
	}
	n.inSeries()
}

// inSeries adds what stands across two sources of one device in series: 240 V across the two lines beside a neutral, the third
// pair of three phases.
func (n *nets) inSeries() {
	for _, s := range slices.Clone(n.sources) {
		for _, t := range n.sources {
			if s.device != t.device || s.element == t.element || s.b != t.a || s.b < 0 || s.fed || t.fed {
				continue
			}
			e := *s.element
			e.B = t.element.B
			if s.element.B == "N" {
				e.Volts += t.element.Volts
			}
			n.sources = append(n.sources, tracedSource{tracedPair: tracedPair{s.device, &e, s.a, t.b}})
			break
		}
	}
}

// at returns the potential of the device's terminal; -1 where it has no such terminal.
func (n *nets) at(d *Device, terminal string) int {
	if k, there := n.number[d.Pin(terminal)]; there {
		return k
	}
	return -1
}

// wired reports whether any wire ends on the potential.
func (n *nets) wired(k int) bool { return k >= 0 && n.wires[k] > 0 }

// stand says in which positions a device may be: bit 0 is its rest. A device that isn't in it may be in any.
type stand map[*Device]uint8

// rest is the stand in which every device that goes back by itself is let go; what is turned by hand and stays may be anywhere.
func (n *nets) rest() stand {
	s := stand{}
	for i := range n.circuit.Devices {
		if d := &n.circuit.Devices[i]; d.Springs {
			s[d] = 1
		}
	}
	return s
}

// untouched is the stand in which everything that a hand or a cam moves is at its rest. Main switches may be on.
func (n *nets) untouched() stand {
	s := stand{}
	for i := range n.circuit.Devices {
		if d := &n.circuit.Devices[i]; d.Kind != MainSwitch && !moves(d) {
			s[d] = 1
		}
	}
	return s
}

// with returns the stand with the device moved out of its rest.
func (s stand) with(d *Device) stand {
	moved := stand{}
	for k, v := range s {
		moved[k] = v
	}
	moved[d] = mask(len(d.Positions)) &^ 1
	return moved
}

// pulled is which coils have pulled in, by device.
type pulled map[*Device]bool

// moves reports whether the device's contacts are moved by its own coil.
func moves(d *Device) bool {
	return slices.ContainsFunc(d.Elements, func(e Element) bool { return e.Kind == Coil })
}

// closed reports whether the contact may be closed.
func (c tracedContact) closed(s stand, in pulled) bool {
	may := uint8(0xff)
	switch {
	case c.element.Group > 0:
		may = 3 // a drive's relay: on or off
	case moves(c.device):
		may = 1
		if in[c.device] {
			may = 3
		}
		if m, pinned := s[c.device]; pinned {
			may = m
		}
	default:
		if m, pinned := s[c.device]; pinned {
			may = m
		}
	}
	return c.element.In&may != 0
}

// reach marks the potentials that can be joined to the one given.
func (n *nets) reach(from int, s stand, in pulled) []bool {
	seen := make([]bool, len(n.pins))
	if from < 0 {
		return seen
	}
	seen[from] = true
	for grown := true; grown; {
		grown = false
		for _, c := range n.contacts {
			if c.a < 0 || c.b < 0 || seen[c.a] == seen[c.b] || !c.closed(s, in) {
				continue
			}
			seen[c.a], seen[c.b], grown = true, true, true
		}
	}
	return seen
}

// poles is what each source can reach with its two ends; nil for a source that has no power itself.
type poles struct {
	of    []tracedSource
	plus  [][]bool
	minus [][]bool
}

// polesIfFed is poles with every supply taken as live, for what is judged apart from the supplies.
func (n *nets) polesIfFed(s stand, in pulled) poles {
	p := poles{of: n.sources, plus: make([][]bool, len(n.sources)), minus: make([][]bool, len(n.sources))}
	for k, source := range n.sources {
		if source.a >= 0 && source.b >= 0 {
			p.plus[k], p.minus[k] = n.reach(source.a, s, in), n.reach(source.b, s, in)
		}
	}
	return p
}

// poles returns what the sources can reach.
func (n *nets) poles(s stand, in pulled) poles {
	p := poles{of: n.sources, plus: make([][]bool, len(n.sources)), minus: make([][]bool, len(n.sources))}
	for grown := true; grown; {
		grown = false
		for k, source := range n.sources {
			if p.plus[k] != nil || source.a < 0 || source.b < 0 {
				continue
			}
			// A supply whose input isn't wired at all stands in a part of a circuit: it is taken as live.
			if source.fed && (n.wired(source.in1) || n.wired(source.in2)) && p.between(source.in1, source.in2) < 0 {
				continue
			}
			p.plus[k], p.minus[k], grown = n.reach(source.a, s, in), n.reach(source.b, s, in), true
		}
	}
	return p
}

// between returns the first source that can stand between the two potentials; -1 if none.
func (p poles) between(a, b int) int {
	if a < 0 || b < 0 || a == b {
		return -1
	}
	for k := range p.of {
		if p.plus[k] != nil && (p.plus[k][a] && p.minus[k][b] || p.plus[k][b] && p.minus[k][a]) {
			return k
		}
	}
	return -1
}

// settle returns the coils that can stay pulled in from those of before, and those that can then pull in besides.
func (n *nets) settle(s stand, before pulled) pulled {
	in := pulled{}
	for d := range before {
		in[d] = true
	}
	for {
		p := n.poles(s, in)
		next := pulled{}
		for _, c := range n.coils {
			if in[c.device] && p.between(c.a, c.b) >= 0 {
				next[c.device] = true
			}
		}
		if len(next) == len(in) {
			break
		}
		in = next
	}
	for {
		p := n.poles(s, in)
		grown := false
		for _, c := range n.coils {
			if !in[c.device] && p.between(c.a, c.b) >= 0 {
				in[c.device], grown = true, true
			}
		}
		if !grown {
			return in
		}
	}
}

// outcome is what can be at a drive in a stand of the circuit.
type outcome struct {
	Fed      bool             // it can have its supply
	On       map[Command]bool // inputs that can be on
	Has      map[Command]bool // inputs that are wired
	Contacts pulled
}

// outcome works out what the drive can be told in the stand, with the coils that were in before.
func (n *nets) outcome(s stand, before pulled) outcome {
	in := n.settle(s, before)
	p := n.poles(s, in)
	o := outcome{Fed: true, On: map[Command]bool{}, Has: map[Command]bool{}, Contacts: in}
	drive := n.circuit.Device(n.circuit.Drive.Tag)
	if drive == nil {
		return o
	}
	if supply := n.circuit.Drive.Supply; len(supply) > 1 {
		a, b := n.at(drive, supply[0]), n.at(drive, supply[1])
		o.Fed = !n.wired(a) && !n.wired(b) || p.between(a, b) >= 0
	}
	for _, i := range n.inputs {
		if i.device != drive {
			continue
		}
		o.Has[i.element.Does] = o.Has[i.element.Does] || n.wired(i.a)
		o.On[i.element.Does] = o.On[i.element.Does] || p.between(i.a, i.b) >= 0
	}
	return o
}

// torque reports whether no safe-off input keeps the torque away; one that isn't wired is taken as bridged by its maker.
func (o outcome) torque() bool {
	for _, c := range []Command{SafeOff1, SafeOff2} {
		if o.Has[c] && !o.On[c] {
			return false
		}
	}
	return true
}

// ordered reports whether a run is ordered or, in three-wire logic, kept up.
func (o outcome) ordered(d DriveLogic) bool {
	if o.Has[ExternalFault] && !o.On[ExternalFault] {
		return false
	}
	if d.ThreeWire {
		return !o.Has[StopCommand] || o.On[StopCommand]
	}
	return o.commanded()
}

// commanded reports whether a run input can be on.
func (o outcome) commanded() bool { return o.On[RunForward] || o.On[RunReverse] || o.On[JogCommand] }

// runs reports whether the motor can go on running.
func (o outcome) runs(d DriveLogic) bool { return o.Fed && o.torque() && o.ordered(d) }

// everything is what can be pulled in when every hand may be anywhere. It belongs to n: don't change it.
func (n *nets) everything() pulled { return n.all }

// atLarge is what the sources can reach when every hand may be anywhere.
func (n *nets) atLarge() poles { return n.large }

// allIn is every coil pulled in, whether anything can pull it in or not.
func (n *nets) allIn() pulled {
	in := pulled{}
	for _, c := range n.coils {
		in[c.device] = true
	}
	return in
}

// hasDrive reports whether there is a drive with any of its run or stop inputs wired, so that it can be said what reaches it.
func (n *nets) hasDrive() bool {
	if n.circuit.Drive.Tag == "" {
		return false
	}
	for _, i := range n.inputs {
		if i.device.Tag != n.circuit.Drive.Tag || !n.wired(i.a) {
			continue
		}
		switch i.element.Does {
		case RunForward, RunReverse, StopCommand:
			return true
		case NoCommand, ReverseDirection, JogCommand, Step1, Step2, ResetCommand, ExternalFault, SafeOff1, SafeOff2:
		}
	}
	return false
}

// volts returns the highest voltage that can stand on the potential against the other end of its source.
func (n *nets) volts(k int, p poles) quantity.Voltage {
	var most quantity.Voltage
	for s := range p.of {
		if k >= 0 && p.plus[s] != nil && (p.plus[s][k] || p.minus[s][k]) {
			most = max(most, p.of[s].element.Volts)
		}
	}
	return most
}

// wiresAt returns the wires that end on the pin.
func (n *nets) wiresAt(p Pin) []*Wire {
	var list []*Wire
	for i := range n.circuit.Wires {
		if w := &n.circuit.Wires[i]; w.From == p || w.To == p {
			list = append(list, w)
		}
	}
	return list
}
