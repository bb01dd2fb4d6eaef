package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed conductor_colour.csv
var conductorColourFile string

//go:embed control_colour.csv
var controlColourFile string

//go:embed control_conductor_minimum.csv
var controlMinimumFile string

// Colour is a colour with where it is laid down.
type Colour struct {
	Name   string
	Source explain.Source
}

type colourKey struct{ set, what string }

func coloursIn(text, column string) map[colourKey]Colour {
	t := dataFile(text)
	m := map[colourKey]Colour{}
	for row := range t.rows {
		what := t.text(row, column)
		m[colourKey{t.text(row, "set"), what}] = Colour{t.text(row, "colour"), t.sourceOf(row, what)}
	}
	return m
}

var conductorColours = sync.OnceValue(func() map[colourKey]Colour { return coloursIn(conductorColourFile, "carries") })

var controlColours = sync.OnceValue(func() map[colourKey]Colour { return coloursIn(controlColourFile, "for") })

// ConductorColour returns the colour of the insulation of a conductor that carries: grounding, power, neutral, control AC,
// control DC, common AC, common DC (the grounded side of a control supply), foreign (live with the main switch off), foreign
// neutral. False for anything else. Source: NFPA 79 and IEC 60204-1, 13.2.
func ConductorColour(set explain.RuleSet, carries string) (Colour, bool) {
	c, ok := conductorColours()[colourKey{string(set), carries}]
	return c, ok
}

// ControlColour returns the preferred colour of a push button (start, stop, emergency stop, jog, reset) or an indicator light
// (run lamp, power lamp, fault lamp); false for anything else. Source: NFPA 79 and IEC 60204-1, 10.2 and 10.3.
func ControlColour(set explain.RuleSet, what string) (Colour, bool) {
	c, ok := controlColours()[colourKey{string(set), what}]
	return c, ok
}

type minimumKey struct{ location, circuit, conductor string }

var controlMinima = sync.OnceValue(func() map[minimumKey]cited[quantity.Conductor] {
	t := dataFile(controlMinimumFile)
	m := map[minimumKey]cited[quantity.Conductor]{}
	for row := range t.rows {
		k := minimumKey{t.text(row, "location"), t.text(row, "circuit"), t.text(row, "conductor")}
		m[k] = cite(t, row, "square millimetres", k.location+", "+k.circuit+", "+k.conductor, quantity.SquareMillimetres)
	}
	return m
})

// LeastControlConductor returns the least cross-section of a copper conductor, inside or outside the box, of a power, control or
// data circuit, for a single flexible or stranded conductor, or a core of a cable: "single flexible", "single stranded",
// "two-core", "two-core screened", "three-core or more". False for what the table doesn't have.
// Source: IEC 60204-1, Table 5.
func LeastControlConductor(location, circuit, conductor string) (quantity.Conductor, explain.Source, bool) {
	c := controlMinima()[minimumKey{location, circuit, conductor}]
	return c.value, c.source, c.there
}
