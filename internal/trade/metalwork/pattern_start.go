package metalwork

import (
	"math"
	"slices"
)

// beam is how many ways of placing the holes are followed at once; every hole that two readings place can lie on either side of their line.
const beam = 48

// start places the holes one by one, each where circles round the holes that are placed already cross, and keeps the ways that fit best.
// It returns them best first.
func (n *network) start() [][]float64 {
	known := make([]point, n.holes)
	there := make([]bool, n.holes)
	// A drawing or the edges place holes outright; the first hole is placed somewhere in any case.
	seen := map[int]point{}
	for h := range n.holes {
		at, photo := [2]float64{math.NaN(), math.NaN()}, point{math.NaN(), math.NaN()}
		for _, o := range n.seen {
			switch {
			case o.b != h:
			case o.sort == fromLeft:
				at[0] = o.value
			case o.sort == fromBase:
				at[1] = o.value
			case o.sort == seenX:
				photo.x = o.value
			case o.sort == seenY:
				photo.y = o.value
			}
		}
		if !math.IsNaN(photo.x) {
			seen[h] = photo
		}
		there[h] = !math.IsNaN(at[0]) && !math.IsNaN(at[1])
		if there[h] || h == 0 {
			known[h] = point{orZero(at[0]), orZero(at[1])}
		}
	}
	turn := n.placePhoto(known, there, seen)
	type way struct {
		at    []point
		worse float64
	}
	if !slices.Contains(there, true) && n.holes > 0 {
		there[0] = true
	}
	ways := []way{{at: known}}
	for {
		next := n.nextHole(there)
		if next < 0 {
			break
		}
		var more []way
		for _, w := range ways {
			for _, p := range n.places(next, w.at, there) {
				at := slices.Clone(w.at)
				at[next] = p
				worse := w.worse
				for _, o := range n.seen {
					other, ok := o.other(next)
					switch {
					case ok && there[other]:
						worse += square((p.to(at[other]) - o.value) / o.spread)
					case o.b == next && o.sort == fromLeft:
						worse += square((p.x - o.value) / o.spread)
					case o.b == next && o.sort == fromBase:
						worse += square((p.y - o.value) / o.spread)
					}
				}
				more = append(more, way{at, worse})
			}
		}
		slices.SortStableFunc(more, func(a, b way) int { return compare(a.worse, b.worse) })
		ways, there[next] = more[:min(len(more), beam)], true
	}
	var list [][]float64
	for _, w := range ways {
		u := make([]float64, n.unknowns())
		for h, p := range w.at {
			u[2*h], u[2*h+1] = p.x, p.y
		}
		if n.photo {
			k := len(u) - 3
			u[k], u[k+1], u[k+2] = turn.shift.x, turn.shift.y, turn.angle
		}
		list = append(list, u)
	}
	return list
}

// placePhoto places the holes that the photo shows, in the axes of those that are placed already, or else with the first of them at zero and
// the second to the right of it. It returns the movement from those axes to the photo's.
func (n *network) placePhoto(known []point, there []bool, seen map[int]point) movement {
	var here, shown []point
	for h := range n.holes {
		if p, ok := seen[h]; ok && there[h] {
			here, shown = append(here, known[h]), append(shown, p)
		}
	}
	m := movement{}
	switch {
	case len(here) >= 1:
		m = bestMovement(here, shown, nil, false)
	default:
		for h := range n.holes {
			if p, ok := seen[h]; ok {
				shown = append(shown, p)
			}
		}
		if len(shown) >= 2 {
			d := shown[1].minus(shown[0])
			m.angle, m.shift = math.Atan2(d.y, d.x), shown[0]
		}
	}
	for h, p := range seen {
		if !there[h] {
			known[h], there[h] = p.minus(m.shift).turned(-m.angle), true
		}
	}
	return m
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

func square(x float64) float64 { return x * x }

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// other is the hole at the other end of a distance from h.
func (o observation) other(h int) (int, bool) {
	switch {
	case o.sort != between:
		return 0, false
	case o.a == h:
		return o.b, true
	case o.b == h:
		return o.a, true
	}
	return 0, false
}

// nextHole is the hole that most readings tie to those that are placed; the first of several; -1 when all are.
func (n *network) nextHole(there []bool) int {
	best, most := -1, -1
	for h := range n.holes {
		if there[h] {
			continue
		}
		ties := 0
		for _, o := range n.seen {
			if other, ok := o.other(h); ok && there[other] || o.b == h && (o.sort == fromLeft || o.sort == fromBase) {
				ties++
			}
		}
		if ties > most {
			best, most = h, ties
		}
	}
	return best
}

// places are where hole h may lie: the crossings of every two of its circles and lines, or a point of the only one there is.
func (n *network) places(h int, at []point, there []bool) []point {
	type circle struct {
		middle point
		radius float64
	}
	var circles []circle
	var lines []observation
	for _, o := range n.seen {
		if other, ok := o.other(h); ok && there[other] {
			circles = append(circles, circle{at[other], o.value})
		}
		if o.b == h && (o.sort == fromLeft || o.sort == fromBase) {
			lines = append(lines, o)
		}
	}
	var list []point
	for i, a := range circles {
		for _, b := range circles[:i] {
			d := a.middle.to(b.middle)
			if d < 1e-9 {
				continue
			}
			x := (d*d + a.radius*a.radius - b.radius*b.radius) / (2 * d)
			y := math.Sqrt(max(0, a.radius*a.radius-x*x))
			e := b.middle.minus(a.middle).along(1 / d)
			foot := a.middle.plus(e.along(x))
			list = append(list, foot.plus(point{-e.y, e.x}.along(y)), foot.plus(point{e.y, -e.x}.along(y)))
		}
		for _, l := range lines {
			if l.sort == fromLeft {
				y := math.Sqrt(max(0, square(a.radius)-square(l.value-a.middle.x)))
				list = append(list, point{l.value, a.middle.y + y}, point{l.value, a.middle.y - y})
			} else {
				x := math.Sqrt(max(0, square(a.radius)-square(l.value-a.middle.y)))
				list = append(list, point{a.middle.x + x, l.value}, point{a.middle.x - x, l.value})
			}
		}
	}
	if len(list) > 0 {
		return list
	}
	if len(circles) > 0 {
		c := circles[0]
		// The first hole after the zero lies to the right; a later one that only one reading ties lies somewhere.
		for k := range 6 {
			list = append(list, c.middle.plus(point{c.radius, 0}.turned(float64(k)*math.Pi/3)))
		}
		placed := 0
		for _, t := range there {
			if t {
				placed++
			}
		}
		if placed == 1 {
			return list[:1]
		}
		return list
	}
	p := point{10 * float64(h), 7 * float64(h)}
	for _, l := range lines {
		if l.sort == fromLeft {
			p.x = l.value
		} else {
			p.y = l.value
		}
	}
	return []point{p}
}
