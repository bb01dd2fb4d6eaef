package prove

import (
	"math"
	"slices"

	"drivewright/internal/trade/circuit"
)

// deadBox is the wired box with no power on it, as an ohmmeter sees it: wires, links and closed contacts join, and what is
// left is resistances. What an ohmmeter can't be trusted through is either unplugged (see before), and then nothing is there,
// or it counts as anything between a least resistance and an open circuit.
//
// Wires and closed contacts count as nothing: a metre of 18 AWG has 0.026 ohm (NFPA 70, Chapter 9, Table 8: 7.95 ohm per
// 1000 ft) against the 0.2 to 0.5 ohm of a hand meter's leads. Long runs are added to the limit of the readings through them.
type deadBox struct {
	wiring   *Wiring
	nodes    int    // pins, then the insides of what can't be known
	links    []Edge // joined always
	contacts []boxContact
	resists  []resistance
	knobs    []boxKnob
	diodes   []Edge // from anode to cathode; open to an ohmmeter that is the right way round
	probes   []int  // nodes where a wire ends, or a feeder will, in the order of the pins: where a probe goes
	waits    []bool // nodes in the box where a feeder will be joined
	ground   int    // a node of the protective ground; -1 where there is none
	devices  []boxDevice
	wires    float64 // ohms of all wires one behind the other: what joined pins may have at the most
}

// boxContact is a contact between two nodes, closed in the positions of in.
type boxContact struct {
	part, device int
	a, b         int
	in           uint8
}

// resistance lies between two nodes. Nobody knows it exactly: it is between least and most, which is infinite for what may
// be open.
type resistance struct {
	part                 int
	a, b                 int
	least, nominal, most float64
}

// boxKnob is a knob, which stands fully down (position 0) or fully up (1).
type boxKnob struct {
	part, device         int
	a, w, b              int
	least, nominal, most float64
}

// boxDevice is what a hand can do to a device while the box is measured.
type boxDevice struct {
	positions []string
	held      bool // a hand must hold it there
	relay     bool // by pressing its armature in
	pulled    bool // its control terminals are pulled off: they are there with their wires, and nothing behind them
}

// Tolerances and limits of what an ohmmeter finds. Source: common practice; data sheets of relays state ±10 to ±15 % of coil
// resistance at 20 °C, of potentiometers ±20 %, of carbon resistors ±5 %.
const (
	coilTolerance     = 0.15
	acCoilLeast       = 0.08 // an AC coil's direct-current resistance against volts² ÷ watts: most of its impedance is inductance
	knobTolerance     = 0.20
	knobEnd           = 0.02 // of the track, what is left between wiper and end at the stop
	resistorTolerance = 0.05
	windingTolerance  = 0.20
	unknownLeast      = 50.0 // what diodes, capacitors and regulators of an unpowered supply or drive read at the least
	windingLeast      = 0.1  // of a winding that nobody measured
	motorMost         = 100.0
	transformerMost   = 2000.0
	never             = 1e-3 // the least that counts as a resistance at all, so that a fully turned knob can be computed
)

// newDeadBox makes the box of a circuit.
func newDeadBox(w *Wiring) *deadBox {
	b := &deadBox{nodes: len(w.Pins)}
	w, b.waits = w.withoutFeeders()
	b.wiring = w
	for _, d := range w.Circuit.Devices {
		b.devices = append(b.devices, boxDevice{positions: handPositions(&d), held: d.Springs || coiled(&d), relay: coiled(&d), pulled: d.Kind == circuit.Drive})
	}
	pulled := b.pulledNodes()
	inside := map[[2]int]int{} // the middle of what can't be known, by device and side
	middle := func(p Part, side int) int {
		key := [2]int{p.Device, side}
		if _, there := inside[key]; !there {
			inside[key] = b.nodes
			b.nodes++
		}
		return inside[key]
	}
	arms := map[[2]int]bool{}
	unknown := func(n int, p Part, side int) {
		m := middle(p, side)
		for _, end := range []int{p.A, p.B} {
			if end >= 0 && !arms[[2]int{end, m}] {
				arms[[2]int{end, m}] = true
				b.resists = append(b.resists, resistance{n, end, m, unknownLeast / 2, math.Inf(1), math.Inf(1)})
			}
		}
	}
	add := func(n int, p Part, least, nominal, most float64) {
		b.resists = append(b.resists, resistance{n, p.A, p.B, max(least, never), nominal, most})
	}
	for n, p := range w.Parts {
		ohms := float64(p.Ohms)
		d := &w.Circuit.Devices[p.Device]
		if p.A >= 0 && pulled[p.A] || p.B >= 0 && pulled[p.B] {
			continue
		}
		if p.Kind != circuit.Input && (p.A < 0 || p.B < 0) {
			continue
		}
		switch p.Kind {
		case circuit.Contact:
			if p.Group == 0 {
				b.contacts = append(b.contacts, boxContact{n, p.Device, p.A, p.B, p.In})
			}
		case circuit.Link:
			b.links = append(b.links, Edge{p.A, p.B})
		case circuit.Coil:
			if p.AC {
				add(n, p, ohms*acCoilLeast, ohms*0.35, ohms*(1+coilTolerance))
			} else {
				add(n, p, ohms*(1-coilTolerance), ohms, ohms*(1+coilTolerance))
			}
		case circuit.Resistance:
			if d.Kind != circuit.Load {
				add(n, p, ohms*(1-resistorTolerance), ohms, ohms*(1+resistorTolerance))
			}
		case circuit.KnobElement:
			if p.W >= 0 {
				b.knobs = append(b.knobs, boxKnob{n, p.Device, p.A, p.W, p.B, ohms * (1 - knobTolerance), ohms, ohms * (1 + knobTolerance)})
			}
		case circuit.Winding:
			switch {
			case ohms > 0:
				add(n, p, ohms*(1-windingTolerance), ohms, ohms*(1+windingTolerance))
			case d.Kind == circuit.MotorKind:
				add(n, p, windingLeast, math.NaN(), motorMost)
			default:
				add(n, p, windingLeast, math.NaN(), transformerMost)
			}
		case circuit.Source:
			switch d.Kind {
			case circuit.Transformer:
				add(n, p, windingLeast, math.NaN(), motorMost)
			case circuit.Incoming: // the plug is out
			default:
				unknown(n, p, 1)
			}
		case circuit.Electronics:
			unknown(n, p, 0)
		case circuit.DiodeElement:
			b.diodes = append(b.diodes, Edge{p.A, p.B})
		case circuit.LampElement, circuit.Input, circuit.Reference: // light-emitting diodes read open; inputs are pulled off
		}
	}
	b.ground = groundNode(w)
	b.wires = b.wiresMost()
	wired := make([]bool, len(w.Pins))
	for _, e := range w.Wires {
		if e.A != e.B {
			wired[e.A], wired[e.B] = true, true
		}
	}
	for n := range w.Pins {
		if wired[n] || b.waits[n] {
			b.probes = append(b.probes, n)
		}
	}
	return b
}

// pulledNodes marks the control terminals of drives: those where something electronic lies that isn't on the supply or motor
// side.
func (b *deadBox) pulledNodes() []bool {
	pulled := make([]bool, len(b.wiring.Pins))
	for _, p := range b.wiring.Parts {
		if !b.devices[p.Device].pulled {
			continue
		}
		switch p.Kind {
		case circuit.Source, circuit.Input, circuit.Reference, circuit.Contact, circuit.KnobElement:
			for _, n := range []int{p.A, p.B, p.W} {
				if n >= 0 {
					pulled[n] = true
				}
			}
		default:
		}
	}
	return pulled
}

// groundNode returns a node of the protective ground: of the largest ground bar, else a terminal that is named as one; -1 where there
// is none.
func groundNode(w *Wiring) int {
	var bar *circuit.Device
	for _, d := range w.Circuit.ByKind(circuit.GroundBar) {
		if bar == nil || len(d.Terminals) > len(bar.Terminals) {
			bar = d
		}
	}
	if bar != nil && len(bar.Terminals) > 0 {
		return w.At(bar.Pin(bar.Terminals[0]))
	}
	for n, wire := range w.Circuit.Wires {
		if wire.Duty == circuit.GroundDuty && w.Wires[n].A != w.Wires[n].B {
			return w.Wires[n].A
		}
	}
	for n, p := range w.Pins {
		if p.Terminal == "PE" {
			return n
		}
	}
	return -1
}

// coiled reports whether the device is moved by a coil.
func coiled(d *circuit.Device) bool {
	return d.Kind == circuit.Relay || d.Kind == circuit.DelayRelay || d.Kind == circuit.Contactor
}

// Positions of a knob.
const (
	knobDown = "turned fully down"
	knobUp   = "turned fully up"
)

// Positions of a fuse.
const (
	fuseIn  = "in its holder"
	fuseOut = "taken out"
)

// handPositions returns the positions that a hand can bring the device into with the power off, the rest first; nil where it
// has only one.
func handPositions(d *circuit.Device) []string {
	switch d.Kind {
	case circuit.Knob:
		return []string{knobDown, knobUp}
	case circuit.Fuse:
		return []string{fuseIn, fuseOut}
	case circuit.Drive:
		return nil
	default:
		if len(d.Positions) < 2 {
			return nil
		}
		return d.Positions
	}
}

// setup is how all switches and knobs stand.
type setup struct {
	position []int // of each device
	settings []Setting
	devices  []int // that don't stand in their rest
	held     int   // how many of them a hand must hold
}

// setupOf returns the setup with the devices of the settings moved; ok is false where the circuit has no such device or
// position.
func (b *deadBox) setupOf(settings []Setting) (s setup, ok bool) {
	s = setup{position: make([]int, len(b.devices)), settings: settings}
	for _, set := range settings {
		d := slices.IndexFunc(b.wiring.Circuit.Devices, func(d circuit.Device) bool { return d.Tag == set.Device })
		if d < 0 {
			return s, false
		}
		p := slices.Index(b.devices[d].positions, set.Position)
		if p < 0 {
			return s, false
		}
		s.position[d] = p
		s.devices = append(s.devices, d)
		if b.devices[d].held {
			s.held++
		}
	}
	return s, true
}

// altered is one wiring mistake as the box takes it: at most two wires end elsewhere, one more joint, one part that isn't as
// it should be.
type altered struct {
	wire  [2]int // -1: none
	edge  [2]Edge
	joint Edge // a node to itself: none
	part  int  // -1: none
	how   ChangeKind
}

var unaltered = altered{wire: [2]int{-1, -1}, part: -1}

// alter takes over a change. Changes that an ohmmeter can't see, such as a source that gives nothing, leave the box as it is.
func (b *deadBox) alter(changes ...Change) altered {
	m := unaltered
	for _, c := range changes {
		switch c.Kind {
		case WireOff:
			m.wire[0] = c.Wire
		case WireMoved:
			e := b.wiring.Wires[c.Wire]
			m.wire[0], m.edge[0] = c.Wire, *e.end(c.End, c.A)
		case WiresSwapped:
			one, other := b.wiring.Wires[c.Wire], b.wiring.Wires[c.Other]
			a, z := one.at(c.End), other.at(c.OtherEnd)
			m.wire = [2]int{c.Wire, c.Other}
			m.edge = [2]Edge{*one.end(c.End, z), *other.end(c.OtherEnd, a)}
		case Bridged:
			m.joint = Edge{c.A, c.B}
		case StuckOpen, StuckClosed, Inverted, Turned, Dead, NeverMoves:
			m.part, m.how = c.Part, c.Kind
		}
	}
	return m
}

// at returns the node of an end: 0 for the first, 1 for the second.
func (e Edge) at(end int) int {
	if end == 0 {
		return e.A
	}
	return e.B
}

// end returns the edge with one end on another node.
func (e Edge) end(end, node int) *Edge {
	if end == 0 {
		e.A = node
	} else {
		e.B = node
	}
	return &e
}

// view is the box with all that is joined put together into groups, and the resistances between the groups. It is made once
// and filled again and again.
type view struct {
	group  []int // of each node
	groups int
	parent []int
	edges  []groupEdge
	names  []int   // of groups, while a mark is made
	least  islands // with every resistance at its least
	most   islands // and at its most
}

// groupEdge is a resistance between two groups.
type groupEdge struct {
	a, b                 int
	least, nominal, most float64
}

// look fills the view with the box as the switches stand, with the mistake in it.
func (b *deadBox) look(v *view, s *setup, m *altered) {
	b.glance(v, s, m)
	v.solve()
}

// solve finds what is between the groups.
func (v *view) solve() {
	v.least.solve(v.groups, v.edges, func(e *groupEdge) float64 { return e.least })
	v.most.solve(v.groups, v.edges, func(e *groupEdge) float64 { return e.most })
}

// glance is look without what is between the groups, which costs the most: enough to see whether a mistake changes anything.
func (b *deadBox) glance(v *view, s *setup, m *altered) {
	b.join(v, s, m)
	v.edges = v.edges[:0]
	for _, r := range b.resists {
		if r.part == m.part && m.how == Dead {
			continue
		}
		v.edge(r.a, r.b, r.least, r.nominal, r.most)
	}
	for _, k := range b.knobs {
		if k.part == m.part && m.how == Dead {
			continue
		}
		up := s.position[k.device] == 1
		if k.part == m.part && m.how == Turned {
			up = !up
		}
		near, far := k.a, k.b // the end where the wiper stands
		if up {
			near, far = far, near
		}
		v.edge(near, k.w, never, k.nominal*knobEnd/4, k.most*knobEnd)
		v.edge(k.w, far, k.least, k.nominal, k.most)
	}
}

// edge adds a resistance between the groups of two nodes.
func (v *view) edge(a, b int, least, nominal, most float64) {
	if a, b = v.group[a], v.group[b]; a != b {
		v.edges = append(v.edges, groupEdge{a, b, least, nominal, most})
	}
}

// join puts together what wires, links and closed contacts join, by union-find, and numbers the groups by their first node.
func (b *deadBox) join(v *view, s *setup, m *altered) {
	if len(v.parent) != b.nodes {
		v.parent, v.group = make([]int, b.nodes), make([]int, b.nodes)
	}
	for n := range v.parent {
		v.parent[n] = n
	}
	for _, e := range b.links {
		v.unite(e.A, e.B)
	}
	for n, e := range b.wiring.Wires {
		switch n {
		case m.wire[0]:
			e = m.edge[0]
		case m.wire[1]:
			e = m.edge[1]
		}
		v.unite(e.A, e.B)
	}
	v.unite(m.joint.A, m.joint.B)
	for n := range b.contacts {
		c := &b.contacts[n]
		in := c.in
		if c.part == m.part {
			switch m.how {
			case StuckOpen:
				in = 0
			case StuckClosed:
				in = 0xff
			case Inverted:
				in = ^in
			default:
			}
		}
		if in>>s.position[c.device]&1 == 1 {
			v.unite(c.a, c.b)
		}
	}
	v.groups = 0
	for n := range v.parent {
		if root := v.root(n); root == n {
			v.group[n] = v.groups
			v.groups++
		}
	}
	for n := range v.parent {
		v.group[n] = v.group[v.parent[n]]
	}
}

// root finds the representative of a node and shortens the way to it. The representative is the lowest node of the group.
func (v *view) root(n int) int {
	for v.parent[n] != n {
		v.parent[n] = v.parent[v.parent[n]]
		n = v.parent[n]
	}
	return n
}

func (v *view) unite(a, b int) {
	if a, b = v.root(a), v.root(b); a < b {
		v.parent[b] = a
	} else {
		v.parent[a] = b
	}
}

// span is what may be between two probes: 0 to 0 where they are joined, infinite where nothing is between them.
type span struct{ least, most float64 }

// between returns what is between two nodes.
func (v *view) between(p, q int) span { return v.betweenGroups(v.group[p], v.group[q]) }

func (v *view) betweenGroups(a, b int) span {
	if a == b {
		return span{}
	}
	return span{v.least.between(a, b), v.most.between(a, b)}
}

// nominal returns what is between two nodes when every resistance has its rated value; NaN where one that has none matters.
func (v *view) nominal(p, q int) float64 {
	a, b := v.group[p], v.group[q]
	if a == b {
		return 0
	}
	with := func(unrated func(*groupEdge) float64) float64 {
		var n islands
		n.solve(v.groups, v.edges, func(e *groupEdge) float64 {
			if math.IsNaN(e.nominal) {
				return unrated(e)
			}
			return e.nominal
		})
		return n.between(a, b)
	}
	low := with(func(e *groupEdge) float64 { return e.least })
	high := with(func(e *groupEdge) float64 { return e.most })
	if high > low*1.05 {
		return math.NaN()
	}
	return low
}
