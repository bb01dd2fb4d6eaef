package power

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var voltageOutOfReach = explain.Rule[Result]{
	Name: "voltage-out-of-reach", Title: "the drive can't make the motor's volts", Severity: explain.Must, Decides: true, Sets: explain.Everywhere,
	Why:    "a motor short of volts loses torque above its base frequency, stalls in the cut and burns",
	Source: explain.Physics("an inverter's output can't exceed what its DC link is charged to"),
	Check: func(r Result, report *explain.Report) {
		v := r.Voltage
		if !outOfReach(&r) {
			return
		}
		report.At(v.Wanted, explain.Say("the drive makes {} at most, and the lowest connection of this motor asks {}: full torque up to {} only, {} of the power",
			v.Available.Value, v.Wanted.Value, v.BaseFrequency.Value, v.FullPower.Value), firstWayOut(r))
	},
}

var voltageShort = explain.Rule[Result]{
	Name: "voltage-short-but-enough-for-the-work", Title: "the motor gets fewer volts than its plate says, which may do for this work", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "above the base frequency the torque falls off: a heavier cut than was thought of stalls the motor",
	Source: explain.Physics("an inverter's output can't exceed what its DC link is charged to"),
	Check: func(r Result, report *explain.Report) {
		v := r.Voltage
		load := demandsOf(r.Job).load
		if !v.Available.OK() || !v.Wanted.OK() || v.Enough || outOfReach(&r) {
			return
		}
		report.At(v.Wanted, explain.Say("{} for a motor of {}: full torque up to {}, then {} of the power; the work asks {}",
			v.Available.Value, v.Wanted.Value, v.BaseFrequency.Value, v.FullPower.Value, load.Value), firstWayOut(r))
	},
}

// firstWayOut is the remedy of both: the least intrusive way out, and what would pass.
func firstWayOut(r Result) explain.Phrase {
	v := r.Voltage
	pass := v.Wanted.Value * (1 - motorTolerance)
	if len(v.WaysOut) == 0 {
		return explain.Say("give the drive at least {}, or a motor of lower voltage", pass)
	}
	first := firstClause(v.WaysOut[0])
	return explain.Phrase{Format: first.Format + "; a supply that gives the motor {} or more would pass; all ways out stand in the voltage part",
		Values: append(append([]quantity.Value{}, first.Values...), pass)}
}

// firstClause is the phrase up to its first semicolon: what to do, without what it brings along.
func firstClause(p explain.Phrase) explain.Phrase {
	format, _, _ := strings.Cut(p.Format, "; ")
	return explain.Phrase{Format: format, Values: p.Values[:min(strings.Count(format, "{}"), len(p.Values))]}
}

var voltsBarelyReach = explain.Rule[Result]{
	Name: "volts-barely-reach-the-motor", Title: "the motor gets 3 to 10 % fewer volts than its plate says", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "it draws more current for the same work and has less torque in hand; with the supply sagging it runs hot",
	Source: toleranceSource,
	Check: func(r Result, report *explain.Report) {
		v := r.Voltage
		if !barelyReach(r) {
			return
		}
		report.At(r.Job.Supply.Voltage, explain.Say("the motor gets {} and its plate says {}: full torque up to {}, and up to {} more current for the same work",
			v.Available.Value, v.Wanted.Value, v.BaseFrequency.Value, quantity.Ratio(v.Wanted.Value/v.Available.Value-1)),
			explain.Say("keep the load below {} of the plate's; {} or more at the motor would pass", v.FullPower.Value, v.Wanted.Value*0.97))
	},
}

// barelyReach reports whether the volts are within the motor's tolerance but more than 3 % short of the plate's.
func barelyReach(r Result) bool {
	v := r.Voltage
	return v.Enough && v.Available.Value < v.Wanted.Value*0.97 && v.Available.Value < rangeStart(r, v.Wanted.Value)
}

// rangeStart returns the lower end of a range that the plate gives for the wanted voltage ("208-230/460 V"), the voltage itself
// if there is none. A plate that names 208 V is made for it.
func rangeStart(r Result, wanted quantity.Voltage) quantity.Voltage {
	if p, ok := connectionAt(&r.Job.Motor, wanted); ok {
		return p.low
	}
	return wanted
}

var supplySags = explain.Rule[Result]{
	Name: "motor-short-when-the-supply-sags", Title: "no margin left for a low supply", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "on a long run or in a heat wave the supply falls 10 %, and the motor loses torque when it is needed most",
	Source: explain.Source{Work: "IEC 60038", Place: "supply voltage range of 10 %"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		v := r.Voltage
		if !v.Enough || barelyReach(r) { // that rule says so already
			return
		}
		low := v.Available.Value * (1 - motorTolerance)
		if low >= min(v.Wanted.Value*(1-motorTolerance), rangeStart(r, v.Wanted.Value)) {
			return
		}
		report.At(r.Job.Supply.Voltage, explain.Say("with the supply 10 % low the motor gets {}, too little for its {}", low, v.Wanted.Value),
			explain.Say("measure the supply while the machine works hard: {} or more is wanted", quantity.Voltage(float64(v.Wanted.Value)*(1-motorTolerance)/float64(v.Gain.Value))))
	},
}

var oddVoltageRatio = explain.Rule[Result]{
	Name: "plate-voltages-of-odd-ratio", Title: "the plate's two voltages are neither 2 to 1 nor 1.73 to 1", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "series or parallel and star or delta are linked differently: the wrong links burn a coil at the first start",
	Source: markingSource,
	Check: func(r Result, report *explain.Report) {
		v := r.Voltage
		if !v.Ratio.OK() || v.Meaning.OK() {
			return
		}
		report.At(v.Ratio, explain.Say("{} has a ratio of {}: 2 means series or parallel, 1.73 means star or delta", plateVolts(&r.Job.Motor), v.Ratio.Value),
			explain.Say("read the plate again under a lamp, with chalk rubbed in; after a rewind ask the shop which voltages it is wound for"))
	},
}

var frequencyDiffers = explain.Rule[Result]{
	Name: "motor-frequency-differs-from-the-supply", Title: "the motor is made for another frequency than the supply's", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "a drive left at its factory frequency gives the motor the wrong volts per hertz: it runs hot or weak",
	Source: explain.Physics("flux, and so torque, follows volts per hertz"),
	Check: func(r Result, report *explain.Report) {
		m, s := r.Job.Motor.Frequency, r.Job.Supply.Frequency
		if !m.Set || !s.Set || m.Value == s.Value {
			return
		}
		report.At(m, explain.Say("the motor's plate says {}, the supply has {}", m.Value, s.Value),
			explain.Say("set the drive's motor frequency to {}, with the motor's volts of the plate: the drive then makes what the plate says", m.Value))
	},
}

var driveInputVoltageWrong = explain.Rule[Result]{
	Name: "drive-not-made-for-the-supply", Title: "the supply's voltage is outside the drive's rated input", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "too much bursts its capacitors, too little makes it trip or charge too slowly",
	Source: explain.Practice("a drive's input range with 10 % on either side"),
	Check: func(r Result, report *explain.Report) {
		g, s := r.Job.Drive.InputVoltage, r.Job.Supply.Voltage
		if !g.Set || !s.Set || len(g.Value) == 0 {
			return
		}
		low, high := inputRange(g)
		if s.Value >= low*0.9 && s.Value <= high*1.1 {
			return
		}
		report.At(g, explain.Say("the drive takes {} to {}, 10 % on either side, and the supply has {}", low, high, s.Value),
			explain.Say("choose a drive rated for {}", s.Value))
	},
}

var supplyAboveMotor = explain.Rule[Result]{
	Name: "supply-above-the-motor-voltage", Title: "the supply has more than 10 % more volts than the motor's plate", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a drive left at its factory voltage gives the motor all the supply has: the iron saturates and the winding runs hot",
	Source: toleranceSource,
	Check: func(r Result, report *explain.Report) {
		v := r.Voltage
		if !v.Available.OK() || !v.Wanted.OK() || v.Available.Value <= v.Wanted.Value*(1+motorTolerance) {
			return
		}
		report.At(v.Wanted, explain.Say("the motor's plate says {} and the drive can make {}", v.Wanted.Value, v.Available.Value),
			explain.Say("set the drive's motor voltage to {} at {}: the drive then makes no more, and nothing is lost", v.Wanted.Value, quantityOrUnknown(r.Plate.Frequency)))
	},
}
