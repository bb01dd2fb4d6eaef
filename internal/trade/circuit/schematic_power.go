package circuit

import (
	"slices"

	"drivewright/internal/base/quantity"
)

func voltsText(v quantity.Voltage) string { return v.Show(quantity.MetricUnits) }

// power makes the rows of the power path: the incoming supply, the drive and the motor side by side, a row for each
// conductor; beneath them whatever else is fed from there. It returns the nets on it too, which are rails to the controls.
func (s *sketch) power() ([]*drawnSection, map[int]bool) {
	x := &drawnSection{title: "Power path", sheet: "Power", left: -1, right: -1}
	g := newGroup(-1, -1)
	g.keep = true
	placed := map[int]bool{}
	lane := &lanes{s: s, g: g, placed: placed}
	in := s.circuit.ByKind(Incoming)
	if len(in) > 0 {
		lane.add(s.blockOf(in[0], BoxShape), nil, in[0].Terminals)
	}
	var done []*Device
	if d := s.circuit.Device(s.circuit.Drive.Tag); d != nil && d.Kind == Drive {
		have := func(names []string) []string {
			return slices.DeleteFunc(slices.Clone(names), func(t string) bool { return !slices.Contains(d.Terminals, t) })
		}
		lane.add(s.blockOf(d, DriveShape), have(append(slices.Clone(s.circuit.Drive.Supply), "PE")), have(append(slices.Clone(s.circuit.Drive.Out), "PEM")))
		done = append(done, d)
	}
	for _, d := range s.circuit.ByKind(MotorKind) {
		if len(done) > 0 && done[len(done)-1].Kind == MotorKind {
			break
		}
		lane.add(s.blockOf(d, MotorShape), d.Terminals, nil)
		done = append(done, d)
	}
	lane.consumers(&done)
	for n := 1; n < len(in); n++ { // a second supply, with what it feeds
		lane.start()
		lane.add(s.blockOf(in[n], BoxShape), nil, in[n].Terminals)
		for _, p := range lane.open {
			if s.wired(p) {
				placed[s.net[p]] = true
			}
		}
		lane.consumers(&done)
	}
	lane.start()
	s.across(g, placed)
	for _, r := range g.rows { // a row with nothing but the body of its block is none
		for _, i := range r.items {
			if i.kind == blockItem {
				s.shown[i.left], s.shown[i.right] = true, true
			}
		}
	}
	delete(s.shown, Pin{})
	s.screens(g)
	s.mergePoles(g)
	if len(g.rows) > 0 {
		x.groups = []*rowGroup{g}
	}
	return []*drawnSection{x}, placed
}

// across draws main contacts that lie between conductors of the power path without leading anywhere new: the second contactor
// of a pair that reverses.
func (s *sketch) across(g *rowGroup, placed map[int]bool) {
	for _, p := range s.parts {
		if p.drawn || p.element.Kind != Contact || p.device.Kind != Contactor && p.device.Kind != MainSwitch || p.b.Device == "" {
			continue
		}
		a, b := s.net[p.a], s.net[p.b]
		if a == b || !placed[a] || !placed[b] {
			continue
		}
		r := s.chain(g, []oriented{{part: p, in: p.a, out: p.b, power: true}})
		if circular(g) {
			slices.Reverse(r.items)
			for _, i := range r.items {
				i.left, i.right = i.right, i.left
			}
		}
	}
}

// lanes are the rows that a run of blocks lies in.
type lanes struct {
	s      *sketch
	g      *rowGroup
	placed map[int]bool
	rows   []*row
	open   []Pin // the right ports of the block before
	fresh  bool  // the rows hold a supply only
}

// start ends the rows and begins new ones beneath.
func (l *lanes) start() {
	for n, p := range l.open {
		if p.Device != "" && l.s.wired(p) {
			r := l.row(n)
			r.items = append(r.items, l.s.segment(l.g, l.s.net[p], p, Pin{})...)
		}
	}
	l.rows, l.open, l.fresh = nil, nil, false
}

// consumers adds whatever is fed from what is there, and counts it as done.
func (l *lanes) consumers(done *[]*Device) {
	s := l.s
	for n := range s.circuit.Devices {
		d := &s.circuit.Devices[n]
		if slices.Contains(*done, d) {
			continue
		}
		shape, ports := BoxShape, d.Terminals
		switch d.Kind {
		case PowerSupply:
			shape, ports = SupplyShape, []string{"L", "N", "PE"}
		case Transformer:
			shape, ports = WindingBox, []string{"H1", "H4"}
		case MotorKind:
			shape = MotorShape
		case Load:
		default:
			continue
		}
		if !l.reaches(d, ports) {
			continue
		}
		if !l.fresh {
			l.start()
		}
		l.fresh = false
		*done = append(*done, d)
		l.add(s.blockOf(d, shape), ports, nil)
		for _, p := range s.parts {
			if d.Kind == Load && p.device == d {
				p.drawn, p.rung = true, l.rows[0].rung
			}
		}
	}
}

func (l *lanes) row(n int) *row {
	for len(l.rows) <= n {
		r := &row{rung: &rung{}}
		l.rows = append(l.rows, r)
		l.g.rows = append(l.g.rows, r)
	}
	return l.rows[n]
}

// feeds allows the parts that may lie between the supply and what it feeds.
func feeds(p *part) (int, bool) {
	if p.element.Kind != Contact {
		return 0, false
	}
	switch p.device.Kind {
	case Fuse, Breaker, MainSwitch, Contactor, OverloadRelay:
		return 1, true
	case Drive:
		return 0, false
	default:
		return 3, true
	}
}

// reaches reports whether the first two ports of a device lead to the power path.
func (l *lanes) reaches(d *Device, ports []string) bool {
	for _, t := range ports[:min(2, len(ports))] {
		if !l.s.wired(d.Pin(t)) {
			return false
		}
		if _, _, ok := l.s.path(l.s.net[d.Pin(t)], feeds, func(n int) (int, bool) { return 0, l.placed[n] }, nil); !ok {
			return false
		}
	}
	return len(ports) > 1
}

// add puts a block at the end of the rows, with the ways to its left ports from what is there.
func (l *lanes) add(b *wideDevice, left, right []string) {
	s := l.s
	count := max(len(l.open), len(left), len(right))
	ports := []Pin{}
	for _, p := range l.open {
		if s.wired(p) {
			l.placed[s.net[p]] = true
		}
	}
	for n := range count {
		r := l.row(n)
		var from, to, out Pin
		if n < len(l.open) {
			from = l.open[n]
		}
		if n < len(left) {
			to = b.device.Pin(left[n])
		}
		if n < len(right) {
			out = b.device.Pin(right[n])
		}
		ports = append(ports, out)
		l.way(r, from, to)
		r.items = append(r.items, &item{kind: blockItem, node: b.node, block: b, left: to, right: out})
	}
	for n := count; n < len(l.rows); n++ {
		ports = append(ports, Pin{})
	}
	l.open, l.fresh = ports, left == nil
	for _, p := range l.open {
		if p.Device != "" && s.wired(p) {
			l.placed[s.net[p]] = true
		}
	}
}

// way draws the conductors of one row from a port to a port.
func (l *lanes) way(r *row, from, to Pin) {
	s, g := l.s, l.g
	gap := func() { r.items = append(r.items, &item{kind: gapItem, node: &node{}}) }
	goesOut := from.Device != "" && s.wired(from)
	if to.Device == "" || !s.wired(to) {
		if goesOut {
			r.items = append(r.items, s.segment(g, s.net[from], from, Pin{})...)
		}
		gap()
		return
	}
	parts, start, ok := s.path(s.net[to], feeds, func(n int) (int, bool) {
		if goesOut && n == s.net[from] {
			return 0, true
		}
		return 4, l.placed[n]
	}, nil)
	straight := ok && goesOut && start == s.net[from]
	if goesOut && !straight {
		r.items = append(r.items, s.segment(g, s.net[from], from, Pin{})...)
	}
	at := from
	if !straight {
		if len(r.items) > 0 {
			gap()
		}
		at = Pin{}
	}
	for n := len(parts) - 1; n >= 0; n-- {
		o := parts[n].turned()
		o.power = true
		r.items = append(r.items, s.segment(g, s.net[o.in], at, o.in)...)
		r.items = append(r.items, s.partItem(r, o))
		l.placed[s.net[o.in]], l.placed[s.net[o.out]] = true, true
		at = o.out
	}
	r.items = append(r.items, s.segment(g, s.net[to], at, to)...)
	l.placed[s.net[to]] = true
}

func (s *sketch) blockOf(d *Device, shape Shape) *wideDevice {
	return &wideDevice{device: d, shape: shape, node: &node{}, words: s.deviceWords(d)}
}

// mergePoles puts the poles of one device in one line, where the order along the rows allows it.
func (s *sketch) mergePoles(g *rowGroup) {
	for _, d := range s.circuit.Devices {
		var poles []*item
		last := -2
		for n, r := range g.rows {
			for _, i := range r.items {
				if i.kind != partItem || i.part.device.Tag != d.Tag || i.part.element.Kind != Contact {
					continue
				}
				if n == last+1 || last == -2 {
					poles = append(poles, i)
					last = n
				}
			}
		}
		if len(poles) < 2 {
			continue
		}
		old := make([]*node, len(poles))
		for n, i := range poles {
			old[n] = i.node
			i.node = poles[0].node
		}
		if circular(g) {
			for n, i := range poles {
				i.node = old[n]
			}
		}
	}
}

// circular reports whether the nodes can't be put in an order along the rows.
func circular(g *rowGroup) bool {
	next := map[*node][]*node{}
	for _, r := range g.rows {
		for n := 1; n < len(r.items); n++ {
			next[r.items[n-1].node] = append(next[r.items[n-1].node], r.items[n].node)
		}
	}
	state := map[*node]int{}
	var visit func(n *node) bool
	visit = func(n *node) bool {
		switch state[n] {
		case 1:
			return true
		case 2:
			return false
		}
		state[n] = 1
		for _, m := range next[n] {
			if visit(m) {
				return true
			}
		}
		state[n] = 2
		return false
	}
	for n := range next {
		if visit(n) {
			return true
		}
	}
	return false
}

// screens puts the screens of cables around neighbouring rows that run in them.
func (s *sketch) screens(g *rowGroup) {
	for c := range s.circuit.Cables {
		cable := &s.circuit.Cables[c]
		if !cable.Screen.Fitted {
			continue
		}
		inCable := map[int]bool{}
		for _, w := range s.circuit.Wires {
			if w.Cable == cable.Tag {
				inCable[s.net[w.From]] = true
			}
		}
		b := &wideDevice{shape: ScreenShape, node: &node{}, cable: cable}
		type place struct{ row, item int }
		var run []place
		for n, r := range g.rows {
			k := slices.IndexFunc(r.items, func(i *item) bool { return i.kind == labelItem && inCable[i.net] })
			if k < 0 {
				if len(run) >= 2 {
					break
				}
				run = nil
				continue
			}
			run = append(run, place{n, k})
		}
		if len(run) < 2 {
			continue
		}
		for _, p := range run {
			r := g.rows[p.row]
			r.items = slices.Insert(r.items, p.item+1, &item{kind: screenItem, node: b.node, block: b})
		}
		if circular(g) {
			for _, p := range run {
				r := g.rows[p.row]
				r.items = slices.DeleteFunc(r.items, func(i *item) bool { return i.block == b })
			}
		}
	}
}
