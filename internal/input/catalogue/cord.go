package catalogue

import (
	_ "embed"
	"slices"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed cord.csv
var cordFile string

type cordTable struct {
	sizes      []quantity.Conductor
	three, two map[quantity.Conductor]cited[quantity.Current]
}

var cords = sync.OnceValue(func() cordTable {
	t := dataFile(cordFile)
	c := cordTable{three: map[quantity.Conductor]cited[quantity.Current]{}, two: map[quantity.Conductor]cited[quantity.Current]{}}
	amperes := func(n float64) quantity.Current { return quantity.Current(n) }
	for row := range t.rows {
		name := t.text(row, "size")
		size := sizeOf(name)
		c.sizes = append(c.sizes, size)
		c.three[size] = cite(t, row, "three carrying", name+", column A", amperes)
		c.two[size] = cite(t, row, "two carrying", name+", column B", amperes)
	}
	return c
})

// CordSizes returns the conductor sizes of flexible cord, smallest first. The caller may change the slice.
func CordSizes() []quantity.Conductor { return slices.Clone(cords().sizes) }

// CordAmpacity returns the amperes of hard-service flexible cord in 30 °C air with two or three of its conductors carrying
// current; false for a size that isn't in the table. Source: NFPA 70, Table 400.5(A)(1).
func CordAmpacity(size quantity.Conductor, carrying quantity.Count) (quantity.Current, explain.Source, bool) {
	c := cords().three[size]
	if carrying <= 2 {
		c = cords().two[size]
	}
	return c.value, c.source, c.there
}
