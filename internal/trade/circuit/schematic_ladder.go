package circuit

import (
	"cmp"
	"slices"
)

// rails are the two potentials that a section's rungs stand between.
type rails struct {
	left, right int
	source      *part
}

// findRails lists the pairs of rails: one for each source, behind its own fuse if it has one.
func (s *sketch) findRails() []rails {
	var list []rails
	for _, p := range s.parts {
		if p.element.Kind != Source || p.drawn {
			continue
		}
		list = append(list, rails{s.behindFuse(s.net[p.a], p), s.behindFuse(s.net[p.b], p), p})
	}
	return list
}

// behindFuse returns the net behind a source's own fuse; the net itself if something else hangs on it too.
func (s *sketch) behindFuse(net int, source *part) int {
	var only *part
	for _, p := range s.at[net] {
		if p == source {
			continue
		}
		if only != nil || p.drawn || p.device.Kind != Fuse && p.device.Kind != Breaker {
			return net
		}
		only = p
	}
	if only == nil || s.net[only.a] == s.net[only.b] {
		return net
	}
	if s.net[only.a] == net {
		return s.net[only.b]
	}
	return s.net[only.a]
}

// ladders makes rungs of all parts that aren't drawn yet.
func (s *sketch) ladders(power map[int]bool) []*drawnSection {
	pairs := s.findRails()
	isRail := map[int]bool{}
	for n := range power {
		isRail[n] = true
	}
	for _, r := range pairs {
		isRail[r.left], isRail[r.right] = true, true
	}
	type run struct {
		section  *drawnSection
		clusters [][]*part
		used     bool // by something else than the supply itself
	}
	var list []*run
	at := map[[3]int]*run{}
	for _, parts := range s.clusters(isRail) {
		touched, inside := map[int]bool{}, map[int]bool{}
		safe := 0
		for _, p := range parts {
			for _, end := range []Pin{p.a, p.b} {
				if end.Device != "" && isRail[s.net[end]] {
					touched[s.net[end]] = true
				}
			}
			if p.element.Kind == Input {
				inside[s.net[p.device.Pin(p.element.W)]] = true
				if p.element.Does == SafeOff1 || p.element.Does == SafeOff2 {
					safe = 1
				}
			}
		}
		best, score := rails{left: -1, right: -1}, 0
		for _, r := range pairs {
			points := 0
			for _, net := range []int{r.left, r.right} {
				if touched[net] {
					points += 3
				} else if inside[net] {
					points++
				}
			}
			if slices.Contains(parts, r.source) {
				points += 10
			}
			if points > score {
				best, score = r, points
			}
		}
		if score < 6 {
			var mains []int
			for n := range touched {
				if power[n] {
					mains = append(mains, n)
				}
			}
			if len(mains) >= 2 {
				slices.Sort(mains)
				best = rails{left: mains[0], right: mains[1]}
			}
		}
		key := [3]int{best.left, best.right, safe}
		if at[key] == nil {
			x := &drawnSection{sheet: "Control circuit", left: best.left, right: best.right, title: s.railTitle(best)}
			if safe == 1 {
				x.title = "Safe torque off"
			}
			at[key] = &run{section: x}
			list = append(list, at[key])
		}
		at[key].clusters = append(at[key].clusters, parts)
		for _, p := range parts {
			at[key].used = at[key].used || p.element.Kind != Source && p.device.Kind != Fuse
		}
	}
	slices.SortStableFunc(list, func(a, b *run) int {
		return cmp.Or(cmp.Compare(b2i(a.section.left < 0), b2i(b.section.left < 0)), cmp.Compare(a.section.left, b.section.left))
	})
	var sections []*drawnSection
	for _, r := range list {
		if !r.used {
			continue
		}
		for _, parts := range r.clusters {
			r.section.groups = append(r.section.groups, s.rungs(parts, r.section.left, r.section.right, isRail))
		}
		sections = append(sections, r.section)
	}
	return sections
}

func (s *sketch) railTitle(r rails) string {
	if r.source == nil {
		if r.left < 0 {
			return "Not joined to a supply"
		}
		return "Controls fed from the power path"
	}
	kind := "DC"
	if r.source.element.AC {
		kind = "AC"
	}
	return "Controls, " + voltsText(r.source.element.Volts) + " " + kind + " from " + r.source.device.Tag
}

// clusters gathers the parts that aren't drawn by what hangs together without the rails: the supplies first, then in the
// order of the circuit.
func (s *sketch) clusters(isRail map[int]bool) [][]*part {
	parent := map[int]int{}
	var root func(int) int
	root = func(n int) int {
		if p, there := parent[n]; there && p != n {
			parent[n] = root(p)
			return parent[n]
		}
		return n
	}
	ends := func(p *part) []int {
		var nets []int
		for _, end := range []Pin{p.a, p.b} {
			if end.Device != "" && !isRail[s.net[end]] {
				nets = append(nets, s.net[end])
			}
		}
		return nets
	}
	for _, p := range s.parts {
		if nets := ends(p); !p.drawn && len(nets) == 2 {
			parent[root(nets[1])] = root(nets[0])
		}
	}
	var list [][]*part
	at := map[int]int{}
	for _, p := range s.parts {
		if p.drawn {
			continue
		}
		nets := ends(p)
		if len(nets) == 0 {
			list = append(list, []*part{p})
			continue
		}
		k, there := at[root(nets[0])]
		if !there {
			k = len(list)
			at[root(nets[0])] = k
			list = append(list, nil)
		}
		list[k] = append(list[k], p)
	}
	// A relay that holds the run is drawn where the start button is: by what the first load is.
	first := func(parts []*part) int {
		n := len(s.parts) * 2
		for _, p := range parts {
			switch {
			case p.element.Kind == Source:
				return -1
			case p.load():
				n = min(n, p.index)
			default:
				n = min(n, len(s.parts)+p.index)
			}
		}
		return n
	}
	slices.SortStableFunc(list, func(a, b []*part) int { return cmp.Compare(first(a), first(b)) })
	return list
}

// rungs makes the rows of one cluster: a row for each load from rail to rail, the rest between what is there.
func (s *sketch) rungs(parts []*part, left, right int, isRail map[int]bool) *rowGroup {
	g := newGroup(left, right)
	place := map[int]float64{} // 0 at the left rail, 1 at the right one
	if left >= 0 {
		place[left] = 0
	}
	if right >= 0 {
		place[right] = 1
	}
	order := slices.Clone(parts)
	slices.SortStableFunc(order, func(a, b *part) int { return cmp.Compare(b2i(!a.load()), b2i(!b.load())) })
	in := map[*part]bool{}
	for _, p := range parts {
		in[p] = true
	}
	allowed := func(p *part) (int, bool) {
		switch {
		case !in[p]:
			return 0, false
		case p.load():
			return 400, true
		case p.device.Kind == Relay || p.device.Kind == Contactor || p.device.Kind == DelayRelay:
			return 11, true
		}
		return 10, true
	}
	price := func(net int) (int, bool) {
		switch {
		case net == left:
			return 0, true
		case net == right:
			return 5, true
		case isRail[net]:
			return 50, true
		}
		_, there := place[net]
		return 1, there
	}
	for _, p := range order {
		if p.drawn {
			continue
		}
		p.drawn = true // its own ways don't go through it
		var before, after []oriented
		banned := map[int]bool{}
		middle := oriented{part: p, in: p.a, out: p.b}
		if p.b.Device != "" {
			for _, net := range []int{left, right} {
				if s.net[p.b] == net {
					banned[net] = true
				}
			}
		}
		way := func(from int) []oriented {
			list, to, ok := s.path(from, allowed, price, banned)
			if !ok {
				list = s.farthest(from, in, banned)
			} else if to != from {
				banned[to] = true
			}
			for _, o := range list {
				banned[s.net[o.in]] = true
			}
			banned[from] = true
			return list
		}
		before = way(s.net[p.a])
		if p.b.Device != "" {
			if s.net[p.b] != s.net[p.a] {
				delete(banned, s.net[p.b])
				after = way(s.net[p.b])
			}
		}
		row := []oriented{}
		for n := len(before) - 1; n >= 0; n-- {
			row = append(row, before[n].turned())
		}
		row = append(append(row, middle), after...)
		s.spread(row, place, left, right)
		if s.backwards(row, place, right) {
			slices.Reverse(row)
			for n := range row {
				row[n] = row[n].turned()
			}
		}
		r := s.chain(g, row)
		s.sameEnds(g, r)
	}
	return g
}

// sameEnds makes an arrow of the second end of a row that begins and ends on the same potential.
func (s *sketch) sameEnds(g *rowGroup, r *row) {
	last := len(r.items) - 1
	for n, i := range r.items[:last] {
		if o := r.items[last]; (o.kind == jointItem || o.kind == railItem) && n < last && i.node == o.node {
			r.items[last] = &item{kind: endItem, node: &node{}, net: o.net, to: r.rung, earth: s.ground(o.net)}
		}
	}
	if o := r.items[0]; o.kind == railItem && o.node == g.rails[1] && last > 0 && r.items[last].node != g.rails[0] {
		// only one end, and it is the right rail: the row was turned the wrong way
		slices.Reverse(r.items)
		for _, i := range r.items {
			i.left, i.right = i.right, i.left
		}
	}
}

// farthest returns a way that ends nowhere: the contacts in a row behind a net from which nothing leads to a rail.
func (s *sketch) farthest(from int, in map[*part]bool, banned map[int]bool) []oriented {
	var list []oriented
	for at, seen := from, map[int]bool{from: true}; ; {
		found := false
		for _, p := range s.at[at] {
			if p.drawn || !in[p] || p.load() || p.b.Device == "" || slices.ContainsFunc(list, func(o oriented) bool { return o.part == p }) {
				continue
			}
			o := oriented{part: p, in: p.a, out: p.b}
			if s.net[p.a] != at {
				o = o.turned()
			}
			if next := s.net[o.out]; !seen[next] && !banned[next] {
				list, at, found = append(list, o), next, true
				seen[next] = true
				break
			}
		}
		if !found {
			return list
		}
	}
}

// spread gives the nets of a new row their places between the ends.
func (s *sketch) spread(row []oriented, place map[int]float64, left, right int) {
	from, fromThere := 0.02, row[0].in.Device != ""
	to := 0.98
	if fromThere {
		if x, there := place[s.net[row[0].in]]; there {
			from = x
		}
	}
	last := row[len(row)-1].out
	if last.Device != "" {
		if x, there := place[s.net[last]]; there {
			to = x
		}
	} else if from > 0.9 {
		to = 0.01
	}
	if from == to {
		to += 0.001
	}
	set := func(pin Pin, x float64) {
		if pin.Device == "" {
			return
		}
		if _, there := place[s.net[pin]]; !there {
			place[s.net[pin]] = x + 1e-7*float64(s.net[pin]) // no two alike
		}
	}
	for n, o := range row {
		f := float64(n) / float64(len(row))
		set(o.in, from+(to-from)*f)
	}
	set(last, to)
}

// backwards reports whether the row runs from the right to the left.
func (s *sketch) backwards(row []oriented, place map[int]float64, right int) bool {
	in, out := row[0].in, row[len(row)-1].out
	switch {
	case in.Device == "":
		return true
	case out.Device == "":
		return s.net[in] == right && right >= 0
	}
	return place[s.net[in]] > place[s.net[out]]
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
