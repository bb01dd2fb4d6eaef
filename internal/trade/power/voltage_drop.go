package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// voltageDrop fills r.Drop: along the run and the cord, running and at start.
func voltageDrop(r *Result) {
	d, supply := &r.Drop, &r.Job.Supply
	volts := job.Known(supply.Voltage)
	phases := supplyPhases(r.Job)
	run := wayOf(r, "run", r.Branch.Conductor, job.Known(supply.Run), phases, quantity.Text(racewayWord(supply)))
	total, ohms := run.drop, run.ohms
	if onCord(r) {
		cord := wayOf(r, "cord", r.Cord.Conductor, r.Cord.Length, phases, "cable")
		total = explain.Derive[quantity.Voltage](dropSum, "voltage drop running", run.drop, cord.drop)
		ohms = explain.Derive[quantity.Resistance](resistanceSum, "resistance there and back", run.ohms, cord.ohms)
	}
	d.Resistance = explain.Renamed("resistance of the circuit, there and back", ohms)
	d.Running = explain.Renamed("voltage drop at rated input", total)
	d.RunningRatio = explain.Derive[quantity.Ratio](dropShare, "voltage drop at rated input, of the supply", d.Running, volts)
	d.ByMils = explain.Derive[quantity.Voltage](dropByMils, "voltage drop of the run by the circular-mil formula",
		r.Branch.Total, job.Known(supply.Run), r.Branch.Conductor, phases, copperConstant)
	d.Start = explain.Derive[quantity.Voltage](startDrop, "voltage drop while the drive gives its overload", d.Running, r.Drive.Overload)
	d.StartRatio = explain.Derive[quantity.Ratio](dropShare, "voltage drop at overload, of the supply", d.Start, volts)
	d.AtDrive = explain.Derive[quantity.Voltage](voltageLeft, "voltage at the drive while it gives its overload", volts, d.Start)
	across := explain.Derive[quantity.Current](converterStart, "supply current of a rotary converter while the motor starts", r.Plate.LockedRotor)
	d.AcrossLine = explain.Derive[quantity.Voltage](voltageDropFormula, "voltage drop if a rotary converter started it across the line",
		across, run.impedance, job.Known(supply.Run), phases)
	d.AcrossLineRatio = explain.Derive[quantity.Ratio](dropShare, "voltage drop across the line, of the supply", d.AcrossLine, volts)
	d.Limit = r.Code.Drop
	d.ForThree = conductorForLimit(r, volts, phases)
}

// way is one stretch of the circuit.
type way struct {
	impedance explain.Known[quantity.LinearResistance]
	drop      explain.Known[quantity.Voltage]
	ohms      explain.Known[quantity.Resistance]
}

func wayOf(r *Result, of string, size explain.Known[quantity.Conductor], length explain.Known[quantity.Length],
	phases explain.Known[quantity.Count], raceway quantity.Text) way {
	var w way
	resistance := explain.Derive[quantity.LinearResistance](conductorResistance, "resistance per length of the "+of, size, makeOf(r, of))
	in := explain.Constant("raceway of the "+of, raceway, explain.Practice("job file"))
	reactance := explain.Derive[quantity.LinearResistance](conductorReactance, "reactance per length of the "+of, size, in)
	w.impedance = explain.Derive[quantity.LinearResistance](conductorImpedance, "impedance per length of the "+of, resistance, reactance)
	w.drop = explain.Derive[quantity.Voltage](voltageDropFormula, "voltage drop of the "+of, r.Branch.Total, w.impedance, length, phases)
	w.ohms = explain.Derive[quantity.Resistance](loopResistance, "resistance of the "+of+", there and back", resistance, length)
	return w
}

// makeOf says whether the conductors of a stretch are solid, as those of house cable are up to 10 AWG, or stranded.
func makeOf(r *Result, of string) explain.Known[quantity.Text] {
	name := "make of the conductors of the " + of
	if i := r.Branch.Insulation; of == "run" && i.OK() && (i.Value == "NM-B" || i.Value == "UF-B") {
		return explain.Assume[quantity.Text](name, "solid", explain.Practice("house cable is solid up to 10 AWG"), explain.Say("thicker sizes are stranded, and counted so"))
	}
	return stranded(of)
}

func stranded(of string) explain.Known[quantity.Text] {
	return explain.Assume[quantity.Text]("make of the conductors of the "+of, "stranded", explain.Practice("single wires and cord"), explain.Say("solid wire has about 2 % less"))
}

// racewayWord is the raceway for the reactance: steel, or anything else.
func racewayWord(s *job.Supply) string {
	switch s.Raceway.Value {
	case "EMT", "RMC", "IMC", "FMC", "LFMC":
		return "steel"
	}
	return "cable"
}

// conductorForLimit is the smallest size for the recommended drop of the run that still passes in all else.
func conductorForLimit(r *Result, volts explain.Known[quantity.Voltage], phases explain.Known[quantity.Count]) explain.Known[quantity.Conductor] {
	const name = "smallest conductor for the recommended voltage drop"
	byDrop := explain.Derive[quantity.Conductor](conductorForDrop, "smallest conductor by voltage drop alone",
		r.Branch.Total, job.Known(r.Job.Supply.Run), r.Code.Drop, volts, phases, copperConstant)
	if !byDrop.OK() || !r.Branch.Smallest.OK() {
		if !r.Branch.Smallest.OK() {
			return explain.Renamed(name, r.Branch.Smallest)
		}
		return explain.Renamed(name, byDrop)
	}
	larger := byDrop
	if r.Branch.Smallest.Value.Area() > byDrop.Value.Area() {
		larger = r.Branch.Smallest
	}
	return explain.Chosen(name, larger.Value, "the larger of {"+byDrop.Why().Name+"} and {"+r.Branch.Smallest.Why().Name+"}",
		explain.NEC("210.19(A), informational note").Remembered(), byDrop, r.Branch.Smallest)
}

// copperConstant is K of the circular-mil formula.
var copperConstant = explain.Constant("K of copper", quantity.Factor(12.9),
	explain.Source{Work: "training practice for NFPA 70", Place: "12.9 ohm circular mil per foot, copper at 75 °C"})

// timesInWords is perPhases as a formula shows it.
func timesInWords(phases quantity.Count) string {
	if phases == 3 {
		return "√3"
	}
	return "2"
}

// steelOrNot are the words for what surrounds a conductor.
var steelOrNot = []string{"steel", "cable", "plastic"}

// perPhases is how often the length counts: there and back, or √3 for three phases.
func perPhases(phases quantity.Count) (quantity.Factor, error) {
	switch phases {
	case 1, 2:
		return 2, nil
	case 3:
		return quantity.Factor(math.Sqrt(3)), nil
	}
	return 0, fmt.Errorf("a supply has 1 or 3 phases, not %s", shown(phases))
}

var conductorResistance = &explain.Formula{
	Name: "conductor-resistance", Title: "resistance of a copper conductor at 75 °C", Words: "table resistance of {conductor}, {make}",
	Inputs: []explain.Parameter{sizeParameter, {Name: "make", Kind: quantity.KindText, Help: "solid or stranded", Example: "stranded", Default: "stranded", Choices: []string{"solid", "stranded"}}},
	Result: quantity.KindLinearResistance, Source: explain.NEC("Chapter 9 Table 8"),
	Compute: explain.Of2(func(size quantity.Conductor, made quantity.Text) (explain.Answer, error) {
		if ohms, source, ok := catalogue.SolidResistance(size); ok && made == "solid" {
			return explain.Answer{Value: ohms, Looked: true, Source: source}, nil
		}
		if ohms, source, ok := catalogue.ConductorResistance(size); ok {
			return explain.Answer{Value: ohms, Looked: true, Source: source}, nil
		}
		if !size.Known() {
			return explain.Answer{}, fmt.Errorf("no conductor size is given")
		}
		const warm = 1 + 0.00393*55 // copper from 20 to 75 °C: IEC 60228, annex on temperature, from memory
		if cold, source, ok := catalogue.MetricResistance(size); ok {
			return explain.Answer{Value: cold * warm, Words: "greatest resistance of {conductor} at 20 °C × (1 + 0.00393 × 55)", Source: source,
				Note: explain.Say("{} at 20 °C", cold)}, nil
		}
		// Annealed copper of 100 % conductivity at 75 °C, 2 % more for the lay of the strands.
		const copper75 = 0.017241e-6 * (1 + 0.00393*55) * 1.02
		return explain.Answer{Value: quantity.LinearResistance(copper75 / float64(size.Area())), Words: "resistivity of copper at 75 °C ÷ area of {conductor}, and 2 % for strands",
			Source: explain.Source{Work: "IEC 60028", Edition: "1925", Place: "annealed copper", Trust: explain.FromMemory}}, nil
	}),
}

var conductorReactance = &explain.Formula{
	Name: "conductor-reactance", Title: "reactance of a conductor at 60 Hz", Words: "table reactance of {conductor} in {raceway}",
	Inputs: []explain.Parameter{sizeParameter, {Name: "raceway", Kind: quantity.KindText, Help: "steel, cable or plastic", Example: "steel", Default: "cable", Choices: steelOrNot}},
	Result: quantity.KindLinearResistance, Source: explain.NEC("Chapter 9 Table 9"),
	Compute: explain.Of2(func(size quantity.Conductor, raceway quantity.Text) (explain.Answer, error) {
		if x, source, ok := catalogue.ConductorReactance(size, raceway == "steel"); ok {
			return explain.Answer{Value: x, Looked: true, Source: source}, nil
		}
		return explain.Answer{Value: 0.08 * quantity.OhmPerKilometre, Words: "0.08 Ω/km, any size",
			Source: explain.Source{Work: "IEC 60364-5-52", Edition: "2009", Place: "Annex G", Trust: explain.FromMemory}}, nil
	}),
}

var conductorImpedance = &explain.Formula{
	Name: "conductor-impedance", Title: "impedance of a conductor", Words: "√(({resistance})² + ({reactance})²)",
	Inputs: []explain.Parameter{
		{Name: "resistance", Kind: quantity.KindLinearResistance, Help: "per length", Example: "1.24 ohm/kft"},
		{Name: "reactance", Kind: quantity.KindLinearResistance, Help: "per length", Example: "0.063 ohm/kft"},
	},
	Result: quantity.KindLinearResistance, Source: explain.Physics("impedance"),
	Compute: explain.Of2(func(r, x quantity.LinearResistance) (explain.Answer, error) {
		return explain.Is(quantity.LinearResistance(math.Hypot(float64(r), float64(x))))
	}),
}

var resistanceAtTemperature = &explain.Formula{
	Name: "resistance-at-temperature", Title: "resistance of a conductor at another temperature", Words: "{resistance} × (1 + {coefficient} per kelvin × the rise from {known temperature} to {temperature} in kelvins)",
	Inputs: []explain.Parameter{
		{Name: "resistance", Kind: quantity.KindResistance, Help: "at the known temperature", Example: "15 ohm"},
		{Name: "known temperature", Kind: quantity.KindTemperature, Help: "at which that was measured or tabled", Example: "20 °C", Default: "75 °C"},
		{Name: "temperature", Kind: quantity.KindTemperature, Help: "asked for", Example: "35 °C"},
		{Name: "coefficient", Kind: quantity.KindFactor, Help: "per kelvin at the known temperature: copper 0.00323 at 75 °C, 0.00393 at 20 °C", Example: "0.00393", Default: "0.00323"},
	},
	Result: quantity.KindResistance, Source: explain.NEC("Chapter 9 Table 8, note 2"),
	Compute: explain.Of4(func(r quantity.Resistance, known, wanted quantity.Temperature, a quantity.Factor) (explain.Answer, error) {
		rise := float64(quantity.Rise(wanted, known))
		sign := "+"
		if rise < 0 {
			sign = "−"
		}
		return explain.Answer{Value: r * quantity.Resistance(1+float64(a)*rise),
			Words: fmt.Sprintf("{resistance} × (1 %s {coefficient} per kelvin × %.3g K), from {known temperature} to {temperature}", sign, math.Abs(rise))}, nil
	}),
}

var loopResistance = &explain.Formula{
	Name: "loop-resistance", Title: "resistance of a two-wire run, there and back", Words: "2 × {resistance per length} × {length}",
	Inputs: []explain.Parameter{
		{Name: "resistance per length", Kind: quantity.KindLinearResistance, Help: "of one conductor", Example: "1.24 ohm/kft"},
		lengthParameter,
	},
	Result: quantity.KindResistance, Source: explain.Physics("resistances in series add"),
	Compute: explain.Of2(func(r quantity.LinearResistance, l quantity.Length) (explain.Answer, error) {
		return explain.Is(2 * r.Over(l))
	}),
}

var resistanceSum = &explain.Formula{
	Name: "series-resistance", Title: "resistance of run and cord in series", Words: "{resistance of the run} + {resistance of the cord}",
	Inputs: []explain.Parameter{
		{Name: "resistance of the run", Kind: quantity.KindResistance, Help: "there and back", Example: "0.12 ohm"},
		{Name: "resistance of the cord", Kind: quantity.KindResistance, Help: "there and back", Example: "0.02 ohm"},
	},
	Result: quantity.KindResistance, Source: explain.Physics("resistances in series add"),
	Compute: explain.Of2(sum[quantity.Resistance]),
}

var voltageDropFormula = &explain.Formula{
	Name: "voltage-drop", Title: "voltage drop of a run", Words: "{current} × {impedance per length} × {length} × 2; √3 instead of 2 on three phases ({phases})",
	Inputs: []explain.Parameter{
		lineCurrentParameter,
		warmImpedanceParameter,
		lengthParameter,
		phasesParameter,
	},
	Result: quantity.KindVoltage, Source: explain.Physics("Ohm's law; the largest drop, whatever the power factor"),
	Compute: explain.Of4(func(i quantity.Current, z quantity.LinearResistance, l quantity.Length, phases quantity.Count) (explain.Answer, error) {
		times, err := perPhases(phases)
		if err != nil {
			return explain.Answer{}, err
		}
		return explain.Answer{Value: quantity.Scale(quantity.Drop(i, z.Over(l)), times),
			Words: "{current} × {impedance per length} × {length} × " + timesInWords(phases)}, nil
	}),
}

var dropSum = &explain.Formula{
	Name: "voltage-drop-sum", Title: "voltage drop of run and cord together", Words: "{drop of the run} + {drop of the cord}",
	Inputs: []explain.Parameter{
		{Name: "drop of the run", Kind: quantity.KindVoltage, Help: "from the panel to the receptacle", Example: "3.4 V"},
		{Name: "drop of the cord", Kind: quantity.KindVoltage, Help: "from the receptacle to the box", Example: "0.7 V"},
	},
	Result: quantity.KindVoltage, Source: explain.Physics("voltages in series add"),
	Compute: explain.Of2(sum[quantity.Voltage]),
}

var dropShare = &explain.Formula{
	Name: "voltage-drop-share", Title: "voltage drop as a part of the supply", Words: "{voltage drop} ÷ {supply voltage}",
	Inputs: []explain.Parameter{
		{Name: "voltage drop", Kind: quantity.KindVoltage, Help: "along the run", Example: "3.4 V"},
		supplyVoltageParameter,
	},
	Result: quantity.KindRatio, Source: explain.Physics("ratio"),
	Compute: explain.Of2(share[quantity.Voltage]("supply voltage")),
}

var dropByMils = &explain.Formula{
	Name: "voltage-drop-by-circular-mils", Title: "voltage drop by the shop formula", Words: "2 × {K} × {current} × {length} in feet ÷ circular mils of {conductor}; √3 instead of 2 on three phases ({phases})",
	Inputs: []explain.Parameter{
		lineCurrentParameter,
		lengthParameter,
		sizeParameter, phasesParameter,
		copperParameter,
	},
	Result: quantity.KindVoltage, Source: explain.Source{Work: "training practice for NFPA 70", Place: "2 K I L / cmil"},
	Compute: explain.Of5(func(i quantity.Current, l quantity.Length, size quantity.Conductor, phases quantity.Count, k quantity.Factor) (explain.Answer, error) {
		mils, ok := catalogue.NominalArea(size)
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table of circular mils has no %s", shown(size))
		}
		times, err := perPhases(phases)
		if err != nil {
			return explain.Answer{}, err
		}
		perLength := quantity.LinearResistance(float64(k) / float64(mils/quantity.CircularMil) / float64(quantity.Foot))
		return explain.Answer{Value: quantity.Scale(quantity.Drop(i, perLength.Over(l)), times),
			Words: fmt.Sprintf("%s × {K} × {current} × {length} in feet ÷ %.0f circular mils of {conductor}", timesInWords(phases), float64(mils/quantity.CircularMil))}, nil
	}),
}

var conductorForDrop = &explain.Formula{
	Name: "conductor-for-voltage-drop", Title: "smallest conductor for a voltage drop", Words: "2 × {K} × {current} × {length} in feet ÷ ({allowed drop} × {supply voltage}) circular mils, next size up; √3 instead of 2 on three phases ({phases})",
	Inputs: []explain.Parameter{
		lineCurrentParameter,
		lengthParameter,
		{Name: "allowed drop", Kind: quantity.KindRatio, Help: "3 % is recommended", Example: "3 %", Default: "3 %"},
		supplyVoltageParameter,
		phasesParameter,
		copperParameter,
	},
	Result: quantity.KindConductor, Source: explain.Source{Work: "training practice for NFPA 70", Place: "cmil = 2 K I L / V"},
	Compute: explain.Of6(func(i quantity.Current, l quantity.Length, drop quantity.Ratio, v quantity.Voltage, phases quantity.Count, k quantity.Factor) (explain.Answer, error) {
		times, err := perPhases(phases)
		if err != nil {
			return explain.Answer{}, err
		}
		if v <= 0 || drop <= 0 {
			return explain.Answer{}, fmt.Errorf("the allowed drop and the voltage must be above zero")
		}
		mils := float64(times) * float64(k) * float64(i) * float64(l/quantity.Foot) / float64(quantity.Scale(v, drop))
		size, ok := catalogue.NextConductor(quantity.Area(mils) * quantity.CircularMil)
		if !ok {
			return explain.Answer{}, fmt.Errorf("no single conductor of the table is large enough: %.0f circular mils", mils)
		}
		return explain.Answer{Value: size, Note: explain.Say("{} circular mils are asked for", quantity.Count(math.Ceil(mils))),
			Words: timesInWords(phases) + " × {K} × {current} × {length} in feet ÷ ({allowed drop} × {supply voltage}) circular mils, next size up"}, nil
	}),
}

var longestRun = &explain.Formula{
	Name: "longest-run", Title: "longest run for a voltage drop", Words: "{allowed drop} ÷ ({current} × {impedance per length} × 2); √3 instead of 2 on three phases ({phases})",
	Inputs: []explain.Parameter{
		lineCurrentParameter,
		{Name: "allowed drop", Kind: quantity.KindVoltage, Help: "in volts", Example: "14.4 V"},
		warmImpedanceParameter,
		phasesParameter,
	},
	Result: quantity.KindLength, Source: explain.Physics("Ohm's law"),
	Compute: explain.Of4(func(i quantity.Current, drop quantity.Voltage, z quantity.LinearResistance, phases quantity.Count) (explain.Answer, error) {
		times, err := perPhases(phases)
		if err != nil {
			return explain.Answer{}, err
		}
		if i <= 0 || z <= 0 {
			return explain.Answer{}, fmt.Errorf("the current and the impedance must be above zero")
		}
		return explain.Answer{Value: quantity.Length(float64(drop) / (float64(times) * float64(i) * float64(z))),
			Words: "{allowed drop} ÷ ({current} × {impedance per length} × " + timesInWords(phases) + ")"}, nil
	}),
}

var startDrop = &explain.Formula{
	Name: "voltage-drop-at-overload", Title: "voltage drop while the drive gives its overload", Words: "{running drop} × {overload}",
	Inputs: []explain.Parameter{
		{Name: "running drop", Kind: quantity.KindVoltage, Help: "at rated input", Example: "4.1 V"},
		driveOverloadParameter,
	},
	Result: quantity.KindVoltage, Source: explain.Practice("drives: a drive never passes the motor's locked-rotor current on to the supply"),
	Compute: explain.Of2(scaled[quantity.Voltage, quantity.Ratio]),
}

var voltageLeft = &explain.Formula{
	Name: "voltage-left", Title: "voltage at the end of the run", Words: "{supply voltage} − {voltage drop}",
	Inputs: []explain.Parameter{
		supplyVoltageParameter,
		{Name: "voltage drop", Kind: quantity.KindVoltage, Help: "along the run", Example: "6 V"},
	},
	Result: quantity.KindVoltage, Source: explain.Physics("voltages in series add"),
	Compute: explain.Of2(func(v, d quantity.Voltage) (explain.Answer, error) { return explain.Is(v - d) }),
}

var converterStart = &explain.Formula{
	Name: "converter-start-current", Title: "supply current of a rotary converter while it starts a motor across the line", Words: "√3 × {locked-rotor current}",
	Inputs: []explain.Parameter{{Name: "locked-rotor current", Kind: quantity.KindCurrent, Help: "of the motor at this voltage", Example: "80 A"}},
	Result: quantity.KindCurrent, Source: explain.Practice("rotary converters: the same volt-amperes from one phase"),
	Compute: explain.Of1(func(i quantity.Current) (explain.Answer, error) {
		return explain.Is(quantity.Scale(i, quantity.Factor(math.Sqrt(3))))
	}),
}
