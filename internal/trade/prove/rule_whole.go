package prove

import "drivewright/internal/base/explain"

var restartsWithTheSupply = explain.Rule[Proof]{
	Name: "restarts-when-the-supply-returns", Title: "the machine starts by itself when the supply comes on", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "after a power cut hands are in the machine, and it runs without anybody at the start button",
	Source: explain.Source{Work: "NFPA 79 and IEC 60204-1", Place: "7.5, protection against supply interruption and its restoration; two- and three-wire control: Lessons In Electric Circuits, vol. IV, Ladder logic"}.Remembered(),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Whole, func(f *Fault) bool { return f.when == aimPower }, StartsByItself)
	},
}

var startsWhenAStopIsTakenBack = explain.Rule[Proof]{
	Name: "starts-when-a-stop-is-taken-back", Title: "letting go of a stop, an emergency stop or a guard starts the machine", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "whoever pulls the mushroom out or shuts the guard stands where it was stopped for a reason",
	Source: explain.Source{Work: "ISO 13850 and IEC 60204-1", Place: "9.2.3.4.2: the reset of the emergency stop must not start anything"}.Remembered(),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Whole, func(f *Fault) bool { return f.when != aimPower }, StartsByItself)
	},
}

var stopsNothing = explain.Rule[Proof]{
	Name: "runs-on-after-a-stop", Title: "with nothing broken, a stop doesn't stop the machine", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the hand that presses it believes that it works",
	Source: explain.Source{Work: "NFPA 79 and IEC 60204-1", Place: "9.2, stop functions override start functions"}.Remembered(),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Whole, all, EmergencyStopLost, StopLost)
	},
}

var doesNotRun = explain.Rule[Proof]{
	Name: "circuit-does-not-run", Title: "with nothing broken, the machine doesn't start, or doesn't go on running", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it is found at the first power, with everything wired, by guessing",
	Source: explain.Practice("every panel is tried on paper before it is wired"),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Whole, all, StopsByItself, CannotStart)
	},
}

var runLampLies = explain.Rule[Proof]{
	Name: "run-lamp-lies", Title: "the run lamp is lit while the motor stands", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a lamp that was lit all along says nothing when the machine starts",
	Source: explain.Practice("a run lamp is fed from what makes the motor turn: the drive's run relay, or the contactor's own contact"),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Whole, all, IndicationLies)
	},
}

var neverRests = explain.Rule[Proof]{
	Name: "supply-gives-way-or-relay-chatters", Title: "with nothing broken, a supply is overloaded or a relay never comes to rest", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "contacts burn in minutes, and what the machine then does nobody can say",
	Source: explain.Physics("the network of the circuit, solved in every state of the script"),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Whole, all, Other)
	},
}

var notSimulated = explain.Rule[Proof]{
	Name: "circuit-too-large-to-simulate", Title: "the circuit is larger than the simulation takes", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "what no simulation has tried, nobody knows",
	Source: explain.Physics("the simulation holds 256 contacts, coils and devices; the choice of readings some hundred terminals with some dozens of switches"),
	Check: func(p Proof, report *explain.Report) {
		for _, problem := range []string{p.Report.Problem, p.Meter.Problem} {
			if problem != "" {
				report.Whole(explain.Say(problem), explain.Say("write the parts that don't act on one another into job files of their own"))
			}
		}
	},
}
