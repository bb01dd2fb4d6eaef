package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var dropRunning = explain.Rule[Result]{
	Name:     "voltage-drop-running",
	Title:    "the run takes more of the voltage than is recommended",
	Why:      "the drive draws more current to make up for it, and everything warms; the motor has less left for a hard cut",
	Severity: explain.Check, Sets: explain.Everywhere, Source: bothSets("210.19(A), informational note", "IEC 60364-5-52 Annex G"),
	Check: func(r Result, report *explain.Report) {
		d := r.Drop
		if d.RunningRatio.OK() && d.RunningRatio.Value > d.Limit.Value {
			report.At(r.Job.Supply.Run, explain.Say("the run takes {}, which is {} of the supply; {} is recommended at most",
				d.Running.Value, d.RunningRatio.Value, d.Limit.Value), sayThicker(r))
		}
	},
}

// sayThicker says which conductor keeps the recommended drop.
func sayThicker(r Result) explain.Phrase {
	if !r.Drop.ForThree.OK() {
		return explain.Say("a thicker conductor, or a shorter run")
	}
	if onCord(&r) && r.Branch.Conductor.OK() && r.Drop.ForThree.Value.Area() <= r.Branch.Conductor.Value.Area() {
		return explain.Say("a thicker or shorter cord: the run itself is thick enough")
	}
	return explain.Say("run {} or thicker, or bring the panel nearer", r.Drop.ForThree.Value)
}

// driveLow is the least supply voltage at which the drive runs on: the low end of its input range less a tenth.
func driveLow(r Result) (quantity.Voltage, bool) {
	g := r.Job.Drive.InputVoltage
	if !g.Set || len(g.Value) == 0 {
		return 0, false
	}
	low, _ := inputRange(g)
	return low * 0.9, true
}

var dropAtOverload = explain.Rule[Result]{
	Name:     "voltage-drop-at-overload",
	Title:    "under a hard pull the drive's supply falls below what it runs on",
	Why:      "the drive trips on low voltage just when the cutter digs in, and the machine coasts",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("drive data sheets: input range with 10 % below"),
	Check: func(r Result, report *explain.Report) {
		low, ok := driveLow(r)
		if ok && r.Drop.AtDrive.OK() && r.Drop.AtDrive.Value < low && r.Job.Supply.Voltage.Value >= low {
			report.At(r.Job.Supply.Run, explain.Say("at {} of its rated input the run leaves {} at the drive, which needs {}", r.Drive.Overload.Value, r.Drop.AtDrive.Value, low), sayThicker(r))
		}
	},
}

var supplyOf120 = explain.Rule[Result]{
	Name:     "supply-of-120-volts",
	Title:    "the machine is to run from a 120 V receptacle",
	Why:      "at half the volts everything draws twice the amperes: most receptacles are at their end with a motor of 1 hp",
	Severity: explain.Check, Sets: onlyUS, Source: explain.Practice("drives for 115 V input are doublers and end at 1 to 1-1/2 hp"),
	Check: func(r Result, report *explain.Report) {
		v := r.Job.Supply.Voltage
		if v.Set && v.Value < 140 && supplyPhases(r.Job).Value != 3 && r.Voltage.Enough && r.Protection.Least.OK() {
			i := r.Branch.Current.Value
			remedy := explain.Say("bring 240 V to the machine: the same power then takes half the current, {} instead of {}", i/2, i)
			report.At(v, explain.Say("from {} this drive asks for a circuit of {}", v.Value, r.Protection.Least.Value), remedy)
		}
	},
}

var threePhaseSupply = explain.Rule[Result]{
	Name:     "three-phase-supply-present",
	Title:    "there are three phases already",
	Why:      "the motor can run from them with a starter; a drive is then for speed and braking alone, and a single-phase-input one is the wrong kind",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("the drive is there to make three phases from one"),
	Check: func(r Result, report *explain.Report) {
		// on volts that the motor isn't made for a starter doesn't do the job either: the voltage comes first
		if p := r.Job.Supply.Phases; p.Set && p.Value == 3 && !outOfReach(&r) {
			report.At(p, explain.Say("the supply has three phases, and the motor's table current on them is {}", orElse(r.Motor.Table, "in the code's table")),
				explain.Say("if speed control isn't wanted, a starter with an overload relay set to {} does the job; else use a drive with a three-phase input", orElse(r.Motor.Nameplate, "the nameplate current")))
		}
	},
}
