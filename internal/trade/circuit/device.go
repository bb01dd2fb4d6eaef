package circuit

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
)

// Spec is what is said of a device when it is made: whatever is left out is chosen by its kind.
type Spec struct {
	Tag, Words, Place string
	Role              Role
	Contacts          string // "11-12 closed, 23-24 open, 1-2 when forward"
	Positions         []string
	Terminals         []string
	Volts             quantity.Voltage
	AC                bool
	Power             quantity.Power
	Most              quantity.Current
	Ohms              quantity.Resistance
	Delay             quantity.Duration
}

// Part of a coil's rated voltage at which it pulls in and drops out, and part of a lamp's at which its light is seen. Source:
// IEC 60947-4-1, 8.2.1.2 (pull in by 85 %, drop out between 75 % and 20 %, direct current 10 %), from memory; the circuit must
// work with a coil that pulls in late and drops out late.
const (
	pullsIn   = 0.85
	dropsOut  = 0.20
	lightSeen = 0.5
	// alive is the part of its rated input above which a supply or a drive works; common practice, 85 % less a margin.
	alive = 0.8
)

// NewDevice makes a device of a kind. An error says what of the spec can't be read, in words for the user.
func NewDevice(kind Kind, s Spec) (Device, error) {
	d := Device{Tag: s.Tag, Kind: kind, Role: s.Role, Words: s.Words, Place: s.Place, Positions: s.Positions}
	if d.Words == "" {
		d.Words = deviceWords(kind, s.Role, s.Place)
	}
	contacts := s.Contacts
	byDefault := func(positions []string, springs bool, usual string) {
		if len(d.Positions) == 0 {
			d.Positions = positions
		}
		d.Springs = springs
		if contacts == "" {
			contacts = usual
		}
	}
	volts := func(usual quantity.Voltage) quantity.Voltage {
		if s.Volts > 0 {
			return s.Volts
		}
		return usual
	}
	ohms := func(v quantity.Voltage, usual quantity.Power) quantity.Resistance {
		switch {
		case s.Ohms > 0:
			return s.Ohms
		case s.Power > 0:
			usual = s.Power
		}
		return quantity.Resistance(float64(v) * float64(v) / float64(usual))
	}
	pair := func(a, b string) { d.Terminals = append(d.Terminals, a, b) }
	switch kind {
	case PushButton:
		usual := "13-14 open"
		if s.Role == Stop {
			usual = "11-12 closed"
		}
		byDefault([]string{"released", "pressed"}, true, usual)
	case EmergencyStop:
		byDefault([]string{"out", "pushed in"}, false, "11-12 closed, 21-22 closed")
	case PositionSwitch:
		byDefault([]string{"guard closed", "guard open"}, false, "11-12 closed")
	case FootSwitch:
		byDefault([]string{"up", "down"}, true, "11-12 closed")
	case Selector:
		byDefault([]string{"off", "on"}, false, "13-14 when on")
	case Fuse:
		byDefault([]string{"whole", "blown"}, false, "1-2 closed")
	case Breaker:
		byDefault([]string{"on", "tripped"}, false, "1-2 closed, 3-4 closed")
	case MainSwitch:
		byDefault([]string{"off", "on"}, false, "1-2 open, 3-4 open")
	case OverloadRelay:
		byDefault([]string{"set", "tripped"}, false, "95-96 closed")
	case Relay, DelayRelay, Contactor:
		usual := "11-14 open"
		if kind == Contactor {
			usual = "1-2 open, 3-4 open, 5-6 open, 13-14 open"
		}
		if kind == DelayRelay {
			usual = "17-18 open"
		}
		byDefault([]string{"dropped out", "pulled in"}, false, usual)
		pair("A1", "A2")
		v := volts(24)
		watts := quantity.Power(0.7) // typical small relay
		if kind == Contactor {
			watts = 3 // typical small contactor, direct current
		}
		d.Elements = append(d.Elements, Element{Kind: Coil, A: "A1", B: "A2", Ohms: ohms(v, watts), Volts: v, On: v * pullsIn, Off: v * dropsOut, AC: s.AC, Delay: s.Delay})
	case Lamp:
		pair("X1", "X2")
		v := volts(24)
		d.Elements = append(d.Elements, Element{Kind: LampElement, A: "X1", B: "X2", Ohms: ohms(v, 0.5), Volts: v, On: v * lightSeen, AC: s.AC})
	case Knob:
		d.Terminals = []string{"1", "2", "3"}
		r := s.Ohms
		if r == 0 {
			r = 5000
		}
		d.Elements = append(d.Elements, Element{Kind: KnobElement, A: "1", W: "2", B: "3", Ohms: r})
	case PowerSupply:
		d.Terminals = []string{"L", "N", "PE", "+", "-"}
		v := volts(24)
		d.Elements = append(d.Elements, Element{Kind: Electronics, A: "L", B: "N"},
			Element{Kind: Source, A: "+", B: "-", Volts: v, Most: s.Most, FedBy: [2]string{"L", "N"}, FedAt: 85})
	case Transformer:
		d.Terminals = []string{"H1", "H4", "X1", "X2"}
		v := volts(120)
		d.Elements = append(d.Elements, Element{Kind: Winding, A: "H1", B: "H4", Ohms: s.Ohms},
			Element{Kind: Source, A: "X1", B: "X2", Volts: v, Most: s.Most, AC: true, FedBy: [2]string{"H1", "H4"}, FedAt: 85})
	case TerminalBlock:
		d.Terminals = s.Terminals
		if len(d.Terminals) == 0 {
			return d, fmt.Errorf("a terminal block needs its terminals, such as: 1, 2, 3, 4")
		}
	case GroundBar:
		d.Terminals = s.Terminals
		if len(d.Terminals) == 0 {
			d.Terminals = []string{"1", "2", "3", "4", "5", "6"}
		}
		for n := 1; n < len(d.Terminals); n++ {
			d.Elements = append(d.Elements, Element{Kind: Link, A: d.Terminals[n-1], B: d.Terminals[n]})
		}
	case MotorKind:
		d.Terminals = []string{"U", "V", "W", "PE"}
		for _, w := range [][2]string{{"U", "V"}, {"V", "W"}, {"W", "U"}} {
			// Between two leads the other two windings lie in parallel with the one: R = 2/3 of a side.
			d.Elements = append(d.Elements, Element{Kind: Winding, A: w[0], B: w[1], Ohms: s.Ohms * 3 / 2})
		}
	case Readout:
		d.Terminals = []string{"V+", "V-", "A", "B"}
		v := volts(24)
		d.Elements = append(d.Elements, Element{Kind: Electronics, A: "V+", B: "V-", Ohms: ohms(v, 1.5), Volts: v, On: v * alive})
	case Resistor:
		pair("1", "2")
		if s.Ohms == 0 {
			return d, fmt.Errorf("a resistor needs its resistance")
		}
		d.Elements = append(d.Elements, Element{Kind: Resistance, A: "1", B: "2", Ohms: s.Ohms})
	case Diode:
		pair("A", "K")
		d.Elements = append(d.Elements, Element{Kind: DiodeElement, A: "A", B: "K", On: 0.7})
	case Load:
		d.Terminals = []string{"1", "2", "PE"}
		v := volts(120)
		d.Elements = append(d.Elements, Element{Kind: Resistance, A: "1", B: "2", Ohms: ohms(v, 100), Volts: v, On: v * alive})
	case Incoming:
		d.Terminals = s.Terminals
		if len(d.Terminals) == 0 {
			d.Terminals = []string{"L1", "L2", "PE"}
		}
		source := func(a, b string, v quantity.Voltage) {
			d.Elements = append(d.Elements, Element{Kind: Source, A: a, B: b, Volts: v, AC: s.AC, Most: s.Most})
		}
		switch lines := slices.DeleteFunc(slices.Clone(d.Terminals), func(t string) bool { return t == "PE" || t == "N" }); {
		case slices.Contains(d.Terminals, "N") && len(lines) == 2: // two lines, and half their voltage from each to the neutral
			source(lines[0], "N", volts(240)/2)
			source("N", lines[1], volts(240)/2)
		case len(lines) == 3:
			source(lines[0], lines[1], volts(240))
			source(lines[1], lines[2], volts(240))
		default:
			source(d.Terminals[0], d.Terminals[1], volts(240))
		}
	case Drive:
		return d, fmt.Errorf("a drive is made from the sections \"drive control\" and \"drive terminals\"")
	default:
		return d, fmt.Errorf("there is no kind of device %q", kind)
	}
	if err := d.addContacts(contacts, s.Most); err != nil {
		return d, err
	}
	return d, nil
}

// addContacts reads contacts such as "11-12 closed, 23-24 open, 1-2 when forward or reverse" and adds their terminals where
// the device doesn't have them yet.
func (d *Device) addContacts(text string, most quantity.Current) error {
	for part := range strings.SplitSeq(text, ",") {
		fields := strings.Fields(part)
		if len(fields) == 0 {
			continue
		}
		a, b, ok := strings.Cut(fields[0], "-")
		if !ok || a == "" || b == "" || len(fields) < 2 {
			return fmt.Errorf("%q is no contact, expected two terminals and how it rests, such as: 11-12 closed", strings.TrimSpace(part))
		}
		e := Element{Kind: Contact, A: a, B: b}
		if d.Kind == Fuse || d.Kind == Breaker {
			e.Most = most
		}
		switch fields[1] {
		case "joined": // a jumper, always there
			e.Kind = Link
		case "closed":
			e.In = 1
		case "open":
			e.In = mask(len(d.Positions)) &^ 1
		case "when":
			for name := range strings.SplitSeq(strings.Join(fields[2:], " "), " or ") {
				n := slices.Index(d.Positions, strings.TrimSpace(name))
				if n < 0 {
					return fmt.Errorf("there is no position %q, expected one of: %s", strings.TrimSpace(name), strings.Join(d.Positions, ", "))
				}
				e.In |= 1 << n
			}
		default:
			return fmt.Errorf("a contact rests closed or open, or is closed when the switch stands in a position, and two terminals may be joined; %q is none of these", fields[1])
		}
		for _, terminal := range []string{a, b} {
			if !slices.Contains(d.Terminals, terminal) {
				d.Terminals = append(d.Terminals, terminal)
			}
		}
		d.Elements = append(d.Elements, e)
	}
	return nil
}

// mask has the lowest n bits set.
func mask(n int) uint8 { return uint8(1<<min(n, 8) - 1) }
