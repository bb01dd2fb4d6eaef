package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

var driveTooSmall = explain.Rule[Result]{
	Name: "drive-too-small", Title: "the drive gives fewer amperes than the motor takes", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it trips in the heavy cut and its capacitors die early",
	Source: explain.NEC("430.6(A)(2)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		d := r.Drive
		if !d.Own || !d.Output.OK() || !d.Needed.OK() || d.Output.Value >= d.Needed.Value*0.999 {
			return
		}
		marked := quantity.Current(float64(d.Needed.Value) / float64(d.Output.Value) * float64(d.Marked.Value))
		remedy := explain.Say("a drive of {} marked output or more would pass", marked)
		if r.Job.Drive.SinglePhase.Set && d.Kept.Value < 1 {
			remedy = explain.Say("a drive that gives {} or more on one phase would pass", d.Needed.Value)
		}
		report.At(d.Output, explain.Say("the drive gives {} here, the motor takes {}", d.Output.Value, d.Needed.Value), remedy)
	},
}

var noTypicalDrive = explain.Rule[Result]{
	Name: "no-typical-drive-suits", Title: "no typical drive suits this supply and motor", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "what follows from the drive can't be sized, and a drive of another class bursts or never starts",
	Source: explain.Practice("what the market commonly sells"),
	Check: func(r Result, report *explain.Report) {
		d, s := r.Drive, r.Job.Supply.Voltage
		if d.Own || d.Name.OK() || !d.Needed.OK() || !s.Set || outOfReach(&r) || maybeSinglePhase(&r) {
			return
		}
		remedy := explain.Say("see the other ways to get there, or write the data sheet of a drive that gives {} or more on this supply", d.Needed.Value)
		if !houseVoltage(s.Value) {
			remedy = eitherOr(explain.Say("bring 240 V to the machine"), remedy)
		}
		report.At(s, explain.Say("no typical drive is made for {}, {} and {} of output", s.Value, phasesInWords(supplyPhases(r.Job).Value), d.Needed.Value), remedy)
	},
}

var driveByHorsepower = explain.Rule[Result]{
	Name: "drive-known-by-horsepower-only", Title: "the drive's output current isn't given", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "horsepower on a drive's box is for a motor that its maker thought of; old motors take more amperes than that",
	Source: explain.Practice("drives are chosen by amperes"),
	Check: func(r Result, report *explain.Report) {
		g := &r.Job.Drive
		if !r.Drive.Own || g.Output.Set || g.SinglePhase.Set {
			return
		}
		report.At(firstGiven(g), explain.Say("the drive's output current isn't given, so it can't be held against the motor"), needAmperes(r))
	},
}

func needAmperes(r Result) explain.Phrase {
	if !r.Drive.Needed.OK() {
		return explain.Say("write drive: output current from its label or data sheet")
	}
	return explain.Say("write drive: output current from its label or data sheet; {} or more would pass", r.Drive.Needed.Value)
}

// firstGiven returns the first thing that the user wrote of the drive.
func firstGiven(g *job.Drive) explain.Because {
	switch {
	case g.Name.Set:
		return g.Name
	case g.InputPhases.Set:
		return g.InputPhases
	case g.InputVoltage.Set:
		return g.InputVoltage
	case g.OutputVoltage.Set:
		return g.OutputVoltage
	}
	return g.Input
}

var inputPhasesUnknown = explain.Rule[Result]{
	Name: "drive-input-phases-not-known", Title: "whether the drive is rated for single-phase input isn't given", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a drive made for three phases gives about half its current on one, or trips at once",
	Source: singlePhaseBook,
	Check: func(r Result, report *explain.Report) {
		g := &r.Job.Drive
		if !r.Drive.Own || g.InputPhases.Set || supplyPhases(r.Job).Value == 3 {
			return
		}
		report.At(firstOfDrive(r), explain.Say("the drive is taken to be rated for single-phase input"),
			explain.Say("read its label: 1 PH or L, N means single-phase, 3 PH or R, S, T alone means three; write input phases"))
	},
}

var inputCurrentEstimated = explain.Rule[Result]{
	Name: "drive-input-current-estimated", Title: "the drive's rated input current isn't given", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "wire, breaker and plug are sized by it, and on one phase it is about twice what the motor takes",
	Source: explain.NEC("430.122(A)"),
	Check: func(r Result, report *explain.Report) {
		g := &r.Job.Drive
		if !r.Drive.Own || g.Input.Set || !r.Drive.Input.OK() {
			return
		}
		report.At(firstOfDrive(r), explain.Say("{} is taken as the drive's input current, an estimate; less than {} is not possible", r.Drive.Input.Value, quantityOrUnknown(r.Drive.InputLeast)),
			explain.Say("find the rated input current for single-phase supply in the data sheet and write input current before wire is bought"))
	},
}

// onOnePhase reports whether a three-phase-input drive of the user's own is to run on a single-phase supply.
func onOnePhase(r Result) bool {
	g := &r.Job.Drive
	return r.Drive.Own && g.InputPhases.Set && g.InputPhases.Value == 3 && supplyPhases(r.Job).Value == 1
}

var threePhaseDrive = explain.Rule[Result]{
	Name: "three-phase-drive-without-a-single-phase-figure", Title: "a three-phase-input drive on one phase, and its maker's figure isn't known", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "its rectifier and capacitors carry twice the current they were made for, and most trip on the missing phase",
	Source: singlePhaseBook,
	Check: func(r Result, report *explain.Report) {
		if !onOnePhase(r) || r.Job.Drive.SinglePhase.Set {
			return
		}
		report.At(r.Job.Drive.InputPhases, explain.Say("half of its marked output is assumed on one phase: {}", quantityOrUnknown(r.Drive.Output)),
			explain.Say("ask the maker for the single-phase table and write single-phase output current; {} or more is needed", quantityOrUnknown(r.Drive.Needed)))
	},
}

// quantityOrUnknown returns the value to be put into a phrase; nil, which prints as not known, where it is missing.
func quantityOrUnknown[V quantity.Value](k explain.Known[V]) quantity.Value {
	if !k.OK() {
		return nil
	}
	return k.Value
}

var phaseLossTrips = explain.Rule[Result]{
	Name: "drive-trips-on-the-missing-phase", Title: "the drive's phase-loss monitoring will stop it on one phase", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it won't run, or trips as soon as it is loaded",
	Source: singlePhaseBook,
	Check: func(r Result, report *explain.Report) {
		g := &r.Job.Drive
		if !onOnePhase(r) || g.PhaseLoss.Value != "trips" {
			return
		}
		report.At(g.PhaseLoss, explain.Say("this drive trips when an input phase is missing, and the supply has one"),
			explain.Say("take a drive rated for single-phase input of {} or more, or one whose maker lets the monitoring be set off", quantityOrUnknown(r.Drive.Needed)))
	},
}

var startDutyShort = explain.Rule[Result]{
	Name: "overload-capacity-too-small-for-the-start", Title: "the drive has too little in hand for this start", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a heavy wheel or a loaded start asks more than full-load current for many seconds: the drive trips before it is up to speed",
	Source: explain.Practice("150 % of the motor current for a heavy wheel, 120 % for a loaded start"),
	Check: func(r Result, report *explain.Report) {
		start := r.Job.Machine.HardStart
		d := r.Drive
		asked := quantity.Ratio(0)
		switch start.Value {
		case "heavy wheel":
			asked = 1.5
		case "loaded":
			asked = 1.2
		}
		if asked == 0 || !d.Output.OK() || !d.Overload.OK() || !d.Needed.OK() {
			return
		}
		has := quantity.Part(quantity.Scale(d.Output.Value, d.Overload.Value), d.Needed.Value)
		if has >= asked-1e-9 {
			return
		}
		report.At(start, explain.Say("for a minute the drive gives {} of the motor's current, this start asks {}", has, asked),
			explain.Say("lengthen the ramp and start without the work, or take a drive of {} or more at {} overload",
				quantity.Current(float64(asked)*float64(d.Needed.Value)/float64(d.Overload.Value)), d.Overload.Value))
	},
}

var carrierHigh = explain.Rule[Result]{
	Name: "carrier-frequency-high", Title: "the carrier frequency is set high", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "each step up costs output current, heats the drive and adds to leakage and voltage peaks",
	Source: deratingSource,
	Check: func(r Result, report *explain.Report) {
		c := r.Job.Drive.Carrier
		if !c.Set || c.Value <= 8000 {
			return
		}
		s := deratings(r.Job)
		report.At(c, explain.Say("at {} about {} of the output is left", c.Value, quantity.Ratio(s.fast.Value)),
			explain.Say("set it to {} and raise it only if the whine can't be borne; {} costs a tenth", quantity.Frequency(4000), quantity.Frequency(8000)))
	},
}

var driveTooHot = explain.Rule[Result]{
	Name: "drive-in-hot-surroundings", Title: "the shop gets hotter than the drive gives full current in", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "it trips on its own heat on the hottest day, and its capacitors age twice as fast for each 10 °C",
	Source: deratingSource,
	Check: func(r Result, report *explain.Report) {
		a := r.Job.Shop.Ambient
		full := quantity.Celsius(40)
		if r.Job.Drive.Derated.Set {
			full = r.Job.Drive.Derated.Value
		}
		if !a.Set || a.Value <= full {
			return
		}
		s := deratings(r.Job)
		report.At(a, explain.Say("at {} about {} of the output is left, and inside a box it is hotter still", a.Value, quantity.Ratio(s.hot.Value)),
			explain.Say("put the drive where it stays below {}, or take a larger one, or write drive: full current to, from its data sheet", full))
	},
}

var thinAir = explain.Rule[Result]{
	Name: "drive-in-thin-air", Title: "the shop is higher than the drive is rated for", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "thin air carries less heat away: drive and motor both run hotter",
	Source: deratingSource,
	Check: func(r Result, report *explain.Report) {
		h := r.Job.Shop.Altitude
		if !h.Set || h.Value <= 1000 {
			return
		}
		s := deratings(r.Job)
		report.At(h, explain.Say("at {} about {} of the drive's output is left", h.Value, quantity.Ratio(s.high.Value)),
			explain.Say("it is taken off in the drive's output above; up to {} nothing is lost", quantity.Length(1000)))
	},
}
