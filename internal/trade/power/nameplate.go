package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// mostEfficiencyFactor is the upper bound of efficiency × power factor on real three-phase motors, for reading plates: a
// hundred horsepower of two poles comes to 0.88. Above it the plate contradicts itself.
const mostEfficiencyFactor = 0.92

// leastEfficiencyFactor is the lower bound, below which a plate contradicts itself: slow motors of 1 hp come to about 0.38,
// fractional ones with eight poles to 0.28.
func leastEfficiencyFactor(p quantity.ShaftPower) float64 {
	if p < 0.95*quantity.Horsepower {
		return 0.25
	}
	return 0.35
}

var motorPoles = &explain.Formula{
	Name: "motor-poles", Title: "number of poles, from frequency and full-load speed",
	Words:  "120 × {frequency} ÷ {full-load speed}, down to the next even number",
	Inputs: []explain.Parameter{frequencyParameter, speedParameter}, Result: quantity.KindCount,
	Source: explain.Physics("an induction motor runs a little below 120 f/p"),
	Compute: explain.Of2(func(f quantity.Frequency, n quantity.Rotation) (explain.Answer, error) {
		if f <= 0 || n <= 0 {
			return explain.Answer{}, fmt.Errorf("frequency and speed must be above zero")
		}
		pairs := math.Floor(float64(f)/float64(n) + 1e-6)
		if pairs < 1 {
			return explain.Answer{}, fmt.Errorf("no induction motor runs at %s on %s: two poles give %.0f rpm at most",
				shown(n), shown(f), 60*float64(f))
		}
		return explain.Is(quantity.Count(2 * pairs))
	}),
}

var synchronousSpeed = &explain.Formula{
	Name: "synchronous-speed", Title: "speed of the rotating field",
	Words: "120 × {frequency} ÷ {poles}",
	Inputs: []explain.Parameter{frequencyParameter,
		{Name: "poles", Kind: quantity.KindCount, Help: "2, 4, 6 …", Example: "4"}},
	Result: quantity.KindRotation, Source: explain.Physics("definition of synchronous speed"),
	Compute: explain.Of2(func(f quantity.Frequency, p quantity.Count) (explain.Answer, error) {
		if p <= 0 {
			return explain.Answer{}, fmt.Errorf("poles must be above zero")
		}
		return explain.Is(quantity.Rotation(2 * float64(f) / float64(p)))
	}),
}

var slip = &explain.Formula{
	Name: "full-load-slip", Title: "how far the shaft lags behind the field, as a part of the field's speed",
	Words: "({synchronous speed} − {full-load speed}) ÷ {synchronous speed}",
	Inputs: []explain.Parameter{
		{Name: "synchronous speed", Kind: quantity.KindRotation, Help: "of the field", Example: "1800 rpm"}, speedParameter},
	Result: quantity.KindRatio, Source: explain.Physics("definition of slip"),
	Compute: explain.Of2(func(field, shaft quantity.Rotation) (explain.Answer, error) {
		if field <= 0 {
			return explain.Answer{}, fmt.Errorf("synchronous speed must be above zero")
		}
		return explain.Is(quantity.Part(field-shaft, field))
	}),
}

var impliedEfficiencyFactor = &explain.Formula{
	Name: "implied-efficiency-factor", Title: "efficiency × power factor that a nameplate implies",
	Words:  "{motor power} ÷ (√3 × {motor voltage} × {motor current})",
	Inputs: []explain.Parameter{powerParameter, motorVoltageParameter, motorCurrentParameter}, Result: quantity.KindFactor,
	Source: explain.Physics("power of a three-phase motor"),
	Compute: explain.Of3(func(p quantity.ShaftPower, v quantity.Voltage, i quantity.Current) (explain.Answer, error) {
		if v <= 0 || i <= 0 {
			return explain.Answer{}, fmt.Errorf("voltage and current must be above zero")
		}
		return explain.Is(quantity.Factor(float64(p) / (math.Sqrt(3) * float64(v) * float64(i))))
	}),
}

var shaftPower = &explain.Formula{
	Name: "shaft-power", Title: "shaft power of a three-phase motor from its current",
	Words: "√3 × {motor voltage} × {motor current} × {efficiency} × {power factor}",
	Inputs: []explain.Parameter{motorVoltageParameter, motorCurrentParameter,
		{Name: "efficiency", Kind: quantity.KindRatio, Help: "at that load", Example: "80 %"},
		{Name: "power factor", Kind: quantity.KindFactor, Help: "at that load", Example: "0.85"}},
	Result: quantity.KindShaftPower, Source: explain.Physics("power of a three-phase motor"),
	Compute: explain.Of4(func(v quantity.Voltage, i quantity.Current, efficiency quantity.Ratio, factor quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.ShaftPower(math.Sqrt(3) * float64(v) * float64(i) * float64(efficiency) * float64(factor)))
	}),
}

// lockedRotor returns the current at the given volt-amperes per watt of shaft power.
func lockedRotor(p quantity.ShaftPower, v quantity.Voltage, perWatt quantity.Factor) quantity.Current {
	return quantity.Current(float64(p) * float64(perWatt) / (math.Sqrt(3) * float64(v)))
}

// lockedRotorFormula makes the formula of one end of the range that a code letter stands for.
func lockedRotorFormula(name, end string, of func(catalogue.CodeLetter) quantity.Factor) *explain.Formula {
	return &explain.Formula{
		Name: name, Title: end + " current that the stalled motor takes, from its code letter",
		Words:  "{motor power} × " + end + " kVA/hp of {code letter} ÷ (√3 × {motor voltage})",
		Inputs: []explain.Parameter{powerParameter, motorVoltageParameter, codeLetterParameter}, Result: quantity.KindCurrent,
		Source: explain.NEC("Table 430.7(B)"),
		Compute: explain.Of3(func(p quantity.ShaftPower, v quantity.Voltage, letter quantity.Text) (explain.Answer, error) {
			l, ok := catalogue.FindCodeLetter(string(letter))
			if !ok {
				return explain.Answer{}, fmt.Errorf("there is no code letter %q", string(letter))
			}
			perWatt := of(l)
			if math.IsInf(float64(perWatt), 1) {
				return explain.Answer{}, fmt.Errorf("code letter %s has no upper end", l.Letter)
			}
			if v <= 0 {
				return explain.Answer{}, fmt.Errorf("voltage must be above zero")
			}
			perHorsepower := float64(perWatt) * float64(quantity.Horsepower) / 1000
			return explain.Answer{Value: lockedRotor(p, v, perWatt), Source: l.Source,
				Words: fmt.Sprintf("{motor power} × %.4g kVA/hp, the %s of {code letter}, ÷ (√3 × {motor voltage})", perHorsepower, end)}, nil
		}),
	}
}

var lockedRotorCurrent = lockedRotorFormula("locked-rotor-current", "most", func(l catalogue.CodeLetter) quantity.Factor { return l.Most })

var lockedRotorLeast = lockedRotorFormula("locked-rotor-current-least", "least", func(l catalogue.CodeLetter) quantity.Factor { return l.Least })

var lockedRotorLimit = &explain.Formula{
	Name: "locked-rotor-current-limit", Title: "largest locked-rotor current of a standard motor of design B, C or D",
	Words:  "row {motor power}, column {motor voltage}",
	Inputs: []explain.Parameter{powerParameter, motorVoltageParameter}, Result: quantity.KindCurrent,
	Source: explain.Source{Work: "NEMA MG 1", Edition: "2016", Place: "12.35"},
	Compute: explain.Of2(func(p quantity.ShaftPower, v quantity.Voltage) (explain.Answer, error) {
		i, source, err := catalogue.LockedRotorLimit(p, v)
		if err != nil {
			return explain.Answer{}, err
		}
		return explain.Answer{Value: i, Source: source, Looked: true}, nil
	}),
}

// nameplate fills r.Plate. motorCurrent has run.
func nameplate(r *Result) {
	m := &r.Job.Motor
	f := plateFrequency(r.Job)
	r.Plate.Frequency = f
	r.Plate.Poles = explain.Derive[quantity.Count](motorPoles, "poles", f, m.Speed)
	r.Plate.Synchronous = explain.Derive[quantity.Rotation](synchronousSpeed, "synchronous speed", f, r.Plate.Poles)
	r.Plate.Slip = explain.Derive[quantity.Ratio](slip, "full-load slip", r.Plate.Synchronous, m.Speed)
	if m.Currents.Set {
		r.Plate.EfficiencyFactor = explain.Derive[quantity.Factor](impliedEfficiencyFactor, "efficiency × power factor on the plate",
			m.Power, r.Voltage.Wanted, r.Motor.Nameplate)
	} else {
		r.Plate.EfficiencyFactor = explain.Absent[quantity.Factor]("efficiency × power factor on the plate", explain.Say("needs "+m.Currents.Name))
	}
	r.Plate.WindingLoss = explain.Derive[quantity.Ratio](windingLoss, "loss in the measured winding resistance", m.WindingOhms, r.Motor.Nameplate, m.Power)
	if m.Code.Set {
		r.Plate.LockedRotor = explain.Derive[quantity.Current](lockedRotorCurrent, "locked-rotor current", m.Power, r.Voltage.Wanted, m.Code)
	} else {
		r.Plate.LockedRotor = explain.Derive[quantity.Current](lockedRotorLimit, "locked-rotor current", m.Power, r.Voltage.Wanted)
	}
}

// plateFrequency returns the nameplate's frequency; the supply's where the plate isn't readable; 60 Hz (50 Hz under IEC rules)
// where neither is given.
func plateFrequency(j *job.Job) explain.Known[quantity.Frequency] {
	if !j.Motor.Frequency.Set && j.Supply.Frequency.Set {
		k := explain.Renamed("motor frequency", job.Known(j.Supply.Frequency))
		k.Why().Origin = explain.Assumed
		k.Why().Path = j.Motor.Frequency.Path
		k.Why().Note = explain.Say("the plate's frequency isn't given: taken to be the supply's")
		return k
	}
	return job.Or(j.Motor.Frequency, codeOf(j).Motor.Frequency, explain.Practice("the country's supply frequency"),
		explain.Say("neither plate nor supply frequency is given"))
}
