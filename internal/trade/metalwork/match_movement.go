package metalwork

import "math"

// movement carries a part to another place: turned over across its y axis first if mirrored, then turned, then shifted.
type movement struct {
	angle    float64
	shift    point
	mirrored bool
}

func (m movement) of(p point) point {
	if m.mirrored {
		p.x = -p.x
	}
	return p.turned(m.angle).plus(m.shift)
}

// back carries a direction from the place that m carries to, back to the part's own axes.
func (m movement) back(d point) point {
	d = d.turned(-m.angle)
	if m.mirrored {
		d.x = -d.x
	}
	return d
}

// bestMovement is the movement that carries from onto to with the least weighted sum of squares; weights may be nil. It is exact: in the plane the
// best turn is the argument of one complex sum.
func bestMovement(from, to []point, weights []float64, mirrored bool) movement {
	m := movement{mirrored: mirrored}
	weight := func(i int) float64 {
		if weights == nil {
			return 1
		}
		return weights[i]
	}
	var a, b point
	all := 0.0
	turned := make([]point, len(from))
	for i := range from {
		turned[i] = movement{mirrored: mirrored}.of(from[i])
		a, b, all = a.plus(turned[i].along(weight(i))), b.plus(to[i].along(weight(i))), all+weight(i)
	}
	if all == 0 {
		return m
	}
	a, b = a.along(1/all), b.along(1/all)
	s, c := 0.0, 0.0
	for i := range from {
		p, q := turned[i].minus(a), to[i].minus(b)
		s += weight(i) * p.cross(q)
		c += weight(i) * (p.x*q.x + p.y*q.y)
	}
	m.angle = math.Atan2(s, c)
	m.shift = b.minus(a.turned(m.angle))
	return m
}
