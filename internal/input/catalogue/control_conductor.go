package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed control_conductor.csv
var controlConductorFile string

//go:embed control_conductor_metric.csv
var controlConductorMetricFile string

var controlConductors = sync.OnceValue(func() map[quantity.Conductor]cited[quantity.Current] {
	m := map[quantity.Conductor]cited[quantity.Current]{}
	read := func(file, unit string, size func(t table, row int) quantity.Conductor) {
		t := dataFile(file)
		for row := range t.rows {
			m[size(t, row)] = cite(t, row, "amperes", t.text(row, "size")+" "+unit, func(n float64) quantity.Current { return quantity.Current(n) })
		}
	}
	read(controlConductorFile, "AWG", func(t table, row int) quantity.Conductor { return sizeOf(t.text(row, "size")) })
	read(controlConductorMetricFile, "mm²", func(t table, row int) quantity.Conductor { return quantity.SquareMillimetres(t.figure(row, "size")) })
	return m
})

// ControlAmpacity returns what a small copper conductor carries in a machine's control wiring, which is also the most that its
// fuse may be; false for a size that isn't in the tables. Source: NFPA 79, Table 12.5.1 (gauges); IEC 60204-1, Table 6 (mm²).
func ControlAmpacity(size quantity.Conductor) (quantity.Current, explain.Source, bool) {
	c := controlConductors()[size]
	return c.value, c.source, c.there
}
