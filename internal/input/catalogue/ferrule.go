package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed ferrule.csv
var ferruleFile string

// Ferrule is a wire-end ferrule with a plastic collar.
type Ferrule struct {
	Size   quantity.Conductor // nominal, mm²
	Colour string             // of the collar
	Sleeve quantity.Length    // of the metal
	Source explain.Source     // of the colour
	gauge  quantity.Conductor // the one that the trade puts into it
}

var ferrules = sync.OnceValue(func() []Ferrule {
	return eachRow(ferruleFile, func(t table, row int) Ferrule {
		return Ferrule{quantity.SquareMillimetres(t.figure(row, "size")), t.text(row, "colour"), quantity.Length(t.figure(row, "sleeve")) * quantity.Millimetre,
			t.sourceOf(row, t.text(row, "size")+" mm²"), quantity.AWG(int(t.figure(row, "gauge")))}
	})
})

// FerruleFor returns the ferrule for a stranded conductor: the size of the same name, or the smallest that takes its metal;
// false where it is too large for any in the table. A gauge goes into the size that the trade uses for it, although its area is
// up to a tenth larger. Source: DIN 46228-4.
func FerruleFor(c quantity.Conductor) (Ferrule, bool) {
	if !c.Known() {
		return Ferrule{}, false
	}
	for _, f := range ferrules() {
		if c == f.Size || c == f.gauge {
			return f, true
		}
	}
	for _, f := range ferrules() {
		if f.Size.Area() >= c.Area() {
			return f, true
		}
	}
	return Ferrule{}, false
}
