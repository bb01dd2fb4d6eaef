package metalwork

import (
	"math"
	"slices"
)

// point is a place on a face, in millimetres.
type point struct{ x, y float64 }

func (p point) minus(q point) point   { return point{p.x - q.x, p.y - q.y} }
func (p point) to(q point) float64    { return math.Hypot(p.x-q.x, p.y-q.y) }
func (p point) along(a float64) point { return point{p.x * a, p.y * a} }
func (p point) plus(q point) point    { return point{p.x + q.x, p.y + q.y} }
func (p point) cross(q point) float64 { return p.x*q.y - p.y*q.x }
func (p point) turned(a float64) point {
	s, c := math.Sincos(a)
	return point{c*p.x - s*p.y, s*p.x + c*p.y}
}
func side(a, b, c point) float64        { return b.minus(a).cross(c.minus(a)) }
func offLine(a, b, c point) float64     { return side(a, b, c) / math.Max(a.to(b), 1e-12) }
func middleOf(points []point) (m point) { return sum(points).along(1 / float64(max(1, len(points)))) }
func sum(points []point) (m point) {
	for _, p := range points {
		m = m.plus(p)
	}
	return m
}

// sort of an observation.
type sort int

const (
	between  sort = iota // distance of hole a from hole b
	fromLeft             // x of hole b
	fromBase             // y of hole b
	seenX                // x of hole b in the photo's own axes
	seenY
)

// observation is one figure that is known of the pattern, in millimetres.
type observation struct {
	sort   sort
	a, b   int
	value  float64
	spread float64 // standard deviation
	source int     // which distance of the job; -1 for a drawing's place, the photo or a choice of axes
}

// network is a pattern as least squares sees it.
type network struct {
	holes int
	seen  []observation
	photo bool // three more unknowns: where the photo's axes lie
	axes  []observation
}

func (n *network) unknowns() int {
	if n.photo {
		return 2*n.holes + 3
	}
	return 2 * n.holes
}

// read returns what the observation would be at u, and its gradient.
func (o observation) read(u, gradient []float64) float64 {
	clear(gradient)
	switch o.sort {
	case between:
		dx, dy := u[2*o.b]-u[2*o.a], u[2*o.b+1]-u[2*o.a+1]
		d := math.Hypot(dx, dy)
		if d < 1e-12 {
			d, dx = 1e-12, 1e-12
		}
		gradient[2*o.b], gradient[2*o.b+1], gradient[2*o.a], gradient[2*o.a+1] = dx/d, dy/d, -dx/d, -dy/d
		return d
	case fromLeft:
		gradient[2*o.b] = 1
		return u[2*o.b]
	case fromBase:
		gradient[2*o.b+1] = 1
		return u[2*o.b+1]
	}
	k := len(u) - 3
	s, c := math.Sincos(u[k+2])
	x, y := u[2*o.b], u[2*o.b+1]
	if o.sort == seenX {
		gradient[2*o.b], gradient[2*o.b+1], gradient[k], gradient[k+2] = c, -s, 1, -s*x-c*y
		return c*x - s*y + u[k]
	}
	gradient[2*o.b], gradient[2*o.b+1], gradient[k+1], gradient[k+2] = s, c, 1, c*x-s*y
	return s*x + c*y + u[k+1]
}

// all are the observations with those that fix the axes.
func (n *network) all() []observation { return slices.Concat(n.seen, n.axes) }

// misfit is the weighted sum of squares at u.
func misfit(list []observation, u []float64) float64 {
	g, s := make([]float64, len(u)), 0.0
	for _, o := range list {
		v := (o.read(u, g) - o.value) / o.spread
		s += v * v
	}
	return s
}

// settle improves u by Gauss and Newton's method with Levenberg's damping until it moves by less than a nanometre.
func (n *network) settle(u []float64) ([]float64, float64) {
	list := n.all()
	u = slices.Clone(u)
	g := make([]float64, len(u))
	ridge, now := 1e-3, misfit(list, u)
	for range 80 {
		normal, right := newSymmetric(len(u)), make([]float64, len(u))
		for _, o := range list {
			v := o.read(u, g) - o.value
			w := 1 / (o.spread * o.spread)
			normal.addOuter(g, w)
			for i := range g {
				right[i] -= w * v * g[i]
			}
		}
		moved := false
		for ridge < 1e12 {
			step, ok := normal.solve(right, ridge)
			if ok {
				next := slices.Clone(u)
				most := 0.0
				for i := range next {
					next[i] += step[i]
					most = max(most, math.Abs(step[i]))
				}
				if then := misfit(list, next); then <= now {
					moved = most > 1e-6 && now-then > 1e-9*now
					u, now, ridge = next, then, max(ridge/10, 1e-14)
					break
				}
			}
			ridge = max(ridge*10, 1e-12)
		}
		if !moved {
			break
		}
	}
	return u, now
}

// chooseAxes fixes what the readings leave free: where the axes lie. The first hole is the zero, the second lies straight to the right
// of it; each only where no drawing or edge says otherwise.
func (n *network) chooseAxes(u []float64) {
	// What each absolute reading says of a shift right, a shift up and a turn.
	var basis [][]float64
	add := func(v []float64) bool {
		v = slices.Clone(v)
		for _, b := range basis {
			d := dot(v, b)
			for i := range v {
				v[i] -= d * b[i]
			}
		}
		length := math.Sqrt(dot(v, v))
		if length < 1e-6 {
			return false
		}
		for i := range v {
			v[i] /= length
		}
		basis = append(basis, v)
		return true
	}
	scale := 1.0
	for i := range n.holes {
		scale = max(scale, math.Hypot(u[2*i], u[2*i+1]))
	}
	says := func(s sort, h int) []float64 {
		if s == fromLeft {
			return []float64{1, 0, -u[2*h+1] / scale}
		}
		return []float64{0, 1, u[2*h] / scale}
	}
	for _, o := range n.seen {
		if o.sort == fromLeft || o.sort == fromBase {
			add(says(o.sort, o.b))
		}
	}
	n.axes = nil
	fix := func(s sort, h int) {
		if add(says(s, h)) {
			value := 0.0
			if s == fromBase && h > 0 {
				value = u[1]
			}
			n.axes = append(n.axes, observation{sort: s, b: h, value: value, spread: fixed, source: -1})
		}
	}
	if n.holes > 0 {
		fix(fromLeft, 0)
		fix(fromBase, 0)
	}
	for h := 1; h < n.holes && len(basis) < 3; h++ {
		fix(fromBase, h)
	}
}

// fixed is the spread of what counts as exact, in millimetres.
const fixed = 1e-3

// handed reports whether anything but the order of the holes says which way round the pattern goes.
func (n *network) handed() bool {
	if n.photo {
		return true
	}
	x, y := 0, 0
	for _, o := range n.seen {
		switch o.sort {
		case fromLeft:
			x++
		case fromBase:
			y++
		}
	}
	return x >= 2 && y >= 1 || y >= 2 && x >= 1 && x+y >= 4
}
