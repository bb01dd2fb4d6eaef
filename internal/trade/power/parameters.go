package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// The parameters that several formulas share, so that one thing bears one name and one explanation on every manual page.

// Of the motor.
var (
	frequencyParameter      = explain.Parameter{Name: "frequency", Kind: quantity.KindFrequency, Help: "on the nameplate", Example: "60 Hz"}
	plateFrequencyParameter = explain.Parameter{Name: "plate frequency", Kind: quantity.KindFrequency, Help: "on the motor", Example: "60 Hz"}
	speedParameter          = explain.Parameter{Name: "full-load speed", Kind: quantity.KindRotation, Help: "on the nameplate", Example: "1725 rpm"}
	powerParameter          = explain.Parameter{Name: "motor power", Kind: quantity.KindShaftPower, Help: "on the nameplate", Example: "3 hp"}
	motorVoltageParameter   = explain.Parameter{Name: "motor voltage", Kind: quantity.KindVoltage, Help: "nameplate voltage of the connection in use", Example: "230 V"}
	motorCurrentParameter   = explain.Parameter{Name: "motor current", Kind: quantity.KindCurrent, Help: "nameplate full-load current at that voltage", Example: "13.2 A"}
	tableCurrentParameter   = explain.Parameter{Name: "motor table current", Kind: quantity.KindCurrent, Help: "full-load current from the code's table", Example: "9.6 A"}
	codeLetterParameter     = explain.Parameter{Name: "code letter", Kind: quantity.KindText, Help: "CODE on the nameplate", Example: "G"}
	enclosureParameter      = explain.Parameter{Name: "enclosure", Kind: quantity.KindText, Help: "how the motor is cooled", Example: "TEFC", Default: "TEFC", Choices: enclosureChoices}
)

// Of the drive.
var (
	outputFrequencyParameter = explain.Parameter{Name: "frequency", Kind: quantity.KindFrequency, Help: "drive output", Example: "20 Hz"}
	availableParameter       = explain.Parameter{Name: "available voltage", Kind: quantity.KindVoltage, Help: "most the drive can make", Example: "230 V"}
	outputCurrentParameter   = explain.Parameter{Name: "motor current", Kind: quantity.KindCurrent, Help: "that the drive puts out", Example: "9.6 A"}
	driveInputParameter      = explain.Parameter{Name: "drive input current", Kind: quantity.KindCurrent, Help: "rated input current of the drive, never the motor's current", Example: "23 A"}
	amperesInParameter       = explain.Parameter{Name: "amperes in per ampere out", Kind: quantity.KindFactor, Help: "2.1; 1.8 with a choke", Example: "2.1", Default: "2.1"}
	driveOverloadParameter   = explain.Parameter{Name: "overload", Kind: quantity.KindRatio, Help: "the drive's own limit for a minute; a drive never passes the locked-rotor current on", Example: "150 %", Default: "150 %"}
	capacitanceParameter     = explain.Parameter{Name: "capacitance", Kind: quantity.KindCapacitance, Help: "of the DC link", Example: "1360 uF"}
)

// Of the supply and its wires.
var (
	supplyVoltageParameter      = explain.Parameter{Name: "supply voltage", Kind: quantity.KindVoltage, Help: "between the supply conductors", Example: "240 V"}
	otherLoadsParameter         = explain.Parameter{Name: "other loads", Kind: quantity.KindCurrent, Help: "what else hangs on the circuit", Example: "1.5 A", Default: "0 A"}
	lineCurrentParameter        = explain.Parameter{Name: "current", Kind: quantity.KindCurrent, Help: "in the line", Example: "23 A"}
	lengthParameter             = explain.Parameter{Name: "length", Kind: quantity.KindLength, Help: "one way", Example: "60 ft"}
	warmImpedanceParameter      = explain.Parameter{Name: "impedance per length", Kind: quantity.KindLinearResistance, Help: "of one conductor, warm", Example: "1.24 ohm/kft"}
	copperParameter             = explain.Parameter{Name: "K", Kind: quantity.KindFactor, Help: "ohm circular mil per foot: 12.9 for copper at 75 °C", Example: "12.9", Default: "12.9"}
	leastAmpacityParameter      = explain.Parameter{Name: "least ampacity", Kind: quantity.KindCurrent, Help: "that is asked for", Example: "28.75 A"}
	transformerParameter        = explain.Parameter{Name: "transformer", Kind: quantity.KindApparentPower, Help: "its rating", Example: "25 kVA"}
	transformerVoltageParameter = explain.Parameter{Name: "voltage", Kind: quantity.KindVoltage, Help: "between lines, at the shop's side", Example: "240 V"}
	conductorsAreaParameter     = explain.Parameter{Name: "area of the conductors", Kind: quantity.KindArea, Help: "all of them, over their insulation", Example: "0.0633 in²"}
	tradeSizeParameter          = explain.Parameter{Name: "trade size", Kind: quantity.KindText, Help: "in the trade's inches", Example: "3/4", Choices: racewaySizeWords}
	phasesParameter             = explain.Parameter{Name: "phases", Kind: quantity.KindCount, Help: "1: there and back; 3: √3", Example: "1", Default: "1"}
	sizeParameter               = explain.Parameter{Name: "conductor", Kind: quantity.KindConductor, Help: "size of the copper conductor", Example: "10 AWG"}
	insulationParameter         = explain.Parameter{Name: "insulation", Kind: quantity.KindText, Help: "letters printed on the wire or cable", Example: "THHN", Choices: buildingWire}
	terminalParameter           = explain.Parameter{Name: "terminal temperature", Kind: quantity.KindText, Help: "lowest temperature marked at either end", Example: "75 °C", Default: "60 °C", Choices: []string{"60 °C", "75 °C"}}
	ambientParameter            = explain.Parameter{Name: "ambient", Kind: quantity.KindTemperature, Help: "hottest air along the run", Example: "38 °C", Default: "30 °C"}
	togetherParameter           = explain.Parameter{Name: "wires together", Kind: quantity.KindCount, Help: "current-carrying conductors in the same raceway or bundle", Example: "6", Default: "2"}
	columnParameter             = explain.Parameter{Name: "insulation temperature", Kind: quantity.KindText, Help: "column of the ampacity table", Example: "75 °C", Choices: []string{"60 °C", "75 °C", "90 °C"}}
)

// buildingWire lists the letters that a wall's wire or cable may bear.
var buildingWire = []string{"THHN", "THWN-2", "THWN", "THW", "XHHW-2", "TW", "NM-B", "UF-B", "MC"}
