package pack

import (
	"fmt"
	"slices"
)

// bound returns why the items can't all fit, found by a sum over them and without a search, or "".
func (t *task) bound() string {
	if why := t.shares(); why != "" {
		return why
	}
	return t.colours()
}

// crate is a room with boxes in it that take up no air: what the bounds below are about. Each box has a size for each of its turns.
type crate struct {
	room  [3]int
	boxes [][][3]int
}

// bodies is the crate of the bare bodies.
func (t *task) bodies() crate {
	c := crate{}
	for axis := range 3 {
		c.room[axis] = int(t.room[axis])
	}
	for n := range t.p.Items {
		var sizes [][3]int
		for _, size := range t.solids[n].size {
			sizes = append(sizes, [3]int{int(size[0]), int(size[1]), int(size[2])})
		}
		c.boxes = append(c.boxes, sizes)
	}
	return c
}

// widened is the crate of the bodies made longer along one axis by half the air on both sides, all in half units: since the gap of two
// bodies face to face is the greater one of two airs, it is at least their mean, so these never overlap. Along more than one axis at once
// they might, as air bands have no corners.
func (t *task) widened(axis int) crate {
	c := t.bodies()
	var least, greatest [2]int
	for n := range t.p.Items {
		for turn, air := range t.solids[n].air {
			c.boxes[n][turn][axis] *= 2
			for end := range 2 {
				a := int(air[2*axis+end])
				c.boxes[n][turn][axis] += a
				if n == 0 && turn == 0 {
					least[end], greatest[end] = a, a
				}
				least[end], greatest[end] = min(least[end], a), max(greatest[end], a)
			}
		}
	}
	c.room[axis] *= 2
	for end := range 2 {
		if t.p.Open[2*axis+end] {
			c.room[axis] += greatest[end] // half of the air may lie beyond
		} else {
			c.room[axis] -= least[end] // every body keeps its air from the wall, half of which is more than its own share
		}
	}
	c.room[axis] = max(c.room[axis], 0)
	return c
}

// shares compares the room with what the boxes take of it: by volume, and by dual feasible functions.
func (t *task) shares() string {
	c := t.bodies()
	if ratio := c.ratio(nil); ratio > 1 {
		return fmt.Sprintf("the bodies alone take %.4g times the room", ratio)
	}
	for axis, name := range []string{"left and right", "below and above", "behind and before"} {
		if !slices.ContainsFunc(t.solids, func(s solid) bool {
			return slices.ContainsFunc(s.air, func(a [6]int32) bool { return a[2*axis] > 0 || a[2*axis+1] > 0 })
		}) {
			continue
		}
		c := t.widened(axis)
		if ratio := c.ratio(nil); ratio > 1 {
			return fmt.Sprintf("the bodies with half of their air %s take %.4g times the room that there is for them", name, ratio)
		}
		if ratio := c.dual(); ratio > 1 {
			return fmt.Sprintf("the bodies with half of their air %s, weighed by which can lie side by side, take %.4g times the room that there is for them", name, ratio)
		}
	}
	if ratio := c.dual(); ratio > 1 {
		return fmt.Sprintf("the bodies, weighed by which can lie side by side, take %.4g times the room", ratio)
	}
	return ""
}

// weigh is a dual feasible function along an axis: whatever lengths make up no more than the whole, their weights make up no more than
// the whole's.
type weigh struct {
	kind, k int
}

// of weighs a length of a whole.
func (w weigh) of(length, whole int) int {
	switch {
	case w.kind == 0:
		return length
	case w.kind == 1: // what is longer than the rest counts for all, and what is short for nothing (Fekete and Schepers 2001)
		switch {
		case length > whole-w.k:
			return whole
		case length < w.k:
			return 0
		}
		return length
	case 2*length > whole: // by how many pieces of length k fit (Carlier, Clautiaux and Moukrim 2007)
		return 2 * (whole/w.k - (whole-length)/w.k)
	case 2*length == whole:
		return whole / w.k
	}
	return 2 * (length / w.k)
}

// all is the weight of the whole.
func (w weigh) all(whole int) int {
	if w.kind == 2 {
		return 2 * (whole / w.k)
	}
	return whole
}

// ratio is what the boxes take of the room, each in its best turn, by weights along the axes (nil: as they are).
func (c *crate) ratio(by *[3]weigh) float64 {
	if by == nil {
		by = &[3]weigh{}
	}
	sum, room := 0, 1
	for axis := range 3 {
		room *= by[axis].all(c.room[axis])
	}
	for _, sizes := range c.boxes {
		least := -1
		for _, size := range sizes {
			v := 1
			for axis := range 3 {
				v *= by[axis].of(size[axis], c.room[axis])
			}
			if least < 0 || v < least {
				least = v
			}
		}
		sum += least
	}
	switch {
	case sum <= room: // exactly, before division
		return float64(sum) / float64(max(room, 1))
	case room == 0:
		return float64(sum)
	}
	return max(float64(sum)/float64(room), 1.000001)
}

// mostWeighed is the greatest number of weights tried along an axis.
const mostWeighed = 40

// dual returns the greatest ratio by pairs of weights along two axes.
func (c *crate) dual() float64 {
	if c.room[0]*c.room[1] == 0 {
		return 0
	}
	var weights [3][]weigh
	for axis := range 3 {
		weights[axis] = []weigh{{}}
		seen := map[int]bool{}
		for _, sizes := range c.boxes {
			for _, size := range sizes {
				for _, k := range []int{size[axis], c.room[axis] - size[axis] + 1} {
					if k >= 1 && 2*k <= c.room[axis] && !seen[k] && len(weights[axis]) < mostWeighed {
						seen[k] = true
						weights[axis] = append(weights[axis], weigh{1, k}, weigh{2, k})
					}
				}
			}
		}
	}
	most := 0.0
	for first := range 3 {
		second := (first + 1) % 3
		for _, u := range weights[first] {
			for _, v := range weights[second] {
				var by [3]weigh
				by[first], by[second] = u, v
				if most = max(most, c.ratio(&by)); most > 1 {
					return most
				}
			}
		}
		if c.room[2] == 1 {
			break
		}
	}
	return most
}

// mostColours is the greatest number of colours tried.
const mostColours = 64

// colours paints the room's cells in k colours by the sum of their coordinates. A body with a side that k divides covers each colour
// equally often, however it lies, so that all of these together cover no more than k times the rarest colour (the argument of de
// Bruijn 1969 and Klarner 1969).
func (t *task) colours() string {
	c := t.bodies()
	volume := c.room[0] * c.room[1] * c.room[2]
	for k := 2; k <= mostColours; k++ {
		taken := 0
		for _, sizes := range c.boxes {
			if s := sizes[0]; s[0]%k == 0 || s[1]%k == 0 || s[2]%k == 0 {
				taken += s[0] * s[1] * s[2]
			}
		}
		if taken == 0 {
			continue
		}
		count := make([]int, k) // of the cells in the corner that k doesn't divide
		corner := 0
		for x := range c.room[0] % k {
			for y := range c.room[1] % k {
				for z := range c.room[2] % k {
					count[(x+y+z)%k]++
					corner++
				}
			}
		}
		if most := volume - corner + k*slices.Min(count); taken > most {
			return fmt.Sprintf("painted in %d colours by the sum of the coordinates, the room has too few cells of one colour: bodies that cover all colours equally take %d cells, and only %d can be covered so", k, taken, most)
		}
	}
	return ""
}
