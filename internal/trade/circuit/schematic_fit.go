package circuit

import "slices"

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
