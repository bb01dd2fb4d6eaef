package power

import (
	"slices"

	"drivewright/internal/base/explain"
)

var restartsByItself = explain.Rule[Result]{
	Name: "restarts-by-itself-after-a-power-cut", Title: "the machine starts by itself when the supply returns", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a hand is in the machine because it stood still, and it starts",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "7.5.3; OSHA 29 CFR 1910.213(b)(3)"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Machine.StartStop
		if s.Value == "maintained switch at the drive terminals" {
			report.At(s, explain.Say("a maintained switch stays on through a power cut"),
				explain.Say("use a start and a stop button in three-wire control, or a drive setting that asks for a fresh start after power-up; prove it: run, open the main switch, wait for dead stop, close, it must not start"))
		}
	},
}

var switchInMotorLeads = explain.Rule[Result]{
	Name: "switch-between-drive-and-motor", Title: "the old switch stays in the motor leads", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "opening motor leads while the drive runs draws arcs and kills its transistors; closing them trips it",
	Source: explain.Practice("drive instructions: nothing is switched between drive and motor"),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Machine.OldSwitch
		if s.Value == "in the motor leads" {
			report.At(s, explain.Say("the old switch would open the leads between drive and motor"),
				explain.Say("run the motor leads straight to the drive; the old lever can live on as a signal switch on the drive's control terminals"))
		}
	},
}

var mainSwitchStarts = explain.Rule[Result]{
	Name: "started-by-the-main-switch", Title: "the machine is started and stopped by switching the drive's supply", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "each power-up wears the drive's charging resistor and relay, a stop this way loses the braking, and it may start by itself after a power cut",
	Source: explain.Practice("drive instructions: a few power-ups an hour at most"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Machine
		const remedy = "leave the supply on through the shift and start and stop by buttons at the drive's terminals; up to two or three power-ups an hour wear nothing out"
		switch {
		case m.StartStop.Value == "main switch":
			message := explain.Say("the main switch would be the everyday start and stop")
			if m.Starts.Set && m.Starts.Value > 3 {
				message = explain.Say("the main switch would be the everyday start and stop, {} times an hour", m.Starts.Value)
			}
			report.At(m.StartStop, message, explain.Say(remedy))
		case m.OldSwitch.Value == "ahead of the drive":
			report.At(m.OldSwitch, explain.Say("the old switch ahead of the drive would be used to start and stop"), explain.Say(remedy))
		}
	},
}

var keypadOnly = explain.Rule[Result]{
	Name: "started-and-stopped-at-the-keypad", Title: "the drive's keypad is the only start and stop", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a keypad is small, flat, often out of reach, and its stop runs through the drive's own program",
	Source: explain.Practice("a stop must be found without looking"),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Machine.StartStop
		if s.Value == "keypad" {
			report.At(s, explain.Say("start and stop would be on the keypad only"),
				explain.Say("put a start and a stop button where a free hand finds them, wired to the drive's terminals; the keypad's stop stays as a spare"))
		}
	},
}

var reverseUnscrews = explain.Rule[Result]{
	Name: "reverse-on-a-threaded-spindle", Title: "reverse can unscrew what the spindle holds", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a chuck or wheel that spins off is thrown across the shop",
	Source: explain.Practice("threaded spindle noses"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Machine
		if m.Reverse.Value == "yes" && m.Spindle.Value == "threaded" {
			report.At(m.Reverse, explain.Say("reverse is wanted and the spindle nose is threaded"),
				explain.Say("lock reverse in the drive's settings and leave its terminal unwired, or fit a chuck that is locked against turning back; a quick stop unscrews as well: ramp no faster than 3 s until the Motion stage says more"))
		}
	},
}

// cuttersThatThrow are the machines on which reverse throws work or unscrews the wheel.
var cuttersThatThrow = []string{"saw", "band saw", "grinder", "planer"}

var reverseOnCutter = explain.Rule[Result]{
	Name: "reverse-on-a-saw-planer-or-grinder", Title: "reverse is enabled on a machine that must never run backward", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a blade or cutter running backward throws the work at you; a wheel's nut undoes itself",
	Source: explain.Practice("saws, planers and grinders"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Machine
		if m.Reverse.Value == "yes" && slices.Contains(cuttersThatThrow, string(m.Type.Value)) {
			report.At(m.Reverse, explain.Say("reverse is wanted on a {}", m.Type.Value),
				explain.Say("lock reverse in the drive's settings, and prove the direction with blade, cutter and belt off"))
		}
	},
}
