package prove

import "drivewright/internal/base/explain"

var emergencyStopLost = explain.Rule[Proof]{
	Name: "emergency-stop-lost-by-one-fault", Title: "one fault, and the emergency stop no longer takes the torque away", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "it is pressed once in years, and then a hand depends on it",
	Source: explain.Source{Work: "ISO 13850 and IEC 60204-1", Place: "9.2.3.4.2 and 9.4"}.Remembered(),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return lost(f.sort) || f.sort == weldedSort && !f.LoadOnly }, EmergencyStopLost)
	},
}

var loadLeftOnByAWeldedContact = explain.Rule[Proof]{
	Name: "load-left-on-by-a-welded-contact", Title: "one contact that doesn't open, and a load runs on with the emergency stop pushed", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a feed, a pump or a fan that runs on takes a hand as the motor does, and whoever pushed the mushroom believes that everything stops",
	Source: explain.Source{Work: "ISO 13850 and IEC 60204-1", Place: "9.2.3.4.2: the emergency stop stops every dangerous movement"}.Remembered(),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return f.sort == weldedSort && f.LoadOnly }, EmergencyStopLost)
	},
}

var stopsLateByOneFault = explain.Rule[Proof]{
	Name: "stops-late-by-one-fault", Title: "one fault, and the motor is driven on until the delay has run out", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "seconds at full speed behind a pushed emergency stop are what the stop was to save",
	Source: failures,
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return lost(f.sort) || f.sort == weldedSort }, StopsLate)
	},
}

var stopLostByALostWire = explain.Rule[Proof]{
	Name: "stop-lost-by-a-lost-wire", Title: "a wire that comes off or a coil that burns out, and Stop no longer stops", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "wires come off more often than anything else, and nothing shows it until somebody presses Stop",
	Source: explain.Source{Work: "Lessons In Electric Circuits", Place: "vol. IV, Ladder logic: a stop that is open at rest can't stop any more when its wire breaks"},
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return lost(f.sort) }, StopLost)
	},
}

var startsByALostWire = explain.Rule[Proof]{
	Name: "starts-by-a-lost-wire", Title: "a wire that comes off or a coil that burns out starts the machine", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "nobody stands at the start button when a wire comes off",
	Source: failures,
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return lost(f.sort) }, StartsByItself)
	},
}

var stopLostByAWeldedContact = explain.Rule[Proof]{
	Name: "stop-lost-by-a-welded-contact", Title: "one contact that doesn't open, and Stop no longer stops", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "no circuit with one contact excludes it, so the emergency stop must work by another way, and both must be tried",
	Source: failures,
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return f.sort == weldedSort }, StopLost)
	},
}

var startsByAWeldedContact = explain.Rule[Proof]{
	Name: "starts-by-a-welded-contact", Title: "one contact that doesn't open starts the machine by itself", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "start buttons get bumped, jammed by swarf and held in by a tool on the bench",
	Source: failures,
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return f.sort == weldedSort }, StartsByItself)
	},
}

var touchIsDangerous = explain.Rule[Proof]{
	Name: "touching-neighbours-are-dangerous", Title: "two neighbours that touch take a stop away or start the machine", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a loose strand or a crushed cable does it, and the two are wired side by side by choice",
	Source: failures,
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return touching(f.sort) }, StartsByItself, EmergencyStopLost, StopLost)
	},
}

var runsAwayByALostWire = explain.Rule[Proof]{
	Name: "runs-away-by-one-fault", Title: "one fault of the speed knob, and the motor goes to full speed", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "it is met at low speed, with the work or a hand close by",
	Source: explain.Practice("booklets of drives: what the drive does when its reference is lost"),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return lost(f.sort) || f.sort == knobOpenSort || f.sort == turnedSort }, RunsAway)
	},
}

var wrongWayByOneFault = explain.Rule[Proof]{
	Name: "wrong-way-by-one-fault", Title: "one fault, and the motor turns the other way", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "threaded chucks and wheel nuts unscrew, saws throw the work",
	Source: failures,
	Check: func(p Proof, report *explain.Report) {
		// Of a contact that starts the machine by itself, in whatever direction, the other rules speak.
		tell(report, p.Report.Faults, func(f *Fault) bool { return f.Class == WrongWay && (lost(f.sort) || f.sort == weldedSort) }, WrongWay)
	},
}

var hiddenUntilTheSecond = explain.Rule[Proof]{
	Name: "hidden-until-the-second-fault", Title: "a fault that nothing shows, and one more makes it dangerous", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "two channels are worth two only while somebody finds out that the first is gone",
	Source: failures,
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool {
			return !touching(f.sort) && f.sort != bondSort && f.sort != mainSwitchSort
		}, HiddenDanger)
	},
}

var groundFaultStaysHidden = explain.Rule[Proof]{
	Name: "ground-fault-stays-hidden", Title: "a control wire that touches ground shows nothing, and a second one makes it dangerous", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "two wires on the same grounded metal are a bridge past Stop or Start",
	Source: explain.Source{Work: "NFPA 79 and IEC 60204-1", Place: "9.4.3.1, protection against earth faults: one side of the control supply is bonded"}.Remembered(),
	Check: func(p Proof, report *explain.Report) {
		tell(report, p.Report.Faults, func(f *Fault) bool { return earthed(f.sort) }, HiddenDanger)
	},
}
