package circuit

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// bonds makes the ground bar and a wire from it to everything that must be bonded: supply, drive, supplies, plate, door,
// casting, station boxes, loads. Each wire has a terminal of its own on the bar.
func (m *maker) bonds() {
	p := m.pick
	stud := func(place, words string, bonded explain.Known[quantity.Text], why ...explain.Because) {
		d := m.add(GroundBar, Spec{Words: words, Place: place, Terminals: []string{"1"}}, append(why, bonded)...)
		if bonded.Value == "yes" {
			m.grounded(d.Pin("1"), words, append(why, bonded)...)
		}
	}
	bar := m.tag(GroundBar)
	stud("box", "ground stud of the back plate", p.PlateBonded)
	if p.DoorBonded.Value != "plastic door" {
		stud(m.door, "ground stud of the door", p.DoorBonded)
	}
	m.c.Places = append(m.c.Places, Place{Name: "casting", Kind: Outside, Run: explain.Assume("run to the casting", m.usualRun()/2, usual, explain.Say("not measured yet"))})
	stud("casting", "ground stud of the casting", p.FrameBonded)
	for _, q := range m.post {
		if q.kind != Door && q.metal.Value == "yes" {
			stud(q.name, "ground stud, "+q.name, q.bond, q.metal)
		}
	}
	var terminals []string
	number := 0 // wires that have the number PE already: the one in the motor cable
	for _, w := range m.c.Wires {
		if w.Number == "PE" {
			number++
		}
	}
	for n, pin := range m.ground {
		terminal := fmt.Sprint(n + 1)
		terminals = append(terminals, terminal)
		place := m.placeOfPin(pin)
		w := Wire{Name: "PE" + letter(number+n), Number: "PE", From: Pin{bar, terminal}, To: pin, Size: m.r.Brief.Ground, Why: m.groundWhy[pin]}
		if at := m.c.Place(place); at != nil && at.Kind != Box && at.Kind != Door && place != "casting" {
			w.Cable = m.groundCable(place)
		}
		m.c.Wires = append(m.c.Wires, w)
		if c := m.c.Cable(w.Cable); c != nil {
			m.groundCore(c, &m.c.Wires[len(m.c.Wires)-1])
		}
	}
	m.add(GroundBar, Spec{Tag: bar, Words: "ground bar", Terminals: append(terminals, fmt.Sprint(len(terminals)+1))}, p.PlateBonded)
}

// groundCable is the cable to the place that the ground wire lies in: the mains', else the controls', else none.
func (m *maker) groundCable(place string) string {
	for _, class := range []coreClass{mainsCores, highCores, controlCores} {
		for n, k := range m.cables {
			if k == (cableKey{place, class}) {
				return m.c.Cables[n].Tag
			}
		}
	}
	return ""
}

// groundCore makes the ground wire a core of the cable, by its colour.
func (m *maker) groundCore(c *Cable, w *Wire) {
	w.Core = "PE"
	w.Size = explain.Known[quantity.Conductor]{}
	c.Cores = append(c.Cores, Core{Name: "PE", Wire: w.Name})
}
