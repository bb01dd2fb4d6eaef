package circuit_test

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"drivewright/examples"
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// answer is a key of the job file with the values that it may have; "" leaves it out.
type answer struct {
	key    string
	values []string
}

var controlAnswers = []answer{
	{"run held by", []string{"", "the drive", "a relay"}},
	{"stop contact", []string{"", "", "normally closed", "normally open"}},
	{"emergency stop", []string{"", "none", "safe torque off", "cuts the power", "ramp then cuts the power", "a drive input"}},
	{"jog", []string{"", "yes", "no"}},
	{"reverse by", []string{"", "selector switch", "buttons", "not at all"}},
	{"speed by", []string{"", "knob", "steps", "drive keypad", "serial line"}},
	{"speed steps", []string{"", "2", "3", "4"}},
	{"guard switch", []string{"", "none", "stops the run", "acts as an emergency stop"}},
	{"foot brake", []string{"", "none", "stops the run", "acts as an emergency stop"}},
	{"reset", []string{"", "yes", "no"}},
	{"run lamp", []string{"", "yes", "no"}},
	{"power lamp", []string{"", "yes", "no"}},
	{"readout", []string{"", "yes", "no"}},
	{"supply", []string{"", "the drive's 24 V", "a power supply", "a transformer"}},
	{"supply current", []string{"", "500 mA", "3 A", "10 A"}},
	{"zero volts bonded", []string{"", "yes", "no"}},
	{"screen bonded", []string{"", "at the box", "at both ends", "nowhere", "no screen"}},
	{"spare cores", []string{"", "0", "1", "3"}},
	{"spare cores end", []string{"", "at terminals", "grounded at the box", "left loose"}},
	{"switch in the motor leads", []string{"", "", "", "none", "switch", "contactor", "plug"}},
	{"door bonded", []string{"", "yes", "no", "plastic door"}},
	{"plate bonded", []string{"", "yes", "no"}},
	{"motor bonded", []string{"", "yes", "no"}},
	{"casting bonded", []string{"", "yes", "no"}},
}

var driveAnswers = []answer{
	{"start logic", []string{"", "", "two-wire", "three-wire"}},
	{"inputs switch to", []string{"", "0 V", "24 V"}},
	{"safe torque off", []string{"", "none", "one channel", "two channels"}},
	{"serial line terminated", []string{"", "both ends", "one end", "neither"}},
	{"24 V current", []string{"", "400 mA"}},
}

var onStations = []string{"start", "stop", "emergency stop", "jog", "reverse", "speed", "reset", "run lamp", "power lamp", "readout", "guard switch", "foot brake"}

// randomJob writes a job with a random mixture of what the controls may be asked.
func randomJob(r *rand.Rand) string {
	var b strings.Builder
	pick := func(values []string) string { return values[r.IntN(len(values))] }
	section := func(name string, answers []answer) {
		fmt.Fprintf(&b, "%s:\n", name)
		for _, a := range answers {
			if v := pick(a.values); v != "" {
				fmt.Fprintf(&b, "  %s: %s\n", a.key, v)
			}
		}
	}
	fmt.Fprintf(&b, "drivewright: 1\nrules: %s\nmachine:\n  name: anything\n", pick([]string{"us", "iec"}))
	for _, a := range []answer{
		{"start", []string{"", "light", "heavy wheel"}}, {"reverse", []string{"", "yes", "no"}},
		{"start and stop", []string{"", "buttons at the drive terminals", "buttons at the drive terminals", "maintained switch at the drive terminals", "main switch", "keypad"}},
	} {
		if v := pick(a.values); v != "" {
			fmt.Fprintf(&b, "  %s: %s\n", a.key, v)
		}
	}
	fmt.Fprintf(&b, "supply:\n  voltage: 240 V\n  system: %s\n  neutral: %s\n  phases: %s\n", pick([]string{"split-phase", "line and neutral", "unearthed"}), pick([]string{"yes", "no"}), pick([]string{"1", "1", "1", "3"}))
	fmt.Fprintf(&b, "motor:\n  cable screened: %s\n", pick([]string{"yes", "no"}))
	if v := pick([]string{"", "", "time-delay fuse", "inverse time breaker"}); v != "" {
		fmt.Fprintf(&b, "box:\n  overcurrent device: 30 A\n  device kind: %s\n", v)
	}
	if n := r.IntN(4); n > 0 {
		fmt.Fprintf(&b, "loads:\n")
		for k := range n {
			fmt.Fprintf(&b, "  - name: load %c\n    kind: %s\n    power: 1/4 hp\n    voltage: %s\n    fed from: %s\n    runs: %s\n", 'a'+rune(k), pick([]string{"single-phase motor", "lamp", "coil"}),
				pick([]string{"120 V", "240 V"}), pick([]string{"drive output", "behind the main switch", "behind the main switch", "ahead of the main switch", "another circuit"}),
				pick([]string{"always", "with the motor", "by its own switch"}))
		}
	}
	section("controls", controlAnswers)
	if n := r.IntN(4); n > 0 {
		fmt.Fprintf(&b, "stations:\n")
		for k := range n {
			var has []string
			for _, h := range onStations {
				if r.IntN(3) == 0 {
					has = append(has, h)
				}
			}
			if has == nil {
				has = []string{"stop"}
			}
			fmt.Fprintf(&b, "  - name: place %c\n    kind: %s\n    has: %s\n", 'a'+rune(k), pick([]string{"door of the box", "box on the machine", "pendant", "foot switch"}), strings.Join(has, ", "))
		}
	}
	section("drive control", driveAnswers)
	return b.String()
}

// made reads a job and makes its circuit as the plan does.
func made(t *testing.T, name, text string) (*job.File, circuit.Result) {
	t.Helper()
	file := job.Read(name, []byte(text))
	for _, p := range file.Problems {
		t.Errorf("%s:%d: %s", name, p.Span.Line, p.Message.Show(quantity.InchUnits))
	}
	return file, circuit.Make(briefOf(file))
}

// briefOf is what Power would say of the job, in round figures.
func briefOf(file *job.File) circuit.Brief {
	size := func(name string, gauge int) explain.Known[quantity.Conductor] {
		return explain.Assume(name, quantity.AWG(gauge), explain.Source{}, explain.Say("for the test"))
	}
	return circuit.Brief{Job: &file.Job, Set: ruleSet(file), Supply: job.Known(file.Job.Supply.Voltage), Branch: size("branch conductor", 10), Lead: size("motor conductor", 12),
		Ground: size("grounding conductor", 10)}
}

func ruleSet(file *job.File) explain.RuleSet {
	if file.Job.Rules.Value == "iec" {
		return explain.IEC
	}
	return explain.US
}

// askedTooMuch are the mistakes that a job makes by asking a drive for what it has no terminal for.
var askedTooMuch = []string{"drive-terminal-missing", "control-stands-twice", "safe-off-without-input"}

// TestEveryMixtureMakesACircuit: whatever the controls are asked, the circuit that comes out hangs together.
func TestEveryMixtureMakesACircuit(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	whole := 0
	for n := range 3000 {
		text := randomJob(r)
		_, result := made(t, "mixture.job.yaml", text)
		asked := 0
		for _, m := range result.Mistakes {
			if !slices.Contains(askedTooMuch, m.Rule) {
				t.Errorf("mistake %s: %s", m.Rule, m.Message.Show(quantity.InchUnits))
			} else {
				asked++
			}
		}
		if asked == 0 {
			whole++
		}
		checkCircuit(t, &result.Circuit, asked > 0)
		if t.Failed() {
			t.Fatalf("mixture %d:\n%s", n, text)
		}
	}
	if whole < 1000 {
		t.Errorf("only %d mixtures asked nothing too much: the test says little", whole)
	}
}

// TestExamplesMakeWholeCircuits: so do those of the examples, and nothing is asked too much there.
func TestExamplesMakeWholeCircuits(t *testing.T) {
	names, err := fs.Glob(examples.Files, "*.job.yaml")
	if err != nil || len(names) < 3 {
		t.Fatalf("got %d examples (%v)", len(names), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		_, result := made(t, name, string(text))
		for _, m := range result.Mistakes {
			t.Errorf("%s: mistake %s: %s", name, m.Rule, m.Message.Show(quantity.InchUnits))
		}
		checkCircuit(t, &result.Circuit, false)
	}
}

// checkCircuit holds a made circuit against what every circuit must be. loose allows devices that nothing leads to, where the
// job asked for what can't be made.
func checkCircuit(t *testing.T, c *circuit.Circuit, loose bool) {
	t.Helper()
	tags := map[string]bool{}
	for _, d := range c.Devices {
		if tags[d.Tag] {
			t.Errorf("two devices have the tag %s", d.Tag)
		}
		tags[d.Tag] = true
		if c.Place(d.Place) == nil {
			t.Errorf("%s is at %q, which is no place", d.Tag, d.Place)
		}
		if d.Words == "" || !d.Why.OK() {
			t.Errorf("%s has no words or no reason", d.Tag)
		}
	}
	wires, ends := map[string]bool{}, map[circuit.Pin]int{}
	reached := map[string]bool{}
	cores := map[string]bool{}
	for n := range c.Wires {
		w := &c.Wires[n]
		if wires[w.Name] {
			t.Errorf("two wires are named %s", w.Name)
		}
		wires[w.Name] = true
		if w.Number == "" || !strings.HasPrefix(w.Name, w.Number) {
			t.Errorf("wire %s has the number %q", w.Name, w.Number)
		}
		for _, p := range []circuit.Pin{w.From, w.To} {
			d := c.Device(p.Device)
			if d == nil || !slices.Contains(d.Terminals, p.Terminal) {
				t.Errorf("wire %s ends at %s, which there is not", w.Name, p)
				continue
			}
			ends[p]++
			reached[p.Device] = true
			if most := 2; ends[p] > most {
				t.Errorf("%s has %d wires", p, ends[p])
			}
			if d.Kind == circuit.Drive && d.Place == "box" && ends[p] > 1 && !slices.Contains([]string{"U", "V", "W"}, p.Terminal) {
				t.Errorf("the drive's %s has %d wires", p, ends[p])
			}
		}
		if w.Colour == "" || w.Duty == "" || !w.Size.OK() || !w.Length.OK() || !w.Voltage.OK() || !w.Why.OK() {
			t.Errorf("wire %s lacks something: colour %q, duty %q, size %v, length %v, voltage %v", w.Name, w.Colour, w.Duty, w.Size.OK(), w.Length.OK(), w.Voltage.OK())
		}
		checkWay(t, c, w)
		if w.Cable != "" && cores[w.Cable+"/"+w.Core] {
			t.Errorf("core %s of %s has two wires", w.Core, w.Cable)
		}
		cores[w.Cable+"/"+w.Core] = true
	}
	for _, d := range c.Devices {
		// a stud that isn't bonded is a metal part without its wire: that is what the job says
		if !reached[d.Tag] && !loose && d.Kind != circuit.GroundBar {
			t.Errorf("no wire leads to %s (%s)", d.Tag, d.Words)
		}
	}
	checkCores(t, c)
	checkNumbers(t, c)
	checkSizes(t, c)
}

// checkSizes: the wires of a control supply of its own carry what its fuse lets through. Source: NFPA 79, Table 12.5.1; IEC 60204-1,
// Table 6. And none is thinner than IEC 60204-1 Table 5 allows: 0.2 mm² in the box and in cables of several cores.
func checkSizes(t *testing.T, c *circuit.Circuit) {
	t.Helper()
	fuse := quantity.Current(0)
	for _, d := range c.ByKind(circuit.Fuse) {
		for _, w := range c.Wires {
			// the fuse behind the supply is the one that a wire from the supply's own output leads to
			from := c.Device(w.From.Device)
			if from == nil || from.Kind != circuit.PowerSupply && from.Kind != circuit.Transformer || w.From.Terminal != "+" && w.From.Terminal != "X1" {
				continue
			}
			if to := c.Device(w.To.Device); to != nil && to.Tag == d.Tag && (w.Duty == circuit.ControlDC || w.Duty == circuit.ControlAC) && !strings.HasPrefix(w.Number, "S") {
				fuse = d.Elements[0].Most
			}
		}
	}
	for _, w := range c.Wires {
		switch w.Duty {
		case circuit.ControlAC, circuit.ControlDC, circuit.CommonAC, circuit.CommonDC:
			if strings.HasPrefix(w.Number, "S") || strings.HasPrefix(w.Number, "F") || strings.HasPrefix(w.Number, "O") || strings.HasPrefix(w.Number, "K") {
				continue // a load's own transformer
			}
			most, _, ok := catalogue.ControlAmpacity(w.Size.Value)
			if !ok || most < fuse {
				t.Errorf("wire %s of %s carries %v A behind a fuse of %v A", w.Name, w.Size.Value.Show(quantity.InchUnits), float64(most), float64(fuse))
			}
			if least, _, _ := catalogue.LeastControlConductor("outside", "control", "three-core or more"); w.Size.Value.Area() < least.Area() {
				t.Errorf("wire %s is of %s", w.Name, w.Size.Value.Show(quantity.InchUnits))
			}
		default:
		}
	}
}

// checkWay: a wire from one place to another lies in a cable, but for the door's, the supply's and a bond's; one within a place
// lies in none.
func checkWay(t *testing.T, c *circuit.Circuit, w *circuit.Wire) {
	t.Helper()
	a, b := c.Device(w.From.Device), c.Device(w.To.Device)
	if a == nil || b == nil {
		return
	}
	if a.Place == b.Place {
		if w.Cable != "" {
			t.Errorf("wire %s stays at %s and lies in cable %s", w.Name, a.Place, w.Cable)
		}
		return
	}
	kind := c.Place(b.Place).Kind
	if a.Place != "box" {
		kind = c.Place(a.Place).Kind
	}
	single := kind == circuit.Door || w.Duty == circuit.GroundDuty || a.Kind == circuit.Incoming || b.Kind == circuit.Incoming
	if w.Cable == "" && !single {
		t.Errorf("wire %s goes from %s to %s in no cable", w.Name, a.Place, b.Place)
	}
}

// checkCores: each wire in a cable is one core of it, and each core with a wire is that wire's; power and data share no pair,
// and control wires no cable with the mains or the motor.
func checkCores(t *testing.T, c *circuit.Circuit) {
	t.Helper()
	for _, k := range c.Cables {
		names := map[string]bool{}
		pairs, kinds := map[int]circuit.Duty{}, map[string]bool{}
		for _, core := range k.Cores {
			if core.Name == "" || names[core.Name] {
				t.Errorf("%s has two cores named %q", k.Tag, core.Name)
			}
			names[core.Name] = true
			if core.Wire == "" {
				continue
			}
			w := c.Wire(core.Wire)
			if w == nil || w.Cable != k.Tag || w.Core != core.Name {
				t.Errorf("core %s of %s carries %q, which knows nothing of it", core.Name, k.Tag, core.Wire)
				continue
			}
			if first, second := pairs[core.Pair]; core.Pair > 0 && second && (first == circuit.DataDuty) != (w.Duty == circuit.DataDuty) {
				t.Errorf("pair %d of %s carries %s and %s", core.Pair, k.Tag, first, w.Duty)
			}
			pairs[core.Pair] = w.Duty
			switch w.Duty {
			case circuit.SupplyDuty, circuit.MotorDuty, circuit.ForeignDuty:
				kinds["power"] = true
			case circuit.GroundDuty:
			default:
				kinds["control"] = true
			}
		}
		if len(kinds) > 1 {
			t.Errorf("cable %s carries power and control", k.Tag)
		}
		if !k.Length.OK() || !k.Rating.OK() || !k.Size.OK() || !k.Why.OK() {
			t.Errorf("cable %s lacks something", k.Tag)
		}
	}
	for _, w := range c.Wires {
		if w.Cable != "" && (c.Cable(w.Cable) == nil || !slices.ContainsFunc(c.Cable(w.Cable).Cores, func(k circuit.Core) bool { return k.Wire == w.Name })) {
			t.Errorf("wire %s lies in cable %q, which has no core of it", w.Name, w.Cable)
		}
	}
}

// checkNumbers: what wires, jumpers and the drive's own ground link join has one number, and one number is joined. The bond of
// a control common has the ground's number and joins it on purpose.
func checkNumbers(t *testing.T, c *circuit.Circuit) {
	t.Helper()
	parent := map[circuit.Pin]circuit.Pin{}
	var root func(p circuit.Pin) circuit.Pin
	root = func(p circuit.Pin) circuit.Pin {
		if q, ok := parent[p]; ok && q != p {
			return root(q)
		}
		return p
	}
	bond := func(w circuit.Wire) bool {
		a, b := c.Device(w.From.Device).Kind, c.Device(w.To.Device).Kind
		return w.Number == "PE" && a == circuit.GroundBar && (b == circuit.PowerSupply && w.To.Terminal == "-" || b == circuit.Transformer && w.To.Terminal == "X2")
	}
	for _, w := range c.Wires {
		if !bond(w) {
			parent[root(w.From)] = root(w.To)
		}
	}
	for _, d := range c.Devices {
		for _, e := range d.Elements {
			if e.Kind == circuit.Link && (d.Kind != circuit.Drive || e.A == "PE") {
				parent[root(d.Pin(e.A))] = root(d.Pin(e.B))
			}
		}
	}
	numberOf, at := map[circuit.Pin]string{}, map[string]circuit.Pin{}
	for _, w := range c.Wires {
		if bond(w) {
			continue
		}
		p := root(w.From)
		if n, ok := numberOf[p]; ok && n != w.Number {
			t.Errorf("wires %s and %s lie on one potential", n, w.Name)
		}
		if q, ok := at[w.Number]; ok && q != p {
			t.Errorf("the number %s stands for two potentials: %s and %s", w.Number, q, p)
		}
		numberOf[p], at[w.Number] = w.Number, p
		for _, end := range []circuit.Pin{w.From, w.To} {
			d := c.Device(end.Device)
			if d.Kind == circuit.TerminalBlock && end.Terminal != w.Number && !strings.HasPrefix(end.Terminal, w.Number+".") {
				t.Errorf("wire %s lands on terminal %s", w.Name, end)
			}
		}
	}
}
