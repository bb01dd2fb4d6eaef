package circuit

import "slices"

// itemKind is what stands in a row.
type itemKind int

const (
	partItem     itemKind = iota
	terminalItem          // of a terminal block, in the conductor
	labelItem             // the potential's number over the conductor
	jointItem             // where rows of one potential meet
	railItem
	blockItem  // a device that spans several rows, with a port on either side
	endItem    // the conductor goes on elsewhere
	pinItem    // the conductor ends on a terminal that is drawn here by itself
	screenItem // the screen of a cable, with its conductors inside
	gapItem    // no conductor
)

// item is one thing in a row. Items of several rows that must stand in line share a node.
type item struct {
	kind itemKind
	node *node
	net  int
	part *part
	// left and right are the pins of a part or block where the conductors come and go.
	left, right Pin
	pin         Pin // of a terminal or a pin
	block       *wideDevice
	power       bool  // of a part: draw main contacts
	to          *rung // where an end, or a label, goes on
	earth       bool  // the end goes to ground
	first       bool  // an end or pin at the beginning of its row
	// room that it takes before and after its node along the row, and to either side of the row
	before, after, up, down Step
	tag                     string
	words                   []note
}

// node is a place along the rows.
type node struct {
	at       Step
	top, end int // rows that it spans
	joint    bool
}

// wideDevice is a device that is drawn once over several rows.
type wideDevice struct {
	device *Device
	shape  Shape
	node   *node
	words  []note
	cable  *Cable // of a screen
	half   Step
}

// row is one line of a rung, or one current path.
type row struct {
	items    []*item
	rung     *rung
	at       Step // across
	up, down Step
	coil     *part // whose contacts are listed beside it
}

// rowGroup is rows that hang together.
type rowGroup struct {
	rows        []*row
	left, right int // nets of the rails; -1 where there is none
	joints      map[int]*node
	rails       [2]*node
	keep        bool // the rows stay in this order
}

// drawnSection is groups of a kind, under one title, between the same rails.
type drawnSection struct {
	title       string
	sheet       string // title of its sheet: sections of the same stand together
	left, right int
	groups      []*rowGroup
	level       bool // rows run to the right, whatever the habit
}

func newGroup(left, right int) *rowGroup {
	return &rowGroup{left: left, right: right, joints: map[int]*node{}, rails: [2]*node{{}, {}}}
}

func (g *rowGroup) joint(net int) *item {
	switch {
	case net == g.left && g.left >= 0:
		return &item{kind: railItem, net: net, node: g.rails[0]}
	case net == g.right && g.right >= 0:
		return &item{kind: railItem, net: net, node: g.rails[1]}
	}
	n := g.joints[net]
	if n == nil {
		n = &node{joint: true}
		g.joints[net] = n
	}
	return &item{kind: jointItem, net: net, node: n}
}

// oriented is a part with the pin where the row comes in and the one where it goes out.
type oriented struct {
	part    *part
	in, out Pin
	power   bool
}

func (o oriented) turned() oriented {
	return oriented{part: o.part, in: o.out, out: o.in, power: o.power}
}

func (s *sketch) terminals(pins []Pin) []*item {
	var list []*item
	for _, p := range pins {
		list = append(list, &item{kind: terminalItem, node: &node{}, pin: p, net: s.net[p]})
	}
	return list
}

func (s *sketch) label(net int) *item { return &item{kind: labelItem, node: &node{}, net: net} }

// segment is the conductor between two pins of one potential; either pin may be missing, where a rail or a joint is instead.
func (s *sketch) segment(g *rowGroup, net int, from, to Pin) []*item {
	var items []*item
	wired := false
	if from.Device != "" {
		s.shown[from] = true
		items = append(items, s.terminals(s.stub(from))...)
		wired = wired || s.wired(from)
	}
	back := []*item(nil)
	if to.Device != "" {
		s.shown[to] = true
		stub := s.stub(to)
		slices.Reverse(stub)
		back = s.terminals(stub)
		wired = wired || s.wired(to)
	}
	if !wired {
		return []*item{{kind: gapItem, node: &node{}}}
	}
	if from.Device == "" {
		items = append(items, g.joint(net), s.label(net))
	} else {
		items = append(items, s.label(net), g.joint(net))
	}
	return append(items, back...)
}

// chain makes a row of parts. The ends are joints or rails of the potentials there; none where the end is inside a device.
func (s *sketch) chain(g *rowGroup, parts []oriented) *row {
	r := &row{rung: &rung{}}
	if first := parts[0].in; first.Device != "" {
		r.items = append(r.items, s.segment(g, s.net[first], Pin{}, first)...)
	}
	for n, o := range parts {
		if n > 0 {
			r.items = append(r.items, s.segment(g, s.net[o.in], parts[n-1].out, o.in)...)
		}
		r.items = append(r.items, s.partItem(r, o))
	}
	if last := parts[len(parts)-1].out; last.Device != "" {
		r.items = append(r.items, s.segment(g, s.net[last], last, Pin{})...)
	}
	g.rows = append(g.rows, r)
	return r
}

func (s *sketch) partItem(r *row, o oriented) *item {
	o.part.drawn, o.part.rung = true, r.rung
	if o.part.element.Kind == Coil {
		r.coil = o.part
	}
	return &item{kind: partItem, node: &node{}, part: o.part, left: o.in, right: o.out, power: o.power}
}

// path finds the cheapest way from a net over parts that aren't drawn yet to a net for which cost returns a price; banned
// nets aren't touched. The parts come in the order from the net outwards.
func (s *sketch) path(from int, allowed func(*part) (price int, ok bool), price func(net int) (int, bool), banned map[int]bool) (parts []oriented, to int, ok bool) {
	type state struct {
		cost int
		by   oriented
		from int
		done bool
	}
	seen := map[int]*state{from: {}}
	order := []int{from}
	best, bestCost := -1, 0
	for {
		at := -1
		for _, n := range order {
			if !seen[n].done && (at < 0 || seen[n].cost < seen[at].cost) {
				at = n
			}
		}
		if at < 0 || best >= 0 && seen[at].cost >= bestCost {
			break
		}
		seen[at].done = true
		if p, is := price(at); is && (!banned[at] || at == from) {
			if best < 0 || seen[at].cost+p < bestCost {
				best, bestCost = at, seen[at].cost+p
			}
			continue
		}
		for _, p := range s.at[at] {
			cost, is := allowed(p)
			if p.drawn || !is {
				continue
			}
			for _, ends := range [][2]Pin{{p.a, p.b}, {p.b, p.a}} {
				if ends[0].Device == "" || ends[1].Device == "" || s.net[ends[0]] != at {
					continue
				}
				next := s.net[ends[1]]
				if banned[next] || next == at {
					continue
				}
				c := seen[at].cost + cost
				if known := seen[next]; known == nil {
					order = append(order, next)
				} else if known.done || known.cost <= c {
					continue
				}
				seen[next] = &state{cost: c, by: oriented{part: p, in: ends[0], out: ends[1]}, from: at}
			}
		}
	}
	if best < 0 {
		return nil, 0, false
	}
	for at := best; at != from; at = seen[at].from {
		parts = append(parts, seen[at].by)
	}
	slices.Reverse(parts)
	return parts, best, true
}

// settle takes joints away that nothing else meets, and makes ends of those at the end of a row.
func (s *sketch) settle(g *rowGroup) {
	count := map[int]int{}
	for _, r := range g.rows {
		seen := map[int]bool{}
		for _, i := range r.items {
			if i.kind == jointItem && !seen[i.net] {
				seen[i.net] = true
				count[i.net]++
			}
		}
	}
	for _, r := range g.rows {
		kept := r.items[:0]
		for n, i := range r.items {
			if i.kind == jointItem && count[i.net] < 2 {
				first := n == 0 || r.items[n-1].kind == gapItem
				last := n == len(r.items)-1 || r.items[n+1].kind == gapItem
				if !first && !last {
					continue
				}
				i = &item{kind: endItem, node: &node{}, net: i.net, first: first, earth: s.ground(i.net)}
			}
			kept = append(kept, i)
		}
		r.items = kept
	}
}

// ground reports whether the net is part of the protective ground, and not a supply's side that is joined to it.
func (s *sketch) ground(net int) bool {
	is := false
	for _, p := range s.pins[net] {
		d := s.circuit.Device(p.Device)
		is = is || d.Kind == GroundBar || p.Terminal == "PE" || p.Terminal == "PEM"
		for _, e := range d.Elements {
			if e.Kind == Source && (e.A == p.Terminal || e.B == p.Terminal) {
				return false
			}
		}
	}
	return is
}

// strayTerminals puts terminals that no conductor has passed yet beside a neighbour that is shown.
func (s *sketch) strayTerminals(sections []*drawnSection) {
	const most = 3 // in one conductor
	for again := true; again; {
		again = false
		for _, d := range s.circuit.Devices {
			if d.Kind != TerminalBlock {
				continue
			}
			for _, t := range d.Terminals {
				p := d.Pin(t)
				if s.wired(p) && !s.shown[p] && s.putBeside(p, sections, most) {
					s.shown[p], again = true, true
				}
			}
		}
	}
}

func (s *sketch) putBeside(p Pin, sections []*drawnSection, most int) bool {
	for _, x := range sections {
		for _, g := range x.groups {
			for _, r := range g.rows {
				for n, i := range r.items {
					if i.kind != labelItem || i.net != s.net[p] {
						continue
					}
					low, high := n, n
					for low > 0 && r.items[low-1].kind == terminalItem {
						low--
					}
					for high < len(r.items)-1 && r.items[high+1].kind == terminalItem {
						high++
					}
					if high-low >= most {
						continue
					}
					for m := max(low-1, 0); m <= min(high+1, len(r.items)-1); m++ {
						o := r.items[m]
						beside := func(q Pin) bool { return q.Device != "" && slices.Contains(s.joined[p], q) }
						switch {
						case m < n && (o.kind == terminalItem && beside(o.pin) || (o.kind == partItem || o.kind == blockItem) && beside(o.right)):
							r.items = slices.Insert(r.items, m+1, s.terminals([]Pin{p})...)
							return true
						case m > n && (o.kind == terminalItem && beside(o.pin) || (o.kind == partItem || o.kind == blockItem) && beside(o.left)):
							r.items = slices.Insert(r.items, m, s.terminals([]Pin{p})...)
							return true
						}
					}
				}
			}
		}
	}
	return false
}

// direct draws each wire that is not on any sheet yet by itself.
func (s *sketch) direct() *drawnSection {
	x := &drawnSection{title: "Joined directly", sheet: "Other wires", left: -1, right: -1, level: true}
	for _, w := range s.circuit.Wires {
		if s.shown[w.From] && s.shown[w.To] {
			continue
		}
		if _, there := s.net[w.From]; !there {
			continue
		}
		if _, there := s.net[w.To]; !there {
			continue
		}
		g := newGroup(-1, -1)
		net := s.net[w.From]
		g.rows = []*row{{rung: &rung{}, items: []*item{{kind: pinItem, node: &node{}, pin: w.From, net: net, first: true}, s.label(net), {kind: pinItem, node: &node{}, pin: w.To, net: net}}}}
		x.groups = append(x.groups, g)
	}
	for _, w := range s.circuit.Wires {
		s.shown[w.From], s.shown[w.To] = true, true
	}
	if len(x.groups) == 0 {
		return nil
	}
	return x
}
