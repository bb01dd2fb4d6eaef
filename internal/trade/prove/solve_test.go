package prove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// randomCircuit makes a circuit of everything that a network can hold, wired at random.
func randomCircuit(r *rand.Rand, diodes bool) *circuit.Circuit {
	c := &circuit.Circuit{}
	add := func(kind circuit.Kind, s circuit.Spec) {
		s.Tag = fmt.Sprintf("D%d", len(c.Devices)+1)
		d, err := circuit.NewDevice(kind, s)
		if err != nil {
			panic(err)
		}
		c.Devices = append(c.Devices, d)
	}
	volts := []quantity.Voltage{5, 10, 24, 24, 48}
	for range 1 + r.IntN(3) {
		add(circuit.Incoming, circuit.Spec{Terminals: []string{"+", "-"}, Volts: volts[r.IntN(len(volts))], Most: quantity.Current([]float64{0.002, 0.02, 0.1, 1, 100}[r.IntN(5)])})
	}
	for range 2 + r.IntN(5) {
		add(circuit.Resistor, circuit.Spec{Ohms: quantity.Resistance(math.Pow(10, 0.5+5*r.Float64()))})
	}
	for range r.IntN(3) {
		add(circuit.Knob, circuit.Spec{Ohms: quantity.Resistance(1000 * (1 + 9*r.Float64()))})
	}
	for range 2 + r.IntN(6) {
		add(circuit.PushButton, circuit.Spec{Contacts: []string{"11-12 closed", "13-14 open"}[r.IntN(2)]})
	}
	for range r.IntN(4) {
		add(circuit.Relay, circuit.Spec{Volts: 24, Contacts: "11-14 open, 21-22 closed"})
	}
	for range r.IntN(3) {
		add(circuit.Lamp, circuit.Spec{Volts: 24})
	}
	if diodes {
		for range 1 + r.IntN(4) {
			add(circuit.Diode, circuit.Spec{})
		}
	}
	for range r.IntN(4) { // drive inputs
		c.Devices = append(c.Devices, circuit.Device{Tag: fmt.Sprintf("D%d", len(c.Devices)+1), Terminals: []string{"1", "2"},
			Elements: []circuit.Element{{Kind: circuit.Input, A: "1", W: "2", Ohms: 4700, On: 15, Off: 5}}})
	}
	// Every pin goes to one of a few places; the pins of a place are joined in a chain.
	last := map[int]circuit.Pin{}
	places := 4 + r.IntN(10)
	for _, d := range c.Devices {
		for _, terminal := range d.Terminals {
			at, pin := r.IntN(places), d.Pin(terminal)
			if from, there := last[at]; there && r.IntN(12) > 0 {
				c.Wires = append(c.Wires, circuit.Wire{Name: fmt.Sprint(len(c.Wires) + 1), From: from, To: pin})
			}
			last[at] = pin
		}
	}
	return c
}

// standing is a model with its drivers standing somehow, and what the program makes of it.
type standing struct {
	m       *model
	drivers bits
	volts   []float64    // across each branch; 0 for one that carries nothing
	modes   map[int]mode // of sources and diodes, by part
	settled bool
}

// solveAll solves every network of the model with the drivers as given.
func solveAll(m *model, drivers bits) standing {
	s := standing{m: m, drivers: drivers, volts: make([]float64, len(m.branches)), modes: map[int]mode{}, settled: true}
	for _, b := range m.branches {
		if b.kind == sourceBranch {
			s.modes[b.part] = blocking
			if drivers.has(b.driver) {
				s.modes[b.part] = holding // not part of any network: nothing is asked of it
			}
		}
		if b.kind == diodeBranch {
			s.modes[b.part] = blocking
		}
	}
	builder, solver := newBuilder(m), &solver{m: m}
	for _, p := range builder.build() {
		k := builder.finish(p, string(builder.sign(p)))
		key := drivers.both(&k.mask)
		var o outcome
		solver.solve(k, &key, &o)
		s.settled = s.settled && !o.unsettled
		for n, l := range k.lives {
			b := &m.branches[l.branch]
			s.volts[l.branch] = solver.across(l)
			if b.kind == sourceBranch || b.kind == diodeBranch {
				s.modes[b.part] = solver.modes[n]
			}
		}
	}
	return s
}

// stand returns the same for the netlist.
func (s standing) stand() stand {
	driver := map[int]int{}
	for _, b := range s.m.branches {
		if b.driver >= 0 {
			driver[b.part] = b.driver
		}
	}
	return stand{w: s.m.wiring, modes: s.modes,
		closed: func(part int) bool { return s.drivers.has(driver[part]) },
		at: func(part int) float64 {
			d, n := driver[part], 0
			if s.drivers.has(d) {
				n = 1
			}
			if s.drivers.has(d + 1) {
				n += 2
			}
			return knobAt[n]
		}}
}

// compare holds every branch's voltage against ngspice's, and what ngspice says against what a source or diode may do: a source
// gives between nothing and its most, a diode carries nothing backwards. A network of such parts has only one solution, so that this
// proves the modes too.
func (s standing) compare(t *testing.T, name string, nodes []string, groups []int, spice map[string]float64) (compared int) {
	t.Helper()
	if !s.settled {
		t.Errorf("%s: sources and diodes found no state that agrees with itself", name)
		return 0
	}
	for n, b := range s.m.branches {
		if b.kind == switchBranch || b.kind == fuseBranch || b.part < 0 {
			continue
		}
		v := spice[nodes[b.a]] - spice[nodes[b.b]]
		what := fmt.Sprintf("%s: branch %d, %s to %s", name, n, s.m.wiring.Pins[b.a], s.m.wiring.Pins[b.b])
		switch {
		case b.kind == loadBranch || b.kind == knobBranch:
			compared++
			if math.Abs(s.volts[n]-v) > 1e-6*math.Abs(v)+1e-7 {
				t.Errorf("%s: got %.9g V, want %.9g V of ngspice", what, s.volts[n], v)
			}
		case b.kind == diodeBranch && s.modes[b.part] == holding:
			if (v-b.volts)/b.ohms < -1e-6 {
				t.Errorf("%s: the diode carries %.3g A backwards", what, (b.volts-v)/b.ohms)
			}
		case groups[b.a] != groups[b.b]: // nothing conducts between the two: their voltage is anybody's
		case b.kind == diodeBranch:
			if v > b.volts+1e-6 {
				t.Errorf("%s: the diode blocks %.6g V forward", what, v)
			}
		case b.kind == sourceBranch && s.drivers.has(b.driver):
			given := (b.volts - v) / b.ohms
			switch mode := s.modes[b.part]; {
			case mode == holding && (given < -1e-6 || given > b.most*(1+1e-6)+1e-6):
				t.Errorf("%s: the source holds its %.3g V and gives %.6g A of %.6g A", what, b.volts, given, b.most)
			case mode == limiting && v > b.volts+1e-6:
				t.Errorf("%s: the source is at its limit and yet at %.6g V of %.6g V", what, v, b.volts)
			case mode == blocking && v < b.volts-1e-6:
				t.Errorf("%s: the source gives nothing and yet stands at %.6g V of %.6g V", what, v, b.volts)
			}
		}
	}
	return compared
}

// TestNetworksAgainstSpice holds random networks of sources with limits, resistors, knobs, open and closed contacts, coils, lamps,
// drive inputs and diodes against ngspice, which solves all of them in one run.
func TestNetworksAgainstSpice(t *testing.T) {
	needSpice(t)
	const networks = 400
	var list spice
	all, names, groups := make([]standing, networks), make([][]string, networks), make([][]int, networks)
	seen := map[mode]int{}
	for n := range all {
		r := rand.New(rand.NewPCG(uint64(n), 3))
		m := newModel(randomCircuit(r, n%2 == 1))
		var drivers bits
		for _, b := range m.branches {
			if b.driver < 0 {
				continue
			}
			drivers.put(b.driver, b.kind == sourceBranch || r.IntN(2) == 0)
			if b.kind == knobBranch {
				drivers.put(b.driver+1, r.IntN(2) == 0)
			}
		}
		all[n] = solveAll(m, drivers)
		for _, mode := range all[n].modes {
			seen[mode]++
		}
		names[n], groups[n] = list.add(all[n].stand())
	}
	volts := list.solve(t)
	compared := 0
	for n, s := range all {
		compared += s.compare(t, fmt.Sprintf("network %d", n), names[n], groups[n], volts)
	}
	if compared < 2000 || seen[holding] < 200 || seen[blocking] < 100 || seen[limiting] < 50 {
		t.Errorf("got %d voltages compared, sources and diodes %v: too few to prove anything", compared, seen)
	}
	live := 0
	for _, s := range all {
		for _, v := range s.volts {
			if math.Abs(v) > 0.01 {
				live++
			}
		}
	}
	if live < 1000 {
		t.Errorf("got only %d voltages that aren't nought", live)
	}
	t.Logf("%d voltages compared, %d of them live", compared, live)
}

// TestCircuitsAgainstSpice holds each example's circuit, in every standing of switches, relays, supplies and knobs that the script
// brings it through, against ngspice.
func TestCircuitsAgainstSpice(t *testing.T) {
	needSpice(t)
	type one struct {
		name     string
		standing standing
		nodes    []string
		groups   []int
	}
	var list spice
	var all []one
	for name, c := range circuits(t) {
		m := newModel(c)
		for n, v := range newTrial(m).visits {
			s := solveAll(m, v.drivers)
			nodes, groups := list.add(s.stand())
			all = append(all, one{fmt.Sprintf("%s, standing %d", name, n), s, nodes, groups})
		}
	}
	volts := list.solve(t)
	compared := 0
	for _, o := range all {
		compared += o.standing.compare(t, o.name, o.nodes, o.groups, volts)
	}
	if compared < 1000 {
		t.Errorf("got only %d voltages compared", compared)
	}
	t.Logf("%d standings, %d voltages compared", len(all), compared)
}

// TestSpiceSeesAWrongVoltage: the comparison above must be able to fail.
func TestSpiceSeesAWrongVoltage(t *testing.T) {
	needSpice(t)
	c := &circuit.Circuit{}
	for _, s := range []struct {
		kind circuit.Kind
		spec circuit.Spec
	}{{circuit.Incoming, circuit.Spec{Tag: "G1", Terminals: []string{"+", "-"}, Volts: 24}}, {circuit.Resistor, circuit.Spec{Tag: "R1", Ohms: 100}}} {
		d, err := circuit.NewDevice(s.kind, s.spec)
		if err != nil {
			t.Fatal(err)
		}
		c.Devices = append(c.Devices, d)
	}
	pin := func(text string) circuit.Pin {
		p, _ := circuit.ParsePin(text)
		return p
	}
	c.Wires = []circuit.Wire{{Name: "1", From: pin("G1:+"), To: pin("R1:1")}, {Name: "0", From: pin("R1:2"), To: pin("G1:-")}}
	m := newModel(c)
	var drivers bits
	drivers.set(m.sources[0].driver)
	s := solveAll(m, drivers)
	var list spice
	nodes, _ := list.add(s.stand())
	volts := list.solve(t)
	at := volts[nodes[m.wiring.At(pin("R1:1"))]] - volts[nodes[m.wiring.At(pin("R1:2"))]]
	if want := 24 * 100 / (100 + ownOhms); math.Abs(at-want) > 1e-9 { // by hand: a divider
		t.Errorf("got %.12g V of ngspice, want %.12g V by hand", at, want)
	}
	for n, b := range m.branches {
		if b.kind == loadBranch && math.Abs(s.volts[n]-at) > 1e-9 {
			t.Errorf("got %.12g V, want %.12g V", s.volts[n], at)
		}
	}
	if strings.Count(strings.Join(list.lines, "\n"), "100") == 0 {
		t.Errorf("the netlist lacks the resistor: %q", list.lines)
	}
}
