package circuit

import (
	"fmt"

	"drivewright/internal/base/quantity"
)

// emergencyKind is what the emergency chain acts on. A guard or treadle that acts as an emergency stop needs a chain even
// where no mushroom button is wanted; a drive without safe-off inputs can't have its torque taken away by them.
func emergencyKind(r *Result, p *Choices) string {
	kind := string(p.EmergencyStop.Value)
	asOne := quantity.Text("acts as an emergency stop")
	if kind == "none" && (p.Guard.Value == asOne || p.FootBrake.Value == asOne) {
		kind = "safe torque off"
	}
	if kind == "safe torque off" && r.Side.channels() == 0 {
		return "cuts the power"
	}
	return kind
}

// emergencyDevices makes, once, what acts as an emergency stop on a post: the mushroom button, a guard, a treadle. Each has two
// contacts or more, one for each channel or for each thing that it does.
func (m *maker) emergencyDevices(p post) []Device {
	if list, made := m.emergency[p.name]; made {
		return list
	}
	contacts := "11-12 closed"
	for n := 2; n <= max(m.chains(), m.stopContact()); n++ {
		contacts += fmt.Sprintf(", %d1-%d2 closed", n, n)
	}
	var list []Device
	asOne := quantity.Text("acts as an emergency stop")
	if p.have("emergency stop") && m.pick.EmergencyStop.Value != "none" {
		list = append(list, *m.add(EmergencyStop, Spec{Role: EmergencyRole, Place: p.name, Contacts: contacts}, m.pick.EmergencyStop, p.why))
	}
	if p.have("guard switch") && m.pick.Guard.Value == asOne {
		list = append(list, *m.add(PositionSwitch, Spec{Role: Guard, Place: p.name, Contacts: contacts}, m.pick.Guard, p.why))
	}
	if p.have("foot brake") && m.pick.FootBrake.Value == asOne {
		list = append(list, *m.add(FootSwitch, Spec{Role: FootBrake, Place: p.name, Contacts: contacts}, m.pick.FootBrake, p.why))
	}
	m.emergency[p.name] = list
	return list
}

// chains is how many contacts of an emergency stop lie in emergency chains: two for two safe-off channels, and where nothing
// else stops the run, both in series in the one chain, so that one that doesn't open leaves the other.
func (m *maker) chains() int {
	switch emergencyKind(m.r, m.pick) {
	case "safe torque off":
		if m.r.Side.channels() == 1 && m.stopChain() {
			return 1
		}
		return 2
	case "cuts the power":
		if m.stopChain() {
			return 1
		}
		return 2
	case "ramp then cuts the power":
		return 2 // the first stops the run
	}
	return 1
}

// stopChain reports whether there is a chain of stop contacts at all.
func (m *maker) stopChain() bool {
	return m.pick.StartStop.Value == "buttons at the drive terminals" || m.pick.StartStop.Value == "maintained switch at the drive terminals"
}

// stopContact is which contact of an emergency stop lies among the stop contacts, 0 for none: the first where it ramps before
// it cuts, or acts on a drive that has no input for an external fault; one more than the emergency chain takes where that is
// one chain only, so that a welded contactor or a contact that doesn't open leaves a way to stop; and where a relay holds the run,
// so that it doesn't run on when the emergency stop is let out.
func (m *maker) stopContact() int {
	if !m.stopChain() {
		return 0
	}
	relay := m.pick.HeldBy.Value == "a relay"
	switch emergencyKind(m.r, m.pick) {
	case "ramp then cuts the power":
		return 1
	case "cuts the power":
		return 2
	case "a drive input":
		if _, fault := m.screw(string(ExternalFault)); !fault {
			return 1
		}
		if relay {
			return 2
		}
	case "safe torque off":
		if relay || m.r.Side.channels() == 1 {
			return m.r.Side.channels() + 1
		}
	}
	return 0
}

// chain are the contacts 11-12 (channel 1) or 21-22 (channel 2) of everything that acts as an emergency stop, place by place.
func (m *maker) chain(channel int) [][2]Pin {
	var contacts [][2]Pin
	for _, p := range m.post {
		for _, d := range m.emergencyDevices(p) {
			contacts = append(contacts, [2]Pin{d.Pin(fmt.Sprintf("%d1", channel)), d.Pin(fmt.Sprintf("%d2", channel))})
		}
	}
	return contacts
}

// onlyChain are the contacts of the one emergency chain: the first of each device, and the second behind it where nothing else
// stops the run.
func (m *maker) onlyChain() [][2]Pin {
	first := m.chain(1)
	if m.chains() < 2 {
		return first
	}
	second := m.chain(2)
	var both [][2]Pin
	for n := range first {
		both = append(both, first[n], second[n])
	}
	return both
}

// emergencyStop makes the emergency chain and what it acts on. Two channels through two contacts of each button: a welded or
// bridged one is found at the next test instead of at the next accident. Source: NFPA 79 and IEC 60204-1, 9.2.5.4, from
// memory.
func (m *maker) emergencyStop() {
	p := m.pick
	if emergencyKind(m.r, p) != "safe torque off" {
		m.bridgeSafeOff()
	}
	switch emergencyKind(m.r, p) {
	case "none":
		return
	case "a drive input":
		if fault, ok := m.screw(string(ExternalFault)); ok {
			m.through(m.feed, m.chain(1), "emergency chain closed", p.EmergencyStop).on(fault)
		}
		m.resetInput()
	case "safe torque off":
		m.safeOff()
	case "cuts the power":
		if p.EmergencyStop.Value == "safe torque off" {
			m.r.mistake("safe-off-without-input", p.EmergencyStop, "the emergency stop should act on safe-torque-off inputs, but the drive has none",
				"a contactor ahead of the drive was made instead; choose: emergency stop: cuts the power, or a drive that has the inputs")
		}
		closed := m.through(m.hot, m.onlyChain(), "emergency chain closed", p.EmergencyStop)
		m.supplyContactor(closed, p.Reset.Value == "yes")
	case "ramp then cuts the power":
		closed := m.through(m.hot, m.chain(2), "emergency chain closed", p.EmergencyStop)
		if p.Reset.Value == "yes" {
			closed = m.heldByReset(closed)
		}
		t := *m.add(DelayRelay, Spec{Role: DelaysPowerOff, Contacts: "17-18 open", Volts: p.Voltage.Value, AC: m.controlAC(), Power: relayPower, Delay: p.Delay.Value}, p.EmergencyStop, p.Delay)
		closed.on(t.Pin("A1"))
		m.common.on(t.Pin("A2"))
		m.hot.on(t.Pin("17"))
		m.supplyContactor(m.new("power stays on", p.EmergencyStop).on(t.Pin("18")), false)
	}
}

// supplyContactor makes the contactor ahead of the drive, whose coil hangs on the potential at. Held by reset means that it
// pulls in only when Reset is pressed, and stays by a contact of its own.
func (m *maker) supplyContactor(at *net, heldByReset bool) {
	p := m.pick
	contacts := "1-2 open, 3-4 open"
	if len(m.lines) == 3 {
		contacts += ", 5-6 open"
	}
	if heldByReset {
		contacts += ", 13-14 open"
	}
	k := *m.add(Contactor, Spec{Role: SupplyContactor, Contacts: contacts, Volts: p.Voltage.Value, AC: m.controlAC(), Power: contactorPower, Most: m.r.Brief.Switch.Value}, p.EmergencyStop, m.r.Brief.Input)
	m.common.on(k.Pin("A2"))
	if !heldByReset {
		at.on(k.Pin("A1"))
		return
	}
	coil := m.new("supply contactor held", p.Reset).on(k.Pin("A1"), k.Pin("14"))
	at.on(k.Pin("13"))
	m.resetContacts(at, coil, 1)
}

// resetContacts puts the n-th contact of each reset button between two potentials.
func (m *maker) resetContacts(from, to *net, n int) {
	tags := m.resetButtons()
	for _, tag := range tags {
		from.on(Pin{tag, fmt.Sprintf("%d3", n)})
		to.on(Pin{tag, fmt.Sprintf("%d4", n)})
	}
}

// resetButtons makes, once, the reset buttons: with two contacts where each of two channels is reset.
func (m *maker) resetButtons() []string {
	var tags []string
	for _, d := range m.c.ByRole(Reset) {
		tags = append(tags, d.Tag)
	}
	if tags != nil {
		return tags
	}
	contacts := "13-14 open"
	if emergencyKind(m.r, m.pick) == "safe torque off" && m.r.Side.channels() == 2 {
		contacts += ", 23-24 open"
	}
	m.each("reset", func(p post) {
		tags = append(tags, m.add(PushButton, Spec{Role: Reset, Place: p.name, Contacts: contacts}, m.pick.Reset, p.why).Tag)
	})
	return tags
}

// heldByReset makes a relay that pulls in when Reset is pressed while the chain is closed, and holds itself until the chain
// opens. It returns the control voltage behind another of its contacts.
func (m *maker) heldByReset(chain *net) *net {
	k := m.relay(NoRole, "emergency relay", "11-14 open, 21-24 open", m.pick.Reset, m.pick.EmergencyStop)
	held := m.new("emergency chain reset", m.pick.Reset).on(k.Pin("A1"), k.Pin("14"))
	chain.on(k.Pin("11"))
	m.resetContacts(chain, held, 1)
	m.common.on(k.Pin("A2"))
	m.hot.on(k.Pin("21"))
	return m.new("emergency chain reset, behind its relay", m.pick.Reset).on(k.Pin("24"))
}

// bridgeSafeOff joins safe-off inputs that nothing uses to the drive's 24 V: it has no torque without.
func (m *maker) bridgeSafeOff() {
	from := m.driveHot
	if from == nil {
		from = m.hot
	}
	for channel := 1; channel <= m.r.Side.channels(); channel++ {
		if input, ok := m.screw(fmt.Sprint("safe off ", channel)); ok {
			from.on(input)
		}
	}
}

// safeOff leads the drive's 24 V through each channel's contacts to its safe-torque-off input; with a reset button through a
// relay for each channel, which stays out until Reset is pressed.
func (m *maker) safeOff() {
	from := m.driveHot
	if from == nil { // the safe-off inputs need 24 V of direct current against the drive's 0 V
		from = m.hot
	}
	for channel := 1; channel <= m.r.Side.channels(); channel++ {
		input, ok := m.screw(fmt.Sprint("safe off ", channel))
		if !ok {
			m.wanted(m.pick.EmergencyStop, "safe torque off", fmt.Sprint("safe off ", channel))
			continue
		}
		words, contacts := fmt.Sprint("safe-off channel ", channel), m.chain(channel)
		if m.r.Side.channels() == 1 {
			contacts = m.onlyChain()
		}
		if m.pick.Reset.Value != "yes" {
			m.through(from, contacts, words, m.pick.EmergencyStop).on(input)
			continue
		}
		closed := m.through(m.hot, contacts, words+", emergency chain closed", m.pick.EmergencyStop)
		k := m.relay(NoRole, fmt.Sprint("emergency relay, channel ", channel), "11-14 open, 21-24 open", m.pick.Reset, m.pick.EmergencyStop)
		held := m.new(words+" reset", m.pick.Reset).on(k.Pin("A1"), k.Pin("14"))
		closed.on(k.Pin("11"))
		m.resetContacts(closed, held, channel)
		m.common.on(k.Pin("A2"))
		from.on(k.Pin("21"))
		m.new(words, m.pick.Reset).on(k.Pin("24"), input)
	}
}

// resetInput leads the reset button to the drive's own reset input, where no relay is held by it.
func (m *maker) resetInput() {
	if m.pick.Reset.Value != "yes" {
		return
	}
	input, ok := m.screw(string(ResetCommand))
	if !ok {
		m.wanted(m.pick.Reset, "a reset button", string(ResetCommand))
		return
	}
	pressed := m.new("reset pressed", m.pick.Reset).on(input)
	m.resetContacts(m.feed, pressed, 1)
}
