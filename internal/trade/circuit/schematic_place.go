package circuit

import "slices"

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
			r.up, r.down = max(r.up, 6*unit), max(r.down, 6*unit)
		}
		if !l.down && r.coil != nil {
			r.down = max(r.down, Step((len(l.s.contactsOf(r.coil))+1)/2)*textPitch)
		}
		if n > 0 {
			across += rowGap
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
		length = last.after + 3*unit // clear of the rail, which it doesn't join
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
