package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// deratingSource is where the steepest figures of several drive makers' manuals were read. They spread: 0 to 2.5 % per
// kelvin, 0.5 to 1 % per 100 m; the steepest is assumed until the user's own manual says better.
var deratingSource = explain.Source{Work: "drive makers' manuals", Place: "derating tables, the steepest of several makers"}

var temperatureDerating = &explain.Formula{
	Name: "drive-temperature-derating", Title: "part of a drive's output current that is left in hot surroundings",
	Words: "1 − 0.025 for each 1 °C (1.8 °F) that {surrounding temperature} is above {full-current temperature}",
	Inputs: []explain.Parameter{
		{Name: "surrounding temperature", Kind: quantity.KindTemperature, Help: "of the air around the drive, inside the box if it is in one", Example: "45 °C"},
		{Name: "full-current temperature", Kind: quantity.KindTemperature, Help: "up to which the drive gives full current", Example: "40 °C", Default: "40 °C"},
	},
	Result: quantity.KindFactor, Source: deratingSource,
	Compute: explain.Of2(func(around, full quantity.Temperature) (explain.Answer, error) {
		over := max(float64(quantity.Rise(around, full)), 0)
		if over == 0 {
			return explain.Answer{Value: quantity.Factor(1), Words: "1, as {surrounding temperature} is not above {full-current temperature}"}, nil
		}
		answer := explain.Answer{Value: quantity.Factor(max(1-0.025*over, 0))}
		if over > 10 {
			answer.Note = explain.Say("beyond {} most makers allow no running at all", full.Warmer(10))
		}
		return answer, nil
	}),
}

var altitudeDerating = &explain.Formula{
	Name: "drive-altitude-derating", Title: "part of a drive's output current that is left in thin air",
	Words:  "1 − 0.01 for each 100 m (328 ft) that {altitude} is above 1000 m (3281 ft)",
	Inputs: []explain.Parameter{{Name: "altitude", Kind: quantity.KindLength, Help: "above sea level", Example: "1500 m"}},
	Result: quantity.KindFactor, Source: deratingSource,
	Compute: explain.Of1(func(h quantity.Length) (explain.Answer, error) {
		over := max(float64(h)-1000, 0)
		if over == 0 {
			return explain.Answer{Value: quantity.Factor(1), Words: "1, as {altitude} is not above 1000 m (3281 ft)"}, nil
		}
		return explain.Is(quantity.Factor(max(1-0.0001*over, 0)))
	}),
}

// carrierSteps are points of the steepest maker's carrier derating: frequency in hertz, part of the current that is lost.
var carrierSteps = []struct{ hertz, lost float64 }{{4000, 0}, {8000, 0.10}, {12000, 0.25}, {16000, 0.35}}

var carrierDerating = &explain.Formula{
	Name: "drive-carrier-derating", Title: "part of a drive's output current that is left at a high carrier frequency",
	Words:  "1 − what is lost at {carrier frequency}: nothing up to 4 kHz, 0.10 at 8 kHz, 0.25 at 12 kHz, 0.35 at 16 kHz, straight lines between",
	Inputs: []explain.Parameter{{Name: "carrier frequency", Kind: quantity.KindFrequency, Help: "as it will be set", Example: "8 kHz"}},
	Result: quantity.KindFactor, Source: deratingSource,
	Compute: explain.Of1(func(f quantity.Frequency) (explain.Answer, error) {
		lost := 0.0
		for n := 1; n < len(carrierSteps); n++ {
			a, b := carrierSteps[n-1], carrierSteps[n]
			part := (float64(f) - a.hertz) / (b.hertz - a.hertz)
			if part <= 0 {
				break
			}
			if n < len(carrierSteps)-1 { // beyond the last point the last line goes on
				part = min(part, 1)
			}
			lost = a.lost + part*(b.lost-a.lost)
		}
		if lost == 0 {
			return explain.Answer{Value: quantity.Factor(1), Words: "1, as {carrier frequency} is not above 4 kHz"}, nil
		}
		return explain.Is(quantity.Factor(max(1-lost, 0)))
	}),
}

var driveOutput = &explain.Formula{
	Name: "drive-output-current", Title: "what a drive can put out all day here",
	Words: "{marked output current} × {part kept on this supply} × {temperature derating} × {altitude derating} × {carrier derating}",
	Inputs: []explain.Parameter{
		{Name: "marked output current", Kind: quantity.KindCurrent, Help: "continuous, constant torque", Example: "28 A"},
		{Name: "part kept on this supply", Kind: quantity.KindRatio, Help: "100 %; 50 % for a three-phase-input drive on one phase unless its maker says better", Example: "50 %", Default: "100 %"},
		{Name: "temperature derating", Kind: quantity.KindFactor, Help: "1 up to 40 °C", Example: "0.9", Default: "1"},
		{Name: "altitude derating", Kind: quantity.KindFactor, Help: "1 up to 1000 m", Example: "1", Default: "1"},
		{Name: "carrier derating", Kind: quantity.KindFactor, Help: "1 up to 4 kHz", Example: "1", Default: "1"},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("deratings multiply"),
	Compute: explain.Of5(func(i quantity.Current, kept quantity.Ratio, hot, high, fast quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Scale(quantity.Scale(i, kept), hot*high*fast))
	}),
}

// surroundings are the three deratings that the place and the settings ask for, the same for every drive looked at.
type surroundings struct {
	hot, high, fast explain.Known[quantity.Factor]
}

// deratings returns the deratings of the job.
func deratings(j *job.Job) surroundings {
	around := shopAir(j)
	full := job.Or(j.Drive.Derated, quantity.Celsius(40), explain.Practice("drives are rated for 40 °C"), explain.Say("the data sheet's figure isn't given"))
	altitude := job.Or(j.Shop.Altitude, 0, explain.Practice("most shops are below 1000 m"), explain.Say("taken to be below 1000 m"))
	carrier := job.Or(j.Drive.Carrier, 4000, explain.Practice("4 kHz: quiet enough, little heat and leakage"), explain.Say("set the drive to 4 kHz, or write what you set"))
	return surroundings{
		hot:  explain.Derive[quantity.Factor](temperatureDerating, "temperature derating", around, full),
		high: explain.Derive[quantity.Factor](altitudeDerating, "altitude derating", altitude),
		fast: explain.Derive[quantity.Factor](carrierDerating, "carrier derating", carrier),
	}
}

// of returns what a drive of the marked output, of which kept is left on this supply, gives here.
func (s surroundings) of(marked explain.Known[quantity.Current], kept explain.Known[quantity.Ratio]) explain.Known[quantity.Current] {
	return explain.Derive[quantity.Current](driveOutput, "drive output current here", marked, kept, s.hot, s.high, s.fast)
}

// factor is the product of the deratings.
func (s surroundings) factor() quantity.Factor { return s.hot.Value * s.high.Value * s.fast.Value }

// shopAir is the hottest air that the drive, a filter and a cord work in: one shop has one temperature.
func shopAir(j *job.Job) explain.Known[quantity.Temperature] {
	return job.Or(j.Shop.Ambient, quantity.Celsius(30), explain.Practice("the basis of ampacity tables"),
		explain.Say("the shop's hottest day isn't given: write warmest if it gets hotter"))
}
