package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var loadWithoutSize = explain.Rule[Result]{
	Name: "load-without-a-size", Title: "what a load draws isn't known", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the wire, the breaker and the voltage drop are counted without it, so they are too small by what it draws",
	Source: explain.Physics("currents of loads side by side add"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Job.Loads {
			l := &r.Job.Loads[n]
			if !onCircuit(l) || l.VA.Wrong || l.Power.Wrong || currentOfLoad(l, &r, n).OK() {
				continue
			}
			about := explain.Because(l.Name)
			if !l.Name.Set {
				about = l.Sort
			}
			remedy := explain.Say("read its plate and write volt-amperes")
			if l.Sort.Value == "single-phase motor" {
				remedy = explain.Say("read its plate and write power, or volt-amperes as its volts times its amperes")
			}
			report.At(about, explain.Say("the volt-amperes of the {} aren't given: everything on the circuit is counted without it", quantity.Text(loadName(l, n))), remedy)
		}
	},
}

var loadWithoutFuse = explain.Rule[Result]{
	Name: "load-without-a-fuse", Title: "a load on the machine has no fuse of its own", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "its thin wires hang on the machine's large breaker: a short in the lamp burns them before anything opens",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "7.2; IEC 60204-1 7.2"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Job.Loads {
			l := &r.Job.Loads[n]
			if !onCircuit(l) || l.Fused.Set || l.Fused.Wrong {
				continue
			}
			about := explain.Because(l.Name)
			if !l.Name.Set {
				about = l.Sort
			}
			remedy := explain.Say("give it a fuse or breaker of its own that suits its wires, and write fuse")
			if i := currentOfLoad(l, &r, n); i.OK() {
				remedy = explain.Say("give it a fuse or breaker of its own, above its {} and no larger than its wires bear, and write fuse", i.Value)
			}
			report.At(about, explain.Say("no fuse is written for the {}, which hangs on the machine's circuit", quantity.Text(loadName(l, n))), remedy)
		}
	},
}

var neutralNotSaid = explain.Rule[Result]{
	Name: "neutral-not-said", Title: "a load needs a neutral, and nobody said whether one reaches the machine", Severity: explain.Check, Sets: onlyUS,
	Why:    "fed between a live wire and ground it would put its current on the casting",
	Source: explain.NEC("250.6 and 250.142").Remembered(),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Supply
		if _, plugged := catalogue.ReceptacleOf(string(s.Receptacle.Value)); !open(s.Neutral) || plugged && onCord(&r) {
			return // the receptacle's kind tells
		}
		for n := range r.Job.Loads {
			if l := &r.Job.Loads[n]; needsNeutral(l, r.Job) {
				report.At(l.Voltage, explain.Say("the {} needs {}, and nobody said whether a neutral reaches the machine", quantity.Text(loadName(l, n)), l.Voltage.Value),
					explain.Say("look for it at the box and write supply: neutral; without one a transformer of {} to {} feeds it", orWord(knownVoltage(r)), l.Voltage.Value))
			}
		}
	},
}
