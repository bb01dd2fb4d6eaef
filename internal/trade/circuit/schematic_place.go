package circuit

import (
	"cmp"
	"slices"
)

// layout places one group along and across its rows.
type layout struct {
	s    *sketch
	g    *rowGroup
	down bool // rows run downwards
	wrap Step // no line of words is longer, unless one word is
	arcs []arc
}

// arc keeps two nodes apart.
type arc struct {
	from, to *node
	gap      Step
}

// place gives every row and every node its place. It returns what the group takes along and across.
func (l *layout) place() (along, across Step) {
	for _, r := range l.g.rows {
		r.up, r.down = unit, unit
		for _, i := range r.items {
			l.size(i, r)
		}
	}
	for n, r := range l.g.rows {
		for _, i := range r.items {
			r.up, r.down = max(r.up, i.up), max(r.down, i.down)
		}
		if l.down && r.coil != nil {
			r.up, r.down = max(r.up, 4*unit), max(r.down, 4*unit)
		}
		if !l.down && r.coil != nil {
			r.down = max(r.down, Step((len(l.s.contactsOf(r.coil))+1)/2)*textPitch)
		}
		if n > 0 {
			across += unit
		}
		r.at = across + r.up
		across = r.at + r.down
	}
	l.sizeBlocks()
	l.arcs = nil
	for _, r := range l.g.rows {
		for n := 1; n < len(r.items); n++ {
			a, b := r.items[n-1], r.items[n]
			l.arcs = append(l.arcs, arc{a.node, b.node, a.after + b.before})
		}
	}
	l.span()
	l.solve()
	for range 200 {
		if !l.parted() {
			break
		}
		l.solve()
	}
	for _, r := range l.g.rows {
		for _, i := range r.items {
			along = max(along, i.node.at+i.after)
		}
	}
	return along, across
}

// span notes which rows each node reaches over.
func (l *layout) span() {
	for _, r := range l.g.rows {
		for _, i := range r.items {
			i.node.top, i.node.end = -1, -1
		}
	}
	for n, r := range l.g.rows {
		for _, i := range r.items {
			if i.node.top < 0 {
				i.node.top = n
			}
			i.node.end = n
		}
	}
}

// solve puts each node as far to the front as the arcs allow.
func (l *layout) solve() {
	for _, r := range l.g.rows {
		for _, i := range r.items {
			i.node.at = 0
		}
		if len(r.items) > 0 {
			i := r.items[0]
			i.node.at = max(i.node.at, i.before)
		}
	}
	for _, r := range l.g.rows {
		if len(r.items) > 0 {
			i := r.items[0]
			i.node.at = max(i.node.at, i.before)
		}
	}
	for range len(l.arcs) + 2 {
		moved := false
		for _, a := range l.arcs {
			if a.from == a.to {
				continue
			}
			if at := a.from.at + a.gap; at > a.to.at {
				a.to.at, moved = at, true
			}
		}
		if !moved {
			return
		}
	}
}

// parted adds an arc where an upright conductor runs into something, and reports whether there was any such place.
func (l *layout) parted() bool {
	var joints []*node
	for _, r := range l.g.rows {
		for _, i := range r.items {
			if i.kind == jointItem && i.node.top < i.node.end && !slices.Contains(joints, i.node) {
				joints = append(joints, i.node)
			}
		}
	}
	for _, t := range joints {
		for n := t.top; n <= t.end; n++ {
			r := l.g.rows[n]
			own := slices.ContainsFunc(r.items, func(i *item) bool { return i.node == t })
			if own {
				continue
			}
			for _, i := range r.items {
				switch i.kind {
				case jointItem, railItem, gapItem:
					continue
				default:
				}
				const clear = unit * 3 / 4
				switch {
				case t.at <= i.node.at && i.node.at-t.at < i.before+clear && !(i.before == 0 && i.after == 0):
					l.arcs = append(l.arcs, arc{t, i.node, i.before + clear})
					return true
				case t.at > i.node.at && t.at-i.node.at < i.after+clear:
					l.arcs = append(l.arcs, arc{i.node, t, i.after + clear})
					return true
				}
			}
		}
	}
	for n, a := range joints {
		for _, b := range joints[n+1:] {
			if a.top > b.end || b.top > a.end {
				continue
			}
			const apart = 2 * unit
			if d := a.at - b.at; d >= apart || -d >= apart {
				continue
			}
			first, second := a, b
			switch {
			case l.leads(a, b):
			case l.leads(b, a) || l.crossings(b, a) < l.crossings(a, b):
				first, second = b, a
			}
			l.arcs = append(l.arcs, arc{first, second, apart})
			return true
		}
	}
	return false
}

// leads reports whether the arcs keep a before b.
func (l *layout) leads(a, b *node) bool {
	seen := map[*node]bool{}
	var visit func(n *node) bool
	visit = func(n *node) bool {
		if n == b {
			return true
		}
		if seen[n] {
			return false
		}
		seen[n] = true
		for _, x := range l.arcs {
			if x.from == n && visit(x.to) {
				return true
			}
		}
		return false
	}
	return a != b && visit(a)
}

// crossings counts how often the conductors of two joints would cross if a stood before b.
func (l *layout) crossings(a, b *node) int {
	count := 0
	for n, r := range l.g.rows {
		for k, i := range r.items {
			conductor := func(m int) bool { return m >= 0 && m < len(r.items) && r.items[m].kind != gapItem }
			if i.node == a && conductor(k+1) && b.top < n && n < b.end {
				count++
			}
			if i.node == b && conductor(k-1) && a.top < n && n < a.end {
				count++
			}
		}
	}
	return count
}

// crossed counts the crossings of the placed group.
func (l *layout) crossed() int {
	count := 0
	seen := map[*node]bool{}
	for _, r := range l.g.rows {
		for _, i := range r.items {
			if i.kind != jointItem || seen[i.node] {
				continue
			}
			seen[i.node] = true
			for n := i.node.top + 1; n < i.node.end; n++ {
				for _, run := range l.runs(l.g.rows[n]) {
					if run[0] < i.node.at && i.node.at < run[1] {
						count++
					}
				}
			}
		}
	}
	return count
}

// runs are the stretches of a row where a conductor or a symbol lies.
func (l *layout) runs(r *row) [][2]Step {
	var list [][2]Step
	begin := -1
	for n := 0; n <= len(r.items); n++ {
		if n == len(r.items) || r.items[n].kind == gapItem {
			if begin >= 0 && n-1 > begin {
				list = append(list, [2]Step{r.items[begin].node.at, r.items[n-1].node.at})
			}
			begin = -1
			continue
		}
		if begin < 0 {
			begin = n
		}
	}
	return list
}

// tidy puts the rows into the order with the fewest crossings that swapping neighbours leads to.
func (l *layout) tidy() {
	if l.g.keep || len(l.g.rows) < 3 || len(l.g.rows) > 14 {
		return
	}
	score := func() int {
		along, _ := l.place()
		length := 0
		seen := map[*node]bool{}
		for _, r := range l.g.rows {
			for _, i := range r.items {
				if i.kind == jointItem && !seen[i.node] {
					seen[i.node] = true
					length += i.node.end - i.node.top
				}
			}
		}
		return l.crossed()*1000 + length*20 + int(along)/100
	}
	best := score()
	for range 4 {
		better := false
		for n := 1; n+1 < len(l.g.rows); n++ { // the first row stays the first
			for m := n + 1; m < len(l.g.rows); m++ {
				before := slices.Clone(l.g.rows)
				r := l.g.rows[m]
				l.g.rows = slices.Insert(slices.Delete(l.g.rows, m, m+1), n, r)
				if now := score(); now < best {
					best, better = now, true
				} else {
					l.g.rows = before
				}
			}
		}
		if !better {
			return
		}
	}
}

// contactsOf lists the contacts that the coil moves and that are drawn somewhere, in the circuit's order.
func (s *sketch) contactsOf(coil *part) []*part {
	var list []*part
	for _, p := range s.parts {
		if p.device == coil.device && p.element.Kind == Contact && p.drawn {
			list = append(list, p)
		}
	}
	return list
}

// copied returns the rows as a group of their own.
func (g *rowGroup) copied(rows []*row) *rowGroup {
	out := newGroup(g.left, g.right)
	out.keep = g.keep
	nodes := map[*node]*node{g.rails[0]: out.rails[0], g.rails[1]: out.rails[1]}
	blocks := map[*wideDevice]*wideDevice{}
	fresh := func(n *node) *node {
		if nodes[n] == nil {
			c := *n
			nodes[n] = &c
		}
		return nodes[n]
	}
	for _, r := range rows {
		c := *r
		c.items = nil
		for _, i := range r.items {
			j := *i
			j.node = fresh(i.node)
			if i.block != nil {
				if blocks[i.block] == nil {
					b := *i.block
					b.node = fresh(i.block.node)
					blocks[i.block] = &b
				}
				j.block = blocks[i.block]
			}
			if j.kind == jointItem {
				out.joints[j.net] = j.node
			}
			c.items = append(c.items, &j)
		}
		out.rows = append(out.rows, &c)
	}
	return out
}

// fit lays the group out within the limits: where it is too long or has too many rows, it goes on in further groups.
func (s *sketch) fit(g *rowGroup, down bool, along, across Step) []*rowGroup {
	var l *layout
	var a, c Step
	for _, wrap := range wraps(down) {
		l = &layout{s: s, g: g, down: down, wrap: wrap}
		l.tidy()
		a, c = l.place()
		if a = max(a, l.tails()); a <= along {
			break
		}
	}
	switch {
	case c > across && len(g.rows) > 1:
		k := len(g.rows) - 1
		for k > 1 && g.rows[k-1].at+g.rows[k-1].down > across {
			k--
		}
		k = wholeBlocks(g, k)
		one, two := g.copied(g.rows[:k]), g.copied(g.rows[k:])
		s.relink(one, two, false)
		s.relink(two, one, true)
		return append(s.fit(one, down, along, across), s.fit(two, down, along, across)...)
	case a > along:
		if one, two, ok := s.chop(g, along); ok {
			return append(s.fit(one, down, along, across), s.fit(two, down, along, across)...)
		}
	}
	return []*rowGroup{g}
}

// wholeBlocks returns the last row up to k before which no device is cut in two; k where there is none.
func wholeBlocks(g *rowGroup, k int) int {
	for n := k; n > 0; n-- {
		cut := false
		for _, i := range g.rows[n].items {
			switch {
			case i.block != nil && i.block.shape != BarShape:
				cut = cut || slices.ContainsFunc(g.rows[n-1].items, func(j *item) bool { return j.block == i.block })
			case i.kind == partItem:
				cut = cut || slices.ContainsFunc(g.rows[n-1].items, func(j *item) bool { return j.kind == partItem && j.node == i.node })
			}
		}
		if !cut {
			return n
		}
	}
	return k
}

// wraps are the lengths of a line of words to try, the roomiest first. Upright conductors have room for more lines.
func wraps(down bool) []Step {
	if down {
		return []Step{16 * unit}
	}
	return []Step{21 * unit, 17 * unit, 13 * unit}
}

// chop cuts all rows of a placed group at the same length.
func (s *sketch) chop(g *rowGroup, limit Step) (one, two *rowGroup, ok bool) {
	limit -= 21 * unit // for the arrows
	var fronts, backs []*row
	moved := false
	for _, r := range g.rows {
		k := slices.IndexFunc(r.items, func(i *item) bool { return i.node.at+i.after > limit })
		switch {
		case k < 0:
			fronts = append(fronts, r)
			continue
		case !slices.ContainsFunc(r.items[:k], func(i *item) bool { return i.kind == partItem || i.kind == blockItem && i.right.Device != "" }):
			backs = append(backs, r)
			moved = true
			continue
		}
		moved = true
		front, back := *r, *r
		back.rung = &rung{}
		front.items, back.items = slices.Clone(r.items[:k]), slices.Clone(r.items[k:])
		// the cut stands in one conductor: nothing but its number, joint and terminals between here and the parts beside it
		net := -1
		if last := front.items[k-1]; last.kind == partItem || last.kind == blockItem {
			if last.right.Device != "" {
				net = s.net[last.right]
			}
		} else if last.kind != gapItem && last.kind != screenItem {
			net = last.net
		} else if last.kind == screenItem && k > 1 {
			net = front.items[k-2].net
		}
		if first := back.items[0]; first.kind == gapItem {
			net = -1
		}
		if net >= 0 {
			front.items = append(front.items, &item{kind: endItem, node: &node{}, net: net, to: back.rung, earth: false})
			back.items = append([]*item{{kind: endItem, node: &node{}, net: net, to: front.rung, first: true}, s.label(net)}, back.items...)
			if !slices.ContainsFunc(front.items, func(i *item) bool { return i.kind == labelItem && i.net == net }) {
				front.items = slices.Insert(front.items, len(front.items)-1, s.label(net))
			}
		}
		for _, i := range back.items {
			if i.kind == partItem {
				i.part.rung = back.rung
			}
		}
		if r.coil != nil {
			if slices.ContainsFunc(back.items, func(i *item) bool { return i.part == r.coil }) {
				front.coil = nil
			} else {
				back.coil = nil
			}
		}
		fronts, backs = append(fronts, &front), append(backs, &back)
	}
	if !moved || solid(fronts) == 0 || solid(backs) == 0 {
		return nil, nil, false // no use
	}
	one, two = g.copied(fronts), g.copied(backs)
	s.relink(one, two, false)
	s.relink(two, one, true)
	return one, two, true
}

// solid counts what rows show beside numbers and arrows.
func solid(rows []*row) int {
	count := 0
	for _, r := range rows {
		for _, i := range r.items {
			count += b2i(i.kind == partItem || i.kind == terminalItem || i.kind == pinItem || i.kind == blockItem && (i.left.Device != "" || i.right.Device != ""))
		}
	}
	return count
}

// relink makes references for the potentials that a group shares with another after they have been parted, in the second of
// them arrows.
func (s *sketch) relink(g, other *rowGroup, arrows bool) {
	far := map[int]*rung{}
	for _, r := range other.rows {
		for _, i := range r.items {
			if i.kind == jointItem || i.kind == labelItem || i.kind == endItem {
				if far[i.net] == nil {
					far[i.net] = r.rung
				}
			}
		}
	}
	s.settle(g)
	told := map[int]bool{g.left: true, g.right: true}
	for _, r := range g.rows {
		for _, i := range r.items {
			if i.kind == endItem {
				if i.to == nil {
					i.to = far[i.net]
				}
				told[i.net] = true
			}
		}
	}
	for _, r := range g.rows {
		for n := 0; n < len(r.items); n++ {
			i := r.items[n]
			if arrows && i.kind == jointItem && n == 0 && !told[i.net] && far[i.net] != nil {
				r.items = slices.Insert(r.items, 0, &item{kind: endItem, node: &node{}, net: i.net, to: far[i.net], first: true})
				told[i.net] = true
				n++
			}
		}
	}
	for _, r := range g.rows {
		for _, i := range r.items {
			if i.kind == labelItem && !told[i.net] && i.to == nil && far[i.net] != nil {
				i.to, told[i.net] = far[i.net], true
			}
		}
	}
}

// tail is how much of a row lies behind its load: the load itself comes last of what is counted from the right rail.
func (l *layout) tail(r *row) (load int, length Step, ok bool) {
	if len(r.items) == 0 {
		return 0, 0, false
	}
	last := r.items[len(r.items)-1]
	inside := last.kind == partItem && last.part.element.Kind == Input
	if last.kind != railItem && !inside || !inside && last.node != l.g.rails[1] {
		return 0, 0, false
	}
	if inside {
		length = last.after
	}
	for n := len(r.items) - 1; n >= 0; n-- {
		i := r.items[n]
		if i.kind == jointItem || i.kind == gapItem || i.kind == blockItem {
			return 0, 0, false
		}
		if n < len(r.items)-1 {
			length += i.after + r.items[n+1].before
		}
		if i.kind == partItem {
			return n, length, i.part.load()
		}
	}
	return 0, 0, false
}

// tails returns how long the rows must be for all loads to stand in one line before the right rail.
func (l *layout) tails() Step {
	var most, longest Step
	for _, r := range l.g.rows {
		if n, length, ok := l.tail(r); ok {
			most = max(most, r.items[n].node.at)
			longest = max(longest, length)
		}
	}
	return most + longest
}

// toRight moves the loads to the right rail, which stands at the given place.
func (l *layout) toRight(rail, longest Step) {
	for k, r := range l.g.rows {
		n, _, ok := l.tail(r)
		if !ok || l.behind(k, r.items[n].node.at) {
			continue
		}
		at := max(r.items[n].node.at, rail-longest)
		r.items[n].node.at = at
		for m := n + 1; m < len(r.items); m++ {
			i := r.items[m]
			at += r.items[m-1].after + i.before
			if i.kind != railItem {
				i.node.at = at
			}
		}
	}
	l.g.rails[1].at = rail
}

// behind reports whether an upright conductor crosses the row behind a place along it.
func (l *layout) behind(row int, at Step) bool {
	for _, n := range l.g.joints {
		if n.top < row && row < n.end && n.at > at {
			return true
		}
	}
	return false
}

// longestTail returns the longest stretch from a load to the right rail.
func (l *layout) longestTail() Step {
	var longest Step
	for _, r := range l.g.rows {
		if _, length, ok := l.tail(r); ok {
			longest = max(longest, length)
		}
	}
	return longest
}

// compareRungs orders places by sheet and number.
func compareRungs(a, b *rung) int {
	return cmp.Or(cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.number, b.number))
}
