package prove

import (
	"strings"

	"drivewright/internal/trade/circuit"
)

// bits is a set of numbers from 0 to 255.
type bits [4]uint64

// manyBits is how many numbers a set of bits can hold.
const manyBits = 256

func (b *bits) set(n int)      { b[n>>6] |= 1 << (n & 63) }
func (b *bits) clear(n int)    { b[n>>6] &^= 1 << (n & 63) }
func (b *bits) has(n int) bool { return b[n>>6]>>(n&63)&1 == 1 }

func (b *bits) put(n int, on bool) {
	if on {
		b.set(n)
	} else {
		b.clear(n)
	}
}

func (b *bits) add(other *bits) {
	for n := range b {
		b[n] |= other[n]
	}
}

func (b *bits) both(other *bits) bits {
	return bits{b[0] & other[0], b[1] & other[1], b[2] & other[2], b[3] & other[3]}
}

// branchKind says how a branch behaves.
type branchKind uint8

const (
	switchBranch branchKind = iota // nothing while closed, open otherwise
	fuseBranch                     // a switch that opens by itself above a current
	loadBranch
	knobBranch   // one side of a knob's wiper
	diodeBranch  // from a to b, volts lost
	sourceBranch // volts from b up to a
)

// Resistances that nobody writes down. None matters to what the machine does; each keeps the network solvable where an ideal
// source would meet an ideal short.
const (
	ownOhms     = 0.01   // of a source, a fuse or a conducting diode
	senseOhms   = 1e6    // of electronics that take nothing worth counting
	windingOhms = 1000.0 // of a motor's winding, however large the motor is
	knobEndIn   = 1e-4   // part of a knob's track that is left at its end stop
)

// What a source can give where nothing is written. Source: common practice; an incoming supply ends at a breaker that trips.
const (
	incomingMost = 200.0
	sourceMost   = 10.0
)

// branch is a thing with two ends between nodes of the wiring.
type branch struct {
	kind   branchKind
	a, b   int // nodes
	part   int // in Wiring.Parts; -1 for what the simulation adds
	ohms   float64
	volts  float64
	most   float64 // amperes
	direct bool    // a source that takes no current backwards
	driver int     // the first bit that says how it stands: closed, giving, or two bits of a knob's position; -1 for none
	upper  bool    // the side of a knob that shrinks as it is turned up
	eyes   []int   // in model.eyes: what watches the voltage across it
}

// eyeKind says what watches a voltage.
type eyeKind uint8

const (
	coilEye eyeKind = iota
	lampEye
	inputEye
	loadEye // a load or a readout has power
	feedEye // a supply's own supply, or the drive's
)

// eye compares the voltage across a branch with two limits.
type eye struct {
	kind    eyeKind
	device  int
	on, off float64 // volts
	does    command
}

// mover is a branch whose bit follows the position of a device, or an output of the drive.
type mover struct {
	driver, device int
	in             uint8
	output         int // 0 for the device's own position
	part           int
}

// model is a circuit made ready to be simulated. It doesn't change.
type model struct {
	wiring   *Wiring
	circuit  *circuit.Circuit
	branches []branch
	eyes     []eye
	drivers  int
	links    []linkEdge
	ground   int // a node of the protective ground; -1 where there is none
	switches []mover
	knobs    []mover // two bits each
	fuses    []mover
	sources  []feed
	coils    []coil
	inputs   commands // that the drive has
	// outs are the nodes that turn the motor, motor those where it is joined on; driven is true where a drive's output does.
	outs, motor []int
	driven      bool
	driveFeed   int // the eye on the drive's own supply; -1 without a drive
	reference   int // the branch of the drive's analog input; -1 without one
	full        float64
	logic       driveRules
	moves       []bool // devices with a coil, a delay relay's among them
	tooLarge    bool
}

type linkEdge struct{ a, b, part int }

// feed is a source: it gives while its own supply is there.
type feed struct {
	driver, device int
	eye            int // -1: the incoming supply
}

// coil moves a device.
type coil struct {
	eye, device int
	late        bool // its contacts stay for a while when it is off
}

// newModel makes the model of a circuit.
func newModel(c *circuit.Circuit) *model {
	w := Number(c)
	m := &model{wiring: w, circuit: c, ground: groundNode(w), driveFeed: -1, reference: -1, full: 1, moves: make([]bool, len(c.Devices))}
	feeds := map[[2]int]int{} // the eye on each pair of supply terminals
	sense := func(device, a, b int, at float64) int {
		pair := [2]int{a, b}
		if e, there := feeds[pair]; there {
			return e
		}
		e := m.watch(eye{kind: feedEye, device: device, on: at, off: at})
		m.branches = append(m.branches, branch{kind: loadBranch, a: a, b: b, part: -1, ohms: senseOhms, driver: -1, eyes: []int{e}})
		feeds[pair] = e
		return e
	}
	for n, p := range w.Parts {
		if p.A < 0 || p.Kind != circuit.Input && p.B < 0 {
			continue
		}
		d := &c.Devices[p.Device]
		ohms, volts := float64(p.Ohms), float64(p.Volts)
		load := func(ohms float64, eyes ...int) {
			m.branches = append(m.branches, branch{kind: loadBranch, a: p.A, b: p.B, part: n, ohms: ohms, driver: -1, eyes: eyes})
		}
		switch p.Kind {
		case circuit.Contact:
			b := branch{kind: switchBranch, a: p.A, b: p.B, part: n, driver: m.drive(1)}
			v := mover{b.driver, p.Device, p.In, p.Group, n}
			if heater(d, p.Element) {
				v.in = ^uint8(0)
			}
			if p.Most > 0 && (d.Kind == circuit.Fuse || d.Kind == circuit.Breaker) {
				b.kind, b.ohms, b.most = fuseBranch, ownOhms, float64(p.Most)
				m.fuses = append(m.fuses, v)
			}
			m.switches = append(m.switches, v)
			m.branches = append(m.branches, b)
		case circuit.Link:
			m.links = append(m.links, linkEdge{p.A, p.B, n})
		case circuit.Coil:
			e := m.watch(eye{kind: coilEye, device: p.Device, on: float64(p.On), off: float64(p.Off)})
			m.coils = append(m.coils, coil{e, p.Device, d.Kind == circuit.DelayRelay})
			m.moves[p.Device] = true
			load(orElse(ohms, senseOhms), e)
		case circuit.LampElement:
			load(orElse(ohms, senseOhms), m.watch(eye{kind: lampEye, device: p.Device, on: float64(p.On), off: float64(p.On)}))
		case circuit.Resistance:
			if d.Kind == circuit.Load {
				load(orElse(ohms, senseOhms), m.watch(eye{kind: loadEye, device: p.Device, on: float64(p.On), off: float64(p.On)}))
			} else {
				load(orElse(ohms, senseOhms))
			}
		case circuit.Electronics:
			if p.On > 0 {
				load(orElse(ohms, senseOhms), m.watch(eye{kind: loadEye, device: p.Device, on: float64(p.On), off: float64(p.On)}))
			} else {
				load(orElse(ohms, senseOhms))
			}
		case circuit.Winding:
			// What an ohmmeter sees of a winding says nothing of what flows into it at line frequency: next to nothing into
			// a transformer, whose load is on the other side, and into a motor what its branch is made for.
			if d.Kind == circuit.Transformer {
				load(senseOhms)
			} else {
				load(windingOhms)
			}
		case circuit.KnobElement:
			if p.W < 0 {
				continue
			}
			b := branch{kind: knobBranch, a: p.A, b: p.W, part: n, ohms: ohms, driver: m.drive(2)}
			m.knobs = append(m.knobs, mover{driver: b.driver, device: p.Device, part: n})
			m.branches = append(m.branches, b, branch{kind: knobBranch, a: p.W, b: p.B, part: n, ohms: ohms, driver: b.driver, upper: true})
		case circuit.DiodeElement:
			m.branches = append(m.branches, branch{kind: diodeBranch, a: p.A, b: p.B, part: n, ohms: ownOhms, volts: float64(p.On), driver: -1})
		case circuit.Source:
			e := -1
			if p.FedBy[0] != "" {
				e = sense(p.Device, w.At(d.Pin(p.FedBy[0])), w.At(d.Pin(p.FedBy[1])), float64(p.FedAt))
			}
			m.source(n, p, volts, e)
		case circuit.Input:
			if p.W < 0 {
				continue
			}
			e := m.watch(eye{kind: inputEye, device: p.Device, on: float64(p.On), off: float64(p.Off), does: commandOf(p.Does)})
			m.inputs.put(commandOf(p.Does), true)
			m.branches = append(m.branches, branch{kind: loadBranch, a: p.A, b: p.W, part: n, ohms: orElse(ohms, senseOhms), driver: -1, eyes: []int{e}})
		case circuit.Reference:
			if m.reference < 0 {
				m.reference, m.full = len(m.branches), orElse(volts, 10)
			}
			load(orElse(ohms, senseOhms))
		}
	}
	m.turning(sense)
	m.tooLarge = m.drivers > manyBits || len(m.eyes) > manyBits || len(c.Devices) > manyBits
	return m
}

// heater reports whether the contact is a current path of an overload relay, which a trip doesn't open: its terminals have one figure
// (1-2, 3-4, 5-6), those of its contacts two (95-96). Source: IEC 60947-1, annex L (terminal marking), from memory.
func heater(d *circuit.Device, e circuit.Element) bool {
	return d.Kind == circuit.OverloadRelay && e.Kind == circuit.Contact && len(e.A) == 1 && len(e.B) == 1
}

func orElse(v, usual float64) float64 {
	if v > 0 {
		return v
	}
	return usual
}

// watch adds an eye.
func (m *model) watch(e eye) int {
	m.eyes = append(m.eyes, e)
	return len(m.eyes) - 1
}

// drive hands out the next n driver bits.
func (m *model) drive(n int) int {
	m.drivers += n
	return m.drivers - n
}

// source adds a source. Where an incoming supply has a ground terminal, its own grounding belongs to it: in the us set the
// middle of a 120/240 V supply, in the iec set the neutral. A fault to ground then is what it is in a shop, a short.
func (m *model) source(n int, p Part, volts float64, fedBy int) {
	d := &m.circuit.Devices[p.Device]
	add := func(a, b int, volts, usual float64) {
		driver := m.drive(1)
		m.branches = append(m.branches, branch{kind: sourceBranch, a: a, b: b, part: n, ohms: orElse(float64(p.Ohms), ownOhms), volts: volts,
			most: orElse(float64(p.Most), usual), direct: !p.AC, driver: driver})
		m.sources = append(m.sources, feed{driver, p.Device, fedBy})
	}
	earth := m.wiring.At(d.Pin("PE"))
	switch {
	case d.Kind != circuit.Incoming:
		add(p.A, p.B, volts, sourceMost)
	case !p.AC || earth < 0 || earth == p.A || earth == p.B:
		add(p.A, p.B, volts, incomingMost)
	case m.wiring.At(d.Pin("N")) >= 0 || len(sourcesOf(d)) > 1: // its neutral is the grounded one, or one of three lines stands for it
		add(p.A, p.B, volts, incomingMost)
		grounded := m.wiring.At(d.Pin("N"))
		if grounded < 0 {
			grounded = p.B
		}
		if first := sourcesOf(d)[0]; first.A == p.Element.A && first.B == p.Element.B { // once
			m.branches = append(m.branches, branch{kind: loadBranch, a: grounded, b: earth, part: -1, ohms: ownOhms, driver: -1})
		}
	case m.circuit.Set == "iec" && p.Element.B != "L2": // two lines are live both
		add(p.A, p.B, volts, incomingMost)
		m.branches = append(m.branches, branch{kind: loadBranch, a: p.B, b: earth, part: -1, ohms: ownOhms, driver: -1})
	default:
		add(p.A, earth, volts/2, incomingMost)
		add(earth, p.B, volts/2, incomingMost)
	}
}

// sourcesOf are the sources of a supply: two where it has a neutral between two lines, or three lines.
func sourcesOf(d *circuit.Device) []circuit.Element {
	var list []circuit.Element
	for _, e := range d.Elements {
		if e.Kind == circuit.Source {
			list = append(list, e)
		}
	}
	return list
}

// turning finds what turns the motor: the drive's output, or the incoming supply where there is no drive.
func (m *model) turning(sense func(device, a, b int, at float64) int) {
	c, w := m.circuit, m.wiring
	m.logic = rulesOf(&c.Drive)
	if c.Drive.Lost > 0 {
		m.logic.lostBelow = int16(1000 * float64(c.Drive.Lost) / m.full)
	}
	for n := range c.Devices {
		d := &c.Devices[n]
		switch {
		case d.Kind == circuit.Drive && d.Tag == c.Drive.Tag:
			m.driven = true
			m.outs = m.outs[:0]
			for _, t := range c.Drive.Out {
				if at := w.At(d.Pin(t)); at >= 0 {
					m.outs = append(m.outs, at)
				}
			}
			if len(c.Drive.Supply) >= 2 {
				if a, b := w.At(d.Pin(c.Drive.Supply[0])), w.At(d.Pin(c.Drive.Supply[1])); a >= 0 && b >= 0 {
					m.driveFeed = sense(n, a, b, float64(c.Drive.FedAt))
				}
			}
		case d.Kind == circuit.Incoming && !m.driven && m.outs == nil:
			for _, t := range d.Terminals {
				if !strings.HasPrefix(t, "PE") {
					m.outs = append(m.outs, w.At(d.Pin(t)))
				}
			}
		case d.Kind == circuit.MotorKind && m.motor == nil:
			for _, t := range d.Terminals {
				if !strings.HasPrefix(t, "PE") {
					m.motor = append(m.motor, w.At(d.Pin(t)))
				}
			}
		}
	}
	if len(m.outs) > 3 {
		m.outs = m.outs[:3]
	}
	if len(m.motor) > 3 {
		m.motor = m.motor[:3]
	}
	if !m.driven {
		m.onlyWired()
	}
}

// onlyWired leaves out the motor leads that nothing is joined to: a single-phase motor has two.
func (m *model) onlyWired() {
	wired := func(node int) bool {
		for _, e := range m.wiring.Wires {
			if e.A != e.B && (e.A == node || e.B == node) {
				return true
			}
		}
		return false
	}
	var list []int
	for _, node := range m.motor {
		if wired(node) {
			list = append(list, node)
		}
	}
	m.motor = list
}
