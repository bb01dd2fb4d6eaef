package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed conductor_grounding.csv
var conductorGroundingFile string

type grounding struct {
	upTo   quantity.Current
	size   quantity.Conductor
	source explain.Source
}

var groundings = sync.OnceValue(func() []grounding {
	return eachRow(conductorGroundingFile, func(t table, row int) grounding {
		return grounding{quantity.Current(t.figure(row, "up to A")), sizeOf(t.text(row, "size")), t.sourceOf(row, "up to "+t.text(row, "up to A")+" A, copper")}
	})
})

// GroundingConductor returns the smallest copper equipment grounding conductor behind an overcurrent device of the given
// rating, before any increase; false above the table. Source: NFPA 70, Table 250.122.
func GroundingConductor(device quantity.Current) (quantity.Conductor, explain.Source, bool) {
	for _, g := range groundings() {
		if device <= g.upTo {
			return g.size, g.source, true
		}
	}
	return quantity.Conductor{}, explain.Source{}, false
}
