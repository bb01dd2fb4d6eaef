package circuit

import (
	"maps"

	"drivewright/internal/base/explain"
)

// startRules judge what starts the machine, and what starts it again.
var startRules = []explain.Rule[Result]{startMaintained, startNormallyClosed, startDoesNothing, runNotHeld, heldInTwoWire, jogHolds, runInputBridged, runOnPowerUp, startsAfterReset, resetStarts}

// starts are the devices that start a run.
func starts(c *Circuit) []*Device { return append(c.ByRole(Start), c.ByRole(StartReverse)...) }

var startMaintained = explain.Rule[Result]{
	Name: "start-contact-maintained", Title: "a start that stays on when it is let go", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the start still stands when the supply returns, a fault is reset or a stop is let go, and the machine starts with nobody at it",
	Source: machineBooks("7.5.3 and 9.2.5.2", "7.5 and 9.2.3.2"),
	Check: func(r Result, report *explain.Report) {
		for _, d := range starts(&r.Circuit) {
			if hasContacts(d) && !d.Springs {
				report.At(d.Why, explain.Say("{} is to give the start and stays where it is put", called(d)),
					explain.Say("take a push button, which springs back; if a switch is wanted, say that it does: run switch, and see what follows from it"))
			}
		}
	},
}

var startNormallyClosed = explain.Rule[Result]{
	Name: "start-contact-normally-closed", Title: "a start button with its contact closed at rest", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the machine starts as soon as there is power, and a press takes the start away",
	Source: machineBooks("9.2.5.2", "9.2.3.2"),
	Check: func(r Result, report *explain.Report) {
		for _, d := range starts(&r.Circuit) {
			if d.Springs && hasContacts(d) && restsClosed(d) && !restsOpen(d) {
				report.At(d.Why, explain.Say("the start {} has its contact closed while nobody presses it", called(d)), explain.Say("fit a normally open contact"))
			}
		}
	},
}

// restsOpen reports whether any contact of the device is open at rest.
func restsOpen(d *Device) bool {
	for _, e := range d.Elements {
		if e.Kind == Contact && e.In&1 == 0 {
			return true
		}
	}
	return false
}

// standstill is what is pulled in before a start: everything but what holds the run.
func (n *nets) standstill() pulled {
	in := maps.Clone(n.everything())
	maps.DeleteFunc(in, func(d *Device, _ bool) bool { return d.Role == HoldsRun })
	return in
}

var startDoesNothing = explain.Rule[Result]{
	Name: "start-does-nothing", Title: "a start button that reaches no run input", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the machine doesn't start, and the search begins with the covers off and the power on",
	Source: explain.Practice("the way from the supply through the start to the drive's input"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if !n.hasDrive() {
			return
		}
		before := n.standstill()
		if !n.outcome(stand{}, n.everything()).Fed {
			return // why the drive has no supply is told by the coils' rules
		}
		for _, d := range starts(&r.Circuit) {
			if d.Springs && restsOpen(d) && !n.outcome(n.rest().with(d), before).commanded() {
				report.At(d.Why, explain.Say("with {} pressed no run input of the drive comes on", called(d)),
					explain.Say("follow its wires from the supply through the stops to the run input; what is missing or on the wrong terminal is named by the other findings, or is a wire that isn't there"))
			}
		}
	},
}

var runNotHeld = explain.Rule[Result]{
	Name: "run-not-held", Title: "the machine runs only while the start is held", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the first thing tried is to wedge the button",
	Source: explain.Practice("drive booklets: two-wire logic runs while its contact is closed; three-wire logic holds the run itself"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if !n.hasDrive() || r.Circuit.Drive.ThreeWire {
			return
		}
		before := n.standstill()
		for _, d := range starts(&r.Circuit) {
			if !d.Springs || !restsOpen(d) {
				continue
			}
			pressed := n.outcome(n.rest().with(d), before)
			if pressed.commanded() && !n.outcome(n.rest(), pressed.Contacts).commanded() {
				report.At(d.Why, explain.Say("when {} is let go nothing holds the run, and the drive is set to two-wire", called(d)),
					explain.Say("set the drive to three-wire and wire the stops to its stop input, or hold the run by a relay with its own contact beside the start"))
			}
		}
	},
}

var heldInTwoWire = explain.Rule[Result]{
	Name: "run-held-by-a-drive-in-two-wire-logic", Title: "the drive is to hold the run, and is set to two-wire", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "in two-wire logic it runs only while the start is pressed, and doesn't look at its stop input",
	Source: explain.Practice("drive booklets: two-wire and three-wire logic"),
	Check: func(r Result, report *explain.Report) {
		h, l := r.Job.Controls.HeldBy, r.Job.DriveSide.StartLogic
		if h.Value == "the drive" && l.Value == "two-wire" {
			report.At(h, explain.Say("the run is to be held by the drive, and the drive is set to two-wire"),
				explain.Say("set the drive to three-wire, or hold the run by a relay"), explain.Related{Span: l.Span, Message: explain.Say("the start logic is written here")})
		}
	},
}

var jogHolds = explain.Rule[Result]{
	Name: "jog-holds-itself", Title: "the jog goes on after its button is let go", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a jog is pressed with the other hand at the work, because it ends when the finger lifts",
	Source: machineBooks("9.2.6.2", "9.2.3.7"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if !n.hasDrive() || n.outcome(n.rest(), n.standstill()).commanded() {
			return
		}
		before := n.standstill()
		for _, d := range r.Circuit.ByRole(Jog) {
			if !d.Springs {
				continue
			}
			pressed := n.outcome(n.rest().with(d), before)
			latched := r.Circuit.Drive.ThreeWire && (pressed.On[RunForward] || pressed.On[RunReverse])
			if latched || n.outcome(n.rest(), pressed.Contacts).commanded() {
				report.At(d.Why, explain.Say("{} starts a run that stays when it is let go", called(d)),
					explain.Say("bring it to an input that is set to jog, or keep its contact away from what holds the run"))
			}
		}
	},
}

var runInputBridged = explain.Rule[Result]{
	Name: "run-input-bridged", Title: "a run input that is on with nothing pressed", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the machine starts as soon as the drive has power, or as soon as the stop is let go",
	Source: machineBooks("7.5.3 and 9.2.5.2", "7.5 and 9.2.3.2"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		s := n.untouched()
		p := n.poles(s, n.settle(s, pulled{}))
		for _, i := range n.inputs {
			switch i.element.Does {
			case RunForward, RunReverse, JogCommand:
			default:
				continue
			}
			if n.wired(i.a) && p.between(i.a, i.b) >= 0 {
				report.At(i.device.Why, explain.Say("terminal {} of {} (set to {}) is on while nobody touches anything", text(i.element.A), called(i.device), text(string(i.element.Does))),
					explain.Say("take out what bridges the start's contact, and bring the input through it"))
			}
		}
	},
}

var runOnPowerUp = explain.Rule[Result]{
	Name: "run-on-power-up-with-a-lasting-run-command", Title: "the drive starts at power-up and its run command lasts", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the supply comes back, a hand is in the machine because it stood still, and it starts",
	Source: machineBooks("7.5.3", "7.5"),
	Check: func(r Result, report *explain.Report) {
		n, p := r.nets(), r.Job.DriveSide.PowerUp
		// After a power cut every coil has dropped out: what is then still on is a switch.
		if p.Value == "no" || !p.Set || !n.hasDrive() || !n.outcome(n.rest(), pulled{}).commanded() {
			return
		}
		message := explain.Say("the run command stays through a power cut and the drive starts on it at power-up")
		if p.Value == "unknown" {
			message = explain.Say("the run command stays through a power cut, and it isn't known whether the drive starts on it at power-up")
		}
		report.At(p, message, explain.Say("set run on power-up to no, or take start and stop buttons; prove it: run, open the main switch, wait for dead stop, close: it must not start"))
	},
}

var startsAfterReset = explain.Rule[Result]{
	Name: "starts-when-a-fault-is-reset", Title: "the drive starts by itself when a fault is reset", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the reset is pressed to look at a display, and the spindle turns",
	Source: machineBooks("7.3.1 and 9.2.5.2", "7.3.1 and 9.2.3.2"),
	Check: func(r Result, report *explain.Report) {
		n, p := r.nets(), r.Job.DriveSide.FaultReset
		if p.Value == "no" || !p.Set || !n.hasDrive() || !n.outcome(n.rest(), n.everything()).commanded() {
			return
		}
		message := explain.Say("the run command is still there after a fault, and the drive starts on it at the reset")
		if p.Value == "unknown" {
			message = explain.Say("the run command is still there after a fault, and it isn't known whether the drive starts on it at the reset")
		}
		report.At(p, message, explain.Say("set starts after reset to no; with three-wire logic no command is left over"))
	},
}

var resetStarts = explain.Rule[Result]{
	Name: "reset-starts-the-machine", Title: "the reset button gives the run command", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the reset only gives leave to start; it is pressed by who stands with his back to the machine",
	Source: explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.1.4; NFPA 79 7.3.1; IEC 60204-1:2016 9.2.3.4.2"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if !n.hasDrive() {
			return
		}
		before := n.standstill()
		if n.outcome(n.rest(), before).commanded() {
			return // a switch that stays on is judged for itself
		}
		for _, d := range r.Circuit.ByRole(Reset) {
			if d.Springs && n.outcome(n.rest().with(d), before).commanded() {
				report.At(d.Why, explain.Say("with {} pressed a run input of the drive comes on", called(d)),
					explain.Say("let the reset only clear what was latched, and keep its wires away from the start's"))
			}
		}
	},
}
