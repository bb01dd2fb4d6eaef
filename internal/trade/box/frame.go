package box

import (
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/pack"
)

// The search counts in tenths of a millimetre.
const tenth = quantity.Millimetre / 10

// tenths rounds a length that needs room up to whole tenths.
func tenths(l quantity.Length) int { return int(math.Ceil(float64(l/tenth) - 1e-6)) }

// room tenths rounds a length that gives room down to whole tenths.
func roomTenths(l quantity.Length) int { return int(math.Floor(float64(l/tenth) + 1e-6)) }

// Room on the door that no device may take: what the sheet is bent over, where the seal lies, and what the frame of the box needs
// to pass when the door turns.
const doorMargin = 25 * quantity.Millimetre

// Sheet returns the thickness of the enclosure's walls and door.
func (b *Brief) Sheet() explain.Known[quantity.Length] {
	return job.Or(b.Job.Enclosure.Sheet, 1.5*quantity.Millimetre, explain.Practice("small steel enclosures: 1.2 to 2 mm, 16 to 14 gauge"), explain.Say("typical of a small steel box"))
}

// Hinge returns the side on which the door turns: left, right, top, bottom or screwed cover.
func (b *Brief) Hinge() string {
	if b.Job.Enclosure.Hinge.Set {
		return string(b.Job.Enclosure.Hinge.Value)
	}
	return "left"
}

// inside is the space of an enclosure in metres, counted as Placed counts: from the lower left corner of the plate's face.
type inside struct {
	plate     [2]quantity.Length // width and height
	low, high [3]quantity.Length // inner faces of the walls, the plate's face and the inside of the door
}

func (b *Brief) inside(r *Room) inside {
	t := b.Sheet().Value
	left, under := r.PlateCorner()
	return inside{plate: [2]quantity.Length{r.PlateWidth.Value, r.PlateHeight.Value}, low: [3]quantity.Length{t - left, t - under, 0},
		high: [3]quantity.Length{r.Width.Value - left - t, r.Height.Value - under - t, r.Before.Value}}
}

// frame is the same space in the search's tenths. Its origin lies left of and below every wall, so that no place is negative, and at a round
// distance from the plate's corner, so that the lengths of the parts keep their common divisors.
type frame struct {
	in     inside
	origin [2]int // of the plate's corner in the frame
	low    [3]int // inner faces of walls; rounded so that room is never gained
	high   [3]int
	plate  [2]int          // far edges of the plate
	back   quantity.Length // from the enclosure's outer back to the plate's face
	depth  quantity.Length // of the enclosure, outside
}

// roundTo is what the plate's corner is a multiple of.
const roundTo = 100

func (b *Brief) frame(r *Room) frame {
	f := frame{in: b.inside(r), back: r.PlateFace(b.Sheet().Value), depth: r.Depth.Value}
	for axis := range 2 {
		margin := tenths(-f.in.low[axis])
		f.origin[axis] = (max(margin, 0) + roundTo - 1) / roundTo * roundTo
		f.low[axis] = f.origin[axis] + tenths(f.in.low[axis])
		f.high[axis] = f.origin[axis] + roomTenths(f.in.high[axis])
		f.plate[axis] = f.origin[axis] + roomTenths(f.in.plate[axis])
	}
	f.high[2] = roomTenths(f.in.high[2])
	return f
}

// space is the room of the frame as a packing problem sees it. Its sides are open, as what each part needs before a wall is in the part's
// own limits.
func (f *frame) space() (room pack.Vec, open [6]bool) {
	return pack.Vec{f.high[0], f.high[1], f.high[2]}, [6]bool{true, true, true, true, true, true}
}
