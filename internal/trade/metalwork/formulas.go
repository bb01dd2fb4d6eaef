package metalwork

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
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
	// Strays are holes and readings whose pattern isn't among the patterns, by what they say of it; Names are the patterns that there are.
	Strays []job.Given[quantity.Text]
	Names  []string
}

// Metal works out everything of the machine's own metal. It is fast enough for every change of the job.
func Metal(j *job.Job, set explain.RuleSet, c Carried) Patterned {
	patterns := Patterns(j)
	p := Patterned{Patterns: patterns, Matches: matches(patterns), FitUps: FitUps(j), Bolted: Bolted(j, set, c)}
	for n := range j.Patterns {
		p.Names = append(p.Names, string(j.Patterns[n].Name.Value))
	}
	stray := func(of job.Given[quantity.Text]) {
		if of.Set && !slices.Contains(p.Names, string(of.Value)) {
			p.Strays = append(p.Strays, of)
		}
	}
	for n := range j.Holes {
		stray(j.Holes[n].Pattern)
	}
	for n := range j.Distances {
		stray(j.Distances[n].Pattern)
	}
	return p
}
