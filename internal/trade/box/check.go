package box

import (
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// slack is what rounding to the search's unit may cost.
const slack = tenth

// ClashKind says what sort of clash it is.
type ClashKind int

// The kinds of clash.
const (
	together   ClashKind = iota // two things in one place
	inAir                       // one stands in the air of another, or a wall does
	tooNear                     // two that must be apart aren't
	outOfPlate                  // a part sticks out of the plate
	tooDeep                     // the door doesn't shut, or not with the air before the part
	swings                      // a door device strikes a part as the door turns
	noEntry                     // a cable has no place to come in
)

// stand is a body in its place, made ready for the checks.
type stand struct {
	body      int
	on        Face
	low, high [3]quantity.Length
	air       [6]quantity.Length // left, right, below, above, back, front
	shaft     bool
}

// stands reads what is placed. A quarter turn anticlockwise takes a part's left to the bottom.
func (b *Brief) stands(placed []Placed) []stand {
	var list []stand
	for _, p := range placed {
		if p.Face == Outside || p.Face == BackWall {
			continue
		}
		d := &b.Bodies[p.Body]
		s := stand{body: p.Body, on: p.Face, low: p.At, shaft: d.Shaft && p.Face == Plate}
		for axis := range 3 {
			s.high[axis] = p.At[axis] + p.Size[axis]
		}
		if p.Face == Plate {
			side, above, below := d.Sides.Value, max(d.Above.Value, d.Bend.Value), max(d.Below.Value, d.Bend.Value)
			s.air = [6]quantity.Length{side, side, below, above, 0, d.Front.Value}
			if p.Turned {
				s.air = [6]quantity.Length{above, below, side, side, 0, d.Front.Value}
			}
		}
		list = append(list, s)
	}
	return list
}

// Check returns everything that is wrong with the places in a room: every part against every other, against the walls, the plate and the
// door. It knows nothing of how they were found.
func (b *Brief) Check(room *Room, placed []Placed) []Clash {
	var found []Clash
	in := b.inside(room)
	list := b.stands(placed)
	for n := range list {
		found = append(found, b.alone(&in, &list[n])...)
		for m := range n {
			found = append(found, b.pair(&in, &list[m], &list[n])...)
		}
	}
	return found
}

// alone checks one part against the enclosure.
func (b *Brief) alone(in *inside, s *stand) []Clash {
	var found []Clash
	say := func(kind ClashKind, format string, values ...quantity.Value) {
		found = append(found, Clash{A: s.body, B: -1, Kind: kind, What: explain.Say(b.Bodies[s.body].Tag+" "+format, values...)})
	}
	if over := s.high[2] + s.air[5] - in.high[2]; over > slack {
		if s.high[2]-in.high[2] > slack {
			say(tooDeep, "is {} too deep for the shut door", s.high[2]-in.high[2])
		} else {
			say(tooDeep, "lacks {} of air to the shut door", over)
		}
	}
	if s.low[2] < -slack {
		say(tooDeep, "is {} too deep: it reaches behind the plate's face", -s.low[2])
	}
	for axis := range 2 {
		low, high := in.low[axis], in.high[axis]
		words := [2]string{"on the left", "on the right"}
		if axis == 1 {
			words = [2]string{"below", "above"}
		}
		if s.on == Plate {
			if out := -s.low[axis]; out > slack {
				say(outOfPlate, "sticks out of the plate by {} "+words[0], out)
			}
			if out := s.high[axis] - in.plate[axis]; out > slack {
				say(outOfPlate, "sticks out of the plate by {} "+words[1], out)
			}
		}
		if s.on == Door {
			low, high = low+doorMargin, high-doorMargin
		}
		if lack := low - (s.low[axis] - s.air[2*axis]); lack > slack {
			say(inAir, "lacks {} to the wall "+words[0], lack)
		}
		if lack := s.high[axis] + s.air[2*axis+1] - high; lack > slack {
			say(inAir, "lacks {} to the wall "+words[1], lack)
		}
	}
	return found
}

// overlap is by how much two stretches share room; negative if they are apart.
func overlap(aLow, aHigh, bLow, bHigh quantity.Length) quantity.Length {
	return min(aHigh, bHigh) - max(aLow, bLow)
}

// pair checks two parts against one another.
func (b *Brief) pair(in *inside, x, y *stand) []Clash {
	var found []Clash
	say := func(a, c *stand, kind ClashKind, format string, values ...quantity.Value) {
		found = append(found, Clash{A: a.body, B: c.body, Kind: kind, What: explain.Say(format, values...)})
	}
	tag := func(s *stand) string { return b.Bodies[s.body].Tag }
	var share [3]quantity.Length
	for axis := range 3 {
		share[axis] = overlap(x.low[axis], x.high[axis], y.low[axis], y.high[axis])
	}
	if share[0] > slack && share[1] > slack && share[2] > slack {
		kind, words := together, tag(x)+" and "+tag(y)+" are in one place"
		if x.on == Door != (y.on == Door) {
			words += " when the door is shut"
		}
		say(x, y, kind, words+", by {}", min(share[0], share[1], share[2]))
		return found
	}
	for _, two := range [2][2]*stand{{x, y}, {y, x}} {
		a, c := two[0], two[1]
		for axis := range 3 {
			o1, o2 := (axis+1)%3, (axis+2)%3
			if share[o1] <= slack || share[o2] <= slack {
				continue
			}
			below := overlap(a.low[axis]-a.air[2*axis], a.low[axis], c.low[axis], c.high[axis])
			above := overlap(a.high[axis], a.high[axis]+a.air[2*axis+1], c.low[axis], c.high[axis])
			if deep := max(below, above); deep > slack {
				say(a, c, inAir, tag(c)+" stands {} deep in the air of "+tag(a), deep)
			}
		}
		for _, apart := range b.Bodies[a.body].Apart {
			gap := max(-share[0], -share[1])
			if apart.Tag == tag(c) && gap < apart.By.Value-slack {
				say(a, c, tooNear, tag(a)+" and "+tag(c)+" are {} apart, they want {}", max(gap, 0), apart.By.Value)
			}
		}
		if a.shaft && c.on == Door && share[0] > -shaftClear && share[1] > -shaftClear {
			// the handle and its shaft are before the switch's middle
			if mid, half := middle(a), handleHalf(&b.Bodies[a.body]); near(mid[0], c.low[0], c.high[0], half) && near(mid[1], c.low[1], c.high[1], half) {
				say(a, c, together, tag(c)+" is in the way of the handle of "+tag(a))
			}
		}
		if a.on == Door && c.on == Plate {
			if over := b.swing(in, a, c); over > slack {
				say(a, c, swings, tag(a)+" strikes "+tag(c)+" by {} when the door opens", over)
			}
		}
	}
	return found
}

// shaftClear is how near to a switch a door device may count as being in its way at all.
const shaftClear = 60 * quantity.Millimetre

func middle(s *stand) [2]quantity.Length {
	return [2]quantity.Length{(s.low[0] + s.high[0]) / 2, (s.low[1] + s.high[1]) / 2}
}

func handleHalf(d *Body) quantity.Length {
	if d.Handle.OK() {
		return d.Handle.Value / 2
	}
	return 0
}

func near(at, low, high, half quantity.Length) bool {
	return at+half > low+slack && at-half < high-slack
}

// swept is how much further from the hinge than its edge the inner corner of a door device comes when the door turns: the corner stands
// edge from the hinge and depth behind the door.
func swept(edge, depth float64) int { return int(math.Ceil(math.Hypot(edge, depth) - edge)) }

// swing is by how much a door device strikes a part on the plate as the door turns. The corner on the side away from the hinge goes on a
// circle; until the door has turned, what stands beside it at its depth is in the way.
func (b *Brief) swing(in *inside, a, c *stand) quantity.Length {
	axis, far := 0, false
	switch b.Hinge() {
	case "left":
	case "right":
		far = true
	case "top":
		axis, far = 1, true
	case "bottom":
		axis = 1
	default:
		return 0 // a screwed cover is lifted straight off
	}
	other := 1 - axis
	if overlap(a.low[other], a.high[other], c.low[other], c.high[other]) <= slack || c.high[2] <= a.low[2]+slack {
		return 0
	}
	// The circle at the height of the part's front: a part that isn't as deep as the device meets it further along its way.
	depth := a.high[2] - a.low[2]
	short := c.high[2] - a.low[2] // how far the part reaches beside the device
	edge := a.high[axis] - in.low[axis]
	gap := c.low[axis] - a.high[axis]
	if far {
		edge = in.high[axis] - a.low[axis]
		gap = a.low[axis] - c.high[axis]
	}
	if gap < 0 {
		return 0 // nearer to the hinge, or in one place with it
	}
	r := math.Hypot(float64(edge), float64(depth))
	// while the corner is no higher than the part's front, it is at most this far out
	height := float64(depth - short)
	reach := math.Sqrt(max(r*r-height*height, 0))
	if height <= 0 {
		reach = r
	}
	return quantity.Length(reach) - edge - gap
}
