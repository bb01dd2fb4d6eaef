package pack

import "slices"

// In an arrangement that is pushed left, down and back as far as it will go, every coordinate is a sum: it begins at a wall, at a
// limit or at the end of something that stands already, and goes on over some of the other bodies with a gap behind each (Herz
// 1972, Christofides and Whitlock 1977). Only such places need be looked at when the question is whether all fits.

// mostBodies is the greatest number of bodies for which each one's own sums are found; the sums of all serve as well.
const mostBodies = 120

// lengths returns how far on a body takes those behind it, along the axis: its size and one of the gaps.
func (t *task) lengths(n, axis int) []int32 {
	var list []int32
	s := &t.solids[n]
	put := func(v int32) {
		if !slices.Contains(list, v) {
			list = append(list, v)
		}
	}
	for turn := range s.turns {
		size := s.size[turn][axis]
		put(size)
		for other := range t.solids {
			if other == n {
				continue
			}
			for otherTurn := range t.solids[other].turns {
				put(size + t.gap(aired, n, turn, other, otherTurn, axis))
			}
			if axis < 2 {
				put(size + t.gap(parted, n, turn, other, 0, axis))
			}
		}
	}
	return list
}

// starts returns the places where a chain of bodies along the axis may begin, as a set of bits.
func (t *task) starts(axis int) []uint64 {
	set := make([]uint64, t.room[axis]>>6+1)
	put := func(v int32) {
		if v >= 0 && v <= t.room[axis] {
			set[v>>6] |= 1 << (v & 63)
		}
	}
	for n := range t.solids {
		s := &t.solids[n]
		for turn := range s.turns {
			put(s.wall[turn][2*axis])
			if s.low[axis] == s.high[axis] {
				for _, length := range t.lengths(n, axis) {
					put(s.low[axis] + length)
				}
			}
		}
	}
	return set
}

// extend adds to the set what can be reached over one more body.
func extend(set []uint64, lengths []int32) {
	before := slices.Clone(set)
	for _, length := range lengths {
		words, by := int(length>>6), uint(length&63)
		for n := len(set) - 1; n >= words; n-- {
			v := before[n-words] << by
			if by > 0 && n > words {
				v |= before[n-words-1] >> (64 - by)
			}
			set[n] |= v
		}
	}
}

// sums returns for each body the coordinates along the axis that need be looked at, as a set of bits; nil if it can't be said.
func (t *task) sums(axis int) [][]uint64 {
	if t.room[axis] > 1<<16 {
		return nil
	}
	start := t.starts(axis)
	lengths := make([][]int32, len(t.solids))
	for n := range t.solids {
		if s := &t.solids[n]; s.low[axis] != s.high[axis] {
			lengths[n] = t.lengths(n, axis)
		}
	}
	sets := make([][]uint64, len(t.solids))
	if len(t.solids) > mostBodies {
		for _, list := range lengths {
			extend(start, list)
		}
		for n := range sets {
			sets[n] = start
		}
		return sets
	}
	// Every body's own sums leave it out: those before it are added once for all, those behind it for each.
	t.leaveOneOut(lengths, start, 0, len(sets), sets)
	return sets
}

// leaveOneOut fills sets[from:to], given the sums over all bodies outside of that range.
func (t *task) leaveOneOut(lengths [][]int32, outside []uint64, from, to int, sets [][]uint64) {
	if to-from == 1 {
		sets[from] = outside
		return
	}
	if to == from {
		return
	}
	mid := (from + to) / 2
	left, right := slices.Clone(outside), outside
	for n := mid; n < to; n++ {
		extend(left, lengths[n])
	}
	right = slices.Clone(outside)
	for n := from; n < mid; n++ {
		extend(right, lengths[n])
	}
	t.leaveOneOut(lengths, left, from, mid, sets)
	t.leaveOneOut(lengths, right, mid, to, sets)
}
