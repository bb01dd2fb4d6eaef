package heat

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// driveLight is the part of a drive's full heat that it gives off whatever it does, and driveLinear and driveSquare what is added in proportion to
// the current and to its square: electronics and fan, switching and diodes, copper and channels.
const driveLight, driveLinear, driveSquare = 0.2, 0.5, 0.3

var typicalDriveLoss = &explain.Formula{
	Name: "typical-drive-heat", Title: "heat that a drive of this power typically gives off at full load",
	Words:  "table, {motor power}",
	Inputs: []explain.Parameter{{Name: "motor power", Kind: quantity.KindShaftPower, Help: "that the drive is made for", Example: "3 hp"}},
	Result: quantity.KindPower, Source: explain.Source{Work: "typical data sheets"}.Remembered(),
	Compute: explain.Of1(func(p quantity.ShaftPower) (explain.Answer, error) {
		if p <= 0 {
			return explain.Answer{}, fmt.Errorf("the power must be above zero")
		}
		loss, source := catalogue.TypicalDriveLoss(p)
		return explain.Answer{Value: loss, Source: source, Looked: true}, nil
	}),
}

var driveLoss = &explain.Formula{
	Name: "drive-heat", Title: "heat that a drive gives off at the job's load and duty",
	Words: "{heat at full load} × (0.2 + {duty} × (0.5 × {load} + 0.3 × {load}²)): a fifth whatever it does, the rest with the current",
	Inputs: []explain.Parameter{
		{Name: "heat at full load", Kind: quantity.KindPower, Help: "by its data sheet", Example: "110 W"},
		{Name: "load", Kind: quantity.KindRatio, Help: "motor current over the drive's rated output", Example: "75 %", Default: "100 %"},
		{Name: "duty", Kind: quantity.KindRatio, Help: "how much of an hour it runs; the box averages over the minutes", Example: "40 %", Default: "100 %"},
	},
	Result: quantity.KindPower, Source: explain.Practice("small drives: a fifth steady, half with the current, the rest with its square").Remembered(),
	Compute: explain.Of3(func(full quantity.Power, load, duty quantity.Ratio) (explain.Answer, error) {
		if load < 0 || duty < 0 || duty > 1 {
			return explain.Answer{}, fmt.Errorf("load must not be below zero, duty must be within 0 and 100 %%")
		}
		l := float64(load)
		answer := explain.Answer{Value: full * quantity.Power(driveLight+float64(duty)*(driveLinear*l+driveSquare*l*l))}
		if duty < 1 {
			answer.Note = explain.Say("holds where it runs and rests by the minute; for work of an hour on end take a duty of 100 %")
		}
		return answer, nil
	}),
}

var currentLoss = &explain.Formula{
	Name: "current-heat", Title: "heat of contacts, fuses, filters and terminals at the real current",
	Words: "{heat at rated current} × {poles} × ({current} ÷ {rated current})²",
	Inputs: []explain.Parameter{
		{Name: "heat at rated current", Kind: quantity.KindPower, Help: "of one pole", Example: "3.5 W"},
		{Name: "poles", Kind: quantity.KindCount, Help: "that carry the current", Example: "2", Default: "1"},
		{Name: "current", Kind: quantity.KindCurrent, Help: "that really flows, all day", Example: "8 A"},
		{Name: "rated current", Kind: quantity.KindCurrent, Help: "of the part", Example: "16 A"},
	},
	Result: quantity.KindPower, Source: explain.Physics("heat goes with the square of the current"),
	Compute: explain.Of4(func(p quantity.Power, poles quantity.Count, i, rated quantity.Current) (explain.Answer, error) {
		if rated <= 0 || poles < 0 {
			return explain.Answer{}, fmt.Errorf("the rated current must be above zero, and there are no fewer poles than none")
		}
		part := float64(i / rated)
		return explain.Is(p * quantity.Power(float64(poles)*part*part))
	}),
}

var conversionLoss = &explain.Formula{
	Name: "conversion-heat", Title: "heat of a supply or transformer",
	Words:  "{output} × {lost}",
	Inputs: []explain.Parameter{{Name: "output", Kind: quantity.KindPower, Help: "that it really gives", Example: "15 W"}, {Name: "lost", Kind: quantity.KindRatio, Help: "15 % of the output at 24 V, 18 % at 12 V", Example: "15 %"}},
	Result: quantity.KindPower, Source: explain.Physics("efficiency"),
	Compute: explain.Of2(func(p quantity.Power, lost quantity.Ratio) (explain.Answer, error) {
		return explain.Is(quantity.Scale(p, lost))
	}),
}

// TypicalDriveLoss returns the heat that a drive made for the motor power typically gives off at full load, until its data sheet's figure is entered.
func TypicalDriveLoss(name string, power explain.Known[quantity.ShaftPower]) explain.Known[quantity.Power] {
	return explain.Derive[quantity.Power](typicalDriveLoss, "heat of "+name+" at full load", power)
}

// DriveLoss returns the heat of a drive at the job's load (motor current over its rated output) and duty. full is its heat at full load.
func DriveLoss(name string, full explain.Known[quantity.Power], load, duty explain.Known[quantity.Ratio]) explain.Known[quantity.Power] {
	return explain.Derive[quantity.Power](driveLoss, "heat of "+name, full, load, duty)
}

// CurrentLoss returns the typical heat of a part whose heat goes with the square of the current: line filter, line choke, contactor, overload relay, breaker, fuse,
// main switch, terminal. rated is its rated current, poles how many carry the current (a filter's and a choke's figure is for the whole part: one pole).
func CurrentLoss(name, kind string, rated explain.Known[quantity.Current], poles explain.Known[quantity.Count], current explain.Known[quantity.Current]) explain.Known[quantity.Power] {
	p, err := typical(name, kind, catalogue.BySquare, rated.Value)
	if err != nil {
		return explain.Absent[quantity.Power]("heat of "+name, explain.Say(err.Error()))
	}
	at := rated
	if p.Rated > 0 { // the table's own size
		at = explain.Part("rated current of the typical "+kind, p.Rated, kind)
	}
	return explain.Derive[quantity.Power](currentLoss, "heat of "+name, explain.Part("heat of a typical "+kind, p.Loss, p.Source.Place), poles, current, at)
}

// SteadyLoss returns the typical heat of what gives off the same whenever it is on: relay coil, AC contactor coil, DC contactor coil, lamp.
func SteadyLoss(name, kind string) explain.Known[quantity.Power] {
	p, err := typical(name, kind, catalogue.Steady, 0)
	if err != nil {
		return explain.Absent[quantity.Power]("heat of "+name, explain.Say(err.Error()))
	}
	return explain.Part("heat of "+name, p.Loss, p.Source.Place)
}

// ConversionLoss returns the typical heat of what turns one voltage into another: 24 V supply, 12 V supply, control transformer. output is what it really gives.
func ConversionLoss(name, kind string, output explain.Known[quantity.Power]) explain.Known[quantity.Power] {
	p, err := typical(name, kind, catalogue.ByShare, 0)
	if err != nil {
		return explain.Absent[quantity.Power]("heat of "+name, explain.Say(err.Error()))
	}
	return explain.Derive[quantity.Power](conversionLoss, "heat of "+name, output, explain.Part("part lost in a typical "+kind, p.Share, p.Source.Place))
}

// typical returns the table's row of the kind, which must go by the law.
func typical(name, kind string, law catalogue.LossLaw, rated quantity.Current) (catalogue.PartLoss, error) {
	p, err := catalogue.TypicalLoss(kind, rated)
	if err == nil && p.Law != law {
		err = fmt.Errorf("the heat of %s, a %s, goes by another law", name, kind)
	}
	return p, err
}

var readingsFinal = &explain.Formula{
	Name: "final-rise-from-readings", Title: "where the rise in a box ends, from two readings at equal intervals",
	Words: "{first rise}² ÷ (2 × {first rise} − {second rise})",
	Inputs: []explain.Parameter{
		{Name: "first rise", Kind: quantity.KindTemperatureRise, Help: "over the shop's air, some time after switching on", Example: "12 K"},
		{Name: "second rise", Kind: quantity.KindTemperatureRise, Help: "after twice that time", Example: "18 K"},
	},
	Result: quantity.KindTemperatureRise, Source: warmingSource,
	Compute: explain.Of2(func(first, second quantity.TemperatureRise) (explain.Answer, error) {
		if first <= 0 || second <= first || second >= 2*first {
			return explain.Answer{}, errReadingsWrong
		}
		return explain.Is(first * first / (2*first - second))
	}),
}

var readingsTime = &explain.Formula{
	Name: "warming-time-from-readings", Title: "time in which a box warms up by two thirds, from two readings at equal intervals",
	Words: "{interval} ÷ ln({first rise} ÷ ({second rise} − {first rise}))",
	Inputs: []explain.Parameter{
		{Name: "first rise", Kind: quantity.KindTemperatureRise, Help: "over the shop's air, one interval after switching on", Example: "12 K"},
		{Name: "second rise", Kind: quantity.KindTemperatureRise, Help: "after two intervals", Example: "18 K"},
		{Name: "interval", Kind: quantity.KindDuration, Help: "between the readings, and before the first", Example: "40 min"},
	},
	Result: quantity.KindDuration, Source: warmingSource,
	Compute: explain.Of3(func(first, second quantity.TemperatureRise, interval quantity.Duration) (explain.Answer, error) {
		if first <= 0 || second <= first || second >= 2*first {
			return explain.Answer{}, errReadingsWrong
		}
		return explain.Is(interval / quantity.Duration(math.Log(float64(first/(second-first)))))
	}),
}

var (
	warmingSource    = explain.Source{Work: "Gupta and Singhal, Fundamentals of Electric Drives and Control", Place: "chapter 4, heating of machines"}
	errReadingsWrong = fmt.Errorf("a box that warms up rises less in the second interval than in the first, and still rises")
)

var dutyPeak = &explain.Formula{
	Name: "duty-peak-rise", Title: "highest rise of a box whose load comes and goes",
	Words: "{final rise} × (1 − e^−({on} ÷ {heating time})) ÷ (1 − e^−({on} ÷ {heating time} + {off} ÷ {cooling time}))",
	Inputs: []explain.Parameter{
		{Name: "final rise", Kind: quantity.KindTemperatureRise, Help: "if the load stayed on", Example: "40 K"},
		{Name: "heating time", Kind: quantity.KindDuration, Help: "in which it warms up by two thirds", Example: "60 min"},
		{Name: "cooling time", Kind: quantity.KindDuration, Help: "in which it cools down by two thirds", Example: "60 min"},
		{Name: "on", Kind: quantity.KindDuration, Help: "of each turn", Example: "10 min"},
		{Name: "off", Kind: quantity.KindDuration, Help: "of each turn", Example: "15 min"},
	},
	Result: quantity.KindTemperatureRise, Source: warmingSource,
	Compute: explain.Of5(func(final quantity.TemperatureRise, heating, cooling, on, off quantity.Duration) (explain.Answer, error) {
		if heating <= 0 || cooling <= 0 || on <= 0 || off < 0 {
			return explain.Answer{}, fmt.Errorf("the times must be above zero")
		}
		a, b := float64(on/heating), float64(off/cooling)
		return explain.Is(final * quantity.TemperatureRise((1-math.Exp(-a))/(1-math.Exp(-a-b))))
	}),
}

var warmingTime = &explain.Formula{
	Name: "warming-time", Title: "time in which a body warms up by two thirds",
	Words:  "{heat it holds} ÷ {walls}",
	Inputs: []explain.Parameter{{Name: "heat it holds", Kind: quantity.KindEnergy, Help: "for each kelvin: mass × specific heat, steel 0.49 kJ for each kilogram", Example: "8 kJ"}, conductanceParameter},
	Result: quantity.KindDuration, Source: explain.Physics("first-order warming"),
	Compute: explain.Of2(func(c quantity.Energy, u quantity.Conductance) (explain.Answer, error) {
		if u <= 0 {
			return explain.Answer{}, fmt.Errorf("walls that pass no heat never settle")
		}
		return explain.Is(quantity.Duration(float64(c) / float64(u)))
	}),
}
