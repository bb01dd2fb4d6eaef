// Package prove breaks a circuit on purpose and proves its wiring with a meter: what the machine does when any wire is off,
// any contact sticks, any two neighbours touch (Break), and which ohmmeter readings on the unpowered box catch every wiring
// mistake that can be caught (Meter).
//
// It makes no circuit, and judges no design but by what the simulation shows. Begin with Wiring (the circuit in numbers) and
// Change (one thing wrong with it), then Break and Meter.
package prove

import (
	"slices"

	"drivewright/internal/trade/circuit"
)

// Wiring is a circuit in numbers: each pin is a node, each wire and element lies between nodes.
type Wiring struct {
	Circuit *circuit.Circuit
	Pins    []circuit.Pin // by node
	Wires   []Edge        // in the order of Circuit.Wires
	Parts   []Part        // the elements of all devices, in the circuit's order
	node    map[circuit.Pin]int
}

// Edge joins two nodes without resistance worth counting.
type Edge struct{ A, B int }

// Part is an element of a device with its nodes; -1 for a terminal that the element doesn't have.
type Part struct {
	Device  int // in Circuit.Devices
	A, B, W int
	circuit.Element
}

// Number numbers the pins of a circuit. A wire to a pin that no device has is left out by joining a node to itself.
func Number(c *circuit.Circuit) *Wiring {
	w := &Wiring{Circuit: c, node: map[circuit.Pin]int{}}
	for _, d := range c.Devices {
		for _, t := range d.Terminals {
			w.node[d.Pin(t)] = len(w.Pins)
			w.Pins = append(w.Pins, d.Pin(t))
		}
	}
	for n, d := range c.Devices {
		for _, e := range d.Elements {
			w.Parts = append(w.Parts, Part{Device: n, A: w.At(d.Pin(e.A)), B: w.At(d.Pin(e.B)), W: w.At(d.Pin(e.W)), Element: e})
		}
	}
	for _, wire := range c.Wires {
		e := Edge{w.At(wire.From), w.At(wire.To)}
		if e.A < 0 || e.B < 0 {
			e = Edge{}
		}
		w.Wires = append(w.Wires, e)
	}
	return w
}

// withoutFeeders returns the wiring as it is while the box is measured: what comes hard-wired from a supply's source is joined last, and
// its far end is some breaker panel away. waits marks the nodes where it will be joined. A supply cord with its cores is there from the
// beginning: its plug is in the hand of the one who measures. Source: common practice.
func (w *Wiring) withoutFeeders() (bare *Wiring, waits []bool) {
	waits = make([]bool, len(w.Pins))
	copied := *w
	copied.Wires = slices.Clone(w.Wires)
	for n, e := range w.Wires {
		wire := &w.Circuit.Wires[n]
		if e.A == e.B || !w.Circuit.HardWired(wire) {
			continue
		}
		copied.Wires[n] = Edge{}
		for _, end := range []int{e.A, e.B} {
			if d := w.Circuit.Device(w.Pins[end].Device); d.Kind != circuit.Incoming {
				waits[end] = true
			}
		}
	}
	return &copied, waits
}

// At returns the node of a pin; -1 if no device has it.
func (w *Wiring) At(p circuit.Pin) int {
	if n, ok := w.node[p]; ok {
		return n
	}
	return -1
}

// Change is one thing that is wrong with the wiring or a device: a fault in service or a mistake in wiring.
type Change struct {
	Kind ChangeKind
	// Wire is the wire it happens to, in Circuit.Wires; End is 0 for its From and 1 for its To; Other is the wire that it is
	// swapped with there, and OtherEnd which of its ends is there.
	Wire, End, Other, OtherEnd int
	// A and B are the nodes that are bridged; A is the node that a moved wire's end is put on.
	A, B int
	// Part is the element it happens to, in Wiring.Parts.
	Part int
}

// ChangeKind is what happens.
type ChangeKind int

// The kinds of change.
const (
	// WireOff: the wire is off, or was never fitted.
	WireOff ChangeKind = iota
	// WireMoved: the wire's end sits on node A.
	WireMoved
	// WiresSwapped: the ends of Wire and Other have changed places.
	WiresSwapped
	// Bridged: nodes A and B touch.
	Bridged
	// StuckOpen and StuckClosed: the contact Part doesn't move any more.
	StuckOpen
	StuckClosed
	// Inverted: the contact Part is of the other type: closed where it should be open.
	Inverted
	// Turned: the part is in the wrong way round: a diode, a supply, a knob's ends.
	Turned
	// Dead: the part does nothing any more: a source gives nothing, a coil, lamp or track is open.
	Dead
	// NeverMoves: the device of Part stays in its rest position: a coil that doesn't pull in, a button that is jammed.
	NeverMoves
)
