package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// overloadPerHour is how long a drive gives its overload in an hour: a minute in ten.
const overloadPerHour = 6 * 60 * quantity.Second

// shortestStart is the time at overload that a light start takes at least.
const shortestStart = 10 * quantity.Second

var startedVeryOften = explain.Rule[Result]{
	Name: "started-very-often", Title: "the machine is started so often that the drive has no rest between its overloads", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a start takes more than full current; a drive gives that for a minute in ten, then it trips or its transistors age",
	Source: explain.Practice("drive data sheets: overload for 60 s in 10 min"),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Machine.Starts
		if !s.Set || s.Value <= 0 {
			return
		}
		each := overloadPerHour / quantity.Duration(s.Value)
		if each >= shortestStart {
			return
		}
		remedy := explain.Say("take a drive whose continuous current covers the start, let the motor run and use a clutch, or ramp so gently that the start stays at full-load current; up to {} starts an hour leave {} for each",
			quantity.Count(overloadPerHour/shortestStart), shortestStart)
		if d := r.Drive; d.Needed.OK() && d.Overload.OK() {
			remedy = explain.Say("take a drive of {} or more continuous output, which gives the start without its overload, let the motor run and use a clutch, or ramp so gently that the start stays at full-load current; up to {} starts an hour leave {} for each",
				quantity.Scale(d.Needed.Value, d.Overload.Value), quantity.Count(overloadPerHour/shortestStart), shortestStart)
		}
		report.At(s, explain.Say("{} starts an hour leave the drive {} of its overload for each", s.Value, each), remedy)
	},
}

var runByOthers = explain.Rule[Result]{
	Name: "run-by-other-people", Title: "other people run the machine, and the law asks more then", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "who didn't build it doesn't know what it does after a power cut or a jam, and whoever lets them run it answers for it",
	Source: explain.Source{Work: "OSHA 29 CFR 1910", Place: "212 guards, 147 lock-out, 213 woodworking; elsewhere the national law on work equipment"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		w := r.Job.Machine.WhoUses
		if w.Value == "employees" || w.Value == "club or school" {
			report.At(w, explain.Say("the machine is run by {}", otherPeople(w.Value)),
				explain.Say("before they do, have guards, lock-out, emergency stop and start after a power cut inspected against the rules for workplaces, and keep this sheet with the machine"))
		}
	},
}

func otherPeople(w quantity.Text) quantity.Text {
	if w == "club or school" {
		return "a club or school"
	}
	return w
}

// Bounds of the stator's copper loss, as part of the plate's power: a hundred horsepower lose some 1.5 %, a quarter some 30 %.
const (
	leastWindingLoss = 0.5 * quantity.Percent
	mostWindingLoss  = 40 * quantity.Percent
)

var windingLoss = &explain.Formula{
	Name: "winding-loss", Title: "what the resistance of a motor's windings loses at full load, as part of its power",
	Words: "1.5 × {winding resistance} × {motor current}² ÷ {motor power}",
	Inputs: []explain.Parameter{
		{Name: "winding resistance", Kind: quantity.KindResistance, Help: "between two line leads, in star or in delta alike", Example: "0.7 ohm"},
		motorCurrentParameter, powerParameter,
	},
	Result: quantity.KindRatio, Source: explain.Physics("three windings of half the resistance between leads, in star or the like of it"),
	Compute: explain.Of3(func(ohms quantity.Resistance, i quantity.Current, p quantity.ShaftPower) (explain.Answer, error) {
		return explain.Is(quantity.Ratio(1.5 * float64(ohms) * float64(i) * float64(i) / float64(p)))
	}),
}

var windingResistanceUnlikely = explain.Rule[Result]{
	Name: "winding-resistance-unlikely", Title: "the measured winding resistance doesn't go with the plate", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "turns are shorted, a joint is bad, or the leads are joined for the other voltage, which is a factor of three or four",
	Source: explain.Practice("motors of 1 to 5 hp at 230 V measure 10 to 0.7 ohm between leads"),
	Check: func(r Result, report *explain.Report) {
		o, loss := r.Job.Motor.WindingOhms, r.Plate.WindingLoss
		if !loss.OK() || notThreePhase(&r) || loss.Value >= leastWindingLoss && loss.Value <= mostWindingLoss {
			return
		}
		how := quantity.Text("little")
		if loss.Value > mostWindingLoss {
			how = "much"
		}
		ohms := func(part quantity.Ratio) quantity.Resistance {
			return quantity.Resistance(float64(o.Value) * float64(part/loss.Value))
		}
		report.At(o, explain.Say("{} between leads would lose {} of the motor's power, which is too {}", o.Value, loss.Value, how),
			explain.Say("measure again, joined for {}, with the meter's leads subtracted: {} to {} would fit; all three pairs are equal within 5 %", quantityOrUnknown(r.Voltage.Wanted), ohms(leastWindingLoss), ohms(mostWindingLoss)))
	},
}
