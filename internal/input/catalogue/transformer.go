package catalogue

import (
	_ "embed"
	"math"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed transformer.csv
var transformerFile string

type transformer struct {
	upTo      quantity.ApparentPower
	impedance cited[quantity.Ratio]
}

var transformers = sync.OnceValue(func() []transformer {
	return eachRow(transformerFile, func(t table, row int) transformer {
		upTo, limited := t.number(row, "up to kVA")
		cell := "up to " + t.text(row, "up to kVA") + " kVA"
		if !limited {
			upTo, cell = math.Inf(1), "larger"
		}
		return transformer{quantity.ApparentPower(upTo * 1000), cite(t, row, "percent", cell, func(n float64) quantity.Ratio {
			return quantity.Ratio(n) * quantity.Percent
		})}
	})
})

// TypicalImpedance returns the impedance that a single-phase distribution transformer of the rating usually has; its plate rules.
func TypicalImpedance(rating quantity.ApparentPower) (quantity.Ratio, explain.Source) {
	for _, t := range transformers() {
		if rating <= t.upTo {
			return t.impedance.value, t.impedance.source
		}
	}
	return 0, explain.Source{}
}
