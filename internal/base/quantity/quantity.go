// Package quantity holds the physical quantities of the job: one type for each kind, SI units inside, so that a
// length can't be added to a current. Units exist only where text is read (parse.go) and printed (show.go).
//
// It does no engineering. Begin with Kind (what there is), Parse (text to value) and Value.Show (value to text).
package quantity

// Kind names a physical quantity, or one of the two non-numeric kinds of value: Text and Conductor.
type Kind int

// The kinds of value. Each comment gives the SI unit that a value of that kind holds.
const (
	KindText             Kind = iota // words, no unit
	KindConductor                    // a conductor size such as 10 AWG
	KindRatio                        // pure number shown as a percentage, 1 = 100 %
	KindFactor                       // pure number shown as it is, such as a service factor of 1.15
	KindCount                        // whole or decimal number of things, no unit
	KindVoltage                      // volt
	KindCurrent                      // ampere
	KindShaftPower                   // watt, at a shaft; shown in hp or kW
	KindPower                        // watt, electrical or heat
	KindApparentPower                // volt-ampere
	KindFrequency                    // hertz
	KindRotation                     // revolution per second; shown in rpm
	KindSpeed                        // metre per second
	KindLength                       // metre
	KindArea                         // square metre
	KindResistance                   // ohm
	KindLinearResistance             // ohm per metre
	KindInductance                   // henry
	KindCapacitance                  // farad
	KindTemperature                  // kelvin above 0 °C, that is degree Celsius
	KindTemperatureRise              // kelvin
	KindDuration                     // second
	KindEnergy                       // joule
	KindTorque                       // newton metre
	KindMass                         // kilogram
	KindInertia                      // kilogram square metre
	KindForce                        // newton
	KindAirFlow                      // cubic metre per second
	KindPressure                     // pascal; also the stress in a bolt
	KindMoney                        // the job's own currency
	KindHeatTransfer                 // watt per square metre and kelvin
	KindConductance                  // watt per kelvin, of heat
	KindIrradiance                   // watt per square metre, of sunshine
	kindLimit
)

// Value is anything that a reason can hold: a quantity, a conductor size or words.
type Value interface {
	Kind() Kind
	// Show prints the value with its unit in the user's unit system, sensibly rounded.
	Show(System) string
}

// Number is a Value that is a real number in SI units.
type Number interface {
	Value
	~float64
}

// The quantities. Each holds the SI unit named beside its Kind.
type (
	Ratio            float64
	Factor           float64
	Count            float64
	Voltage          float64
	Current          float64
	ShaftPower       float64
	Power            float64
	ApparentPower    float64
	Frequency        float64
	Rotation         float64
	Speed            float64
	Length           float64
	Area             float64
	Resistance       float64
	LinearResistance float64
	Inductance       float64
	Capacitance      float64
	Temperature      float64
	TemperatureRise  float64
	Duration         float64
	Energy           float64
	Torque           float64
	Mass             float64
	Inertia          float64
	Force            float64
	AirFlow          float64
	Pressure         float64
	Money            float64
	HeatTransfer     float64
	Conductance      float64
	Irradiance       float64
)

// Text is a value in words, such as "delta, low-voltage connection".
type Text string

// Units for writing quantities in code: 3 * quantity.Horsepower. Exact by definition except where said.
const (
	Percent Ratio = 0.01

	Volt        Voltage = 1
	Ampere      Current = 1
	Milliampere Current = 1e-3

	// Horsepower is the mechanical horsepower, 550 ft·lbf/s. Source: NIST SP 811, 2008, B.8.
	Horsepower      ShaftPower       = 745.69987158227022
	Kilowatt        ShaftPower       = 1000
	Watt            Power            = 1
	VoltAmpere      ApparentPower    = 1
	Hertz           Frequency        = 1
	RevPerMinute    Rotation         = 1.0 / 60
	Metre           Length           = 1
	Millimetre      Length           = 1e-3
	Inch            Length           = 0.0254
	Foot            Length           = 0.3048
	SquareInch      Area             = 0.0254 * 0.0254
	SquareMM        Area             = 1e-6
	CircularMil     Area             = 5.0670747909749778e-10 // π/4 · (0.001 in)²
	Ohm             Resistance       = 1
	Megohm          Resistance       = 1e6
	OhmPerKilofoot  LinearResistance = 1 / 304.8
	OhmPerKilometre LinearResistance = 1e-3
	Millihenry      Inductance       = 1e-3
	Microfarad      Capacitance      = 1e-6
	Kelvin          TemperatureRise  = 1
	Second          Duration         = 1
	Minute          Duration         = 60
	Hour            Duration         = 3600
	Joule           Energy           = 1
)

// Celsius returns the temperature of t degrees Celsius.
func Celsius(t float64) Temperature { return Temperature(t) }

// Fahrenheit returns the temperature of t degrees Fahrenheit.
func Fahrenheit(t float64) Temperature { return Temperature((t - 32) / 1.8) }

// Rise returns how much warmer a is than b.
func Rise(a, b Temperature) TemperatureRise { return TemperatureRise(a - b) }

// Warmer returns the temperature that is the rise d above t.
func (q Temperature) Warmer(d TemperatureRise) Temperature { return q + Temperature(d) }

// Scale returns q times the pure number r.
func Scale[Q Number, R Ratio | Factor](q Q, r R) Q { return q * Q(r) }

// Part returns how many times b goes into a; NaN when both are zero, infinite when b is.
func Part[Q Number](a, b Q) Ratio { return Ratio(float64(a) / float64(b)) }

// Drop returns the voltage across the resistance r at the current i.
func Drop(i Current, r Resistance) Voltage { return Voltage(float64(i) * float64(r)) }

// Over returns the resistance of the length l of a conductor.
func (q LinearResistance) Over(l Length) Resistance { return Resistance(float64(q) * float64(l)) }

// Apparent returns the apparent power at voltage v and current i of a single-phase circuit.
func Apparent(v Voltage, i Current) ApparentPower { return ApparentPower(float64(v) * float64(i)) }

// SI returns the number that v holds in SI units, and whether v is a number at all.
func SI(v Value) (float64, bool) {
	switch q := v.(type) {
	case Ratio:
		return float64(q), true
	case Factor:
		return float64(q), true
	case Count:
		return float64(q), true
	case Voltage:
		return float64(q), true
	case Current:
		return float64(q), true
	case ShaftPower:
		return float64(q), true
	case Power:
		return float64(q), true
	case ApparentPower:
		return float64(q), true
	case Frequency:
		return float64(q), true
	case Rotation:
		return float64(q), true
	case Speed:
		return float64(q), true
	case Length:
		return float64(q), true
	case Area:
		return float64(q), true
	case Resistance:
		return float64(q), true
	case LinearResistance:
		return float64(q), true
	case Inductance:
		return float64(q), true
	case Capacitance:
		return float64(q), true
	case Temperature:
		return float64(q), true
	case TemperatureRise:
		return float64(q), true
	case Duration:
		return float64(q), true
	case Energy:
		return float64(q), true
	case Torque:
		return float64(q), true
	case Mass:
		return float64(q), true
	case Inertia:
		return float64(q), true
	case Force:
		return float64(q), true
	case AirFlow:
		return float64(q), true
	case Pressure:
		return float64(q), true
	case Money:
		return float64(q), true
	case HeatTransfer:
		return float64(q), true
	case Conductance:
		return float64(q), true
	case Irradiance:
		return float64(q), true
	}
	return 0, false
}

// Of returns the value of the given kind that holds the SI number si. For KindText and KindConductor it returns nil.
func Of(k Kind, si float64) Value {
	switch k {
	case KindRatio:
		return Ratio(si)
	case KindFactor:
		return Factor(si)
	case KindCount:
		return Count(si)
	case KindVoltage:
		return Voltage(si)
	case KindCurrent:
		return Current(si)
	case KindShaftPower:
		return ShaftPower(si)
	case KindPower:
		return Power(si)
	case KindApparentPower:
		return ApparentPower(si)
	case KindFrequency:
		return Frequency(si)
	case KindRotation:
		return Rotation(si)
	case KindSpeed:
		return Speed(si)
	case KindLength:
		return Length(si)
	case KindArea:
		return Area(si)
	case KindResistance:
		return Resistance(si)
	case KindLinearResistance:
		return LinearResistance(si)
	case KindInductance:
		return Inductance(si)
	case KindCapacitance:
		return Capacitance(si)
	case KindTemperature:
		return Temperature(si)
	case KindTemperatureRise:
		return TemperatureRise(si)
	case KindDuration:
		return Duration(si)
	case KindEnergy:
		return Energy(si)
	case KindTorque:
		return Torque(si)
	case KindMass:
		return Mass(si)
	case KindInertia:
		return Inertia(si)
	case KindForce:
		return Force(si)
	case KindAirFlow:
		return AirFlow(si)
	case KindPressure:
		return Pressure(si)
	case KindMoney:
		return Money(si)
	case KindHeatTransfer:
		return HeatTransfer(si)
	case KindConductance:
		return Conductance(si)
	case KindIrradiance:
		return Irradiance(si)
	case KindText, KindConductor, kindLimit:
	}
	return nil
}

// KindOf returns the kind of the type V, for instance KindVoltage for Voltage.
func KindOf[V Value]() Kind {
	var v V
	return v.Kind()
}

func (Text) Kind() Kind             { return KindText }
func (Ratio) Kind() Kind            { return KindRatio }
func (Factor) Kind() Kind           { return KindFactor }
func (Count) Kind() Kind            { return KindCount }
func (Voltage) Kind() Kind          { return KindVoltage }
func (Current) Kind() Kind          { return KindCurrent }
func (ShaftPower) Kind() Kind       { return KindShaftPower }
func (Power) Kind() Kind            { return KindPower }
func (ApparentPower) Kind() Kind    { return KindApparentPower }
func (Frequency) Kind() Kind        { return KindFrequency }
func (Rotation) Kind() Kind         { return KindRotation }
func (Speed) Kind() Kind            { return KindSpeed }
func (Length) Kind() Kind           { return KindLength }
func (Area) Kind() Kind             { return KindArea }
func (Resistance) Kind() Kind       { return KindResistance }
func (LinearResistance) Kind() Kind { return KindLinearResistance }
func (Inductance) Kind() Kind       { return KindInductance }
func (Capacitance) Kind() Kind      { return KindCapacitance }
func (Temperature) Kind() Kind      { return KindTemperature }
func (TemperatureRise) Kind() Kind  { return KindTemperatureRise }
func (Duration) Kind() Kind         { return KindDuration }
func (Energy) Kind() Kind           { return KindEnergy }
func (Torque) Kind() Kind           { return KindTorque }
func (Mass) Kind() Kind             { return KindMass }
func (Inertia) Kind() Kind          { return KindInertia }
func (Force) Kind() Kind            { return KindForce }
func (AirFlow) Kind() Kind          { return KindAirFlow }
func (Pressure) Kind() Kind         { return KindPressure }
func (Money) Kind() Kind            { return KindMoney }
func (HeatTransfer) Kind() Kind     { return KindHeatTransfer }
func (Conductance) Kind() Kind      { return KindConductance }
func (Irradiance) Kind() Kind       { return KindIrradiance }

// Show returns the words themselves.
func (t Text) Show(System) string { return string(t) }

func (q Ratio) Show(s System) string            { return show(KindRatio, float64(q), s) }
func (q Factor) Show(s System) string           { return show(KindFactor, float64(q), s) }
func (q Count) Show(s System) string            { return show(KindCount, float64(q), s) }
func (q Voltage) Show(s System) string          { return show(KindVoltage, float64(q), s) }
func (q Current) Show(s System) string          { return show(KindCurrent, float64(q), s) }
func (q ShaftPower) Show(s System) string       { return show(KindShaftPower, float64(q), s) }
func (q Power) Show(s System) string            { return show(KindPower, float64(q), s) }
func (q ApparentPower) Show(s System) string    { return show(KindApparentPower, float64(q), s) }
func (q Frequency) Show(s System) string        { return show(KindFrequency, float64(q), s) }
func (q Rotation) Show(s System) string         { return show(KindRotation, float64(q), s) }
func (q Speed) Show(s System) string            { return show(KindSpeed, float64(q), s) }
func (q Length) Show(s System) string           { return show(KindLength, float64(q), s) }
func (q Area) Show(s System) string             { return show(KindArea, float64(q), s) }
func (q Resistance) Show(s System) string       { return show(KindResistance, float64(q), s) }
func (q LinearResistance) Show(s System) string { return show(KindLinearResistance, float64(q), s) }
func (q Inductance) Show(s System) string       { return show(KindInductance, float64(q), s) }
func (q Capacitance) Show(s System) string      { return show(KindCapacitance, float64(q), s) }
func (q Temperature) Show(s System) string      { return show(KindTemperature, float64(q), s) }
func (q TemperatureRise) Show(s System) string  { return show(KindTemperatureRise, float64(q), s) }
func (q Duration) Show(s System) string         { return show(KindDuration, float64(q), s) }
func (q Energy) Show(s System) string           { return show(KindEnergy, float64(q), s) }
func (q Torque) Show(s System) string           { return show(KindTorque, float64(q), s) }
func (q Mass) Show(s System) string             { return show(KindMass, float64(q), s) }
func (q Inertia) Show(s System) string          { return show(KindInertia, float64(q), s) }
func (q Force) Show(s System) string            { return show(KindForce, float64(q), s) }
func (q AirFlow) Show(s System) string          { return show(KindAirFlow, float64(q), s) }
func (q Pressure) Show(s System) string         { return show(KindPressure, float64(q), s) }
func (q Money) Show(s System) string            { return show(KindMoney, float64(q), s) }
func (q HeatTransfer) Show(s System) string     { return show(KindHeatTransfer, float64(q), s) }
func (q Conductance) Show(s System) string      { return show(KindConductance, float64(q), s) }
func (q Irradiance) Show(s System) string       { return show(KindIrradiance, float64(q), s) }
