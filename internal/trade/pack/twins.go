package pack

import (
	"cmp"
	"slices"
)

// Items that can't be told apart even by their wires may change places at no cost. Of the arrangements that come of it one is kept:
// of each two neighbours in a row of twins the first lies to the left, or, if they overlap in x, below. (This asks something of each
// pair and exactly one order of a pair satisfies it, so that a row which does exists: every tournament has a path through all.)

// twinRows returns the rows of items that can't be told apart, each of two or more.
func twinRows(p *Problem) [][]int {
	apart := make([]bool, len(p.Items))
	for _, a := range p.Aparts {
		apart[a.A], apart[a.B] = true, true
	}
	wires := make([][][6]int, len(p.Items))
	end := func(pin Pin) [5]int {
		if pin.Centre {
			return [5]int{pin.Item, 0, 0, 0, 1}
		}
		return [5]int{pin.Item, pin.At[0], pin.At[1], pin.At[2], 0}
	}
	for _, n := range p.Nets {
		for k, pin := range [2]Pin{n.A, n.B} {
			if pin.Item < 0 {
				continue
			}
			other := end([2]Pin{n.B, n.A}[k])
			own := end(pin)
			own[0] = n.Weight
			wires[pin.Item] = append(wires[pin.Item],
				[6]int{own[0], own[1], own[2], own[3], own[4], 0}, [6]int{other[0], other[1], other[2], other[3], other[4], 1})
		}
	}
	for n := range wires {
		pairs := make([][2][6]int, 0, len(wires[n])/2)
		for k := 0; k < len(wires[n]); k += 2 {
			pairs = append(pairs, [2][6]int{wires[n][k], wires[n][k+1]})
		}
		slices.SortFunc(pairs, func(a, b [2][6]int) int {
			return cmp.Or(slices.Compare(a[0][:], b[0][:]), slices.Compare(a[1][:], b[1][:]))
		})
		wires[n] = wires[n][:0]
		for _, pair := range pairs {
			wires[n] = append(wires[n], pair[0], pair[1])
		}
	}
	var rows [][]int
	taken := make([]bool, len(p.Items))
	for a := range p.Items {
		x := &p.Items[a]
		if taken[a] || apart[a] || x.Fixed != nil {
			continue
		}
		row := []int{a}
		for b := a + 1; b < len(p.Items); b++ {
			y := &p.Items[b]
			if !taken[b] && !apart[b] && y.Fixed == nil && x.Size == y.Size && x.Turns == y.Turns && x.Air == y.Air && x.AirStays == y.AirStays &&
				x.Rail == y.Rail && x.From == y.From && x.To == y.To && slices.Equal(wires[a], wires[b]) {
				row = append(row, b)
				taken[b] = true
			}
		}
		if len(row) > 1 {
			rows = append(rows, row)
		}
	}
	return rows
}

// orderTwins tells the searcher in what order twins lie.
func (w *wiring) orderTwins() {
	w.twins = twinRows(w.p)
	for _, row := range w.twins {
		for k := 1; k < len(row); k++ {
			a, b := row[k-1], row[k]
			w.m.add(w.m.beforeWith(touching, b, a, 0).not())
			w.m.add(w.m.beforeWith(touching, b, a, 1).not(), w.m.beforeWith(touching, a, b, 0))
		}
	}
}

// sortTwins exchanges twins until they lie in order.
func (w *wiring) sortTwins(places []Place) {
	inOrder := func(a, b Place, n int) bool {
		it := &w.p.Items[n]
		sizeA, _ := it.turned(a.Turn)
		sizeB, _ := it.turned(b.Turn)
		switch {
		case a.At[0]+sizeA[0] <= b.At[0]:
			return true
		case b.At[0]+sizeB[0] <= a.At[0]:
			return false
		}
		return a.At[1] <= b.At[1]
	}
	for _, row := range w.twins {
		// Each is put in before the first that it may stand before, behind one that it stands behind.
		for k := 1; k < len(row); k++ {
			for at := k; at > 0 && !inOrder(places[row[at-1]], places[row[at]], row[at]); at-- {
				places[row[at-1]], places[row[at]] = places[row[at]], places[row[at-1]]
			}
		}
	}
}
