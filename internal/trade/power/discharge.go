package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

var linkVoltage = &explain.Formula{
	Name: "dc-link-voltage", Title: "voltage that the DC link is charged to",
	Words: "√2 × {supply voltage} × {supply tolerance} × {charging factor}",
	Inputs: []explain.Parameter{
		supplyVoltageParameter,
		{Name: "supply tolerance", Kind: quantity.KindFactor, Help: "1.1 for the highest supply", Example: "1.1", Default: "1"},
		{Name: "charging factor", Kind: quantity.KindFactor, Help: "1; 2 for a voltage doubler", Example: "1", Default: "1"},
	},
	Result: quantity.KindVoltage, Source: explain.Physics("a rectifier charges its capacitor to the peak of a sine wave"),
	Compute: explain.Of3(func(v quantity.Voltage, tolerance, charging quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Scale(v*math.Sqrt2, tolerance*charging))
	}),
}

var capacitorEnergy = &explain.Formula{
	Name: "capacitor-energy", Title: "energy in a charged capacitor",
	Words: "½ × {capacitance} × ({voltage})²",
	Inputs: []explain.Parameter{
		capacitanceParameter,
		{Name: "voltage", Kind: quantity.KindVoltage, Help: "that it is charged to", Example: "373 V"},
	},
	Result: quantity.KindEnergy, Source: explain.Physics("energy of a capacitor"),
	Compute: explain.Of2(func(c quantity.Capacitance, v quantity.Voltage) (explain.Answer, error) {
		return explain.Is(quantity.Energy(0.5 * float64(c) * float64(v) * float64(v)))
	}),
}

var dischargeTime = &explain.Formula{
	Name: "discharge-time", Title: "time in which a resistor discharges a capacitor to a voltage",
	Words: "{resistance} × {capacitance} × ln({voltage at first} ÷ {voltage in the end})",
	Inputs: []explain.Parameter{
		{Name: "resistance", Kind: quantity.KindResistance, Help: "of the bleeder", Example: "100 kohm"},
		capacitanceParameter,
		{Name: "voltage at first", Kind: quantity.KindVoltage, Help: "that it is charged to", Example: "373 V"},
		{Name: "voltage in the end", Kind: quantity.KindVoltage, Help: "that counts as discharged", Example: "50 V"},
	},
	Result: quantity.KindDuration, Source: explain.Source{Work: "Lessons In Electric Circuits", Edition: "vol. I", Place: "RC and L/R time constants"},
	Compute: explain.Of4(func(ohms quantity.Resistance, c quantity.Capacitance, first, last quantity.Voltage) (explain.Answer, error) {
		if last <= 0 {
			return explain.Answer{}, fmt.Errorf("a capacitor is never quite empty: the voltage in the end must be above zero")
		}
		return explain.Is(quantity.Duration(float64(ohms) * float64(c) * max(math.Log(float64(first/last)), 0)))
	}),
}

// supplyTolerance is the factor on the supply's voltage for the highest that it comes to.
var supplyTolerance = explain.Constant[quantity.Factor]("highest supply over its nominal voltage", 1.1,
	explain.Source{Work: "IEC 60038", Place: "supply voltage range of 10 %"}.Remembered())

// chargingFactor is 2 for a doubler, else 1.
func chargingFactor(r *Result) explain.Known[quantity.Factor] {
	if r.Voltage.Gain.OK() && r.Voltage.Gain.Value > 1.5 {
		return explain.Renamed("charging factor of the DC link", r.Voltage.Gain)
	}
	return explain.Constant[quantity.Factor]("charging factor of the DC link", 1, explain.Physics("a bridge rectifier charges to the peak once"))
}

// unknownWait is what is waited where nothing is known of the drive: longer than the usual labels, and never instead of
// measuring.
const unknownWait = 5 * quantity.Minute

// discharge fills r.Discharge. driveRating has run.
func discharge(r *Result) {
	g, d := &r.Job.Drive, &r.Discharge
	d.Below = r.Code.Motor.Residual
	d.Peak = explain.Derive[quantity.Voltage](linkVoltage, "DC link at the highest supply", r.Job.Supply.Voltage, supplyTolerance, chargingFactor(r))
	d.Energy = explain.Derive[quantity.Energy](capacitorEnergy, "energy in the DC link", r.Drive.Capacitance, d.Peak)
	d.Computed = explain.Derive[quantity.Duration](dischargeTime, "computed discharge time", g.Bleeder, r.Drive.Capacitance, d.Peak, d.Below)
	const name = "wait before the box is opened"
	switch {
	case g.Wait.Set && d.Computed.OK() && d.Computed.Value > g.Wait.Value:
		d.Wait = explain.Chosen(name, d.Computed.Value, "the longer of {"+g.Wait.Name+"} and {"+d.Computed.Why().Name+"}", explain.Practice("the longer time wins"), g.Wait, d.Computed)
	case g.Wait.Set:
		d.Wait = explain.Chosen(name, g.Wait.Value, "{"+g.Wait.Name+"}, no shorter than any computed one", explain.Source{Work: "the drive's label"}, g.Wait)
	case d.Computed.OK():
		d.Wait = explain.Chosen(name, max(d.Computed.Value, unknownWait), "the longer of {"+d.Computed.Why().Name+"} and 5 min", explain.Practice("labels give 1 to 10 minutes"), d.Computed)
	default:
		d.Wait = explain.Assume(name, unknownWait, explain.Practice("labels give 1 to 10 minutes"),
			explain.Say("the label's time isn't given: 5 minutes at least, and the meter decides, DC+ to DC−"))
		d.Wait.Why().Path = job.Known(g.Wait).Why().Path
	}
}
