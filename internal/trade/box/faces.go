package box

import "drivewright/internal/base/quantity"

// FaceSize returns width and height of a face as it is seen from outside, upright: of the top and the bottom as one stands before the box.
func (r Room) FaceSize(f Face) (width, height quantity.Length) {
	switch f {
	case Plate:
		return r.PlateWidth.Value, r.PlateHeight.Value
	case LeftWall, RightWall:
		return r.Depth.Value, r.Height.Value
	case TopWall, BottomWall:
		return r.Width.Value, r.Depth.Value
	case Door, BackWall, Outside:
	}
	return r.Width.Value, r.Height.Value
}

// OnFace returns where a point of the enclosure lies on a face that is looked at from outside (the plate from the front), from that face's
// lower left corner. The point counts from the enclosure's outer lower left back corner: x right, y up, z towards the door. Each face
// is turned so that its right, its up and the way out of the metal make a right-handed corner: nothing is mirrored.
func (r Room) OnFace(f Face, p [3]quantity.Length) (x, y quantity.Length) {
	switch f {
	case Plate:
		left, low := r.PlateCorner()
		return p[0] - left, p[1] - low
	case LeftWall:
		return p[2], p[1]
	case RightWall:
		return r.Depth.Value - p[2], p[1]
	case TopWall:
		return p[0], r.Depth.Value - p[2]
	case BottomWall:
		return p[0], p[2]
	case BackWall:
		return r.Width.Value - p[0], p[1]
	case Door, Outside:
	}
	return p[0], p[1]
}

// PlateCorner is how far the plate's lower left corner is from the enclosure's: the plate hangs in the middle.
func (r Room) PlateCorner() (left, low quantity.Length) {
	return (r.Width.Value - r.PlateWidth.Value) / 2, (r.Height.Value - r.PlateHeight.Value) / 2
}

// PlateFace is how far the plate's face is from the back of the enclosure, when its door's sheet is as thick as said.
func (r Room) PlateFace(sheet quantity.Length) quantity.Length {
	return r.Depth.Value - sheet - r.Before.Value
}
