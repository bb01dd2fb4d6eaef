package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed converter_rotary.csv
var rotaryConverterText string

//go:embed motor_price.csv
var singlePhaseMotorText string

// RotaryConverter is a typical rotary converter, of no maker.
type RotaryConverter struct {
	Power quantity.ShaftPower
	Input quantity.Current // single-phase, at full load and 240 V
	Idle  quantity.Power   // lost while nothing runs on it
	// Light and Hard are the largest single motor that it starts, with a light load and with a heavy wheel.
	Light, Hard quantity.ShaftPower
	Price       quantity.Money // United States dollars, typical
	Source      explain.Source
}

// RotaryConverters returns the typical rotary converters, smallest first. The caller must not change the list.
func RotaryConverters() []RotaryConverter { return rotaryConverters() }

var rotaryConverters = sync.OnceValue(func() []RotaryConverter {
	return eachRow(rotaryConverterText, func(t table, row int) RotaryConverter {
		number := func(column string) float64 { return t.figure(row, column) }
		return RotaryConverter{
			Power: quantity.ShaftPower(number("horsepower")) * quantity.Horsepower, Input: quantity.Current(number("input")),
			Idle: quantity.Power(number("idle")), Light: quantity.ShaftPower(number("light")) * quantity.Horsepower,
			Hard: quantity.ShaftPower(number("hard")) * quantity.Horsepower, Price: quantity.Money(number("price")),
			Source: t.sourceOf(row, t.text(row, "horsepower")+" hp"),
		}
	})
})

// SinglePhaseMotor is a typical single-phase motor, of no maker.
type SinglePhaseMotor struct {
	Power      quantity.ShaftPower
	Efficiency quantity.Ratio
	Price      quantity.Money // United States dollars, typical
	Source     explain.Source
}

// SinglePhaseMotors returns the typical single-phase motors, smallest first. The caller must not change the list.
func SinglePhaseMotors() []SinglePhaseMotor { return singlePhaseMotors() }

var singlePhaseMotors = sync.OnceValue(func() []SinglePhaseMotor {
	return eachRow(singlePhaseMotorText, func(t table, row int) SinglePhaseMotor {
		return SinglePhaseMotor{
			Power:      quantity.ShaftPower(t.figure(row, "horsepower")) * quantity.Horsepower,
			Efficiency: quantity.Ratio(t.figure(row, "efficiency")), Price: quantity.Money(t.figure(row, "price")),
			Source: t.sourceOf(row, t.text(row, "horsepower")+" hp"),
		}
	})
})

//go:embed converter_static.csv
var staticConverterText string

// StaticConverter is a typical static converter, of no maker: a relay and capacitors that start the motor, which then runs on
// one phase.
type StaticConverter struct {
	Power  quantity.ShaftPower // largest motor that it starts
	Price  quantity.Money      // United States dollars, typical
	Source explain.Source
}

// StaticConverters returns the typical static converters, smallest first. The caller must not change the list.
func StaticConverters() []StaticConverter { return staticConverters() }

var staticConverters = sync.OnceValue(func() []StaticConverter {
	return eachRow(staticConverterText, func(t table, row int) StaticConverter {
		return StaticConverter{
			Power: quantity.ShaftPower(t.figure(row, "horsepower")) * quantity.Horsepower, Price: quantity.Money(t.figure(row, "price")),
			Source: t.sourceOf(row, t.text(row, "horsepower")+" hp"),
		}
	})
})

//go:embed transformer_step_up.csv
var stepUpText string

// StepUpTransformer is a typical single-phase transformer from 240 to 480 V, of no maker.
type StepUpTransformer struct {
	Rating quantity.ApparentPower
	Losses quantity.Power // at full load
	Price  quantity.Money // United States dollars, typical
	Source explain.Source
}

// StepUpTransformers returns the typical step-up transformers, smallest first. The caller must not change the list.
func StepUpTransformers() []StepUpTransformer { return stepUpTransformers() }

var stepUpTransformers = sync.OnceValue(func() []StepUpTransformer {
	return eachRow(stepUpText, func(t table, row int) StepUpTransformer {
		return StepUpTransformer{
			Rating: quantity.ApparentPower(t.figure(row, "rating") * 1000), Losses: quantity.Power(t.figure(row, "losses")),
			Price: quantity.Money(t.figure(row, "price")), Source: t.sourceOf(row, t.text(row, "rating")+" kVA"),
		}
	})
})
