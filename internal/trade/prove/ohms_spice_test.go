package prove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"drivewright/internal/trade/circuit"
)

// TestRandomOhmsAgainstSpice holds the effective resistance of 250 random networks against ngspice, all pairs of nodes, in one run: a
// current of 1 mA goes in at one node and out at the other, and the voltage between is the resistance.
func TestRandomOhmsAgainstSpice(t *testing.T) {
	needSpice(t)
	r := rand.New(rand.NewPCG(1, 2))
	var deck spice
	type pair struct {
		node string
		want float64
	}
	var pairs []pair
	for range 250 {
		nodes := 2 + r.IntN(9)
		var edges []groupEdge
		for n := 1; n < nodes; n++ {
			edges = append(edges, equal(n, r.IntN(n), math.Exp(r.Float64()*math.Log(1e6))))
		}
		for range r.IntN(2 * nodes) {
			if a, b := r.IntN(nodes), r.IntN(nodes); a != b {
				edges = append(edges, equal(a, b, math.Exp(r.Float64()*math.Log(1e6))))
			}
		}
		s := solvedNetwork(nodes, edges)
		for a := range nodes {
			for b := range a {
				deck.count++
				name := func(n int) string {
					if n == b {
						return "0"
					}
					return fmt.Sprintf("n%d_%d", deck.count, n)
				}
				for k, e := range edges {
					deck.lines = append(deck.lines, fmt.Sprintf("R%d_%d %s %s %.17g", deck.count, k, name(e.a), name(e.b), e.nominal))
				}
				deck.lines = append(deck.lines, fmt.Sprintf("I%d 0 %s DC 1m", deck.count, name(a)))
				pairs = append(pairs, pair{name(a), s.between(a, b)})
			}
		}
	}
	volts := deck.solve(t)
	for _, p := range pairs {
		if got, there := volts[p.node]; !there || math.Abs(got/1e-3-p.want) > 1e-6*p.want {
			t.Errorf("node %s: ngspice finds %.9g ohm (there: %v), the program %.9g", p.node, got/1e-3, there, p.want)
		}
	}
	t.Logf("%d pairs of 250 networks", len(pairs))
}

// spiceOhms writes the unpowered circuit into the deck as it stands, by itself: every wire and closed contact is a resistor of a
// tenth of a milliohm, every part has the least or the most that it may have. It shares no code with the program but the circuit.
// Between the two pins 1 mA flows; the node of the first is returned. A thousand megohm to ground everywhere keep ngspice from stopping at
// what hangs in the air.
func spiceOhms(l *spice, c *circuit.Circuit, settings []Setting, from, to circuit.Pin, most bool) string {
	scale := extreme(most)
	l.count++
	id := 0
	number := map[circuit.Pin]int{}
	node := func(p circuit.Pin) string {
		if p == to {
			return "0"
		}
		if _, there := number[p]; !there {
			number[p] = len(number)
		}
		return fmt.Sprintf("n%d_%d", l.count, number[p])
	}
	resistor := func(a, b string, ohms float64) {
		id++
		l.lines = append(l.lines, fmt.Sprintf("R%d_%d %s %s %.17g", l.count, id, a, b, ohms))
	}
	const joint = 1e-4
	for _, w := range c.Wires {
		resistor(node(w.From), node(w.To), joint)
	}
	for n := range c.Devices {
		d := &c.Devices[n]
		position := 0
		up := false
		for _, s := range settings {
			if s.Device == d.Tag {
				position = max(slices.Index(d.Positions, s.Position), 0)
				up = s.Position == "turned fully up"
				if s.Position == "taken out" {
					position = 1
				}
			}
		}
		for _, terminal := range d.Terminals {
			if p := d.Pin(terminal); p != to {
				resistor(node(p), "0", 1e12)
			}
		}
		for k := range d.Elements {
			e := &d.Elements[k]
			a, b, w := node(d.Pin(e.A)), node(d.Pin(e.B)), node(d.Pin(e.W))
			switch e.Kind {
			case circuit.Link:
				if d.Kind != circuit.Drive || e.A == "PE" && e.B == "PEM" {
					resistor(a, b, joint)
				}
			case circuit.Contact:
				if e.Group == 0 && e.In>>position&1 == 1 {
					resistor(a, b, joint)
				}
			case circuit.KnobElement:
				ohms, _ := scale(d, e)
				low := 0.001 // between wiper and end at the stop: nothing, or a fiftieth of the track
				if most {
					low = ohms * 0.02
				}
				if up {
					a, b = b, a
				}
				resistor(a, w, low)
				resistor(w, b, ohms)
			case circuit.Source, circuit.Electronics:
				if d.Kind == circuit.Drive && e.Kind == circuit.Source || d.Kind == circuit.Incoming {
					continue
				}
				ohms, there := scale(d, e)
				if !there {
					continue
				}
				if d.Kind == circuit.Transformer {
					resistor(a, b, ohms)
					continue
				}
				middle := fmt.Sprintf("m%d_%d_%d", l.count, n, e.Kind)
				for _, end := range []string{a, b} {
					resistor(end, middle, ohms/2)
				}
			default:
				if ohms, there := scale(d, e); there {
					resistor(a, b, ohms)
				}
			}
		}
	}
	l.lines = append(l.lines, fmt.Sprintf("I%d 0 %s DC 1m", l.count, node(from)))
	return node(from)
}

// TestReadingsAgainstSpice holds what every reading of every circuit's sheet must show against ngspice, in the switch positions
// of the reading, with all parts at the least and at the most that they may have.
func TestReadingsAgainstSpice(t *testing.T) {
	needSpice(t)
	type check struct {
		what  string
		node  string
		check func(ohms float64) string
	}
	for name, c := range circuits(t) {
		var deck spice
		var checks []check
		sheet := Meter(c)
		b := sheet.weighing.box
		if len(sheet.Readings) < 2 { // of the switch and relay of maintained-switch two are enough while the supply isn't joined
			t.Errorf("%s: only %d readings", name, len(sheet.Readings))
		}
		for _, r := range sheet.Readings {
			s, ok := b.setupOf(r.Settings)
			if !ok {
				t.Fatalf("%s: %s can't be set: %v", name, r.ID, r.Settings)
			}
			var v view
			b.look(&v, &s, &unaltered)
			found := v.between(b.wiring.At(r.From), b.wiring.At(r.To))
			for _, side := range []struct {
				name string
				most bool
				want float64
			}{{"least", false, found.least}, {"most", true, found.most}} {
				node := spiceOhms(&deck, c, r.Settings, r.From, r.To, side.most)
				checks = append(checks, check{fmt.Sprintf("%s: %s, %s to %s %v, all at their %s", name, r.ID, r.From, r.To, r.Settings, side.name), node, func(ohms float64) string {
					switch {
					case math.IsInf(side.want, 1) && ohms > 1e9, side.want < 1e9 && math.Abs(ohms-side.want) < 0.02+0.002*side.want:
						return ""
					}
					return fmt.Sprintf("ngspice finds %.6g ohm, the program %.6g", ohms, side.want)
				}})
			}
		}
		volts := deck.solve(t)
		for _, k := range checks {
			v, there := volts[k.node]
			if !there {
				t.Errorf("%s: ngspice knows no node %s", k.what, k.node)
				continue
			}
			if problem := k.check(v / 1e-3); problem != "" {
				t.Errorf("%s: %s", k.what, problem)
			}
		}
		t.Logf("%s: %d readings at both ends", name, len(sheet.Readings))
	}
}

// extreme says what each part has at the one or the other end of what it may have, as the sheet states it: coils ±15 %, knobs ±20 %,
// resistors ±5 %, windings ±20 %, an AC coil's copper from 8 %; what nobody can know from 50 ohm to open.
func extreme(most bool) func(d *circuit.Device, e *circuit.Element) (float64, bool) {
	pick := func(low, high float64) (float64, bool) {
		if most {
			return high, !math.IsInf(high, 1)
		}
		return low, true
	}
	return func(d *circuit.Device, e *circuit.Element) (float64, bool) {
		r := float64(e.Ohms)
		switch e.Kind {
		case circuit.Coil:
			if e.AC {
				return pick(r*0.08, r*1.15)
			}
			return pick(r*0.85, r*1.15)
		case circuit.KnobElement:
			return pick(r*0.8, r*1.2)
		case circuit.Resistance:
			if d.Kind == circuit.Load {
				return 0, false
			}
			return pick(r*0.95, r*1.05)
		case circuit.Winding:
			switch {
			case r > 0:
				return pick(r*0.8, r*1.2)
			case d.Kind == circuit.MotorKind:
				return pick(0.1, 100)
			}
			return pick(0.1, 2000)
		case circuit.Source:
			if d.Kind == circuit.Transformer {
				return pick(0.1, 100)
			}
			return pick(50, math.Inf(1))
		case circuit.Electronics:
			return pick(50, math.Inf(1))
		case circuit.Contact, circuit.Link, circuit.LampElement, circuit.DiodeElement, circuit.Input, circuit.Reference:
		}
		return 0, false
	}
}
