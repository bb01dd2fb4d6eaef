package power

import (
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var plateIncomplete = explain.Rule[Result]{
	Name: "nameplate-too-little-to-size-from", Title: "the nameplate gives too little to size anything from", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a drive and an overload chosen by guesswork let the motor burn",
	Source: explain.NEC("430.7(A)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		switch {
		case !m.Voltages.Set:
			report.At(m.Voltages, explain.Say("the motor's voltage isn't given"), explain.Say("write motor: voltage, all that stand on the plate; without a plate have a motor shop measure the winding"))
		case !m.Power.Set && !m.Currents.Set:
			report.At(m.Voltages, explain.Say("neither power nor current of the motor is given"),
				explain.Say("write motor: current, which sizes the drive, and motor: power, which sizes the wires; without a plate the frame size and a motor shop's measurement tell"))
		}
	},
}

var supplyUnknown = explain.Rule[Result]{
	Name: "supply-voltage-not-known", Title: "the supply's voltage isn't given", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "whether the motor can run at all is decided by it",
	Source: explain.Physics("an inverter's output can't exceed what its DC link is charged to"),
	Check: func(r Result, report *explain.Report) {
		if !r.Job.Supply.Voltage.Set {
			report.At(r.Job.Supply.Voltage, explain.Say("the supply's voltage isn't given"), explain.Say("measure between the two supply conductors and write supply: voltage, such as 240 V"))
		}
	},
}

var plateCurrentContradicts = explain.Rule[Result]{
	Name: "plate-current-contradicts-power", Title: "power, voltage and current of the plate don't go together", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "one of the three is misread or from another motor: drive and overload would be set for a motor that isn't there",
	Source: explain.Practice("efficiency × power factor of three-phase motors lies between 0.4 and 0.9"),
	Check: func(r Result, report *explain.Report) {
		f := r.Plate.EfficiencyFactor
		if !f.OK() || !r.Motor.Nameplate.OK() || maybeSinglePhase(&r) || float64(f.Value) >= leastEfficiencyFactor(r.Job.Motor.Power.Value) && f.Value <= mostEfficiencyFactor {
			return
		}
		full := quantity.Current(float64(r.Job.Motor.Power.Value) / (math.Sqrt(3) * float64(r.Voltage.Wanted.Value)))
		report.At(r.Job.Motor.Currents, explain.Say("{} at {} and {} would mean efficiency × power factor of {}; real motors have 0.4 to 0.9",
			r.Job.Motor.Power.Value, r.Voltage.Wanted.Value, r.Motor.Nameplate.Value, f.Value),
			explain.Say("read the plate again: a current from {} to {} would fit; currents stand in the order of the voltages", full/0.9, full/0.4))
	},
}

var plateCurrentsUnpaired = explain.Rule[Result]{
	Name: "plate-currents-do-not-pair-with-voltages", Title: "currents and voltages of the plate don't pair up", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a drive or overload set for the other voltage's current is wrong by a factor of two",
	Source: explain.NEC("430.7(A)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !m.Currents.Set || !m.Voltages.Set || !r.Voltage.Wanted.OK() || plateCurrent(&r).OK() {
			return
		}
		report.At(m.Currents, explain.Say("{} stand against {}", quantity.Text(m.Currents.Typed), plateVolts(m)),
			explain.Say("write one current for each voltage, in the same order: 230/460 V and 13.2/6.6 A"))
	},
}

var plateCurrentsOutOfProportion = explain.Rule[Result]{
	Name: "plate-currents-out-of-proportion", Title: "the plate's currents don't fall as its voltages rise", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a motor takes the same power on either connection: one of the figures is misread, and it may be the one in use",
	Source: explain.Physics("same power at either voltage"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		v, i := m.Voltages.Value, m.Currents.Value
		if !m.Voltages.Set || !m.Currents.Set || len(v) != len(i) || len(v) < 2 {
			return
		}
		for n := 1; n < len(v); n++ {
			should := i[0] * quantity.Current(v[0]/v[n])
			if off := float64(i[n]/should) - 1; math.Abs(off) > 0.08 {
				report.At(m.Currents, explain.Say("{} at {} would go with {} at {}, not with {}", i[0], v[0], should, v[n], i[n]),
					explain.Say("read the plate again: current × voltage is the same on each connection"))
				return
			}
		}
	},
}

var plateCurrentMissing = explain.Rule[Result]{
	Name: "plate-current-missing", Title: "the motor's nameplate current isn't given", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "old motors draw up to a quarter more or less than the table: an overload set by the table may let the motor burn",
	Source: explain.NEC("430.6(A)(2)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if m.Currents.Set || !m.Power.Set || !r.Motor.Table.OK() || isSinglePhaseMotor(m) {
			return
		}
		report.At(m.Power, explain.Say("the drive and the overload are sized by the table's {} until the plate's current is known", r.Motor.Table.Value),
			explain.Say("read the plate and write motor: current, or clamp the three leads at full load"))
	},
}

var plateSpeedContradicts = explain.Rule[Result]{
	Name: "plate-speed-contradicts-frequency", Title: "speed and frequency of the plate don't go together", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a drive told the wrong frequency gives the wrong volts per hertz, and every speed on the sheet would be off",
	Source: explain.Physics("an induction motor runs a little below 120 f/p"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !m.Speed.Set || !r.Plate.Frequency.OK() {
			return
		}
		largest := quantity.Ratio(0.13) // design D, the softest, goes to 13 %; most stay below 6 %
		if m.Design.Value == "D" {
			largest = 0.25
		}
		p := r.Plate
		switch {
		case !p.Poles.OK():
			report.At(m.Speed, explain.Say("{} is more than two poles give on {}", m.Speed.Value, p.Frequency.Value), explain.Say("read speed and frequency again: an induction motor stays below {}", quantity.Rotation(float64(p.Frequency.Value))))
		case p.Slip.OK() && p.Slip.Value > largest:
			report.At(m.Speed, explain.Say("{} on {} would be a slip of {}: {} poles turn at {}", m.Speed.Value, p.Frequency.Value, p.Slip.Value, p.Poles.Value, p.Synchronous.Value),
				otherFrequency(m.Speed.Value, p.Frequency.Value, p.Synchronous.Value))
		case p.Slip.OK() && p.Slip.Value < 0.001:
			report.At(m.Speed, explain.Say("{} is the field's own speed: no induction motor reaches it under load", m.Speed.Value),
				explain.Say("write the full-load rpm, a little below {}; a motor that really runs at {} is a synchronous one, which this sheet doesn't cover", p.Synchronous.Value, p.Synchronous.Value))
		}
	},
}

// otherFrequency suggests the usual frequency under which the speed makes sense.
func otherFrequency(n quantity.Rotation, f quantity.Frequency, synchronous quantity.Rotation) explain.Phrase {
	for _, other := range []quantity.Frequency{50, 60} {
		if other == f {
			continue
		}
		pairs := math.Floor(float64(other)/float64(n) + 1e-6)
		if pairs >= 1 && 1-float64(n)*pairs/float64(other) < 0.08 {
			return explain.Say("{} goes with {}: is that the motor's frequency; otherwise read the rpm again, {} to {} would fit", n, other, synchronous*0.94, synchronous*0.99)
		}
	}
	return explain.Say("read both again: {} to {} would fit", synchronous*0.94, synchronous*0.99)
}

var codeLetterUnlikely = explain.Rule[Result]{
	Name: "code-letter-unlikely", Title: "the code letter doesn't go with a motor of this size", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "the letter is misread or it is a special motor, and starting figures from it would be off",
	Source: explain.Source{Work: "NEMA MG 1", Edition: "2016", Place: "12.35"},
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !m.Code.Set || !m.Power.Set || isSinglePhaseMotor(m) || !r.Voltage.Wanted.OK() || m.Power.Value > 50*quantity.Horsepower {
			return
		}
		letter, ok := catalogue.FindCodeLetter(string(m.Code.Value))
		limit, _, err := catalogue.LockedRotorLimit(m.Power.Value, r.Voltage.Wanted.Value)
		if !ok || err != nil {
			return
		}
		least, most := lockedRotor(m.Power.Value, r.Voltage.Wanted.Value, letter.Least), lockedRotor(m.Power.Value, r.Voltage.Wanted.Value, letter.Most)
		if least <= 1.3*limit && most >= 0.5*limit {
			return
		}
		message := explain.Say("code {} means {} at most when stalled; a standard motor of {} takes up to {}", quantity.Text(letter.Letter), most, m.Power.Value, limit)
		if least > limit {
			message = explain.Say("code {} means {} at least when stalled; a standard motor of {} takes {} at most", quantity.Text(letter.Letter), least, m.Power.Value, limit)
		}
		report.At(m.Code, message,
			explain.Say("read the letter again: CODE is not the same as DESIGN or INS CLASS"))
	},
}

var serviceFactorUsed = explain.Rule[Result]{
	Name: "service-factor-used-on-a-drive", Title: "the motor is to be loaded beyond its plate while a drive feeds it", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a drive's ripple already eats the margin that the service factor stands for; the winding runs hot",
	Source: explain.Source{Work: "NEMA MG 1", Place: "part 30 and 31: service factor 1.0 on a drive"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if m.UseService.Value != "yes" {
			return
		}
		report.At(m.UseService, explain.Say("the drive must give {} instead of {}, and the motor has no margin left", quantityOrUnknown(r.Motor.AtService), quantityOrUnknown(r.Motor.Nameplate)),
			explain.Say("keep the load to what the plate gives, {} at {}", quantityOrUnknownGiven(m.Power.Set, m.Power.Value), quantityOrUnknown(r.Motor.Nameplate)))
	},
}
