package power

import (
	"slices"

	"drivewright/internal/base/explain"
)

// Rules are the rules of the Survey and Power stages, in the order of the sheet.
func Rules() []explain.Rule[Result] { return slices.Concat(motorRules, supplyRules) }

// Formulas are the relations that this package uses, in the order of the sheet.
func Formulas() []*explain.Formula { return slices.Concat(motorFormulas, supplyFormulas) }
