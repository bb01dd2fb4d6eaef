package pack

import (
	"cmp"
	"math/bits"
	"slices"
)

// gapSearch fills a plate from below. What lies below the skyline, the upper edge of all that stands, is settled; a valley is a
// stretch of it with higher ground or a wall on both sides. In every filling whose rectangles are pushed left and down as far
// as they go, one of these is true of any valley:
//
//   - a rectangle stands in its left corner;
//   - nothing stands on its floor: it is waste up to the lower of its two shoulders, for the lowest rectangle above it rests on
//     one of them;
//   - the first rectangle on the floor stands away from the left. It is kept from going further left by another that reaches
//     in over the left shoulder, so all below that shoulder is waste, and the first one is higher than the shoulder.
//
// The search takes the valley with the fewest possibilities, and gives up where the waste to come exceeds what may be wasted.
// It is strong where little or nothing may be wasted and hopeless elsewhere.
type gapSearch struct {
	plate
	left   []int32 // rectangles of each kind still to be placed
	todo   int
	spots  []spot
	levels []gapLevel
	// Kinds by their least width and by their least height.
	byWidth, byHeight []shape
	rooms             []room   // room to work in
	open              []ground // the same
	first             int      // the kind that lies in the lower left quarter, or -1

	hasty bool // for a filling, not for a proof: what leaves the skyline smooth is tried first

	steps, limit int64
	stop         func() bool
	ended        bool // ran out of steps, or was stopped
}

// gapLevel is what the search holds at one depth.
type gapLevel struct {
	line   []ground
	waste  int64
	across sums // lengths along x that the remaining rectangles can make up
	up     sums // the same along y
}

// ground is a level stretch of the skyline.
type ground struct{ x, w, y int32 }

// mostSummed is the most rectangles for which lengths are summed: with more of them left nearly every length can be made up.
const mostSummed = 60

// newGapSearch readies a search of at most limit steps (0 is no limit).
func newGapSearch(f plate, o *Options, limit int64) *gapSearch {
	g := &gapSearch{plate: f, limit: limit, stop: o.Stop, first: -1}
	for i, k := range f.kinds {
		g.left = append(g.left, int32(len(k.items)))
		g.todo += len(k.items)
		if g.first < 0 && len(k.items) == 1 {
			g.first = i
		}
	}
	for i := range f.kinds {
		k := &f.kinds[i]
		w, h := k.w, k.h
		if k.turns {
			w = min(w, h)
			h = w
		}
		g.byWidth = append(g.byWidth, shape{i, w, k.area()})
		g.byHeight = append(g.byHeight, shape{i, h, k.area()})
	}
	byLength := func(a, b shape) int { return cmp.Compare(a.length, b.length) }
	slices.SortStableFunc(g.byWidth, byLength)
	slices.SortStableFunc(g.byHeight, byLength)
	// Each level places a rectangle, which makes at most two more stretches of ground, or does away with one.
	g.levels = make([]gapLevel, 3*g.todo+3)
	g.levels[0] = gapLevel{line: []ground{{0, f.w, 0}}, waste: f.waste}
	return g
}

// run searches to the end or to the limit of its steps.
func (g *gapSearch) run() Verdict {
	switch {
	case g.waste < 0:
		return Impossible
	case g.descend(0):
		return Found
	case g.ended:
		return NotFound
	}
	return Impossible
}

// valley is where the search goes on, with what it costs to leave it empty.
type valley struct {
	at         int // in the skyline
	l, r       int32
	leftIsWall bool
}

func (g *gapSearch) descend(depth int) bool {
	if g.todo == 0 {
		return true
	}
	g.steps++
	if g.limit > 0 && g.steps > g.limit || g.steps&1023 == 0 && g.stop != nil && g.stop() {
		g.ended = true
	}
	if g.ended {
		return false
	}
	v, ok := g.choose(depth)
	if !ok {
		return false
	}
	here := &g.levels[depth]
	s := here.line[v.at]
	// A rectangle in the left corner; in haste first those that leave the skyline smoother.
	passes := 1
	if g.hasty {
		passes = 4
	}
	for pass := range passes {
		for k := range g.kinds {
			if g.left[k] == 0 {
				continue
			}
			kd := &g.kinds[k]
			if g.fits(here, kd.w, kd.h, s, v) && (!g.hasty || pass == 3-flush(kd.w, kd.h, s, v)) && g.place(depth, v, k, kd.w, kd.h, 0, false) {
				return true
			}
			if kd.turns && g.fits(here, kd.h, kd.w, s, v) && (!g.hasty || pass == 3-flush(kd.h, kd.w, s, v)) && g.place(depth, v, k, kd.h, kd.w, 0, true) {
				return true
			}
			if g.ended {
				return false
			}
		}
	}
	if here.waste == 0 {
		return false
	}
	// The first rectangle stands away from the left corner.
	if !v.leftIsWall {
		deep := v.l - s.y
		for skip := int32(1); skip < s.w && int64(skip)*int64(deep) <= here.waste; skip++ {
			for k := range g.kinds {
				if g.left[k] == 0 {
					continue
				}
				kd := &g.kinds[k]
				if kd.h > deep && kd.w <= s.w-skip && s.y+kd.h <= g.h && g.place(depth, v, k, kd.w, kd.h, skip, false) {
					return true
				}
				if kd.turns && kd.w > deep && kd.h <= s.w-skip && s.y+kd.w <= g.h && g.place(depth, v, k, kd.h, kd.w, skip, true) {
					return true
				}
				if g.ended {
					return false
				}
			}
		}
	}
	// Nothing stands on the floor.
	upTo := min(v.l, v.r)
	cost := int64(upTo-s.y) * int64(s.w)
	if cost > here.waste {
		return false
	}
	next := &g.levels[depth+1]
	next.line = raise(next.line[:0], here.line, v.at, 0, 0, s.w, upTo)
	next.waste = here.waste - cost
	return g.descend(depth + 1)
}

// fits reports whether a rectangle can stand in the valley's left corner, as far as one can tell from the valley alone.
func (g *gapSearch) fits(here *gapLevel, w, h int32, s ground, v valley) bool {
	rest := s.w - w
	if rest < 0 || s.y+h > g.h {
		return false
	}
	lost := rest - here.across.below(rest)
	return int64(lost)*int64(min(s.y+h, v.r)-s.y) <= here.waste
}

// flush counts the sides that become flush when a rectangle is put into the left corner of a valley.
func flush(w, h int32, s ground, v valley) int {
	n := 0
	if s.y+h == v.l {
		n++
	}
	if w == s.w {
		n++
		if s.y+h == v.r {
			n++
		}
	}
	return n
}

// place puts a rectangle into the valley, skip from its left corner, and goes on from there.
func (g *gapSearch) place(depth int, v valley, k int, w, h, skip int32, turned bool) bool {
	here := &g.levels[depth]
	s := here.line[v.at]
	x := s.x + skip
	if k == g.first && (2*x > g.w-w || 2*s.y > g.h-h) {
		return false
	}
	next := &g.levels[depth+1]
	next.line = raise(next.line[:0], here.line, v.at, skip, v.l, w, s.y+h)
	next.waste = here.waste - int64(skip)*int64(v.l-s.y)
	g.left[k]--
	g.todo--
	g.spots = append(g.spots, spot{int32(k), x, s.y, turned})
	if g.descend(depth + 1) {
		return true
	}
	g.spots = g.spots[:len(g.spots)-1]
	g.todo++
	g.left[k]++
	return false
}

// raise copies a skyline to dst with the ground at index at changed: its first skip units come to height edge, the next w to
// height top; the rest stays. Neighbours of equal height become one.
func raise(dst, line []ground, at int, skip, edge, w, top int32) []ground {
	dst = append(dst, line[:at]...)
	s := line[at]
	if skip > 0 {
		dst = joined(dst, ground{s.x, skip, edge})
	}
	dst = joined(dst, ground{s.x + skip, w, top})
	if rest := s.w - skip - w; rest > 0 {
		dst = joined(dst, ground{s.x + skip + w, rest, s.y})
	}
	if at+1 < len(line) {
		dst = joined(dst, line[at+1])
		dst = append(dst, line[at+2:]...)
	}
	return dst
}

func joined(dst []ground, s ground) []ground {
	if n := len(dst); n > 0 && dst[n-1].y == s.y {
		dst[n-1].w += s.w
		return dst
	}
	return append(dst, s)
}

// choose finds the valley with the fewest possibilities; false if too much would be wasted whatever is done.
func (g *gapSearch) choose(depth int) (valley, bool) {
	here := &g.levels[depth]
	g.sum(here)
	if g.first >= 0 && g.left[g.first] == 1 && !g.quarterOpen(here.line) {
		return valley{}, false
	}
	if g.leastWaste(here) > here.waste {
		return valley{}, false
	}
	best, fewest := valley{}, int64(1)<<62
	for i, s := range here.line {
		v := valley{at: i, l: g.h, r: g.h, leftIsWall: i == 0}
		if i > 0 {
			v.l = here.line[i-1].y
		}
		if i+1 < len(here.line) {
			v.r = here.line[i+1].y
		}
		if min(v.l, v.r) <= s.y {
			continue
		}
		if n := g.possibilities(here, s, v, fewest); n < fewest {
			best, fewest = v, n
		}
	}
	return best, true
}

// possibilities counts what can be done with a valley, roughly, and no further than to most.
func (g *gapSearch) possibilities(here *gapLevel, s ground, v valley, most int64) int64 {
	n := int64(0)
	for k := range g.kinds {
		if g.left[k] == 0 {
			continue
		}
		kd := &g.kinds[k]
		if g.fits(here, kd.w, kd.h, s, v) {
			n++
		}
		if kd.turns && g.fits(here, kd.h, kd.w, s, v) {
			n++
		}
		if n >= most {
			return n
		}
	}
	if here.waste > 0 {
		if !v.leftIsWall {
			n += min(here.waste/int64(v.l-s.y), int64(s.w-1)) * n
		}
		if int64(min(v.l, v.r)-s.y)*int64(s.w) <= here.waste {
			n++
		}
	}
	return n
}

// quarterOpen reports whether the rectangle that must lie in the lower left quarter still has a place there.
func (g *gapSearch) quarterOpen(line []ground) bool {
	k := &g.kinds[g.first]
	open := func(w, h int32) bool {
		for _, s := range line {
			if 2*s.x > g.w-w {
				return false
			}
			if 2*s.y <= g.h-h {
				return true
			}
		}
		return false
	}
	return open(k.w, k.h) || k.turns && open(k.h, k.w)
}

// sums is a set of lengths.
type sums []uint64

// below is the greatest length in the set that is at most n.
func (s sums) below(n int32) int32 {
	if len(s) == 0 {
		return n
	}
	i := int(n >> 6)
	for w := s[i] << (63 - uint(n)&63) >> (63 - uint(n)&63); ; w = s[i] {
		if w != 0 {
			return int32(i<<6 + bits.Len64(w) - 1)
		}
		i--
	}
}

// add joins to the set all its lengths made longer by n, or by m if m isn't 0.
func (s sums) add(n, m int32) {
	for i := len(s) - 1; i >= 0; i-- {
		w := s[i] | s.shifted(i, n)
		if m > 0 {
			w |= s.shifted(i, m)
		}
		s[i] = w
	}
}

// shifted is word i of the set with all lengths made longer by n.
func (s sums) shifted(i int, n int32) uint64 {
	i -= int(n >> 6)
	b := uint(n) & 63
	switch {
	case i < 0:
		return 0
	case b == 0:
		return s[i]
	case i == 0:
		return s[0] << b
	}
	return s[i]<<b | s[i-1]>>(64-b)
}

// sum works out which lengths the remaining rectangles can make up.
func (g *gapSearch) sum(here *gapLevel) {
	if g.todo > mostSummed || max(g.w, g.h) > 1<<12 {
		here.across, here.up = here.across[:0], here.up[:0]
		return
	}
	here.across = cleared(here.across, int(g.w>>6)+1)
	here.up = cleared(here.up, int(g.h>>6)+1)
	for k := range g.kinds {
		kd := &g.kinds[k]
		for range g.left[k] {
			if kd.turns {
				here.across.add(kd.w, kd.h)
				here.up.add(kd.h, kd.w)
			} else {
				here.across.add(kd.w, 0)
				here.up.add(kd.h, 0)
			}
		}
	}
}

func cleared(s sums, words int) sums {
	if cap(s) < words {
		s = make(sums, words)
	}
	s = s[:words]
	clear(s)
	s[0] = 1
	return s
}
