package circuit

import (
	"slices"
	"strings"

	"drivewright/internal/base/explain"
)

// motorRules judge the power path: direction, what lies behind the drive, what is ahead of the main switch.
var motorRules = []explain.Rule[Result]{reverseWired, reversingBehind, contactInLeads, deviceOnOutput, mainsOnOutput, motorLeadMissing, mainSwitchMissing, driveAheadOfSwitch, staysLive}

// neverBackward are the machines that must not run backward: work or wheel is thrown. Source: common practice.
var neverBackward = []string{"saw", "band saw", "grinder", "sander", "planer"}

var reverseWired = explain.Rule[Result]{
	Name: "reverse-wired-where-it-must-not-be", Title: "the controls can ask for reverse where the machine must not run backward", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a blade throws the work, a wheel's nut or a threaded chuck undoes itself",
	Source: explain.Practice("saws, sanders, planers, grinders and threaded spindles: forward only"),
	Check: func(r Result, report *explain.Report) {
		m, c := &r.Job.Machine, &r.Job.Controls
		bad := slices.Contains(neverBackward, string(m.Type.Value))
		if m.Reverse.Value == "yes" && (bad && m.Type.Value != "sander" || m.Spindle.Value == "threaded") {
			return // the Survey says it of the wish already
		}
		if !bad && m.Spindle.Value != "threaded" {
			return
		}
		what := m.Type.Value
		if !bad {
			what = "machine with a threaded spindle nose"
		}
		remedy := explain.Say("leave reverse out, lock it in the drive's settings and leave its terminal empty")
		o := r.nets().outcome(stand{}, r.nets().everything())
		switch {
		case c.Reverse.Set && c.Reverse.Value != "not at all":
			report.At(c.Reverse, explain.Say("the controls have a reverse on a {}", what), remedy)
		case o.On[RunReverse] || o.On[ReverseDirection]:
			for _, d := range append(r.Circuit.ByRole(StartReverse), r.Circuit.ByRole(Direction)...) {
				report.At(d.Why, explain.Say("{} asks for reverse on a {}", called(d), what), remedy)
				return
			}
			report.At(r.Circuit.Device(r.Circuit.Drive.Tag).Why, explain.Say("a reverse input of the drive can come on, on a {}", what), remedy)
		}
	},
}

// outputs marks the potentials that the drive's motor terminals can be joined to, for each of them.
func (n *nets) outputs() [][]bool { return n.outs }

// behindDrive works out what outputs returns.
func (n *nets) behindDrive() [][]bool {
	drive := n.circuit.Device(n.circuit.Drive.Tag)
	if drive == nil {
		return nil
	}
	in := n.allIn()
	var list [][]bool
	for _, t := range n.circuit.Drive.Out {
		list = append(list, n.reach(n.at(drive, t), stand{}, in))
	}
	return list
}

// behind counts the drive's motor terminals that the potential can be joined to.
func behind(outputs [][]bool, k int) int {
	count := 0
	for _, o := range outputs {
		if k >= 0 && o[k] {
			count++
		}
	}
	return count
}

// oldSwitchTold reports whether the Power stage says already that a switch is in the motor leads.
func oldSwitchTold(r *Result) bool { return r.Job.Machine.OldSwitch.Value == "in the motor leads" }

var reversingBehind = explain.Rule[Result]{
	Name: "reversing-behind-the-drive", Title: "two motor leads are swapped behind the drive", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "swapped while it turns, the motor is thrown into reverse at full torque and the drive's transistors go with it",
	Source: explain.Practice("drive booklets: reverse through the drive, never behind it"),
	Check: func(r Result, report *explain.Report) {
		remedy := explain.Say("run the three leads straight from drive to motor and use the old drum or contactors' levers as signal switches on the drive's reverse input")
		switch s := r.Job.Controls.MotorSwitch; s.Value {
		case "drum switch", "reversing contactor":
			report.At(s, explain.Say("a {} is to swap the motor leads behind the drive", s.Value), remedy)
			return
		}
		n := r.nets()
		outputs := n.outputs()
		for _, d := range r.Circuit.ByKind(MotorKind) {
			for _, t := range []string{"U", "V", "W"} {
				if behind(outputs, n.at(d, t)) > 1 {
					culprit := n.contactBehind(outputs)
					if culprit == nil {
						return
					}
					report.At(culprit.Why, explain.Say("{} can bring two of the drive's leads to one terminal of the motor", called(culprit)), remedy)
					return
				}
			}
		}
	},
}

// contactBehind returns the first device with a contact in the leads behind the drive; nil if there is none.
func (n *nets) contactBehind(outputs [][]bool) *Device {
	for _, c := range n.contacts {
		if c.device.Tag != n.circuit.Drive.Tag && behind(outputs, c.a)+behind(outputs, c.b) > 0 {
			return c.device
		}
	}
	return nil
}

var contactInLeads = explain.Rule[Result]{
	Name: "contact-in-the-motor-leads", Title: "something can open the leads between drive and motor", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "opening motor leads while the drive runs draws an arc and kills its transistors; closing them trips it",
	Source: explain.Practice("drive booklets: nothing is switched between drive and motor, unless its early contact stops the drive first"),
	Check: func(r Result, report *explain.Report) {
		if oldSwitchTold(&r) {
			return
		}
		remedy := explain.Say("run the leads straight; stop at the drive's terminals. Where a switch at the motor is asked for, take one with a contact that opens early and bring that to the drive's safe-off or stop input")
		switch s := r.Job.Controls.MotorSwitch; s.Value {
		case "switch", "contactor", "plug":
			report.At(s, explain.Say("a {} lies in the leads between drive and motor", s.Value), remedy)
			return
		case "drum switch", "reversing contactor":
			return
		}
		n := r.nets()
		outputs := n.outputs()
		for _, d := range r.Circuit.ByKind(MotorKind) {
			for _, t := range []string{"U", "V", "W"} {
				if behind(outputs, n.at(d, t)) > 1 {
					return // the reversing rule's
				}
			}
		}
		if d := n.contactBehind(outputs); d != nil {
			report.At(d.Why, explain.Say("{} lies in the leads between drive and motor", called(d)), remedy)
		}
	},
}

// amongLoads reports whether the device was made for one of the job's loads: what the job says of those is judged where it is
// said.
func amongLoads(d *Device) bool {
	place := explain.Place(d.Why.Why())
	return place != nil && strings.HasPrefix(place.Path, "loads")
}

var deviceOnOutput = explain.Rule[Result]{
	Name: "device-on-the-drive-output", Title: "a lamp, coil, transformer or supply hangs on the motor leads", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "what the drive gives is pulses of changing voltage and frequency: transformers and coils burn, the drive trips",
	Source: explain.Practice("drive booklets: nothing but the motor on the output"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		outputs := n.outputs()
		for i := range r.Circuit.Devices {
			d := &r.Circuit.Devices[i]
			if d.Kind == Drive || d.Kind == MotorKind || amongLoads(d) {
				continue
			}
			for _, e := range d.Elements {
				switch e.Kind {
				case Coil, LampElement, Resistance, Winding, Electronics:
				default:
					continue
				}
				if behind(outputs, n.at(d, e.A))+behind(outputs, n.at(d, e.B)) > 0 {
					report.At(d.Why, explain.Say("{} hangs on the leads between drive and motor", called(d)),
						explain.Say("feed it from the supply ahead of the drive, behind the main switch, and let a relay of the drive switch it where it must follow the run"))
					break
				}
			}
		}
	},
}

var mainsOnOutput = explain.Rule[Result]{
	Name: "mains-on-the-motor-terminals", Title: "the supply can reach the drive's motor terminals", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the drive's transistors short the supply at the first switching on, with a bang",
	Source: explain.Practice("drive booklets: supply on the line terminals only"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		outputs := n.outputs()
		told := map[*Device]bool{}
		for _, s := range n.sources {
			if s.device.Kind == Incoming && behind(outputs, s.a)+behind(outputs, s.b) > 0 && !told[s.device] {
				told[s.device] = true
				report.At(s.device.Why, explain.Say("{} can be joined to the drive's motor terminals", called(s.device)),
					explain.Say("the supply goes to the drive's line terminals, the motor to U, V and W, and no switch between the two"))
			}
		}
	},
}

var motorLeadMissing = explain.Rule[Result]{
	Name: "motor-lead-missing", Title: "a motor lead doesn't reach the drive", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "on two leads the motor hums, doesn't turn and overheats, or the drive trips",
	Source: explain.Practice("three leads, three terminals"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		outputs := n.outputs()
		if outputs == nil {
			return
		}
		for _, d := range r.Circuit.ByKind(MotorKind) {
			joined := 0
			var missing string
			for _, t := range []string{"U", "V", "W"} {
				if behind(outputs, n.at(d, t)) > 0 {
					joined++
				} else {
					missing = t
				}
			}
			if joined < 3 && joined > 0 {
				report.At(d.Why, explain.Say("terminal {} of {} doesn't reach the drive", text(missing), called(d)), explain.Say("wire U, V and W of the motor each to its own terminal of the drive"))
			}
		}
	},
}

var mainSwitchMissing = explain.Rule[Result]{
	Name: "main-switch-missing", Title: "no main switch between supply and machine", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "nothing at the machine makes it dead, and nothing can be locked while hands are inside",
	Source: machineBooks("5.3", "5.3"),
	Check: func(r Result, report *explain.Report) {
		if len(r.Circuit.ByKind(MainSwitch)) > 0 {
			return
		}
		n := r.nets()
		for _, d := range r.Circuit.ByKind(Incoming) {
			if n.wired(n.at(d, d.Terminals[0])) {
				report.At(d.Why, explain.Say("{} goes to the machine with no main switch", called(d)), explain.Say("put one between that can be locked off and breaks both poles"))
				return
			}
		}
	},
}

// liveWithSwitchOff returns what the incoming supplies reach while every main switch is off.
func (n *nets) liveWithSwitchOff() []bool {
	off := stand{}
	for _, d := range n.circuit.ByKind(MainSwitch) {
		off[d] = 1
	}
	live := make([]bool, len(n.pins))
	in := n.allIn()
	for _, s := range n.sources {
		if s.device.Kind != Incoming {
			continue
		}
		for _, end := range []int{s.a, s.b} {
			for k, there := range n.reach(end, off, in) {
				live[k] = live[k] || there
			}
		}
	}
	return live
}

var driveAheadOfSwitch = explain.Rule[Result]{
	Name: "drive-ahead-of-the-main-switch", Title: "the drive keeps its supply with the main switch off", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the switch is locked off, hands go into the machine, and the drive can still turn it",
	Source: machineBooks("5.3", "5.3"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		drive := r.Circuit.Device(r.Circuit.Drive.Tag)
		if drive == nil || len(r.Circuit.ByKind(MainSwitch)) == 0 {
			return
		}
		live := n.liveWithSwitchOff()
		for _, t := range r.Circuit.Drive.Supply {
			if k := n.at(drive, t); k >= 0 && live[k] {
				report.At(drive.Why, explain.Say("terminal {} of {} stays live with the main switch off", text(t), called(drive)), explain.Say("bring both supply conductors through the main switch"))
				return
			}
		}
	},
}

var staysLive = explain.Rule[Result]{
	Name: "device-live-with-the-main-switch-off", Title: "something in the circuit stays live with the main switch off", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "who locked the switch believes that everything is dead",
	Source: machineBooks("5.3.5 and 16.2", "5.3.5 and 16.2.1"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if len(r.Circuit.ByKind(MainSwitch)) == 0 {
			return
		}
		live := n.liveWithSwitchOff()
		for i := range r.Circuit.Devices {
			d := &r.Circuit.Devices[i]
			switch d.Kind {
			case Incoming, MainSwitch, Drive, TerminalBlock, Fuse, Breaker, GroundBar:
				continue
			}
			if amongLoads(d) {
				continue
			}
			for _, e := range d.Elements {
				a, b := n.at(d, e.A), n.at(d, e.B)
				if a >= 0 && b >= 0 && live[a] && live[b] && a != b || a >= 0 && live[a] && e.Kind == Contact || b >= 0 && live[b] && e.Kind == Contact {
					report.At(d.Why, explain.Say("{} stays live with the main switch off", called(d)),
						explain.Say("bring it behind the main switch; or, where it must stay live, mark it, give its wires the colour for foreign circuits and put a notice beside the switch"))
					break
				}
			}
		}
	},
}
