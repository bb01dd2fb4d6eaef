package circuit

import (
	"slices"

	"drivewright/internal/base/explain"
)

// Rules returns the rules that judge the circuit, in the order of the sheet.
func Rules() []explain.Rule[Result] {
	return slices.Concat(stopRules, startRules, emergencyRules, guardRules, motorRules, supplyRules, coilRules, inputRules, knobRules, cableRules, wireRules, bondRules, loadRules, brakeRules, mistakeRules)
}

// Formulas returns the relations that can be run by themselves.
func Formulas() []*explain.Formula { return slices.Clone(circuitFormulas) }
