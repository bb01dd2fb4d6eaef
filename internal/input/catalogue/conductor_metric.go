package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed conductor_resistance_metric.csv
var metricResistanceFile string

type metricConductor struct {
	size       quantity.Conductor
	resistance cited[quantity.LinearResistance]
}

var metricConductors = sync.OnceValue(func() []metricConductor {
	return eachRow(metricResistanceFile, func(t table, row int) metricConductor {
		return metricConductor{quantity.SquareMillimetres(t.figure(row, "mm2")), cite(t, row, "ohm", t.text(row, "mm2")+" mm²", func(n float64) quantity.LinearResistance {
			return quantity.LinearResistance(n) * quantity.OhmPerKilometre
		})}
	})
})

// MetricResistance returns the greatest direct-current resistance that a copper conductor of a metric size may have at 20 °C; false for
// a size that isn't in the table. It is more than its nominal area gives. Source: IEC 60228, from memory.
func MetricResistance(size quantity.Conductor) (quantity.LinearResistance, explain.Source, bool) {
	for _, c := range metricConductors() {
		if c.size == size && c.resistance.there {
			return c.resistance.value, c.resistance.source, true
		}
	}
	return 0, explain.Source{}, false
}
