package power

import (
	"fmt"
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

var motorLeadAmpacity = &explain.Formula{
	Name: "motor-lead-ampacity", Title: "least ampacity of the conductors from drive to motor",
	Words: "{motor current} × {factor}",
	Inputs: []explain.Parameter{
		{Name: "motor current", Kind: quantity.KindCurrent, Help: "full-load current from the table", Example: "15.2 A"},
		{Name: "factor", Kind: quantity.KindRatio, Help: "125 % by NFPA 70 from 2020", Example: "125 %", Default: "125 %"},
	},
	Result: quantity.KindCurrent, Source: explain.NEC("430.122(B)"),
	Compute: explain.Of2(scaled[quantity.Current, quantity.Ratio]),
}

var motorLeadConductor = &explain.Formula{
	Name: "motor-lead-conductor", Title: "smallest copper conductor from drive to motor",
	Words: "the smallest with an ampacity of {least ampacity} or more in the {terminal temperature} column, no thinner than 14 AWG",
	Inputs: []explain.Parameter{
		leastAmpacityParameter,
		terminalParameter,
	},
	Result: quantity.KindConductor, Source: explain.NEC("Table 310.16"),
	Compute: explain.Of2(func(least quantity.Current, column quantity.Text) (explain.Answer, error) {
		for _, size := range catalogue.ConductorSizes() {
			if i, source, ok := catalogue.Ampacity(size, columnOf(column)); ok && covers(i, least) {
				return explain.Answer{Value: size, Source: source, Looked: true, Note: explain.Say("carries {}", i)}, nil
			}
		}
		return explain.Answer{}, fmt.Errorf("no single conductor of the table carries %s", shown(least))
	}),
}

var criticalLength = &explain.Formula{
	Name: "critical-lead-length", Title: "length of motor lead from which the whole of a pulse is reflected at the motor",
	Words:  "½ × {rise time} × 150 m/µs",
	Inputs: []explain.Parameter{{Name: "rise time", Kind: quantity.KindDuration, Help: "of the drive's pulses, 0.1 µs for present-day transistors", Example: "0.1 us"}},
	Result: quantity.KindLength, Source: explain.Practice("a wave runs along a cable at 150 to 190 m/µs; the shortest length is taken").Remembered(),
	Compute: explain.Of1(func(rise quantity.Duration) (explain.Answer, error) {
		return explain.Is(quantity.Length(0.5 * float64(rise) * 150e6))
	}),
}

var reflectedPeak = &explain.Formula{
	Name: "reflected-peak-voltage", Title: "voltage peaks at the motor's terminals",
	Words: "{DC link} × (1 + {lead length} ÷ {critical length}), at most twice",
	Inputs: []explain.Parameter{
		{Name: "DC link", Kind: quantity.KindVoltage, Help: "√2 × supply", Example: "679 V"},
		{Name: "lead length", Kind: quantity.KindLength, Help: "drive to motor", Example: "50 ft"},
		{Name: "critical length", Kind: quantity.KindLength, Help: "about 25 ft", Example: "7.5 m"},
	},
	Result: quantity.KindVoltage, Source: explain.Physics("a pulse is reflected at the motor, whose surge impedance is far above the cable's"),
	Compute: explain.Of3(func(link quantity.Voltage, length, critical quantity.Length) (explain.Answer, error) {
		if critical <= 0 {
			return explain.Answer{}, fmt.Errorf("the critical length must be above zero")
		}
		return explain.Is(quantity.Scale(link, 1+min(quantity.Part(length, critical), 1)))
	}),
}

var windingWithstand = &explain.Formula{
	Name: "winding-peak-limit", Title: "voltage peaks that a motor's winding is made for",
	Words: "3.1 × {highest plate voltage} for an inverter-duty winding, else 1000 V (inverter-duty: {inverter-duty})",
	Inputs: []explain.Parameter{
		{Name: "highest plate voltage", Kind: quantity.KindVoltage, Help: "that the insulation is made for", Example: "460 V"},
		{Name: "inverter-duty", Kind: quantity.KindText, Help: "by the plate or the rewinder", Example: "yes", Default: "no", Choices: []string{"yes", "no", "unknown"}},
	},
	Result: quantity.KindVoltage, Source: explain.Source{Work: "NEMA MG 1", Place: "part 31, as given in IEEE PCIC-2004-27; part 30 for 1000 V"},
	Compute: explain.Of2(func(v quantity.Voltage, duty quantity.Text) (explain.Answer, error) {
		if duty == "yes" {
			return explain.Answer{Value: 3.1 * v, Words: "3.1 × {highest plate voltage}, as inverter-duty is {inverter-duty}"}, nil
		}
		return explain.Answer{Value: quantity.Voltage(1000), Words: "1000 V for a winding that isn't made for drives (inverter-duty: {inverter-duty})"}, nil
	}),
}

var motorLeadDrop = &explain.Formula{
	Name: "motor-lead-drop", Title: "part of the motor's volts that is lost in the lead from the drive",
	Words: "√3 × {motor current} × resistance of {conductor} at 75 °C × {lead length} ÷ {motor voltage}",
	Inputs: []explain.Parameter{
		motorCurrentParameter,
		{Name: "conductor", Kind: quantity.KindConductor, Help: "copper", Example: "12 AWG"},
		{Name: "lead length", Kind: quantity.KindLength, Help: "one way", Example: "30 ft"},
		motorVoltageParameter,
	},
	Result: quantity.KindRatio, Source: explain.NEC("Chapter 9 Table 8"),
	Compute: explain.Of4(func(i quantity.Current, size quantity.Conductor, l quantity.Length, v quantity.Voltage) (explain.Answer, error) {
		ohms, source, ok := catalogue.ConductorResistance(size)
		if !ok || v <= 0 {
			return explain.Answer{}, fmt.Errorf("no resistance is tabled for %s", shown(size))
		}
		return explain.Answer{Value: quantity.Part(quantity.Voltage(math.Sqrt(3))*quantity.Drop(i, ohms.Over(l)), v), Source: source}, nil
	}),
}

// motorLead fills r.MotorLead. driveRating has run.
func motorLead(r *Result) {
	m, l := &r.Job.Motor, &r.MotorLead
	l.Ampacity = explain.Derive[quantity.Current](motorLeadAmpacity, "least ampacity of the motor lead", r.Motor.Table, r.Code.Motor.Conductor)
	if r.Code.hasTables() {
		l.Smallest = explain.Derive[quantity.Conductor](motorLeadConductor, "smallest motor lead conductor", l.Ampacity, leadTerminals(r))
	} else {
		l.Smallest = untabled[quantity.Conductor](r.Code, "smallest motor lead conductor")
	}
	l.Conductor = explain.Renamed("motor lead conductor", l.Smallest)
	if m.CableSize.Set {
		l.Conductor = job.Known(m.CableSize)
	}
	rise := explain.Assume[quantity.Duration]("rise time of the drive's pulses", 0.1e-6, explain.Source{Work: "NEMA MG 1", Place: "part 31, as given in IEEE PCIC-2004-27"},
		explain.Say("the shortest that present-day transistors make"))
	l.Critical = explain.Derive[quantity.Length](criticalLength, "critical length of the motor lead", rise)
	link := explain.Derive[quantity.Voltage](linkVoltage, "DC link at the nominal supply", r.Job.Supply.Voltage, nominalSupply, chargingFactor(r))
	l.Peak = explain.Derive[quantity.Voltage](reflectedPeak, "voltage peaks at the motor", link, m.Cable, l.Critical)
	duty := job.Or(m.InverterUse, "unknown", explain.Practice("motors made before about 1995"), explain.Say("not said: taken not to be made for drives"))
	l.Withstand = explain.Derive[quantity.Voltage](windingWithstand, "voltage peaks that the winding is made for", highestPlateVoltage(m), duty)
	l.Drop = explain.Derive[quantity.Ratio](motorLeadDrop, "voltage drop of the motor lead", r.Motor.Nameplate, l.Conductor, m.Cable, r.Voltage.Wanted)
}

// leadTerminals is the terminal temperature that the motor lead may count on, by the same marking as the branch conductor.
func leadTerminals(r *Result) explain.Known[quantity.Text] {
	const name = "terminal temperature at drive and motor"
	if t := r.Job.Supply.Terminals; t.Set {
		return explain.Derive[quantity.Text](markedTerminal, name, t)
	}
	k := explain.Derive[quantity.Text](unmarkedTerminal, name, r.MotorLead.Ampacity)
	if k.OK() {
		k.Why().Origin, k.Why().Path = explain.Assumed, r.Job.Supply.Terminals.Path
	}
	return k
}

// nominalSupply is the factor for the supply as it is measured.
var nominalSupply = explain.Constant[quantity.Factor]("supply as measured", 1, explain.Physics("definition"))

// highestPlateVoltage returns the highest voltage of the plate, which the insulation is made for.
func highestPlateVoltage(m *job.Motor) explain.Known[quantity.Voltage] {
	const name = "highest plate voltage"
	if !m.Voltages.Set || len(m.Voltages.Value) == 0 {
		return absentFrom[quantity.Voltage](name, explain.Say("needs "+m.Voltages.Name), m.Voltages)
	}
	return explain.Chosen(name, slices.Max(m.Voltages.Value), "the highest of {"+m.Voltages.Name+"}", explain.Source{}, m.Voltages)
}
