package pack

import (
	"cmp"
	"slices"
)

// plate is a flat problem of the plainest sort: rectangles that want nothing but a place within the room. Lengths are divided
// by what divides them all, which changes nothing but the size of the numbers.
type plate struct {
	w, h  int32
	kinds []kind
	unit  Vec   // what the lengths along x and y were divided by
	waste int64 // area that stays free; negative if the rectangles don't fit by their area alone
}

// kind is one size of rectangle and the items that have it.
type kind struct {
	w, h  int32
	turns bool // may be turned, and looks different then
	items []int
}

func (k *kind) area() int64 { return int64(k.w) * int64(k.h) }

// longestSide is the greatest length that a plate may have: search tables are as long.
const longestSide = 1 << 24

// plateOf makes a plate of the problem. It reports false if the problem asks for more than plain rectangles in a plain room.
func plateOf(p *Problem) (plate, bool) {
	var f plate
	if len(p.Blocks) > 0 || len(p.Aparts) > 0 || p.Room[2] != 1 {
		return f, false
	}
	turned := false
	for _, it := range p.Items {
		none := it.Air == [6]int{} && it.Rail == 0 && it.Fixed == nil && it.From == Vec{} && it.To == Vec{}
		if !none || it.Turns == AllTurns || it.Size[2] != 1 || it.Size[0] < 1 || it.Size[1] < 1 ||
			it.Size[0] > longestSide || it.Size[1] > longestSide {
			return f, false
		}
		turned = turned || it.Turns != Unturned && it.Size[0] != it.Size[1]
	}
	ux, uy := 0, 0
	for _, it := range p.Items {
		ux, uy = commonDivisor(ux, it.Size[0]), commonDivisor(uy, it.Size[1])
	}
	if turned {
		ux = commonDivisor(ux, uy)
		uy = ux
	}
	f.unit = Vec{max(ux, 1), max(uy, 1), 1}
	f.w, f.h = int32(min(p.Room[0], longestSide)/f.unit[0]), int32(min(p.Room[1], longestSide)/f.unit[1])
	f.waste = int64(f.w) * int64(f.h)
	for i, it := range p.Items {
		w, h := int32(it.Size[0]/f.unit[0]), int32(it.Size[1]/f.unit[1])
		turns := it.Turns != Unturned && it.Size[0] != it.Size[1] // before the division: a square stays one
		f.waste -= int64(w) * int64(h)
		at := slices.IndexFunc(f.kinds, func(k kind) bool {
			return k.turns == turns && (k.w == w && k.h == h || turns && k.w == h && k.h == w)
		})
		if at < 0 {
			f.kinds = append(f.kinds, kind{w: w, h: h, turns: turns})
			at = len(f.kinds) - 1
		}
		f.kinds[at].items = append(f.kinds[at].items, i)
	}
	// The large ones first: they decide most.
	slices.SortStableFunc(f.kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(b.area(), a.area()), cmp.Compare(b.w, a.w))
	})
	return f, true
}

// spot is where one rectangle of a kind lies.
type spot struct {
	kind, x, y int32
	turned     bool
}

// places gives the items of the problem their places from those of the plate's rectangles.
func (f *plate) places(p *Problem, spots []spot) []Place {
	at := make([]Place, len(p.Items))
	used := make([]int, len(f.kinds))
	for _, s := range spots {
		k := &f.kinds[s.kind]
		i := k.items[used[s.kind]]
		used[s.kind]++
		// Items of one kind may be given one along, the other across.
		turned := s.turned != (p.Items[i].Size[0]/f.unit[0] != int(k.w))
		at[i].At = Vec{int(s.x) * f.unit[0], int(s.y) * f.unit[1], 0}
		if turned {
			at[i].Turn = Quarter
		}
	}
	return at
}

func commonDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
