package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed cable_separation.csv
var cableSeparationFile string

// Separation is how far two sorts of cable are kept apart where they run side by side.
type Separation struct {
	Pair, Where string
	Distance    quantity.Length
	Source      explain.Source
}

var separations = sync.OnceValue(func() []Separation {
	return eachRow(cableSeparationFile, func(t table, row int) Separation {
		return Separation{t.text(row, "pair"), t.text(row, "where"), quantity.Length(t.figure(row, "distance")) * quantity.Millimetre, t.sourceOf(row, "")}
	})
})

// Separations returns the distances, the largest first. They are common practice: the drive's own booklet goes before them.
// The caller must not change the slice.
func Separations() []Separation { return separations() }
