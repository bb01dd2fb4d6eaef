package circuit

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// incoming makes the supply, the main switch and the potentials ahead of it and behind it.
func (m *maker) incoming() {
	s := &m.job.Supply
	names := m.lineNames()
	terminals := append([]string{}, names...)
	if m.neutralNeeded() {
		terminals = append(terminals, "N")
	}
	terminals = append(terminals, "PE")
	run := job.Or(s.Run, m.usualRun(), usual, explain.Say("not measured yet"))
	if m.corded() {
		run = job.Or(s.CordLength, m.usualRun(), usual, explain.Say("not measured yet"))
	}
	m.c.Places = append(m.c.Places, Place{Name: "supply", Kind: Outside, Run: run})
	in := m.add(Incoming, Spec{Place: "supply", Terminals: terminals, Volts: m.supplyVolts(), AC: true}, job.Known(s.Voltage), job.Known(s.System))
	source := in.Tag
	contacts := ""
	for n := range names {
		if n > 0 {
			contacts += ", "
		}
		contacts += fmt.Sprintf("%d-%d open", 2*n+1, 2*n+2)
	}
	q := m.add(MainSwitch, Spec{Role: SwitchesSupply, Contacts: contacts, Most: m.r.Brief.Switch.Value}, m.r.Brief.Switch)
	main := q.Tag
	for n, name := range names {
		ahead := m.line(name, "supply, live with the main switch off").on(Pin{source, name}, Pin{main, fmt.Sprint(2*n + 1)})
		m.ahead = append(m.ahead, ahead)
		m.lines = append(m.lines, m.line("1"+name, "supply behind the main switch").on(Pin{main, fmt.Sprint(2*n + 2)}))
	}
	if m.neutralNeeded() {
		m.neutral = m.line("N", "neutral").on(Pin{source, "N"})
	}
	m.grounded(Pin{source, "PE"}, "grounding conductor of the supply", m.r.Brief.Ground)
}

// corded reports whether the machine hangs on a cord with a plug.
func (m *maker) corded() bool { return m.job.Supply.Connection.Value == "cord and plug" }

// line begins a potential of the mains with a number of its own.
func (m *maker) line(number, does string) *net {
	n := m.new(does, job.Known(m.job.Supply.Voltage))
	n.number, n.mains, n.size = number, true, m.r.Brief.Branch
	return n
}

// lineNames are the names of the supply's conductors by its system.
func (m *maker) lineNames() []string {
	switch {
	case m.job.Supply.Phases.Value == 3:
		return []string{"L1", "L2", "L3"}
	case m.job.Supply.System.Value == "line and neutral":
		return []string{"L", "N"}
	}
	return []string{"L1", "L2"}
}

func (m *maker) supplyVolts() quantity.Voltage { return supplyVolts(m.r) }

// neutralNeeded reports whether a load takes line to neutral of a split-phase supply that brings its neutral.
func (m *maker) neutralNeeded() bool {
	if m.job.Supply.Neutral.Value != "yes" || m.job.Supply.System.Value != "split-phase" || m.job.Supply.Phases.Value == 3 {
		return false
	}
	for _, l := range m.job.Loads {
		if m.half(l.Voltage.Value) && l.Fed.Value != "drive output" && l.Fed.Value != "another circuit" {
			return true
		}
	}
	return false
}

// half reports whether a load's voltage is that of line to neutral of a split-phase supply.
func (m *maker) half(v quantity.Voltage) bool {
	part := quantity.Part(v, m.supplyVolts())
	return part > 0.4 && part < 0.6
}

// driveAndMotor makes the drive, its motor, the motor's cable, and what may stand between them.
func (m *maker) driveAndMotor() {
	b := &m.r.Brief
	d, logic := driveDevice(m.drive, m.r.Side, m.row, m.supplyVolts(), len(m.lineNames()))
	logic.SpeedFrom = string(m.pick.Speed.Value)
	m.c.Drive = logic
	m.put(d, b.Drive)
	m.grounded(d.Pin("PE"), "ground of the drive", b.Drive)
	motor := m.add(MotorKind, Spec{Place: "motor", Ohms: m.job.Motor.WindingOhms.Value}, job.Known(m.job.Motor.Power))
	tag := motor.Tag
	between := m.motorSwitch()
	for n, u := range []string{"U", "V", "W"} {
		out := m.new("drive output", b.Lead)
		out.number, out.direct, out.size = u, true, b.Lead
		out.on(d.Pin(u))
		if between != "" {
			out.on(Pin{between, fmt.Sprint(2*n + 1)})
			out = m.new("motor lead behind the switch", m.pick.MotorSwitch)
			out.number, out.direct, out.size = "1"+u, true, b.Lead
			out.on(Pin{between, fmt.Sprint(2*n + 2)})
		}
		out.on(Pin{tag, u})
	}
	if m.pick.MotorBonded.Value == "yes" {
		pe := m.new("ground wire in the motor cable", m.pick.MotorBonded)
		pe.number, pe.direct, pe.size = "PE", true, b.Ground
		pe.on(d.Pin("PEM"), Pin{tag, "PE"})
	}
}

// motorSwitch makes what the job says stands in the motor leads, and returns its tag; "" where nothing does. It is made as
// asked: that it must not be there is a rule's business.
func (m *maker) motorSwitch() string {
	p := m.pick.MotorSwitch
	switch p.Value {
	case "none":
		return ""
	case "contactor", "reversing contactor":
		k := m.add(Contactor, Spec{Contacts: "1-2 open, 3-4 open, 5-6 open", Volts: m.pick.Voltage.Value, AC: m.controlAC(), Power: contactorPower}, p)
		tag := k.Tag
		m.hot.on(Pin{tag, "A1"})
		m.common.on(Pin{tag, "A2"})
		return tag
	}
	s := m.add(Selector, Spec{Positions: []string{"off", "on"}, Contacts: "1-2 when on, 3-4 when on, 5-6 when on"}, p)
	return s.Tag
}

// feedDrive leads the supply to the drive: through the overcurrent device in the box and the supply contactor, where there
// are any.
func (m *maker) feedDrive() {
	b := &m.r.Brief
	at := m.lines
	if device := m.deviceInBox(); device.OK() {
		at = m.protect(at, device, string(m.job.Control.DeviceType.Value), b.Branch, "supply behind the overcurrent device", "2", device)
	}
	if k := m.c.ByRole(SupplyContactor); len(k) > 0 {
		tag, why := k[0].Tag, m.pick.EmergencyStop
		var behind []*net
		for n, l := range at {
			l.on(Pin{tag, fmt.Sprint(2*n + 1)})
			next := m.line("3"+m.lineNames()[n], "supply behind the supply contactor").on(Pin{tag, fmt.Sprint(2*n + 2)})
			next.inputs = append(next.inputs, why)
			behind = append(behind, next)
		}
		at = behind
	}
	m.toDrive = at
	for n, l := range at {
		l.on(Pin{m.drive, driveLine(n)})
	}
}

// driveLine is the drive's n-th supply terminal.
func driveLine(n int) string { return fmt.Sprint("L", n+1) }

// deviceInBox is the overcurrent device in the box: the user's own, else what Power asks for.
func (m *maker) deviceInBox() explain.Known[quantity.Current] {
	if m.job.Control.Device.Set && m.job.Control.DeviceType.Value != "none" {
		return job.Known(m.job.Control.Device)
	}
	return m.r.Brief.Device
}

// protect leads lines through fuses or a breaker and returns the potentials behind. A grounded conductor is not fused, but a
// breaker opens it with the others. prefix begins the numbers behind.
func (m *maker) protect(lines []*net, rating explain.Known[quantity.Current], kind string, size explain.Known[quantity.Conductor], does, prefix string, why ...explain.Because) []*net {
	var behind []*net
	fuses := kind != "" && kind != "none" && kind != "inverse time breaker"
	if !fuses {
		contacts := ""
		for n := range lines {
			if n > 0 {
				contacts += ", "
			}
			contacts += fmt.Sprintf("%d-%d closed", 2*n+1, 2*n+2)
		}
		tag := m.add(Breaker, Spec{Contacts: contacts, Most: rating.Value}, why...).Tag
		for n, l := range lines {
			l.on(Pin{tag, fmt.Sprint(2*n + 1)})
			next := m.line(prefix+m.lineNames()[n], does).on(Pin{tag, fmt.Sprint(2*n + 2)})
			next.size = size
			behind = append(behind, next)
		}
		return behind
	}
	for n, l := range lines {
		if m.lineNames()[n] == "N" {
			behind = append(behind, l)
			continue
		}
		behind = append(behind, m.fused(l, rating, does, prefix+m.lineNames()[n], size, why...))
	}
	return behind
}

// fused leads one potential through a fuse.
func (m *maker) fused(n *net, rating explain.Known[quantity.Current], does, number string, size explain.Known[quantity.Conductor], why ...explain.Because) *net {
	tag := m.add(Fuse, Spec{Most: rating.Value}, append([]explain.Because{rating}, why...)...).Tag
	n.on(Pin{tag, "1"})
	n.tapped(Pin{tag, "1"}, size)
	next := m.new(does, why...).on(Pin{tag, "2"})
	next.number, next.mains, next.size = number, n.mains, size
	return next
}

// tapped notes that the pin takes little of what the potential of the mains carries, by a thinner wire of its own.
func (n *net) tapped(p Pin, size explain.Known[quantity.Conductor]) {
	if !n.mains || !size.OK() || n.size.OK() && size.Value.Area() >= n.size.Value.Area() {
		return
	}
	if n.taps == nil {
		n.taps = map[Pin]explain.Known[quantity.Conductor]{}
	}
	n.taps[p] = size
}

// controlAC reports whether the control circuit is alternating.
func (m *maker) controlAC() bool { return m.pick.Supply.Value == "a transformer" }

// controlSupply makes the supply of the control circuit and says which potentials the drive's inputs are switched to.
func (m *maker) controlSupply() {
	m.driveHotAndZero()
	p := m.pick
	switch p.Supply.Value {
	case "a power supply":
		m.ownSupply()
	case "a transformer":
		m.transformer()
	}
	if p.Supply.Value == "the drive's 24 V" && (m.hot == nil || m.common == nil) {
		m.wanted(p.Supply, "the drive's 24 V", "24 V and 0 V")
		if m.hot == nil {
			m.hot = m.new("control voltage", p.Supply)
		}
		if m.common == nil {
			m.common = m.new("control common", p.Supply)
		}
	}
	if m.driveHot == nil && m.zero != nil && m.zero != m.common {
		m.join(m.zero, m.common) // what is switched to the drive comes from the control supply, so they need one 0 V
		m.zero = m.common
	}
	switch {
	case m.r.Side.Logic.Value == "0 V" && m.zero != nil:
		m.feed = m.zero
	case m.driveHot == nil || m.r.Side.Logic.Value == "0 V":
		m.feed = m.hot
		if m.controlAC() {
			m.wanted(p.Supply, "switched inputs of direct current", "24 V")
		}
	}
}

// driveHotAndZero begins the potentials of the drive's own 24 V, where it has such terminals. They are the control supply's
// too until another one is made.
func (m *maker) driveHotAndZero() {
	if plus, ok := m.screw("24 V"); ok {
		m.driveHot = m.new("the drive's 24 V", m.r.Side.InputVoltage).on(plus)
		m.feed, m.hot = m.driveHot, m.driveHot
	}
	if zero, ok := m.screw("0 V"); ok {
		m.zero = m.new("the drive's 0 V", m.r.Side.InputVoltage).on(zero)
		m.common = m.zero
	}
}

// join makes one potential of two.
func (m *maker) join(from, into *net) {
	into.on(from.pins...)
	from.pins = nil
}

// controlFuse is the rating of the fuses ahead of the control supply and behind it. Source: common practice; a supply of
// some ten watts takes less than an ampere, and its inrush wants some room.
func (m *maker) controlFuse(name string, rating quantity.Current) explain.Known[quantity.Current] {
	return explain.Assume(name, rating, usual, explain.Say("see what the booklet of the supply asks for"))
}

// ownSupply makes a power supply for direct current, fed behind the main switch and ahead of all contactors.
func (m *maker) ownSupply() {
	p := m.pick
	lines := m.protect(m.twoLines(), m.controlFuse("fuse ahead of the control supply", 2), "time-delay fuse", m.pick.Wire, "supply of the control power supply", "C", p.Supply)
	g := m.add(PowerSupply, Spec{Volts: p.Voltage.Value, Most: p.SupplyCurrent.Value}, p.Supply, p.Voltage, p.SupplyCurrent)
	tag := g.Tag
	lines[0].on(Pin{tag, "L"})
	lines[1].on(Pin{tag, "N"})
	if lines[1] == m.lines[1] { // a neutral has no fuse
		lines[1].tapped(Pin{tag, "N"}, p.Wire)
	}
	m.grounded(Pin{tag, "PE"}, "ground of the power supply", p.Supply)
	plus := m.new("power supply, ahead of its fuse", p.Supply).on(Pin{tag, "+"})
	m.hot = m.fused(plus, m.secondaryFuse(), "control voltage", "", explain.Known[quantity.Conductor]{}, p.Voltage)
	m.common = m.new("control common", p.Voltage).on(Pin{tag, "-"})
	m.common.number = "0"
	if p.ZeroBonded.Value == "yes" {
		m.grounded(Pin{tag, "-"}, "control common to ground", p.ZeroBonded)
	}
}

// secondaryFuse is the fuse behind the control supply: what the supply gives, at the most 4 A for the thin wires.
func (m *maker) secondaryFuse() explain.Known[quantity.Current] {
	rating := min(m.pick.SupplyCurrent.Value, mostControlFuse)
	return explain.Chosen("fuse behind the control supply", rating, "the current that the supply can give, at the most 4 A: {"+m.pick.SupplyCurrent.Why().Name+"}", usual, m.pick.SupplyCurrent)
}

// twoLines are the two conductors that small things of the supply's full voltage hang on.
func (m *maker) twoLines() []*net { return m.lines[:2] }

// transformer makes a control transformer with fuses on both sides and one end of its secondary grounded.
func (m *maker) transformer() {
	p := m.pick
	lines := m.protect(m.twoLines(), m.controlFuse("fuse ahead of the control supply", 2), "time-delay fuse", m.pick.Wire, "primary of the control transformer", "C", p.Supply)
	t := m.add(Transformer, Spec{Volts: p.Voltage.Value, Most: p.SupplyCurrent.Value, AC: true}, p.Supply, p.Voltage, p.SupplyCurrent)
	tag := t.Tag
	lines[0].on(Pin{tag, "H1"})
	lines[1].on(Pin{tag, "H4"})
	if lines[1] == m.lines[1] {
		lines[1].tapped(Pin{tag, "H4"}, p.Wire)
	}
	plus := m.new("secondary, ahead of its fuse", p.Supply).on(Pin{tag, "X1"})
	m.hot = m.fused(plus, m.secondaryFuse(), "control voltage", "", explain.Known[quantity.Conductor]{}, p.Voltage)
	m.common = m.new("control common, grounded", p.Voltage).on(Pin{tag, "X2"})
	m.common.number = "0"
	if p.ZeroBonded.Value == "yes" {
		m.grounded(Pin{tag, "X2"}, "control common to ground", p.ZeroBonded)
	}
}

// grounded notes that the pin gets a wire from the ground bar.
func (m *maker) grounded(p Pin, does string, why ...explain.Because) {
	m.ground = append(m.ground, p)
	m.groundWhy[p] = explain.Chosen("bond of "+p.String(), quantity.Text(does), "made for what the controls must do", bondingOf, why...)
}
