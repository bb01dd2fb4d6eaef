package catalogue

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed enclosure_size.csv
var enclosureSizeFile string

// EnclosureSize is a standard size of small steel enclosures.
type EnclosureSize struct {
	Name                    string // "16 × 12 × 8 in", height first
	Inch                    bool
	Height, Width, Depth    quantity.Length // outside
	PlateHeight, PlateWidth quantity.Length
	Source                  explain.Source
}

var enclosureSizes = sync.OnceValue(func() []EnclosureSize {
	var list []EnclosureSize
	t := dataFile(enclosureSizeFile)
	for row := range t.rows {
		inch := t.text(row, "unit") == "in"
		unit := quantity.Length(quantity.Millimetre)
		if inch {
			unit = quantity.Inch
		}
		length := func(column string) quantity.Length { return quantity.Length(t.figure(row, column)) * unit }
		for depth := range strings.SplitSeq(t.text(row, "depths"), ";") {
			name := t.text(row, "height") + " × " + t.text(row, "width") + " × " + depth + " " + t.text(row, "unit")
			d, err := strconv.ParseFloat(depth, 64)
			if err != nil {
				continue // the tests read every row
			}
			list = append(list, EnclosureSize{name, inch, length("height"), length("width"), quantity.Length(d) * unit, length("plate height"), length("plate width"), t.sourceOf(row, name)})
		}
	}
	return list
})

// EnclosureSizes returns the standard sizes, inch sizes first. The caller may change the slice.
func EnclosureSizes() []EnclosureSize { return append([]EnclosureSize(nil), enclosureSizes()...) }

// millimetres reads a plain number of a table cell; 0 where it holds none, which the tests would find.
func millimetres(cell string) quantity.Length {
	n, err := strconv.ParseFloat(strings.TrimSpace(cell), 64)
	if err != nil {
		return 0
	}
	return quantity.Length(n) * quantity.Millimetre
}
