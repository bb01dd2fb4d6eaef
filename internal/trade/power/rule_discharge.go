package power

import "drivewright/internal/base/explain"

var waitNotKnown = explain.Rule[Result]{
	Name: "discharge-wait-not-known", Title: "how long the drive holds its charge isn't given", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "its capacitors hold hundreds of volts after the main switch is off, and a hand goes in too soon",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "6.5.1: 60 V after 5 s, else a label with the time"},
	Check: func(r Result, report *explain.Report) {
		g := &r.Job.Drive
		if !r.Drive.Own || g.Wait.Set {
			return
		}
		report.At(firstOfDrive(r), explain.Say("the drive's labelled discharge time isn't written: {} is taken", quantityOrUnknown(r.Discharge.Wait)),
			explain.Say("read it off the drive's label and write discharge time; whatever it says, measure DC+ to DC− below {} before a hand goes in", quantityOrUnknown(r.Discharge.Below)))
	},
}

var labelTooShort = explain.Rule[Result]{
	Name: "discharge-label-shorter-than-computed", Title: "the labelled discharge time is shorter than its own capacitors and bleeder need", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "when the labelled time is over the DC link is still at a voltage that kills",
	Source: bothSets("460.6", "IEC 60204-1 6.2.4"),
	Check: func(r Result, report *explain.Report) {
		g, d := &r.Job.Drive, r.Discharge
		if !g.Wait.Set || !d.Computed.OK() || d.Computed.Value <= g.Wait.Value {
			return
		}
		report.At(g.Wait, explain.Say("{} by the label, but {} through {} needs {} from {} to {}", g.Wait.Value, quantityOrUnknown(r.Drive.Capacitance), g.Bleeder.Value, d.Computed.Value, d.Peak.Value, d.Below.Value),
			explain.Say("wait {} and measure; check the bleeder's figure, which may be for one half of the link", d.Computed.Value))
	},
}
