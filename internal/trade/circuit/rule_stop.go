package circuit

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// machineBooks is the source of a rule that NFPA 79 and IEC 60204-1 have alike, so that a job under either finds its own. The
// clauses are recalled.
func machineBooks(nfpa, iec string) explain.Source {
	return explain.Source{Work: "NFPA 79", Edition: "2024", Place: nfpa + "; IEC 60204-1:2016 " + iec}.Remembered()
}

// text puts words from the circuit into a finding.
func text(words string) quantity.Text { return quantity.Text(words) }

// called is the device's tag with what it is.
func called(d *Device) quantity.Text { return text(d.Tag + " (" + d.Words + ")") }

// restsClosed reports whether any contact of the device is closed at rest.
func restsClosed(d *Device) bool {
	return slices.ContainsFunc(d.Elements, func(e Element) bool { return e.Kind == Contact && e.In&1 != 0 })
}

// hasContacts reports whether the device has contacts that its own positions move.
func hasContacts(d *Device) bool {
	return slices.ContainsFunc(d.Elements, func(e Element) bool { return e.Kind == Contact && e.Group == 0 })
}

// stopRules judge the ordinary stop.
var stopRules = []explain.Rule[Result]{stopNormallyOpen, stopsInParallel, stopDoesNotStop, noStop, stationWithoutStop, noStopInput, keypadStopLocked, stopCoasts, stopCutsSupply, restartsOnStop}

var stopNormallyOpen = explain.Rule[Result]{
	Name: "stop-contact-normally-open", Title: "a stop button makes a contact instead of breaking one", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a wire that comes off, or a dirty contact, takes the stop away and nobody notices until it is needed",
	Source: machineBooks("9.2.5.3", "9.2.3.3"),
	Check: func(r Result, report *explain.Report) {
		for _, d := range r.Circuit.ByRole(Stop) {
			if hasContacts(d) && !restsClosed(d) {
				report.At(d.Why, explain.Say("the stop {} has no contact that is closed at rest", called(d)),
					explain.Say("fit a normally closed contact and wire it in series with the run, so that a press and a broken wire do the same"))
			}
		}
	},
}

// besideAnother returns the device of the roles whose contact lies in parallel with a closed-at-rest contact of d; nil if none.
func (n *nets) besideAnother(d *Device, roles ...Role) *Device {
	for _, c := range n.contacts {
		if c.device != d || c.element.In&1 == 0 {
			continue
		}
		for _, other := range n.contacts {
			if other.device != d && other.element.In&1 != 0 && slices.Contains(roles, other.device.Role) && c.a != c.b &&
				(c.a == other.a && c.b == other.b || c.a == other.b && c.b == other.a) {
				return other.device
			}
		}
	}
	return nil
}

var stopsInParallel = explain.Rule[Result]{
	Name: "stop-in-parallel-with-a-stop", Title: "two stops lie in parallel", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "each keeps the other's way closed: the machine stops only when both are pressed",
	Source: explain.Practice("stops in series, starts in parallel"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		told := map[*Device]bool{}
		for _, role := range []Role{Stop, EmergencyRole} {
			for _, d := range r.Circuit.ByRole(role) {
				other := n.besideAnother(d, Stop, EmergencyRole)
				if other == nil || told[other] {
					continue
				}
				told[d] = true
				report.At(d.Why, explain.Say("the contacts of {} and {} lie side by side between the same two wires", called(d), called(other)),
					explain.Say("wire them one behind the other: out of the first, into the second"))
			}
		}
	},
}

var stopDoesNotStop = explain.Rule[Result]{
	Name: "stop-does-not-stop", Title: "the machine can run on while a stop is pressed", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the hand is on the stop and the spindle turns on",
	Source: machineBooks("9.2.5.3", "9.2.3.3"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if !n.hasDrive() {
			return
		}
		running := n.everything()
		for _, d := range r.Circuit.ByRole(Stop) {
			if !restsClosed(d) || n.besideAnother(d, Stop, EmergencyRole) != nil {
				continue // told by a rule of its own
			}
			o := n.outcome(stand{}.with(d), running)
			if r.Circuit.Drive.ThreeWire && !o.Has[StopCommand] {
				continue
			}
			if o.runs(r.Circuit.Drive) {
				report.At(d.Why, explain.Say("with {} pressed there is still a way for the run", called(d)),
					explain.Say("put its closed contact into the one way that every run passes: ahead of the start contact and of whatever holds the run, or ahead of the drive's stop input"))
			}
		}
	},
}

var noStop = explain.Rule[Result]{
	Name: "start-without-a-stop", Title: "there is a start and no stop", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the only way to stop it is the emergency stop, the keypad or the main switch, each of them further away or harder on the machine",
	Source: machineBooks("9.2.5.3", "9.2.3.3"),
	Check: func(r Result, report *explain.Report) {
		starts := append(r.Circuit.ByRole(Start), r.Circuit.ByRole(StartReverse)...)
		if len(starts) > 0 && len(r.Circuit.ByRole(Stop))+len(r.Circuit.ByRole(RunSwitch)) == 0 {
			report.At(starts[0].Why, explain.Say("{} starts the machine and no device stops it", called(starts[0])),
				explain.Say("add a stop button with a normally closed contact where the start is"))
		}
	},
}

// station is the place of a device for a hand: box and door are one.
func station(place string) string {
	if place == "door" {
		return "box"
	}
	return place
}

var stationWithoutStop = explain.Rule[Result]{
	Name: "station-with-a-start-and-no-stop", Title: "a station can start the machine and not stop it", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "who started it there sees what goes wrong and has to run to another place",
	Source: machineBooks("9.2.5.3", "9.2.3.3"),
	Check: func(r Result, report *explain.Report) {
		stops := map[string]bool{}
		anywhere := false
		for _, role := range []Role{Stop, EmergencyRole, RunSwitch} {
			for _, d := range r.Circuit.ByRole(role) {
				stops[station(d.Place)], anywhere = true, true
			}
		}
		told := map[string]bool{}
		for _, role := range []Role{Start, StartReverse} {
			for _, d := range r.Circuit.ByRole(role) {
				place := station(d.Place)
				if !anywhere || stops[place] || told[place] { // none at all is told by a rule of its own
					continue
				}
				told[place] = true
				report.At(d.Why, explain.Say("{} is at the {}, where there is no stop", called(d), text(place)),
					explain.Say("add a stop button at the {}, its closed contact in series with the other stops", text(place)))
			}
		}
	},
}

var noStopInput = explain.Rule[Result]{
	Name: "three-wire-without-a-stop-input", Title: "three-wire start with nothing on the drive's stop input", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "in three-wire logic the drive runs on after the start until its stop input opens: without it no button stops it",
	Source: explain.Practice("drive booklets: three-wire start and stop"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		drive := r.Circuit.Device(r.Circuit.Drive.Tag)
		if drive == nil || !r.Circuit.Drive.ThreeWire || !n.hasDrive() || n.outcome(stand{}, pulled{}).Has[StopCommand] {
			return
		}
		report.At(drive.Why, explain.Say("the drive starts on a press and no wire ends on a stop input"),
			explain.Say("set one of its inputs to stop and bring the stop buttons' closed contacts to it, or set it to two-wire and hold the run by a relay"))
	},
}

var keypadStopLocked = explain.Rule[Result]{
	Name: "keypad-stop-key-locked-out", Title: "the stop key of the drive's keypad is switched off", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "who stands at the box with the door open, or sees the buttons fail, reaches for that key",
	Source: explain.Practice("the keypad's stop stays working as a spare"),
	Check: func(r Result, report *explain.Report) {
		if k := r.Job.DriveSide.StopKey; k.Value == "no" {
			report.At(k, explain.Say("the stop key on the drive doesn't stop it"), explain.Say("set the drive so that its stop key works from any source of command"))
		}
	},
}

var stopCoasts = explain.Rule[Result]{
	Name: "ordinary-stop-coasts-with-a-heavy-wheel", Title: "an ordinary stop lets a heavy wheel coast", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the wheel turns on for the better part of a minute, quiet and nearly invisible, while the next piece is fetched",
	Source: explain.Practice("drive settings: stop by a ramp, 15 to 30 s for big wheels without a resistor"),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.DriveSide.StopMode
		if r.Job.Machine.HardStart.Value != "heavy wheel" {
			return
		}
		switch s.Value {
		case "coast":
			report.At(s, explain.Say("the stop lets the wheel coast down by itself"), explain.Say("set the stop to ramp: 15 to 30 s without a braking resistor, and time it"))
		case "unknown":
			report.At(s, explain.Say("it isn't known whether the stop ramps or lets the wheel coast"), explain.Say("look in the drive's settings; ramp is what a heavy wheel needs"))
		}
	},
}

var stopCutsSupply = explain.Rule[Result]{
	Name: "ordinary-stop-cuts-the-drives-supply", Title: "the everyday stop takes the drive's supply away", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "each power-up wears the drive's charging resistor and relay, the stop has no ramp, and a run command that is left starts it at the next power-up",
	Source: explain.Practice("drive booklets: a few power-ups an hour at most"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if r.Circuit.Drive.Tag == "" || !n.outcome(stand{}, n.everything()).Fed {
			return
		}
		for _, d := range r.Circuit.ByRole(Stop) {
			if restsClosed(d) && !n.outcome(n.delaysHold(stand{}.with(d)), n.everything()).Fed {
				report.At(d.Why, explain.Say("{} drops the contactor ahead of the drive", called(d)), explain.Say("let it open the drive's stop input, and leave the contactor to the emergency stop"))
			}
		}
	},
}

var restartsOnStop = explain.Rule[Result]{
	Name: "restarts-when-the-stop-is-let-go", Title: "letting go of the stop starts the machine", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the stop is pressed to take something out of the machine, with the finger on it only until the spindle stands",
	Source: machineBooks("9.2.5.2 and 9.2.5.3", "9.2.3.2 and 9.2.3.3"),
	Check: func(r Result, report *explain.Report) {
		if r.Circuit.Drive.Tag == "" {
			return
		}
		for _, d := range r.Circuit.ByRole(Stop) {
			if restsClosed(d) && r.restarts(d) {
				report.At(d.Why, explain.Say("the run command outlasts {}: when it is let go the machine starts", called(d)),
					explain.Say("take a start button instead of a switch that stays, and let the stop break what holds the run"))
			}
		}
	},
}
