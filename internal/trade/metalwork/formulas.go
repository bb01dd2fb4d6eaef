package metalwork

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
)

// Formulas returns every relation of this package that can be run by itself, in the order of the sheet.
func Formulas() []*explain.Formula {
	return slices.Concat(holeFormulas, []*explain.Formula{middlesOf, dotSize, boltRoom, slotLonger}, boltFormulas)
}

// Patterned is what is found of the machine's own metal: its hole patterns, how they fit one another, places to shim, bolts.
type Patterned struct {
	Patterns []PatternResult
	Matches  []MatchResult
	FitUps   []FitUpResult
	Bolted   BoltResult
}

// Metal works out everything of the machine's own metal. It is fast enough for every change of the job.
func Metal(j *job.Job, set explain.RuleSet, c Carried) Patterned {
	patterns := Patterns(j)
	return Patterned{patterns, matches(patterns), FitUps(j), Bolted(j, set, c)}
}
