package circuit

import (
	"slices"
	"strings"
)

// sketch is the work on one schematic: the circuit as potentials, and what has been placed of it.
type sketch struct {
	circuit *Circuit
	room    SchematicRoom
	net     map[Pin]int // of a potential, from 0; links inside devices don't join here, jumpers of terminal blocks do
	pins    [][]Pin     // by net
	number  []string    // by net, as printed
	joined  map[Pin][]Pin
	shown   map[Pin]bool
	parts   []*part
	at      map[int][]*part // by net
	coils   map[string]*part
	// international is true where contacts are listed by NO and NC, false where normally closed ones are underlined.
	international bool
}

// part is an element with two ends that can stand in a rung.
type part struct {
	device  *Device
	element *Element
	index   int
	a, b    Pin // b has no device where the second end is inside the device
	drawn   bool
	rung    *rung
}

// rung is where something is found: sheet and number on it.
type rung struct{ sheet, number int }

func newSketch(c *Circuit, room SchematicRoom) *sketch {
	s := &sketch{circuit: c, room: room, net: map[Pin]int{}, joined: map[Pin][]Pin{}, shown: map[Pin]bool{}, at: map[int][]*part{}, coils: map[string]*part{}}
	s.findNets()
	s.findParts()
	return s
}

// findNets joins pins by wires.
func (s *sketch) findNets() {
	there := map[Pin]bool{}
	for _, d := range s.circuit.Devices {
		for _, t := range d.Terminals {
			there[d.Pin(t)] = true
		}
	}
	numbers, grounds := map[Pin][]string{}, map[Pin][]string{} // a bonding wire's number only counts where there is no other
	join := func(a, b Pin) {
		for _, ends := range [][2]Pin{{a, b}, {b, a}} {
			if !slices.Contains(s.joined[ends[0]], ends[1]) {
				s.joined[ends[0]] = append(s.joined[ends[0]], ends[1])
			}
		}
	}
	for _, w := range s.circuit.Wires {
		if !there[w.From] || !there[w.To] || w.From == w.To {
			continue
		}
		join(w.From, w.To)
		if w.Duty == GroundDuty || w.Duty == ScreenDuty {
			grounds[w.From] = append(grounds[w.From], w.Number)
		} else {
			numbers[w.From] = append(numbers[w.From], w.Number)
		}
	}
	for _, d := range s.circuit.Devices {
		for _, e := range d.Elements {
			if d.Kind == TerminalBlock && e.Kind == Link && there[d.Pin(e.A)] && there[d.Pin(e.B)] { // a jumper
				join(d.Pin(e.A), d.Pin(e.B))
			}
		}
	}
	for _, d := range s.circuit.Devices {
		for _, t := range d.Terminals {
			p := d.Pin(t)
			if _, done := s.net[p]; done {
				continue
			}
			n := len(s.pins)
			var pins []Pin
			queue := []Pin{p}
			s.net[p] = n
			for len(queue) > 0 {
				at := queue[0]
				queue = queue[1:]
				pins = append(pins, at)
				for _, q := range s.joined[at] {
					if _, done := s.net[q]; !done {
						s.net[q] = n
						queue = append(queue, q)
					}
				}
			}
			var names []string
			for _, of := range []map[Pin][]string{numbers, grounds} {
				for _, q := range pins {
					for _, name := range of[q] {
						if !slices.Contains(names, name) {
							names = append(names, name)
						}
					}
				}
				if len(names) > 0 {
					break
				}
			}
			slices.Sort(names)
			if len(names) > 2 {
				names = append(names[:2], "…")
			}
			s.pins = append(s.pins, pins)
			s.number = append(s.number, strings.Join(names, "/"))
		}
	}
}

// wired reports whether a wire ends at the pin.
func (s *sketch) wired(p Pin) bool { return len(s.joined[p]) > 0 }

// findParts lists the elements that can stand in a rung.
func (s *sketch) findParts() {
	for n := range s.circuit.Devices {
		d := &s.circuit.Devices[n]
		for m := range d.Elements {
			e := &d.Elements[m]
			p := &part{device: d, element: e, index: len(s.parts), a: d.Pin(e.A), b: d.Pin(e.B)}
			switch e.Kind {
			case Contact, LampElement, DiodeElement:
			case Coil:
				s.coils[d.Tag] = p
			case Resistance:
				if d.Kind == PowerSupply || d.Kind == Drive {
					continue
				}
			case Input:
				p.b = Pin{}
			case Source:
				if d.Kind == Incoming {
					continue
				}
			case Electronics:
				if d.Kind != Readout {
					continue
				}
			case Link, KnobElement, Reference, Winding:
				continue
			}
			if !s.wired(p.a) && !s.wired(p.b) {
				continue
			}
			s.parts = append(s.parts, p)
			for _, end := range []Pin{p.a, p.b} {
				if end.Device != "" {
					s.at[s.net[end]] = append(s.at[s.net[end]], p)
				}
			}
		}
	}
}

// load reports whether the part is what a rung is there for, not a contact in it.
func (p *part) load() bool { return p.element.Kind != Contact && p.element.Kind != DiodeElement }

func (s *sketch) terminal(p Pin) bool {
	d := s.circuit.Device(p.Device)
	return d != nil && d.Kind == TerminalBlock
}

// stub returns the terminals that a conductor passes on its way from the pin to where its potential branches, and counts
// them as shown. A terminal that several conductors pass belongs to the first.
func (s *sketch) stub(p Pin) []Pin {
	var list []Pin
	if len(s.joined[p]) != 1 {
		return nil
	}
	before, at := p, p
	for {
		next, count := Pin{}, 0
		for _, q := range s.joined[at] {
			if q != before {
				next, count = q, count+1
			}
		}
		if count != 1 || !s.terminal(next) || s.shown[next] {
			return list
		}
		s.shown[next] = true
		list = append(list, next)
		before, at = at, next
	}
}

// shape returns the symbol of the part. power is true on the power path, where a contactor shows its main contacts.
func (p *part) shape(power bool) Shape {
	closed := p.element.In&1 == 1
	pick := func(whenOpen, whenClosed Shape) Shape {
		if closed {
			return whenClosed
		}
		return whenOpen
	}
	switch p.element.Kind {
	case Coil:
		if p.device.Kind == DelayRelay {
			return DelayCoil
		}
		return CoilShape
	case LampElement:
		return LampShape
	case DiodeElement:
		return DiodeShape
	case Input:
		return InputShape
	case Source:
		if p.element.AC {
			return ACSource
		}
		return DCSource
	case Electronics:
		return ReadoutShape
	case Resistance:
		if p.device.Kind == Resistor {
			return ResistorShape
		}
		return LoadShape
	case Contact:
	case Link, KnobElement, Reference, Winding:
		return NoShape
	}
	switch p.device.Kind {
	case PushButton:
		return pick(PushOpen, PushClosed)
	case EmergencyStop:
		return pick(MushroomOpen, MushroomClosed)
	case Selector:
		return pick(TurnOpen, TurnClosed)
	case PositionSwitch:
		return pick(PositionOpen, PositionClosed)
	case FootSwitch:
		return pick(FootOpen, FootClosed)
	case DelayRelay:
		return pick(DelayedOpen, DelayedClosed)
	case Contactor:
		if power && !closed {
			return ContactorPole
		}
	case OverloadRelay:
		return pick(OverloadOpen, OverloadClosed)
	case Fuse:
		return FusePole
	case Breaker:
		return BreakerPole
	case MainSwitch:
		return SwitchPole
	case Lamp, Relay, Knob, PowerSupply, Transformer, TerminalBlock, GroundBar, Drive, MotorKind, Readout, Resistor, Diode, Load, Incoming:
	}
	return pick(ContactOpen, ContactClosed)
}
