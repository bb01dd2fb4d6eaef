package power

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// shown prints a quantity inside a refusal, where no unit system is known.
func shown(v quantity.Value) string { return v.Show(quantity.InchUnits) }

// The columns of the ampacity table are words: terminals and insulation are marked in °C everywhere, and a mechanic looks for
// that marking.
const (
	column60 quantity.Text = "60 °C"
	column75 quantity.Text = "75 °C"
	column90 quantity.Text = "90 °C"
)

// columnOf is the temperature of a column; zero for any other words.
func columnOf(t quantity.Text) quantity.Temperature {
	switch t {
	case column60:
		return 60
	case column75:
		return 75
	case column90:
		return 90
	}
	return 0
}

// columnWord is the column for a temperature, the next lower one for a temperature between two; "" below 60 °C.
func columnWord(t quantity.Temperature) quantity.Text {
	switch {
	case t >= 90:
		return column90
	case t >= 75:
		return column75
	case t >= 60:
		return column60
	}
	return ""
}

var loadCurrent = &explain.Formula{
	Name: "load-current", Title: "current of a load from its volt-amperes", Words: "{volt-amperes} ÷ {voltage}",
	Inputs: []explain.Parameter{
		{Name: "volt-amperes", Kind: quantity.KindApparentPower, Help: "from its plate", Example: "60 VA"},
		{Name: "voltage", Kind: quantity.KindVoltage, Help: "that it runs on", Example: "120 V"},
	},
	Result: quantity.KindCurrent, Source: explain.Physics("apparent power"),
	Compute: explain.Of2(func(s quantity.ApparentPower, v quantity.Voltage) (explain.Answer, error) {
		if v <= 0 {
			return explain.Answer{}, fmt.Errorf("the voltage must be above zero")
		}
		return explain.Is(quantity.Current(float64(s) / float64(v)))
	}),
}

var circuitCurrent = &explain.Formula{
	Name: "circuit-current", Title: "current of the branch circuit with everything on it", Words: "{drive input current} + {other loads}",
	Inputs: []explain.Parameter{
		driveInputParameter,
		otherLoadsParameter,
	},
	Result: quantity.KindCurrent, Source: explain.Physics("currents of loads side by side add"),
	Compute: explain.Of2(func(drive, others quantity.Current) (explain.Answer, error) {
		if others == 0 {
			return explain.Answer{Value: drive, Words: "{drive input current}, with nothing else on the circuit"}, nil
		}
		return explain.Is(drive + others)
	}),
}

var driveConductorAmpacity = &explain.Formula{
	Name: "drive-conductor-ampacity", Title: "least ampacity of the conductors that feed a drive",
	Words: "{factor} × {drive input current} + {other loads}",
	Inputs: []explain.Parameter{
		driveInputParameter,
		{Name: "factor", Kind: quantity.KindRatio, Help: "125 % by NFPA 70", Example: "125 %", Default: "125 %"},
		otherLoadsParameter,
	},
	Result: quantity.KindCurrent, Source: explain.NEC("430.122(A) and 430.24"),
	Compute: explain.Of3(scaledWithOthers),
}

// scaledWithOthers is {factor} × {drive input current} + {other loads}.
func scaledWithOthers(drive quantity.Current, factor quantity.Ratio, others quantity.Current) (explain.Answer, error) {
	if others == 0 {
		return explain.Answer{Value: quantity.Scale(drive, factor), Words: "{factor} × {drive input current}"}, nil
	}
	return explain.Is(quantity.Scale(drive, factor) + others)
}

var markedTerminal = &explain.Formula{
	Name: "marked-terminal", Title: "terminal temperature that may be used", Words: "{marked temperature}, but 75 °C at most",
	Inputs: []explain.Parameter{{Name: "marked temperature", Kind: quantity.KindTemperature, Help: "lowest marking at breaker, receptacle and drive", Example: "75 °C"}},
	Result: quantity.KindText, Source: explain.NEC("110.14(C)"),
	Compute: explain.Of1(func(t quantity.Temperature) (explain.Answer, error) {
		if column := columnWord(min(t, 75)); column != "" {
			return explain.Is(column)
		}
		return explain.Answer{}, fmt.Errorf("no terminal is marked below 60 °C")
	}),
}

var unmarkedTerminal = &explain.Formula{
	Name: "unmarked-terminal", Title: "terminal temperature to take where nothing is marked",
	Words:  "60 °C where {circuit current} is not above 100 A, else 75 °C",
	Inputs: []explain.Parameter{{Name: "circuit current", Kind: quantity.KindCurrent, Help: "least ampacity asked for", Example: "30 A"}},
	Result: quantity.KindText, Source: explain.NEC("110.14(C)(1)(a)"),
	Compute: explain.Of1(func(i quantity.Current) (explain.Answer, error) {
		note := explain.Say("no marking was written: look on the breaker, the receptacle and the drive; 75 °C often allows a smaller wire")
		if i > 100 {
			return explain.Answer{Value: column75, Note: note, Words: "75 °C, as {circuit current} is above 100 A"}, nil
		}
		return explain.Answer{Value: column60, Note: note, Words: "60 °C, as {circuit current} is not above 100 A"}, nil
	}),
}

var insulationColumn = &explain.Formula{
	Name: "insulation-temperature", Title: "temperature column from which corrections start", Words: "column of {insulation}, dry place",
	Inputs: []explain.Parameter{insulationParameter},
	Result: quantity.KindText, Source: explain.NEC("Table 310.4(1)").Remembered(),
	Compute: explain.Of1(func(letters quantity.Text) (explain.Answer, error) {
		i, ok := catalogue.InsulationOf(string(letters))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the insulation %s isn't in the table", letters)
		}
		return explain.Answer{Value: columnWord(i.Starts), Looked: true, Source: i.Source}, nil
	}),
}

var finalColumn = &explain.Formula{
	Name: "final-temperature-column", Title: "hottest ampacity column that may be used in the end",
	Words:  "the lower of {terminal temperature} and the column of {insulation}; NM-B and UF-B never above 60 °C",
	Inputs: []explain.Parameter{insulationParameter, terminalParameter},
	Result: quantity.KindText, Source: explain.NEC("110.14(C), 334.80 and 340.80").Remembered(),
	Compute: explain.Of2(func(letters, terminals quantity.Text) (explain.Answer, error) {
		i, ok := catalogue.InsulationOf(string(letters))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the insulation %s isn't in the table", letters)
		}
		return explain.Is(columnWord(min(i.Ends, columnOf(terminals))))
	}),
}

var conductorAmpacity = &explain.Formula{
	Name: "conductor-ampacity", Title: "ampacity of a copper conductor from the table", Words: "table current of {conductor} at {insulation temperature}",
	Inputs: []explain.Parameter{sizeParameter, columnParameter},
	Result: quantity.KindCurrent, Source: explain.NEC("Table 310.16"),
	Compute: explain.Of2(func(size quantity.Conductor, column quantity.Text) (explain.Answer, error) {
		i, source, ok := catalogue.Ampacity(size, columnOf(column))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no %s copper conductor at %s", shown(size), column)
		}
		return explain.Answer{Value: i, Looked: true, Source: source}, nil
	}),
}

var ampacityCorrection = &explain.Formula{
	Name: "ampacity-correction", Title: "factor on the ampacity for the air around the conductor",
	Words:  "table factor at {ambient} for {insulation temperature}",
	Inputs: []explain.Parameter{ambientParameter, columnParameter},
	Result: quantity.KindFactor, Source: explain.NEC("Table 310.15(B)(1)(1)"),
	Compute: explain.Of2(func(ambient quantity.Temperature, column quantity.Text) (explain.Answer, error) {
		f, source, ok := catalogue.AmpacityCorrection(ambient, columnOf(column))
		if !ok {
			return explain.Answer{}, fmt.Errorf("%s insulation may not be used in air of %.0f °C", column, float64(ambient))
		}
		return explain.Answer{Value: f, Looked: true, Source: source}, nil
	}),
}

var ampacityAdjustment = &explain.Formula{
	Name: "ampacity-adjustment", Title: "part of the ampacity that is left with conductors together", Words: "table percentage for {wires together}",
	Inputs: []explain.Parameter{togetherParameter},
	Result: quantity.KindRatio, Source: explain.NEC("Table 310.15(C)(1)"),
	Compute: explain.Of1(func(together quantity.Count) (explain.Answer, error) {
		if together < 1 {
			return explain.Answer{}, fmt.Errorf("there is at least one conductor")
		}
		share, source := catalogue.AmpacityAdjustment(together)
		return explain.Answer{Value: share, Looked: true, Source: source}, nil
	}),
}

var correctedAmpacity = &explain.Formula{
	Name: "corrected-ampacity", Title: "ampacity after correction and adjustment", Words: "{ampacity} × {correction} × {adjustment}",
	Inputs: []explain.Parameter{
		{Name: "ampacity", Kind: quantity.KindCurrent, Help: "from the table, at the insulation's own temperature", Example: "40 A"},
		{Name: "correction", Kind: quantity.KindFactor, Help: "for the air around", Example: "0.91", Default: "1"},
		{Name: "adjustment", Kind: quantity.KindRatio, Help: "for conductors together", Example: "80 %", Default: "100 %"},
	},
	Result: quantity.KindCurrent, Source: explain.NEC("310.15"),
	Compute: explain.Of3(func(i quantity.Current, f quantity.Factor, a quantity.Ratio) (explain.Answer, error) {
		return explain.Is(quantity.Scale(quantity.Scale(i, f), a))
	}),
}

var installedAmpacity = &explain.Formula{
	Name: "installed-ampacity", Title: "ampacity of a conductor as installed", Words: "the lower of {corrected ampacity} and {terminal ampacity}",
	Inputs: []explain.Parameter{
		{Name: "corrected ampacity", Kind: quantity.KindCurrent, Help: "after correction and adjustment", Example: "29.1 A"},
		{Name: "terminal ampacity", Kind: quantity.KindCurrent, Help: "of the same size in the column that the terminals allow", Example: "35 A"},
	},
	Result: quantity.KindCurrent, Source: explain.NEC("110.14(C)"),
	Compute: explain.Of2(func(corrected, terminals quantity.Current) (explain.Answer, error) {
		return explain.Is(min(corrected, terminals))
	}),
}

var smallestBranchConductor = &explain.Formula{
	Name: "smallest-branch-conductor", Title: "smallest copper conductor that passes as installed",
	Words: "the smallest with ampacity of {least ampacity} or more ({insulation}, terminals {terminal temperature}, air {ambient}, {wires together} together) " +
		"that {overcurrent device} may protect",
	Inputs: []explain.Parameter{
		leastAmpacityParameter,
		{Name: "overcurrent device", Kind: quantity.KindCurrent, Help: "ahead of the conductor", Example: "30 A"},
		insulationParameter, terminalParameter, ambientParameter, togetherParameter,
	},
	Result: quantity.KindConductor, Source: explain.NEC("310.16, 310.15, 110.14(C), 240.4"),
	Compute: explain.Of6(func(least, device quantity.Current, letters, terminals quantity.Text, ambient quantity.Temperature, together quantity.Count) (explain.Answer, error) {
		i, ok := catalogue.InsulationOf(string(letters))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the insulation %s isn't in the table", letters)
		}
		for _, size := range catalogue.ConductorSizes() {
			amperes, ok := installed(size, i, columnOf(terminals), ambient, together)
			if !ok {
				return explain.Answer{}, fmt.Errorf("%s may not be used in air of %.0f °C", letters, float64(ambient))
			}
			if covers(amperes, least) && suits(size, amperes, device) {
				return explain.Answer{Value: size, Note: explain.Say("it carries {} as installed", amperes)}, nil
			}
		}
		return explain.Answer{}, fmt.Errorf("no single conductor of the table carries %s here", shown(least))
	}),
}
