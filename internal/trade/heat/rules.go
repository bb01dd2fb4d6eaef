package heat

import (
	"slices"

	"drivewright/internal/base/explain"
)

// Rules are the rules of the heat in the box, in the order of the sheet.
func Rules() []explain.Rule[Result] { return slices.Concat(warmthRules, openingRules, placeRules) }
