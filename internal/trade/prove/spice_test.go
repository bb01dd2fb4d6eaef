package prove

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"drivewright/internal/trade/circuit"
)

// spice is a netlist for ngspice, a general-purpose circuit simulator that nobody here wrote. Many networks go into one list,
// each with nodes of its own, so that one run solves them all.
type spice struct {
	lines []string
	count int
}

// needSpice skips the test where ngspice isn't installed, unless DRIVEWRIGHT_REQUIRE_TOOLS says that it must be.
func needSpice(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("ngspice"); err != nil {
		if os.Getenv("DRIVEWRIGHT_REQUIRE_TOOLS") != "" {
			t.Fatal("ngspice is needed for this test and isn't installed")
		}
		t.Skip("ngspice isn't installed")
	}
}

// stand is a circuit with its switches, sources and diodes standing somehow, as a netlist needs it.
type stand struct {
	w      *Wiring
	closed func(part int) bool
	at     func(part int) float64 // of a knob's track, from A to the wiper
	modes  map[int]mode           // of sources and diodes, by part
}

// fuse reports whether the part is a fuse, which has a resistance of its own.
func (s stand) fuse(part int) bool {
	p := s.w.Parts[part]
	k := s.w.Circuit.Devices[p.Device].Kind
	return p.Kind == circuit.Contact && p.Most > 0 && (k == circuit.Fuse || k == circuit.Breaker)
}

// nodes names the nodes of the wiring by what wires, links and closed contacts join. It floods from pin to pin and shares no
// code with the program.
func (s stand) nodes() []int {
	next := map[int][]int{}
	join := func(a, b int) { next[a], next[b] = append(next[a], b), append(next[b], a) }
	for _, e := range s.w.Wires {
		if e.A != e.B {
			join(e.A, e.B)
		}
	}
	for n, p := range s.w.Parts {
		if p.Kind == circuit.Link || p.Kind == circuit.Contact && s.closed(n) && !s.fuse(n) {
			join(p.A, p.B)
		}
	}
	name := make([]int, len(s.w.Pins))
	for n := range name {
		name[n] = -1
	}
	for n := range name {
		queue := []int{n}
		for len(queue) > 0 {
			k := queue[0]
			queue = queue[1:]
			if name[k] < 0 {
				name[k] = n
				queue = append(queue, next[k]...)
			}
		}
	}
	return name
}

// add writes the circuit into the list and returns the names of its nodes, and for each node a number that is the same for nodes that
// something conducts between.
func (l *spice) add(s stand) (names []string, groups []int) {
	l.count++
	nodes := s.nodes()
	type element struct {
		a, b  int
		lines []string
		joins bool
	}
	var all []element
	id := 0
	resistor := func(a, b int, ohms float64) {
		id++
		all = append(all, element{a, b, []string{fmt.Sprintf("R%d_%d {a} {b} %.17g", l.count, id, ohms)}, true})
	}
	// battery: volts up to a from b, with ohms in series
	battery := func(a, b int, volts, ohms float64) {
		id++
		inner := fmt.Sprintf("i%d_%d", l.count, id)
		all = append(all, element{a, b, []string{fmt.Sprintf("V%d_%d %s {b} DC %.17g", l.count, id, inner, volts), fmt.Sprintf("R%d_%d {a} %s %.17g", l.count, id, inner, ohms)}, true})
	}
	sensed := map[[2]int]bool{}
	sense := func(a, b int) {
		if !sensed[[2]int{a, b}] {
			sensed[[2]int{a, b}] = true
			resistor(a, b, senseOhms)
		}
	}
	for n, p := range s.w.Parts {
		a, b := p.A, p.B
		switch p.Kind {
		case circuit.Winding: // a motor's, or the input of a transformer, which takes next to nothing
			if s.w.Circuit.Devices[p.Device].Kind == circuit.Transformer {
				resistor(a, b, senseOhms)
			} else {
				resistor(a, b, windingOhms)
			}
		case circuit.Coil, circuit.LampElement, circuit.Resistance, circuit.Reference:
			resistor(a, b, float64(p.Ohms))
		case circuit.Electronics:
			if p.Ohms > 0 {
				resistor(a, b, float64(p.Ohms))
			} else {
				resistor(a, b, senseOhms)
			}
		case circuit.Input:
			resistor(a, p.W, float64(p.Ohms))
		case circuit.KnobElement:
			at := min(max(s.at(n), knobEndIn), 1-knobEndIn)
			resistor(a, p.W, float64(p.Ohms)*at)
			resistor(p.W, b, float64(p.Ohms)*(1-at))
		case circuit.Source:
			ohms := float64(p.Ohms)
			if ohms == 0 {
				ohms = ownOhms
			}
			if d := &s.w.Circuit.Devices[p.Device]; p.FedBy[0] != "" {
				sense(s.w.At(d.Pin(p.FedBy[0])), s.w.At(d.Pin(p.FedBy[1])))
			} else if earth := s.w.At(d.Pin("PE")); earth >= 0 && p.AC {
				// the supply's own grounding: the neutral, or the middle one of three lines; of two the middle in the us set
				sources := 0
				for _, e := range d.Elements {
					if e.Kind == circuit.Source {
						sources++
					}
				}
				grounded := s.w.At(d.Pin("N"))
				if grounded < 0 && (sources > 1 || s.w.Circuit.Set == "iec") {
					grounded = b
				}
				switch {
				case grounded >= 0 && !sensed[[2]int{earth, earth}]:
					sensed[[2]int{earth, earth}] = true
					resistor(grounded, earth, ownOhms)
				case grounded < 0:
					if s.modes[n] == holding {
						battery(a, earth, float64(p.Volts)/2, ohms)
						battery(earth, b, float64(p.Volts)/2, ohms)
					}
					continue
				}
			}
			switch s.modes[n] {
			case holding:
				battery(a, b, float64(p.Volts), ohms)
			case limiting:
				id++
				all = append(all, element{a, b, []string{fmt.Sprintf("I%d_%d {b} {a} DC %.17g", l.count, id, float64(p.Most))}, false})
			case blocking:
			}
		case circuit.DiodeElement:
			if s.modes[n] == holding {
				battery(a, b, float64(p.On), ownOhms)
			}
		case circuit.Contact:
			if s.fuse(n) && s.closed(n) {
				resistor(a, b, ownOhms)
			}
		case circuit.Link:
		}
	}
	if c := s.w.Circuit; c.Drive.Tag != "" && len(c.Drive.Supply) > 1 {
		d := c.Device(c.Drive.Tag)
		sense(s.w.At(d.Pin(c.Drive.Supply[0])), s.w.At(d.Pin(c.Drive.Supply[1])))
	}
	// One node of each part that hangs together is ngspice's ground: only differences count.
	group := make([]int, len(nodes))
	for n := range group {
		group[n] = nodes[n]
	}
	for again := true; again; {
		again = false
		for _, e := range all {
			if x, y := group[nodes[e.a]], group[nodes[e.b]]; e.joins && x != y {
				low, high := min(x, y), max(x, y)
				for n := range group {
					if group[n] == high {
						group[n] = low
					}
				}
				again = true
			}
		}
	}
	name := func(n int) string {
		if k := nodes[n]; group[k] != k {
			return fmt.Sprintf("n%d_%d", l.count, k)
		}
		return "0"
	}
	for _, e := range all {
		if nodes[e.a] == nodes[e.b] {
			continue // both ends touch
		}
		for _, line := range e.lines {
			l.lines = append(l.lines, strings.NewReplacer("{a}", name(e.a), "{b}", name(e.b)).Replace(line))
		}
	}
	for n := range nodes {
		names, groups = append(names, name(n)), append(groups, group[nodes[n]])
	}
	return names, groups
}

// solve runs ngspice on the list and returns the voltage of every node.
func (l *spice) solve(t testing.TB) map[string]float64 {
	t.Helper()
	folder := t.TempDir()
	var b strings.Builder
	b.WriteString("networks\n")
	for _, line := range l.lines {
		b.WriteString(line + "\n")
	}
	b.WriteString(".options reltol=1e-9 abstol=1e-15 vntol=1e-12\n.control\nset filetype=ascii\nset numdgt=15\nop\nwrite out.raw\nquit\n.endc\n.end\n")
	if err := os.WriteFile(filepath.Join(folder, "in.cir"), []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	c := exec.CommandContext(t.Context(), "ngspice", "-b", "in.cir")
	c.Dir = folder
	out, err := c.CombinedOutput()
	raw, failed := os.ReadFile(filepath.Join(folder, "out.raw"))
	if failed != nil {
		t.Fatalf("ngspice wrote nothing (%v):\n%.3000s", err, out)
	}
	return readRaw(t, string(raw))
}

// readRaw reads ngspice's file of results.
func readRaw(t testing.TB, text string) map[string]float64 {
	t.Helper()
	volts := map[string]float64{"0": 0}
	var names []string
	scan := bufio.NewScanner(strings.NewReader(text))
	where := ""
	for scan.Scan() {
		line := scan.Text()
		switch {
		case strings.HasPrefix(line, "Variables:"):
			where = "names"
		case strings.HasPrefix(line, "Values:"):
			where = "values"
		case where == "names":
			if f := strings.Fields(line); len(f) == 3 {
				names = append(names, strings.TrimSuffix(strings.TrimPrefix(f[1], "v("), ")"))
			}
		case where == "values":
			f := strings.Fields(line)
			if len(f) == 0 {
				continue
			}
			v, err := strconv.ParseFloat(f[len(f)-1], 64)
			if err != nil {
				t.Fatalf("ngspice's value %q: %v", line, err)
			}
			if len(volts)-1 < len(names) {
				volts[names[len(volts)-1]] = v
			}
		}
	}
	return volts
}
