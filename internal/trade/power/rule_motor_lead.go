package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var motorLeadThin = explain.Rule[Result]{
	Name: "motor-lead-too-thin", Title: "the conductor from drive to motor carries too little", Severity: explain.Must, Sets: []explain.RuleSet{explain.US},
	Why:    "it runs hot all day, and nothing ahead of it trips for it",
	Source: explain.NEC("430.122(B)"),
	Check: func(r Result, report *explain.Report) {
		size, l := r.Job.Motor.CableSize, r.MotorLead
		if !size.Set || !l.Ampacity.OK() {
			return
		}
		carries, _, ok := catalogue.Ampacity(size.Value, columnOf(leadTerminals(&r).Value))
		if !ok || covers(carries, l.Ampacity.Value) {
			return
		}
		report.At(size, explain.Say("{} carries {} and {} are asked for, {} of the motor's {}", size.Value, carries, l.Ampacity.Value, r.Code.Motor.Conductor.Value, r.Motor.Table.Value),
			explain.Say("{} or thicker would pass", quantityOrUnknown(l.Smallest)))
	},
}

var motorLeadDrops = explain.Rule[Result]{
	Name: "motor-lead-loses-volts", Title: "the lead from drive to motor loses more than 3 % of the volts", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the motor is short of torque at the start, and the lead turns the loss into heat",
	Source: explain.NEC("215.2(A)(2), informational note: 3 %").Remembered(),
	Check: func(r Result, report *explain.Report) {
		d := r.MotorLead.Drop
		if !d.OK() || d.Value <= 0.03 {
			return
		}
		report.At(r.Job.Motor.Cable, explain.Say("{} of the motor's volts are lost along {} of {}", d.Value, r.Job.Motor.Cable.Value, r.MotorLead.Conductor.Value), enoughCopper(r))
	},
}

// enoughCopper says which conductor would lose 3 % or less.
func enoughCopper(r Result) explain.Phrase {
	for _, size := range catalogue.ConductorSizes() {
		k := explain.Derive[quantity.Ratio](motorLeadDrop, "drop of another motor lead", r.Motor.Nameplate, explain.Constant("conductor", size, explain.Source{}), r.Job.Motor.Cable, r.Voltage.Wanted)
		if k.OK() && k.Value <= 0.03 {
			return explain.Say("{} or thicker would pass, or the drive nearer the motor", size)
		}
	}
	return explain.Say("put the drive nearer the motor")
}
