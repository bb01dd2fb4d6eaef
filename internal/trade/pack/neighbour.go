package pack

import "math/rand/v2"

// neighbourhoods are searches for something better in which most relations stay as they are (large neighbourhood search: Shaw 1998).
type neighbourhoods struct {
	chance *rand.Rand
	mates  [][]int // by item: items that it is wired to
	won    [3]float64
	frozen []literal
	lies   []lies
	free   []bool
	size   int
	failed int
}

func (h *neighbourhoods) begin(w *wiring, seed uint64) {
	h.chance = rand.New(rand.NewPCG(seed, 0xda3e39cb94b95bdb))
	h.mates = make([][]int, w.yard.items)
	h.free = make([]bool, len(w.yard.bodies))
	h.won = [3]float64{1, 1, 1}
	h.size = 4
	for _, n := range w.p.Nets {
		if n.A.Item >= 0 && n.B.Item >= 0 && n.A.Item != n.B.Item {
			h.mates[n.A.Item] = append(h.mates[n.A.Item], n.B.Item)
			h.mates[n.B.Item] = append(h.mates[n.B.Item], n.A.Item)
		}
	}
}

// try frees a few items of the best arrangement and looks for a better one. It reports whether there was.
func (h *neighbourhoods) try(w *wiring, o *Options) bool {
	before := w.best
	pick := h.chance.Float64() * (h.won[0] + h.won[1] + h.won[2])
	kind := 0
	for kind < 2 && pick > h.won[kind] {
		pick -= h.won[kind]
		kind++
	}
	h.pick(w, kind, min(h.size, w.yard.items))
	h.freeze(w)
	out := w.search(400, h.frozen, o)
	if w.best < before {
		h.won[kind] = min(h.won[kind]+1, 10)
		w.adopt(w.places)
		h.failed = 0
		return true
	}
	h.won[kind] = max(h.won[kind]*0.95, 0.5)
	// Neighbourhoods that are gone through without a find may be larger; those that can't be gone through are too large.
	if out == refuted {
		h.failed++
		if h.failed > 2*w.yard.items {
			h.size, h.failed = min(h.size+1, w.yard.items), 0
		}
	} else if h.size > 3 && h.chance.IntN(8) == 0 {
		h.size--
	}
	return false
}

// pick frees items: those wired together, those that lie together, or any.
func (h *neighbourhoods) pick(w *wiring, kind, size int) {
	clear(h.free)
	first := h.chance.IntN(w.yard.items)
	h.free[first] = true
	taken := []int{first}
	for tries := 0; len(taken) < size && tries < 20*size; tries++ {
		next := h.chance.IntN(w.yard.items)
		switch kind {
		case 0:
			if mates := h.mates[taken[h.chance.IntN(len(taken))]]; len(mates) > 0 {
				next = mates[h.chance.IntN(len(mates))]
			}
		case 1:
			nearest := far
			for n := range w.yard.items {
				if h.free[n] {
					continue
				}
				distance := 0
				for axis := range 3 {
					d := w.places[n].At[axis] - w.places[first].At[axis]
					distance += max(d, -d)
				}
				if distance < nearest && h.chance.IntN(4) > 0 {
					nearest, next = distance, n
				}
			}
		}
		if !h.free[next] {
			h.free[next] = true
			taken = append(taken, next)
		}
	}
}

// freeze lists what stays: the relations and turns of the items that aren't free.
func (h *neighbourhoods) freeze(w *wiring) {
	h.frozen = h.frozen[:0]
	w.take(w.places)
	n := len(w.yard.bodies)
	for j := range n {
		if h.free[j] {
			continue
		}
		if l := w.m.turn[j][w.yard.bodies[j].turn]; l != yes {
			h.frozen = append(h.frozen, l)
		}
		for i := range j {
			if !h.free[i] && !(i >= w.yard.items && j >= w.yard.items) {
				h.lies = w.relationsOf(h.lies[:0], i, j)
				for _, r := range h.lies {
					if l := w.literalOf(r, i, j); l != yes {
						h.frozen = append(h.frozen, l)
					}
				}
			}
		}
	}
}
