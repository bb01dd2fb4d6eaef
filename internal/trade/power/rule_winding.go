package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var oldInsulation = explain.Rule[Result]{
	Name: "winding-of-old-insulation", Title: "the winding's insulation is of an old class", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "cotton and varnish of class A bear 105 °C and little more: drive ripple and slow running take its margin",
	Source: explain.Source{Work: "IEC 60085", Place: "thermal classes: A is 105 °C"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		const remedy = "stay with low carrier frequency, no slow running under load, and look at the winding: brittle or dark insulation wants a rewind in class F"
		switch {
		case m.Insulation.Value == "A":
			report.At(m.Insulation, explain.Say("class A, made for a winding of 105 °C"), explain.Say(remedy))
		case m.Year.Set && m.Year.Value < 1960 && (!m.Insulation.Set || m.Insulation.Value == "unknown"):
			report.At(m.Year, explain.Say("a winding of {} is of class A as a rule", quantity.Text(m.Year.Typed)), explain.Say(remedy))
		}
	},
}

var voltagePeaks = explain.Rule[Result]{
	Name: "voltage-peaks-beyond-the-winding", Title: "voltage peaks at the motor are more than its winding is made for", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "each pulse pricks the first turns of the winding until they short",
	Source: explain.Source{Work: "NEMA MG 1", Place: "part 30: 1000 V; part 31: 3.1 × rated voltage, as given in IEEE PCIC-2004-27"},
	Check: func(r Result, report *explain.Report) {
		l := r.MotorLead
		if !l.Peak.OK() || !l.Withstand.OK() || l.Peak.Value <= l.Withstand.Value {
			return
		}
		link := quantity.Voltage(float64(l.Peak.Value) / (1 + min(float64(quantity.Part(r.Job.Motor.Cable.Value, l.Critical.Value)), 1)))
		longest := quantity.Length(float64(l.Critical.Value) * max(float64(l.Withstand.Value/link)-1, 0))
		report.At(l.Peak, explain.Say("peaks of {} at the end of {}; the winding is made for {}", l.Peak.Value, r.Job.Motor.Cable.Value, l.Withstand.Value),
			explain.Say("a lead of {} or less would pass; else an output reactor or filter at the drive, or a motor with an inverter-duty winding", longest))
	},
}

var oldWindingHighVoltage = explain.Rule[Result]{
	Name: "old-winding-on-a-480-volt-drive", Title: "a winding from before drives on a drive of the 480 V class", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "enamel and slot paper of those years were never tried against fast pulses; at 240 V there is margin, at 480 V there may be none",
	Source: explain.Practice("windings made before about 1990, NEMA MG 1 part 31 came later"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !m.Year.Set || m.Year.Value >= 1990 || m.InverterUse.Value == "yes" || !r.Voltage.Available.OK() || r.Voltage.Available.Value < 300 {
			return
		}
		report.At(m.Year, explain.Say("a winding of {} on a drive of {}, whose pulses stand at {} before any reflection", quantity.Text(m.Year.Typed), r.Voltage.Available.Value, r.Discharge.Peak.Value),
			explain.Say("fit an output reactor or filter at the drive, keep the lead under {}, test the insulation each year, and have it rewound for drives when it is next out", quantityOrUnknown(r.MotorLead.Critical)))
	},
}

var testedThroughDrive = explain.Rule[Result]{
	Name: "insulation-test-through-the-drive", Title: "the insulation test would go through the drive", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "500 V of test kills the drive's transistors, and the reading says nothing of the motor",
	Source: explain.Practice("drive instructions: take the motor leads off before an insulation test"),
	Check: func(r Result, report *explain.Report) {
		t := r.Job.Motor.TestPlan
		if t.Value == "through the drive" {
			report.At(t, explain.Say("the insulation test is planned with the drive connected"),
				explain.Say("take all motor leads off the drive, then test each to the frame at 500 V; 5 MΩ or more is wanted, below 1 MΩ don't run it"))
		}
	},
}

var notTested = explain.Rule[Result]{
	Name: "insulation-not-tested", Title: "the motor's insulation hasn't been measured", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a damp or oil-soaked winding can make the frame live and takes the drive with it",
	Source: explain.Source{Work: "IEEE 43", Place: "least insulation resistance"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if m.Megohms.Set || m.TestPlan.Value == "motor alone" || m.TestPlan.Value == "through the drive" {
			return
		}
		message := explain.Say("no insulation resistance is given and no test of the motor alone is planned")
		remedy := explain.Say("with the motor leads off, measure each to the frame at 500 V and write insulation resistance: 5 MΩ or more is wanted, below 1 MΩ don't run it")
		if m.TestPlan.Set {
			report.At(m.TestPlan, message, remedy)
			return
		}
		report.At(m.Megohms, message, remedy)
	},
}

// The least insulation resistance to the frame at 500 V: below the first a motor isn't run, above the second it is sound.
// Sources: NFPA 79 and IEC 60204-1 ask 1 MΩ (from memory), IEEE 43 asks 5 MΩ for random-wound motors (from memory).
const (
	leastMegohms = 1 * quantity.Megohm
	soundMegohms = 5 * quantity.Megohm
)

var insulationTooLow = explain.Rule[Result]{
	Name: "insulation-resistance-too-low", Title: "the motor leaks to its frame", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the frame can become live, the ground-fault device trips, and the drive's output fails to ground",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "18.3: 1 MΩ at 500 V"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := r.Job.Motor.Megohms
		if m.Set && m.Value < leastMegohms {
			report.At(m, explain.Say("{} to the frame, {} is the least", m.Value, leastMegohms),
				explain.Say("don't run it: clean it, dry it at no more than 80 °C for a day and measure again; if it stays below {}, rewind", leastMegohms))
		}
	},
}

var insulationWeak = explain.Rule[Result]{
	Name: "insulation-resistance-weak", Title: "the motor's insulation is weaker than a sound one's", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "damp or carbon dust is on its way through; it gets worse while the motor stands",
	Source: explain.Source{Work: "IEEE 43", Place: "5 MΩ for random-wound motors"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := r.Job.Motor.Megohms
		if m.Set && m.Value >= leastMegohms && m.Value < soundMegohms {
			report.At(m, explain.Say("{} to the frame, a sound motor has {} or more", m.Value, soundMegohms),
				explain.Say("clean and dry it, measure again warm after a run, and once a year"))
		}
	},
}

var openMotorInDust = explain.Rule[Result]{
	Name: "open-motor-in-dust", Title: "an open motor in dust", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "its fan draws dust through the windings: metal and grinding dust shorts them, wood dust chokes the cooling and can burn",
	Source: explain.Practice("open motors belong in clean air"),
	Check: func(r Result, report *explain.Report) {
		e, d := r.Job.Motor.Enclosure, r.Job.Shop.Dust
		if e.Value != "ODP" || !d.Set || d.Value == "clean" {
			return
		}
		report.At(e, explain.Say("an open drip-proof motor and {} dust", d.Value),
			explain.Say("blow it out on a schedule, with the guard off and the power locked off, keep its openings away from the stream, or fit a totally enclosed motor"))
	},
}
