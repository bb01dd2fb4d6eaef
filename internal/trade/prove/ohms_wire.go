package prove

import (
	"math"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/trade/circuit"
)

const (
	copperColder = 1 + 0.00323*(20-75) // a conductor's resistance at 20 °C against 75 °C; NFPA 70, Chapter 9, Table 8, note 2
	copperOhm    = 1.0 / 58e6          // ohm metre, annealed copper at 20 °C: IEC 60028, from memory
	jointOhms    = 0.005               // of one good screwed joint; common practice, a few milliohm
)

// wireOhms returns the resistance of a wire at 20 °C; ok is false where its size or length isn't known. Source: NFPA 70, Chapter
// 9, Table 8, for gauges; IEC 60228 for metric sizes; for one in neither, the resistance of copper and its area.
func wireOhms(w *circuit.Wire) (ohms float64, ok bool) {
	if !w.Size.OK() || !w.Length.OK() || !w.Size.Value.Known() {
		return 0, false
	}
	size := w.Size.Value
	per, _, found := catalogue.ConductorResistance(size)
	switch metric, _, inTable := catalogue.MetricResistance(size); {
	case found:
		per = quantity.LinearResistance(float64(per) * copperColder)
	case inTable:
		per = metric
	default:
		per = quantity.LinearResistance(copperOhm / float64(size.Area()))
	}
	return float64(per.Over(w.Length.Value)), true
}

// step is one way from a node to another.
type step struct {
	to   int
	ohms float64
}

// steps returns the ways out of every node through wires, links and the contacts that are closed, or only through protective
// conductors.
func (b *deadBox) steps(s *setup, onlyGround bool) [][]step {
	out := make([][]step, b.nodes)
	join := func(e Edge, ohms float64) {
		out[e.A] = append(out[e.A], step{e.B, ohms})
		out[e.B] = append(out[e.B], step{e.A, ohms})
	}
	for _, e := range b.links {
		join(e, 0)
	}
	for n, e := range b.wiring.Wires {
		w := &b.wiring.Circuit.Wires[n]
		if e.A == e.B || onlyGround && !b.protective(n) {
			continue
		}
		ohms, _ := wireOhms(w)
		if onlyGround {
			ohms += 2 * jointOhms
		}
		join(e, ohms)
	}
	if onlyGround {
		return out
	}
	for _, c := range b.contacts {
		if c.in>>s.position[c.device]&1 == 1 {
			join(Edge{c.a, c.b}, 0)
		}
	}
	return out
}

// protective reports whether a wire is a protective conductor: by its duty, or between two terminals named as ground.
func (b *deadBox) protective(wire int) bool {
	w := &b.wiring.Circuit.Wires[wire]
	return w.Duty == circuit.GroundDuty || b.grounded(w.From) && b.grounded(w.To)
}

// grounded reports whether a pin is a ground terminal.
func (b *deadBox) grounded(p circuit.Pin) bool {
	if p.Terminal == "PE" || p.Terminal == "PEM" {
		return true
	}
	d := b.wiring.Circuit.Device(p.Device)
	return d != nil && d.Kind == circuit.GroundBar
}

// along returns the least resistance of the wires on any way between two nodes; infinite where there is none. Source: E. W.
// Dijkstra, Numerische Mathematik 1 (1959).
func along(out [][]step, from, to int) float64 {
	far := make([]float64, len(out))
	done := make([]bool, len(out))
	for n := range far {
		far[n] = math.Inf(1)
	}
	far[from] = 0
	for {
		here := -1
		for n := range far {
			if !done[n] && !math.IsInf(far[n], 1) && (here < 0 || far[n] < far[here]) {
				here = n
			}
		}
		if here < 0 || here == to {
			return far[to]
		}
		done[here] = true
		for _, s := range out[here] {
			far[s.to] = min(far[s.to], far[here]+s.ohms)
		}
	}
}

// wiresMost returns the most that the wires on any way can have: that of all of them one behind the other. It widens what counts as
// joined.
func (b *deadBox) wiresMost() float64 {
	total := 0.0
	for n := range b.wiring.Circuit.Wires {
		ohms, _ := wireOhms(&b.wiring.Circuit.Wires[n])
		total += ohms
	}
	return total
}
