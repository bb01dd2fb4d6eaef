package circuit

import (
	"fmt"

	"drivewright/internal/base/explain"
)

// run makes start and stop: by the drive's own three-wire inputs, by a holding relay, or by a switch that stays.
func (m *maker) run() {
	switch m.pick.StartStop.Value {
	case "keypad":
		return
	case "main switch": // made as asked: it runs as soon as the drive has power
		m.toRunInput(m.feed, m.pick.StartStop)
	case "maintained switch at the drive terminals":
		m.runBySwitch()
	default:
		if m.pick.HeldBy.Value == "a relay" {
			m.runByRelay()
			return
		}
		m.runByDrive()
	}
}

// stopContacts are the contacts that must all be closed while it runs, place by place: stop buttons, a treadle and a guard
// that stop the run, and a contact of each emergency stop where that is to stop it too.
func (m *maker) stopContacts() [][2]Pin {
	m.section = stopNets
	var contacts [][2]Pin
	closed := func(d *Device) { contacts = append(contacts, [2]Pin{d.Pin("11"), d.Pin("12")}) }
	open := m.pick.StopContact.Value == "normally open"
	for _, p := range m.post {
		if p.have("stop") && !open {
			closed(m.add(PushButton, Spec{Role: Stop, Place: p.name, Contacts: "11-12 closed"}, m.pick.StopContact, p.why))
		}
		if p.have("foot brake") && m.pick.FootBrake.Value == "stops the run" {
			closed(m.add(FootSwitch, Spec{Role: FootBrake, Place: p.name, Contacts: "11-12 closed"}, m.pick.FootBrake, p.why))
		}
		if p.have("guard switch") && m.pick.Guard.Value == "stops the run" {
			closed(m.add(PositionSwitch, Spec{Role: Guard, Place: p.name, Contacts: "11-12 closed"}, m.pick.Guard, p.why))
		}
		if n := m.stopContact(); n > 0 {
			for _, d := range m.emergencyDevices(p) {
				contacts = append(contacts, [2]Pin{d.Pin(fmt.Sprintf("%d1", n)), d.Pin(fmt.Sprintf("%d2", n))})
			}
		}
	}
	if open {
		if k := m.stopRelay(); k != nil {
			closed(k)
		}
	}
	return contacts
}

// stopRelay makes the relay that normally open stop buttons need: they pull it in, and its contact breaks the run. Made as
// asked: a broken wire then disables Stop, which the fault report shows.
func (m *maker) stopRelay() *Device {
	var buttons []Pin
	m.each("stop", func(p post) {
		d := m.add(PushButton, Spec{Role: Stop, Place: p.name, Contacts: "13-14 open"}, m.pick.StopContact, p.why)
		m.hot.on(d.Pin("13"))
		buttons = append(buttons, d.Pin("14"))
	})
	if buttons == nil {
		return nil
	}
	k := m.relay(NoRole, "stop relay", "11-12 closed", m.pick.StopContact)
	m.new("stop pressed", m.pick.StopContact).on(buttons...).on(k.Pin("A1"))
	m.common.on(k.Pin("A2"))
	return m.c.Device(k.Tag)
}

// relay makes a relay for the control voltage.
func (m *maker) relay(role Role, words, contacts string, why ...explain.Because) Device {
	return *m.add(Relay, Spec{Role: role, Words: words, Contacts: contacts, Volts: m.pick.Voltage.Value, AC: m.controlAC(), Power: relayPower}, why...)
}

// runByDrive wires the buttons to the drive's three-wire inputs: stop contacts in series to its stop input, starts in
// parallel to its run input. The starts are fed ahead of the stop contacts: a start button that sticks would else start the
// motor when Stop is let go, because its press would come to the drive at that moment.
func (m *maker) runByDrive() {
	ready := m.through(m.feed, m.stopContacts(), "stop chain closed", m.pick.StopContact)
	m.section = startNets
	if stop, ok := m.screw(string(StopCommand)); ok {
		ready.on(stop)
	} else {
		m.wanted(m.pick.HeldBy, "a run that the drive holds", string(StopCommand))
	}
	pressed := m.new("start pressed", m.pick.StartStop)
	m.each("start", func(p post) {
		d := m.add(PushButton, Spec{Role: Start, Place: p.name, Contacts: "13-14 open"}, m.pick.StartStop, p.why)
		m.feed.on(d.Pin("13"))
		pressed.on(d.Pin("14"))
	})
	if m.pick.Reverse.Value == "buttons" {
		m.toInput(pressed, RunForward, m.pick.StartStop)
		back := m.new("start reverse pressed", m.pick.Reverse)
		m.each("reverse", func(p post) {
			d := m.add(PushButton, Spec{Role: StartReverse, Place: p.name, Contacts: "13-14 open"}, m.pick.Reverse, p.why)
			m.feed.on(d.Pin("13"))
			back.on(d.Pin("14"))
		})
		m.toInput(back, RunReverse, m.pick.Reverse)
	} else {
		m.direct(pressed, m.feed)
	}
	m.jog(ready)
}

// runByRelay makes the circuit that every motor starter has: stop contacts in series, starts in parallel with the relay's own
// contact, the coil. A second contact gives the drive its run command.
func (m *maker) runByRelay() {
	ready := m.through(m.hot, m.stopContacts(), "stop chain closed", m.pick.StopContact)
	m.section = startNets
	both := m.pick.Reverse.Value == "buttons"
	contacts := "11-14 open, 21-24 open"
	if m.threeWire() {
		contacts += ", 31-34 open"
	}
	if both {
		contacts += ", 41-42 closed"
	}
	held := func(role Role, function string, why explain.Because) (Device, *net) {
		k := m.relay(HoldsRun, "", contacts, m.pick.HeldBy, why)
		pressed := m.new("run held", why)
		m.each(function, func(p post) {
			d := m.add(PushButton, Spec{Role: role, Place: p.name, Contacts: "13-14 open"}, why, p.why)
			ready.on(d.Pin("13"))
			pressed.on(d.Pin("14"))
		})
		ready.on(k.Pin("11"))
		pressed.on(k.Pin("14"))
		m.common.on(k.Pin("A2"))
		return k, pressed
	}
	forward, pressed := held(Start, "start", m.pick.StartStop)
	run := m.new("run command", m.pick.HeldBy).on(forward.Pin("24"))
	m.feed.on(forward.Pin("21"))
	var permit *net
	if stop, ok := m.screw(string(StopCommand)); ok && m.threeWire() {
		m.feed.on(forward.Pin("31"))
		permit = m.new("run permitted", m.pick.HeldBy).on(forward.Pin("34"), stop)
	}
	if !both {
		pressed.on(forward.Pin("A1"))
		m.direct(run, m.feed)
		m.jog(ready)
		return
	}
	backward, back := held(StartReverse, "reverse", m.pick.Reverse)
	if permit != nil {
		m.feed.on(backward.Pin("31"))
		permit.on(backward.Pin("34"))
	}
	// Each coil goes through the other relay's closed contact, so that both are never in.
	pressed.on(backward.Pin("41"))
	m.new("forward, reverse not in", m.pick.Reverse).on(backward.Pin("42"), forward.Pin("A1"))
	back.on(forward.Pin("41"))
	m.new("reverse, forward not in", m.pick.Reverse).on(forward.Pin("42"), backward.Pin("A1"))
	m.toInput(run, RunForward, m.pick.StartStop)
	reverse := m.new("run reverse command", m.pick.Reverse).on(backward.Pin("24"))
	m.feed.on(backward.Pin("21"))
	m.toInput(reverse, RunReverse, m.pick.Reverse)
	m.jog(ready)
}

// threeWire reports whether the drive is set to three-wire starting although a relay or a switch holds the run: its stop
// input then needs the same contact.
func (m *maker) threeWire() bool { return m.r.Side.StartLogic.Value == "three-wire" }

// runBySwitch wires a switch that stays to the run input. Stop contacts, if there are any, stand ahead of it.
func (m *maker) runBySwitch() {
	ready := m.through(m.feed, m.stopContacts(), "stop chain closed", m.pick.StopContact)
	m.section = startNets
	if stop, ok := m.screw(string(StopCommand)); ok && m.threeWire() {
		ready.on(stop)
	}
	on := m.new("run switch on", m.pick.StartStop)
	m.each("start", func(p post) {
		d := m.add(Selector, Spec{Role: RunSwitch, Place: p.name, Positions: []string{"off", "on"}, Contacts: "13-14 when on"}, m.pick.StartStop, p.why)
		ready.on(d.Pin("13"))
		on.on(d.Pin("14"))
	})
	m.direct(on, ready)
	m.jog(ready)
}

// direct leads the run command to the drive, through a selector where reverse is chosen with one. at is what feeds a direction
// input of the drive.
func (m *maker) direct(run, at *net) {
	if m.pick.Reverse.Value != "selector switch" {
		m.toRunInput(run, m.pick.StartStop)
		return
	}
	place, why := m.placeOf("reverse")
	positions := []string{"forward", "reverse"}
	if p, ok := m.screw(string(RunReverse)); ok {
		d := m.add(Selector, Spec{Role: Direction, Place: place, Positions: positions, Contacts: "13-14 when forward, 23-24 when reverse"}, m.pick.Reverse, why)
		tag := d.Tag
		run.on(Pin{tag, "13"}, Pin{tag, "23"})
		m.toInput(m.new("run forward", m.pick.Reverse).on(Pin{tag, "14"}), RunForward, m.pick.StartStop)
		m.new("run reverse", m.pick.Reverse).on(Pin{tag, "24"}, p)
		return
	}
	m.toInput(run, RunForward, m.pick.StartStop)
	p, ok := m.screw(string(ReverseDirection))
	if !ok {
		m.wanted(m.pick.Reverse, "reverse", string(RunReverse))
		return
	}
	d := m.add(Selector, Spec{Role: Direction, Place: place, Positions: positions, Contacts: "23-24 when reverse"}, m.pick.Reverse, why)
	at.on(d.Pin("23"))
	m.new("reverse", m.pick.Reverse).on(d.Pin("24"), p)
}

// placeOf is the first place that has the control, and why it is there.
func (m *maker) placeOf(what string) (string, explain.Because) {
	for _, p := range m.post {
		if p.have(what) {
			return p.name, p.why
		}
	}
	return m.door, m.pick.StartStop
}

func (m *maker) toRunInput(n *net, why explain.Because) { m.toInput(n, RunForward, why) }

// toInput leads a potential to the drive's input for the command. A drive without a reverse run input may have one for the
// direction, which can't start it: reverse by buttons then needs another drive setting.
func (m *maker) toInput(n *net, c Command, why explain.Because) {
	p, ok := m.screw(string(c))
	if !ok {
		m.wanted(why, fmt.Sprintf("%s at a terminal", c), string(c))
		return
	}
	n.on(p)
}

// jog makes the jog button. Where the run is held by the drive it lies behind the stop contacts like the starts; where the stop
// contacts are in another circuit than the drive's inputs, a relay carries the press over.
func (m *maker) jog(ready *net) {
	if m.pick.Jog.Value != "yes" {
		return
	}
	input, ok := m.screw(string(JogCommand))
	if !ok {
		if input, ok = m.screw(string(RunForward)); !ok || m.r.Side.StartLogic.Value == "three-wire" {
			m.wanted(m.pick.Jog, "jog", string(JogCommand))
			return
		}
	}
	var pressed []Pin
	m.each("jog", func(p post) {
		d := m.add(PushButton, Spec{Role: Jog, Place: p.name, Contacts: "13-14 open"}, m.pick.Jog, p.why)
		ready.on(d.Pin("13"))
		pressed = append(pressed, d.Pin("14"))
	})
	sameCircuit := m.pick.HeldBy.Value != "a relay" || m.hot == m.feed
	if sameCircuit {
		m.onto(input, m.new("jog pressed", m.pick.Jog).on(pressed...))
		return
	}
	k := m.relay(NoRole, "jog relay", "11-14 open", m.pick.Jog)
	m.new("jog pressed", m.pick.Jog).on(pressed...).on(k.Pin("A1"))
	m.common.on(k.Pin("A2"))
	m.feed.on(k.Pin("11"))
	m.onto(input, m.new("jog command", m.pick.Jog).on(k.Pin("14")))
}

// onto leads a potential to a drive input that another one may reach already: both are one then.
func (m *maker) onto(input Pin, n *net) {
	for _, other := range m.nets {
		for _, p := range other.pins {
			if p == input && other != n {
				m.join(n, other)
				return
			}
		}
	}
	n.on(input)
}
