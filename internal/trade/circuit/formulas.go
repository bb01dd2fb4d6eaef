package circuit

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// circuitFormulas are the relations that this package uses, in the order of the sheet.
var circuitFormulas = []*explain.Formula{controlLoad, controlUse, coilInrush, coreResistance, controlDrop, controlLeft, inputThroughCable,
	knobCurrent, knobPower, knobLoading, serialLoad, serialBias, serialIdle, serialTermination, serialTerminationBiased}

// above refuses a divisor that isn't above zero.
func above(what string) error { return fmt.Errorf("the %s must be above zero", what) }

var (
	controlVoltageParameter = explain.Parameter{Name: "control voltage", Kind: quantity.KindVoltage, Help: "of the control supply", Example: "24 V"}
	coreParameter           = explain.Parameter{Name: "resistance per length", Kind: quantity.KindLinearResistance, Help: "of one core", Example: "4.99 ohm/kft"}
	cableParameter          = explain.Parameter{Name: "length", Kind: quantity.KindLength, Help: "one way", Example: "100 ft"}
	referenceParameter      = explain.Parameter{Name: "reference voltage", Kind: quantity.KindVoltage, Help: "across the knob", Example: "10 V"}
	knobParameter           = explain.Parameter{Name: "knob resistance", Kind: quantity.KindResistance, Help: "end to end", Example: "5 kohm"}
	idleParameter           = explain.Parameter{Name: "load of the line", Kind: quantity.KindResistance, Help: "between its two wires", Example: "57.1 ohm"}
	biasParameter           = explain.Parameter{Name: "bias resistance", Kind: quantity.KindResistance, Help: "each of the two", Example: "470 ohm"}
)

var controlLoad = &explain.Formula{
	Name: "control-load-current", Title: "current of a coil, lamp or input from its resistance", Words: "{control voltage} ÷ {resistance}",
	Inputs: []explain.Parameter{controlVoltageParameter, {Name: "resistance", Kind: quantity.KindResistance, Help: "of the coil, lamp or input", Example: "823 ohm"}},
	Result: quantity.KindCurrent, Source: explain.Physics("Ohm's law"),
	Compute: explain.Of2(func(v quantity.Voltage, r quantity.Resistance) (explain.Answer, error) {
		if r <= 0 {
			return explain.Answer{}, above("resistance")
		}
		return explain.Is(quantity.Current(float64(v) / float64(r)))
	}),
}

var controlUse = &explain.Formula{
	Name: "control-supply-use", Title: "how much of a control supply is used", Words: "{load} ÷ {what the supply gives}",
	Inputs: []explain.Parameter{
		{Name: "load", Kind: quantity.KindCurrent, Help: "of all that hangs on it", Example: "60 mA"},
		{Name: "what the supply gives", Kind: quantity.KindCurrent, Help: "from its label", Example: "100 mA"},
	},
	Result: quantity.KindRatio, Source: explain.Physics("ratio"),
	Compute: explain.Of2(func(load, most quantity.Current) (explain.Answer, error) {
		if most <= 0 {
			return explain.Answer{}, above("current that the supply gives")
		}
		return explain.Is(quantity.Part(load, most))
	}),
}

var coilInrush = &explain.Formula{
	Name: "coil-inrush", Title: "current of an alternating-current coil while it pulls in", Words: "{current held in} × {inrush factor}",
	Inputs: []explain.Parameter{
		{Name: "current held in", Kind: quantity.KindCurrent, Help: "from its sealed volt-amperes", Example: "70 mA"},
		{Name: "inrush factor", Kind: quantity.KindFactor, Help: "6 to 10 for contactors; 1 for direct current", Example: "8", Default: "8"},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("contactor data sheets: inrush volt-amperes over sealed ones, 6 to 10"),
	Compute: explain.Of2(func(i quantity.Current, f quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Scale(i, f))
	}),
}

var coreResistance = &explain.Formula{
	Name: "control-core-resistance", Title: "resistance of a core of control cable", Words: "table, by {conductor}",
	Inputs: []explain.Parameter{{Name: "conductor", Kind: quantity.KindConductor, Help: "size of the core", Example: "18 AWG"}},
	Result: quantity.KindLinearResistance, Source: explain.NEC("Chapter 9, Table 8").Remembered(),
	Compute: explain.Of1(func(size quantity.Conductor) (explain.Answer, error) {
		if r, source, ok := catalogue.ConductorResistance(size); ok {
			return explain.Answer{Value: r, Source: source, Looked: true}, nil
		}
		if r, source, ok := catalogue.MetricResistance(size); ok {
			return explain.Answer{Value: r, Source: source, Looked: true}, nil
		}
		if !size.Known() {
			return explain.Answer{}, fmt.Errorf("the size of the core isn't known")
		}
		// Finer than the tables: their smallest conductor's metal at this area.
		smallest := quantity.AWG(18)
		r, source, ok := catalogue.ConductorResistance(smallest)
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no conductor to scale from")
		}
		return explain.Answer{Value: quantity.Scale(r, quantity.Factor(smallest.Area()/size.Area())), Source: source,
			Words: "table, 18 AWG, by area to {conductor}"}, nil
	}),
}

var controlDrop = &explain.Formula{
	Name: "control-voltage-drop", Title: "voltage lost along a control cable, there and back", Words: "{resistance per length} × {length} × ({current} + {current in the common core})",
	Inputs: []explain.Parameter{coreParameter, cableParameter,
		{Name: "current", Kind: quantity.KindCurrent, Help: "of the coil or lamp itself", Example: "4 A"},
		{Name: "current in the common core", Kind: quantity.KindCurrent, Help: "of all that goes back through the same core; its own if it is alone", Example: "4 A"},
	},
	Result: quantity.KindVoltage, Source: explain.Physics("Ohm's law"),
	Compute: explain.Of4(func(r quantity.LinearResistance, l quantity.Length, own, common quantity.Current) (explain.Answer, error) {
		return explain.Is(quantity.Drop(own+common, r.Over(l)))
	}),
}

var controlLeft = &explain.Formula{
	Name: "control-voltage-left", Title: "voltage at the far end of a control cable", Words: "{control voltage} − {voltage lost}",
	Inputs: []explain.Parameter{controlVoltageParameter, {Name: "voltage lost", Kind: quantity.KindVoltage, Help: "along the cable", Example: "4 V"}},
	Result: quantity.KindVoltage, Source: explain.Physics("voltages in series add"),
	Compute: explain.Of2(func(v, d quantity.Voltage) (explain.Answer, error) { return explain.Is(v - d) }),
}

var inputThroughCable = &explain.Formula{
	Name: "input-voltage-through-a-cable", Title: "voltage across an input at the end of two cores", Words: "{control voltage} × {input resistance} ÷ ({input resistance} + 2 × {resistance of a core})",
	Inputs: []explain.Parameter{controlVoltageParameter,
		{Name: "input resistance", Kind: quantity.KindResistance, Help: "of the input", Example: "4.7 kohm"},
		{Name: "resistance of a core", Kind: quantity.KindResistance, Help: "one way", Example: "1 ohm"}},
	Result: quantity.KindVoltage, Source: explain.Physics("voltage divider"),
	Compute: explain.Of3(func(v quantity.Voltage, input, core quantity.Resistance) (explain.Answer, error) {
		if input <= 0 {
			return explain.Answer{}, above("input resistance")
		}
		return explain.Is(quantity.Scale(v, quantity.Factor(input/(input+2*core))))
	}),
}

var knobCurrent = &explain.Formula{
	Name: "knob-current", Title: "current that a speed knob takes from the reference supply", Words: "{reference voltage} ÷ {knob resistance}",
	Inputs: []explain.Parameter{referenceParameter, knobParameter},
	Result: quantity.KindCurrent, Source: explain.Physics("Ohm's law"), Compute: controlLoad.Compute,
}

var knobPower = &explain.Formula{
	Name: "knob-power", Title: "heat in a speed knob", Words: "({reference voltage})² ÷ {knob resistance}",
	Inputs: []explain.Parameter{referenceParameter, knobParameter},
	Result: quantity.KindPower, Source: explain.Physics("Joule heat"),
	Compute: explain.Of2(func(v quantity.Voltage, r quantity.Resistance) (explain.Answer, error) {
		if r <= 0 {
			return explain.Answer{}, above("knob resistance")
		}
		return explain.Is(quantity.Power(float64(v) * float64(v) / float64(r)))
	}),
}

// worstLoading returns the largest difference between a knob's setting x and what its loaded wiper gives,
// x ÷ (1 + k·x·(1-x)), with k the track over the load. The difference has one peak, near two thirds.
func worstLoading(k float64) float64 {
	low, high := 0.0, 1.0
	off := func(x float64) float64 { return x - x/(1+k*x*(1-x)) }
	for high-low > 1e-9 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if off(a) < off(b) {
			low = a
		} else {
			high = b
		}
	}
	return off((low + high) / 2)
}

var knobLoading = &explain.Formula{
	Name: "knob-loading-error", Title: "most that the drive's input pulls a knob's wiper below its setting, of full scale",
	Words:  "the largest x − x ÷ (1 + x × (1 − x) × {knob resistance} ÷ {input resistance})",
	Inputs: []explain.Parameter{knobParameter, {Name: "input resistance", Kind: quantity.KindResistance, Help: "of the input that reads the wiper", Example: "20 kohm"}},
	Result: quantity.KindRatio, Source: explain.Source{Work: "textbooks of measurement", Place: "loaded potentiometer"}.Remembered(),
	Compute: explain.Of2(func(knob, input quantity.Resistance) (explain.Answer, error) {
		if input <= 0 || knob < 0 || math.IsInf(float64(knob/input), 0) {
			return explain.Answer{}, above("input resistance")
		}
		return explain.Is(quantity.Ratio(worstLoading(float64(knob / input))))
	}),
}

var serialLoad = &explain.Formula{
	Name: "serial-line-load", Title: "what loads a two-wire serial line", Words: "1 ÷ ({receivers} ÷ {receiver resistance} + {terminators} ÷ {terminator})",
	Inputs: []explain.Parameter{
		{Name: "receivers", Kind: quantity.KindCount, Help: "drive, readout and whatever else listens", Example: "10"},
		{Name: "receiver resistance", Kind: quantity.KindResistance, Help: "12 kohm for one unit load", Example: "12 kohm", Default: "12 kohm"},
		{Name: "terminators", Kind: quantity.KindCount, Help: "resistors across the line, two when it is right", Example: "2"},
		{Name: "terminator", Kind: quantity.KindResistance, Help: "of one", Example: "120 ohm", Default: "120 ohm"},
	},
	Result: quantity.KindResistance, Source: explain.Source{Work: "TIA-485-A", Place: "unit load and termination, by application notes"},
	Compute: explain.Of4(func(n quantity.Count, unit quantity.Resistance, ends quantity.Count, end quantity.Resistance) (explain.Answer, error) {
		g := float64(n)/float64(unit) + float64(ends)/float64(end)
		if unit <= 0 || end <= 0 || g <= 0 {
			return explain.Answer{}, above("load")
		}
		return explain.Is(quantity.Resistance(1 / g))
	}),
}

var serialBias = &explain.Formula{
	Name: "serial-bias-resistance", Title: "largest pull-up and pull-down that hold a quiet serial line at a voltage", Words: "½ × ({supply voltage} × {load of the line} ÷ {wanted voltage} − {load of the line})",
	Inputs: []explain.Parameter{
		{Name: "supply voltage", Kind: quantity.KindVoltage, Help: "of the line's transmitters", Example: "5 V", Default: "5 V"}, idleParameter,
		{Name: "wanted voltage", Kind: quantity.KindVoltage, Help: "between the wires of a quiet line", Example: "200 mV", Default: "200 mV"},
	},
	Result: quantity.KindResistance, Source: explain.Source{Work: "TIA-485-A", Place: "fail-safe bias, by application notes"},
	Compute: explain.Of3(func(v quantity.Voltage, load quantity.Resistance, want quantity.Voltage) (explain.Answer, error) {
		if want <= 0 {
			return explain.Answer{}, above("wanted voltage")
		}
		return explain.Is(quantity.Resistance(0.5 * float64(load) * (float64(v/want) - 1)))
	}),
}

var serialIdle = &explain.Formula{
	Name: "serial-idle-voltage", Title: "voltage between the wires of a quiet serial line", Words: "{supply voltage} × {load of the line} ÷ ({load of the line} + 2 × {bias resistance})",
	Inputs: []explain.Parameter{{Name: "supply voltage", Kind: quantity.KindVoltage, Help: "of the line's transmitters", Example: "5 V", Default: "5 V"}, idleParameter, biasParameter},
	Result: quantity.KindVoltage, Source: explain.Physics("voltage divider"),
	Compute: explain.Of3(func(v quantity.Voltage, load, bias quantity.Resistance) (explain.Answer, error) {
		if load+2*bias <= 0 {
			return explain.Answer{}, above("resistance")
		}
		return explain.Is(quantity.Scale(v, quantity.Factor(load/(load+2*bias))))
	}),
}

var serialTermination = &explain.Formula{
	Name: "serial-termination-beside-receivers", Title: "terminator that gives a line its resistance with receivers in parallel", Words: "{line} ÷ (1 − {line} ÷ {receivers together})",
	Inputs: []explain.Parameter{
		{Name: "line", Kind: quantity.KindResistance, Help: "that the cable wants to see at its end", Example: "100 ohm"},
		{Name: "receivers together", Kind: quantity.KindResistance, Help: "all in parallel", Example: "1200 ohm"},
	},
	Result: quantity.KindResistance, Source: explain.Physics("resistances in parallel"),
	Compute: explain.Of2(func(line, others quantity.Resistance) (explain.Answer, error) {
		if others <= line {
			return explain.Answer{}, fmt.Errorf("the receivers load the line by themselves more than it bears")
		}
		return explain.Is(quantity.Resistance(float64(line) / (1 - float64(line/others))))
	}),
}

var serialTerminationBiased = &explain.Formula{
	Name: "serial-termination-beside-bias", Title: "terminator that gives a line its resistance beside its bias resistors", Words: "2 × {line} × {bias resistance} ÷ (2 × {bias resistance} − {line})",
	Inputs: []explain.Parameter{
		{Name: "line", Kind: quantity.KindResistance, Help: "that the cable wants to see at its end", Example: "120 ohm"}, biasParameter,
	},
	Result: quantity.KindResistance, Source: explain.Physics("resistances in parallel"),
	Compute: explain.Of2(func(line, bias quantity.Resistance) (explain.Answer, error) {
		if 2*bias <= line {
			return explain.Answer{}, fmt.Errorf("the bias resistors load the line by themselves more than it bears")
		}
		return explain.Is(quantity.Resistance(2 * float64(line) * float64(bias) / float64(2*bias-line)))
	}),
}
