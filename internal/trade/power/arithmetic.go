package power

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// The arithmetic that several formulas share. Each formula keeps its own words, parameters and source.

// scaled is a figure times a factor or a percentage.
func scaled[V quantity.Number, R quantity.Ratio | quantity.Factor](v V, by R) (explain.Answer, error) {
	return explain.Is(quantity.Scale(v, by))
}

// sum is one figure and another of its kind.
func sum[V quantity.Number](a, b V) (explain.Answer, error) { return explain.Is(a + b) }

// share makes the part that one figure is of another, which is named in the refusal to divide by nothing.
func share[V quantity.Number](whole string) func(part, of V) (explain.Answer, error) {
	return func(part, of V) (explain.Answer, error) {
		if of <= 0 {
			return explain.Answer{}, fmt.Errorf("the %s must be above zero", whole)
		}
		return explain.Is(quantity.Part(part, of))
	}
}
