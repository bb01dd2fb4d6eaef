package power

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// The rules of this file ask. A question that decides over fingers, fire or the order of parts and that nobody has answered
// must not read like a question with a good answer. Each is a rule of its own, so that each can be accepted by itself; all
// are checks, since nothing is known to be wrong. A value that is written with a mistake is the job file's finding, not theirs.

// open reports whether the question is unanswered: nothing is written, not even with a mistake in it.
func open[V any](g job.Given[V]) bool { return !g.Set && !g.Wrong }

var groundNotSaid = explain.Rule[Result]{
	Name: "equipment-ground-not-said", Title: "nobody said whether a ground reaches the machine", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a ground that isn't there shows only when the casting is already live",
	Source: explain.Practice("continuity is measured before power, never assumed"),
	Check: func(r Result, report *explain.Report) {
		if g := r.Job.Supply.Ground; open(g) {
			report.At(g, explain.Say("nobody said whether an unbroken grounding conductor reaches the machine"),
				explain.Say("isolate, measure from the receptacle's ground contact or the box to the panel's ground bar, about {} is right, and write supply: equipment ground", orWord(r.Grounding.Expected)))
		}
	},
}

var ownCircuitNotSaid = explain.Rule[Result]{
	Name: "own-circuit-not-said", Title: "nobody said whether the machine has its circuit to itself", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "what else hangs on the breaker comes on top of the drive's input: it trips in a cut, and the lights go out with the cutter turning",
	Source: explain.Practice("machine shops: one machine, one circuit"),
	Check: func(r Result, report *explain.Report) {
		if d := r.Job.Supply.Dedicated; open(d) {
			report.At(d, explain.Say("nobody said whether anything else hangs on the machine's breaker; the sheet has counted with nothing else"),
				explain.Say("switch the breaker off, see what goes dark, and write supply: own circuit"))
		}
	},
}

var connectionNotSaid = explain.Rule[Result]{
	Name: "connection-not-said", Title: "nobody said whether the machine is hard-wired or hangs on a plug", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "on a plug, cord, receptacle and ground-fault protection have to suit the drive as well, and none of them has been looked at",
	Source: explain.Practice("the same drive asks other things of a cord than of fixed wiring"),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Supply
		if open(s.Connection) && open(s.Receptacle) && open(s.Cord) && open(s.CordLength) {
			report.At(s.Connection, explain.Say("nobody said how the machine is connected; the sheet has counted with fixed wiring"),
				explain.Say("write supply: connection as hard-wired or as cord and plug, and with a plug the receptacle and the cord"))
		}
	},
}

var startStopNotSaid = explain.Rule[Result]{
	Name: "start-and-stop-not-said", Title: "nobody said how the machine is started and stopped", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "by the wrong switch it starts by itself when the supply returns, with a hand in it",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "7.5.3; OSHA 29 CFR 1910.213(b)(3)"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		if s := r.Job.Machine.StartStop; open(s) {
			report.At(s, explain.Say("nobody said how it is started and stopped, so nobody knows whether it starts by itself after a power cut"),
				explain.Say("plan a start and a stop button at the drive's terminals in three-wire control, and write machine: start and stop"))
		}
	},
}

var oldSwitchNotSaid = explain.Rule[Result]{
	Name: "old-switch-not-said", Title: "nobody said what becomes of the machine's old starter or switch", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "left in the motor leads it draws arcs and kills the drive's transistors the first time someone uses it out of habit",
	Source: explain.Practice("drive instructions: nothing is switched between drive and motor"),
	Check: func(r Result, report *explain.Report) {
		if s := r.Job.Machine.OldSwitch; open(s) {
			report.At(s, explain.Say("nobody said what becomes of the old starter, drum or lever switch"),
				explain.Say("take it out of the motor leads, keep it as a signal switch if you like its handle, and write machine: old switch"))
		}
	},
}

var machineKindNotSaid = explain.Rule[Result]{
	Name: "machine-kind-not-said", Title: "nobody said what sort of machine it is", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "whether reverse throws the work, and what a wrong speed or stop does, depends on it",
	Source: explain.Practice("saws, planers, grinders and threaded spindles must not run backward"),
	Check: func(r Result, report *explain.Report) {
		if t := r.Job.Machine.Type; open(t) {
			report.At(t, explain.Say("nobody said what sort of machine it is, so nothing was held against what such machines do to hands"),
				explain.Say("write machine: kind"))
		}
	},
}

var reverseNotSaid = explain.Rule[Result]{
	Name: "reverse-not-said", Title: "nobody said whether reverse is locked where it can hurt", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a drive reverses at the touch of a key: a blade throws the work at you, a chuck or wheel unscrews and flies",
	Source: explain.Practice("saws, planers, grinders and threaded spindles must not run backward"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Machine
		if !open(m.Reverse) {
			return
		}
		remedy := explain.Say("lock reverse in the drive's settings and write machine: reverse as no")
		switch {
		case slices.Contains(cuttersThatThrow, string(m.Type.Value)):
			report.At(m.Reverse, explain.Say("nobody said whether reverse is wanted on this {}", m.Type.Value), remedy)
		case m.Spindle.Value == "threaded":
			report.At(m.Reverse, explain.Say("nobody said whether reverse is wanted, and the spindle nose is threaded"), remedy)
		}
	},
}

// screwedOn are the machines that carry a chuck or a wheel on a spindle nose that may be threaded.
var screwedOn = []quantity.Text{"lathe", "drill press", "grinder", "sander", "other"}

var spindleNotSaid = explain.Rule[Result]{
	Name: "spindle-nose-not-said", Title: "reverse is wanted, and nobody said how the spindle holds its chuck or wheel", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a chuck or wheel on a thread unscrews in reverse or in a quick stop and is thrown across the shop",
	Source: explain.Practice("threaded spindle noses"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Machine
		if m.Reverse.Value == "yes" && open(m.Spindle) && slices.Contains(screwedOn, m.Type.Value) {
			report.At(m.Spindle, explain.Say("reverse is wanted on this {}, and nobody said how the spindle holds its chuck or wheel", m.Type.Value),
				explain.Say("look at the nose and write machine: spindle nose; on a thread lock reverse"))
		}
	},
}
