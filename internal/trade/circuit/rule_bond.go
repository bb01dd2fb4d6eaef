package circuit

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// bondRules judge the protective ground.
var bondRules = []explain.Rule[Result]{
	notBonded("motor-frame-not-bonded", "the motor's frame isn't joined to ground", explain.Danger, "the first fault in the winding makes the motor live, and the machine with it", "the motor's frame is without a ground wire",
		"run a ground wire in the motor cable, from the drive's ground terminal to the screw in the motor's box", func(c *job.Controls) job.Given[quantity.Text] { return c.MotorBonded }),
	notBonded("casting-not-bonded", "the machine's casting isn't joined to ground", explain.Danger, "a wire chafed through on the casting makes it live, and nothing trips", "the casting is without a ground wire",
		"run a wire from the ground bar to a screw on bare metal of the casting", func(c *job.Controls) job.Given[quantity.Text] { return c.FrameBonded }),
	notBonded("back-plate-not-bonded", "the back plate isn't joined to ground", explain.Danger, "everything on it stands on a plate that a fault makes live", "the ground bar isn't on bare metal of the back plate",
		"scrape the paint off under the ground bar and a toothed washer, and measure to the incoming ground", func(c *job.Controls) job.Given[quantity.Text] { return c.PlateBonded }),
	notBonded("door-not-bonded", "the door of the box isn't joined to ground", explain.Must, "the door carries the buttons, and its hinges are no joint to rely on", "the door hangs on its hinges alone",
		"join it to the box by a braid or a flexible wire of its own, longer than the door needs", func(c *job.Controls) job.Given[quantity.Text] { return c.DoorBonded }),
	stationNotBonded, groundNotJoined, switchInGround,
}

// notBonded makes the rule that reports a bond that the job says isn't there.
func notBonded(name, title string, severity explain.Severity, why, message, remedy string, of func(c *job.Controls) job.Given[quantity.Text]) explain.Rule[Result] {
	return explain.Rule[Result]{
		Name: name, Title: title, Severity: severity, Sets: explain.Everywhere, Why: why, Source: machineBooks("8.2", "8.2; NEC 250.4(A) and 250.112"),
		Check: func(r Result, report *explain.Report) {
			if g := of(&r.Job.Controls); g.Value == "no" {
				report.At(g, explain.Say(message), explain.Say(remedy))
			}
		},
	}
}

var stationNotBonded = explain.Rule[Result]{
	Name: "station-box-not-bonded", Title: "a metal station box without a ground wire", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a pinched core makes the box live that a hand is on all day",
	Source: machineBooks("8.2", "8.2"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Job.Stations {
			s := &r.Job.Stations[n]
			if s.Metal.Value == "yes" && s.Bonded.Value == "no" {
				report.At(s.Bonded, explain.Say("the metal box of the station {} has no ground wire", s.Name.Value), explain.Say("use a core of its cable, green and yellow, from the ground bar to a screw in the station box"))
			}
		}
	},
}

var groundNotJoined = explain.Rule[Result]{
	Name: "ground-terminal-not-joined", Title: "a ground terminal that isn't joined to the incoming ground", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a fault in that device makes it live and trips nothing; 145 V were measured from a mill to the post beside it",
	Source: machineBooks("8.2", "8.2; NEC 250.4(A)(5)"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		ground := n.ground()
		if ground < 0 {
			return // a circuit without a ground shows the controls alone
		}
		remedy := explain.Say("wire it to the ground bar with a wire of its own")
		for _, d := range r.Circuit.ByKind(Incoming) {
			if n.at(d, "PE") == ground && !n.wired(ground) && !n.loose(d) {
				report.At(d.Why, explain.Say("no wire ends on the ground of {}", called(d)), explain.Say("bring it to the ground bar, and from there to drive, motor frame, casting and door"))
				return
			}
		}
		for i := range r.Circuit.Devices {
			d := &r.Circuit.Devices[i]
			if d.Kind != Drive && d.Kind != MotorKind && d.Kind != PowerSupply {
				continue
			}
			k := n.at(d, "PE")
			// A device with none of its other terminals wired either has a rule of its own.
			if k < 0 || k == ground || n.switchesGround(k, ground) != nil || n.loose(d) || d.Kind == MotorKind && r.Job.Controls.MotorBonded.Set {
				continue
			}
			report.At(d.Why, explain.Say("terminal PE of {} isn't joined to the incoming ground", called(d)), remedy)
		}
	},
}

// loose reports whether no wire ends on the device.
func (n *nets) loose(d *Device) bool {
	for _, t := range d.Terminals {
		if len(n.wiresAt(d.Pin(t))) > 0 {
			return false
		}
	}
	return true
}

// switchesGround returns the device whose contact lies between the potential and the ground; nil if there is none.
func (n *nets) switchesGround(k, ground int) *Device {
	for _, c := range n.contacts {
		if c.a == k && c.b == ground || c.b == k && c.a == ground {
			return c.device
		}
	}
	return nil
}

var switchInGround = explain.Rule[Result]{
	Name: "switch-in-the-ground-wire", Title: "a contact or fuse in a ground wire", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "when it is open the casting behind it is without ground, and live at the first fault",
	Source: machineBooks("8.2, no switching device in it", "8.2; NEC 250.124"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		ground := n.ground()
		for i := range r.Circuit.Devices {
			d := &r.Circuit.Devices[i]
			for _, t := range d.Terminals {
				if !strings.HasPrefix(t, "PE") {
					continue
				}
				if k := n.at(d, t); ground >= 0 && k != ground {
					if culprit := n.switchesGround(k, ground); culprit != nil {
						report.At(culprit.Why, explain.Say("a contact of {} lies between the ground and {}", called(culprit), called(d)), explain.Say("take the ground wire past it, unbroken"))
					}
				}
			}
		}
	},
}
