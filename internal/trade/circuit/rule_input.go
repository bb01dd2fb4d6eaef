package circuit

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// inputRules judge what stands on the drive's control terminals.
var inputRules = []explain.Rule[Result]{inputNeverOn, inputLeadsNowhere, inputBelowThreshold, inputsJoined, unusedTerminalWired, commandTwice, terminalTwice}

// inputWire is the reason of the wire at an input, else the drive's.
func (n *nets) inputWire(i tracedPair) explain.Because { return n.wireOrDevice(i.device, i.element.A) }

// anySource reports whether either end of any source can reach the potential.
func (p poles) anySource(k int) bool {
	for s := range p.of {
		if p.plus[s] != nil && (p.plus[s][k] || p.minus[s][k]) {
			return true
		}
	}
	return false
}

var inputNeverOn = explain.Rule[Result]{
	Name: "input-switched-to-its-own-side", Title: "a drive input that its contact can never turn on", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "sinking and sourcing are mixed up: the contact closes, nothing happens; a stop input wired so never lets it run",
	Source: explain.Practice("drive booklets: inputs switched to 0 V or to 24 V, as set"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		p := n.polesIfFed(stand{}, n.allIn())
		for _, i := range n.inputs {
			if n.wired(i.a) && i.b >= 0 && p.between(i.a, i.b) < 0 && p.anySource(i.a) {
				report.At(n.inputWire(i), explain.Say("terminal {} of {} can only be joined to the side that its own resistor goes to, {}", text(i.element.A), called(i.device), text(i.element.W)),
					explain.Say("bring the contacts' common to the other side, or set the drive's inputs to the other logic: one or the other for all"))
			}
		}
	},
}

var inputLeadsNowhere = explain.Rule[Result]{
	Name: "input-leads-nowhere", Title: "a drive input with a wire that reaches no supply", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a wire that floats beside a motor cable picks up enough to turn an input on",
	Source: explain.Practice("inputs are driven on or held off, never left on a wire in the air"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		p := n.polesIfFed(stand{}, n.allIn())
		for _, i := range n.inputs {
			if n.wired(i.a) && !p.anySource(i.a) {
				report.At(n.inputWire(i), explain.Say("the wire at terminal {} of {} reaches neither end of any supply, whatever is pressed", text(i.element.A), called(i.device)),
					explain.Say("wire it through to its contact, or take the wire off the drive"))
			}
		}
	},
}

var inputBelowThreshold = explain.Rule[Result]{
	Name: "input-voltage-below-its-threshold", Title: "a drive input gets less than it turns on at", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it is on some days and off others",
	Source: explain.Practice("drive booklets: input on above, off below"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		p := n.polesIfFed(stand{}, n.allIn())
		for _, i := range n.inputs {
			k := p.between(i.a, i.b)
			if !n.wired(i.a) || k < 0 {
				continue
			}
			if v := n.sources[k].element.Volts; v < i.element.On {
				report.At(n.inputWire(i), explain.Say("terminal {} of {} gets the {} of {} and is on above {}", text(i.element.A), called(i.device), v, text(n.sources[k].device.Tag), i.element.On),
					explain.Say("feed its contacts from the drive's own 24 V, or from a supply of {}", r.Side.InputVoltage.Value))
			}
		}
		if f := r.Figures.Input; f.OK() && f.Value < r.Side.On.Value {
			report.At(f, explain.Say("through the longest cable a drive input gets {} and is on above {}", f.Value, r.Side.On.Value), explain.Say("take thicker cores"))
		}
	},
}

// maySharePotential reports whether two commands on one wire are told by another rule, or are meant.
func maySharePotential(a, b Command) bool {
	return a == b || (a == SafeOff1 || a == SafeOff2) && (b == SafeOff1 || b == SafeOff2)
}

var inputsJoined = explain.Rule[Result]{
	Name: "two-inputs-on-one-wire", Title: "two drive inputs of different duty on one wire", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the one can't be on without the other: forward with reverse, run with jog",
	Source: explain.Practice("one wire for each input"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for x, i := range n.inputs {
			for _, j := range n.inputs[:x] {
				if i.a == j.a && n.wired(i.a) && !maySharePotential(i.element.Does, j.element.Does) {
					report.At(n.inputWire(i), explain.Say("terminals {} ({}) and {} ({}) of {} stand on one wire", text(j.element.A), text(string(j.element.Does)), text(i.element.A), text(string(i.element.Does)), called(i.device)),
						explain.Say("give each its own contact"))
				}
			}
		}
	},
}

var unusedTerminalWired = explain.Rule[Result]{
	Name: "wire-on-an-unused-drive-terminal", Title: "a wire on a drive terminal that is set to do nothing", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "somebody counts on what it should do",
	Source: explain.Practice("the row of terminals as it is set"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		drive := r.Circuit.Device(r.Circuit.Drive.Tag)
		if drive == nil {
			return
		}
		for _, s := range screws(r.Job, r.Side.channels()) {
			if wires := n.wiresAt(drive.Pin(s.Name)); (s.Does == "" || s.Does == "nothing") && len(wires) > 0 {
				report.At(wires[0].Why, explain.Say("wire {} ends on terminal {} of the drive, which is set to do nothing", text(wires[0].Name), text(s.Name)),
					explain.Say("say in the job file what the terminal is set to do, and set it in the drive; or take the wire off"))
			}
		}
	},
}

// single are the duties of drive terminals that only one terminal may have.
var single = []quantity.Text{"run forward", "run reverse", "reverse direction", "stop", "jog", "step 1", "step 2", "safe off 1", "safe off 2", "reference supply", "reference input"}

var commandTwice = explain.Rule[Result]{
	Name: "drive-terminal-duty-twice", Title: "two drive terminals set to one duty", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "many drives refuse that or take the last; a button wired to the other does nothing",
	Source: explain.Practice("drive booklets: one input for each command"),
	Check: func(r Result, report *explain.Report) {
		for x, s := range r.Job.Screws {
			for _, before := range r.Job.Screws[:x] {
				if s.Does.Set && s.Does.Value == before.Does.Value && slices.Contains(single, s.Does.Value) {
					report.At(s.Does, explain.Say("terminals {} and {} are both set to {}", before.Name.Value, s.Name.Value, s.Does.Value), explain.Say("set one of them to nothing"))
				}
			}
		}
	},
}

var terminalTwice = explain.Rule[Result]{
	Name: "drive-terminal-named-twice", Title: "two drive terminals of one name", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a wire to that name can go to either",
	Source: explain.Practice("the row of terminals as printed"),
	Check: func(r Result, report *explain.Report) {
		for x, s := range r.Job.Screws {
			for _, before := range r.Job.Screws[:x] {
				if s.Name.Set && s.Name.Value == before.Name.Value {
					report.At(s.Name, explain.Say("there are two drive terminals {}", s.Name.Value), explain.Say("name each as it is printed beside the screw; where the print repeats itself, add its place: {} left, {} right", s.Name.Value, s.Name.Value))
				}
			}
		}
	},
}
