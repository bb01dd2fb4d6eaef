package quantity

import "strings"

// System is the user's choice of units for printing: inch-pound or metric.
type System int

// The two unit systems. In both, electrical quantities are shown alike.
const (
	InchUnits System = iota
	MetricUnits
)

// String returns the word that the job file uses: inch or metric.
func (s System) String() string {
	if s == MetricUnits {
		return "metric"
	}
	return "inch"
}

// unit is one way to write a quantity: SI value = number × scale + offset.
type unit struct {
	symbol string   // as printed
	also   []string // further spellings that are read
	scale  float64
	offset float64
	// from is the least SI magnitude at which this unit is chosen for printing, per system; never if negative.
	inch, metric float64
	// digits, if not 0, replaces the kind's significant digits: a run in feet isn't known like a hole in inches.
	digits int
}

// never marks a unit that is read but not chosen for printing in that system.
const never = -1

// kindFacts is what the package knows of a kind.
type kindFacts struct {
	name    string // in words, for messages
	example string // a valid spelling, for messages
	digits  int    // significant digits when printed
	bare    bool   // a number without unit is accepted, in the first unit
	units   []unit // smallest first
}

// kinds lists names, units and printing habits of every numeric kind.
// Conversion factors: NIST SP 811, 2008, appendix B.8 (exact by definition except where a digit string is cut).
var kinds = [kindLimit]kindFacts{
	KindText:      {name: "words", example: "hard-wired"},
	KindConductor: {name: "conductor size", example: "10 AWG"},
	KindRatio: {name: "ratio", example: "25 %", digits: 3, bare: true, units: []unit{
		{symbol: "", also: []string{"x", "×"}, scale: 1, inch: never, metric: never},
		{symbol: "%", also: []string{"percent", "pct"}, scale: 0.01},
	}},
	KindFactor: {name: "factor", example: "1.15", digits: 3, bare: true, units: []unit{
		{symbol: "", also: []string{"x", "×"}, scale: 1},
		{symbol: "%", also: []string{"percent", "pct"}, scale: 0.01, inch: never, metric: never},
	}},
	KindCount: {name: "number", example: "9", digits: 4, bare: true, units: []unit{{symbol: "", scale: 1}}},
	KindVoltage: {name: "voltage", example: "240 V", digits: 3, units: []unit{
		{symbol: "mV", scale: 1e-3, inch: never, metric: never},
		{symbol: "V", also: []string{"v", "volt", "volts", "Vac", "VAC", "V ac", "V AC", "Vdc", "VDC", "V dc", "V DC"}, scale: 1},
		{symbol: "kV", also: []string{"kv"}, scale: 1e3, inch: 10e3, metric: 10e3},
	}},
	KindCurrent: {name: "current", example: "13.2 A", digits: 3, units: []unit{
		{symbol: "mA", also: []string{"ma", "milliamp", "milliamps", "milliampere", "milliamperes"}, scale: 1e-3},
		{symbol: "A", also: []string{"a", "amp", "amps", "ampere", "amperes"}, scale: 1, inch: 0.1, metric: 0.1},
		{symbol: "kA", also: []string{"ka", "kiloamp", "kiloamps"}, scale: 1e3, inch: 1e3, metric: 1e3},
	}},
	KindShaftPower: {name: "shaft power", example: "3 hp", digits: 3, units: []unit{
		{symbol: "W", also: []string{"w", "watt", "watts"}, scale: 1, inch: never},
		{symbol: "hp", also: []string{"HP", "Hp", "horsepower", "bhp"}, scale: float64(Horsepower), metric: never},
		{symbol: "kW", also: []string{"kw", "KW", "kilowatt", "kilowatts"}, scale: 1e3, inch: never, metric: 100},
		{symbol: "PS", also: []string{"ps", "cv", "CV"}, scale: 735.49875, inch: never, metric: never},
	}},
	KindPower: {name: "power", example: "75 W", digits: 3, units: []unit{
		{symbol: "W", also: []string{"w", "watt", "watts"}, scale: 1},
		{symbol: "kW", also: []string{"kw", "KW", "kilowatt", "kilowatts"}, scale: 1e3, inch: 1e4, metric: 1e4},
	}},
	KindApparentPower: {name: "apparent power", example: "25 kVA", digits: 3, units: []unit{
		{symbol: "VA", also: []string{"va"}, scale: 1},
		{symbol: "kVA", also: []string{"kva", "KVA"}, scale: 1e3, inch: 1e3, metric: 1e3},
	}},
	KindFrequency: {name: "frequency", example: "60 Hz", digits: 3, units: []unit{
		{symbol: "Hz", also: []string{"hz", "HZ", "hertz", "cycles", "cps", "~"}, scale: 1},
		{symbol: "kHz", also: []string{"khz", "KHz"}, scale: 1e3, inch: 1e3, metric: 1e3},
	}},
	KindRotation: {name: "shaft speed", example: "1725 rpm", digits: 4, units: []unit{
		{symbol: "rpm", also: []string{"RPM", "r/min", "1/min", "min-1", "rev/min"}, scale: 1.0 / 60},
	}},
	KindSpeed: {name: "speed", example: "4500 ft/min", digits: 3, units: []unit{
		{symbol: "ft/min", also: []string{"fpm", "sfm", "sfpm"}, scale: 0.00508, metric: never},
		{symbol: "m/min", scale: 1.0 / 60, inch: never, metric: never},
		{symbol: "mm/min", scale: 1e-3 / 60, inch: never, metric: never},
		{symbol: "in/min", also: []string{"ipm"}, scale: 0.0254 / 60, inch: never, metric: never},
		{symbol: "m/s", scale: 1, inch: never},
	}},
	KindLength: {name: "length", example: "35 ft or 10-1/2 in", digits: 4, units: []unit{
		{symbol: "mm", also: []string{"millimetre", "millimetres", "millimeter", "millimeters"}, scale: 1e-3, inch: never},
		{symbol: "cm", scale: 1e-2, inch: never, metric: never},
		{symbol: "in", also: []string{"\"", "″", "inch", "inches", "in."}, scale: 0.0254, metric: never},
		{symbol: "ft", also: []string{"'", "′", "foot", "feet", "ft."}, scale: 0.3048, inch: 0.9144, metric: never, digits: 3},
		{symbol: "yd", also: []string{"yard", "yards"}, scale: 0.9144, inch: never, metric: never},
		{symbol: "m", also: []string{"metre", "metres", "meter", "meters"}, scale: 1, inch: never, metric: 1, digits: 3},
	}},
	KindArea: {name: "area", example: "2.5 mm²", digits: 3, units: []unit{
		{symbol: "mm²", also: []string{"mm2", "sq mm", "qmm"}, scale: 1e-6, inch: never},
		{symbol: "in²", also: []string{"in2", "sq in"}, scale: 0.0254 * 0.0254, metric: never},
		{symbol: "cm²", also: []string{"cm2", "sq cm"}, scale: 1e-4, inch: never, metric: never},
		{symbol: "ft²", also: []string{"ft2", "sq ft"}, scale: 0.3048 * 0.3048, inch: 0.09290304, metric: never},
		{symbol: "m²", also: []string{"m2", "sq m"}, scale: 1, inch: never, metric: 0.1},
	}},
	KindResistance: {name: "resistance", example: "0.8 ohm", digits: 3, units: []unit{
		{symbol: "mΩ", also: []string{"m\u2126", "mohm", "mohms", "milliohm", "milliohms"}, scale: 1e-3},
		{symbol: "Ω", also: []string{"\u2126", "ohm", "ohms", "Ohm", "Ohms", "R"}, scale: 1, inch: 0.1, metric: 0.1},
		{symbol: "kΩ", also: []string{"k\u2126", "kohm", "kohms", "kOhm", "kilohm", "kilohms", "k"}, scale: 1e3, inch: 1e3, metric: 1e3},
		{symbol: "MΩ", also: []string{"M\u2126", "Mohm", "Mohms", "MOhm", "megohm", "megohms", "Megohm", "Megohms", "meg"}, scale: 1e6, inch: 1e6, metric: 1e6},
		{symbol: "GΩ", also: []string{"G\u2126", "Gohm", "Gohms", "GOhm", "gigohm", "gigohms"}, scale: 1e9, inch: 1e9, metric: 1e9},
	}},
	KindLinearResistance: {name: "resistance per length", example: "1.24 ohm/kft", digits: 3, units: []unit{
		{symbol: "Ω/km", also: []string{"\u2126/km", "ohm/km", "mohm/m", "mΩ/m", "m\u2126/m"}, scale: 1e-3, inch: never},
		{symbol: "Ω/kft", also: []string{"\u2126/kft", "ohm/kft", "ohm/1000 ft", "Ω/1000 ft", "\u2126/1000 ft"}, scale: 1 / 304.8, metric: never},
	}},
	KindInductance: {name: "inductance", example: "2 mH", digits: 3, units: []unit{
		{symbol: "µH", also: []string{"uH", "μH"}, scale: 1e-6},
		{symbol: "mH", scale: 1e-3, inch: 1e-3, metric: 1e-3},
		{symbol: "H", scale: 1, inch: 1, metric: 1},
	}},
	KindCapacitance: {name: "capacitance", example: "1000 uF", digits: 3, units: []unit{
		{symbol: "nF", scale: 1e-9},
		{symbol: "µF", also: []string{"uF", "μF", "mfd", "MFD"}, scale: 1e-6, inch: 1e-6, metric: 1e-6},
		{symbol: "mF", scale: 1e-3, inch: never, metric: never},
		{symbol: "F", scale: 1, inch: never, metric: never},
	}},
	KindTemperature: {name: "temperature", example: "75 °F or 40 °C", digits: 3, units: []unit{
		{symbol: "°C", also: []string{"C", "degC", "deg C", "º C", "ºC"}, scale: 1, inch: never},
		{symbol: "°F", also: []string{"F", "degF", "deg F", "ºF"}, scale: 1 / 1.8, offset: -32 / 1.8, metric: never},
	}},
	// Nameplates and data sheets give a rise in kelvin or degrees Celsius on both sides of the ocean; °F is only read.
	KindTemperatureRise: {name: "temperature rise", example: "40 K", digits: 3, units: []unit{
		{symbol: "K", also: []string{"k", "C°"}, scale: 1, inch: never},
		{symbol: "°C", also: []string{"C", "degC", "deg C"}, scale: 1, metric: never},
		{symbol: "°F", also: []string{"F°", "F", "degF", "deg F"}, scale: 1 / 1.8, inch: never, metric: never},
	}},
	KindDuration: {name: "time", example: "30 s", digits: 3, units: []unit{
		{symbol: "µs", also: []string{"us", "μs"}, scale: 1e-6},
		{symbol: "ms", also: []string{"msec"}, scale: 1e-3, inch: 1e-3, metric: 1e-3},
		{symbol: "s", also: []string{"sec", "second", "seconds"}, scale: 1, inch: 0.1, metric: 0.1},
		{symbol: "min", also: []string{"minute", "minutes"}, scale: 60, inch: 180, metric: 180},
		{symbol: "h", also: []string{"hr", "hour", "hours"}, scale: 3600, inch: 7200, metric: 7200},
	}},
	KindEnergy: {name: "energy", example: "500 J", digits: 3, units: []unit{
		{symbol: "J", also: []string{"joule", "joules"}, scale: 1},
		{symbol: "kJ", scale: 1e3, inch: 1e3, metric: 1e3},
		{symbol: "Wh", scale: 3600, inch: never, metric: never},
		{symbol: "kWh", scale: 3.6e6, inch: 3.6e6, metric: 3.6e6},
	}},
	KindTorque: {name: "torque", example: "15 lbf·ft", digits: 3, units: []unit{
		{symbol: "lbf·in", also: []string{"lb-in", "in-lb", "lbf in", "lb in", "in·lbf", "in lb"}, scale: 0.1129848290276167, metric: never},
		{symbol: "lbf·ft", also: []string{"lb-ft", "ft-lb", "lbf ft", "lb ft", "ft·lbf", "ft lb"}, scale: 1.3558179483314004, inch: 1.3558179483314004, metric: never},
		{symbol: "N·m", also: []string{"Nm", "N m"}, scale: 1, inch: never},
	}},
	KindMass: {name: "mass", example: "20 lb", digits: 3, units: []unit{
		{symbol: "g", scale: 1e-3, inch: never},
		{symbol: "oz", scale: 0.028349523125, metric: never},
		{symbol: "lb", also: []string{"lbs", "pound", "pounds", "lbm"}, scale: 0.45359237, inch: 0.45359237, metric: never},
		{symbol: "kg", also: []string{"kilo", "kilos"}, scale: 1, inch: never, metric: 1},
	}},
	KindInertia: {name: "moment of inertia", example: "0.7 lb·ft²", digits: 3, units: []unit{
		{symbol: "lb·ft²", also: []string{"lb ft2", "lb-ft2", "lb·ft2", "WK2"}, scale: 0.042140110093, metric: never},
		{symbol: "kg·m²", also: []string{"kg m2", "kgm2", "kg·m2", "kg m²"}, scale: 1, inch: never},
	}},
	KindForce: {name: "force", example: "50 lbf", digits: 3, units: []unit{
		{symbol: "N", scale: 1, inch: never},
		{symbol: "lbf", scale: 4.4482216152605, metric: never},
		{symbol: "kN", scale: 1e3, inch: never, metric: 1e4},
	}},
	KindAirFlow: {name: "air flow", example: "25 cfm", digits: 3, units: []unit{
		{symbol: "cfm", also: []string{"CFM", "ft³/min", "ft3/min"}, scale: 0.3048 * 0.3048 * 0.3048 / 60, metric: never},
		{symbol: "m³/h", also: []string{"m3/h"}, scale: 1.0 / 3600, inch: never},
		{symbol: "L/s", also: []string{"l/s"}, scale: 1e-3, inch: never, metric: never},
	}},
	KindPressure: {name: "pressure or stress", example: "8000 psi", digits: 3, units: []unit{
		{symbol: "Pa", scale: 1, inch: never},
		{symbol: "in H₂O", also: []string{"inH2O", "in H2O", "in wg", "inches of water"}, scale: 249.08891, metric: never},
		{symbol: "psi", also: []string{"lbf/in²", "lbf/in2"}, scale: 6894.757293168361, inch: 2500, metric: never},
		{symbol: "kPa", scale: 1e3, inch: never, metric: 1e3},
		{symbol: "MPa", also: []string{"N/mm²", "N/mm2"}, scale: 1e6, inch: never, metric: 1e6},
	}},
	KindMoney: {name: "price", example: "350", digits: 3, bare: true, units: []unit{{symbol: "", scale: 1}}},
	// Per degree Celsius on both sides of the ocean, as a rise is shown.
	KindHeatTransfer: {name: "heat transfer", example: "5.5 W/(m²·K)", digits: 3, units: []unit{
		{symbol: "W/(m²·K)", also: []string{"W/m²K", "W/m2K", "W/m²·K", "W/m2·K"}, scale: 1, inch: never},
		{symbol: "W/(ft²·°C)", also: []string{"W/ft2C", "W/ft²°C"}, scale: 1 / (0.3048 * 0.3048), metric: never},
	}},
	KindConductance: {name: "heat conductance", example: "4.2 W/K", digits: 3, units: []unit{
		{symbol: "W/K", scale: 1, inch: never},
		{symbol: "W/°C", also: []string{"W/C"}, scale: 1, metric: never},
	}},
	KindIrradiance: {name: "sunshine", example: "800 W/m²", digits: 3, units: []unit{
		{symbol: "W/m²", also: []string{"W/m2"}, scale: 1, inch: never},
		{symbol: "W/ft²", also: []string{"W/ft2"}, scale: 1 / (0.3048 * 0.3048), metric: never},
	}},
}

// String returns the kind in words, such as "voltage".
func (k Kind) String() string {
	if k < 0 || k >= kindLimit {
		return "unknown kind"
	}
	return kinds[k].name
}

// WithArticle returns the kind in words behind its article: "a voltage", "an area".
func (k Kind) WithArticle() string {
	name := k.String()
	if strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}

// Example returns a valid spelling of a value of kind k, such as "240 V".
func (k Kind) Example() string {
	if k < 0 || k >= kindLimit {
		return ""
	}
	return kinds[k].example
}

// Units returns the unit symbols that are read for kind k, the printed spelling of each.
func (k Kind) Units() []string {
	var symbols []string
	for _, u := range kinds[k].units {
		if u.symbol != "" {
			symbols = append(symbols, u.symbol)
		}
	}
	return symbols
}
