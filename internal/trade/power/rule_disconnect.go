package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var disconnectTooSmall = explain.Rule[Result]{
	Name:     "disconnect-too-small",
	Title:    "the main switch is rated below the drive's input",
	Why:      "its contacts run hot, weld, and then don't open when you turn it off to clear a jam",
	Severity: explain.Must, Sets: explain.Everywhere, Source: bothSets("430.128", "IEC 60204-1 5.3.3"),
	Check: func(r Result, report *explain.Report) {
		d, least := r.Job.Control.Disconnect, r.Disconnect.Amperes
		if d.Set && least.OK() && !covers(d.Value, least.Value) {
			report.At(d, explain.Say("the main switch is rated {}, but {} are asked for: {} of the circuit's {}", d.Value, least.Value,
				r.Code.Disconnect.Value, r.Branch.Total.Value), explain.Say("fit a switch of {} or more", orWord(r.Disconnect.Smallest)))
		}
	},
}

var disconnectHorsepowerLow = explain.Rule[Result]{
	Name:     "disconnect-horsepower-too-low",
	Title:    "the main switch's horsepower rating is below the motor's",
	Why:      "it isn't made to open a motor's current of that size and can hang in an arc",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("430.109(A) and 430.110(A)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		d, motor := r.Job.Control.DisconnectHP, r.Job.Motor.Power
		if d.Set && motor.Set && !covers(d.Value, motor.Value) {
			report.At(d, explain.Say("the main switch is rated {}, the motor has {}", d.Value, motor.Value),
				explain.Say("fit a switch rated {} or more at {}, by its single-phase figure", motor.Value, orWord(knownVoltage(r))))
		}
	},
}

func knownVoltage(r Result) explain.Known[quantity.Voltage] {
	return explain.Wrap[quantity.Voltage](r.Job.Supply.Voltage.Why())
}

var disconnectNotForMotors = explain.Rule[Result]{
	Name:     "disconnect-not-for-motors",
	Title:    "the main switch isn't made to be opened under a motor's load",
	Why:      "AC-20 opens nothing, AC-21 heaters, AC-22 mixed loads; opened on a stalled machine the arc can stand in it",
	Severity: explain.Must, Sets: explain.Everywhere,
	Source: explain.Source{Work: "IEC 60204-1 and IEC 60947-3", Place: "5.3.2, utilisation category AC-23B at least; AC-20 to AC-23", Trust: explain.FromMemory},
	Check: func(r Result, report *explain.Report) {
		switch c := r.Job.Control.DisconnectCat; c.Value {
		case "AC-20", "AC-21", "AC-22":
			report.At(c, explain.Say("the main switch is {}; under load it may have to open {}", c.Value, orElse(r.Disconnect.Break, "more than the drive's rated input")),
				explain.Say("fit a switch of category AC-23 or AC-3, or one marked in horsepower, of {} or more", orWord(r.Disconnect.Smallest)))
		}
	},
}

var disconnectNotLockable = explain.Rule[Result]{
	Name:     "disconnect-not-lockable",
	Title:    "the main switch can't be locked off",
	Why:      "someone switches it on while a hand is inside the machine",
	Severity: explain.Must, Sets: explain.Everywhere, Source: bothSets("430.102(B) and 110.25", "IEC 60204-1 5.3.3 and 5.6"),
	Check: func(r Result, report *explain.Report) {
		if l := r.Job.Control.Locks; l.Value == "no" {
			report.At(l, explain.Say("the main switch can't be padlocked in its off position"),
				explain.Say("fit a switch of {} with a hasp that takes a padlock and stays with the switch", orWord(r.Disconnect.Smallest)))
		}
	},
}

// sightDistance is how far "in sight" reaches. Source: NFPA 70, Article 100 (from memory).
const sightDistance = 50 * quantity.Foot

var disconnectOutOfSight = explain.Rule[Result]{
	Name:     "disconnect-out-of-sight",
	Title:    "the main switch can't be seen from the motor",
	Why:      "the one at the switch doesn't see the one at the machine, and turns it on",
	Severity: explain.Must, Sets: explain.Everywhere, Source: bothSets("430.102(B)", "IEC 60204-1 5.6"),
	Check: func(r Result, report *explain.Report) {
		if s := r.Job.Control.InSight; s.Value == "no" {
			report.At(s, explain.Say("the main switch is out of sight of the motor or more than {} away", sightDistance),
				explain.Say("put a lockable switch of {} where it is seen from the motor, within {}", orWord(r.Disconnect.Smallest), sightDistance))
		}
	},
}

var liveWithSwitchOff = explain.Rule[Result]{
	Name:     "live-with-switch-off",
	Title:    "something stays live when the main switch is off",
	Why:      "whoever opens the box trusts the switch and reaches in",
	Severity: explain.Danger, Sets: explain.Everywhere,
	Source: explain.Source{Work: "NFPA 79", Edition: "2021", Place: "excepted circuits, 5.3.5", Trust: explain.FromMemory},
	Check: func(r Result, report *explain.Report) {
		remedy := explain.Say("bring it under the main switch; where that can't be, mark it with a label that names its own switch, run it in orange wire or its own raceway, and cover its terminals")
		if b := r.Job.Control.BeforeSwitch; b.Set && !saysNothing(string(b.Value)) {
			report.At(b, explain.Say("with the main switch off this stays live: {}", b.Value), remedy)
		}
		for n := range r.Job.Loads {
			if l := &r.Job.Loads[n]; l.Fed.Value == "ahead of the main switch" || l.Fed.Value == "another circuit" {
				report.At(l.Fed, explain.Say("with the main switch off the {} stays live: it is fed from {}", quantity.Text(loadName(l, n)), l.Fed.Value), remedy)
			}
		}
	},
}

var plugAsSwitch = explain.Rule[Result]{
	Name:     "plug-as-switch",
	Title:    "the plug must not be pulled while the machine runs",
	Why:      "a plug without a horsepower rating as large as the motor's draws an arc at the hand",
	Severity: explain.Note, Sets: onlyUS, Source: explain.NEC("430.109(F)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		s, motor := r.Job.Supply.Receptacle, r.Job.Motor.Power
		c, ok := catalogue.ReceptacleOf(string(s.Value))
		if ok && onCord(&r) && motor.Set && c.Power < motor.Value {
			report.At(s, explain.Say("plugs of the {} kind are usually marked {}, the motor has {}", s.Value, c.Power, motor.Value),
				explain.Say("turn the main switch of {} off before the plug is pulled, and say so on a label beside the plug", orWord(r.Disconnect.Size)))
		}
	},
}
