package circuit

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// loads wires everything else on the machine that takes power: from where the job says, through a fuse of its own, switched as
// the job says.
func (m *maker) loads() {
	for n := range m.job.Loads {
		m.load(n, &m.job.Loads[n])
	}
}

// motorLoad reports whether the load is a motor: a hazard that the emergency stop must stop too.
func motorLoad(l *job.Load) bool { return strings.HasSuffix(string(l.Sort.Value), "motor") }

func (m *maker) load(n int, l *job.Load) {
	name := string(l.Name.Value)
	if name == "" {
		name = fmt.Sprintf("load %d", n+1)
	}
	words := name
	if m.c.Place(name) != nil {
		name = fmt.Sprintf("%s %d", name, n+1)
	}
	why := []explain.Because{givenOf(l.Name, name), givenOf(l.Fed, name), givenOf(l.Runs, name)}
	m.c.Places = append(m.c.Places, Place{Name: name, Kind: Outside, Run: explain.Assume("run to the "+name, m.usualRun(), usual, explain.Say("not measured yet"))})
	volts := l.Voltage.Value
	if volts == 0 {
		volts = m.supplyVolts()
	}
	from := m.fedFrom(l, name, n, volts, why)
	lines := m.fusedLoad(from, l, name, n, why)
	if l.Runs.Value == "by its own switch" {
		lines = m.ownSwitch(lines, name, n, why)
	}
	if l.Runs.Value == "with the motor" {
		lines = m.follows(lines, n, why)
	}
	d := *m.add(Load, Spec{Words: words, Place: name, Volts: volts, AC: true, Power: loadPower(l)}, why...)
	for k, line := range lines {
		line.on(d.Pin(fmt.Sprint(k + 1)))
	}
	m.grounded(d.Pin("PE"), "ground of the "+name, why...)
}

// loadPower is what the load takes; 100 W where the job doesn't say. A motor takes more than it gives: as much again by half,
// common practice for small single-phase motors.
func loadPower(l *job.Load) quantity.Power {
	switch {
	case l.VA.Set:
		return quantity.Power(l.VA.Value)
	case l.Power.Set:
		return quantity.Power(l.Power.Value) * 3 / 2
	}
	return 100
}

// fedFrom returns the two potentials that the load hangs on.
func (m *maker) fedFrom(l *job.Load, name string, n int, volts quantity.Voltage, why []explain.Because) []*net {
	lines := m.lines
	switch l.Fed.Value {
	case "drive output": // made as asked: a rule says no
		return []*net{m.numbered("U"), m.numbered("V")}
	case "ahead of the main switch":
		lines = m.ahead
	case "another circuit":
		place := "supply of the " + name
		m.c.Places = append(m.c.Places, Place{Name: place, Kind: Outside, Run: explain.Assume("run to the "+place, m.usualRun(), usual, explain.Say("not measured yet"))})
		m.supplies[place] = true
		names := m.otherLines(volts)
		tag := m.add(Incoming, Spec{Place: place, Terminals: append(names[:2:2], "PE"), Volts: volts, AC: true}, why...).Tag
		var other []*net
		for _, name := range names {
			o := m.new("another circuit, live with the main switch off", why...).on(Pin{tag, name})
			o.number, o.mains, o.size = fmt.Sprint("X", n+1, name), true, m.wireFor(m.loadFuse(l, n, 1))
			other = append(other, o)
		}
		m.grounded(Pin{tag, "PE"}, "grounding conductor of the other circuit", why...)
		return other
	default:
		if k := m.c.ByRole(SupplyContactor); len(k) > 0 && motorLoad(l) && m.toDrive != nil {
			lines = m.behindContactor() // the emergency stop takes this motor's power too
		}
	}
	if m.neutral != nil && m.half(volts) {
		return []*net{lines[0], m.neutral}
	}
	if m.half(volts) && len(m.lineNames()) == 2 && m.lineNames()[1] != "N" {
		return m.stepDown(lines, n, volts, l, why)
	}
	return lines[:2]
}

// otherLines are the names of another circuit's two conductors: two live lines where its voltage is more than that of a line to ground.
// Source: common practice, 120 V from line to ground in North America and up to 240 V elsewhere.
func (m *maker) otherLines(volts quantity.Voltage) []string {
	most := quantity.Voltage(150)
	if m.set == explain.IEC {
		most = 260
	}
	if m.job.Supply.System.Value == "line and neutral" {
		most = max(most, m.supplyVolts()*1.1)
	}
	if volts > most {
		return []string{"L1", "L2"}
	}
	return []string{"L", "N"}
}

// behindContactor are the lines behind the supply contactor.
func (m *maker) behindContactor() []*net { return m.toDrive }

// numbered returns the potential with the number.
func (m *maker) numbered(number string) *net {
	for _, n := range m.nets {
		if n.number == number {
			return n
		}
	}
	return nil
}

// stepDown makes a transformer for a load of half the supply's voltage where no neutral reaches the machine. Its secondary is
// grounded at one end, as a separately derived supply must be.
func (m *maker) stepDown(lines []*net, n int, volts quantity.Voltage, l *job.Load, why []explain.Because) []*net {
	note := append([]explain.Because{job.Known(m.job.Supply.Neutral)}, why...)
	primary := m.fuseLines(lines[:2], m.loadFuse(l, n, 0.5), fmt.Sprint("T", n+1), "primary of the transformer", note)
	t := *m.add(Transformer, Spec{Volts: volts, AC: true, Most: transformerFor(loadPower(l), volts)}, note...)
	primary[0].on(t.Pin("H1"))
	primary[1].on(t.Pin("H4"))
	hot := m.new("transformer's secondary", note...).on(t.Pin("X1"))
	hot.number, hot.mains, hot.size = fmt.Sprint("S", n+1, "L"), true, m.wireFor(m.loadFuse(l, n, 1))
	grounded := m.new("transformer's secondary, grounded end", note...).on(t.Pin("X2"))
	grounded.number, grounded.mains, grounded.size = fmt.Sprint("S", n+1, "N"), true, hot.size
	m.grounded(t.Pin("X2"), "grounded end of the transformer's secondary", note...)
	return []*net{hot, grounded}
}

// transformerFor is what the smallest usual transformer gives that carries the power with a quarter to spare. Source: common
// practice, the usual ratings of control and machine-tool transformers.
func transformerFor(p quantity.Power, volts quantity.Voltage) quantity.Current {
	for _, va := range []float64{50, 100, 150, 250, 350, 500, 750, 1000, 1500, 2000, 3000, 5000} {
		if va >= float64(p)*1.25 {
			return quantity.Current(va / float64(volts))
		}
	}
	return quantity.Current(float64(p) * 1.25 / float64(volts))
}

// loadFuse is the load's fuse, or one that its power asks for; part scales it to the other side of a transformer.
func (m *maker) loadFuse(l *job.Load, n int, part float64) explain.Known[quantity.Current] {
	name := string(l.Name.Value)
	if name == "" {
		name = fmt.Sprintf("load %d", n+1)
	}
	var fuse explain.Known[quantity.Current]
	if l.Fused.Set {
		fuse = job.Known(givenOf(l.Fused, name))
	} else {
		volts := l.Voltage.Value
		if volts == 0 {
			volts = m.supplyVolts()
		}
		need := 1.25 * float64(loadPower(l)) / float64(volts)
		if motorLoad(l) {
			need *= 1.6 // it must stand the motor's start
		}
		fuse = explain.Assume("fuse of the "+name, fuseFor(need), usual, explain.Say("by the load's power; its plate or booklet may ask for another"))
	}
	if part == 1 {
		return fuse
	}
	return explain.Chosen("fuse ahead of the transformer for the "+name, fuseFor(float64(fuse.Value)*part*1.25), "the next usual fuse from {"+fuse.Why().Name+"} × ratio of the transformer × 125 % on", usual, fuse)
}

// fuseFor is the smallest usual fuse of a small circuit that carries the amperes. Source: common practice, what is sold.
func fuseFor(amperes float64) quantity.Current {
	for _, r := range []quantity.Current{1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 25} {
		if float64(r) >= amperes {
			return r
		}
	}
	return 30
}

// fuseLines leads lines through fuses; a grounded one is left whole.
func (m *maker) fuseLines(lines []*net, rating explain.Known[quantity.Current], prefix, does string, why []explain.Because) []*net {
	var behind []*net
	for k, line := range lines {
		if m.isGrounded(line) {
			behind = append(behind, line)
			continue
		}
		behind = append(behind, m.fused(line, rating, does, fmt.Sprint(prefix, "L", k+1), m.wireFor(rating), why...))
	}
	return behind
}

// isGrounded reports whether a potential is a neutral or the grounded end of a transformer.
func (m *maker) isGrounded(n *net) bool {
	return n == m.neutral || strings.HasSuffix(n.number, "N")
}

// fusedLoad leads the load's lines through its fuse.
func (m *maker) fusedLoad(lines []*net, l *job.Load, name string, n int, why []explain.Because) []*net {
	if l.Fed.Value == "drive output" {
		return lines
	}
	return m.fuseLines(lines, m.loadFuse(l, n, 1), fmt.Sprint("F", n+1), "fused, to the "+name, why)
}

// ownSwitch puts the load's own switch into its lines, grounded ones left whole.
func (m *maker) ownSwitch(lines []*net, name string, n int, why []explain.Because) []*net {
	contacts := "1-2 when on"
	if !m.isGrounded(lines[1]) {
		contacts += ", 3-4 when on"
	}
	d := *m.add(Selector, Spec{Words: "own switch, " + name, Place: name, Contacts: contacts}, why...)
	return m.switched(lines, d, fmt.Sprint("O", n+1), "behind the load's own switch", why)
}

// switched leads lines through the main contacts of a switch or contactor.
func (m *maker) switched(lines []*net, d Device, prefix, does string, why []explain.Because) []*net {
	var behind []*net
	for k, line := range lines {
		if m.isGrounded(line) {
			behind = append(behind, line)
			continue
		}
		line.on(d.Pin(fmt.Sprint(2*k + 1)))
		next := m.new(does, why...).on(d.Pin(fmt.Sprint(2*k + 2)))
		next.number, next.mains, next.size = fmt.Sprint(prefix, "L", k+1), true, line.size
		behind = append(behind, next)
	}
	return behind
}

// follows makes the contactor that switches the load while the motor runs. Its coil hangs on the drive's run relay: the
// relay's own contact is too small for a motor, and it switches the run lamp's voltage already.
func (m *maker) follows(lines []*net, n int, why []explain.Because) []*net {
	running := m.whileRunning(because(why[2:]))
	if running == nil {
		return lines
	}
	k := *m.add(Contactor, Spec{Role: LoadContactor, Contacts: "1-2 open, 3-4 open", Volts: m.pick.Voltage.Value, AC: m.controlAC(), Power: contactorPower}, why...)
	running.on(k.Pin("A1"))
	m.common.on(k.Pin("A2"))
	if !m.controlAC() { // a coil of direct current answers the opening contact with a spark that the drive's small relay can't bear
		v := *m.add(Diode, Spec{Words: "diode across the coil of " + k.Tag}, why...)
		running.on(v.Pin("K"))
		m.common.on(v.Pin("A"))
	}
	return m.switched(lines, k, fmt.Sprint("K", n+1), "switched with the motor", why)
}
