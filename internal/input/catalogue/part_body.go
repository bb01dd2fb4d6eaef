package catalogue

import (
	_ "embed"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed part_body.csv
var partBodyFile string

// PartBody is the typical body of a sort of part: the large end of what is usual, with the room that it wants.
type PartBody struct {
	Kind string
	// Largest is what the row serves at most, in the unit of its kind: W of shaft power for a drive, VA for a transformer, mm² of wire for a
	// terminal block, A otherwise; 0 where one row serves all.
	Largest float64
	// Width is that of one pole; each further one adds Pole.
	Width, Pole, Height, Depth quantity.Length
	Sides, Above, Below, Front quantity.Length // free air
	On                         string          // plate, rail, door, left wall …, outside
	Turns                      bool
	Screw                      string
	Screws                     int
	Across, Along              quantity.Length // between the screws
	Hole                       quantity.Length // in the door; 0 for none
	Notch                      bool
	CutWidth, CutHeight        quantity.Length // of a square cut-out; 0 for none
	Weight                     quantity.Mass
	Source                     explain.Source
}

var partBodies = sync.OnceValue(func() []PartBody {
	return eachRow(partBodyFile, func(t table, row int) PartBody {
		mm := func(column string) quantity.Length {
			return quantity.Length(t.figure(row, column)) * quantity.Millimetre
		}
		b := PartBody{Kind: t.text(row, "kind"), Largest: t.figure(row, "size"), Width: mm("width"), Pole: mm("pole"), Height: mm("height"), Depth: mm("depth"),
			Sides: mm("sides"), Above: mm("above"), Below: mm("below"), Front: mm("front"), On: t.text(row, "on"), Turns: t.text(row, "turn") == "yes",
			Screw: t.text(row, "screw"), Screws: int(t.figure(row, "screws")), Across: mm("across"), Along: mm("along"), Hole: mm("hole"), Notch: t.text(row, "notch") == "yes",
			Weight: quantity.Mass(t.figure(row, "weight") / 1000)}
		b.Source = t.sourceOf(row, b.Kind)
		if b.Largest > 0 {
			b.Source.Place += " up to " + t.text(row, "size")
		}
		if w, h, ok := strings.Cut(t.text(row, "cut"), " x "); ok {
			b.CutWidth, b.CutHeight = millimetres(w), millimetres(h)
		}
		return b
	})
})

// BodyOf returns the typical body of a part of the kind that must serve the size: the row of the next size up, or the largest where none is
// large enough. It reports false for a kind that the table doesn't know.
func BodyOf(kind string, size float64) (PartBody, bool) {
	best, found := PartBody{}, false
	for _, b := range partBodies() {
		if b.Kind != kind {
			continue
		}
		best, found = b, true
		if b.Largest == 0 || b.Largest >= size {
			break
		}
	}
	return best, found
}
