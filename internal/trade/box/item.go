package box

import (
	"slices"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/pack"
)

// item is what the search places as one piece: a body, or a rail with the bodies on it.
type item struct {
	bodies []int
	at     [][2]int // lower left corner of each body from the item's
	size   pack.Vec
	air    [6]int // plate and door: left, right, below, above, back, front
	on     Face
	turns  bool
	rail   bool
	column bool // nothing may stand between it and the door: a shaft is there
}

// railEnd is what a rail carries beyond its last part on each side: an end stop.
const railEnd = 10 * quantity.Millimetre

// single makes an item of one body.
func (b *Brief) single(n int) item {
	d := &b.Bodies[n]
	it := item{bodies: []int{n}, at: [][2]int{{}}, on: d.On, turns: d.MayTurn && d.Spot == nil}
	it.size = pack.Vec{tenths(d.Width.Value), tenths(d.Height.Value), tenths(d.Depth.Value)}
	side, bend := tenths(d.Sides.Value), tenths(d.Bend.Value)
	it.air = [6]int{side, side, max(tenths(d.Below.Value), bend), max(tenths(d.Above.Value), bend), 0, tenths(d.Front.Value)}
	it.column = b.handleOnDoor(n)
	return it
}

// handleOnDoor reports whether the body is the main switch with its handle on the door.
func (b *Brief) handleOnDoor(n int) bool { return b.Bodies[n].Shaft && b.Bodies[n].On == Plate }

// railItem makes an item of bodies side by side on one rail, in their order.
func (b *Brief) railItem(bodies []int) item {
	it := item{bodies: slices.Clone(bodies), on: Plate, rail: true, turns: true}
	end := tenths(railEnd)
	up, down := 0, 0 // what the row needs above and below its middle line, air included, in half tenths
	half := 0
	for _, n := range bodies {
		s := b.single(n)
		half = max(half, s.size[1])
		up, down = max(up, s.size[1]+2*s.air[pack.Top]), max(down, s.size[1]+2*s.air[pack.Bottom])
		it.turns = it.turns && s.turns
		it.air[pack.Front] = max(it.air[pack.Front], s.air[pack.Front]) // of the deepest: on the safe side
		it.size[2] = max(it.size[2], s.size[2])
	}
	it.size[1] = half
	it.air[pack.Top], it.air[pack.Bottom] = (up-half+1)/2, (down-half+1)/2
	x := end
	for k, n := range bodies {
		s := b.single(n)
		side := s.air[pack.Left]
		if k > 0 {
			side = max(side, b.single(bodies[k-1]).air[pack.Right])
			x += side
		} else {
			it.air[pack.Left] = max(side-end, 0)
		}
		it.at = append(it.at, [2]int{x, (half - s.size[1]) / 2})
		x += s.size[0]
		it.air[pack.Right] = max(s.air[pack.Right]-end, 0)
	}
	it.size[0] = x + end
	return it
}

// limits returns how far the item's lower left back corner may go. strict keeps it right in every turn that it may take; otherwise the limits only
// exclude what no turn allows, which is what a proof needs.
func (b *Brief) limits(f *frame, it *item, strict bool) (from, to pack.Vec) {
	for axis := range 2 {
		near, far := it.air[2*axis], it.air[2*axis+1]
		size := it.size[axis]
		if it.turns {
			other := 1 - axis
			pick := func(a, b int) int {
				if strict {
					return max(a, b)
				}
				return min(a, b)
			}
			size = pick(size, it.size[other])
			near = pick(near, min(it.air[2*other], it.air[2*other+1]))
			far = pick(far, min(it.air[2*other], it.air[2*other+1]))
			if strict {
				near, far = max(near, it.air[2*other], it.air[2*other+1]), max(far, it.air[2*other], it.air[2*other+1])
			}
		}
		switch it.on {
		case Door:
			margin := tenths(doorMargin)
			from[axis], to[axis] = f.low[axis]+margin, f.high[axis]-margin-size
		case Plate, LeftWall, RightWall, TopWall, BottomWall, BackWall, Outside:
			from[axis] = max(f.origin[axis], f.low[axis]+near)
			to[axis] = min(f.plate[axis], f.high[axis]-far) - size
		}
	}
	depth := it.size[2]
	switch it.on {
	case Door:
		from[2] = f.high[2] - depth
		to[2] = from[2]
	case LeftWall, RightWall, TopWall, BottomWall:
		// the body's depth lies along the wall's own axis: see wallSize
		axis, far := it.on.axis()
		from, to = pack.Vec{f.low[0], f.low[1], 0}, pack.Vec{f.high[0] - it.size[0], f.high[1] - it.size[1], f.high[2] - it.size[2]}
		if far {
			from[axis] = to[axis]
		} else {
			to[axis] = from[axis]
		}
		if strict {
			b.offTheRim(&from, &to, axis)
		}
	case Plate, BackWall, Outside:
	}
	return from, to
}

// wallRim is what stays free along the edges of a wall, where its metal is bent and the door's seal lies; as the marking out has it.
const wallRim = 15 * quantity.Millimetre

// offTheRim keeps a device in a wall across the axis off the wall's rims, where it is small enough for that.
func (b *Brief) offTheRim(from, to *pack.Vec, across int) {
	rim := tenths(wallRim)
	for axis := range 3 {
		if axis == across {
			continue
		}
		low, high := from[axis]+rim, to[axis]-rim
		if axis == 2 { // the plate's face is further from the back than the rim reaches
			low = from[axis]
		}
		if low <= high {
			from[axis], to[axis] = low, high
		}
	}
}

// axis returns which axis a wall stands across, and whether it is the far one.
func (f Face) axis() (axis int, far bool) {
	switch f {
	case LeftWall:
		return 0, false
	case RightWall:
		return 0, true
	case BottomWall:
		return 1, false
	case TopWall:
		return 1, true
	case Plate, BackWall:
		return 2, false
	case Door, Outside:
	}
	return 2, true
}

// wallSize turns a wall device's width, height and depth into its extent along x, y and z.
func wallSize(on Face, size pack.Vec) pack.Vec {
	switch on {
	case LeftWall, RightWall:
		return pack.Vec{size[2], size[1], size[0]}
	case TopWall, BottomWall:
		return pack.Vec{size[0], size[2], size[1]}
	case Plate, Door, BackWall, Outside:
	}
	return size
}
