package box

import (
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// A box of 300 × 400 × 200 mm with a point near its upper front right edge, looked at from each side in turn: by hand, as one walks around it.
func TestAPointOnEachFace(t *testing.T) {
	mm := func(x float64) explain.Known[quantity.Length] {
		return explain.Constant("size", quantity.Length(x), explain.Source{})
	}
	r := Room{Width: mm(300), Height: mm(400), Depth: mm(200), PlateWidth: mm(250), PlateHeight: mm(350)}
	p := [3]quantity.Length{290, 380, 170} // 10 from the right wall, 20 from the top, 30 from the door
	for f, want := range map[Face][2]quantity.Length{
		Door:       {290, 380}, // as it stands
		BackWall:   {10, 380},  // from behind, what was right is left
		LeftWall:   {170, 380}, // the door is on the right hand
		RightWall:  {30, 380},  // the door is on the left hand
		TopWall:    {290, 30},  // bent over it from the front, the door's edge is nearest
		BottomWall: {290, 170}, // lying under it, feet to the back, the door's edge is uppermost
		Plate:      {265, 355},
	} {
		if x, y := r.OnFace(f, p); x != want[0] || y != want[1] {
			t.Errorf("%s: %g, %g, want %g, %g", f, float64(x), float64(y), float64(want[0]), float64(want[1]))
		}
	}
	// no face is mirrored: three corners run anticlockwise around the way out on each
	for _, f := range []Face{Door, BackWall, LeftWall, RightWall, TopWall, BottomWall} {
		out := map[Face][3]float64{Door: {0, 0, 1}, BackWall: {0, 0, -1}, LeftWall: {-1, 0, 0}, RightWall: {1, 0, 0}, TopWall: {0, 1, 0}, BottomWall: {0, -1, 0}}[f]
		axes := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
		var right, up [3]float64
		x0, y0 := r.OnFace(f, [3]quantity.Length{})
		for k, a := range axes {
			x, y := r.OnFace(f, [3]quantity.Length{quantity.Length(a[0]), quantity.Length(a[1]), quantity.Length(a[2])})
			right[k], up[k] = float64(x-x0), float64(y-y0)
		}
		cross := [3]float64{right[1]*up[2] - right[2]*up[1], right[2]*up[0] - right[0]*up[2], right[0]*up[1] - right[1]*up[0]}
		if cross != out {
			t.Errorf("%s is mirrored: right × up is %v, out is %v", f, cross, out)
		}
	}
}
