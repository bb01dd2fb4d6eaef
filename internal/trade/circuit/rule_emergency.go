package circuit

import (
	"fmt"
	"slices"

	"drivewright/internal/base/explain"
)

// emergencyRules judge the emergency stop.
var emergencyRules = []explain.Rule[Result]{emergencyNormallyOpen, emergencyNotLatching, emergencyDoesNotStop, emergencyThroughInput, emergencyMissing, emergencyCoasts,
	safeOffJoined, safeOffLeftOn, emergencyOneContact, safeOffOpen, restartsOnRelease}

// emergencies are the emergency stops of the circuit.
func emergencies(c *Circuit) []*Device {
	var list []*Device
	for n := range c.Devices {
		if d := &c.Devices[n]; d.Role == EmergencyRole || d.Kind == EmergencyStop {
			list = append(list, d)
		}
	}
	return list
}

var emergencyNormallyOpen = explain.Rule[Result]{
	Name: "emergency-stop-contact-normally-open", Title: "an emergency stop makes a contact instead of breaking one", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "one loose wire and the button does nothing, on the day it is needed",
	Source: explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.1 and 4.3; IEC 60947-5-5: direct opening"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		for _, d := range emergencies(&r.Circuit) {
			if hasContacts(d) && !restsClosed(d) {
				report.At(d.Why, explain.Say("{} has no contact that is closed at rest", called(d)),
					explain.Say("fit normally closed contacts that the button forces open, in series with what they cut"))
			}
		}
	},
}

var emergencyNotLatching = explain.Rule[Result]{
	Name: "emergency-stop-not-latching", Title: "an emergency stop that springs back", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "it stops only while it is held, and who holds it can't help anybody",
	Source: explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.1.4 and 4.3.5; NFPA 79 10.7.2"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		for _, d := range emergencies(&r.Circuit) {
			if d.Springs {
				report.At(d.Why, explain.Say("{} is to be the emergency stop and springs back", called(d)),
					explain.Say("take a mushroom button that stays in until it is turned or pulled: kind: emergency stop"))
			}
		}
	},
}

var emergencyDoesNotStop = explain.Rule[Result]{
	Name: "emergency-stop-does-not-stop", Title: "the machine can run on while the emergency stop is in", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the button is red and does nothing",
	Source: explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.1; IEC 60204-1:2016 9.2.3.4.2"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if r.Circuit.Drive.Tag == "" {
			return
		}
		running := n.everything()
		for _, d := range emergencies(&r.Circuit) {
			if restsClosed(d) && n.besideAnother(d, Stop, EmergencyRole) == nil && n.outcome(stand{}.with(d), running).runs(r.Circuit.Drive) {
				report.At(d.Why, explain.Say("with {} pushed in the drive keeps its supply, its torque and its run command", called(d)),
					explain.Say("bring its contacts to the drive's safe-off inputs, one to each channel, or into the coil of a contactor ahead of the drive"))
			}
		}
	},
}

var emergencyThroughInput = explain.Rule[Result]{
	Name: "emergency-stop-through-a-drive-input", Title: "the emergency stop acts only through the drive's program", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "an ordinary input, a keypad or a line is only as good as a setting and a program: it is a normal stop with a red button",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "9.2.5.4.1; IEC 60204-1:2016 9.2.3.4.2; ISO 13850:2015 4.1.5"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		remedy := explain.Say("bring it to the drive's safe-off inputs, or let it drop a contactor ahead of the drive; the input may stay beside that, to ramp first")
		n, found := r.nets(), false
		running := n.everything()
		for _, d := range emergencies(&r.Circuit) {
			if r.Circuit.Drive.Tag == "" || !restsClosed(d) {
				continue
			}
			if o := n.outcome(stand{}.with(d), running); o.Fed && o.torque() && !o.runs(r.Circuit.Drive) {
				found = true
				report.At(d.Why, explain.Say("{} only takes an input of the drive away: supply and torque stay", called(d)), remedy)
			}
		}
		if e := r.Job.Controls.EmergencyStop; e.Value == "a drive input" && !found {
			report.At(e, explain.Say("the emergency stop is to act on an ordinary input of the drive only"), remedy)
		}
	},
}

// machinesWithEmergencyStop are the machines on which a hand is near a turning tool or wheel. Source: common practice.
var machinesWithEmergencyStop = []string{"lathe", "mill", "drill press", "saw", "band saw", "grinder", "sander", "planer", "press"}

var emergencyMissing = explain.Rule[Result]{
	Name: "emergency-stop-missing", Title: "a machine of this kind without an emergency stop", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a sleeve is caught and the other hand finds nothing to hit",
	Source: machineBooks("9.2.5.4.1 and 10.7", "9.2.3.4.2 and 10.7"),
	Check: func(r Result, report *explain.Report) {
		m, e := r.Job.Machine.Type, r.Job.Controls.EmergencyStop
		if !slices.Contains(machinesWithEmergencyStop, string(m.Value)) || len(emergencies(&r.Circuit)) > 0 {
			return
		}
		remedy := explain.Say("add a latching red mushroom button on yellow where a free hand, hip or foot finds it; or record why it would not lessen the risk")
		switch {
		case e.Value == "none":
			report.At(e, explain.Say("there is to be no emergency stop on a {}", m.Value), remedy)
		case r.nets().hasDrive():
			report.At(m, explain.Say("the circuit of this {} has no emergency stop", m.Value), remedy)
		}
	},
}

// delaysHold returns the stand with every delay relay still in: the moment after something was cut.
func (n *nets) delaysHold(s stand) stand {
	for _, c := range n.coils {
		if c.device.Kind == DelayRelay {
			s[c.device] = 2
		}
	}
	return s
}

var emergencyCoasts = explain.Rule[Result]{
	Name: "emergency-stop-lets-a-heavy-wheel-coast", Title: "the emergency stop takes the drive's braking away from a heavy wheel", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the wheel coasts for as long as it likes, and the one thing that could have stopped it has been switched off",
	Source: machineBooks("9.2.2 and 9.2.5.4.1, stop category 1", "9.2.2 and 9.2.3.4.2, stop category 1"),
	Check: func(r Result, report *explain.Report) {
		if r.Job.Machine.HardStart.Value != "heavy wheel" || r.Circuit.Drive.Tag == "" {
			return
		}
		n := r.nets()
		running := n.everything()
		for _, d := range emergencies(&r.Circuit) {
			if !restsClosed(d) {
				continue
			}
			if o := n.outcome(n.delaysHold(stand{}.with(d)), running); !o.Fed || !o.torque() {
				report.At(d.Why, explain.Say("{} takes the drive's power away at once, and the wheel is heavy", called(d)),
					explain.Say("ramp first: the button opens the stop input, and a delay relay cuts the power, or the safe-off inputs, a little after the ramp; or fit a mechanical brake"))
			}
		}
	},
}

// safeOffs returns the drive's two safe-off inputs; false unless it has two and both are wired.
func (n *nets) safeOffs() (first, second tracedPair, ok bool) {
	count := 0
	for _, i := range n.inputs {
		switch {
		case !n.wired(i.a):
		case i.element.Does == SafeOff1:
			first = i
			count++
		case i.element.Does == SafeOff2:
			second = i
			count++
		}
	}
	return first, second, count == 2
}

var safeOffJoined = explain.Rule[Result]{
	Name: "safe-off-channels-joined", Title: "the two safe-off inputs are joined", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "two channels are there so that one welded contact or one bridged wire doesn't take the stop away; joined they are one",
	Source: explain.Source{Work: "ISO 13849-1", Edition: "2023", Place: "6.1.3.2.4, category 3"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		a, b, ok := n.safeOffs()
		if ok && slices.ContainsFunc(n.sources, func(s tracedSource) bool { return s.a == a.a || s.b == a.a }) {
			return // both are bridged, as drives are shipped: the emergency stop acts on something else, and is judged by that
		}
		if ok && a.a == b.a {
			report.At(n.wireOrDevice(a.device, b.element.A), explain.Say("the terminals {} and {} of {} stand on one wire", text(a.element.A), text(b.element.A), called(a.device)),
				explain.Say("take the bridge out and give each channel a contact of its own on the emergency stop"))
		}
	},
}

// wireOrDevice returns the reason of the last wire at the device's terminal, else the device's own.
func (n *nets) wireOrDevice(d *Device, terminal string) explain.Because {
	if wires := n.wiresAt(d.Pin(terminal)); len(wires) > 0 {
		return wires[len(wires)-1].Why
	}
	return d.Why
}

var safeOffLeftOn = explain.Rule[Result]{
	Name: "safe-off-channel-left-on", Title: "the emergency stop opens one safe-off channel and not the other", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the stop hangs on one contact, and most drives then trip on channels that disagree",
	Source: explain.Source{Work: "ISO 13849-1", Edition: "2023", Place: "6.1.3.2.4, category 3"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if _, _, ok := n.safeOffs(); !ok {
			return
		}
		running := n.everything()
		for _, d := range emergencies(&r.Circuit) {
			if o := n.outcome(stand{}.with(d), running); restsClosed(d) && o.Fed && o.On[SafeOff1] != o.On[SafeOff2] {
				on := 1
				if o.On[SafeOff2] {
					on = 2
				}
				report.At(d.Why, explain.Say("with {} pushed in, safe-off channel {} stays on", called(d), text(fmt.Sprint(on))),
					explain.Say("bring a second closed contact of the button to that channel"))
			}
		}
	},
}

var emergencyOneContact = explain.Rule[Result]{
	Name: "emergency-stop-on-one-contact", Title: "one contact of the emergency stop for a drive with two channels", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a contact block that falls off the button, as they do, takes the whole emergency stop with it",
	Source: explain.Source{Work: "ISO 13849-1", Edition: "2023", Place: "6.1.3.2.4, category 3"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		a, b, ok := n.safeOffs()
		if !ok || a.a == b.a {
			return
		}
		running := n.everything()
		for _, d := range emergencies(&r.Circuit) {
			used := 0
			for _, c := range n.contacts {
				if c.device == d && c.element.In&1 != 0 && n.wired(c.a) && n.wired(c.b) {
					used++
				}
			}
			if o := n.outcome(stand{}.with(d), running); used == 1 && !o.On[SafeOff1] && !o.On[SafeOff2] {
				report.At(d.Why, explain.Say("both safe-off channels hang on one contact of {}", called(d)),
					explain.Say("use two closed contacts of the button, one for each channel"))
			}
		}
	},
}

var safeOffOpen = explain.Rule[Result]{
	Name: "safe-off-inputs-not-wired", Title: "a drive with safe-off inputs and nothing on them", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "without the bridge that its maker put there the drive doesn't run; with the bridge the best stop it has is out of use",
	Source: explain.Source{Work: "IEC 61800-5-2", Edition: "2016", Place: "4.2.2.2, safe torque off"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		s := r.Job.DriveSide.SafeOff
		if !s.Set || s.Value == "none" || !n.hasDrive() {
			return
		}
		for _, i := range n.inputs {
			if (i.element.Does == SafeOff1 || i.element.Does == SafeOff2) && !n.wired(i.a) {
				report.At(s, explain.Say("the drive has safe-off inputs ({}), and no wire ends on terminal {}", s.Value, text(i.element.A)),
					explain.Say("bring a contact of the emergency stop there; where it acts on something else, leave the maker's bridge in and write it as a wire"))
				return
			}
		}
	},
}

// restarts reports whether the machine runs again when the device is let go, with nothing else touched.
func (r *Result) restarts(d *Device) bool {
	n, drive := r.nets(), r.Circuit.Drive
	out := n.outcome(n.rest().with(d), n.everything())
	back := n.outcome(n.rest(), out.Contacts)
	if !back.Fed || !back.torque() || !back.commanded() {
		return false
	}
	switch {
	case !out.Fed:
		return drive.PowerUp
	case drive.ThreeWire && !back.ordered(drive):
		return false
	case !out.commanded():
		return true // the command comes back with it, as a press would come
	}
	// A command that was there all the while counts only where the drive takes it for a fresh one when it is cleared.
	return drive.AfterReset && (!out.torque() || out.Has[ExternalFault] && !out.On[ExternalFault])
}

var restartsOnRelease = explain.Rule[Result]{
	Name: "restarts-when-the-emergency-stop-is-released", Title: "turning the emergency stop back starts the machine", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the button is turned back by the one who frees what was caught",
	Source: explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.1.4; NFPA 79 9.2.5.4.1.3; OSHA 29 CFR 1910.212 and 1910.213"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		if r.Circuit.Drive.Tag == "" {
			return
		}
		for _, d := range emergencies(&r.Circuit) {
			if restsClosed(d) && !d.Springs && r.restarts(d) {
				report.At(d.Why, explain.Say("the run command outlasts {}: when the button is turned back the machine starts", called(d)),
					explain.Say("let the button break the run command too, so that a fresh start is needed: start and stop buttons instead of a switch, or a contact of the button ahead of what holds the run"))
			}
		}
	},
}
