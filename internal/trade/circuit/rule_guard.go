package circuit

import "drivewright/internal/base/explain"

// guardRules judge guard switches and foot brakes.
var guardRules = []explain.Rule[Result]{guardWrongWay, footBrakeNormallyOpen, guardDoesNotStop, restartsOnGuard}

var guardWrongWay = explain.Rule[Result]{
	Name: "guard-contact-opens-the-wrong-way", Title: "a guard switch that is closed while the guard is open", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a weak spring, a worn cam or a broken wire and the machine runs with the guard open",
	Source: explain.Source{Work: "ISO 14119", Edition: "2013", Place: "5.4 and 8.2, direct mechanical action"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		for _, d := range r.Circuit.ByRole(Guard) {
			if hasContacts(d) && !restsClosed(d) {
				report.At(d.Why, explain.Say("{} has no contact that is closed with the guard closed", called(d)),
					explain.Say("mount the switch so that the opening guard forces a normally closed contact open"))
			}
		}
	},
}

var footBrakeNormallyOpen = explain.Rule[Result]{
	Name: "foot-brake-contact-normally-open", Title: "the foot brake's switch makes a contact instead of breaking one", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a wire chafed through under the treadle and the brake works against a driving motor",
	Source: explain.Practice("whatever stops a machine does it by opening"),
	Check: func(r Result, report *explain.Report) {
		for _, d := range r.Circuit.ByRole(FootBrake) {
			if hasContacts(d) && !restsClosed(d) {
				report.At(d.Why, explain.Say("{} has no contact that is closed with the foot off", called(d)),
					explain.Say("use the switch's normally closed contact, in series with the stops"))
			}
		}
	},
}

// guardsAndBrakes are the devices that stop the machine without being stop buttons.
func guardsAndBrakes(c *Circuit) []*Device { return append(c.ByRole(Guard), c.ByRole(FootBrake)...) }

var guardDoesNotStop = explain.Rule[Result]{
	Name: "guard-or-foot-brake-does-not-stop", Title: "the machine can run on with the guard open or the foot on the brake", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the guard is opened because it is known to stop the machine",
	Source: machineBooks("9.3.1", "9.3.1"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if r.Circuit.Drive.Tag == "" {
			return
		}
		running := n.everything()
		for _, d := range guardsAndBrakes(&r.Circuit) {
			if restsClosed(d) && n.outcome(stand{}.with(d), running).runs(r.Circuit.Drive) {
				report.At(d.Why, explain.Say("with {} moved there is still a way for the run", called(d)),
					explain.Say("put its closed contact in series with the stops, or with the emergency stop where it is to act as one"))
			}
		}
	},
}

var restartsOnGuard = explain.Rule[Result]{
	Name: "restarts-when-guard-or-foot-brake-is-let-go", Title: "closing the guard or lifting the foot starts the machine", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the guard falls shut, or the foot slips off, with a hand in the work",
	Source: machineBooks("9.3.1", "9.3.1"),
	Check: func(r Result, report *explain.Report) {
		if r.Circuit.Drive.Tag == "" {
			return
		}
		for _, d := range guardsAndBrakes(&r.Circuit) {
			if restsClosed(d) && r.restarts(d) {
				report.At(d.Why, explain.Say("the run command outlasts {}: when it goes back to rest the machine starts", called(d)),
					explain.Say("let it break the run command, so that a fresh start is needed: start and stop buttons instead of a switch, or its contact ahead of what holds the run"))
			}
		}
	},
}
