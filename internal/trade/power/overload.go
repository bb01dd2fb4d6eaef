package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

var overloadInputs = []explain.Parameter{
	{Name: "nameplate current", Kind: quantity.KindCurrent, Help: "at the voltage in use, not the table's", Example: "13.2 A"},
	{Name: "service factor", Kind: quantity.KindFactor, Help: "S.F. on the plate, 1 if there is none", Example: "1.15", Default: "1"},
	{Name: "temperature rise", Kind: quantity.KindTemperatureRise, Help: "RISE on the plate; above 40 K if there is none", Example: "40 K", Default: "80 K"},
}

// coolMotor reports whether the motor has the margin that lets its overload be set higher: a service factor of 1.15 or
// more, or a marked temperature rise of 40 K or less.
func coolMotor(service quantity.Factor, rise quantity.TemperatureRise) bool {
	return service >= 1.15-1e-9 || rise <= 40+1e-9
}

// overloadFormula makes the formula of a largest overload setting: one percentage for motors with margin, one for all others.
func overloadFormula(name, title, place string, cool, other quantity.Ratio) *explain.Formula {
	return &explain.Formula{
		Name: name, Title: title,
		Words: "{nameplate current} × " + cool.Show(quantity.InchUnits) + " where {service factor} is 1.15 or more or {temperature rise} is 40 °C or less, else × " +
			other.Show(quantity.InchUnits),
		Inputs: overloadInputs, Result: quantity.KindCurrent, Source: explain.NEC(place),
		Compute: explain.Of3(func(i quantity.Current, service quantity.Factor, rise quantity.TemperatureRise) (explain.Answer, error) {
			part, words := other, ", as {service factor} is below 1.15 and {temperature rise} is above 40 °C"
			switch {
			case service >= 1.15-1e-9:
				part, words = cool, ", as {service factor} is not below 1.15"
			case coolMotor(service, rise):
				part, words = cool, ", as {temperature rise} is 40 °C or less"
			}
			return explain.Answer{Value: quantity.Scale(i, part), Words: "{nameplate current} × " + part.Show(quantity.InchUnits) + words}, nil
		}),
	}
}

var overloadMost = overloadFormula("overload-largest", "largest setting of a motor's overload protection",
	"430.32(A)(1)", 125*quantity.Percent, 115*quantity.Percent)

var overloadIfStart = overloadFormula("overload-largest-to-start", "largest overload setting where the normal one won't start the motor or carry its load",
	"430.32(C)", 140*quantity.Percent, 130*quantity.Percent)

// overloadAtPlate is the IEC set's figure: the setting is the rated current.
var overloadAtPlate = &explain.Formula{
	Name: "overload-largest-iec", Title: "setting of a motor's overload protection",
	Words: "{nameplate current}", Inputs: overloadInputs, Result: quantity.KindCurrent,
	Source: explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "7.3"}.Remembered(),
	Compute: explain.Of3(func(i quantity.Current, _ quantity.Factor, _ quantity.TemperatureRise) (explain.Answer, error) {
		return explain.Is(i)
	}),
}

// overload fills r.Overload. motorCurrent and driveRating have run.
func overload(r *Result) {
	m, d := &r.Job.Motor, &r.Job.Drive
	service := job.Or(m.Service, 1, explain.Practice("nameplates without S.F."), explain.Say("no service factor on the plate counts as 1.0"))
	rise := job.Or(m.Rise, 80, explain.Practice("cautious reading of nameplates"), explain.Say("the rise isn't given: taken to be above 40 °C, which asks for the lower setting"))
	o := &r.Overload
	o.Setting = explain.Renamed("overload setting", r.Motor.Nameplate)
	o.Setting.Why().Source = r.Code.Motor.PlateForOverload
	o.Most = explain.Derive[quantity.Current](r.Code.Motor.OverloadMost, "largest overload setting", r.Motor.Nameplate, service, rise)
	o.IfStart = explain.Derive[quantity.Current](r.Code.Motor.OverloadIfStart, "largest overload setting if it won't start", r.Motor.Nameplate, service, rise)
	o.By = protectedBy(r, d)
}

// protectedBy says what protects the motor against running too hot.
func protectedBy(r *Result, d *job.Drive) explain.Known[quantity.Text] {
	const name = "motor overload protection"
	source := explain.NEC("430.124").Remembered()
	switch {
	case d.Thermal.Set && d.Thermal.Value == "no" && r.Job.Machine.OldHeaters.Value == "fitted":
		return explain.Chosen[quantity.Text](name, "the old overload relay, with heaters for the setting below", "the drive has none and the old relay is fitted", source,
			d.Thermal, r.Job.Machine.OldHeaters)
	case d.Thermal.Set && d.Thermal.Value == "no":
		return explain.Absent[quantity.Text](name, explain.Say("the drive has no electronic overload: fit an overload relay in the motor lead, set as below"))
	case d.Thermal.Set && d.Thermal.Value == "yes":
		return explain.Chosen[quantity.Text](name, "the drive's electronic overload", "the drive has one with its thermal memory kept", source, d.Thermal)
	}
	k := explain.Assume[quantity.Text](name, "the drive's electronic overload", source,
		explain.Say("taken to be there: look for \"motor overload protection, class 10 or 20\" and for thermal memory in the drive's booklet"))
	k.Why().Path = d.Thermal.Path
	return k
}
