package prove

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/trade/circuit"
)

// mostNamed is how many wires or terminals are named before the rest is only counted.
const mostNamed = 6

// proves says in words what a right reading proves: that none of the mistakes is there that would have made it wrong.
func (w *weighing) proves(k column) string {
	var whole, parts, apart []string
	others := 0
	add := func(list *[]string, text string) {
		if !slices.Contains(*list, text) {
			*list = append(*list, text)
		}
	}
	wires, pins := w.box.wiring.Circuit.Wires, w.box.wiring.Pins
	kinds := map[int]string{} // contacts of which only the kind is proved
	k.caught.each(func(m int) {
		c := w.mistakes[m].Changes[0]
		switch c.Kind {
		case WireOff:
			add(&whole, wires[c.Wire].Name)
		case Bridged:
			add(&apart, pins[c.A].String()+" from "+pins[c.B].String())
		case Inverted:
			kinds[c.Part] = w.partWorks(c)
			others += len(w.mistakes[m].Also)
			return
		case StuckOpen, StuckClosed, Turned, Dead:
			add(&parts, w.partWorks(c))
		case WireMoved, WiresSwapped, NeverMoves:
			others++
		}
		others += len(w.mistakes[m].Also)
	})
	k.caught.each(func(m int) {
		if c := w.mistakes[m].Changes[0]; c.Kind == Inverted && !slices.ContainsFunc(parts, func(p string) bool { return strings.HasPrefix(p, w.contactName(c.Part)) }) {
			add(&parts, kinds[c.Part])
		}
	})
	var says []string
	if whole != nil {
		says = append(says, plural(whole, "wire", "wires")+" fitted")
	}
	says = append(says, parts...)
	if apart != nil {
		says = append(says, "apart: "+named(apart))
	}
	switch {
	case others == 1:
		says = append(says, "one misplaced wire ruled out")
	case others > 1:
		says = append(says, fmt.Sprintf("%d misplaced wires ruled out", others))
	}
	return strings.Join(says, "; ")
}

// contactName names a contact.
func (w *weighing) contactName(part int) string {
	p := w.box.wiring.Parts[part]
	return fmt.Sprintf("contact %s-%s of %s", p.Element.A, p.Element.B, w.box.wiring.Circuit.Devices[p.Device].Tag)
}

// partWorks says what is proved of a part when it isn't wrong in this way.
func (w *weighing) partWorks(c Change) string {
	p := w.box.wiring.Parts[c.Part]
	tag := w.box.wiring.Circuit.Devices[p.Device].Tag
	contact := w.contactName(c.Part)
	switch c.Kind {
	case StuckOpen:
		return contact + " closes"
	case StuckClosed:
		return contact + " opens"
	case Inverted:
		return contact + " is of the right kind"
	case Turned:
		return "the ends of " + tag + " are the right way round"
	case Dead:
		if p.Kind == circuit.Coil {
			return "the coil of " + tag + " is whole"
		}
		return tag + " is whole"
	case WireOff, WireMoved, WiresSwapped, Bridged, NeverMoves:
	}
	return ""
}

// plural names a list behind the right word.
func plural(list []string, one, many string) string {
	if len(list) == 1 {
		return one + " " + list[0]
	}
	return many + " " + named(list)
}

// named names a list as people do: 1, 2 and 3.
func named(list []string) string {
	if len(list) == 1 {
		return list[0]
	}
	if more := len(list) - mostNamed; more > 1 {
		return strings.Join(list[:mostNamed], ", ") + fmt.Sprintf(" and %d more", more)
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// whyNot says why no reading catches a mistake that changes something.
func (w *weighing) whyNot(n int) string {
	var nodes []int
	switch c := w.mistakes[n].Changes[0]; c.Kind {
	case Bridged:
		nodes = []int{c.A, c.B}
	case WireMoved, WireOff:
		e := w.box.wiring.Wires[c.Wire]
		nodes = []int{e.A, e.B, c.A}
	case WiresSwapped:
		e, f := w.box.wiring.Wires[c.Wire], w.box.wiring.Wires[c.Other]
		nodes = []int{e.A, e.B, f.A, f.B}
	case StuckOpen, StuckClosed, Inverted, Turned, Dead, NeverMoves:
	}
	for _, node := range nodes {
		switch tag := w.winding(node); {
		case tag == "":
		case w.box.wiring.Circuit.Device(tag).Kind == circuit.MotorKind:
			return "the windings of " + tag + " are too low for a hand meter to tell from a joint: measure with its leads off, and see the direction at the first run"
		default:
			return "a hand meter can't tell the windings of " + tag + " from a joint: measure with its leads off, and its voltages at the first power"
		}
	}
	return "what it changes is less than healthy parts differ, or lies across electronics that an ohmmeter can't see through"
}

// winding returns the tag of the device whose winding a node is wired to; "" where there is none.
func (w *weighing) winding(node int) string {
	for _, p := range w.box.wiring.Parts {
		if p.Kind != circuit.Winding && (p.Kind != circuit.Source || w.box.wiring.Circuit.Devices[p.Device].Kind != circuit.Transformer) {
			continue
		}
		for _, end := range []int{p.A, p.B} {
			if end == node || slices.Contains(w.box.wiring.Wires, Edge{end, node}) || slices.Contains(w.box.wiring.Wires, Edge{node, end}) {
				return w.box.wiring.Circuit.Devices[p.Device].Tag
			}
		}
	}
	return ""
}
