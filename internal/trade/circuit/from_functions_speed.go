package circuit

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// speed makes the knob, or the selector of fixed speeds.
func (m *maker) speed() {
	switch m.pick.Speed.Value {
	case "knob":
		m.knob()
	case "steps":
		m.steps()
	}
}

// knob wires a potentiometer to the drive's reference supply, input and common: end 1 is nought, end 3 full speed.
func (m *maker) knob() {
	var pins [3]Pin
	for n, does := range []string{"reference common", "reference input", "reference supply"} {
		p, ok := m.screw(does)
		if !ok && n == 0 {
			p, ok = m.screw("0 V") // many drives have one 0 V for both
		}
		if !ok {
			m.wanted(m.pick.Speed, "a speed knob", does)
			return
		}
		pins[n] = p
	}
	place, why := m.placeOf("speed")
	k := *m.add(Knob, Spec{Role: SpeedKnob, Place: place, Ohms: m.pick.Knob.Value}, m.pick.Speed, m.pick.Knob, why)
	// The wiper's terminal and the supply's don't stand side by side: touching, they would be full speed.
	for _, n := range []int{1, 0, 2} {
		r := m.new([]string{"reference common", "reference to the drive", "reference supply"}[n], m.pick.Speed).on(k.Pin(fmt.Sprint(n + 1)))
		m.onto(pins[n], r)
	}
	m.second("speed", "two knobs on one reference disturb one another: the second isn't made")
}

// second reports that a control which can stand only once stands on several posts.
func (m *maker) second(what, message string) {
	count := 0
	m.each(what, func(p post) {
		if count++; count == 2 {
			m.r.mistake("control-stands-twice", p.why, message, "leave it to one station")
		}
	})
}

// steps makes a selector that sets the drive's two step inputs: none, the first, the second, both.
func (m *maker) steps() {
	first, ok1 := m.screw(string(Step1))
	second, ok2 := m.screw(string(Step2))
	count := int(m.pick.Steps.Value)
	if !ok1 || !ok2 && count > 2 {
		m.wanted(m.pick.Speed, "fixed speeds", string(Step1)+" and "+string(Step2))
		return
	}
	var positions, odd, upper []string
	for n := range count {
		name := fmt.Sprint(n + 1)
		positions = append(positions, name)
		if n&1 == 1 {
			odd = append(odd, name)
		}
		if n&2 == 2 {
			upper = append(upper, name)
		}
	}
	contacts := "13-14 when " + strings.Join(odd, " or ")
	if upper != nil {
		contacts += ", 23-24 when " + strings.Join(upper, " or ")
	}
	place, why := m.placeOf("speed")
	d := *m.add(Selector, Spec{Role: SpeedStep, Place: place, Positions: positions, Contacts: contacts}, m.pick.Speed, m.pick.Steps, why)
	m.feed.on(d.Pin("13"))
	m.new("speed step 1", m.pick.Speed).on(d.Pin("14"), first)
	if upper != nil {
		m.feed.on(d.Pin("23"))
		m.new("speed step 2", m.pick.Speed).on(d.Pin("24"), second)
	}
	m.second("speed", "two speed selectors on one pair of inputs disturb one another: the second isn't made")
}

// indication makes lamps and the remote readout.
func (m *maker) indication() {
	p := m.pick
	lamp := func(role Role, what string, at *net, why explain.Because) {
		m.each(what, func(q post) {
			d := *m.add(Lamp, Spec{Role: role, Place: q.name, Volts: p.Voltage.Value, AC: m.controlAC(), Power: p.LampPower.Value}, why, q.why)
			at.on(d.Pin("X1"))
			m.common.on(d.Pin("X2"))
		})
	}
	if p.PowerLamp.Value == "yes" {
		lamp(PowerLamp, "power lamp", m.hot, p.PowerLamp)
	}
	if p.RunLamp.Value == "yes" {
		if running := m.whileRunning(p.RunLamp); running != nil {
			lamp(RunLamp, "run lamp", running, p.RunLamp)
		}
	}
	if p.Readout.Value == "yes" {
		m.readout()
	}
}

// whileRunning returns the control voltage that is there while the motor has torque: behind the drive's run relay.
func (m *maker) whileRunning(why explain.Because) *net {
	if m.running != nil {
		return m.running
	}
	common, ok1 := m.screw("run relay common")
	open, ok2 := m.screw("run relay open contact")
	if !ok1 || !ok2 {
		m.wanted(why, "something that follows the run", "run relay common and run relay open contact")
		return nil
	}
	m.hot.on(common)
	m.running = m.new("control voltage while it runs", why).on(open)
	return m.running
}

// readout wires the remote display: its power from direct control voltage, its two data wires to the drive's serial
// terminals, and a terminator at each end of the line that has one.
func (m *maker) readout() {
	a, ok1 := m.screw("serial A")
	b, ok2 := m.screw("serial B")
	if !ok1 || !ok2 {
		m.wanted(m.pick.Readout, "a readout on the serial line", "serial A and serial B")
		return
	}
	plus, zero := m.hot, m.common
	if m.controlAC() && m.driveHot != nil && m.zero != nil { // it needs direct current
		plus, zero = m.driveHot, m.zero
	}
	lineA, lineB := m.new("serial line A", m.pick.Readout).on(a), m.new("serial line B", m.pick.Readout).on(b)
	if common, ok := m.screw("serial common"); ok {
		m.onto(common, zero)
	}
	terminate := func(place string) {
		d := *m.add(Resistor, Spec{Place: place, Ohms: 120}, m.pick.Readout)
		lineA.on(d.Pin("1"))
		lineB.on(d.Pin("2"))
	}
	ends := job120(m.job.DriveSide.Terminator.Value)
	last := ""
	m.each("readout", func(p post) {
		d := *m.add(Readout, Spec{Place: p.name, Volts: m.readoutVolts(), Power: m.pick.ReadoutPower.Value}, m.pick.Readout, p.why)
		plus.on(d.Pin("V+"))
		zero.on(d.Pin("V-"))
		lineA.on(d.Pin("A"))
		lineB.on(d.Pin("B"))
		last = p.name
	})
	if last != "" && ends > 0 {
		terminate(last)
	}
	if ends > 1 {
		terminate("box")
	}
}

func (m *maker) readoutVolts() quantity.Voltage {
	if m.controlAC() {
		return m.r.Side.InputVoltage.Value
	}
	return m.pick.Voltage.Value
}

// job120 is at how many ends of the line the 120 ohm is fitted, both unless the job says otherwise. Source: TIA-485-A, from
// memory.
func job120(given quantity.Text) int {
	switch given {
	case "neither":
		return 0
	case "one end":
		return 1
	}
	return 2
}
