package prove

import (
	"encoding/binary"
	"slices"
)

// live is a branch that can carry current, between two nets of its network.
type live struct {
	branch   int32
	a, b     int16
	inverted bool // a contact of the other type
}

// network is an island of the circuit: what hangs together by anything but the ground, which every network may touch and which
// carries no current from one to another. It doesn't change once it is built.
type network struct {
	name   string // the same for two networks exactly if they behave the same
	lives  []live
	nets   int
	ground int16 // the net of the protective ground; -1 where it isn't part of it
	mask   bits  // the drivers that matter here
	// outs and motor are the nets of what turns the motor; nil where they aren't in this network.
	outs, motor []int16
}

// fate is what a change has made of a branch.
type fate uint8

const (
	whole fate = iota
	gone
	inverted
	turned
)

// builder makes networks from a model and what is wrong with it. It is reused: one for each worker.
type builder struct {
	m      *model
	parent []int32 // of the nodes, by wires
	fates  []fate
	wires  []bool // that are on
	ends   [][2]int32
	degree []int32
	edges  []Edge
	over   []int32 // of the nets, by branches
	pieces []piece
	text   []byte
	local  []int16
}

// piece is a network in the making.
type piece struct {
	root  int32
	lives []int32
}

func newBuilder(m *model) *builder {
	nodes := len(m.wiring.Pins)
	return &builder{m: m, parent: make([]int32, nodes), fates: make([]fate, len(m.branches)), wires: make([]bool, len(m.wiring.Wires)),
		ends: make([][2]int32, len(m.branches)), degree: make([]int32, nodes), over: make([]int32, nodes), local: make([]int16, nodes)}
}

func root(parent []int32, n int32) int32 {
	for parent[n] != n {
		parent[n] = parent[parent[n]]
		n = parent[n]
	}
	return n
}

// unite joins two sets; the lower number stays the root, so that the result doesn't hang on the order.
func unite(parent []int32, a, b int32) {
	a, b = root(parent, a), root(parent, b)
	if a > b {
		a, b = b, a
	}
	parent[b] = a
}

// build divides the circuit with the changes in it into networks. sign names each of them, finish makes it.
func (b *builder) build(changes ...Change) []piece {
	b.apply(changes)
	b.connect()
	b.prune()
	return b.divide()
}

// apply notes what the changes make of wires and branches, and joins what touches.
func (b *builder) apply(changes []Change) {
	m := b.m
	for n := range b.parent {
		b.parent[n] = int32(n)
	}
	clear(b.fates)
	for n := range b.wires {
		b.wires[n] = true
	}
	b.edges = append(b.edges[:0], m.wiring.Wires...)
	for _, c := range changes {
		switch c.Kind {
		case WireOff:
			b.wires[c.Wire] = false
		case WireMoved:
			*endOf(&b.edges[c.Wire], c.End) = c.A
		case WiresSwapped:
			one, other := endOf(&b.edges[c.Wire], c.End), endOf(&b.edges[c.Other], c.OtherEnd)
			*one, *other = *other, *one
		case Bridged:
			unite(b.parent, int32(c.A), int32(c.B))
		case StuckOpen, StuckClosed, Inverted, Turned, Dead, NeverMoves:
			b.partChange(c)
		}
	}
	for n, e := range b.edges {
		if b.wires[n] {
			unite(b.parent, int32(e.A), int32(e.B))
		}
	}
}

// endOf returns the node at an end of an edge: 0 for the first, 1 for the second.
func endOf(e *Edge, end int) *int {
	if end == 0 {
		return &e.A
	}
	return &e.B
}

// partChange notes a change of a part.
func (b *builder) partChange(c Change) {
	m := b.m
	device := m.wiring.Parts[c.Part].Device
	for n := range m.branches {
		r := &m.branches[n]
		if r.part < 0 {
			continue
		}
		if c.Kind == NeverMoves {
			if p := m.wiring.Parts[r.part]; p.Device == device && p.Group == 0 && (r.kind == switchBranch || r.kind == fuseBranch) {
				b.freeze(n, p.In&1 == 1)
			}
			continue
		}
		if r.part != c.Part {
			continue
		}
		switch c.Kind {
		case StuckOpen, Dead:
			b.fates[n] = gone
		case StuckClosed:
			b.freeze(n, true)
		case Inverted:
			b.fates[n] = inverted
		default:
			b.fates[n] = turned
		}
	}
}

// freeze fixes a contact.
func (b *builder) freeze(n int, closed bool) {
	b.fates[n] = gone
	if r := &b.m.branches[n]; closed {
		unite(b.parent, int32(r.a), int32(r.b))
	}
}

// connect finds the nets at the ends of the branches.
func (b *builder) connect() {
	m := b.m
	for _, l := range m.links {
		unite(b.parent, int32(l.a), int32(l.b))
	}
	clear(b.degree)
	for n := range m.branches {
		if b.fates[n] == gone {
			continue
		}
		r := &m.branches[n]
		x, y := root(b.parent, int32(r.a)), root(b.parent, int32(r.b))
		if x == y && r.kind != sourceBranch {
			b.fates[n] = gone // both ends touch: nothing stands across it
			continue
		}
		b.ends[n] = [2]int32{x, y}
		b.degree[x]++
		b.degree[y]++
	}
}

// prune takes away what leads nowhere, again and again: no current can flow in it, so nothing stands across it. What is left is
// the same for every fault that does the same, such as a contact that doesn't close and the wire that is off behind it.
func (b *builder) prune() {
	for again := true; again; {
		again = false
		for n := range b.ends {
			if b.fates[n] == gone {
				continue
			}
			if e := b.ends[n]; b.degree[e[0]] == 1 || b.degree[e[1]] == 1 {
				b.fates[n] = gone
				b.degree[e[0]]--
				b.degree[e[1]]--
				again = true
			}
		}
	}
}

// divide sorts the branches into networks. The ground is the boundary.
func (b *builder) divide() []piece {
	ground := int32(-1)
	if b.m.ground >= 0 {
		ground = root(b.parent, int32(b.m.ground))
	}
	for n := range b.over {
		b.over[n] = int32(n)
	}
	for n, e := range b.ends {
		if b.fates[n] != gone && e[0] != ground && e[1] != ground {
			unite(b.over, e[0], e[1])
		}
	}
	count := 0
	for n, e := range b.ends {
		if b.fates[n] == gone {
			continue
		}
		at := e[0]
		if at == ground {
			at = e[1]
		}
		at = root(b.over, at)
		k := 0
		for k < count && b.pieces[k].root != at {
			k++
		}
		if k == count {
			if k == len(b.pieces) {
				b.pieces = append(b.pieces, piece{})
			}
			b.pieces[k].root, b.pieces[k].lives = at, b.pieces[k].lives[:0]
			count++
		}
		b.pieces[k].lives = append(b.pieces[k].lives, int32(n))
	}
	return b.pieces[:count]
}

// sign writes the piece's name: every branch in it with its nets, numbered as they are met.
func (b *builder) sign(p piece) []byte {
	for _, n := range p.lives {
		b.local[b.ends[n][0]], b.local[b.ends[n][1]] = -1, -1
	}
	next := int16(0)
	number := func(net int32) int16 {
		if b.local[net] < 0 {
			b.local[net] = next
			next++
		}
		return b.local[net]
	}
	text := b.text[:0]
	for _, n := range p.lives {
		x, y := number(b.ends[n][0]), number(b.ends[n][1])
		text = binary.LittleEndian.AppendUint16(text, uint16(n)<<2|uint16(b.fates[n]))
		text = binary.LittleEndian.AppendUint16(text, uint16(x))
		text = binary.LittleEndian.AppendUint16(text, uint16(y))
	}
	text = binary.LittleEndian.AppendUint16(text, uint16(b.inside(p, b.m.ground)))
	for _, list := range [][]int{b.m.outs, b.m.motor} {
		for _, node := range list {
			text = binary.LittleEndian.AppendUint16(text, uint16(b.inside(p, node)))
		}
	}
	b.text = text
	return text
}

// inside returns the number in the piece of a node's net; -1 where it isn't part of it. sign must have numbered the piece.
func (b *builder) inside(p piece, node int) int16 {
	if node < 0 {
		return -1
	}
	net := root(b.parent, int32(node))
	for _, n := range p.lives {
		if b.ends[n][0] == net || b.ends[n][1] == net {
			return b.local[net]
		}
	}
	return -1
}

// finish makes the network of a piece that sign has just numbered. The nets with the most branches come first, so that the
// elimination, which goes from the last to the first, leaves them to the end.
func (b *builder) finish(p piece, name string) *network {
	k := &network{name: name, ground: -1}
	var nets []int32
	seen := func(net int32) {
		if int(b.local[net]) == len(nets) {
			nets = append(nets, net)
		}
	}
	for _, n := range p.lives {
		seen(b.ends[n][0])
		seen(b.ends[n][1])
	}
	k.nets = len(nets)
	count := make([]int, k.nets)
	for _, n := range p.lives {
		for _, net := range b.ends[n] {
			count[b.local[net]]++
		}
	}
	order := make([]int, k.nets)
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(x, y int) int { return count[y] - count[x] })
	rank := make([]int16, k.nets)
	for n, net := range order {
		rank[net] = int16(n)
	}
	place := func(node int) int16 {
		if at := b.inside(p, node); at >= 0 {
			return rank[at]
		}
		return -1
	}
	for _, n := range p.lives {
		l := live{branch: n, a: rank[b.local[b.ends[n][0]]], b: rank[b.local[b.ends[n][1]]], inverted: b.fates[n] == inverted}
		r := &b.m.branches[n]
		if b.fates[n] == turned {
			if r.kind == knobBranch {
				l.inverted = true
			} else {
				l.a, l.b = l.b, l.a
			}
		}
		k.lives = append(k.lives, l)
		if r.driver >= 0 {
			k.mask.set(r.driver)
			if r.kind == knobBranch {
				k.mask.set(r.driver + 1)
			}
		}
	}
	k.ground = place(b.m.ground)
	for _, node := range b.m.outs {
		k.outs = append(k.outs, place(node))
	}
	here := false
	for _, node := range b.m.motor {
		at := place(node)
		k.motor = append(k.motor, at)
		here = here || at >= 0
	}
	for _, at := range k.outs {
		here = here || at >= 0
	}
	if !here {
		k.outs, k.motor = nil, nil
	}
	return k
}
