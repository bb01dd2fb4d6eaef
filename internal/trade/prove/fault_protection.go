package prove

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/trade/circuit"
)

// protection says what must come to a fault that takes away what cuts off the next one: a fuse that is bridged, a pole of a breaker that
// doesn't open, a neutral that touches ground in the machine. "" where the fault takes nothing of the kind. The machine runs as
// before, so no script shows it. Source: IEC 60204-1, 5.1 and 7.2, and NFPA 70, 250.24(A)(5) (no second bond of the neutral), from memory.
func (b *breaking) protection(f *breakage) string {
	switch {
	case b.bridges(f, circuit.Fuse), b.bridges(f, circuit.Breaker):
		return fmt.Sprintf("a short or an overload behind %s, which nothing cuts off there any more", b.t.m.circuit.Devices[f.device].Tag)
	case b.groundsNeutral(f):
		return "a neutral that comes loose ahead of it, so that the ground wires carry the whole load (until then they carry part of it, which a residual-current device would show)"
	}
	return ""
}

// bridges reports whether the fault keeps a contact of a device of the kind closed for good.
func (b *breaking) bridges(f *breakage, kind circuit.Kind) bool {
	if f.device < 0 || b.t.m.circuit.Devices[f.device].Kind != kind {
		return false
	}
	if f.sort == weldedSort {
		return true
	}
	for _, p := range b.t.m.wiring.Parts {
		if c := f.changes[0]; p.Device == f.device && p.Kind == circuit.Contact && c.Kind == Bridged && (p.A == c.A && p.B == c.B || p.A == c.B && p.B == c.A) {
			return true
		}
	}
	return false
}

// groundsNeutral reports whether the fault joins a neutral to ground.
func (b *breaking) groundsNeutral(f *breakage) bool {
	if len(f.changes) != 1 || f.changes[0].Kind != Bridged {
		return false
	}
	one, other := f.changes[0].A, f.changes[0].B
	neutral := func(node int) bool { return b.neutral[root(b.nets, int32(node))] }
	return b.grounded(one) && neutral(other) || b.grounded(other) && neutral(one)
}

// neutrals are the nets of the neutrals: from the supplies on, through whatever switches or protects them.
func (b *breaking) neutrals() map[int32]bool {
	w, list := b.t.m.wiring, map[int32]bool{}
	at := func(node int) int32 { return root(b.nets, int32(node)) }
	for _, d := range b.t.m.circuit.ByKind(circuit.Incoming) {
		if n := w.At(d.Pin("N")); n >= 0 && !b.grounded(n) {
			list[at(n)] = true
		}
	}
	for grown := true; grown; {
		grown = false
		for _, p := range w.Parts {
			switch b.t.m.circuit.Devices[p.Device].Kind {
			case circuit.MainSwitch, circuit.Breaker, circuit.Contactor, circuit.Fuse, circuit.Selector:
			default:
				continue
			}
			if p.Kind != circuit.Contact || p.A < 0 || p.B < 0 || list[at(p.A)] == list[at(p.B)] {
				continue
			}
			list[at(p.A)], list[at(p.B)], grown = true, true, true
		}
	}
	return list
}

// protectionRemedy is for protection that is lost.
func (b *breaking) protectionRemedy(f *breakage) explain.Phrase {
	if f.device >= 0 {
		tag := b.t.m.circuit.Devices[f.device].Tag
		switch {
		case b.bridges(f, circuit.Fuse):
			return explain.Say(fmt.Sprintf("keep spare fuses of the right rating beside %s, so that nobody bridges it, and look at it at every yearly check", tag))
		case b.bridges(f, circuit.Breaker):
			return explain.Say(fmt.Sprintf("switch %s off by hand at every yearly check and try for voltage behind each of its poles; replace it after it has cut off a short", tag))
		}
	}
	return explain.Say("join neutral and ground nowhere in the machine; at every yearly check, with the supply locked off and the neutral lifted at the main switch, measure from it to ground: no path")
}
