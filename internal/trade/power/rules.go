package power

import (
	"slices"

	"drivewright/internal/base/explain"
)

// Rules are the rules of the Survey and Power stages, in the order of the sheet.
func Rules() []explain.Rule[Result] { return slices.Concat(motorRules, supplyRules) }

// Formulas are the relations that this package uses, in the order of the sheet.
func Formulas() []*explain.Formula { return slices.Concat(motorFormulas, supplyFormulas) }

// bothSets is the source of a rule that NFPA 70 and the IEC's works have alike, so that a job under either finds its own. The
// clauses of the second are recalled.
func bothSets(nec, iec string) explain.Source { return explain.NEC(nec + "; " + iec).Remembered() }
