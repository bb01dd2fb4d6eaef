package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var leadGroupsImpossible = explain.Rule[Result]{
	Name: "lead-groups-impossible", Title: "the ohmmeter's groups belong to no winding", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "links made on a wrong reading short a coil or turn one round: it burns in seconds",
	Source: markingSource,
	Check: func(r Result, report *explain.Report) {
		if notThreePhase(&r) || severalSpeeds(&r.Job.Motor) {
			return
		}
		_, from, problem := identify(&r.Job.Motor)
		if problem.Empty() || from == nil {
			return
		}
		report.At(from, problem, explain.Say("link nothing yet: with the motor off the machine's wires read every lead against every other again, ends scraped bright, and write the groups down anew"))
	},
}

var leadsDontFitPlate = explain.Rule[Result]{
	Name: "leads-do-not-fit-the-plate-voltages", Title: "the leads can't be joined for the voltages on the plate", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "series or parallel links on a star-or-delta motor, or the other way round, put the wrong volts on every coil",
	Source: markingSource,
	Check: func(r Result, report *explain.Report) {
		c := r.Connection
		if notThreePhase(&r) || severalSpeeds(&r.Job.Motor) || c.Problem.Empty() {
			return
		}
		if _, _, problem := identify(&r.Job.Motor); !problem.Empty() {
			return // the groups themselves are wrong: lead-groups-impossible says so
		}
		report.At(c.Text, c.Problem, explain.Say("a ratio of 2 (230/460 V) goes with nine or twelve leads, 1.73 (220/380 V) with six or twelve, one voltage with three: find out which of plate and leads is not the original"))
	},
}

var leadsUnmarked = explain.Rule[Result]{
	Name: "leads-not-marked", Title: "the numbers on the motor leads can't be read", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "links by guesswork turn a coil round: the motor hums, draws its locked-rotor current and burns",
	Source: explain.Practice("motor-repair shops"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if m.Marked.Value != "no" || len(r.Connection.Procedure) == 0 {
			return
		}
		report.At(m.Marked, explain.Say("the leads of {} carry no numbers", quantity.Text(windingWords(r))),
			explain.Say("mark them by the steps in the leads part, or have a motor shop do it, then write the groups with the true numbers and leads marked: yes"))
	},
}

func windingWords(r Result) string {
	if r.Connection.Winding.OK() {
		return "this motor (" + string(r.Connection.Winding.Value) + ")"
	}
	return "this motor"
}

var leadsTwoWays = explain.Rule[Result]{
	Name: "leads-can-be-joined-two-ways", Title: "only the plate's own diagram says how the leads are joined", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "of two connections that both look right one puts 1.73 or 2 times too many volts on the coils",
	Source: markingSource,
	Check: func(r Result, report *explain.Report) {
		c := r.Connection
		if len(c.Choices) < 2 {
			return
		}
		report.At(c.Text, explain.Say("{} can be joined in two ways: {}, or {}", quantity.Text(windingWords(r)), quantity.Text(c.Choices[0].Name), quantity.Text(c.Choices[1].Name)),
			explain.Say("follow the diagram on the plate or in the lid of the terminal box; without one have a motor shop measure which it is"))
	},
}

var leadsNotCounted = explain.Rule[Result]{
	Name: "motor-leads-not-known", Title: "how the motor is wound isn't known", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a motor of two voltages that is linked for the wrong one burns or gives a quarter of its torque",
	Source: markingSource,
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if notThreePhase(&r) || severalSpeeds(m) || m.Groups.Set || !m.Voltages.Set || len(m.Voltages.Value) < 2 || m.Leads.Value == 3 || m.Leads.Value == 12 || !r.Connection.Problem.Empty() {
			return
		}
		report.At(m.Voltages, explain.Say("the plate gives {}, and which leads have continuity isn't known", plateVolts(m)),
			explain.Say("find it with an ohmmeter, motor unlinked, and write lead groups: pairs and a group of three for a star, three groups of three for a delta, three pairs for six leads"))
	},
}

var leadsOfSeveralSpeeds = explain.Rule[Result]{
	Name: "leads-of-a-two-speed-motor", Title: "a motor of several speeds isn't joined by the usual tables", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the same marks are other coils on such a motor: the usual links put two windings on one another and burn both",
	Source: markingSource,
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !severalSpeeds(m) || notThreePhase(&r) {
			return
		}
		report.At(m.Speeds, explain.Say("how the leads of a motor of {} speeds are joined for one of them isn't known here", m.Speeds.Value),
			explain.Say("follow the diagram on the plate or in the lid: of two separate windings take the leads of the one that stays to the drive and cap the others one by one, never joined; "+
				"one winding in six leads is joined for one speed as its diagram shows"))
	},
}

var speedCurrentsNotGiven = explain.Rule[Result]{
	Name: "currents-of-the-speeds-not-given", Title: "a motor of several speeds has a current for each, and they aren't written", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the slow winding can take more than the fast one: a drive sized for the smaller trips, and an overload set for the larger lets the other burn",
	Source: explain.Practice("motors of two speeds: size for the larger current"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !severalSpeeds(m) || m.SpeedAmps.Set || m.SpeedAmps.Wrong || notThreePhase(&r) {
			return
		}
		report.At(m.Speeds, explain.Say("the motor has {} speeds, and which current belongs to which isn't written", m.Speeds.Value),
			explain.Say("read both from the plate and write motor: speed currents, the slow speed's first; the drive is then sized for the larger"))
	},
}
