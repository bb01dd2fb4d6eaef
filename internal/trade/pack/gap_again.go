package pack

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// gapAgain is a gapSearch in haste, over and over: each time for a few steps only, with the rectangles in another order and the
// plate upright or lying. A filling is found early or not at all, so that many short searches find more than one long one.
type gapAgain struct {
	upright, lying plate
	random         *rand.Rand
	tries          int
}

// Each of the short searches has tryPerRectangle steps for each rectangle and tryAtLeast at least; disorder is by how much the
// logarithm of the area, by which the rectangles are sorted, is falsified. Measured on strips of 16 to 200 rectangles.
const (
	tryAtLeast      = 1000
	tryPerRectangle = 10
	disorder        = 0.4
)

func newGapAgain(f plate, seed uint64) *gapAgain {
	return &gapAgain{upright: f, lying: f.transposed(), random: rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))}
}

// run goes on for about so many steps. It says Impossible if one of the searches came to its end.
func (a *gapAgain) run(o *Options, steps int64) (Verdict, []spot) {
	for done := int64(0); done < steps && !o.stopped(); a.tries++ {
		f := a.upright
		if a.tries%2 == 1 {
			f = a.lying
		}
		f.kinds = a.shuffled(f.kinds)
		g := newGapSearch(f, o, 0)
		g.limit = min(steps, tryAtLeast+tryPerRectangle*int64(g.todo))
		g.hasty, g.first = true, -1
		v := g.run()
		done += g.steps
		if v == NotFound {
			continue
		}
		// The kinds were in another order.
		for i := range g.spots {
			s := &g.spots[i]
			item := f.kinds[s.kind].items[0]
			s.kind = int32(slices.IndexFunc(a.upright.kinds, func(k kind) bool { return k.items[0] == item }))
			if a.tries%2 == 1 {
				s.x, s.y = s.y, s.x
			}
		}
		a.tries++
		return v, g.spots
	}
	return NotFound, nil
}

// shuffled sorts the kinds by area, falling, but not quite; the first time exactly.
func (a *gapAgain) shuffled(kinds []kind) []kind {
	type weighed struct {
		kind
		weight float64
	}
	order := make([]weighed, len(kinds))
	for i, k := range kinds {
		order[i] = weighed{k, math.Log(float64(k.area()))}
		if a.tries > 0 {
			order[i].weight += disorder * a.random.NormFloat64()
		}
	}
	slices.SortStableFunc(order, func(a, b weighed) int { return cmp.Compare(b.weight, a.weight) })
	kinds = slices.Clone(kinds)
	for i := range order {
		kinds[i] = order[i].kind
	}
	return kinds
}
