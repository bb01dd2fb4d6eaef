package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed wire_bending.csv
var wireBendingFile string

type bending struct {
	upTo   quantity.Conductor
	space  quantity.Length
	source explain.Source
}

var bendings = sync.OnceValue(func() []bending {
	return eachRow(wireBendingFile, func(t table, row int) bending {
		size, err := quantity.ParseConductor(t.text(row, "upto"))
		if err != nil {
			return bending{} // the tests read every row
		}
		return bending{size, quantity.Length(t.figure(row, "space")) * quantity.Inch, t.sourceOf(row, t.text(row, "upto"))}
	})
})

// BendingSpace returns the room that a wire of the size needs to turn in before its terminal; the largest of the table for larger wires.
func BendingSpace(size quantity.Conductor) (quantity.Length, explain.Source) {
	list := bendings()
	if len(list) == 0 {
		return 0, explain.Source{}
	}
	for _, b := range list {
		if size.Area() <= b.upTo.Area()*1.0001 {
			return b.space, b.source
		}
	}
	last := list[len(list)-1]
	return last.space, last.source
}
