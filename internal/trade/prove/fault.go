package prove

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// sort of fault: what it is, for its remedy.
type sort uint8

const (
	wireSort sort = iota
	bondSort      // a protective conductor
	openSort
	weldedSort
	mainSwitchSort // a contact of the main switch that doesn't open
	wrongTypeSort
	stillSort // a relay that never pulls in, a button that is jammed
	deadCoilSort
	deadLampSort
	deadSupplySort
	deadLoadSort
	knobOpenSort
	turnedSort
	neighbourSort
	coreSort
	screenSort
	groundSort
)

// breakage is one single fault before anybody knows what it does.
type breakage struct {
	sort    sort
	name    string
	changes []Change
	place   *explain.Reason
	device  int // that it happens to; -1 for a wire or cable
	wire    int // that it happens to; -1
}

// breaker lists the faults of a circuit.
type breaker struct {
	m     *model
	c     *circuit.Circuit
	w     *Wiring
	list  []breakage
	wired []bool // the nodes on which a wire ends
	net   []int32
}

// breakages lists every single fault, in the order of the circuit, and the nets of its nodes, joined by wires and links.
func (m *model) breakages() (list []breakage, nets []int32) {
	b := &breaker{m: m, c: m.circuit, w: m.wiring, wired: make([]bool, len(m.wiring.Pins)), net: make([]int32, len(m.wiring.Pins))}
	for n := range b.net {
		b.net[n] = int32(n)
	}
	for _, e := range b.w.Wires {
		if e.A != e.B {
			b.wired[e.A], b.wired[e.B] = true, true
			unite(b.net, int32(e.A), int32(e.B))
		}
	}
	for _, l := range m.links {
		unite(b.net, int32(l.a), int32(l.b))
	}
	b.wiresOff()
	b.parts()
	b.neighbours()
	b.cores()
	b.grounds()
	return b.list, b.net
}

func (b *breaker) same(x, y int) bool { return root(b.net, int32(x)) == root(b.net, int32(y)) }

func placeOf(k explain.Known[quantity.Text]) *explain.Reason { return explain.Place(k.Why()) }

// wiresOff takes off each wire in turn.
func (b *breaker) wiresOff() {
	for n, w := range b.c.Wires {
		if b.w.Wires[n].A == b.w.Wires[n].B {
			continue
		}
		f := breakage{sort: wireSort, name: fmt.Sprintf("wire %s (%s) is off", w.Name, b.run(n)), changes: []Change{{Kind: WireOff, Wire: n}},
			place: placeOf(w.Why), device: -1, wire: n}
		if b.protective(n) {
			f.sort = bondSort
		}
		b.list = append(b.list, f)
	}
}

// run says where a wire goes, and as which core of which cable.
func (b *breaker) run(n int) string {
	w := &b.c.Wires[n]
	text := fmt.Sprintf("%s to %s", w.From, w.To)
	if w.Cable == "" {
		return text
	}
	for k := range b.c.Cables {
		for _, core := range b.c.Cables[k].Cores {
			if b.c.Cables[k].Tag == w.Cable && core.Wire == w.Name {
				return text + ", core " + core.Name + " of " + w.Cable
			}
		}
	}
	return text + ", in " + w.Cable
}

// protective reports whether a wire bonds metal to ground. A wire from one pole of a supply to ground isn't one.
func (b *breaker) protective(n int) bool {
	w := &b.c.Wires[n]
	earth := func(p circuit.Pin) bool {
		d := b.c.Device(p.Device)
		return d != nil && (d.Kind == circuit.GroundBar || strings.HasPrefix(p.Terminal, "PE"))
	}
	if earth(w.From) && earth(w.To) {
		return true
	}
	if w.Duty != circuit.GroundDuty {
		return false
	}
	for _, s := range b.m.branches {
		for _, end := range [2]int{b.w.Wires[n].A, b.w.Wires[n].B} {
			if s.kind == sourceBranch && (s.a == end || s.b == end) && !strings.HasPrefix(b.w.Pins[end].Terminal, "PE") {
				return false
			}
		}
	}
	return true
}

// parts breaks each part of each device in turn.
func (b *breaker) parts() {
	still := map[int]bool{}
	for n, p := range b.w.Parts {
		d := &b.c.Devices[p.Device]
		if p.A < 0 || !b.wired[p.A] && (p.B < 0 || !b.wired[p.B]) && (p.W < 0 || !b.wired[p.W]) {
			continue
		}
		add := func(s sort, name string, k ChangeKind) {
			b.list = append(b.list, breakage{sort: s, name: name, changes: []Change{{Kind: k, Part: n}}, place: placeOf(d.Why), device: p.Device, wire: -1})
		}
		contact := fmt.Sprintf("contact %s-%s of %s (%s)", p.Element.A, p.Element.B, d.Tag, d.Words)
		switch p.Kind {
		case circuit.Contact:
			if heater(d, p.Element) {
				add(openSort, fmt.Sprintf("the path %s-%s of %s (%s) is open", p.Element.A, p.Element.B, d.Tag, d.Words), StuckOpen)
				continue
			}
			switch d.Kind {
			case circuit.Fuse:
				add(openSort, fmt.Sprintf("%s (%s) has blown", d.Tag, d.Words), StuckOpen)
				add(weldedSort, fmt.Sprintf("%s (%s) is bridged", d.Tag, d.Words), StuckClosed)
			case circuit.MainSwitch:
				add(openSort, contact+" doesn't close", StuckOpen)
				add(mainSwitchSort, contact+" doesn't open", StuckClosed)
			default:
				add(openSort, contact+" doesn't close", StuckOpen)
				add(weldedSort, contact+" doesn't open", StuckClosed)
			}
			if p.Group > 0 {
				continue
			}
			if len(d.Positions) == 2 && d.Kind != circuit.Fuse && d.Kind != circuit.Breaker && d.Kind != circuit.MainSwitch {
				add(wrongTypeSort, contact+" is of the wrong type: "+map[bool]string{true: "open instead of closed at rest", false: "closed instead of open at rest"}[p.In&1 == 1], Inverted)
			}
			if !still[p.Device] && d.Kind != circuit.Fuse && d.Kind != circuit.Breaker {
				still[p.Device] = true
				word := "is jammed at rest"
				switch {
				case b.m.moves[p.Device]:
					word = "never pulls in"
					b.staysIn(p.Device)
				case d.Kind == circuit.OverloadRelay:
					word = "never trips"
				}
				add(stillSort, fmt.Sprintf("%s (%s) %s", d.Tag, d.Words, word), NeverMoves)
			}
		case circuit.Coil:
			add(deadCoilSort, fmt.Sprintf("the coil of %s (%s) is open", d.Tag, d.Words), Dead)
		case circuit.LampElement:
			add(deadLampSort, fmt.Sprintf("lamp %s (%s) is burnt out", d.Tag, d.Words), Dead)
		case circuit.Resistance:
			add(deadLoadSort, fmt.Sprintf("%s (%s) is open inside", d.Tag, d.Words), Dead)
		case circuit.Source:
			add(deadSupplySort, fmt.Sprintf("%s (%s) gives no %.3g V any more", d.Tag, d.Words, float64(p.Volts)), Dead)
		case circuit.KnobElement:
			b.knob(n, p, d)
		case circuit.DiodeElement:
			add(openSort, fmt.Sprintf("diode %s is open inside", d.Tag), Dead)
			add(turnedSort, fmt.Sprintf("diode %s is in the wrong way round", d.Tag), Turned)
		case circuit.Link, circuit.Input, circuit.Reference, circuit.Winding, circuit.Electronics:
		}
	}
}

// staysIn leaves a relay or contactor pulled in: its armature sticks, or one welded contact holds all of them.
func (b *breaker) staysIn(device int) {
	d := &b.c.Devices[device]
	var changes []Change
	for n, p := range b.w.Parts {
		if p.Device != device || p.Kind != circuit.Contact {
			continue
		}
		kind := StuckOpen
		if p.In>>1&1 == 1 {
			kind = StuckClosed
		}
		changes = append(changes, Change{Kind: kind, Part: n})
	}
	b.list = append(b.list, breakage{sort: weldedSort, name: fmt.Sprintf("%s (%s) stays pulled in", d.Tag, d.Words), changes: changes, place: placeOf(d.Why), device: device, wire: -1})
}

// knob opens each end of a knob, its wiper and its track, and turns it end for end.
func (b *breaker) knob(n int, p Part, d *circuit.Device) {
	add := func(s sort, name string, changes ...Change) {
		if len(changes) > 0 {
			b.list = append(b.list, breakage{sort: s, name: name, changes: changes, place: placeOf(d.Why), device: p.Device, wire: -1})
		}
	}
	off := func(node int) []Change {
		var list []Change
		for i, e := range b.w.Wires {
			if e.A != e.B && (e.A == node || e.B == node) {
				list = append(list, Change{Kind: WireOff, Wire: i})
			}
		}
		return list
	}
	add(knobOpenSort, fmt.Sprintf("the wiper of the knob %s makes no contact", d.Tag), off(p.W)...)
	add(knobOpenSort, fmt.Sprintf("the end %s of the knob %s is open", p.Element.A, d.Tag), off(p.A)...)
	add(knobOpenSort, fmt.Sprintf("the end %s of the knob %s is open", p.Element.B, d.Tag), off(p.B)...)
	add(knobOpenSort, fmt.Sprintf("the track of the knob %s is worn through", d.Tag), Change{Kind: Dead, Part: n})
	add(turnedSort, fmt.Sprintf("the knob %s is joined end for end", d.Tag), Change{Kind: Turned, Part: n})
}

// neighbours bridges each pair of terminals that stand beside each other.
func (b *breaker) neighbours() {
	for n := range b.c.Devices {
		d := &b.c.Devices[n]
		for k := 1; k < len(d.Terminals); k++ {
			x, y := b.w.At(d.Pin(d.Terminals[k-1])), b.w.At(d.Pin(d.Terminals[k]))
			if b.same(x, y) || !b.used(x) || !b.used(y) {
				continue
			}
			b.list = append(b.list, breakage{sort: neighbourSort, name: fmt.Sprintf("terminals %s and %s of %s touch", d.Terminals[k-1], d.Terminals[k], d.Tag),
				changes: []Change{{Kind: Bridged, A: x, B: y}}, place: placeOf(d.Why), device: n, wire: -1})
		}
	}
}

// used reports whether anything is joined to a terminal: a wire, or the other side of its own device.
func (b *breaker) used(node int) bool {
	if b.wired[node] {
		return true
	}
	for _, r := range b.m.branches {
		if r.a == node && b.wired[r.b] || r.b == node && b.wired[r.a] {
			return true
		}
	}
	return false
}

// cores bridges each pair of cores of one cable, and each core with a bonded screen.
func (b *breaker) cores() {
	for n := range b.c.Cables {
		cable := &b.c.Cables[n]
		type used struct {
			name string // with the wire that it carries: "3 (wire 12)"
			node int
		}
		var cores []used
		for _, core := range cable.Cores {
			for k := range b.c.Wires {
				if core.Wire != "" && b.c.Wires[k].Name == core.Wire && b.w.Wires[k].A != b.w.Wires[k].B {
					cores = append(cores, used{core.Name + " (wire " + core.Wire + ")", b.w.Wires[k].A})
				}
			}
			if core.Wire == "" && core.Grounded && b.m.ground >= 0 {
				cores = append(cores, used{core.Name + " (spare, grounded)", b.m.ground})
			}
		}
		add := func(s sort, name string, x, y int) {
			if !b.same(x, y) {
				b.list = append(b.list, breakage{sort: s, name: name, changes: []Change{{Kind: Bridged, A: x, B: y}}, place: placeOf(cable.Why), device: -1, wire: -1})
			}
		}
		for k, one := range cores {
			for _, other := range cores[:k] {
				add(coreSort, fmt.Sprintf("cores %s and %s of cable %s touch", other.name, one.name, cable.Tag), other.node, one.node)
			}
			if cable.Screen.Fitted && (cable.Screen.AtBox || cable.Screen.AtFarEnd) && b.m.ground >= 0 {
				add(screenSort, fmt.Sprintf("core %s of cable %s touches its screen", one.name, cable.Tag), one.node, b.m.ground)
			}
		}
	}
}

// grounds joins each core and each wire that leaves the box to ground.
func (b *breaker) grounds() {
	if b.m.ground < 0 {
		return
	}
	inside := func(p circuit.Pin) bool {
		d := b.c.Device(p.Device)
		if d == nil {
			return true
		}
		place := b.c.Place(d.Place)
		return d.Place == "" || place != nil && place.Kind == circuit.Box
	}
	for n := range b.c.Wires {
		w, e := &b.c.Wires[n], b.w.Wires[n]
		if e.A == e.B || b.same(e.A, b.m.ground) || w.Cable == "" && inside(w.From) && inside(w.To) {
			continue
		}
		b.list = append(b.list, breakage{sort: groundSort, name: fmt.Sprintf("wire %s (%s) touches grounded metal", w.Name, b.run(n)),
			changes: []Change{{Kind: Bridged, A: e.A, B: b.m.ground}}, place: placeOf(w.Why), device: -1, wire: n})
	}
}
