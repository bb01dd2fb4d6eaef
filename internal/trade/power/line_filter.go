package power

import (
	"errors"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// lineFilterCurrent is the rating to ask of a separate line filter. What heats it is the RMS current, peaks and harmonics
// included, and a data sheet's rating holds up to a surrounding temperature that is usually 40 °C.
var lineFilterCurrent = &explain.Formula{
	Name:  "line-filter-current",
	Title: "least rated current of a separate line filter",
	Words: "{drive input current} × √((85 °C − {full-rating temperature}) ÷ (85 °C − {air around it})), no less than {drive input current}",
	Inputs: []explain.Parameter{
		driveInputParameter,
		{Name: "air around it", Kind: quantity.KindTemperature, Help: "hottest, inside the box where it is in one", Example: "50 °C"},
		{Name: "full-rating temperature", Kind: quantity.KindTemperature, Help: "up to which the filter's label holds", Example: "40 °C", Default: "40 °C"},
	},
	Result: quantity.KindCurrent,
	Source: explain.Source{Work: "IEC 60939-1", Edition: "2010", Place: "derating of passive filters above their rated temperature, for filters of climatic category 85 °C", Trust: explain.FromMemory},
	Compute: explain.Of3(func(input quantity.Current, air, full quantity.Temperature) (explain.Answer, error) {
		const limit = quantity.Temperature(85) // of the filter's own parts: at it nothing is left
		if air >= limit {
			return explain.Answer{}, errors.New("no filter works at 85 °C or above")
		}
		if air <= full {
			return explain.Answer{Value: input, Words: "{drive input current}, as {air around it} is no hotter than {full-rating temperature}"}, nil
		}
		return explain.Is(quantity.Scale(input, quantity.Factor(math.Sqrt(float64(limit-full)/float64(limit-air)))))
	}),
}

// lineFilter fills the rating of a separate filter; one that is built into the drive needs none.
func lineFilter(r *Result) explain.Known[quantity.Current] {
	const name = "least rating of a separate line filter"
	switch r.Job.Drive.Filter.Value {
	case "built in", "built in with link out":
		return explain.Needless[quantity.Current](name, explain.Say("the drive has its filter built in"))
	case "none":
		return explain.Needless[quantity.Current](name, explain.Say("no filter is wanted: a radio or a readout nearby may suffer"))
	}
	full := explain.Assume("temperature up to which the filter's label holds", quantity.Celsius(40), explain.Practice("filter data sheets"),
		explain.Say("the usual figure: the filter's own label rules"))
	return explain.Derive[quantity.Current](lineFilterCurrent, name, r.Drive.Input, shopAir(r.Job), full)
}
