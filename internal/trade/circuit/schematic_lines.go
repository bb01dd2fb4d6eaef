package circuit

import "slices"

// lines makes the rows between the drive's terminals for knob and serial line and what is at their other ends.
func (s *sketch) lines() []*drawnSection {
	var sections []*drawnSection
	drive := s.circuit.Device(s.circuit.Drive.Tag)
	own := s.lineTerminals(drive)
	for n := range s.circuit.Devices {
		d := &s.circuit.Devices[n]
		title, shape := "Speed reference", KnobShape
		if d.Kind == Readout {
			title, shape = "Serial line", BoxShape
		} else if d.Kind != Knob {
			continue
		}
		var far []Pin
		for _, t := range d.Terminals {
			p := d.Pin(t)
			if s.wired(p) && (d.Kind == Knob || !s.isPart(p)) {
				far = append(far, p)
			}
		}
		if len(far) == 0 {
			continue
		}
		g := newGroup(-1, -1)
		g.keep = true
		remote := s.blockOf(d, shape)
		var near *wideDevice
		if drive != nil {
			near = s.blockOf(drive, DriveShape)
		}
		var lane [][2]Pin
		met := map[Pin]bool{}
		for _, p := range own {
			k := slices.IndexFunc(far, func(q Pin) bool { return s.net[q] == s.net[p] && !met[q] })
			if k >= 0 {
				met[far[k]] = true
				lane = append(lane, [2]Pin{far[k], p})
			}
		}
		for _, q := range far {
			if !met[q] {
				lane = append(lane, [2]Pin{q, {}})
			}
		}
		if shape == KnobShape && !knobOrder(d, lane) {
			remote.shape = BoxShape
		}
		nets := map[int]bool{}
		for _, ends := range lane {
			r := &row{rung: &rung{}}
			r.items = append(r.items, &item{kind: blockItem, node: remote.node, block: remote, right: ends[0]})
			net := s.net[ends[0]]
			nets[net] = true
			r.items = append(r.items, s.segment(g, net, ends[0], ends[1])...)
			if ends[1].Device != "" {
				r.items = append(r.items, &item{kind: blockItem, node: near.node, block: near, left: ends[1]})
			}
			g.rows = append(g.rows, r)
		}
		s.screens(g)
		for _, p := range s.parts { // a terminating resistor, or whatever else lies between these lines
			if !p.drawn && p.element.Kind == Resistance && p.b.Device != "" && nets[s.net[p.a]] && nets[s.net[p.b]] && s.net[p.a] != s.net[p.b] {
				r := s.chain(g, []oriented{{part: p, in: p.a, out: p.b}})
				if circular(g) {
					slices.Reverse(r.items)
					for _, i := range r.items {
						i.left, i.right = i.right, i.left
					}
				}
			}
		}
		sections = append(sections, &drawnSection{title: title, sheet: "Speed reference and serial line", left: -1, right: -1, groups: []*rowGroup{g}})
	}
	return sections
}

// isPart reports whether a part that can stand in a rung ends on the pin.
func (s *sketch) isPart(p Pin) bool {
	return slices.ContainsFunc(s.at[s.net[p]], func(x *part) bool { return x.a == p || x.b == p })
}

// lineTerminals are the drive's terminals for a knob and for a serial line, in the order in which they stand.
func (s *sketch) lineTerminals(drive *Device) []Pin {
	if drive == nil {
		return nil
	}
	common := ""
	analog := map[string]bool{}
	for _, e := range drive.Elements {
		if e.Kind == Reference {
			common = e.B
			analog[e.A], analog[e.B] = true, true
		}
	}
	for _, e := range drive.Elements {
		if e.Kind == Source && e.B == common {
			analog[e.A] = true
		}
	}
	busy := map[string]bool{"PE": true, "PEM": true}
	for _, e := range drive.Elements {
		busy[e.A], busy[e.B] = true, true
	}
	var list []Pin
	for _, t := range drive.Terminals {
		if p := drive.Pin(t); s.wired(p) && (analog[t] || !busy[t]) {
			list = append(list, p)
		}
	}
	return list
}

// knobOrder reports whether the three lanes show the knob's terminals in order, with the wiper in the middle.
func knobOrder(d *Device, lane [][2]Pin) bool {
	if len(lane) != 3 {
		return false
	}
	for _, e := range d.Elements {
		if e.Kind == KnobElement {
			return lane[1][0].Terminal == e.W
		}
	}
	return false
}

// grounds makes the rows from each ground bar to what is bonded there: the bars first, then studs of one screw that no
// bar leads to.
func (s *sketch) grounds() []*drawnSection {
	x := &drawnSection{title: "Ground and bonds", sheet: "Ground and bonds", left: -1, right: -1, level: true}
	bars := s.circuit.ByKind(GroundBar)
	screws := func(d *Device) int {
		n := 0
		for _, t := range d.Terminals {
			n += b2i(s.wired(d.Pin(t)))
		}
		return n
	}
	slices.SortStableFunc(bars, func(a, b *Device) int { return screws(b) - screws(a) })
	for _, d := range bars {
		if !slices.ContainsFunc(d.Terminals, func(t string) bool { return s.wired(d.Pin(t)) && !s.shown[d.Pin(t)] }) {
			continue
		}
		bar := s.blockOf(d, BarShape)
		g := newGroup(-1, -1)
		g.keep = true
		for _, t := range d.Terminals {
			s.bonds(g, bar, d.Pin(t))
		}
		if len(g.rows) > 0 {
			x.groups = append(x.groups, g)
		}
	}
	return []*drawnSection{x}
}

// bonds makes a row for each wire under a screw of the bar.
func (s *sketch) bonds(g *rowGroup, bar *wideDevice, p Pin) {
	net := s.net[p]
	for n, q := range s.joined[p] {
		s.shown[p] = true
		r := &row{rung: &rung{}}
		g.rows = append(g.rows, r)
		if n == 0 {
			r.items = append(r.items, &item{kind: blockItem, node: bar.node, block: bar, right: p}, g.joint(net), s.label(net))
		} else {
			r.items = append(r.items, &item{kind: blockItem, node: bar.node, block: bar}, &item{kind: gapItem, node: &node{}}, g.joint(net), s.label(net))
		}
		before := p
		for s.terminal(q) && !s.shown[q] && len(s.joined[q]) == 2 {
			r.items = append(r.items, s.terminals([]Pin{q})...)
			s.shown[q] = true
			next := s.joined[q][0]
			if next == before {
				next = s.joined[q][1]
			}
			before, q = q, next
		}
		s.shown[q] = true
		r.items = append(r.items, &item{kind: pinItem, node: &node{}, pin: q, net: net})
	}
}

// link settles what the ends of rows are, and where potentials go on that are on more than one place.
func (s *sketch) link(sections []*drawnSection) {
	type place struct {
		group *rowGroup
		rung  *rung
	}
	at := map[int][]place{}
	for _, x := range sections {
		for _, g := range x.groups {
			s.settle(g)
			for _, r := range g.rows {
				for _, i := range r.items {
					switch i.kind {
					case labelItem, jointItem, railItem, endItem, pinItem:
						at[i.net] = append(at[i.net], place{g, r.rung})
					case partItem, terminalItem, blockItem, screenItem, gapItem:
					}
				}
			}
		}
	}
	elsewhere := func(net int, g *rowGroup) *rung {
		for _, p := range at[net] {
			if p.group != g {
				return p.rung
			}
		}
		return nil
	}
	rail := map[int]bool{}
	for _, x := range sections {
		rail[x.left], rail[x.right] = true, true
	}
	for _, x := range sections {
		for _, g := range x.groups {
			told := map[int]bool{g.left: true, g.right: true}
			for _, r := range g.rows {
				for _, i := range r.items {
					if i.kind != endItem {
						continue
					}
					if i.to == nil {
						i.to = elsewhere(i.net, g)
					}
					told[i.net] = told[i.net] || i.to != nil
				}
			}
			for _, r := range g.rows {
				for _, i := range r.items {
					if i.kind == labelItem && !told[i.net] && !s.ground(i.net) {
						told[i.net] = true
						i.to = elsewhere(i.net, g)
					}
				}
			}
		}
	}
}
