package circuit_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/trade/circuit"
)

// TestWhatLiesWhollyAtAStationStaysThere: a potential between two devices of one station has no core to the box, where its terminal
// would have nothing on its other side: a dead end that costs a core and can be touched by its neighbours in a crushed cable.
func TestWhatLiesWhollyAtAStationStaysThere(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	stay := 0
	for n := range 1000 {
		text := randomJob(r)
		_, result := made(t, "mixture.job.yaml", text)
		c := &result.Circuit
		places, cores, pins := map[string][]string{}, map[string][]string{}, map[string]int{}
		for _, w := range c.Wires {
			for _, p := range []circuit.Pin{w.From, w.To} {
				d := c.Device(p.Device)
				if d.Kind == circuit.TerminalBlock {
					continue
				}
				pins[w.Number]++
				if !slices.Contains(places[w.Number], d.Place) {
					places[w.Number] = append(places[w.Number], d.Place)
				}
			}
			if a, b := c.Device(w.From.Device), c.Device(w.To.Device); a.Place == b.Place && c.Place(a.Place).Kind == circuit.Station && w.Length.Value > 0.16 {
				t.Errorf("jumper %s at %s is %v m long: a station is a hand wide", w.Name, a.Place, float64(w.Length.Value))
			}
			if w.Cable != "" {
				cores[w.Number] = append(cores[w.Number], w.Name)
			}
		}
		for number, at := range places {
			if len(at) != 1 || at[0] == "box" || number == "PE" {
				continue
			}
			stay++
			if len(cores[number]) > 0 {
				t.Errorf("mixture %d: potential %s lies wholly at %s, and its wires %s are cores to the box:\n%s", n, number, at[0], strings.Join(cores[number], ", "), text)
			}
		}
		if t.Failed() {
			return
		}
	}
	if stay < 300 {
		t.Errorf("only %d potentials stay at a station: the test says little", stay)
	}
}

// TestTwoLinesOfAnotherCircuit: a 240 V load in North America hangs on two live lines (NFPA 70, 210.4 and 240.15(B): every ungrounded
// conductor has its own overcurrent protection, and what switches it opens all of them; 200.7: white is for a grounded one), one of 120 V,
// and of 230 V elsewhere, on a line and a neutral, which is neither fused nor switched.
func TestTwoLinesOfAnotherCircuit(t *testing.T) {
	for _, k := range []struct {
		set, volts, system, grounded string
		live                         int
	}{
		{"us", "240 V", "split-phase", "", 2},
		{"us", "120 V", "split-phase", "N", 1},
		{"us", "208 V", "split-phase", "", 2},
		{"iec", "230 V", "line and neutral", "N", 1},
		{"iec", "400 V", "line and neutral", "", 2},
	} {
		supply := "240 V"
		if k.set == "iec" {
			supply = "230 V"
		}
		_, r := made(t, "other.job.yaml", `drivewright: 1
rules: `+k.set+`
machine: {start and stop: buttons at the drive terminals}
supply: {voltage: `+supply+`, system: `+k.system+`, neutral: no}
controls: {emergency stop: safe torque off, run lamp: yes}
loads:
  - {name: dust collector, kind: single-phase motor, power: 1 hp, voltage: `+k.volts+`, fed from: another circuit, runs: with the motor}
`)
		c := &r.Circuit
		in := c.ByKind(circuit.Incoming)[1]
		load := c.ByKind(circuit.Load)[0]
		contactor := c.ByRole(circuit.LoadContactor)[0]
		fuses, switched := 0, 0
		for n := range c.Wires {
			w := &c.Wires[n]
			if !strings.HasPrefix(w.Number, "X1") {
				continue
			}
			if neutral := strings.Contains(w.Colour, "white") || strings.Contains(w.Colour, "blue"); w.Cable == "" && neutral != (strings.HasSuffix(w.Number, "N")) {
				t.Errorf("%s %s: wire %s is %s", k.set, k.volts, w.Name, w.Colour)
			}
			for _, p := range []circuit.Pin{w.From, w.To} {
				if c.Device(p.Device).Kind == circuit.Fuse {
					fuses++
				}
			}
		}
		for n := range c.Wires {
			for _, p := range []circuit.Pin{c.Wires[n].From, c.Wires[n].To} {
				if p.Device == contactor.Tag && slices.Contains([]string{"2", "4"}, p.Terminal) {
					switched++
				}
			}
		}
		if has := slices.Contains(in.Terminals, "N"); has != (k.grounded != "") {
			t.Errorf("%s %s: the other circuit has the terminals %v", k.set, k.volts, in.Terminals)
		}
		if fuses != k.live || switched != k.live {
			t.Errorf("%s %s: %d fuses and %d contacts in the lines of %s, want %d of each", k.set, k.volts, fuses, switched, load.Words, k.live)
		}
	}
}
