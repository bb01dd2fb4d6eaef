package prove

import (
	"fmt"
	"slices"

	"drivewright/internal/trade/circuit"
)

// How likely the mistakes are against one another. Source: common practice, from memory: what is found when a panel is checked before its first
// power. Each figure is for one opportunity: a wire, a pair of neighbours, a contact; where the same slip may end in several places, they
// share its figure. Of ten wires that are wrong, five are forgotten, loose or not stripped, two sit one screw aside, two are exchanged with a
// neighbour; a part fresh from its bag is dead much more seldom. The figures only rank the suspects.
const (
	likelyOff        = 3.0  // of a wire: it was forgotten, or its screw holds the insulation, or nothing
	likelyMoved      = 1.2  // of a wire, on any of the screws beside its two: a row was counted wrongly
	likelySwapped    = 0.6  // of two neighbouring terminals: as the last, with two wires in the hand; a wire has four neighbours
	likelyCores      = 1.2  // of cores beside each other in a jacket, or of one pair: colours taken for each other
	likelyFarCores   = 0.25 // of any other two cores: their colours are further apart
	likelyBridge     = 0.3  // of two neighbouring terminals: a strand across two screws
	likelyToGround   = 0.2  // of a potential: insulation pinched on the casting
	likelyWrongBlock = 0.8  // of a contact: closed where open was wanted; the two blocks differ in colour only
	likelyNoClose    = 0.3  // of a contact: a block that doesn't sit on its head
	likelyNoOpen     = 0.1  // of a contact
	likelyDead       = 0.1  // of any other part
	likelyKnobTurned = 1.5  // of a knob: seen from behind, its ends lie the other way round
	likelyDiode      = 0.8  // of a diode: its ring is small
	likelySupply     = 0.3  // of a supply
)

// mistaker gathers the mistakes of a box.
type mistaker struct {
	*deadBox
	circuit *circuit.Circuit
	list    []Mistake
	at      map[int][]wireEnd // the ends of wires on each node
}

// wireEnd is one end of a wire.
type wireEnd struct{ wire, end int }

// mistakes returns every single way to wire the box wrongly, in the order of the circuit. Some are no change at all, and some
// the same as others: see sift.
func (b *deadBox) mistakes() []Mistake {
	m := &mistaker{deadBox: b, circuit: b.wiring.Circuit, at: map[int][]wireEnd{}}
	for n, e := range b.wiring.Wires {
		if e.A == e.B {
			continue
		}
		m.at[e.A] = append(m.at[e.A], wireEnd{n, 0})
		m.at[e.B] = append(m.at[e.B], wireEnd{n, 1})
	}
	m.wires()
	m.neighbours()
	m.cores()
	m.grounds()
	m.parts()
	return m.list
}

func (m *mistaker) add(weight float64, name, look string, c Change) {
	m.list = append(m.list, Mistake{Name: name, Look: look, Changes: []Change{c}, Weight: weight})
}

// used reports whether a wire ends on the node, or a feeder will.
func (m *mistaker) used(n int) bool { return len(m.at[n]) > 0 || m.waits[n] }

func (m *mistaker) pin(n int) string { return m.wiring.Pins[n].String() }

func (m *mistaker) wire(n int) string { return "wire " + m.circuit.Wires[n].Name }

// beside returns the nodes of the terminals next to a node's.
func (m *mistaker) beside(n int) []int {
	p := m.wiring.Pins[n]
	d := m.circuit.Device(p.Device)
	i := slices.Index(d.Terminals, p.Terminal)
	var list []int
	for _, j := range []int{i - 1, i + 1} {
		if j >= 0 && j < len(d.Terminals) {
			list = append(list, m.wiring.At(d.Pin(d.Terminals[j])))
		}
	}
	return list
}

// wires leaves every wire off, and puts each of its ends one terminal further.
func (m *mistaker) wires() {
	for n, e := range m.wiring.Wires {
		if e.A == e.B {
			continue
		}
		w := &m.circuit.Wires[n]
		name := fmt.Sprintf("%s is not fitted, or off at one end", m.wire(n))
		if w.Duty == circuit.GroundDuty {
			name = fmt.Sprintf("bond %s is missing, or off at one end", w.Name)
		}
		m.add(likelyOff, name, fmt.Sprintf("look for wire %s at %s and at %s, and pull on both ends", w.Name, w.From, w.To), Change{Kind: WireOff, Wire: n})
		var aside [2][]int
		for end := range 2 {
			aside[end] = slices.DeleteFunc(m.beside(e.at(end)), func(next int) bool {
				return next == e.at(1-end) // a jumper with both ends on one screw is a jumper that is missing
			})
		}
		each := likelyMoved / float64(max(1, len(aside[0])+len(aside[1])))
		for end := range 2 {
			at := e.at(end)
			for _, next := range aside[end] {
				m.add(each, fmt.Sprintf("%s sits on %s instead of %s", m.wire(n), m.pin(next), m.pin(at)),
					fmt.Sprintf("look at %s and %s: wire %s belongs on %s", m.pin(at), m.pin(next), w.Name, m.pin(at)), Change{Kind: WireMoved, Wire: n, End: end, A: next})
			}
		}
	}
}

// neighbours swaps the wires of two terminals that stand side by side, and lets the two touch.
func (m *mistaker) neighbours() {
	for _, d := range m.circuit.Devices {
		for i := 1; i < len(d.Terminals); i++ {
			a, b := m.wiring.At(d.Pin(d.Terminals[i-1])), m.wiring.At(d.Pin(d.Terminals[i]))
			one, other := m.at[a], m.at[b]
			if !m.used(a) || !m.used(b) {
				continue
			}
			m.add(likelyBridge, fmt.Sprintf("%s and %s touch", m.pin(a), m.pin(b)), fmt.Sprintf("look between %s and %s for a stray strand or a jumper", m.pin(a), m.pin(b)),
				Change{Kind: Bridged, A: a, B: b})
			for _, x := range one {
				for _, y := range other {
					if x.wire == y.wire {
						continue
					}
					m.swap(likelySwapped/float64(len(one)*len(other)), x, y)
				}
			}
		}
	}
}

func (m *mistaker) swap(weight float64, x, y wireEnd) {
	a, b := m.wiring.Wires[x.wire].at(x.end), m.wiring.Wires[y.wire].at(y.end)
	one, other := m.circuit.Wires[x.wire].Name, m.circuit.Wires[y.wire].Name
	m.add(weight, fmt.Sprintf("wires %s and %s are swapped at %s and %s", one, other, m.pin(a), m.pin(b)),
		fmt.Sprintf("wire %s belongs on %s and wire %s on %s", one, m.pin(a), other, m.pin(b)),
		Change{Kind: WiresSwapped, Wire: x.wire, End: x.end, Other: y.wire, OtherEnd: y.end})
}

// cores swaps any two cores of a cable at either end.
func (m *mistaker) cores() {
	for c := range m.circuit.Cables {
		cable := &m.circuit.Cables[c]
		for i := range cable.Cores {
			for j := range i {
				one := slices.IndexFunc(m.circuit.Wires, func(w circuit.Wire) bool { return w.Name == cable.Cores[j].Wire })
				other := slices.IndexFunc(m.circuit.Wires, func(w circuit.Wire) bool { return w.Name == cable.Cores[i].Wire })
				if one < 0 || other < 0 || m.wiring.Wires[one].A == m.wiring.Wires[one].B || m.wiring.Wires[other].A == m.wiring.Wires[other].B {
					continue
				}
				weight := likelyFarCores
				if i == j+1 || cable.Cores[i].Pair != 0 && cable.Cores[i].Pair == cable.Cores[j].Pair {
					weight = likelyCores
				}
				for end := range 2 {
					x, y := wireEnd{one, end}, wireEnd{other, m.sameSide(one, end, other)}
					a, b := m.wiring.Wires[one].at(x.end), m.wiring.Wires[other].at(y.end)
					if slices.Contains(m.beside(a), b) {
						continue // the neighbours had it
					}
					m.swap(weight/2, x, y)
				}
			}
		}
	}
}

// sameSide returns the end of other that lies at the same place as the end of one.
func (m *mistaker) sameSide(one, end, other int) int {
	place := func(wire, end int) string {
		return m.circuit.Device(m.wiring.Pins[m.wiring.Wires[wire].at(end)].Device).Place
	}
	if place(other, end) != place(one, end) && place(other, 1-end) == place(one, end) {
		return 1 - end
	}
	return end
}

// grounds lets each potential touch the casting.
func (m *mistaker) grounds() {
	if m.ground < 0 {
		return
	}
	done := map[string]bool{}
	for n, e := range m.wiring.Wires {
		w := &m.circuit.Wires[n]
		if e.A == e.B || done[w.Number] || w.Duty == circuit.GroundDuty {
			continue
		}
		done[w.Number] = true
		m.add(likelyToGround, fmt.Sprintf("wire number %s touches the casting or a metal box", w.Number),
			fmt.Sprintf("take the wires of number %s off one after the other until the reading is right: the last one is pinched", w.Number), Change{Kind: Bridged, A: e.A, B: m.ground})
	}
}

// parts gets the parts wrong that are wired.
func (m *mistaker) parts() {
	for n, p := range m.wiring.Parts {
		d := &m.circuit.Devices[p.Device]
		if m.devices[p.Device].pulled || p.A < 0 || p.B < 0 || !m.used(p.A) || !m.used(p.B) {
			continue
		}
		c := func(k ChangeKind) Change { return Change{Kind: k, Part: n} }
		switch p.Kind {
		case circuit.Contact:
			m.contact(d, p, c)
		case circuit.Coil:
			m.add(likelyDead, fmt.Sprintf("the coil of %s is open", d.Tag), fmt.Sprintf("measure %s:%s to %s:%s with one wire off", d.Tag, p.Element.A, d.Tag, p.Element.B), c(Dead))
		case circuit.LampElement:
			m.add(likelyDead, fmt.Sprintf("lamp %s is dead", d.Tag), fmt.Sprintf("try lamp %s on its own supply, or put another in", d.Tag), c(Dead))
		case circuit.Resistance:
			if d.Kind == circuit.Load {
				continue // unplugged, and no wiring
			}
			m.add(likelyDead, fmt.Sprintf("%s is open", d.Tag), fmt.Sprintf("measure %s with one wire off", d.Tag), c(Dead))
		case circuit.KnobElement:
			if p.W < 0 {
				continue
			}
			m.add(likelyKnobTurned, fmt.Sprintf("the two end wires of knob %s are swapped", d.Tag),
				fmt.Sprintf("turned fully down, the wiper %s:%s must be at %s:%s", d.Tag, p.Element.W, d.Tag, p.Element.A), c(Turned))
			m.add(likelyDead, fmt.Sprintf("the track of knob %s is open", d.Tag), fmt.Sprintf("measure %s:%s to %s:%s with one wire off", d.Tag, p.Element.A, d.Tag, p.Element.B), c(Dead))
		case circuit.DiodeElement:
			m.add(likelyDiode, fmt.Sprintf("diode %s is the wrong way round", d.Tag), fmt.Sprintf("the ring of %s marks its cathode %s:%s", d.Tag, d.Tag, p.Element.B), c(Turned))
		case circuit.Source:
			if d.Kind == circuit.PowerSupply {
				m.add(likelySupply, fmt.Sprintf("supply %s gives its voltage the wrong way round", d.Tag), fmt.Sprintf("measure %s:%s against %s:%s with a voltmeter before its fuse or wire goes in", d.Tag, p.Element.A, d.Tag, p.Element.B), c(Turned))
			}
		case circuit.Link, circuit.Input, circuit.Reference, circuit.Winding, circuit.Electronics:
		}
	}
}

// contact gets one contact wrong.
func (m *mistaker) contact(d *circuit.Device, p Part, c func(ChangeKind) Change) {
	if p.Group != 0 {
		return
	}
	name := fmt.Sprintf("contact %s-%s of %s", p.Element.A, p.Element.B, d.Tag)
	switch d.Kind {
	case circuit.Fuse:
		m.add(likelyDead, fmt.Sprintf("fuse %s is blown or not in", d.Tag), fmt.Sprintf("take fuse %s out and measure it", d.Tag), c(StuckOpen))
		return
	case circuit.Breaker, circuit.MainSwitch:
	default:
		kind := "normally open instead of normally closed"
		if p.In&1 == 0 {
			kind = "normally closed instead of normally open"
		}
		if d.Kind == circuit.Selector {
			kind = "the opposite of what it should be in each position"
		}
		m.add(likelyWrongBlock, name+" is "+kind, fmt.Sprintf("look at the contact block of %s: its print and its colour, or measure it by itself", d.Tag), c(Inverted))
	}
	look := fmt.Sprintf("measure %s:%s to %s:%s in both positions with one wire off", d.Tag, p.Element.A, d.Tag, p.Element.B)
	m.add(likelyNoClose, name+" never closes", look, c(StuckOpen))
	m.add(likelyNoOpen, name+" never opens", look, c(StuckClosed))
}
